//! Each touch is begun when it may be.

use crate::check::facts::Facts;
use crate::check::violation::Violation;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for run in &facts.runs {
        let (stated, touches) = (run.stated(), &run.mode.touches);
        if !stated.is_empty() && stated.len() != touches.len() {
            let (stated, touches) = (stated.len(), touches.len());
            violations.push(Violation::TouchesStated { step: run.id(), stated, touches });
            continue;
        }
        let length = run.end - run.start;
        for (index, (touch, &offset)) in touches.iter().zip(stated).enumerate() {
            let may = touch.offsets(length);
            // A plain touch is where it has always been, inside its step or not.
            let inside = offset == touch.at || offset + touch.minutes <= length;
            if !may.contains(&offset) || !inside {
                let (first, last) = may.into_inner();
                violations.push(Violation::Touch { step: run.id(), touch: index, offset, first, last });
            }
        }
    }
}
