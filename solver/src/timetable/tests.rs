//! The dynamic program against plain enumeration, on small random components.

use proptest::prelude::*;
use rangewright_models::problem::Problem;
use serde_json::{Value, json};

use super::*;

const SERVE: i64 = 14;

/// A random tree (or, with `ring`, a graph with one ring) of steps on one dish, in a day of a few minutes.
#[derive(Clone, Debug)]
struct Recipe {
    steps: Vec<Vec<(i64, i64, usize, i64, i64)>>,
    links: Vec<(usize, i64, Option<i64>, i64)>,
    ring: Option<(usize, usize, i64)>,
    prices: Vec<i64>,
    gap: Option<i64>,
}

fn recipe(ring: bool) -> impl Strategy<Value = Recipe> {
    let mode = (1..4_i64, 0..4_i64, 0..4_usize, 0..3_i64, 0..3_i64);
    (2..5_usize).prop_flat_map(move |count| {
        let steps = prop::collection::vec(prop::collection::vec(mode.clone(), 1..3), count);
        let link = (0..count, -1..3_i64, prop::option::of(0..4_i64), 0..3_i64);
        let links = prop::collection::vec(link, count - 1);
        let pair = (0..count, 0..count, 0..3_i64);
        let ring = if ring { pair.prop_map(Some).boxed() } else { Just(None).boxed() };
        let prices = prop::collection::vec(-3..6_i64, 64);
        (steps, links, ring, prices, prop::option::of(3..9_i64)).prop_map(|(steps, links, ring, prices, gap)| Recipe {
            steps,
            links,
            ring,
            prices,
            gap,
        })
    })
}

/// Step `i > 0` is linked with an earlier one, which makes a tree; the direction of a link follows the index.
fn problem(recipe: &Recipe) -> Problem {
    let count = recipe.steps.len();
    let mut links: Vec<Value> = Vec::new();
    let mut has_next = vec![false; count];
    let mut pairs = Vec::new();
    for (index, &(pick, min, more, rate)) in recipe.links.iter().enumerate() {
        let (from, to) = (pick % (index + 1), index + 1);
        pairs.push((from, to));
        has_next[from] = true;
        links.push(
            json!({"from": format!("s{from}"), "to": format!("s{to}"), "min": min, "max": more.map(|more| min + more),
            "wait": {"rate": rate, "soft": 1, "rate_after": rate + 1}}),
        );
    }
    if let Some((a, b, min)) = recipe.ring {
        let (from, to) = (a.min(b), a.max(b));
        if from != to && !pairs.contains(&(from, to)) {
            has_next[from] = true;
            links.push(json!({"from": format!("s{from}"), "to": format!("s{to}"), "min": min, "max": null,
                "wait": {"rate": 1, "soft": null, "rate_after": 1}}));
        }
    }
    let steps: Vec<Value> = recipe
        .steps
        .iter()
        .enumerate()
        .map(|(index, modes)| {
            let modes: Vec<Value> = modes
                .iter()
                .map(|&(min, more, kind, cost, rate)| {
                    let mut mode = json!({"min": min, "max": min + more, "cost": cost,
                "wait": {"rate": rate, "soft": 2, "rate_after": rate + 2}});
                    match kind {
                        0 => mode["hands"] = json!(1),
                        1 => {
                            mode["load"] = json!(1);
                            mode["touches"] = json!([[1, 1]]);
                        }
                        kind => {
                            mode["place"] = json!("oven");
                            mode["t"] = if kind == 2 { json!([100, 100]) } else { json!([200, 200]) };
                            mode["heat"] = json!("fan");
                            mode["pan"] = json!([1, 1, 1]);
                            mode["weight"] = json!(1);
                        }
                    }
                    mode
                })
                .collect();
            json!({"id": format!("s{index}"), "dish": "d", "kind": "k", "earliest": null, "latest": null,
            "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": modes})
        })
        .collect();
    let sinks: Vec<Value> = (0..count)
        .filter(|&step| !has_next[step])
        .map(|step| json!({"step": format!("s{step}"), "wait": {"rate": 1, "soft": 1, "rate_after": 3}}))
        .collect();
    let shifts = match recipe.gap {
        Some(gap) => json!([{"start": 0, "end": gap, "hands": 1}, {"start": gap + 1, "end": 30, "hands": 1}]),
        None => json!([{"start": 0, "end": 30, "hands": 1}]),
    };
    serde_json::from_value(json!({"name": "random", "opening": 0, "shifts": shifts, "pools": {},
        "places": [{"id": "oven", "kind": "cavity", "width": 9, "depth": 9, "height": 9, "racks": 2, "clearance": 0,
            "max_weight": 9, "t_min": 0, "t_max": 300, "t_open": 100, "rise": 500, "fall": 1000, "settle": 0,
            "cool_off": 5, "heats": ["fan"]}],
        "dishes": [{"id": "d", "name": "D"}],
        "courses": [{"id": "c", "serve": SERVE, "weight": 1, "max_slip": 0, "together": 5, "sinks": sinks, "after": null}],
        "steps": steps, "links": links})).expect("a problem")
}

/// The least cost of all choices, step by step in index order, and the least through each (step, mode, start, end).
fn enumerate(
    instance: &Instance<'_>,
    price: &dyn Fn(usize, &Choice) -> i64,
    chosen: &mut Vec<Choice>,
    cost: i64,
    best: &mut std::collections::BTreeMap<Option<(usize, Choice)>, i64>,
) {
    let step = chosen.len();
    if step == instance.steps.len() {
        let mut note = |key| {
            let entry = best.entry(key).or_insert(cost);
            *entry = cost.min(*entry);
        };
        note(None);
        for (step, &choice) in chosen.iter().enumerate() {
            note(Some((step, choice)));
        }
        return;
    }
    for (mode, way) in instance.steps[step].modes.iter().enumerate() {
        for start in instance.steps[step].earliest.max(way.ready)..=instance.horizon {
            for end in start + way.min..=(start + way.max).min(instance.steps[step].latest) {
                let choice = Choice { mode, start, end };
                let hands = &instance.resources[0].capacity;
                let worked = way.work.iter().all(|work| {
                    let (from, to, need) = work.at(start, end);
                    hands.least(from, to) >= need
                });
                let mut more = way.cost + way.wait.cost(end - start - way.min) + price(step, &choice);
                let mut linked = true;
                for &link in &instance.steps[step].before {
                    let link = &instance.links[link];
                    let from = chosen[link.from];
                    let gap = start - from.end;
                    linked &= link.min <= gap && gap <= link.max;
                    if linked {
                        more += link.wait.cost(gap - link.min);
                    }
                    let before = &instance.steps[link.from].modes[from.mode];
                    if let (Some(place), Some(a), Some(b)) = (way.place, before.occupant, way.occupant) {
                        if let Some(apart) = instance.places[place].separation(a, b).filter(|_| link.min >= 0) {
                            linked &= gap >= apart.forth;
                        }
                    }
                }
                if let Some((course, rate)) = instance.steps[step].sink {
                    let wait = instance.courses[course].serve - end;
                    linked &= 0 <= wait && wait <= instance.courses[course].together;
                    if linked {
                        more += rate.cost(wait);
                    }
                }
                if worked && linked {
                    chosen.push(choice);
                    enumerate(instance, price, chosen, cost + more, best);
                    chosen.pop();
                }
            }
        }
    }
}

fn agree(recipe: &Recipe) -> Result<(), TestCaseError> {
    let problem = problem(recipe);
    let Ok(instance) = Instance::new(&problem) else { return Ok(()) };
    let timetables = Timetables::new(&instance, &instance.windows, 1).expect("small");
    let mut tariff = timetables.lawful(&instance);
    let prefix = |time: Time| recipe.prices[..time.max(0) as usize].iter().sum::<i64>();
    // Prices on the minutes of even steps, a price on one start, and a minute in which no odd step may run.
    let price = |step: usize, choice: &Choice| match step % 2 {
        0 => prefix(choice.end) - prefix(choice.start) + if choice.start == 4 { recipe.prices[40] } else { 0 },
        _ if (6..8).any(|minute| choice.start <= minute && minute < choice.end) => 1 << 40,
        _ => 0,
    };
    for (slot, toll) in tariff.tolls.iter_mut().enumerate() {
        if timetables.slots[slot].step % 2 == 1 {
            toll.block(6, 8);
            continue;
        }
        toll.charge(prefix);
        if let Some(cost) = usize::try_from(4 - toll.start_lo).ok().and_then(|index| toll.start.get_mut(index)) {
            *cost += recipe.prices[40];
        }
    }
    let mut best = std::collections::BTreeMap::new();
    enumerate(&instance, &price, &mut Vec::new(), 0, &mut best);
    let least = best.get(&None).copied().filter(|&least| least < 1 << 39);
    let mut scratch = Scratch::default();
    let served = [SERVE as Time];
    let mut total = Some(0);
    let mut found = vec![Choice { mode: 0, start: 0, end: 0 }; instance.steps.len()];
    for component in 0..timetables.components.len() {
        let cheapest = timetables.cheapest(&instance, component, &served, &tariff, &mut scratch);
        total = total.zip(cheapest.as_ref()).map(|(total, cheapest)| total + cheapest.0);
        for (step, choice) in cheapest.into_iter().flat_map(|cheapest| cheapest.1) {
            found[step] = choice;
        }
    }
    prop_assert_eq!(total, least);
    let Some(least) = least else { return Ok(()) };
    let mut recounted = Vec::new();
    let only = |step: usize, choice: &Choice| if *choice == found[step] { price(step, choice) } else { 1 << 41 };
    let mut again = std::collections::BTreeMap::new();
    enumerate(&instance, &only, &mut recounted, 0, &mut again);
    prop_assert_eq!(again[&None], least, "the choices traced do not cost what was promised");
    if timetables.components.len() == 1 {
        let exact = timetables.components[0].rings.is_empty();
        let through = timetables.through(&instance, 0, &served, &tariff, &mut scratch);
        for (slot, starts, ends) in &through.slots {
            let toll = &tariff.tolls[*slot];
            let Slot { step, mode } = timetables.slots[*slot];
            for (lo, costs, of) in [(toll.start_lo, starts, 0), (toll.end_lo, ends, 1)] {
                for (index, &cost) in costs.iter().enumerate() {
                    let minute = lo + index as Time;
                    let these = best.iter().filter_map(|(key, &cost)| {
                        let (at, choice) = key.as_ref()?;
                        let side = if of == 0 { choice.start } else { choice.end };
                        (*at == step && choice.mode == mode && side == minute && cost < 1 << 39).then_some(cost)
                    });
                    let least = these.min().unwrap_or(FORBIDDEN);
                    if exact {
                        prop_assert_eq!(cost, least, "through {} mode {} side {} minute {}", step, mode, of, minute);
                    } else {
                        prop_assert!(cost <= least);
                    }
                }
            }
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn trees_agree_with_enumeration(recipe in recipe(false)) {
        agree(&recipe)?;
    }

    #[test]
    fn rings_agree_with_enumeration(recipe in recipe(true)) {
        agree(&recipe)?;
    }
}
