//! Units of a pool, each handed from one step to the next.

use super::{Arc, Order, Tie, end, start};

/// Each step takes units that have been free longest, and waits for whoever had them.
pub(super) fn arcs(order: &Order<'_>, wishes: &mut Vec<Arc>) {
    for (pool, &amount) in &order.problem.pools {
        let need = |step: usize| order.runs[step].mode.pools.get(pool).copied().unwrap_or(0);
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
                if taken == 0 || free_at(*last) > order.planned[start(user)] {
                    continue;
                }
                if let Some(last) = *last {
                    wishes.push(Arc { from: end(last), to: start(user), least: 0, tie: Tie::Pool });
                }
                *units -= taken;
                wanted -= taken;
            }
            lots.retain(|&(units, _)| units > 0);
            lots.push((need(user) - wanted, Some(user)));
        }
    }
}
