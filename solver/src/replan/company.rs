//! Who is in the kitchen and who eats, as the day has it: cooks who left, who are slower, who swapped; more guests.

use rangewright_models::day::{Day, Stage};
use rangewright_models::problem::{Hours, Minute, Problem, Shift, Step};
use rangewright_models::schedule::{Crew, Job, Schedule, What};

/// How long cooks stay past the end of their day where something runs over, minutes, as in the odds (our assumption).
const STAY: Minute = 30;
/// Whoever is away for no longer than this comes back: that is no end of a day, minutes.
const BREAK: Minute = 60;
/// No job lasts longer, minutes.
const LONGEST: Minute = 43_200;

/// Cooks who have left are not there.
pub(super) fn leave(problem: &mut Problem, crew: &mut Crew, day: &Day) {
    for (name, absences) in &day.away {
        for &absence in absences {
            for cook in problem.cooks.iter_mut().filter(|cook| cook.id == *name) {
                let shifts = std::mem::take(&mut cook.shifts);
                let parts = shifts.into_iter().flat_map(|shift| {
                    outside([shift.start, shift.end], absence).into_iter().map(|[start, end]| Hours { start, end })
                });
                cook.shifts = parts.collect();
            }
            for cook in crew.cooks.iter_mut().filter(|cook| cook.name == *name) {
                for &[from, until] in &cook.present {
                    let gone = [from.max(absence[0]), until.min(absence[1])];
                    let shifts = std::mem::take(&mut problem.shifts);
                    problem.shifts = shifts.into_iter().flat_map(|shift| fewer(shift, gone)).collect();
                }
                cook.present = cook.present.iter().flat_map(|&span| outside(span, absence)).collect();
            }
        }
    }
}

/// Who would go home in the middle of it stays a little longer; but not who has left already.
pub(super) fn stay(problem: &mut Problem, crew: &mut Crew, day: &Day) {
    let gone = |at: Minute| day.away.values().flatten().any(|spell| (spell[0]..=spell[1]).contains(&at));
    let longer = |starts: &[Minute], end: Minute| {
        let next = starts.iter().copied().filter(|&start| start >= end).min();
        let goes_home = next.is_none_or(|next| next - end > BREAK) && end + STAY >= day.now && !gone(end);
        if goes_home { (end + STAY).min(43_200) } else { end }
    };
    let starts: Vec<Minute> = problem.shifts.iter().map(|shift| shift.start).collect();
    problem.shifts.iter_mut().for_each(|shift| shift.end = longer(&starts, shift.end));
    for cook in &mut problem.cooks {
        let starts: Vec<Minute> = cook.shifts.iter().map(|shift| shift.start).collect();
        cook.shifts.iter_mut().for_each(|shift| shift.end = longer(&starts, shift.end));
    }
    for cook in &mut crew.cooks {
        let starts: Vec<Minute> = cook.present.iter().map(|spell| spell[0]).collect();
        cook.present.iter_mut().for_each(|spell| spell[1] = longer(&starts, spell[1]));
    }
}

/// What of a span lies outside another.
fn outside([start, end]: [Minute; 2], [from, until]: [Minute; 2]) -> Vec<[Minute; 2]> {
    let parts = [[start, end.min(from)], [start.max(until), end]];
    parts.into_iter().filter(|[start, end]| start < end).collect()
}

/// A shift with a hand fewer in some of its minutes.
fn fewer(shift: Shift, [from, until]: [Minute; 2]) -> Vec<Shift> {
    let [from, until] = [from.clamp(shift.start, shift.end), until.clamp(shift.start, shift.end)];
    if from >= until {
        return vec![shift];
    }
    let parts =
        [(shift.start, from, shift.hands), (from, until, (shift.hands - 1).max(0)), (until, shift.end, shift.hands)];
    let part = |(start, end, hands)| (start < end).then_some(Shift { start, end, hands });
    parts.into_iter().filter_map(part).collect()
}

/// For more guests there is more to peel, to carve and to plate: in proportion (our assumption). What cooks, cooks as long.
pub(super) fn feed(problem: &mut Problem, stages: &[Stage], day: &Day) {
    let Some([guests, expected]) = day.guests.filter(|[guests, expected]| guests > expected && *expected > 0) else {
        return;
    };
    stretch(problem, stages, |_| Some([guests, expected]));
}

/// A slower cook's jobs take longer, as far as they are to come and on the last sheet.
pub(super) fn slow_down(problem: &mut Problem, stages: &[Stage], day: &Day, told: &Schedule) {
    if day.slower.is_empty() {
        return;
    }
    let percent = |step: &Step| {
        let own = told.jobs.iter().filter(|job| job.what == What::Work { step: step.id.clone() });
        let cooks = own.flat_map(|job| &job.cooks).filter_map(|&cook| told.cooks.get(cook));
        cooks.filter_map(|cook| day.slower.get(cook)).max().map(|percent| [100 + percent, 100])
    };
    stretch(problem, stages, percent);
}

/// Work at the counter that has not begun takes longer, in a proportion of two numbers.
fn stretch(problem: &mut Problem, stages: &[Stage], proportion: impl Fn(&Step) -> Option<[i64; 2]>) {
    for (step, stage) in problem.steps.iter_mut().zip(stages) {
        let Some([much, little]) = proportion(step).filter(|_| *stage == Stage::Waiting) else { continue };
        let more = |minutes: Minute| ((minutes * much + little - 1) / little).min(LONGEST);
        for mode in step.modes.iter_mut().filter(|mode| mode.hands > 0 && mode.place.is_none()) {
            (mode.min, mode.max) = (more(mode.min), more(mode.max));
        }
    }
}

/// A job that has gone to another cook is theirs on the last sheet; what they had meanwhile, and has not begun, is for whoever
/// had it.
pub(super) fn swap(problem: &mut Problem, told: &mut Schedule, day: &Day) {
    for (step, name) in &day.swapped {
        let Some(cook) = told.cooks.iter().position(|own| own == name) else { continue };
        for mode in problem.steps.iter_mut().filter(|own| own.id == *step).flat_map(|own| &mut own.modes) {
            // Where cooks are no more than a number of hands, the sheets alone say whose it is.
            if problem.cooks.iter().any(|own| own.id == *name) && mode.hands == 1 {
                mode.who = Some(vec![name.clone()]);
            }
        }
        let given: Vec<(usize, [Minute; 2])> = (told.jobs.iter_mut())
            .filter(|job| job.what.busy() && job.what.step() == Some(step) && !job.cooks.contains(&cook))
            .filter_map(|job| Some((std::mem::replace(job.cooks.first_mut()?, cook), [job.at, job.until])))
            .collect();
        for (before, [at, until]) in given {
            let meanwhile = |job: &&mut Job| job.what.step() != Some(step) && job.at < until && at < job.until;
            let to_come = |job: &&mut Job| job.what.step().is_some_and(|own| day.stage(own) == Stage::Waiting);
            for job in told.jobs.iter_mut().filter(meanwhile).filter(to_come).filter(|job| !job.cooks.contains(&before))
            {
                job.cooks.iter_mut().filter(|own| **own == cook).for_each(|own| *own = before);
            }
        }
    }
}
