//! Sooner servings by moving what decides them.
//!
//! When all is done as early as the ways and the orders on the machines allow, some steps decide how soon: they form a path in
//! which each waits for the one before. A move takes one of them out and puts it where the longest path through it is
//! shortest: in another place of its line, or on another machine. What a move has undone is taboo for a while (F. Glover, "Tabu
//! search", 1989; the moves are those of Mastrolilli and Gambardella, 2000).
//!
//! It applies to problems that are shops (see [`Shop::new`]) and offers nothing else than plans that keep every rule.

mod moves;
mod order;
mod shop;
#[cfg(test)]
mod tests;

use crate::assignment::{Assignment, Choice};
use crate::board::Board;
use crate::instance::{Instance, Time};
use crate::local::{Random, valid};
use moves::{Move, Without};
use order::Order;
use shop::Shop;

/// Moves without a better plan after which the search goes on from another one.
const PATIENCE: u64 = 3_000;
/// Plans to go on from.
const ELITE: usize = 12;
/// Rounds after which nothing more is expected of those.
const STALE: u32 = 20;
/// Plans that break a rule this engine does not know after which it gives up, if it has found no other.
const FAILURES: u64 = 200;
/// Visits of a job that make up a unit of work.
const UNIT: u64 = 1_500;

/// The engine.
pub(crate) struct Critical<'i, 'p> {
    instance: &'i Instance<'p>,
    shop: Shop,
    random: Random,
    order: Option<Order>,
    best: Time,
    home: Option<Order>,
    elite: Vec<Order>,
    /// Rounds since a plan was kept.
    stale: u32,
    /// For each two jobs the move until which the first shall not be put before the second again.
    taboo: Vec<u64>,
    /// For each job and way the move until which it shall not be chosen again.
    taboo_ways: Vec<Vec<u64>>,
    moves: u64,
    /// The last move that made it better than ever since the last start.
    improved: u64,
    without: Without,
    path: Vec<usize>,
    failures: u64,
    successes: u64,
    visits: u64,
}

impl<'i, 'p> Critical<'i, 'p> {
    /// None if the engine does not apply.
    pub(crate) fn new(instance: &'i Instance<'p>) -> Option<Self> {
        let shop = Shop::new(instance)?;
        let count = shop.jobs.len();
        Some(Critical {
            instance,
            random: Random::new(0xc417),
            order: None,
            best: Time::MAX,
            home: None,
            elite: Vec::new(),
            stale: 0,
            taboo: vec![0; count * count],
            taboo_ways: shop.jobs.iter().map(|job| vec![0; job.ways.len()]).collect(),
            moves: 0,
            improved: 0,
            without: Without::default(),
            path: Vec::new(),
            failures: 0,
            successes: 0,
            visits: 0,
            shop,
        })
    }

    /// Whether there is nothing this engine can do: its plans keep breaking rules that it does not know.
    pub(crate) fn gives_up(&self) -> bool {
        self.failures >= FAILURES && self.successes == 0
    }

    /// Moves on until the board's slice is used up or lateness is proved.
    pub(crate) fn run(&mut self, board: &mut Board<'_, '_, '_>) {
        self.listen(board);
        while !board.proved(0) && !self.gives_up() {
            let Some(order) = &self.order else { return };
            if order.end < self.best {
                self.best = order.end;
                self.improved = self.moves;
                self.home = Some(order.clone());
                self.offer(board);
            }
            if self.moves - self.improved > PATIENCE {
                self.start_again();
            } else if !self.step() {
                return;
            }
            let units = self.visits / UNIT;
            self.visits %= UNIT;
            if units > 0 && !board.spend(units) {
                return;
            }
        }
    }

    /// Goes on from the best plan if that came from elsewhere.
    fn listen(&mut self, board: &Board<'_, '_, '_>) {
        let Some((_, plan)) = board.best() else { return };
        let served = plan.served.iter().copied().max().unwrap_or(0);
        let known = self.elite.iter().chain(&self.home).map(|order| order.end).min();
        if known.is_some_and(|known| known <= served) {
            return;
        }
        let starts: Vec<Time> = plan.steps.iter().map(|choice| choice.start).collect();
        let ways = plan.steps.iter().map(|choice| choice.mode).collect();
        if let Some(order) = Order::new(&self.shop, ways, &starts) {
            self.best = Time::MAX;
            self.order = Some(order);
        }
    }

    /// Offers the plan at hand, each step as early as it can be and as late as it can be.
    fn offer(&mut self, board: &mut Board<'_, '_, '_>) {
        let Some(order) = &self.order else { return };
        let course = &self.instance.courses[0];
        let served = order.end.max(self.instance.windows.serve[0].lo);
        let lateness = course.weight * i64::from(served - course.serve);
        if board.best().is_some_and(|(cost, _)| cost[0] <= lateness) {
            return;
        }
        let choice = |job: usize, start: Time| {
            let end = start + order.minutes[job];
            Choice { mode: order.ways[job], start, end }
        };
        let early = (0..order.heads.len()).map(|job| choice(job, order.heads[job])).collect();
        let late = |job: usize| served - order.tails[job] - order.minutes[job];
        let late = (0..order.heads.len()).map(|job| choice(job, late(job))).collect();
        for steps in [late, early] {
            let assignment = Assignment { steps, served: vec![served] };
            if valid(self.instance, &assignment) {
                self.successes += 1;
                board.offer(assignment);
            } else {
                self.failures += 1;
            }
        }
    }

    /// Keeps the best plan of this round among the best of all. Where that has not helped for long, only the very best stays.
    fn remember(&mut self) {
        let Some(home) = self.home.take() else { return };
        self.stale += 1;
        let place = self.elite.partition_point(|elite| elite.end <= home.end);
        let is_new = self.elite.iter().all(|elite| elite.heads != home.heads || elite.ways != home.ways);
        if is_new && place < ELITE {
            self.elite.insert(place, home);
            self.elite.truncate(ELITE);
            self.stale = 0;
        } else if self.stale > STALE {
            self.elite.truncate(1);
            self.stale = 0;
        }
    }

    /// Goes on from anywhere until there are enough plans, then from what lies between two of the best, or from one of them,
    /// some steps moved at random.
    fn start_again(&mut self) {
        self.remember();
        let next = if self.elite.len() < ELITE { self.anywhere() } else { self.between() };
        if next.is_some() {
            self.order = next;
        }
        self.taboo.fill(0);
        self.taboo_ways.iter_mut().for_each(|ways| ways.fill(0));
        self.best = Time::MAX;
        self.improved = self.moves;
    }

    /// Steps in random order, some of them in another way than in the best plan.
    fn anywhere(&mut self) -> Option<Order> {
        let best = self.elite.first()?;
        let mut ways = best.ways.clone();
        let mut starts = vec![0; ways.len()];
        for &job in &self.instance.order {
            let source = &self.shop.jobs[job];
            if self.random.one_in(2) {
                ways[job] = self.random.below(source.ways.len());
            }
            let after = source.before.iter().map(|&(before, gap)| starts[before] + best.minutes[before] + gap);
            starts[job] = after.fold(0, Time::max) + self.random.below(best.end.max(0) as usize / 4 + 1) as Time;
        }
        Order::new(&self.shop, ways, &starts)
    }

    /// Two of the best plans mixed, or one of them changed a little.
    fn between(&mut self) -> Option<Order> {
        let [one, other] = [0; 2].map(|_| self.random.below(self.elite.len()));
        let (first, second) = (self.elite.get(one)?, self.elite.get(other)?);
        if one == other || self.random.below(100) < 20 {
            self.order = Some(first.clone());
            for _ in 0..3 + self.random.below(12) {
                self.stray();
            }
            return None;
        }
        // Starts in between agree with all links.
        let share = 1 + self.random.below(3);
        let mix = |(&a, &b): (&Time, &Time)| a * (4 - share as Time) + b * share as Time;
        let starts: Vec<Time> = first.heads.iter().zip(&second.heads).map(mix).collect();
        let ways = first.ways.iter().zip(&second.ways);
        let ways = ways.map(|(&a, &b)| if self.random.below(4) < share { b } else { a }).collect();
        Order::new(&self.shop, ways, &starts)
    }

    /// A move at random.
    fn stray(&mut self) {
        let Some(order) = &mut self.order else { return };
        order.critical(&self.shop, |count| self.random.below(count), &mut self.path);
        let job = self.path[self.random.below(self.path.len())];
        let mut moves: Vec<Move> = Vec::new();
        self.without.moves(&self.shop, order, job, |found| moves.push(found));
        if let Some(found) = moves.get(self.random.below(moves.len())) {
            order.put(&self.shop, found.job, found.way, found.place);
        }
    }

    /// The best move that is not taboo, or leads to a plan better than any. False if there is none at all.
    fn step(&mut self) -> bool {
        let Some(order) = &mut self.order else { return false };
        let Critical { shop, random, taboo, taboo_ways, path, .. } = self;
        let count = shop.jobs.len();
        order.critical(shop, |count| random.below(count), path);
        self.moves += 1;
        let now = self.moves;
        let mut best: Option<(Move, u64)> = None;
        let mut any: Option<Move> = None;
        let mut seen = 0;
        for &job in path.iter() {
            let line = order.machine(shop, job).map(|machine| order.lines[machine].as_slice());
            self.visits += count as u64;
            self.without.moves(shop, order, job, |found| {
                seen += 1;
                if random.one_in(seen) {
                    any = Some(found);
                }
                let is_taboo = match line {
                    _ if found.way != order.ways[job] => taboo_ways[job][found.way] > now,
                    Some(line) if found.place > order.place[job] => {
                        line[order.place[job] + 1..=found.place].iter().any(|&other| taboo[other * count + job] > now)
                    }
                    Some(line) => {
                        line[found.place..order.place[job]].iter().any(|&other| taboo[job * count + other] > now)
                    }
                    None => false,
                };
                if is_taboo && found.end >= self.best {
                    return;
                }
                let tie = random.next();
                let key = |found: &Move| (found.end, found.through);
                if best.is_none_or(|(best, other)| (key(&found), tie) < (key(&best), other)) {
                    best = Some((found, tie));
                }
            });
        }
        let Some(found) = best.map(|(found, _)| found).or(any) else { return false };
        let until = now + (8 + random.below(10) + count / shop.machines.max(1) / 2) as u64;
        let (job, place) = (found.job, order.place[found.job]);
        if found.way == order.ways[job] {
            let machine = order.machine(shop, job);
            let line = machine.map_or(&[][..], |machine| order.lines[machine].as_slice());
            // Whom it passes it shall not pass back soon.
            if found.place > place {
                line[place + 1..=found.place].iter().for_each(|&other| taboo[job * count + other] = until);
            } else {
                line[found.place..place].iter().for_each(|&other| taboo[other * count + job] = until);
            }
        } else {
            taboo_ways[job][order.ways[job]] = until;
        }
        let is_sound = order.put(shop, job, found.way, found.place);
        debug_assert!(is_sound && order.end == found.end, "{found:?} leads to {}", order.end);
        is_sound
    }
}
