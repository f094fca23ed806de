//! When: the calendar, the cooks' shifts, the opening.

use super::found::Found;
use crate::faults::{Code, Origin};
use crate::feast::{Calendar, Clock, ClockError, Feast};
use crate::kitchen::{Cook, Stretch};
use crate::labels::CookLabel;
use crate::problem::{Minute, Shift, legal};
use crate::units;

/// Minutes before the first serving from which a cook is there whose shifts are not said.
const USUAL: Minute = 10 * 60;

pub(super) struct Time {
    pub(super) calendar: Calendar,
    pub(super) opening: Minute,
    pub(super) shifts: Vec<Shift>,
    pub(super) cooks: Vec<CookLabel>,
}

impl Time {
    pub(super) fn new(feast: &Feast, found: &mut Found<'_>) -> Option<Time> {
        let menu = &feast.menu;
        let zone = match units::zone(&menu.zone) {
            Ok(zone) => zone,
            Err(error) => {
                found.field(
                    Code::UnknownZone,
                    menu.origin,
                    "zone",
                    error.to_string(),
                    "name one such as \"Europe/London\"",
                );
                return None;
            }
        };
        let cooks = if menu.cooks.is_empty() { &feast.kitchen.cooks } else { &menu.cooks };
        let first_day = clocks(feast, cooks).map(|clock| clock.day).min().unwrap_or(0).clamp(-31, 31);
        let Ok(calendar) = Calendar::new(menu.date, zone, first_day) else {
            found.field(
                Code::NotADate,
                menu.origin,
                "date",
                "the days before it lie outside the calendar",
                "choose a later date",
            );
            return None;
        };
        let mut time = Time { calendar, opening: 0, shifts: Vec::new(), cooks: Vec::new() };
        let usual = time.usual_shift(feast);
        time.cooks = cooks.iter().map(|cook| time.cook(cook, usual, found)).collect();
        if cooks.is_empty() {
            time.cooks.push(CookLabel { name: "the cook".to_owned(), shifts: usual.into_iter().collect() });
        }
        if usual.is_none() && !menu.courses.is_empty() && time.cooks.iter().all(|cook| cook.shifts.is_empty()) {
            let remedy = "add cooks: [Cook(name: \"Ada\", shifts: [\"13:00 to 21:30\"])]";
            found.field(Code::MissingField, menu.origin, "cooks", "nobody cooks", remedy);
        }
        time.shifts = together(&time.cooks);
        let first_shift = time.shifts.first().map_or(0, |shift| shift.start);
        let opens = menu.opens.and_then(|opens| time.minute(opens, menu.origin, "opens", found));
        time.opening = opens.unwrap_or(first_shift);
        Some(time)
    }

    /// The minute of a clock time, a field of a part; what is wrong with it is noted.
    pub(super) fn minute(
        &self,
        clock: Clock,
        part: Origin,
        field: &'static str,
        found: &mut Found<'_>,
    ) -> Option<Minute> {
        let (code, remedy) = match self.calendar.minute(clock) {
            Ok(minute) if legal::MINUTES.contains(&minute) => return Some(minute),
            Ok(_) | Err(ClockError::OutOfRange) => {
                let cause = format!("{clock} is more than 30 days from the first thing that is planned");
                found.field(Code::Absurd, part, field, cause, "plan it apart");
                return None;
            }
            Err(ClockError::Skipped) => {
                (Code::SkippedTime, "the clocks are put forward then: choose a time outside that hour")
            }
            Err(ClockError::Twice) => {
                (Code::RepeatedTime, "the clocks are put back then: choose a time outside that hour")
            }
        };
        let cause = format!(
            "{clock} on {}: the clocks {}",
            self.calendar.day_of(clock),
            match code {
                Code::SkippedTime => "skip this time",
                _ => "show this time twice",
            }
        );
        found.field(code, part, field, cause, remedy);
        None
    }

    fn cook(&self, cook: &Cook, usual: Option<[Minute; 2]>, found: &mut Found<'_>) -> CookLabel {
        let mut shifts = self.stretches(&cook.shifts, found);
        shifts.sort_by_key(|(shift, _)| *shift);
        for pair in shifts.windows(2) {
            if pair[1].0[0] < pair[0].0[1] {
                let cause = format!("two shifts of {} overlap", cook.name);
                found.add(
                    Code::ShiftsOverlap,
                    pair[1].1,
                    cause,
                    "let the one end before the other starts, or write them as one",
                );
            }
        }
        let mut shifts: Vec<[Minute; 2]> = match cook.shifts.is_empty() {
            true => usual.into_iter().collect(),
            false => shifts.into_iter().map(|(shift, _)| shift).collect(),
        };
        for (away, _) in self.stretches(&cook.away, found) {
            shifts =
                shifts.into_iter().flat_map(|[from, to]| [[from, to.min(away[0])], [from.max(away[1]), to]]).collect();
            shifts.retain(|[from, to]| from < to);
        }
        CookLabel { name: cook.name.clone(), shifts }
    }

    fn stretches(&self, stretches: &[Stretch], found: &mut Found<'_>) -> Vec<([Minute; 2], Origin)> {
        let mut minutes = Vec::new();
        for Stretch { from, to, origin } in stretches {
            let ends = [*from, *to].map(|clock| self.minute(clock, *origin, "", found));
            if let [Some(from), Some(to)] = ends {
                match from < to {
                    true => minutes.push(([from, to], *origin)),
                    false => found.add(Code::UpsideDown, *origin, "this ends before it starts", "swap the two times"),
                }
            }
        }
        minutes
    }

    /// When a cook is there whose shifts are not said: until the last course is served, however late; none if that is over
    /// before it begins.
    fn usual_shift(&self, feast: &Feast) -> Option<[Minute; 2]> {
        let courses = &feast.menu.courses;
        let served: Vec<Minute> = courses.iter().filter_map(|c| self.calendar.minute(c.serve).ok()).collect();
        let slip = courses.iter().map(|course| course.slip).max().unwrap_or(0);
        let from = served.iter().min().map_or(0, |first| (first - USUAL).max(0));
        let to = served.iter().max().map_or(0, |last| (last + slip).min(*legal::MINUTES.end()));
        (from < to).then_some([from, to])
    }
}

/// Every clock time that may lie on an earlier day than the feast.
fn clocks<'a>(feast: &'a Feast, cooks: &'a [Cook]) -> impl Iterator<Item = Clock> + 'a {
    let steps = feast.menu.dishes.iter().flat_map(|dish| &dish.steps);
    let shifts = cooks.iter().flat_map(|cook| &cook.shifts);
    let courses = feast.menu.courses.iter().map(|course| course.serve);
    let held = steps.flat_map(|step| [step.earliest, step.latest]).flatten();
    courses
        .chain(held)
        .chain(shifts.map(|shift| shift.from))
        .chain(feast.menu.opens)
        .chain([Clock { day: 0, minute: 0 }])
}

/// How many hands there are when.
fn together(cooks: &[CookLabel]) -> Vec<Shift> {
    let mut changes: Vec<(Minute, i64)> =
        cooks.iter().flat_map(|cook| &cook.shifts).flat_map(|&[from, to]| [(from, 1), (to, -1)]).collect();
    changes.sort_unstable();
    let mut shifts: Vec<Shift> = Vec::new();
    let (mut hands, mut since) = (0, 0);
    for (minute, change) in changes {
        if hands > 0 && since < minute {
            match shifts.last_mut().filter(|last| last.end == since && last.hands == hands) {
                Some(last) => last.end = minute,
                None => shifts.push(Shift { start: since, end: minute, hands }),
            }
        }
        hands += change;
        since = minute;
    }
    shifts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hands_are_counted_from_the_cooks() {
        let cook = |shifts: &[[i64; 2]]| CookLabel { name: String::new(), shifts: shifts.to_vec() };
        let shifts = together(&[cook(&[[600, 900], [900, 1000]]), cook(&[[700, 800]])]);
        let flat: Vec<[i64; 3]> = shifts.iter().map(|s| [s.start, s.end, s.hands]).collect();
        assert_eq!(flat, [[600, 700, 1], [700, 800, 2], [800, 1000, 1]]);
    }
}
