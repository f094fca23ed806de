//! Hot minutes: of each oven, and of all of them together.

use std::collections::BTreeMap;

use rangewright_models::problem::Place;

use super::Builder;
use crate::instance::{PlaceTable, Rate, Time};
use crate::learn::apart::{Apart, Inside};
use crate::learn::hot::Hot;
use crate::learn::literal::{Expr, Lit};
use crate::learn::model::Goal;

/// A mode in an oven: the place, and its number there.
type Stay = (usize, usize);

impl Builder<'_, '_> {
    /// The rules about hot minutes; gives their total.
    pub(super) fn add_hot_minutes(&mut self) -> Goal {
        let instance = self.instance;
        let mut terms = Vec::new();
        let mut everywhere = Vec::new();
        for (index, table) in instance.places.iter().enumerate() {
            let Place::Cavity(cavity) = &instance.problem.places[index] else { continue };
            let pans = self.pans(table).into_iter().map(|(task, _)| task).collect();
            let hot = self.engine.variable(0, (instance.horizon - instance.opening).max(0));
            self.engine.add(Box::new(Hot { pans, cool_off: cavity.cool_off as Time, hot }));
            let stays: Vec<Stay> = (0..table.occupants.len()).map(|occupant| (index, occupant)).collect();
            everywhere.extend_from_slice(&stays);
            self.add_apart(stays, hot, 1);
            terms.push((hot, Rate { rate: 1, soft: Time::MAX, rate_after: 1 }));
        }
        let ovens = terms.len();
        let goal = self.add_total(terms);
        if ovens > 1 {
            self.add_apart(everywhere, goal.total, goal.unit);
        }
        goal
    }

    /// Steps that may not share an oven in any of these modes.
    fn add_apart(&mut self, stays: Vec<Stay>, hot: Expr, unit: i64) {
        let instance = self.instance;
        let table = |place: usize| -> &PlaceTable { &instance.places[place] };
        let mut of_steps: BTreeMap<usize, Vec<Stay>> = BTreeMap::new();
        for (place, occupant) in stays {
            of_steps.entry(table(place).occupants[occupant].step).or_default().push((place, occupant));
        }
        let mut number = of_steps.len();
        let mut steps = Vec::new();
        for (&step, stays) in &of_steps {
            let modes: Vec<usize> = stays.iter().map(|&(place, stay)| table(place).occupants[stay].mode).collect();
            let is_inside = self.one_of(step, &modes);
            let mode = |mode: usize| (self.steps[step].modes[mode], instance.steps[step].modes[mode].min);
            let modes: Vec<(Lit, Time, usize)> = (number..)
                .zip(modes)
                .map(|(number, index)| {
                    let (lit, least) = mode(index);
                    (lit, least, number)
                })
                .collect();
            number += modes.len();
            let least = modes.iter().map(|mode| mode.1).min().unwrap_or(0);
            steps.push(Inside { is_inside, least, modes });
        }
        // A step in whichever mode is all of its modes.
        let alone = of_steps.values().flatten().map(|&stay| vec![stay]);
        let nodes: Vec<Vec<Stay>> = of_steps.values().cloned().chain(alone).collect();
        let pair = |one: Stay, other: Stay| {
            if one.0 != other.0 {
                return Some(0);
            }
            let Place::Cavity(cavity) = &instance.problem.places[one.0] else { return None };
            Some(table(one.0).separation(one.1, other.1)?.shorter().min(cavity.cool_off as Time))
        };
        let mut gaps = Vec::with_capacity(nodes.len() * nodes.len());
        for ones in &nodes {
            for others in &nodes {
                let pairs = ones.iter().flat_map(|&one| others.iter().map(move |&other| pair(one, other)));
                gaps.push(pairs.collect::<Option<Vec<Time>>>().and_then(|gaps| gaps.into_iter().min()));
            }
        }
        self.engine.add(Box::new(Apart { steps, gaps, hot, unit }));
    }
}
