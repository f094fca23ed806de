//! The simulation against cases whose answer is known.

use std::collections::BTreeMap;

use rangewright::models::plan::{Plan, PlannedStep, Status};
use rangewright::models::problem::{Course, Dish, Link, Mode, Problem, Shift, Sink, Step, Wait};
use rangewright::models::schedule::Crew;
use rangewright::odds::{Dice, Odds, Range, Ranges, Shared, odds};
use rangewright::slack::slack;
use rangewright_tests::random::counter;

/// Activities with their minutes and what each follows, planned as early as they can be, all of them in one dish.
struct Network {
    problem: Problem,
    plan: Plan,
    ranges: Ranges,
}

/// `(name, shortest, likely, longest, predecessors)`; `hands` for each, of as many as there are in the kitchen.
fn network(activities: &[(&str, i64, i64, i64, &[&str])], hands: i64, crew: i64) -> Network {
    let none = Wait::default();
    let step = |&(id, _, likely, _, _): &(&str, i64, i64, i64, &[&str])| Step {
        id: id.to_owned(),
        dish: "dish".to_owned(),
        kind: "work".to_owned(),
        earliest: None,
        latest: None,
        wait: none,
        modes: vec![Mode { min: likely, max: likely, hands, ..counter() }],
    };
    let mut steps: Vec<Step> = activities.iter().map(step).collect();
    let finish = Mode { min: 0, max: 0, ..counter() };
    steps.push(Step { id: "finish".to_owned(), modes: vec![finish], ..steps[0].clone() });
    let link = |from: &str, to: &str| Link {
        from: from.to_owned(),
        to: to.to_owned(),
        min: 0,
        max: None,
        pools: BTreeMap::new(),
        stay: false,
        wait: none,
    };
    let mut links: Vec<Link> = Vec::new();
    let mut ends = std::collections::BTreeMap::new();
    let mut planned = std::collections::BTreeMap::new();
    let mut free = vec![0_i64; usize::try_from(crew.max(1)).expect("few")];
    for &(id, _, likely, _, before) in activities {
        links.extend(before.iter().map(|from| link(from, id)));
        links.push(link(id, "finish"));
        let ready: i64 = before.iter().map(|own| ends[own]).max().unwrap_or(0);
        free.sort_unstable();
        let start = if hands > 0 { ready.max(free[0]) } else { ready };
        free[0] = start + likely;
        ends.insert(id, start + likely);
        planned.insert(id.to_owned(), PlannedStep::new(0, start, start + likely));
    }
    let done = ends.values().copied().max().unwrap_or(0);
    planned.insert("finish".to_owned(), PlannedStep::new(0, done, done));
    let course = Course {
        id: "course".to_owned(),
        serve: done,
        weight: 1,
        max_slip: 10_000,
        together: 10_000,
        sinks: vec![Sink { step: "finish".to_owned(), wait: none, pools: BTreeMap::new() }],
        after: None,
    };
    let problem = Problem {
        name: "network".to_owned(),
        opening: 0,
        shifts: vec![Shift { start: 0, end: 20_000, hands: crew.max(1) }],
        cooks: Vec::new(),
        pools: Default::default(),
        places: Vec::new(),
        dishes: vec![Dish { id: "dish".to_owned(), name: "Dish".to_owned() }],
        courses: vec![course],
        steps,
        links,
    };
    let plan = Plan {
        steps: planned,
        served: [("course".to_owned(), done)].into(),
        hands: Vec::new(),
        lateness: 0,
        waiting: 0,
        hot: 0,
        bounds: [0; 3],
        status: Status::Feasible,
        made_for: None,
    };
    let range = |&(id, shortest, likely, longest, _): &(&str, i64, i64, i64, &[&str])| {
        (id.to_owned(), Range { shortest, likely, longest })
    };
    let ranges = activities.iter().map(range).collect();
    Network { problem, plan, ranges }
}

fn play(network: &Network, evenings: usize, seed: u64) -> Odds {
    play_with(network, Dice { evenings, seed, shared: Shared::NOTHING, within: 5 })
}

fn play_with(network: &Network, dice: Dice) -> Odds {
    let crew = Crew::of(&network.problem);
    odds(&network.problem, &network.plan, &crew, &network.ranges, dice).expect("odds")
}

/// Distribution function of the triangular distribution.
fn triangular(shortest: f64, likely: f64, longest: f64, x: f64) -> f64 {
    match x {
        x if x <= shortest => 0.0,
        x if x >= longest => 1.0,
        x if x <= likely => (x - shortest).powi(2) / ((longest - shortest) * (likely - shortest)),
        x => 1.0 - (longest - x).powi(2) / ((longest - shortest) * (longest - likely)),
    }
}

const EVENINGS: usize = 100_000;

/// Four standard errors of a share over so many evenings.
fn near(share: usize, exact: f64) -> bool {
    let own = share as f64 / EVENINGS as f64;
    (own - exact).abs() <= 4.0 * (exact * (1.0 - exact) / EVENINGS as f64).sqrt() + 1e-4
}

/// A serving counts as within `m` minutes when it is less than half a minute past them.
fn counted(within: usize) -> f64 {
    rangewright::odds::WITHIN[within] as f64 + 0.5
}

#[test]
fn one_step_is_late_as_often_as_its_distribution_says() {
    let odds = play(&network(&[("roast", 50, 60, 90, &[])], 0, 0), EVENINGS, 3);
    for within in 0..4 {
        let exact = triangular(50.0, 60.0, 90.0, 60.0 + counted(within));
        assert!(near(odds.kept[within], exact), "{within}: {} and not {exact}", odds.kept[within]);
    }
    // The mean of max(0, X - 60): the integral of 1 - F from 60 to 90 is 30^3 / (3 * 40 * 30) = 7.5.
    assert!((odds.courses[0].late.mean - 7).abs() <= 1, "{:?}", odds.courses[0].late);
    assert_eq!(odds.risks[0].step, "roast");
}

#[test]
fn of_two_steps_side_by_side_the_later_counts() {
    let odds = play(&network(&[("roast", 50, 60, 90, &[]), ("bake", 40, 60, 70, &[])], 0, 0), EVENINGS, 4);
    for within in 0..4 {
        let x = 60.0 + counted(within);
        let exact = triangular(50.0, 60.0, 90.0, x) * triangular(40.0, 60.0, 70.0, x);
        assert!(near(odds.kept[within], exact), "{within}: {} and not {exact}", odds.kept[within]);
    }
}

/// Distribution function of the sum of two triangular durations, the first not counting less than `least`: nothing starts
/// before its time.
fn chain(first: [f64; 3], least: f64, second: [f64; 3], x: f64) -> f64 {
    const PIECES: usize = 20_000;
    let width = (first[2] - first[0]) / PIECES as f64;
    let piece = |index: usize| {
        let (from, to) = (first[0] + width * index as f64, first[0] + width * (index + 1) as f64);
        let [a, m, b] = first;
        let mass = triangular(a, m, b, to) - triangular(a, m, b, from);
        let middle = f64::midpoint(from, to).max(least);
        mass * triangular(second[0], second[1], second[2], x - middle)
    };
    (0..PIECES).map(piece).sum()
}

#[test]
fn a_chain_adds_up_and_nothing_starts_before_its_time() {
    let odds = play(&network(&[("roast", 50, 60, 90, &[]), ("carve", 8, 10, 16, &["roast"])], 0, 0), EVENINGS, 5);
    for within in 0..4 {
        let exact = chain([50.0, 60.0, 90.0], 60.0, [8.0, 10.0, 16.0], 70.0 + counted(within));
        assert!(near(odds.kept[within], exact), "{within}: {} and not {exact}", odds.kept[within]);
    }
}

#[test]
fn one_cook_does_one_thing_after_the_other() {
    let pair = [("chop", 50, 60, 90, &[] as &[&str]), ("knead", 8, 10, 16, &[])];
    let alone = play(&network(&pair, 1, 1), EVENINGS, 6);
    let exact = chain([50.0, 60.0, 90.0], 60.0, [8.0, 10.0, 16.0], 70.0 + counted(1));
    assert!(near(alone.kept[1], exact), "{} and not {exact}", alone.kept[1]);
    let two = play(&network(&pair, 1, 2), EVENINGS, 6);
    assert!(near(two.kept[1], triangular(50.0, 60.0, 90.0, 60.0 + counted(1))), "two cooks do not wait for each other");
}

/// The minutes that a share of `luck` of all evenings do not exceed: the triangle's distribution function turned round by
/// halving.
fn quantile([shortest, likely, longest]: [f64; 3], luck: f64) -> f64 {
    let (mut low, mut high) = (shortest, longest);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if triangular(shortest, likely, longest, middle) < luck { low = middle } else { high = middle }
    }
    high
}

/// Who is slow is slow all evening: with all of their luck shared, two jobs of one cook are as late as each other, and the
/// chance that both are in time is not that of two independent ones.
#[test]
fn what_one_cook_does_is_late_together() {
    let (chop, knead) = ([50.0, 60.0, 90.0], [8.0, 10.0, 16.0]);
    let network = network(&[("chop", 50, 60, 90, &[]), ("knead", 8, 10, 16, &[])], 1, 1);
    let played = |cook| {
        let shared = Shared { cavity: 0, cook };
        play_with(&network, Dice { evenings: EVENINGS, seed: 8, shared, within: 12 })
    };
    // In so many evenings the sum of the same quantile of both is in time; the first does not count less than as planned.
    let in_time = |luck: f64| quantile(chop, luck).max(60.0) + quantile(knead, luck) <= 70.0 + 12.5;
    let together = (0..20_000).filter(|at| in_time((f64::from(*at) + 0.5) / 20_000.0)).count() as f64 / 20_000.0;
    let apart = chain(chop, 60.0, knead, 70.0 + 12.5);
    assert!(apart - together > 0.01, "they differ: {apart} and {together}");
    let [none, half, all] = [0, 50, 100].map(|cook| played(cook).kept_within);
    assert!(near(all, together), "{all} and not {together}");
    assert!(near(none, apart), "{none} and not {apart}");
    assert!(all < half && half < none, "{all} {half} {none}");
}

/// What holds in nine evenings of ten is gone beyond in one of ten.
#[test]
fn a_range_with_tails_holds_nine_in_ten() {
    let said = Range { shortest: 940, likely: 1_000, longest: 1_060 };
    let drawn = said.with_tails();
    let cdf = |x: i64| triangular(drawn.shortest as f64, drawn.likely as f64, drawn.longest as f64, x as f64);
    let inside = cdf(said.longest) - cdf(said.shortest);
    assert!((inside - 0.9).abs() < 0.005, "{inside}: {drawn:?}");
}

/// The bridge: the smallest network that is no chain and no fork. The odds are worked out by conditioning on its first two
/// activities, on a grid; no outside value is known to us.
#[test]
fn the_bridge_by_conditioning() {
    let parts: [[f64; 3]; 5] = [[4., 6., 12.], [5., 7., 14.], [1., 2., 6.], [6., 8., 12.], [3., 5., 11.]];
    let whole = parts.map(|part| part.map(|minutes| (20.0 * minutes) as i64));
    let [a, b, c, d, e] = whole;
    let activity = |name, own: [i64; 3], before| (name, own[0], own[1], own[2], before);
    let bridge = [
        activity("a", a, &[] as &[&str]),
        activity("b", b, &[]),
        activity("c", c, &["a"]),
        activity("d", d, &["a"]),
        activity("e", e, &["b", "c"]),
    ];
    let network = network(&bridge, 0, 0);
    let odds = play(&network, EVENINGS, 7);
    // With nothing before its time: d starts at max(A, a), c likewise, e at max(end of b, end of c, its planned minute).
    const PIECES: usize = 400;
    let cdf = |own: [i64; 3], x: f64| triangular(own[0] as f64, own[1] as f64, own[2] as f64, x);
    let cells = |own: [i64; 3]| {
        let width = (own[2] - own[0]) as f64 / PIECES as f64;
        (0..PIECES).map(move |index| {
            let (from, to) = (own[0] as f64 + width * index as f64, own[0] as f64 + width * (index + 1) as f64);
            (f64::midpoint(from, to), cdf(own, to) - cdf(own, from))
        })
    };
    let planned = |step: &str| network.plan.steps[step].start as f64;
    let done = network.plan.served["course"] as f64;
    for within in 0..4 {
        let x = done + counted(within);
        let mut exact = 0.0;
        for (a_minutes, a_mass) in cells(a) {
            let begun = a_minutes.max(planned("d"));
            let d_in_time = cdf(d, x - begun);
            let mut rest = 0.0;
            for (c_minutes, c_mass) in cells(c) {
                for (e_minutes, e_mass) in cells(e).step_by(4) {
                    // Four cells of e at once, at the middle of the first: fine enough here.
                    let latest = x - e_minutes;
                    if begun + c_minutes <= latest && planned("e") <= latest {
                        rest += c_mass * 4.0 * e_mass * cdf(b, latest);
                    }
                }
            }
            exact += a_mass * d_in_time * rest;
        }
        let own = odds.kept[within] as f64 / EVENINGS as f64;
        assert!((own - exact).abs() < 0.012, "{within}: {own} and not {exact}");
    }
}

/// A published PERT exercise (wizedu.com/questions/717873, as stored; days times six are whole numbers there): means
/// (a + 4m + b) / 6, and the slack of its first six activities, 0, 8, 0, 1.83, 0 and 1.83 days.
#[test]
fn slack_of_a_published_pert_network() {
    let days: [(&str, [i64; 3], &[&str]); 14] = [
        ("A", [5, 5, 7], &[]),
        ("B", [1, 2, 5], &[]),
        ("C", [5, 5, 5], &["A"]),
        ("D", [4, 8, 13], &["A"]),
        ("E", [1, 10, 17], &["B", "C"]),
        ("F", [1, 5, 7], &["D"]),
        ("G", [2, 6, 9], &["D"]),
        ("H", [4, 4, 6], &["E", "F"]),
        ("I", [2, 7, 10], &["G", "H"]),
        ("J", [2, 4, 7], &["I"]),
        ("K", [6, 10, 13], &["I"]),
        ("L", [2, 6, 6], &["J"]),
        ("M", [2, 2, 3], &["K"]),
        ("N", [7, 7, 12], &["L", "M"]),
    ];
    let activities: Vec<(&str, i64, i64, i64, &[&str])> =
        days.iter().map(|&(name, [a, m, b], before)| (name, 6 * a, a + 4 * m + b, 6 * b, before)).collect();
    let network = network(&activities, 0, 0);
    let slack = slack(&network.problem, &network.plan, &Crew::of(&network.problem));
    let six: Vec<i64> = slack.iter().take(6).map(|own| own.start.serving).collect();
    assert_eq!(six, [0, 48, 0, 11, 0, 11]);
    let critical: Vec<&str> =
        slack.iter().filter(|own| own.decides() && own.step != "finish").map(|own| own.step.as_str()).collect();
    assert_eq!(critical, ["A", "C", "E", "H", "I", "K", "M", "N"]);
}

#[test]
fn the_same_seed_gives_the_same_bytes() {
    let network = network(&[("a", 5, 9, 20, &[]), ("b", 3, 4, 8, &["a"]), ("c", 2, 9, 12, &[])], 1, 2);
    let text = |seed| serde_json::to_string(&play(&network, 2_000, seed)).expect("plain data");
    assert_eq!(text(1), text(1));
    assert_ne!(text(1), text(2));
    // Written down once: it is the same on every machine.
    assert_eq!(play(&network, 2_000, 1).kept, [1136, 1970, 2000, 2000]);
}
