//! Rows that the current shares of timetables exceed.

use super::domain::Ways;
use super::row::{Row, Side, Term, piece_before_end, piece_from_start, running};
use crate::assignment::Choice;
use crate::instance::{During, Instance, Time};

/// How much a row must be exceeded to count.
const EXCESS: f64 = 1e-4;

/// A share of a choice for a step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Share {
    pub(super) step: usize,
    pub(super) choice: Choice,
    pub(super) share: f64,
}

/// Looks for exceeded rows.
pub(super) struct Separator<'a, 'p> {
    pub(super) instance: &'a Instance<'p>,
    pub(super) ways: &'a Ways,
}

impl Separator<'_, '_> {
    /// All exceeded rows found, in a fixed order.
    pub(super) fn find(&self, shares: &[Share]) -> Vec<Row> {
        let mut rows = Vec::new();
        self.resources(shares, &mut rows);
        for place in 0..self.instance.places.len() {
            let here: Vec<Share> =
                shares.iter().copied().filter(|share| self.occupant(share, place).is_some()).collect();
            if here.len() > 1 {
                self.cliques(&here, place, &mut rows);
                self.rooms(&here, place, &mut rows);
                self.doors(&here, place, &mut rows);
            }
        }
        rows
    }

    fn occupant(&self, share: &Share, place: usize) -> Option<usize> {
        let mode = &self.instance.steps[share.step].modes[share.choice.mode];
        mode.occupant.filter(|_| mode.place == Some(place))
    }

    /// Hands, pools and hobs, at the worst minute of each stretch of minutes in which there is too little.
    fn resources(&self, shares: &[Share], rows: &mut Vec<Row>) {
        let origin = self.instance.opening;
        let length = (self.instance.horizon - origin + 2).max(1) as usize;
        for (index, resource) in self.instance.resources.iter().enumerate() {
            let mut change = vec![0.0; length + 1];
            let mut add = |from: Time, until: Time, amount: f64| {
                let at = |minute: Time| ((minute - origin).max(0) as usize).min(length);
                change[at(from)] += amount;
                change[at(until)] -= amount;
            };
            for share in shares {
                let mode = &self.instance.steps[share.step].modes[share.choice.mode];
                for need in mode.needs_of(index) {
                    let (from, until) = need.span(share.choice.start, share.choice.end);
                    add(from, until, share.share * need.amount as f64);
                }
            }
            let mut usage = 0.0;
            let mut worst: Option<(f64, Time)> = None;
            for (minute, change) in (origin..).zip(&change) {
                usage += change;
                let excess = usage - resource.capacity.at(minute) as f64;
                if excess > EXCESS {
                    if worst.is_none_or(|(most, _)| excess > most + 1e-9) {
                        worst = Some((excess, minute));
                    }
                } else if let Some((_, minute)) = worst.take() {
                    rows.push(self.resource_row(index, minute));
                }
            }
            if let Some((_, minute)) = worst {
                rows.push(self.resource_row(index, minute));
            }
        }
    }

    /// What all ways need of a resource at a minute.
    fn resource_row(&self, resource: usize, minute: Time) -> Row {
        let mut terms = Vec::new();
        for (way, &(step, mode)) in self.ways.of.iter().enumerate() {
            let mode = &self.instance.steps[step].modes[mode];
            for need in mode.needs_of(resource) {
                match need.during {
                    During::Whole => running(&mut terms, way, minute, need.amount, 0, 0),
                    During::FromStart { offset, minutes } => {
                        piece_from_start(&mut terms, way, minute, (offset, minutes), need.amount);
                    }
                    During::BeforeEnd { minutes } => piece_before_end(&mut terms, way, minute, minutes, need.amount),
                }
            }
        }
        Row::new(self.instance.resources[resource].capacity.at(minute), terms)
    }

    /// Sets of ways of which no two may run together, each made longer by the changeover to the others.
    ///
    /// With all tails behind, it is enough that the tail of each is no longer than its changeover to any other; with all
    /// tails in front likewise.
    fn cliques(&self, here: &[Share], place: usize, rows: &mut Vec<Row>) {
        let mut minutes: Vec<Time> = here.iter().map(|share| share.choice.start).collect();
        minutes.sort_unstable();
        minutes.dedup();
        for &minute in &minutes {
            rows.extend(self.clique(here, place, minute, false));
        }
        let mut minutes: Vec<Time> = here.iter().map(|share| share.choice.end - 1).collect();
        minutes.sort_unstable();
        minutes.dedup();
        for &minute in &minutes {
            rows.extend(self.clique(here, place, minute, true));
        }
    }

    /// The minutes that must pass between two occupants of different steps, tail of the first; none if they may meet.
    fn tail(&self, place: usize, a: usize, b: usize, front: bool) -> Option<Time> {
        let separation = self.instance.places[place].separation(a, b)?;
        Some(if front { separation.back } else { separation.forth })
    }

    fn clique(&self, here: &[Share], place: usize, minute: Time, front: bool) -> Option<Row> {
        let table = &self.instance.places[place];
        let covers = |choice: Choice, tail: Time| {
            if front {
                choice.start - tail <= minute && minute < choice.end
            } else {
                choice.start <= minute && minute < choice.end + tail
            }
        };
        let mass = |occupant: usize, tail: Time| -> f64 {
            let own =
                here.iter().filter(|share| self.occupant(share, place) == Some(occupant) && covers(share.choice, tail));
            own.map(|share| share.share).sum()
        };
        let mut order: Vec<(f64, usize)> = (0..table.occupants.len())
            .map(|occupant| (mass(occupant, 60), occupant))
            .filter(|(mass, _)| *mass > 1e-6)
            .collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        // Begin with what runs at the minute itself, the most of it first.
        let first = order.iter().map(|&(_, occupant)| (mass(occupant, 0), occupant)).fold(
            None,
            |best: Option<(f64, usize)>, next| {
                if best.is_none_or(|best| next.0 > best.0 + 1e-12) { Some(next) } else { best }
            },
        )?;
        let mut clique: Vec<(usize, Time)> = vec![(first.1, Time::MAX)];
        let weigh =
            |clique: &[(usize, Time)]| -> f64 { clique.iter().map(|&(o, tail)| mass(o, tail.min(10_000))).sum() };
        let mut total = mass(first.1, 0);
        for &(_, occupant) in &order {
            if let Some(longer) = self.join(&clique, place, occupant, front) {
                let sum = weigh(&longer);
                if sum > total + 1e-9 || clique.len() == 1 && sum > total - 1e-9 {
                    (clique, total) = (longer, sum);
                }
            }
        }
        let steps = |clique: &[(usize, Time)]| {
            clique.iter().map(|&(o, _)| table.occupants[o].step).min()
                != clique.iter().map(|&(o, _)| table.occupants[o].step).max()
        };
        if !steps(&clique) || weigh(&clique) <= 1.0 + EXCESS {
            return None;
        }
        // Whatever else cannot meet any of them strengthens the row for nothing, as long as no tail shrinks.
        for occupant in 0..table.occupants.len() {
            if let Some(longer) = self.join(&clique, place, occupant, front)
                && longer.iter().zip(&clique).all(|(new, old)| new.1 >= old.1)
            {
                clique = longer;
            }
        }
        let mut terms = Vec::new();
        for (occupant, tail) in clique {
            let source = &table.occupants[occupant];
            let way = self.ways.way(source.step, source.mode);
            let (before, after) = if front { (tail, 0) } else { (0, tail) };
            running(&mut terms, way, minute, 1, before, after);
        }
        Some(Row::new(1, terms))
    }

    /// The clique with one more occupant, all tails adapted; none if it may meet one of them.
    fn join(&self, clique: &[(usize, Time)], place: usize, occupant: usize, front: bool) -> Option<Vec<(usize, Time)>> {
        let table = &self.instance.places[place];
        if clique.iter().any(|&(other, _)| other == occupant) {
            return None;
        }
        let mut longer = clique.to_vec();
        let mut own = Time::MAX;
        for (other, tail) in &mut longer {
            if table.occupants[*other].step == table.occupants[occupant].step {
                continue;
            }
            own = own.min(self.tail(place, occupant, *other, front)?);
            *tail = (*tail).min(self.tail(place, *other, occupant, front)?);
        }
        longer.push((occupant, own));
        Some(longer)
    }

    /// Sets of three or more that do not fit together.
    fn rooms(&self, here: &[Share], place: usize, rows: &mut Vec<Row>) {
        let table = &self.instance.places[place];
        let mut minutes: Vec<Time> = here.iter().map(|share| share.choice.start).collect();
        minutes.sort_unstable();
        minutes.dedup();
        for minute in minutes {
            let mut mass: Vec<(f64, usize)> = Vec::new();
            for share in here.iter().filter(|share| share.choice.start <= minute && minute < share.choice.end) {
                let Some(occupant) = self.occupant(share, place) else { continue };
                match mass.iter_mut().find(|(_, other)| *other == occupant) {
                    Some((sum, _)) => *sum += share.share,
                    None => mass.push((share.share, occupant)),
                }
            }
            mass.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
            // One occupant for each step, the heaviest ones first, until they do not fit.
            let mut set: Vec<usize> = Vec::new();
            for &(_, occupant) in &mass {
                if set.iter().all(|&other| table.occupants[other].step != table.occupants[occupant].step) {
                    set.push(occupant);
                    if set.len() > 1 && !table.fits(&set) {
                        break;
                    }
                }
            }
            if set.len() < 2 || table.fits(&set) {
                continue;
            }
            let mut index = 0;
            while index < set.len() {
                let mut smaller = set.clone();
                smaller.remove(index);
                if smaller.len() > 1 && !table.fits(&smaller) {
                    set = smaller;
                } else {
                    index += 1;
                }
            }
            // Other modes of the same steps with which it does not fit either.
            let mut members: Vec<usize> = set.clone();
            for (other, occupant) in table.occupants.iter().enumerate() {
                if let Some(at) = set.iter().position(|&member| table.occupants[member].step == occupant.step)
                    && !members.contains(&other)
                    && table.alike(set[at], other)
                {
                    members.push(other);
                }
            }
            let total: f64 =
                mass.iter().filter(|(_, occupant)| members.contains(occupant)).map(|(share, _)| share).sum();
            let rhs = set.len() as i64 - 1;
            if total > rhs as f64 + EXCESS {
                let mut terms = Vec::new();
                for member in members {
                    let source = &table.occupants[member];
                    running(&mut terms, self.ways.way(source.step, source.mode), minute, 1, 0, 0);
                }
                rows.push(Row::new(rhs, terms));
            }
        }
    }

    /// A door that must stay shut, and another step that opens it.
    fn doors(&self, here: &[Share], place: usize, rows: &mut Vec<Row>) {
        let shut_of = |share: &Share| self.instance.steps[share.step].modes[share.choice.mode].shut;
        let mut pairs: Vec<(usize, usize, Time)> = Vec::new();
        for inside in here.iter().filter(|share| shut_of(share) > 1) {
            for other in here.iter().filter(|other| other.step != inside.step) {
                let mode = &self.instance.steps[other.step].modes[other.choice.mode];
                let touches = mode.openings.iter().map(|offset| other.choice.start + offset);
                for event in touches.chain([other.choice.start, other.choice.end]) {
                    if inside.choice.start < event && event < inside.choice.start + shut_of(inside) {
                        pairs.push((inside.step, other.step, event));
                    }
                }
            }
        }
        pairs.sort_unstable();
        pairs.dedup();
        for (inside, other, minute) in pairs {
            let row = self.door_row(place, inside, other, minute);
            let total: f64 = here
                .iter()
                .map(|share| {
                    let terms = row.of_way(self.ways.way(share.step, share.choice.mode));
                    share.share * terms.iter().map(|term| term.count(share.choice)).sum::<i64>() as f64
                })
                .sum();
            if total > 1.0 + EXCESS {
                rows.push(row);
            }
        }
    }

    fn door_row(&self, place: usize, inside: usize, other: usize, minute: Time) -> Row {
        let mut terms = Vec::new();
        let there = |step: usize| {
            let modes = self.instance.steps[step].modes.iter().enumerate();
            modes
                .filter(move |(_, mode)| mode.place == Some(place))
                .map(move |(number, mode)| (self.ways.way(step, number), mode))
        };
        for (way, mode) in there(inside).filter(|(_, mode)| mode.shut > 1) {
            terms.push(Term { way, side: Side::Start, first: minute - mode.shut + 1, last: minute - 1, times: 1 });
        }
        for (way, mode) in there(other) {
            let mut at =
                |side: Side, minute: Time| terms.push(Term { way, side, first: minute, last: minute, times: 1 });
            at(Side::Start, minute);
            at(Side::End, minute);
            // Touches strictly inside the step, so that it has one event at a minute at the most.
            let mut offsets: Vec<Time> = mode.openings.iter().copied().filter(|&o| 0 < o && o < mode.min).collect();
            offsets.sort_unstable();
            offsets.dedup();
            for offset in offsets {
                at(Side::Start, minute - offset);
            }
        }
        Row::new(1, terms)
    }
}
