//! Reading off who does what.

use rangewright_models::plan::Piece;

use super::cumulative::Task;
use super::literal::Lit;
use super::model::Model;
use super::trail::{Bounds, Trail};
use crate::assignment::{Assignment, Work as Done};
use crate::instance::{Instance, Time, When, Work};

/// Variables of a piece of work.
pub(super) struct WorkVars {
    pub(super) step: usize,
    /// The modes that have it.
    pub(super) modes: Vec<usize>,
    pub(super) work: Work,
    /// Its minutes, there if one of the modes is chosen.
    pub(super) task: Task,
    /// For each hand that it needs, which class lends it.
    pub(super) seats: Vec<Vec<(usize, Lit)>>,
}

/// A hand lent by a class for some minutes: its end, the index of the piece, and the step's dish.
struct Lent {
    start: Time,
    end: Time,
    piece: usize,
    dish: usize,
}

impl Model {
    /// Who does what in the plan that the trail holds.
    pub(super) fn read_work(&self, trail: &Trail, instance: &Instance<'_>, plan: &Assignment) -> Done {
        let mut done = Done { touches: vec![Vec::new(); plan.steps.len()], hands: Vec::new() };
        let Some(crew) = &instance.crew else { return done };
        let mut lent: Vec<Vec<Lent>> = crew.classes.iter().map(|_| Vec::new()).collect();
        for vars in self.works.iter().filter(|vars| vars.modes.contains(&plan.steps[vars.step].mode)) {
            let (start, end) = (trail.least(vars.task.start), trail.least(vars.task.end));
            if let (Piece::Touch(index), When::Floats { .. }) = (vars.work.piece, vars.work.when) {
                done.touches[vars.step].push((index, start - plan.steps[vars.step].start));
            }
            let dish = instance.steps[vars.step].dish;
            for seat in &vars.seats {
                if let Some(&(class, _)) = seat.iter().find(|(_, lit)| trail.holds(*lit)) {
                    lent[class].push(Lent { start, end, piece: done.hands.len(), dish });
                }
            }
            done.hands.push((vars.step, vars.work.piece, Vec::new()));
        }
        for (class, mut lent) in crew.classes.iter().zip(lent) {
            name(&class.cooks, &mut lent, &mut done.hands);
        }
        if instance.problem.cooks.is_empty() {
            done.hands.clear();
        }
        done
    }
}

/// Gives each piece to a cook of the class who is free, of several to the one who had to do with the dish before.
fn name(cooks: &[usize], lent: &mut [Lent], hands: &mut [(usize, Piece, Vec<usize>)]) {
    // Who is alone may do things beside each other.
    if let [cook] = cooks {
        return lent.iter().for_each(|own| hands[own.piece].2.push(*cook));
    }
    lent.sort_by_key(|own| (own.start, own.end, own.piece));
    let mut last: Vec<(Time, Option<usize>)> = vec![(Time::MIN, None); cooks.len()];
    for own in lent {
        let free = (0..cooks.len()).filter(|&cook| last[cook].0 <= own.start);
        if let Some(cook) = free.min_by_key(|&cook| (last[cook].1 != Some(own.dish), cook)) {
            last[cook] = (own.end, Some(own.dish));
            hands[own.piece].2.push(cooks[cook]);
        }
    }
}
