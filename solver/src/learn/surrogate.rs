//! Waiting is at least what prices say: the least of all, and for each component the reduced_cost of what has been settled about it.
//!
//! SurrogateBound of minutes (from branch-and-price) take into account what each resource can bear; under them the components are
//! independent, and every start and every end of a step has a reduced_cost: what the best timetable of its component through this
//! minute costs beyond the best of all. The reduced_costs of the components add up, so a component that has been pushed away from its best
//! minutes leaves less for all others.

use super::floor::Floor;
use super::literal::{Expr, Lit, Side};
use super::model::{Goal, Model, StepVars};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Past, Reason, Trail};
use crate::instance::Time;
use crate::price::{NEVER, ReducedCost, ReducedCosts};

/// The rule for one vector of servings: that of all plans the engine knows of.
pub(super) struct SurrogateBound {
    reduced_costs: ReducedCosts,
    steps: Vec<Step>,
    waiting: Goal,
}

/// The remark on bounds of the total; others name the step.
const TOTAL: u32 = u32::MAX;

/// First and last minute of the start, and of the end.
type Window = [[Time; 2]; 2];

const EVER: Window = [[Time::MIN, Time::MAX]; 2];

/// A step and its reduced_costs.
struct Step {
    /// Start and end.
    events: [Expr; 2],
    modes: Vec<Mode>,
    /// What the step looked like when its reduced_costs were last worked out, and what came of it.
    seen: Option<View>,
    least: i64,
}

struct Mode {
    lit: Lit,
    /// Of start and end.
    floors: [Floor; 2],
    /// When last seen.
    reduced_cost: i64,
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
    /// The reduced_cost of both events in these windows.
    fn reduced_cost(&self, window: Window) -> i64 {
        let [start, end] = [0, 1].map(|event| self.floors[event].least(window[event][0], window[event][1]));
        start.max(end)
    }
}

impl Step {
    fn new(vars: &StepVars, reduced_costs: &[Option<ReducedCost>]) -> Self {
        let modes = vars.modes.iter().zip(reduced_costs).map(|(&lit, reduced_cost)| {
            let reduced_cost = reduced_cost.clone().unwrap_or_default();
            Mode { lit, floors: [Floor::new(&reduced_cost.start), Floor::new(&reduced_cost.end)], reduced_cost: 0 }
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

    /// The reduced_cost of what is settled.
    fn reduced_cost(&self, view: View) -> i64 {
        self.open(view).map(|mode| mode.reduced_cost(view.window)).min().unwrap_or(NEVER)
    }

    /// The same for the present, worked out anew only after a change.
    fn look(&mut self, trail: &Trail) -> i64 {
        let view = self.view(trail);
        if self.seen != Some(view) {
            for (index, mode) in self.modes.iter_mut().enumerate() {
                mode.reduced_cost = if view.open.holds(index) { mode.reduced_cost(view.window) } else { NEVER };
            }
            self.least = self.modes.iter().map(|mode| mode.reduced_cost).min().unwrap_or(NEVER);
            self.seen = Some(view);
        }
        self.least
    }

    /// Facts, all in the view, under which the reduced_cost is still at least so much, which it is.
    fn why(&self, view: View, reduced_cost: i64, why: &mut Vec<Lit>) {
        let mut wide = EVER;
        for mode in self.open(view) {
            if mode.reduced_cost(wide) >= reduced_cost {
                continue;
            }
            let by_start = mode.floors[0].least(view.window[0][0], view.window[0][1]) >= reduced_cost;
            let event = usize::from(!by_start);
            mode.floors[event].narrow(&mut wide[event], view.window[event], reduced_cost);
        }
        let closed = self.modes.iter().enumerate().filter(|&(mode, _)| !view.is_assumed && !view.open.holds(mode));
        why.extend(
            closed.filter(|(_, mode)| mode.reduced_cost(wide) < reduced_cost).map(|(_, mode)| mode.lit.opposite()),
        );
        for (event, [first, last]) in self.events.iter().zip(wide) {
            why.extend((first > Time::MIN).then(|| event.at_least(first)));
            why.extend((last < Time::MAX).then(|| event.at_most(last)));
        }
    }

    /// Takes away what would have more reduced_cost than this.
    fn prune(&self, most: i64, trail: &mut Trail, reason: Reason) -> Result<(), Conflict> {
        let Some(view) = self.seen else { return Ok(()) };
        for mode in self.open(view).filter(|mode| mode.reduced_cost > most) {
            trail.set(mode.lit.opposite(), reason)?;
        }
        for (event, [first, last]) in view.window.into_iter().enumerate() {
            let able = || self.modes.iter().filter(|mode| mode.reduced_cost <= most).map(|mode| &mode.floors[event]);
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

impl SurrogateBound {
    pub(super) fn new(reduced_costs: ReducedCosts, model: &Model) -> Self {
        let steps = model
            .steps
            .iter()
            .zip(&reduced_costs.of)
            .map(|(vars, reduced_costs)| Step::new(vars, reduced_costs))
            .collect();
        SurrogateBound { reduced_costs, steps, waiting: model.goals[1] }
    }

    /// The greatest sum of reduced_costs that goes with a total.
    fn spare(&self, total: i32) -> i64 {
        self.reduced_costs.spare(i64::from(total) * self.waiting.unit + self.waiting.unit - 1)
    }

    /// The reduced_cost of each component, and the step that has it, components with little first; without the component of `but`.
    fn components(&self, bounds: &impl Bounds, but: Option<usize>) -> Vec<(i64, usize)> {
        let others =
            self.reduced_costs.components.iter().filter(|component| but.is_none_or(|step| !component.contains(&step)));
        let of_component = |component: &Vec<usize>| {
            let steps =
                component.iter().map(|&step| (self.steps[step].reduced_cost(self.steps[step].view(bounds)), step));
            steps.max().unwrap_or((0, 0))
        };
        let mut components: Vec<(i64, usize)> = others.map(of_component).collect();
        components.sort_unstable();
        components
    }

    /// Facts under which these components have their sum of reduced_costs but for `spare`. What is left of `spare` is returned.
    fn why(&self, components: &[(i64, usize)], bounds: &impl Bounds, mut spare: i64, why: &mut Vec<Lit>) -> i64 {
        debug_assert!(spare >= 0, "the reduced_costs must be there");
        for &(reduced_cost, step) in components {
            if reduced_cost <= spare {
                spare -= reduced_cost;
            } else {
                self.steps[step].why(self.steps[step].view(bounds), reduced_cost - spare, why);
                spare = 0;
            }
        }
        spare
    }
}

fn sum(components: &[(i64, usize)]) -> i64 {
    components.iter().fold(0, |sum: i64, component| sum.saturating_add(component.0))
}

impl Propagator for SurrogateBound {
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
        let SurrogateBound { reduced_costs, steps, waiting } = self;
        let of_component =
            |component: &Vec<usize>| component.iter().map(|&step| steps[step].look(trail)).max().unwrap_or(0);
        let components: Vec<i64> = reduced_costs.components.iter().map(of_component).collect();
        let sum = components.iter().fold(0_i64, |sum, &reduced_cost| sum.saturating_add(reduced_cost));
        let least = (reduced_costs.waiting(sum) / waiting.unit).min(i64::from(i32::MAX / 2)) as i32;
        trail.set(waiting.total.at_least(least), Reason::Rule { rule, what: TOTAL })?;
        let spare = self.spare(trail.most(self.waiting.total)) - sum;
        for (component, reduced_cost) in self.reduced_costs.components.iter().zip(components) {
            for &step in component {
                self.steps[step].prune(spare + reduced_cost, trail, Reason::Rule { rule, what: step as u32 })?;
            }
        }
        Ok(())
    }

    fn explain(&self, past: &Past<'_>, lit: Lit, what: u32, why: &mut Vec<Lit>) {
        let total = self.waiting.total;
        if what == TOTAL {
            let components = self.components(past, None);
            let needed = self.reduced_costs.to_reach(i64::from(lit.at_least + total.plus) * self.waiting.unit);
            self.why(&components, past, sum(&components) - needed, why);
            return;
        }
        // Without the literal the step would have more reduced_cost than the others leave.
        let step = &self.steps[what as usize];
        let without = step.view_with(past, lit.opposite());
        let own = step.reduced_cost(without);
        let others = self.components(past, Some(what as usize));
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
