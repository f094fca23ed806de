//! What the bookings leave for one mode of a step: where it may start and end, and what that adds to the cost.

use super::ledger::Ledger;
use super::multipliers::Multipliers;
use crate::instance::{During, Instance, Need, Span, Time};

/// Not at any price. Sums of a few of these do not overflow.
pub(super) const NEVER: i64 = i64::MAX / 64;

/// Waiting weighs this much more than a hot minute.
pub(super) const SCALE: i64 = 4096;

/// What may be given up when nothing fits.
#[derive(Clone, Copy)]
pub(super) struct Force<'w> {
    /// How much each step's unit resists being pushed out.
    pub(super) weights: &'w [i64],
    /// For each resource and minute the least of these among its users.
    pub(super) lightest: &'w [Vec<i64>],
    /// The price of one minute in the way of a step of weight 1.
    pub(super) price: i64,
}

/// The penalties of one mode. A step over `[s, e)` costs `start(s) + end(e) + passed(e) - passed(s)`, and only if `s >= clear(e)`.
#[derive(Clone, Debug, Default)]
pub(super) struct Penalties {
    pub(super) start: Vec<i64>,
    pub(super) end: Vec<i64>,
    /// From the first start to the last end.
    pub(super) passed: Vec<i64>,
    /// For each end the earliest start with no blocked minute between.
    pub(super) clear: Vec<Time>,
    /// For each minute what it costs to be there.
    minutes: Vec<i64>,
}

impl Penalties {
    /// Works out the penalties of a mode for starts and ends inside these windows.
    pub(super) fn work_out(
        &mut self,
        ledger: &Ledger<'_>,
        (step, mode): (usize, usize),
        (starts, ends): (Span, Span),
        force: Option<Force<'_>>,
        prices: Option<&Multipliers>,
    ) {
        let reset = |values: &mut Vec<i64>, lo: Time, hi: Time| {
            values.clear();
            values.resize((hi - lo + 1).max(0) as usize, 0);
        };
        reset(&mut self.start, starts.lo, starts.hi);
        reset(&mut self.end, ends.lo, ends.hi);
        reset(&mut self.minutes, starts.lo, ends.hi);
        let ready = ledger.instance.steps[step].modes[mode].ready;
        penalise(&mut self.start, starts.lo, starts.lo, ready, NEVER);
        self.price_resources(ledger, (step, mode), starts, ends, force);
        if let Some(prices) = prices {
            self.rent(ledger, (step, mode), (starts, ends), prices);
        }
        self.price_place(ledger, (step, mode), starts, ends, force);
        self.price_door(ledger, (step, mode), starts, ends, force);
        self.price_heat(ledger, (step, mode), starts, ends);
        self.add_up(starts, ends);
    }

    fn price_resources(
        &mut self,
        ledger: &Ledger<'_>,
        (step, mode): (usize, usize),
        starts: Span,
        ends: Span,
        force: Option<Force<'_>>,
    ) {
        let source = &ledger.instance.steps[step].modes[mode];
        // Index of the minute among all, and what is needed of what.
        let price = |resource: usize, minute: usize, need: i64| {
            let there = ledger.capacity(resource).get(minute).copied().unwrap_or(0);
            if there < need {
                NEVER
            } else if ledger.free(resource)[minute] >= need {
                0
            } else {
                force.map_or(NEVER, |force| force.price.saturating_mul(force.lightest[resource][minute]).min(NEVER))
            }
        };
        for need in source.needs.iter().filter(|need| need.during == During::Whole) {
            let range = ledger.range(starts.lo, ends.hi);
            for (penalty, minute) in self.minutes.iter_mut().zip(range) {
                *penalty = (*penalty + price(need.resource, minute, need.amount)).min(NEVER);
            }
        }
        for piece in ledger.pieces(step, mode) {
            let from = (starts.lo - ledger.origin + piece.offset).max(0) as usize;
            let price = |minute| price(piece.resource, from + minute, piece.amount);
            add_pieces(&mut self.start, piece.minutes, price);
        }
        for need in &source.needs {
            if let During::BeforeEnd { minutes } = need.during {
                let from = ends.lo - minutes - ledger.origin;
                add_pieces(&mut self.end, minutes, |minute| {
                    let minute = usize::try_from(from + minute as Time);
                    minute.map_or(NEVER, |minute| price(need.resource, minute, need.amount))
                });
            }
        }
    }

    /// What the resources cost beside being free.
    fn rent(
        &mut self,
        ledger: &Ledger<'_>,
        (step, mode): (usize, usize),
        (starts, ends): (Span, Span),
        prices: &Multipliers,
    ) {
        let at = |minute: Time| (minute - ledger.origin).max(0) as usize;
        let source = &ledger.instance.steps[step].modes[mode];
        for &Need { resource, during, amount } in &source.needs {
            let price = |from: usize, until: usize| amount * prices.of(resource, from, until);
            match during {
                During::Whole => {
                    for (index, penalty) in self.minutes.iter_mut().enumerate() {
                        let minute = at(starts.lo) + index;
                        *penalty += price(minute, minute + 1);
                    }
                }
                During::FromStart { offset, minutes } => {
                    for (index, penalty) in self.start.iter_mut().enumerate() {
                        let from = at(starts.lo + offset) + index;
                        *penalty += price(from, from + minutes as usize);
                    }
                }
                During::BeforeEnd { minutes } => {
                    for (index, penalty) in self.end.iter_mut().enumerate() {
                        let until = at(ends.lo) + index;
                        *penalty += price(until.saturating_sub(minutes as usize), until);
                    }
                }
            }
        }
    }

    fn price_place(
        &mut self,
        ledger: &Ledger<'_>,
        (step, mode): (usize, usize),
        starts: Span,
        ends: Span,
        force: Option<Force<'_>>,
    ) {
        let source = &ledger.instance.steps[step].modes[mode];
        let (Some(place), Some(occupant)) = (source.place, source.occupant) else { return };
        let table = &ledger.instance.places[place];
        let mut company: Vec<(Time, Time, usize)> = Vec::new();
        for resident in ledger.residents(place) {
            match table.separation(occupant, resident.occupant) {
                Some(gap) => {
                    let penalty = force.map_or(NEVER, |force| force.price.saturating_mul(force.weights[resident.step]));
                    self.penalise_minutes(starts.lo, resident.start - gap.forth, resident.end + gap.back, penalty);
                }
                None if resident.start < ends.hi && starts.lo < resident.end => {
                    company.push((resident.start, resident.end, resident.occupant));
                }
                None => {}
            }
        }
        if company.len() < 2 {
            return;
        }
        let mut cuts: Vec<Time> = company.iter().flat_map(|resident| [resident.0, resident.1]).collect();
        cuts.sort_unstable();
        cuts.dedup();
        let penalty = force.map_or(NEVER, |force| force.price);
        for cut in cuts.windows(2) {
            let present = company.iter().filter(|resident| resident.0 <= cut[0] && cut[1] <= resident.1);
            let mut occupants: Vec<usize> = present.map(|resident| resident.2).collect();
            if occupants.len() > 1 {
                occupants.push(occupant);
                if !table.fits(&occupants) {
                    self.penalise_minutes(starts.lo, cut[0], cut[1], penalty);
                }
            }
        }
    }

    fn penalise_minutes(&mut self, lo: Time, from: Time, until: Time, penalty: i64) {
        let first = (from - lo).max(0) as usize;
        let last = ((until - lo).max(0) as usize).min(self.minutes.len());
        for minute in self.minutes.get_mut(first..last).unwrap_or_default() {
            *minute = (*minute + penalty).min(NEVER);
        }
    }

    fn price_door(
        &mut self,
        ledger: &Ledger<'_>,
        (step, mode): (usize, usize),
        starts: Span,
        ends: Span,
        force: Option<Force<'_>>,
    ) {
        let source = &ledger.instance.steps[step].modes[mode];
        let Some(place) = source.place else { return };
        for resident in ledger.residents(place) {
            let Some(choice) = ledger.choices()[resident.step] else { continue };
            let other = ledger.mode(resident.step, choice);
            let penalty = force.map_or(NEVER, |force| force.price.saturating_mul(force.weights[resident.step]));
            // Strictly inside the other's shut minutes.
            let (from, until) = (resident.start + 1, resident.start + other.shut);
            penalise(&mut self.start, starts.lo, from, until, penalty);
            penalise(&mut self.end, ends.lo, from, until, penalty);
            for &offset in &source.openings {
                penalise(&mut self.start, starts.lo, from - offset, until - offset, penalty);
            }
            let events = other.openings.iter().map(|&offset| resident.start + offset);
            for event in events.chain([resident.start, resident.end]) {
                penalise(&mut self.start, starts.lo, event - source.shut + 1, event, penalty);
            }
        }
    }

    /// The hot minutes a step adds to its cavity as it stands.
    ///
    /// A cavity is on from the start of a spell until `cool_off` minutes after its end or the next spell, the last spell
    /// excepted; so what one more spell adds splits into a part for its start, one for its end, and one for each minute.
    fn price_heat(&mut self, ledger: &Ledger<'_>, (step, mode): (usize, usize), starts: Span, ends: Span) {
        let Some(place) = ledger.instance.steps[step].modes[mode].place else { return };
        let Some(cool_off) = cool_off(ledger.instance, place) else { return };
        let mut spells: Vec<(Time, Time)> = ledger.residents(place).iter().map(|r| (r.start, r.end)).collect();
        spells.sort_unstable();
        let last = spells.iter().map(|spell| spell.1).max();
        // On-spells in order, without overlap.
        let mut on: Vec<(Time, Time)> = Vec::new();
        for (start, end) in spells {
            let end = (end.saturating_add(cool_off)).min(last.unwrap_or(end));
            match on.last_mut() {
                Some(spell) if start <= spell.1 => spell.1 = spell.1.max(end),
                _ => on.push((start, end)),
            }
        }
        let mut spell = 0;
        for (index, minute) in self.minutes.iter_mut().enumerate() {
            let now = starts.lo + index as Time;
            while spell < on.len() && on[spell].1 <= now {
                spell += 1;
            }
            if spell >= on.len() || now < on[spell].0 {
                *minute += 1;
            }
        }
        let Some(last) = last else { return };
        for (index, penalty) in self.start.iter_mut().enumerate() {
            *penalty += i64::from((starts.lo + index as Time - last).clamp(0, cool_off));
        }
        for (index, penalty) in self.end.iter_mut().enumerate() {
            let from = ends.lo + index as Time;
            let until = from.saturating_add(cool_off).min(last);
            if until > from {
                let covered: Time = on.iter().map(|spell| (spell.1.min(until) - spell.0.max(from)).max(0)).sum();
                *penalty += i64::from(until - from - covered);
            }
        }
    }

    fn add_up(&mut self, starts: Span, ends: Span) {
        self.passed.clear();
        self.passed.reserve(self.minutes.len() + 1);
        self.clear.clear();
        let mut sum = 0;
        let mut clear = starts.lo;
        let mut minute = starts.lo;
        if ends.lo <= minute {
            self.clear.resize((minute - ends.lo + 1).max(0) as usize, clear);
        }
        for &penalty in &self.minutes {
            self.passed.push(sum);
            minute += 1;
            if penalty >= NEVER {
                clear = minute;
            } else {
                sum += penalty;
            }
            if minute >= ends.lo {
                self.clear.push(clear);
            }
        }
    }
}

/// Minutes a cavity is left on at most between two spells; none for a hob or a top.
fn cool_off(instance: &Instance<'_>, place: usize) -> Option<Time> {
    match &instance.problem.places[place] {
        rangewright_models::problem::Place::Cavity(cavity) => Time::try_from(cavity.cool_off).ok(),
        _ => None,
    }
}

/// Adds to each value the greatest price among the `minutes` from its own index on.
fn add_pieces(values: &mut [i64], minutes: Time, price: impl Fn(usize) -> i64) {
    let minutes = minutes as usize;
    // The nearest minutes from here on that cost something; prices are few and alike, so the greater of two is enough.
    let mut next_dear: Option<usize> = None;
    let mut next_never: Option<usize> = None;
    let mut dear = 0;
    for minute in (0..values.len() + minutes).rev() {
        let here = price(minute);
        if here >= NEVER {
            next_never = Some(minute);
        } else if here > 0 {
            next_dear = Some(minute);
            dear = here;
        }
        if let Some(value) = values.get_mut(minute) {
            let within = |at: Option<usize>| at.is_some_and(|at| at < minute + minutes);
            if within(next_never) {
                *value = NEVER;
            } else if within(next_dear) {
                *value = (*value + dear).min(NEVER);
            }
        }
    }
}

fn penalise(values: &mut [i64], lo: Time, from: Time, until: Time, penalty: i64) {
    let first = (from - lo).max(0) as usize;
    let last = ((until - lo).max(0) as usize).min(values.len());
    for value in values.get_mut(first..last).unwrap_or_default() {
        *value = (*value + penalty).min(NEVER);
    }
}
