//! What is booked, minute by minute, and what that leaves for one more step.

use crate::assignment::Choice;
use crate::instance::{During, HANDS, Instance, Mode, Need, Time};

/// A booked occupant of a cavity or a top.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Resident {
    pub(crate) step: usize,
    pub(crate) occupant: usize,
    pub(crate) start: Time,
    pub(crate) end: Time,
}

/// What is needed of a resource at minutes that hang on the start of a mode.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    pub(crate) resource: usize,
    pub(crate) offset: Time,
    pub(crate) minutes: Time,
    /// All that the mode needs in these minutes.
    pub(crate) amount: i64,
}

/// The bookings of all steps that have a place in time so far.
pub(crate) struct Ledger<'i> {
    pub(crate) instance: &'i Instance<'i>,
    /// The minute of index 0.
    pub(crate) origin: Time,
    /// For each resource and minute: how much there is, and how much of it is free.
    capacity: Vec<Vec<i64>>,
    free: Vec<Vec<i64>>,
    /// For each place, in no order that matters to the answers.
    residents: Vec<Vec<Resident>>,
    choices: Vec<Option<Choice>>,
    /// For each step and mode.
    pieces: Vec<Vec<Vec<Piece>>>,
}

impl<'i> Ledger<'i> {
    pub(crate) fn new(instance: &'i Instance<'i>) -> Self {
        let touch = |mode: &Mode| {
            let ends = mode.needs.iter().map(|need| match need.during {
                During::FromStart { offset, minutes } => offset + minutes,
                During::Whole | During::BeforeEnd { .. } => 0,
            });
            ends.max().unwrap_or(0)
        };
        let longest = instance.steps.iter().flat_map(|step| &step.modes).map(touch).max().unwrap_or(0);
        let minutes = (instance.horizon - instance.opening).max(0) + longest + 1;
        let capacity: Vec<Vec<i64>> = instance
            .resources
            .iter()
            .map(|resource| {
                let mut capacity = vec![0; minutes as usize];
                let pieces = resource.capacity.pieces();
                for (index, &(from, amount)) in pieces.iter().enumerate() {
                    let until = pieces.get(index + 1).map_or(Time::MAX, |next| next.0);
                    let at = |minute: Time| minute.saturating_sub(instance.opening).clamp(0, minutes) as usize;
                    capacity[at(from)..at(until)].fill(amount);
                }
                capacity
            })
            .collect();
        let pieces = instance.steps.iter().map(|step| step.modes.iter().map(pieces).collect()).collect();
        Ledger {
            instance,
            origin: instance.opening,
            free: capacity.clone(),
            capacity,
            residents: vec![Vec::new(); instance.places.len()],
            choices: vec![None; instance.steps.len()],
            pieces,
        }
    }

    pub(crate) fn choices(&self) -> &[Option<Choice>] {
        &self.choices
    }

    pub(crate) fn mode(&self, step: usize, choice: Choice) -> &'i Mode {
        &self.instance.steps[step].modes[choice.mode]
    }

    /// What hangs on the start of a mode, overlapping pieces added up.
    pub(crate) fn pieces(&self, step: usize, mode: usize) -> &[Piece] {
        &self.pieces[step][mode]
    }

    /// The index of a minute.
    fn at(&self, minute: Time) -> usize {
        (minute - self.origin).max(0) as usize
    }

    /// The indices of the minutes of `[from, until)`.
    pub(crate) fn range(&self, from: Time, until: Time) -> std::ops::Range<usize> {
        let last = self.at(until).min(self.free[HANDS].len());
        self.at(from).min(last)..last
    }

    /// How much there is of a resource, minute by minute.
    pub(crate) fn capacity(&self, resource: usize) -> &[i64] {
        &self.capacity[resource]
    }

    /// How much of it is free.
    pub(crate) fn free(&self, resource: usize) -> &[i64] {
        &self.free[resource]
    }

    pub(crate) fn residents(&self, place: usize) -> &[Resident] {
        &self.residents[place]
    }

    pub(crate) fn book(&mut self, step: usize, choice: Choice) {
        debug_assert!(self.choices[step].is_none());
        self.choices[step] = Some(choice);
        self.charge(step, choice, 1);
        let mode = self.mode(step, choice);
        if let (Some(place), Some(occupant)) = (mode.place, mode.occupant) {
            self.residents[place].push(Resident { step, occupant, start: choice.start, end: choice.end });
        }
    }

    pub(crate) fn unbook(&mut self, step: usize) -> Option<Choice> {
        let choice = self.choices[step].take()?;
        self.charge(step, choice, -1);
        if let Some(place) = self.mode(step, choice).place {
            self.residents[place].retain(|resident| resident.step != step);
        }
        Some(choice)
    }

    fn charge(&mut self, step: usize, choice: Choice, sign: i64) {
        let mode = self.mode(step, choice);
        for need in &mode.needs {
            let (start, end) = need.span(choice.start, choice.end);
            self.take(need.resource, start, end, sign * need.amount);
        }
    }

    fn take(&mut self, resource: usize, start: Time, end: Time, amount: i64) {
        let range = self.at(start)..self.at(end);
        if let Some(minutes) = self.free[resource].get_mut(range) {
            for free in minutes {
                *free -= amount;
            }
        }
    }

    /// Steps of which one must go before this one can be booked so; `None` if it can be booked as things stand.
    ///
    /// An empty answer means that it can never be.
    pub(crate) fn clash(&self, step: usize, choice: Choice) -> Option<Vec<usize>> {
        let mode = self.mode(step, choice);
        // Hands come last: whoever holds a burner is rarer.
        let others = mode.needs.iter().filter(|need| need.resource != HANDS);
        for need in others.chain(mode.needs_of(HANDS).next().as_ref()) {
            if let Some(minute) = self.overdrawn(need.resource, mode, choice) {
                return Some(self.users(need.resource, minute));
            }
        }
        let (Some(place), Some(occupant)) = (mode.place, mode.occupant) else { return None };
        self.crowded(place, occupant, choice, mode)
    }

    /// The first minute found in which the mode would need more of a resource than is free.
    fn overdrawn(&self, resource: usize, mode: &Mode, choice: Choice) -> Option<Time> {
        let span = |need: Need| (need.span(choice.start, choice.end), need.amount);
        let spans: Vec<((Time, Time), i64)> = mode.needs_of(resource).map(span).collect();
        let needed = |minute: Time| -> i64 {
            spans.iter().filter(|((from, to), _)| *from <= minute && minute < *to).map(|(_, amount)| amount).sum()
        };
        spans.iter().find_map(|&((start, end), amount)| {
            if spans.len() == 1 {
                self.lacking(resource, start, end, amount)
            } else {
                (start..end).find(|&minute| self.lacking(resource, minute, minute + 1, needed(minute)).is_some())
            }
        })
    }

    /// The first minute of `[start, end)` with less than this much free.
    fn lacking(&self, resource: usize, start: Time, end: Time, amount: i64) -> Option<Time> {
        let (first, last) = (self.at(start), self.at(end));
        let free = &self.free[resource];
        if last > free.len() {
            return Some(self.origin + free.len() as Time);
        }
        (first..last).find(|&minute| free[minute] < amount).map(|minute| self.origin + minute as Time)
    }

    /// The booked steps that use a resource in a minute.
    fn users(&self, resource: usize, minute: Time) -> Vec<usize> {
        let uses = |step: usize| {
            self.choices[step].is_some_and(|choice| {
                self.mode(step, choice).needs_of(resource).any(|need| {
                    let (start, end) = need.span(choice.start, choice.end);
                    start <= minute && minute < end
                })
            })
        };
        (0..self.choices.len()).filter(|&step| uses(step)).collect()
    }

    /// For each resource and minute the least weight among the booked steps that use it.
    pub(crate) fn lightest(&self, weights: &[i64], least: &mut Vec<Vec<i64>>) {
        least.resize_with(self.free.len(), Vec::new);
        for (least, free) in least.iter_mut().zip(&self.free) {
            least.clear();
            least.resize(free.len(), i64::MAX);
        }
        for (step, choice) in self.choices.iter().enumerate() {
            let Some(choice) = *choice else { continue };
            let mode = self.mode(step, choice);
            for need in &mode.needs {
                let (start, end) = need.span(choice.start, choice.end);
                let range = self.at(start)..self.at(end);
                for least in least[need.resource].get_mut(range).unwrap_or_default() {
                    *least = weights[step].min(*least);
                }
            }
        }
    }

    fn crowded(&self, place: usize, occupant: usize, choice: Choice, mode: &Mode) -> Option<Vec<usize>> {
        let table = &self.instance.places[place];
        for resident in &self.residents[place] {
            let apart = table
                .separation(occupant, resident.occupant)
                .is_none_or(|gap| choice.end + gap.forth <= resident.start || resident.end + gap.back <= choice.start);
            let other = self.choices[resident.step].map(|other| self.mode(resident.step, other));
            let opens = |from: &Mode, own: (Time, Time), shut_from: Time, shut: Time| {
                let inside = |minute: Time| shut_from < minute && minute < shut_from + shut;
                inside(own.0) || inside(own.1) || from.openings.iter().any(|&offset| inside(own.0 + offset))
            };
            let disturbs = other.is_some_and(|other| {
                opens(mode, (choice.start, choice.end), resident.start, other.shut)
                    || opens(other, (resident.start, resident.end), choice.start, mode.shut)
            });
            if !apart || disturbs {
                return Some(vec![resident.step]);
            }
        }
        // The company only grows where someone comes in.
        let inside = |resident: &&Resident| resident.start < choice.end && choice.start < resident.end;
        let company: Vec<&Resident> = self.residents[place].iter().filter(inside).collect();
        if company.len() < 2 {
            return None;
        }
        let arrivals = company.iter().map(|resident| resident.start.max(choice.start));
        for minute in arrivals {
            let present: Vec<&&Resident> = company.iter().filter(|r| r.start <= minute && minute < r.end).collect();
            let mut occupants: Vec<usize> = present.iter().map(|resident| resident.occupant).collect();
            occupants.push(occupant);
            if !table.fits(&occupants) {
                return Some(present.iter().map(|resident| resident.step).collect());
            }
        }
        None
    }
}

/// What hangs on the start, overlapping pieces added up, with what is held throughout counted in.
fn pieces(mode: &Mode) -> Vec<Piece> {
    let mut resources: Vec<usize> = mode.needs.iter().map(|need| need.resource).collect();
    resources.sort_unstable();
    resources.dedup();
    resources.into_iter().flat_map(|resource| pieces_of(mode, resource)).collect()
}

fn pieces_of(mode: &Mode, resource: usize) -> Vec<Piece> {
    let mut whole = 0;
    let mut pieces: Vec<(Time, Time, i64)> = Vec::new();
    for need in mode.needs_of(resource) {
        match need.during {
            During::Whole => whole += need.amount,
            During::FromStart { offset, minutes } => pieces.push((offset, offset + minutes, need.amount)),
            During::BeforeEnd { .. } => {}
        }
    }
    let mut cuts: Vec<Time> = pieces.iter().flat_map(|piece| [piece.0, piece.1]).collect();
    cuts.sort_unstable();
    cuts.dedup();
    let between = cuts.windows(2).map(|cut| {
        let busy: i64 = pieces.iter().filter(|piece| piece.0 <= cut[0] && cut[1] <= piece.1).map(|piece| piece.2).sum();
        let amount = if busy == 0 { 0 } else { busy + whole };
        Piece { resource, offset: cut[0], minutes: cut[1] - cut[0], amount }
    });
    between.filter(|piece| piece.amount > 0).collect()
}
