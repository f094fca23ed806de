//! Courses are served in time, with their dishes ready together, and follow each other as they should.

use std::collections::BTreeMap;

use crate::check::facts::Facts;
use crate::check::violation::Violation;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let courses = || facts.problem.courses.iter().zip(facts.served.iter().copied());
    let served_at: BTreeMap<&str, i64> = courses().map(|(course, served)| (course.id.as_str(), served)).collect();
    for (course, served) in courses() {
        let id = || course.id.clone();
        if !(0..=course.max_slip).contains(&(served - course.serve)) {
            let (serve, max_slip) = (course.serve, course.max_slip);
            violations.push(Violation::Slip { course: id(), served, serve, max_slip });
        }
        for sink in &course.sinks {
            let end = facts.run(&sink.step).end;
            if !(0..=course.together).contains(&(served - end)) {
                let (step, together) = (sink.step.clone(), course.together);
                violations.push(Violation::Together { course: id(), step, end, served, together });
            }
        }
        if let Some(after) = &course.after {
            let gap = served - served_at[after.course.as_str()];
            if gap < after.min || after.max.is_some_and(|max| gap > max) {
                let (min, max) = (after.min, after.max);
                violations.push(Violation::After { course: id(), after: after.course.clone(), gap, min, max });
            }
        }
    }
}
