use proptest::prelude::*;
use rangewright_models::problem::Problem;
use serde_json::json;

use super::*;
use crate::assignment::Choice;
use crate::limits::Limits;

/// A small random evening: one oven, one hob, one pair of hands with a break, chains of two or three steps.
pub(crate) fn evening(seed: u64, dishes: usize) -> Problem {
    let mut random = Random::new(seed);
    let mut number = |lo: i64, hi: i64| lo + random.below((hi - lo + 1) as usize) as i64;
    let mut steps = Vec::new();
    let mut links = Vec::new();
    let mut sinks = Vec::new();
    let mut named = Vec::new();
    for dish in 0..dishes {
        named.push(json!({"id": format!("d{dish}"), "name": "dish"}));
        let count = number(2, 3);
        for step in 0..count {
            let id = format!("d{dish}s{step}");
            let mut modes = Vec::new();
            for _ in 0..number(1, 2) {
                let min = number(2, 4);
                let max = min + number(0, 3);
                modes.push(match number(0, 2) {
                    0 => json!({"place": null, "min": min, "max": max, "hands": number(0, 1), "cost": number(0, 2)}),
                    1 => {
                        let low = 100 + 40 * number(0, 2);
                        json!({"place": "oven", "min": min, "max": max, "load": 1, "unload": number(0, 1),
                            "t": [low, low + 30], "heat": "fan", "pan": [300, 200 + 100 * number(0, 1), 80],
                            "weight": 900, "shut": number(0, 2), "touches": if min > 3 && number(0, 2) == 0 { json!([[2, 1]]) } else { json!([]) }})
                    }
                    _ => json!({"place": "hob", "min": min, "max": max, "load": 1, "level": [1, 5], "diameter": 200}),
                });
            }
            let soft = number(0, 2);
            steps.push(json!({"id": id, "dish": format!("d{dish}"), "kind": "cook", "earliest": null, "latest": null,
                "wait": {"rate": number(0, 2), "soft": soft, "rate_after": 3}, "modes": modes}));
            if step > 0 {
                let min = number(-1, 1);
                links.push(
                    json!({"from": format!("d{dish}s{}", step - 1), "to": id, "min": min, "max": min + number(2, 9),
                    "stay": false, "wait": {"rate": number(0, 3), "soft": 2, "rate_after": 4}}),
                );
            }
            if step == count - 1 {
                sinks.push(json!({"step": id, "wait": {"rate": number(0, 2), "soft": null, "rate_after": 2}}));
            }
        }
    }
    let problem = json!({
        "name": "evening", "opening": 0,
        "shifts": [{"start": 0, "end": 12, "hands": 1}, {"start": 14, "end": 60, "hands": 1}],
        "pools": {},
        "places": [
            {"id": "oven", "kind": "cavity", "width": 400, "depth": 400, "height": 200, "racks": 1, "clearance": 20,
             "max_weight": 5000, "t_min": 50, "t_max": 250, "t_open": 20, "rise": 300, "fall": 200, "settle": 0,
             "cool_off": 4, "heats": ["fan"]},
            {"id": "hob", "kind": "hob", "count": 1, "scale": [1, 9], "min_diameter": 100, "max_diameter": 300}],
        "dishes": named,
        "courses": [{"id": "all", "serve": 24, "weight": 1, "max_slip": 20, "together": 4, "sinks": sinks, "after": null}],
        "steps": steps, "links": links});
    serde_json::from_value(problem).expect("the form is right")
}

/// The least waiting with which a path of steps fits, by trying everything.
fn by_hand(kitchen: &mut Kitchen<'_>, path: &[usize]) -> Option<i64> {
    let Some((&step, rest)) = path.split_first() else { return Some(0) };
    let instance = kitchen.instance;
    let source = &instance.steps[step];
    let mut best: Option<i64> = None;
    for (number, mode) in source.modes.iter().enumerate() {
        for start in source.earliest.max(mode.ready)..=instance.horizon - mode.min {
            for end in start + mode.min..=(start + mode.max).min(source.latest) {
                let choice = Choice { mode: number, start, end };
                let mut cost = mode.cost + mode.wait.cost(end - start - mode.min);
                let mut fits = true;
                for link in source.before.iter().map(|&link| &instance.links[link]) {
                    let gap = start - kitchen.ledger.choices()[link.from].map_or(start, |from| from.end);
                    fits &= (link.min..=link.max).contains(&gap);
                    cost += if fits { link.wait.cost(gap - link.min) } else { 0 };
                }
                if let Some((course, rate)) = source.sink {
                    let stands = kitchen.served[course] - end;
                    fits &= (0..=instance.courses[course].together).contains(&stands);
                    cost += if fits { rate.cost(stands) } else { 0 };
                }
                if best.is_some_and(|best| cost >= best) || !fits || kitchen.ledger.clash(step, choice).is_some() {
                    continue;
                }
                kitchen.ledger.book(step, choice);
                let more = by_hand(kitchen, rest);
                kitchen.ledger.unbook(step);
                if let Some(total) = more.map(|more| more + cost) {
                    best = Some(best.map_or(total, |best| best.min(total)));
                }
            }
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// Each insertion is as cheap as trying everything finds, or takes a step at a time where the path is in its own way.
    #[test]
    fn insertion_is_exact(seed in any::<u64>()) {
        let problem = evening(seed, 3);
        let Ok(instance) = Instance::new(&problem) else { return Ok(()) };
        let mut kitchen = Kitchen::new(&instance);
        let mut random = Random::new(seed);
        for unit in 0..kitchen.units.units.len() {
            let path = kitchen.units.units[unit].steps.clone();
            let least = by_hand(&mut kitchen, &path);
            let found = kitchen.insert(unit, Manner::default(), &mut random);
            match (least, found) {
                (None, found) => prop_assert!(found.is_none()),
                (Some(least), Some(cost)) => {
                    prop_assert!(kitchen.cost_of(unit) / SCALE >= least);
                    // Overlapping steps of one dish may want the same hand or place: only then may it be dearer.
                    let overlap = instance.links.iter().any(|link| link.min < 0);
                    prop_assert!(overlap || path.len() > 2 || kitchen.cost_of(unit) / SCALE == least);
                    prop_assert!(cost / SCALE >= least);
                }
                (Some(_), None) => {
                    prop_assert!(path.len() > 2 || instance.links.iter().any(|link| link.min < 0));
                }
            }
        }
    }

    /// Whatever the search reports keeps all rules, also under a tiny budget and in several slices.
    #[test]
    fn plans_are_valid_and_runs_repeat(seed in any::<u64>()) {
        let problem = evening(seed, 4);
        let Ok(instance) = Instance::new(&problem) else { return Ok(()) };
        let run = |slices: &[u64]| {
            let limits = Limits { work: Some(900), ..Limits::default() };
            let mut board = Board::new(&instance, &limits);
            let mut improver = Improver::new(&instance, None);
            for &slice in slices {
                board.start_slice(slice);
                improver.run(&mut board);
            }
            board.incumbent().map(|(cost, assignment)| (*cost, assignment.clone()))
        };
        let found = run(&[900]);
        if let Some((cost, assignment)) = &found {
            prop_assert!(valid(&instance, assignment));
            prop_assert_eq!(*cost, assignment.cost(&instance));
        }
        prop_assert_eq!(found, run(&[900]));
        if let Some((_, assignment)) = run(&[7, 100, 300, 500]) {
            prop_assert!(valid(&instance, &assignment));
        }
    }

    /// A plan that is broken by moving one step is not called valid unless it keeps the links.
    #[test]
    fn ledger_and_validity_agree(seed in any::<u64>(), step in 0..6_usize, shift in -3..4_i32) {
        let problem = evening(seed, 3);
        let Ok(instance) = Instance::new(&problem) else { return Ok(()) };
        let limits = Limits { work: Some(300), ..Limits::default() };
        let mut board = Board::new(&instance, &limits);
        Improver::new(&instance, None).run(&mut board);
        let Some((_, assignment)) = board.incumbent() else { return Ok(()) };
        let mut moved = assignment.clone();
        let step = step % moved.steps.len();
        moved.steps[step].start += shift;
        moved.steps[step].end += shift;
        let mut kitchen = Kitchen::new(&instance);
        kitchen.load(assignment);
        kitchen.ledger.unbook(step);
        let free = moved.steps[step].start >= 0 && kitchen.ledger.clash(step, moved.steps[step]).is_none();
        if !free {
            prop_assert!(!valid(&instance, &moved));
        }
    }
}
