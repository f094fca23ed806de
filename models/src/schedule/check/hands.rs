//! Cooks and courses.

use super::{Book, Unsound, covers};
use crate::plan::Plan;
use crate::problem::Problem;
use crate::schedule::{Crew, Job, Schedule, What};

pub(super) fn every_piece_has_its_hands(book: &Book<'_>, day: &Schedule, faults: &mut Vec<Unsound>) {
    for (&id, entry) in &book.entries {
        let (start, end, mode) = (entry.planned.start, entry.planned.end, entry.mode);
        let step = || id.to_owned();
        let mut need = |what: What, from: i64, until: i64, hands: i64| {
            let jobs: Vec<&Job> = day.jobs.iter().filter(|job| job.what == what).collect();
            let all = usize::try_from(hands).is_ok_and(|hands| jobs.iter().all(|job| job.cooks.len() == hands));
            let expected = hands > 0 && from < until;
            if !expected && !jobs.is_empty() || expected && !all {
                faults.push(Unsound::WrongHands { what, at: from, hands });
            } else if expected && !covers(jobs.iter().map(|job| [job.at, job.until]).collect(), from, until) {
                faults.push(Unsound::NotMadeUp { what, from, until });
            }
        };
        need(What::Work { step: step() }, start, end, mode.hands);
        need(What::PutIn { step: step() }, start, start + mode.load, 1);
        need(What::TakeOut { step: step() }, end - mode.unload, end, 1);
        for (index, touch) in mode.touches.iter().enumerate() {
            let begun = start + entry.planned.touched(index, touch);
            need(What::Touch { step: step(), index }, begun, begun + touch.minutes, 1);
        }
    }
}

/// What is touched in passing may be beside other work.
pub(super) fn no_cook_does_two_things(book: &Book<'_>, day: &Schedule, faults: &mut Vec<Unsound>) {
    let passes = |what: &What| match what {
        What::Touch { step, index } => book
            .entries
            .get(step.as_str())
            .is_some_and(|entry| entry.mode.touches.get(*index).is_some_and(|touch| touch.passing)),
        _ => false,
    };
    let beside = |a: &What, b: &What| passes(a) && matches!(b, What::Work { .. });
    for (cook, name) in day.cooks.iter().enumerate() {
        let mut own: Vec<&Job> = day.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&cook)).collect();
        own.sort_by_key(|job| job.at);
        for (i, job) in own.iter().enumerate() {
            let later = own[i + 1..].iter().take_while(|other| other.at < job.until);
            for other in later.filter(|other| !beside(&job.what, &other.what) && !beside(&other.what, &job.what)) {
                let (cook, at, one, other) = (name.clone(), other.at, job.what.clone(), other.what.clone());
                faults.push(Unsound::TwoThings { cook, at, one, other });
            }
        }
    }
}

pub(super) fn every_cook_is_there(crew: &Crew, day: &Schedule, faults: &mut Vec<Unsound>) {
    for job in &day.jobs {
        for &cook in &job.cooks {
            if !crew.cooks.get(cook).is_some_and(|cook| !job.what.busy() || cook.is_present(job.at, job.until)) {
                let (from, until, what) = (job.at, job.until, job.what.clone());
                faults.push(Unsound::NotThere { cook, from, until, what });
            }
        }
    }
}

pub(super) fn courses_go_out(problem: &Problem, plan: &Plan, day: &Schedule, faults: &mut Vec<Unsound>) {
    for course in &problem.courses {
        let Some(serving) = day.servings.iter().find(|serving| serving.course == course.id) else {
            faults.push(Unsound::NeverServed { course: course.id.clone() });
            continue;
        };
        let ends = course.sinks.iter().filter_map(|sink| plan.steps.get(&sink.step)).map(|planned| planned.end);
        if ends.max().is_some_and(|end| end > serving.at) || serving.slip != serving.at - course.serve {
            faults.push(Unsound::ServedUnready { course: course.id.clone(), at: serving.at });
        }
        if plan.served.get(&course.id).is_some_and(|&at| at != serving.at) {
            faults.push(Unsound::ServedUnplanned { course: course.id.clone() });
        }
    }
}
