//! What an assignment overbooks, as sets of pieces that may not all run at once.

use super::timing::{Conflict, Moment, Piece, Timing};
use crate::assignment::{Assignment, Choice};
use crate::instance::{During, Instance, Mode, Time};

/// Someone in a cavity or on a top.
type Resident = (usize, usize, Choice);

/// The conflicts in an assignment that keeps everything else; none if it is a plan.
pub(super) fn conflicts(instance: &Instance<'_>, timing: &Timing<'_>, assignment: &Assignment) -> Vec<Conflict> {
    let mut found = Vec::new();
    for place in 0..instance.places.len() {
        let residents: Vec<Resident> = (0..assignment.steps.len())
            .filter_map(|step| {
                let choice = assignment.steps[step];
                let mode = &instance.steps[step].modes[choice.mode];
                (mode.place == Some(place)).then_some((step, mode.occupant?, choice))
            })
            .collect();
        apart(instance, timing, place, &residents, &mut found);
        crowd(instance, timing, place, &residents, &mut found);
        doors(instance, timing, &residents, &mut found);
    }
    for resource in 0..instance.resources.len() {
        overload(instance, timing, resource, assignment, &mut found);
    }
    found.dedup();
    found
}

/// Occupants that clash or need a changeover.
fn apart(
    instance: &Instance<'_>,
    timing: &Timing<'_>,
    place: usize,
    residents: &[Resident],
    found: &mut Vec<Conflict>,
) {
    let table = &instance.places[place];
    for (index, a) in residents.iter().enumerate() {
        for b in &residents[..index] {
            let Some(gap) = table.separation(a.1, b.1) else { continue };
            if a.2.end + gap.forth <= b.2.start || b.2.end + gap.back <= a.2.start {
                continue;
            }
            // The same row speaks for all modes that are kept apart at least as far.
            let far = |x: usize, y: usize| {
                table.separation(x, y).is_some_and(|other| other.forth >= gap.forth && other.back >= gap.back)
            };
            let here = |step: usize| {
                let modes = instance.steps[step].modes.iter().enumerate();
                modes.filter(|(_, mode)| mode.place == Some(place)).filter_map(|(m, mode)| Some((m, mode.occupant?)))
            };
            let others: Vec<(usize, usize)> = here(b.0).filter(|&(_, occupant)| far(a.1, occupant)).collect();
            let own = here(a.0).filter(|&(_, occupant)| others.iter().all(|&(_, other)| far(occupant, other)));
            found.push(Conflict {
                pieces: vec![timing.piece(a.0), timing.piece(b.0)],
                modes: vec![(a.0, own.map(|o| o.0).collect()), (b.0, others.iter().map(|o| o.0).collect())],
                gaps: vec![vec![0, gap.forth], vec![gap.back, 0]],
            });
        }
    }
}

/// Too many at once for the room.
fn crowd(
    instance: &Instance<'_>,
    timing: &Timing<'_>,
    place: usize,
    residents: &[Resident],
    found: &mut Vec<Conflict>,
) {
    let table = &instance.places[place];
    for first in residents {
        let minute = first.2.start;
        let mut present: Vec<&Resident> =
            residents.iter().filter(|r| r.2.start <= minute && minute < r.2.end).collect();
        let fits = |present: &[&Resident]| table.fits(&present.iter().map(|r| r.1).collect::<Vec<_>>());
        if present.len() < 3 || fits(&present) {
            continue;
        }
        shrink(&mut present, |rest| !fits(rest));
        if present.len() > 2 {
            let pieces = present.iter().map(|r| timing.piece(r.0)).collect();
            found.push(level(pieces, present.iter().map(|r| (r.0, vec![r.2.mode])).collect()));
        }
    }
}

/// Doors opened while they should stay shut.
fn doors(instance: &Instance<'_>, timing: &Timing<'_>, residents: &[Resident], found: &mut Vec<Conflict>) {
    for a in residents {
        let shut = instance.steps[a.0].modes[a.2.mode].shut;
        for b in residents.iter().filter(|b| b.0 != a.0 && shut > 0) {
            let (start, end) = timing.piece(b.0);
            let mode = &instance.steps[b.0].modes[b.2.mode];
            let openings = mode.openings.iter().map(|&offset| (b.2.start + offset, start.plus(offset)));
            for (minute, moment) in openings.chain([(b.2.start, start), (b.2.end, end)]) {
                if a.2.start < minute && minute < a.2.start + shut {
                    let own = timing.piece(a.0).0;
                    let pieces = vec![(own, own.plus(shut)), (moment, moment)];
                    found.push(level(pieces, vec![(a.0, vec![a.2.mode]), (b.0, vec![b.2.mode])]));
                }
            }
        }
    }
}

/// A need of a resource: what, when, how much, by which step in which modes.
struct Need {
    step: Option<usize>,
    modes: Vec<usize>,
    piece: Piece,
    start: Time,
    end: Time,
    amount: i64,
}

/// More needed of a resource than there is.
fn overload(
    instance: &Instance<'_>,
    timing: &Timing<'_>,
    resource: usize,
    assignment: &Assignment,
    found: &mut Vec<Conflict>,
) {
    let capacity = &instance.resources[resource].capacity;
    let most = capacity.most();
    let mut needs: Vec<Need> = Vec::new();
    // Times with less than the most are needs, too.
    for (index, &(from, amount)) in capacity.pieces().iter().enumerate() {
        if amount < most {
            let start = from.max(instance.opening.min(0) - 1);
            let until = capacity.pieces().get(index + 1).map_or(instance.horizon + 1, |next| next.0);
            let end = until.max(start);
            let piece = (Moment::fixed(start), Moment::fixed(end));
            needs.push(Need { step: None, modes: Vec::new(), piece, start, end, amount: most - amount });
        }
    }
    for (step, &choice) in assignment.steps.iter().enumerate() {
        needs.extend(needs_of(instance, timing, resource, step, choice));
    }
    for minute in needs.iter().map(|need| need.start).collect::<std::collections::BTreeSet<Time>>() {
        let mut busy: Vec<&Need> = needs.iter().filter(|need| need.start <= minute && minute < need.end).collect();
        let over = |busy: &[&Need]| busy.iter().map(|need| need.amount).sum::<i64>() > most;
        if !over(&busy) {
            continue;
        }
        shrink(&mut busy, over);
        let modes = busy.iter().filter_map(|need| Some((need.step?, need.modes.clone()))).collect();
        found.push(level(busy.iter().map(|need| need.piece).collect(), modes));
    }
}

fn needs_of(instance: &Instance<'_>, timing: &Timing<'_>, resource: usize, step: usize, choice: Choice) -> Vec<Need> {
    let modes = &instance.steps[step].modes;
    let mode = &modes[choice.mode];
    let (start, end) = timing.piece(step);
    let alike =
        |same: &dyn Fn(&Mode) -> bool| -> Vec<usize> { (0..modes.len()).filter(|&m| same(&modes[m])).collect() };
    let mut needs = Vec::new();
    for need in mode.needs_of(resource) {
        let piece = match need.during {
            During::Whole => (start, end),
            During::FromStart { offset, minutes } => (start.plus(offset), start.plus(offset + minutes)),
            During::BeforeEnd { minutes } => (end.plus(-minutes), end),
        };
        let same = |other: &Mode| other.needs.iter().any(|other| other.covers(need));
        let (from, until) = need.span(choice.start, choice.end);
        needs.push(Need { step: Some(step), modes: alike(&same), piece, start: from, end: until, amount: need.amount });
    }
    needs
}

/// A conflict without changeovers.
fn level(pieces: Vec<Piece>, modes: Vec<(usize, Vec<usize>)>) -> Conflict {
    let gaps = vec![vec![0; pieces.len()]; pieces.len()];
    Conflict { pieces, modes, gaps }
}

/// Leaves out whatever is not needed for the rest to be too much.
fn shrink<T: Copy>(members: &mut Vec<T>, too_much: impl Fn(&[T]) -> bool) {
    let mut index = 0;
    while index < members.len() {
        let kept = members.remove(index);
        if !too_much(members) {
            members.insert(index, kept);
            index += 1;
        }
    }
}
