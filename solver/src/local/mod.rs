//! Good plans from the first milliseconds: units are put in one at a time, each exactly, and a few are taken out and put
//! back again and again (ruin and recreate).
//!
//! The servings are fixed while units move. They slip when nothing fits, and are pulled forward again afterwards.

mod frames;
mod kitchen;
mod ledger;
mod multipliers;
mod path;
mod penalties;
mod random;
mod ruin;
mod serial;
mod slips;
mod units;
mod valid;

pub(crate) use ledger::Ledger;
pub(crate) use random::Random;
pub(crate) use units::Units;
pub(crate) use valid::valid;

use kitchen::{Kitchen, Manner, PRICE};
use penalties::SCALE;
use slips::Pulls;

use crate::assignment::{Assignment, Cost};
use crate::board::Board;
use crate::instance::{Instance, Time};

/// What the search is at.
enum Phase {
    /// Getting all units of the bank in, by force; servings as they are. `level`: how far they have slipped so far.
    Fill { left: usize, level: usize },
    /// The same for servings that are less late than those of the base.
    Pull { left: usize, group: usize },
    /// The same for servings that are no more late than those of the base.
    Trade { left: usize },
    /// Ruin and recreate.
    Improve,
}

/// A search for better plans that can be interrupted and taken up again.
pub(crate) struct Improver<'i> {
    instance: &'i Instance<'i>,
    kitchen: Kitchen<'i>,
    random: Random,
    phase: Phase,
    /// The best plan known here.
    base: Option<(Cost, Assignment)>,
    /// Cost of what is in the kitchen, when that is complete.
    current: Cost,
    /// The best since the search last started from somewhere.
    home: Cost,
    pulls: Pulls,
    /// Rounds through all slips without a plan.
    cycles: usize,
    /// Insertions since the temperature was last raised, and for how many it falls.
    age: usize,
    cycle: usize,
    kicks: usize,
    /// Insertions spent on earlier servings, less those spent on the rest.
    balance: i64,
    /// For each unit the least its insertion ever cost.
    floors: Vec<i64>,
    serial: serial::Serial<'i>,
    /// Says whether somebody can be found for all the work of a plan, where that takes more than counting.
    able: Option<Able<'i>>,
    halted: bool,
}

/// Whether a valid plan can be done by those who are there.
pub(crate) type Able<'i> = Box<dyn FnMut(&Assignment) -> bool + 'i>;

/// What asking that costs in work.
const COMPLETION: u64 = 20;

/// Minutes of a week.
const WEEK: Time = 10_080;

/// Minutes of slip tried one after another while nothing fits.
const SLIPS: [Time; 12] = [0, 0, 5, 10, 20, 40, 80, 160, 320, 640, 1280, Time::MAX / 4];

impl<'i> Improver<'i> {
    pub(crate) fn new(instance: &'i Instance<'i>, able: Option<Able<'i>>) -> Self {
        let kitchen = Kitchen::new(instance);
        let units = kitchen.units.units.len();
        Improver {
            instance,
            kitchen,
            random: Random::new(0x5eed),
            phase: Phase::Fill { left: 0, level: usize::MAX },
            base: None,
            current: [0; 3],
            home: [0; 3],
            pulls: Pulls::new(instance),
            cycles: 0,
            age: 0,
            cycle: 40 * units.clamp(5, 50),
            kicks: 0,
            balance: 0,
            floors: vec![i64::MAX; units],
            serial: serial::Serial::new(instance),
            able,
            halted: false,
        }
    }

    /// Searches until the board's slice is used up.
    pub(crate) fn run(&mut self, board: &mut Board<'_, '_, '_>) {
        self.halted = false;
        if let Some((cost, assignment)) = board.incumbent()
            && self.base.as_ref().is_none_or(|(base, _)| cost < base)
        {
            self.rebase(*cost, assignment.clone());
        }
        while !self.halted && board.open_goal().is_some() {
            if let Some(assignment) = self.serial.next(self.instance, self.base.as_ref()) {
                self.offer(assignment, board);
                self.spend(board, 1 + self.instance.steps.len() as u64 / 16);
                continue;
            }
            match self.phase {
                Phase::Fill { left, level } => self.fill(left, level, board),
                Phase::Pull { .. } | Phase::Trade { .. } => self.pull(board),
                // Without a step there is nothing to take out and put back.
                Phase::Improve if self.kitchen.units.units.is_empty() => return,
                Phase::Improve => self.improve(board),
            }
        }
    }

    /// A move looks at every minute there is: where there are weeks of them it is that much more work.
    fn spend(&mut self, board: &mut Board<'_, '_, '_>, units: u64) {
        let weeks = (self.instance.horizon - self.instance.opening).max(0) / WEEK;
        self.halted |= !board.spend(units.saturating_mul(1 + weeks as u64));
    }

    /// Makes a plan the base, and goes on from it.
    fn rebase(&mut self, cost: Cost, assignment: Assignment) {
        if self.base.as_ref().is_some_and(|(base, _)| base[0] != cost[0]) {
            self.floors.fill(i64::MAX);
        }
        self.kitchen.load(&assignment);
        self.current = cost;
        self.home = cost;
        self.base = Some((cost, assignment));
        self.phase = Phase::Improve;
    }

    /// Goes back to the base.
    fn restore(&mut self) {
        if let Some((cost, assignment)) = &self.base {
            self.kitchen.load(assignment);
            self.current = *cost;
            self.home = *cost;
            self.phase = Phase::Improve;
        }
    }

    /// Makes a valid plan that is better than the base the new base, and tells the board.
    fn offer(&mut self, assignment: Assignment, board: &mut Board<'_, '_, '_>) -> bool {
        let cost = assignment.cost(self.instance);
        let better = self.base.as_ref().is_none_or(|(base, _)| cost < *base);
        if !better || !valid(self.instance, &assignment) || !self.can_be_done(&assignment, board) {
            return false;
        }
        board.offer(assignment.clone());
        self.rebase(cost, assignment);
        true
    }

    fn can_be_done(&mut self, assignment: &Assignment, board: &mut Board<'_, '_, '_>) -> bool {
        if self.able.is_none() {
            return true;
        }
        self.spend(board, COMPLETION);
        self.able.as_mut().is_none_or(|able| able(assignment))
    }

    /// One step of a first plan: puts a unit in, by force if need be; after too many, lets the servings slip further.
    fn fill(&mut self, left: usize, level: usize, board: &mut Board<'_, '_, '_>) {
        if left == 0 {
            let next = if level == usize::MAX { 0 } else { (level + 1) % SLIPS.len() };
            self.cycles += usize::from(next == 0);
            let Some(served) = slips::slipped(self.instance, SLIPS[next]) else {
                self.spend(board, 1);
                self.phase = Phase::Fill { left: 0, level: next };
                return;
            };
            for unit in 0..self.kitchen.units.units.len() {
                self.kitchen.remove(unit);
            }
            self.kitchen.serve_at(&served);
            let effort = (40 * self.kitchen.units.units.len()) << self.cycles.min(12);
            self.phase = Phase::Fill { left: effort, level: next };
            return;
        }
        // The very first attempt is a quick one; later ones look first at what is scarce.
        if (level > 0 || self.cycles > 1) && self.kitchen.learn_prices(None) {
            self.spend(board, self.kitchen.units.units.len() as u64);
            return;
        }
        self.push_in();
        self.spend(board, 1);
        if self.kitchen.bank.is_empty() {
            let found = self.kitchen.assignment().is_some_and(|assignment| self.offer(assignment, board));
            if !found {
                self.phase = Phase::Fill { left: 0, level };
            }
        } else {
            self.phase = Phase::Fill { left: left - 1, level };
        }
    }

    /// One step towards a plan with other servings.
    fn pull(&mut self, board: &mut Board<'_, '_, '_>) {
        if self.kitchen.bank.is_empty() {
            self.settled(board);
            return;
        }
        self.push_in();
        self.spend(board, 1);
        self.balance += 1;
        let (Phase::Pull { left, .. } | Phase::Trade { left }) = &mut self.phase else { return };
        *left = left.saturating_sub(1);
        if *left == 0 && !self.kitchen.bank.is_empty() {
            if let Phase::Pull { group, .. } = self.phase {
                self.pulls.learn(group, false);
            }
            self.restore();
        }
    }

    /// All units are in at the new servings.
    fn settled(&mut self, board: &mut Board<'_, '_, '_>) {
        let Some(assignment) = self.kitchen.assignment() else { return };
        let pulled = if let Phase::Pull { group, .. } = self.phase { Some(group) } else { None };
        let better = self.offer(assignment.clone(), board);
        if let Some(group) = pulled {
            self.pulls.learn(group, better);
        }
        if better {
            return;
        }
        if pulled.is_none() && valid(self.instance, &assignment) {
            // A sideways step: see for a while what comes of it.
            self.current = assignment.cost(self.instance);
            self.home = self.current;
            self.phase = Phase::Improve;
            self.age = 0;
        } else {
            self.restore();
        }
    }

    /// Puts one unit of the bank in, softly if it fits, by force if not. Of two the one that was harder so far.
    fn push_in(&mut self) {
        let kitchen = &mut self.kitchen;
        let mut pick = || kitchen.bank.get(self.random.below(kitchen.bank.len())).copied();
        let (Some(first), Some(second)) = (pick(), pick()) else { return };
        let unit = if kitchen.weight(first) >= kitchen.weight(second) { first } else { second };
        let late = self.random.one_in(3);
        let priced = !self.random.one_in(3);
        if kitchen.insert(unit, Manner { late, priced, ..Manner::default() }, &mut self.random).is_some() {
            return;
        }
        kitchen.harden(unit);
        if kitchen
            .insert(unit, Manner { force: Some(PRICE), late, priced, ..Manner::default() }, &mut self.random)
            .is_some()
        {
            return;
        }
        // Its own relations stand in its way.
        let component = kitchen.units.units[unit].component;
        for other in kitchen.units.members[component].clone() {
            kitchen.remove(other);
        }
    }

    /// One move: an attempt at other servings, or a ruin and its repair.
    fn improve(&mut self, board: &mut Board<'_, '_, '_>) {
        self.spend(board, 1);
        let units = self.kitchen.units.units.len();
        if self.kitchen.learn_prices(Some(energy(self.current))) {
            self.spend(board, units as u64);
            return;
        }
        let late = self.base.as_ref().map_or(0, |(base, _)| base[0]);
        if late > 0 && !board.proved(0) && self.balance <= 0 {
            self.restore();
            if let Some((group, served)) = self.pulls.propose(self.instance, &self.kitchen.served) {
                self.kitchen.serve_at(&served);
                self.phase = Phase::Pull { left: 20 * units, group };
                return;
            }
            // Nothing less late is left to try: look again after a while.
            self.balance = 50 * units as i64;
        }
        if late > 0
            && self.random.one_in(100)
            && let Some(served) = slips::trade(self.instance, &self.kitchen.served.clone(), &mut self.random)
        {
            self.kitchen.serve_at(&served);
            self.phase = Phase::Trade { left: 4 * units };
            return;
        }
        self.age += 1;
        if self.age >= self.cycle {
            self.age = 0;
            self.restore();
            self.kicks += 1;
            if self.kicks % 2 == 1 {
                self.kick();
                return;
            }
        }
        self.ruin_and_recreate(board);
    }

    /// Takes out many units at once, to come back by another way.
    fn kick(&mut self) {
        let units = self.kitchen.units.units.len();
        let share = 30 + 35 * self.random.below(3);
        for unit in 0..units {
            if self.random.below(100) < share {
                self.kitchen.remove(unit);
            }
        }
        self.phase = Phase::Trade { left: 20 * units };
    }

    /// Takes a few units out and puts them back; keeps what is not too bad.
    fn ruin_and_recreate(&mut self, board: &mut Board<'_, '_, '_>) {
        let way = self.random.below(ruin::WAYS);
        let most = 1 + self.random.below(5);
        let mut out = ruin::choose(&self.kitchen, way, most, &mut self.random);
        let before = self.kitchen.ledger.choices().to_vec();
        let allowed = self.threshold(board);
        self.random.shuffle(&mut out);
        let manner = self.manner(&out);
        for &unit in &out {
            self.kitchen.remove(unit);
        }
        if self.recreate(manner, out.len() + 6, allowed, board)
            && let Some(assignment) = self.kitchen.assignment()
        {
            let cost = assignment.cost(self.instance);
            if energy(cost) <= allowed {
                self.current = cost;
                self.home = self.home.min(cost);
                if self.base.as_ref().is_none_or(|(base, _)| cost < *base) {
                    // The ledger looks at one insertion at a time; the whole is checked before it is offered.
                    self.offer(assignment, board);
                }
                return;
            }
        }
        self.kitchen.revert(&before);
    }

    /// How to put these back: mostly where it is cheapest, but not always quite.
    fn manner(&mut self, out: &[usize]) -> Manner {
        let steps: Vec<usize> =
            out.iter().flat_map(|&unit| self.kitchen.units.units[unit].steps.iter().copied()).collect();
        let taboo = self.random.one_in(4).then(|| steps[self.random.below(steps.len())]);
        let taboo = taboo.and_then(|step| self.kitchen.ledger.choices()[step].map(|choice| (step, choice.mode)));
        Manner {
            // The first one goes where it likes, and pushes others out.
            force: self.random.one_in(3).then(|| [SCALE, 3 * SCALE, 9 * SCALE, PRICE][self.random.below(4)]),
            taboo,
            late: self.random.one_in(2),
            priced: !self.random.one_in(3),
            tilt: [0, 2, 2, SCALE / 2, 4 * SCALE, 16 * SCALE][self.random.below(6)],
        }
    }

    /// Empties the bank. False if that fails, or turns out too dear.
    fn recreate(&mut self, mut manner: Manner, mut tries: usize, allowed: i64, board: &mut Board<'_, '_, '_>) -> bool {
        while let Some(&unit) = self.kitchen.bank.first() {
            let cost = self.kitchen.insert(unit, manner, &mut self.random);
            self.spend(board, 1);
            self.balance -= 1;
            let Some(cost) = cost else { return false };
            if manner.force.is_none() && manner.tilt <= 2 {
                self.floors[unit] = self.floors[unit].min(cost);
            }
            manner.force = None;
            tries -= 1;
            let units = 0..self.kitchen.units.units.len();
            let so_far = units.map(|unit| {
                if self.kitchen.bank.contains(&unit) { self.floor(unit) } else { self.kitchen.cost_of(unit) }
            });
            if tries == 0 || self.halted || so_far.sum::<i64>() > allowed {
                return false;
            }
        }
        true
    }

    /// A lower bound by experience: whole components only, since others share their costs with what is booked.
    fn floor(&self, unit: usize) -> i64 {
        let whole = self.kitchen.units.members[self.kitchen.units.units[unit].component].len() == 1;
        if whole && self.floors[unit] < i64::MAX { self.floors[unit] } else { 0 }
    }

    /// The energy a plan may have after a move: at first a share above the best plan's, then less and less.
    fn threshold(&self, board: &Board<'_, '_, '_>) -> i64 {
        let left = (self.cycle - self.age.min(self.cycle)) as i64;
        let above = if board.proved(1) { 20 } else { (self.home[1] / 10).max(20) * SCALE };
        energy(self.current).max(energy(self.home) + above / self.cycle as i64 * left)
    }
}

fn energy(cost: Cost) -> i64 {
    cost[1].saturating_mul(SCALE).saturating_add(cost[2])
}

#[cfg(test)]
mod tests;
#[cfg(test)]
pub(crate) use tests::evening;
