//! Waiting is at least what prices say: the least of all, and for each lane the regret of what has been settled about it.
//!
//! Prices of minutes (from branch-and-price) take into account what each resource can bear; under them the lanes are
//! independent, and every start and every end of a step has a regret: what the best timetable of its lane through this
//! minute costs beyond the best of all. The regrets of the lanes add up, so a lane that has been pushed away from its best
//! minutes leaves less for all others.

use super::floor::Floor;
use super::literal::{Expr, Lit, Side};
use super::model::{Goal, Model, StepVars};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Past, Reason, Trail};
use crate::instance::Time;
use crate::price::{NEVER, Regret, Regrets};

/// The rule for one vector of servings: that of all plans the engine knows of.
pub(super) struct Prices {
    regrets: Regrets,
    steps: Vec<Step>,
    waiting: Goal,
}

/// The remark on bounds of the total; others name the step.
const TOTAL: u32 = u32::MAX;

/// First and last minute of the start, and of the end.
type Window = [[Time; 2]; 2];

const EVER: Window = [[Time::MIN, Time::MAX]; 2];

/// A step and its regrets.
struct Step {
    /// Start and end.
    events: [Expr; 2],
    modes: Vec<Mode>,
    /// What the step looked like when its regrets were last worked out, and what came of it.
    seen: Option<View>,
    least: i64,
}

struct Mode {
    lit: Lit,
    /// Of start and end.
    floors: [Floor; 2],
    /// When last seen.
    regret: i64,
}

/// What is settled about a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct View {
    window: Window,
    open: Open,
    /// The others are closed only because one is assumed.
    is_assumed: bool,
}

/// Which of the first modes are open. Of further ones nothing is known: they count as open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Open(u64);

impl Open {
    fn of(closed: impl Iterator<Item = bool>) -> Self {
        let marks = closed.take(64).enumerate().filter(|(_, closed)| *closed);
        Open(marks.fold(u64::MAX, |open, (mode, _)| open & !(1 << mode)))
    }

    fn holds(self, mode: usize) -> bool {
        mode >= 64 || self.0 >> mode & 1 == 1
    }
}

impl Mode {
    /// The regret of both events in these windows.
    fn regret(&self, window: Window) -> i64 {
        let [start, end] = [0, 1].map(|event| self.floors[event].least(window[event][0], window[event][1]));
        start.max(end)
    }
}

impl Step {
    fn new(vars: &StepVars, regrets: &[Option<Regret>]) -> Self {
        let modes = vars.modes.iter().zip(regrets).map(|(&lit, regret)| {
            let regret = regret.clone().unwrap_or_default();
            Mode { lit, floors: [Floor::new(&regret.start), Floor::new(&regret.end)], regret: 0 }
        });
        Step { events: [vars.start, vars.end], modes: modes.collect(), seen: None, least: 0 }
    }

    fn view(&self, bounds: &impl Bounds) -> View {
        View {
            window: self.events.map(|event| [bounds.least(event), bounds.most(event)]),
            open: Open::of(self.modes.iter().map(|mode| bounds.holds(mode.lit.opposite()))),
            is_assumed: false,
        }
    }

    /// The view with one more fact.
    fn view_with(&self, bounds: &impl Bounds, fact: Lit) -> View {
        let mut view = self.view(bounds);
        for (event, window) in self.events.iter().zip(&mut view.window) {
            if fact.side == event.side {
                window[0] = window[0].max(fact.at_least + event.plus);
            } else if fact.side == event.side ^ 1 {
                window[1] = window[1].min(event.plus - fact.at_least);
            }
        }
        if let Some(chosen) = self.modes.iter().position(|mode| mode.lit == fact) {
            view.is_assumed = true;
            view.open = Open::of((0..self.modes.len()).map(|mode| mode != chosen || !view.open.holds(mode)));
        }
        view
    }

    fn open(&self, view: View) -> impl Iterator<Item = &Mode> {
        self.modes.iter().enumerate().filter(move |&(mode, _)| view.open.holds(mode)).map(|(_, mode)| mode)
    }

    /// The regret of what is settled.
    fn regret(&self, view: View) -> i64 {
        self.open(view).map(|mode| mode.regret(view.window)).min().unwrap_or(NEVER)
    }

    /// The same for the present, worked out anew only after a change.
    fn look(&mut self, trail: &Trail) -> i64 {
        let view = self.view(trail);
        if self.seen != Some(view) {
            for (index, mode) in self.modes.iter_mut().enumerate() {
                mode.regret = if view.open.holds(index) { mode.regret(view.window) } else { NEVER };
            }
            self.least = self.modes.iter().map(|mode| mode.regret).min().unwrap_or(NEVER);
            self.seen = Some(view);
        }
        self.least
    }

    /// Facts, all in the view, under which the regret is still at least so much, which it is.
    fn why(&self, view: View, regret: i64, why: &mut Vec<Lit>) {
        let mut wide = EVER;
        for mode in self.open(view) {
            if mode.regret(wide) >= regret {
                continue;
            }
            let by_start = mode.floors[0].least(view.window[0][0], view.window[0][1]) >= regret;
            let event = usize::from(!by_start);
            mode.floors[event].narrow(&mut wide[event], view.window[event], regret);
        }
        let closed = self.modes.iter().enumerate().filter(|&(mode, _)| !view.is_assumed && !view.open.holds(mode));
        why.extend(closed.filter(|(_, mode)| mode.regret(wide) < regret).map(|(_, mode)| mode.lit.opposite()));
        for (event, [first, last]) in self.events.iter().zip(wide) {
            why.extend((first > Time::MIN).then(|| event.at_least(first)));
            why.extend((last < Time::MAX).then(|| event.at_most(last)));
        }
    }

    /// Takes away what would have more regret than this.
    fn prune(&self, most: i64, trail: &mut Trail, reason: Reason) -> Result<(), Conflict> {
        let Some(view) = self.seen else { return Ok(()) };
        for mode in self.open(view).filter(|mode| mode.regret > most) {
            trail.set(mode.lit.opposite(), reason)?;
        }
        for (event, [first, last]) in view.window.into_iter().enumerate() {
            let able = || self.modes.iter().filter(|mode| mode.regret <= most).map(|mode| &mode.floors[event]);
            if let Some(first) = able().filter_map(|floor| floor.first(first, last, most)).min() {
                trail.set(self.events[event].at_least(first), reason)?;
            }
            if let Some(last) = able().filter_map(|floor| floor.last(first, last, most)).max() {
                trail.set(self.events[event].at_most(last), reason)?;
            }
        }
        Ok(())
    }
}

impl Prices {
    pub(super) fn new(regrets: Regrets, model: &Model) -> Self {
        let steps = model.steps.iter().zip(&regrets.of).map(|(vars, regrets)| Step::new(vars, regrets)).collect();
        Prices { regrets, steps, waiting: model.goals[1] }
    }

    /// The greatest sum of regrets that goes with a total.
    fn spare(&self, total: i32) -> i64 {
        self.regrets.spare(i64::from(total) * self.waiting.unit + self.waiting.unit - 1)
    }

    /// The regret of each lane, and the step that has it, lanes with little first; without the lane of `but`.
    fn lanes(&self, bounds: &impl Bounds, but: Option<usize>) -> Vec<(i64, usize)> {
        let others = self.regrets.lanes.iter().filter(|lane| but.is_none_or(|step| !lane.contains(&step)));
        let of_lane = |lane: &Vec<usize>| {
            let steps = lane.iter().map(|&step| (self.steps[step].regret(self.steps[step].view(bounds)), step));
            steps.max().unwrap_or((0, 0))
        };
        let mut lanes: Vec<(i64, usize)> = others.map(of_lane).collect();
        lanes.sort_unstable();
        lanes
    }

    /// Facts under which these lanes have their sum of regrets but for `spare`. What is left of `spare` is returned.
    fn why(&self, lanes: &[(i64, usize)], bounds: &impl Bounds, mut spare: i64, why: &mut Vec<Lit>) -> i64 {
        debug_assert!(spare >= 0, "the regrets must be there");
        for &(regret, step) in lanes {
            if regret <= spare {
                spare -= regret;
            } else {
                self.steps[step].why(self.steps[step].view(bounds), regret - spare, why);
                spare = 0;
            }
        }
        spare
    }
}

fn sum(lanes: &[(i64, usize)]) -> i64 {
    lanes.iter().fold(0, |sum: i64, lane| sum.saturating_add(lane.0))
}

impl Propagator for Prices {
    fn sides(&self) -> Vec<Side> {
        let both = |side: Side| [side, side ^ 1];
        let events = self.steps.iter().flat_map(|step| step.events).flat_map(|event| both(event.side));
        let modes = self.steps.iter().flat_map(|step| &step.modes).map(|mode| mode.lit.opposite().side);
        events.chain(modes).chain([self.waiting.total.side ^ 1]).collect()
    }

    fn rank(&self) -> usize {
        2
    }

    fn propagate(&mut self, trail: &mut Trail, rule: u32) -> Result<(), Conflict> {
        let Prices { regrets, steps, waiting } = self;
        let of_lane = |lane: &Vec<usize>| lane.iter().map(|&step| steps[step].look(trail)).max().unwrap_or(0);
        let lanes: Vec<i64> = regrets.lanes.iter().map(of_lane).collect();
        let sum = lanes.iter().fold(0_i64, |sum, &regret| sum.saturating_add(regret));
        let least = (regrets.waiting(sum) / waiting.unit).min(i64::from(i32::MAX / 2)) as i32;
        trail.set(waiting.total.at_least(least), Reason::Rule { rule, what: TOTAL })?;
        let spare = self.spare(trail.most(self.waiting.total)) - sum;
        for (lane, regret) in self.regrets.lanes.iter().zip(lanes) {
            for &step in lane {
                self.steps[step].prune(spare + regret, trail, Reason::Rule { rule, what: step as u32 })?;
            }
        }
        Ok(())
    }

    fn explain(&self, past: &Past<'_>, lit: Lit, what: u32, why: &mut Vec<Lit>) {
        let total = self.waiting.total;
        if what == TOTAL {
            let lanes = self.lanes(past, None);
            let needed = self.regrets.to_reach(i64::from(lit.at_least + total.plus) * self.waiting.unit);
            self.why(&lanes, past, sum(&lanes) - needed, why);
            return;
        }
        // Without the literal the step would have more regret than the others leave.
        let step = &self.steps[what as usize];
        let without = step.view_with(past, lit.opposite());
        let own = step.regret(without);
        let others = self.lanes(past, Some(what as usize));
        let most = past.most(total);
        why.push(total.at_most(most));
        let spare = own.saturating_add(sum(&others)) - self.spare(most) - 1;
        let spare = self.why(&others, past, spare, why);
        let mut facts = Vec::new();
        step.why(without, own - spare, &mut facts);
        // The assumption itself is no reason, nor what is weaker.
        why.extend(facts.into_iter().filter(|fact| fact.side != lit.side ^ 1 || fact.at_least > 1 - lit.at_least));
    }
}
