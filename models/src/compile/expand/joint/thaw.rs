//! Thawing, days before.

use super::{DAY, Work};
use crate::compile::found::Found;
use crate::cook::thaw;
use crate::faults::Code;
use crate::feast::Clock;
use crate::kitchen::SHELF;
use crate::menu::{Interval, Keeps, Kind, Step, Way, slug};

impl Work<'_> {
    /// Thawing in the refrigerator, if somebody is there in time to take it out of the freezer.
    pub(super) fn thaw(&self, name: &str, weight: Option<i64>, found: &mut Found<'_>) -> Option<Step> {
        let Some(weight) = weight else {
            let cause = "how long it takes to thaw goes by its weight";
            found.field(Code::Unroastable, self.step.origin, "start", cause, "add weight: \"3.2 kg\"");
            return None;
        };
        let days = thaw::refrigerator_days(weight as f64) as i64;
        let menu = &self.feast.menu;
        let course = self.dish.course.as_ref().map(|named| slug(&named.name));
        let courses = menu.courses.iter().filter(|own| course.as_ref().is_none_or(|course| *course == slug(&own.name)));
        let served = courses.map(|own| moment(own.serve)).max()?;
        let cooks = if menu.cooks.is_empty() { &self.feast.kitchen.cooks } else { &menu.cooks };
        let shifts = cooks.iter().flat_map(|cook| &cook.shifts);
        let first = shifts.map(|shift| moment(shift.from)).min();
        if first.is_none_or(|first| first.saturating_add(days * DAY) > served) {
            let cause = format!(
                "it is frozen, and {} kg thaw in the refrigerator for {days} day{}, but nobody is in the kitchen so long before it is served",
                weight as f64 / 1000.0,
                if days == 1 { "" } else { "s" }
            );
            let remedy = format!(
                "let a cook come, shifts: [\"{} days before 9:00 to 9:15\", ...], or thaw it beforehand and say start: fridge",
                days + 1
            );
            found.field(Code::NoThawing, self.step.origin, "start", cause, remedy);
            return None;
        }
        let mut step = Step::new(Kind::Other("thaw".to_owned()), days * DAY);
        step.id = Some("thaw".to_owned());
        step.title = Some(format!("Put the {name} in the refrigerator to thaw"));
        step.note = Some("In a dish that catches the juice, below everything that is eaten raw".to_owned());
        step.keeps = Some(Keeps::Cold);
        step.origin = self.step.origin;
        let has_shelves = self.feast.kitchen.pools.keys().any(|pool| slug(pool) == slug(SHELF));
        step.way = Way {
            takes: Some(Interval { min: days * DAY, max: Some((days + 1) * DAY) }),
            load: Some(3),
            unload: Some(0),
            stretch: Some(Keeps::Free),
            uses: if has_shelves { [(SHELF.to_owned(), 1)].into() } else { Default::default() },
            origin: self.step.origin,
            ..Way::default()
        };
        Some(step)
    }
}

/// Minutes from midnight of the day of the feast, clock changes left out.
fn moment(clock: Clock) -> i64 {
    clock.day.saturating_mul(DAY).saturating_add(clock.minute)
}
