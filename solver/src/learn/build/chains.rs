//! The waits of each dish, as chains that end at an anchor.

use std::collections::VecDeque;

use super::Builder;
use super::costs::{Excess, flat};
use crate::instance::{Rate, Time};
use crate::learn::literal::Expr;
use crate::learn::path_cost::{Element, Event, LONGEST, PathCost};
use crate::learn::trail::Bounds;

/// The greatest cost of one chain.
const MOST: i64 = 1 << 29;

/// A chain in the making.
struct Draft {
    anchor: Expr,
    elements: Vec<Element>,
    events: Vec<Event>,
    fixed: i32,
}

/// Where a chain begins: at a step, `gap` before an anchor.
struct Beginning {
    anchor: Expr,
    /// The least minutes between the end of the step and the anchor, the most, and what those beyond the least cost.
    gap: (Time, Time, Rate),
    step: usize,
}

impl Builder<'_, '_> {
    pub(super) fn add_chains(&mut self, excesses: &[Option<Excess>]) {
        let instance = self.instance;
        let mut beginnings: VecDeque<Beginning> = VecDeque::new();
        for (index, step) in instance.steps.iter().enumerate() {
            if let Some((course, rate)) = step.sink {
                let gap = (0, instance.courses[course].together, rate);
                beginnings.push_back(Beginning { anchor: self.served[course], gap, step: index });
            }
        }
        let mut claimed = vec![false; instance.steps.len()];
        while let Some(beginning) = beginnings.pop_front() {
            self.follow(beginning, excesses, &mut claimed, &mut beginnings);
        }
    }

    /// Goes back from an anchor as long as there is one way to go, and leaves the other ways for later.
    fn follow(
        &mut self,
        beginning: Beginning,
        excesses: &[Option<Excess>],
        claimed: &mut [bool],
        beginnings: &mut VecDeque<Beginning>,
    ) {
        let instance = self.instance;
        let Beginning { anchor, mut gap, mut step } = beginning;
        let mut draft = Draft { anchor, elements: Vec::new(), events: Vec::new(), fixed: 0 };
        let mut until = anchor;
        loop {
            let (start, end) = (self.steps[step].start, self.steps[step].end);
            let (min, max, rate) = gap;
            if rate.is_free() && max == Time::MAX || draft.elements.len() + 4 > LONGEST {
                // Past a wait that is free and may last for ever nothing is lost; past one too many, little.
                if let (false, Some(wait)) = (rate.is_free(), self.wait(until, end.plus(min))) {
                    self.pay(wait, rate);
                }
                self.finish(draft);
                draft = Draft { anchor: end, elements: Vec::new(), events: Vec::new(), fixed: 0 };
            } else {
                draft.fixed += min;
                self.add_gap(&mut draft, until, end.plus(min), max.saturating_sub(min), rate);
                draft.pass(end);
            }
            if claimed[step] {
                return self.finish(draft);
            }
            claimed[step] = true;
            self.add_duration(&mut draft, step, excesses[step]);
            draft.pass(start);
            until = start;
            let mut ways = instance.steps[step].before.iter().map(|&link| &instance.links[link]);
            let Some(way) = ways.next() else { return self.finish(draft) };
            for other in ways {
                let gap = (other.min, other.max, other.wait);
                beginnings.push_back(Beginning { anchor: start, gap, step: other.from });
            }
            gap = (way.min, way.max, way.wait);
            step = way.from;
        }
    }

    fn add_gap(&mut self, draft: &mut Draft, until: Expr, since: Expr, most: Time, rate: Rate) {
        if rate.is_free() {
            if until.side == since.side {
                draft.fixed += until.plus - since.plus;
            } else {
                // Nothing is to pay, but it may take up minutes.
                let wait = self.engine.variable(0, most);
                draft.elements.push(Element { wait, rate });
            }
            return;
        }
        match self.wait(until, since) {
            Some(wait) if wait.side == 0 => {
                draft.fixed += wait.plus;
                self.pay(wait, rate);
            }
            Some(wait) => draft.elements.push(Element { wait, rate }),
            None => {}
        }
    }

    fn add_duration(&mut self, draft: &mut Draft, step: usize, excess: Option<Excess>) {
        let free = flat(0);
        match (self.durations[step], excess) {
            (None, _) => draft.fixed += self.steps[step].end.plus - self.steps[step].start.plus,
            (Some(_), Some(Excess { excess, base, least, rate })) => {
                draft.fixed += least;
                draft.elements.extend(base.map(|wait| Element { wait, rate: free }));
                draft.elements.push(Element { wait: excess, rate });
            }
            (Some(duration), None) => {
                let least = self.engine.trail.least(duration);
                draft.fixed += least;
                draft.elements.push(Element { wait: duration.plus(-least), rate: free });
            }
        }
    }

    /// Two waits or more that cost something are a matter for a rule of their own.
    fn finish(&mut self, draft: Draft) {
        let Draft { anchor, elements, events, .. } = draft;
        let paid = elements.iter().filter(|element| !element.rate.is_free());
        let most: i64 = paid.clone().map(|paid| paid.rate.cost(self.engine.trail.most(paid.wait).max(0))).sum();
        if paid.clone().count() < 2 || most > MOST {
            for Element { wait, rate } in elements.iter().filter(|element| !element.rate.is_free()) {
                self.pay(*wait, *rate);
            }
            return;
        }
        self.rates.extend(paid.map(|element| element.rate));
        let cost = self.engine.variable(0, most as i32);
        self.engine.add(Box::new(PathCost { anchor, elements, events, cost }));
        self.waits.push((cost, flat(1)));
    }
}

impl Draft {
    /// Notes down that a moment has been passed.
    fn pass(&mut self, moment: Expr) {
        let same = self.events.last().is_some_and(|last| last.moment.side == moment.side);
        if !same && moment.side != self.anchor.side && self.events.len() <= LONGEST {
            self.events.push(Event { moment, elements: self.elements.len(), fixed: self.fixed });
        }
    }
}
