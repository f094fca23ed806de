//! Whether an assignment is a plan: every rule, exactly.

use crate::assignment::{Assignment, Choice};
use crate::instance::{Instance, Time};

/// Whether the assignment keeps all rules of the problem.
pub(crate) fn valid(instance: &Instance<'_>, assignment: &Assignment) -> bool {
    assignment.steps.len() == instance.steps.len()
        && assignment.served.len() == instance.courses.len()
        && steps_fit(instance, &assignment.steps)
        && links_hold(instance, &assignment.steps)
        && servings_hold(instance, assignment)
        && resources_suffice(instance, &assignment.steps)
        && places_suffice(instance, &assignment.steps)
}

fn steps_fit(instance: &Instance<'_>, choices: &[Choice]) -> bool {
    instance.steps.iter().zip(choices).all(|(step, choice)| {
        step.modes.get(choice.mode).is_some_and(|mode| {
            choice.start >= step.earliest.max(mode.ready)
                && choice.end <= step.latest
                && (mode.min..=mode.max).contains(&(choice.end - choice.start))
        })
    })
}

fn links_hold(instance: &Instance<'_>, choices: &[Choice]) -> bool {
    instance.links.iter().all(|link| {
        let (from, to) = (choices[link.from], choices[link.to]);
        let place = |step: usize, choice: Choice| instance.steps[step].modes[choice.mode].place;
        (link.min..=link.max).contains(&(to.start - from.end))
            && (!link.stay || place(link.from, from) == place(link.to, to))
    })
}

fn servings_hold(instance: &Instance<'_>, assignment: &Assignment) -> bool {
    instance.courses.iter().zip(&assignment.served).all(|(course, &served)| {
        (0..=course.max_slip).contains(&(served - course.serve))
            && course.sinks.iter().all(|&sink| (0..=course.together).contains(&(served - assignment.steps[sink].end)))
            && course
                .after
                .is_none_or(|(earlier, min, max)| (min..=max).contains(&(served - assignment.served[earlier])))
    })
}

fn resources_suffice(instance: &Instance<'_>, choices: &[Choice]) -> bool {
    let mut needs: Vec<Vec<(Time, Time, i64)>> = vec![Vec::new(); instance.resources.len()];
    for (step, choice) in instance.steps.iter().zip(choices) {
        let mode = &step.modes[choice.mode];
        for need in &mode.needs {
            let (start, end) = need.span(choice.start, choice.end);
            needs[need.resource].push((start, end, need.amount));
        }
    }
    needs.iter().zip(&instance.resources).all(|(needs, resource)| {
        // The use changes at starts and ends, the capacity at its own breakpoints; between two of them both stand still.
        let mut changes: Vec<(Time, i64)> = Vec::with_capacity(2 * needs.len());
        for &(start, end, amount) in needs.iter().filter(|need| need.0 < need.1) {
            changes.push((start, amount));
            changes.push((end, -amount));
        }
        changes.sort_unstable();
        let mut used = 0;
        changes.iter().enumerate().all(|(index, &(minute, change))| {
            used += change;
            let until = changes.get(index + 1).map_or(minute, |next| next.0);
            minute == until || used == 0 || used <= resource.capacity.least(minute, until)
        })
    })
}

fn places_suffice(instance: &Instance<'_>, choices: &[Choice]) -> bool {
    let mut residents: Vec<Vec<(usize, usize, Choice)>> = vec![Vec::new(); instance.places.len()];
    for (index, (step, choice)) in instance.steps.iter().zip(choices).enumerate() {
        let mode = &step.modes[choice.mode];
        if let (Some(place), Some(occupant)) = (mode.place, mode.occupant) {
            residents[place].push((index, occupant, *choice));
        }
    }
    residents.iter().enumerate().all(|(place, residents)| {
        let table = &instance.places[place];
        let apart = |a: &(usize, usize, Choice), b: &(usize, usize, Choice)| {
            table
                .separation(a.1, b.1)
                .is_none_or(|gap| a.2.end + gap.forth <= b.2.start || b.2.end + gap.back <= a.2.start)
        };
        residents.iter().enumerate().all(|(index, a)| {
            let at = a.2.start;
            let together: Vec<usize> =
                residents.iter().filter(|b| b.2.start <= at && at < b.2.end).map(|b| b.1).collect();
            residents[..index].iter().all(|b| apart(a, b)) && table.fits(&together) && {
                let mode = &instance.steps[a.0].modes[a.2.mode];
                let shut = |minute: Time| at < minute && minute < at + mode.shut;
                residents.iter().filter(|b| b.0 != a.0).all(|b| {
                    let openings = &instance.steps[b.0].modes[b.2.mode].openings;
                    !shut(b.2.start) && !shut(b.2.end) && !openings.iter().any(|&offset| shut(b.2.start + offset))
                })
            }
        })
    })
}
