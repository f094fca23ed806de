//! Units of a pool and burners of a hob, each handed from one step to the next.

use rangewright_models::problem::Place;

use super::{Arc, Order, Tie, end, start};

pub(super) fn arcs(order: &Order<'_>, wishes: &mut Vec<Arc>) {
    for (pool, &amount) in &order.problem.pools {
        let need = |step: usize| order.runs[step].mode.pools.get(pool).copied().unwrap_or(0);
        hand_on(order, amount, &need, Tie::Pool, wishes);
    }
    for place in &order.problem.places {
        let Place::Hob(hob) = place else { continue };
        let need = |step: usize| i64::from(order.runs[step].mode.place.as_ref() == Some(&hob.id));
        hand_on(order, hob.count, &need, Tie::Place, wishes);
    }
}

/// Each step takes the units that are free first, and waits for whoever had them.
///
/// In a valid plan they are free by then. If there are fewer units than when it was made, somebody has to wait.
fn hand_on(order: &Order<'_>, amount: i64, need: &dyn Fn(usize) -> i64, tie: Tie, wishes: &mut Vec<Arc>) {
    let mut users: Vec<usize> = (0..order.runs.len()).filter(|&step| need(step) > 0).collect();
    users.sort_by_key(|&step| (order.planned[start(step)], order.planned[end(step)], step));
    // Units and who had them last: nobody first.
    let mut lots: Vec<(i64, Option<usize>)> = vec![(amount, None)];
    for user in users {
        let free_at = |last: Option<usize>| last.map_or(i64::MIN, |step| order.planned[end(step)]);
        lots.sort_by_key(|&(_, last)| (free_at(last), last));
        let mut wanted = need(user);
        for (units, last) in &mut lots {
            let taken = wanted.min(*units);
            if let Some(last) = last.filter(|_| taken > 0) {
                wishes.push(Arc { from: end(last), to: start(user), least: 0, tie });
            }
            *units -= taken;
            wanted -= taken;
        }
        lots.retain(|&(units, _)| units > 0);
        lots.push((need(user) - wanted, Some(user)));
    }
}
