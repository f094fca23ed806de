//! Can they share? Cases worked by hand, in one oven with two dishes.

use rangewright::ask::{Hindrance, Manner, Obstacle, Sharing, can_share, can_share_anywhere, sharing_problem};
use rangewright::models::check::check;
use rangewright::models::problem::{Cavity, Heat, Link, Mode, Place, Problem, Step, Wait};
use rangewright::{Error, Limits};
use rangewright_tests::evening::{counter, evening, hour, link, oven, pair, step};

/// Asks, and holds the answer to what must hold of any: every plan is one, and the best way comes first.
fn asked(problem: &Problem) -> Sharing {
    assert_eq!(problem.faults(), []);
    let sharing = can_share(problem, &["a", "b"], "oven", &Limits::default()).expect("the question makes sense");
    assert!(sharing.complete, "{sharing:?}");
    for way in &sharing.ways {
        let own = sharing_problem(problem, &["a", "b"], "oven", way.manner);
        check(&own, &way.plan).expect("the plan of a way is a plan");
    }
    assert!(sharing.ways.is_sorted_by_key(|way| way.cost()));
    for not in &sharing.not {
        assert!(sharing.ways.iter().all(|way| way.manner != not.manner));
    }
    sharing
}

fn why_not(sharing: &Sharing, manner: Manner) -> &Hindrance {
    let not = sharing.not.iter().find(|not| not.manner == manner);
    &not.unwrap_or_else(|| panic!("{manner:?} should not work: {sharing:?}")).because
}

#[test]
fn two_trays_too_wide_for_one_rack_fit_two() {
    let sharing = asked(&pair(oven(), 5, vec![hour()], vec![hour()]));
    let best = &sharing.ways[0];
    // 30 + 30 cm are too wide for 46, and 35 + 30 too deep for 40; 6 + 3 + 6 + 3 cm of height are less than 36.
    assert_eq!((best.manner, best.later, best.racks), (Manner::SideBySide, 0, 2));
    assert_eq!(best.air, Some([180, 180]));
    assert_ne!(best.spots["a/bake"].rack, best.spots["b/bake"].rack);

    // With one rack they cannot: 30 + 30 - 46 = 14 cm are missing at the best turn.
    let sharing = asked(&pair(Cavity { racks: 1, ..oven() }, 5, vec![hour()], vec![hour()]));
    assert_eq!(why_not(&sharing, Manner::SideBySide), &Hindrance::Clash);
    let [Obstacle::Room(crowd)] = &sharing.clashes[0].obstacles[..] else { panic!("{sharing:?}") };
    assert_eq!((crowd.beside, crowd.above), (Some(140), None));
}

#[test]
fn narrow_trays_share_a_rack() {
    let narrow = Mode { pan: Some([220, 390, 60]), ..hour() };
    let sharing = asked(&pair(oven(), 5, vec![narrow.clone()], vec![narrow]));
    assert_eq!((sharing.ways[0].manner, sharing.ways[0].racks), (Manner::SideBySide, 1));
}

#[test]
fn a_tall_roast_costs_a_rack() {
    let roast = |height| Mode { pan: Some([300, 350, height]), weight: Some(5_000), ..hour() };
    // 24 + 3 + 6 + 3 = 36 cm: just so.
    let sharing = asked(&pair(oven(), 5, vec![roast(240)], vec![hour()]));
    assert_eq!((sharing.ways[0].manner, sharing.ways[0].racks), (Manner::SideBySide, 2));
    // A centimetre more takes the place of the other rack.
    let sharing = asked(&pair(oven(), 5, vec![roast(250)], vec![hour()]));
    let [Obstacle::Room(crowd)] = &sharing.clashes[0].obstacles[..] else { panic!("{sharing:?}") };
    assert_eq!((crowd.beside, crowd.above), (Some(140), Some(10)));
    assert_eq!(crowd.pans, [[300, 350, 250], [300, 350, 60]]);
    // Within five minutes of each other, neither may go first: the second's hour is 55 minutes too long.
    let apart = Hindrance::Minutes { course: "table".to_owned(), minutes: 55 };
    assert_eq!(why_not(&sharing, Manner::SideBySide), &Hindrance::Clash);
    assert_eq!(why_not(&sharing, Manner::InTurn), &apart);
    assert!(sharing.ways.is_empty());
    // Within an hour of each other it goes in turn, an hour later than alone.
    let sharing = asked(&pair(oven(), 60, vec![roast(250)], vec![hour()]));
    assert_eq!((sharing.ways[0].manner, sharing.ways[0].later), (Manner::InTurn, 60));
    assert!(sharing.ways[0].spots.is_empty());
}

/// "In turn" is said of dishes: the two trays of one of them go in together, and the other dish waits for an hour, not for two.
#[test]
fn trays_of_one_dish_take_their_turn_together() {
    let hot = Mode { t: Some([220, 220]), ..hour() };
    let steps = vec![
        step("a", "bake", vec![hour()]),
        Step { id: "a/bake-2".to_owned(), ..step("a", "bake", vec![hour()]) },
        step("b", "bake", vec![hot]),
    ];
    let sharing = asked(&evening(oven(), 80, steps, Vec::new()));
    let best = &sharing.ways[0];
    // Then 40 degrees hotter: less than 20 minutes.
    assert!(best.manner == Manner::InTurn && (60..80).contains(&best.later), "{best:?}");
    assert_eq!(best.plan.steps["a/bake"].start, best.plan.steps["a/bake-2"].start);
    assert_eq!(why_not(&sharing, Manner::SideBySide), &Hindrance::Clash);
}

#[test]
fn a_low_and_a_hot_roast_with_and_without_a_resting_gap() {
    let low = Mode { t: Some([150, 150]), ..hour() };
    let hot = Mode { t: Some([200, 200]), min: 30, max: 30, ..hour() };
    let problem = |rest: Mode| {
        let steps = vec![
            step("a", "roast", vec![low.clone()]),
            step("a", "rest", vec![rest]),
            step("b", "bake", vec![hot.clone()]),
        ];
        evening(oven(), 5, steps, vec![link("a/roast", "a/rest", Some(0))])
    };
    // 150 to 200 C are 50 degrees up: 5 + ceil(500 / 120) = 10 minutes, then half an hour: 40 minutes of rest take it all.
    let sharing = asked(&problem(counter(20, 45)));
    let best = &sharing.ways[0];
    assert_eq!(best.manner, Manner::WhileResting);
    // First heat to 150 C: 5 + ceil(1300 / 120) = 16; 60 there, 10, 30: 116; alone the roast is served after 16 + 60 + 20.
    assert_eq!((best.later, best.visits[1].start - best.visits[0].end), (116 - 96, 10));
    assert_eq!(sharing.clashes[0].obstacles, [Obstacle::Windows { degrees: 50 }]);
    // A rest of at most 20 minutes, and 5 between the dishes: 40 - 25 = 15 minutes are missing.
    let sharing = asked(&problem(counter(20, 20)));
    assert_eq!(why_not(&sharing, Manner::InTurn), &Hindrance::Minutes { course: "table".to_owned(), minutes: 15 });
}

#[test]
fn wet_and_dry_part_and_so_do_kinds_of_heat_and_too_much_weight() {
    let clash = |a: Mode, b: Mode| {
        let sharing = asked(&pair(oven(), 5, vec![a], vec![b]));
        assert_eq!(why_not(&sharing, Manner::SideBySide), &Hindrance::Clash);
        sharing.clashes[0].obstacles.clone()
    };
    assert_eq!(clash(Mode { wet: true, ..hour() }, Mode { dry: true, ..hour() }), [Obstacle::Moist]);
    assert_eq!(
        clash(hour(), Mode { heat: Some(Heat::Static), ..hour() }),
        [Obstacle::Heat { first: Heat::Fan, second: Heat::Static }]
    );
    let heavy = Mode { weight: Some(11_000), ..hour() };
    assert_eq!(clash(heavy.clone(), heavy), [Obstacle::Weight { grams: 2_000 }]);
}

#[test]
fn a_common_temperature_is_reached_because_the_minutes_stretch() {
    // Gently for 95 minutes or hot for 70; the other only gently.
    let way = |t, min| Mode { t: Some([t, t]), min, max: min, ..hour() };
    let either = vec![way(150, 95), way(200, 70)];
    let sharing = asked(&pair(oven(), 5, either, vec![way(150, 90)]));
    let best = &sharing.ways[0];
    assert_eq!((best.manner, best.air), (Manner::SideBySide, Some([150, 150])));
    let a = best.visits.iter().find(|visit| visit.dish == "a").expect("a is in the oven");
    // Alone the heat to 200 C (5 + 15 minutes) and 70 are less than that to 150 C (5 + 11) and 95.
    assert_eq!((a.end - a.start, a.alone), (95, 70));
    // 16 + 95 against the slower one alone, 16 + 90.
    assert_eq!(best.later, 5);
    // Without the gentle way there is none.
    let sharing = asked(&pair(oven(), 5, vec![way(200, 70)], vec![way(150, 90)]));
    assert!(sharing.ways.is_empty());
    assert_eq!(sharing.clashes[0].obstacles, [Obstacle::Windows { degrees: 50 }]);
}

#[test]
fn what_keeps_cold_is_made_the_day_before() {
    // Both need the oven's whole room; "a" is chilled for up to a day and reheated elsewhere.
    let cold = Wait { rate: 0, soft: None, rate_after: 0 };
    let tall = Mode { pan: Some([450, 390, 300]), ..hour() };
    let steps = vec![
        step("a", "braise", vec![Mode { min: 240, max: 240, ..tall.clone() }]),
        Step { wait: cold, ..step("a", "chill", vec![counter(360, 1_440)]) },
        step("a", "reheat", vec![counter(20, 20)]),
        step("b", "bake", vec![tall]),
    ];
    let links = vec![link("a/braise", "a/chill", Some(30)), Link { wait: cold, ..link("a/chill", "a/reheat", None) }];
    let sharing = asked(&evening(oven(), 5, steps, links));
    let ahead = sharing.ways.iter().find(|way| way.manner == Manner::AcrossDays).expect("the day before will do");
    assert!(ahead.later < 0, "the day itself is shorter: {}", ahead.later);
    // What stays hot cannot: two plain bakes.
    let sharing = asked(&pair(Cavity { racks: 1, ..oven() }, 60, vec![hour()], vec![hour()]));
    assert_ne!(why_not(&sharing, Manner::AcrossDays), &Hindrance::Undecided);
}

#[test]
fn a_dish_that_no_oven_takes_is_named() {
    let problem = pair(oven(), 5, vec![Mode { pan: Some([700, 390, 60]), ..hour() }], vec![hour()]);
    let sharing = asked(&problem);
    let alone = Hindrance::Alone { dishes: vec!["a".to_owned()] };
    assert!(sharing.ways.is_empty() && !sharing.not.is_empty());
    assert!(sharing.not.iter().all(|not| not.because == alone));
}

#[test]
fn any_oven_is_asked_and_the_best_comes_first() {
    let mut problem = pair(Cavity { racks: 1, ..oven() }, 60, vec![hour()], vec![hour()]);
    problem.places.push(Place::Cavity(Cavity { id: "great oven".to_owned(), racks: 3, ..oven() }));
    for step in &mut problem.steps {
        let twin = Mode { place: Some("great oven".to_owned()), ..step.modes[0].clone() };
        step.modes.push(twin);
    }
    let answers = can_share_anywhere(&problem, &["a", "b"], &Limits::default()).expect("the question makes sense");
    let places: Vec<&str> = answers.iter().map(|answer| answer.place.as_str()).collect();
    assert_eq!(places, ["great oven", "oven"]);
    assert_eq!(answers[0].ways[0].manner, Manner::SideBySide);
    assert_eq!(answers[1].ways[0].manner, Manner::InTurn);
}

#[test]
fn a_limit_is_said_and_nonsense_is_refused() {
    let problem = pair(oven(), 5, vec![hour()], vec![hour()]);
    let short = Limits { work: Some(0), ..Limits::default() };
    let sharing = can_share(&problem, &["a", "b"], "oven", &short).expect("the question makes sense");
    // What is said to be complete is so, and what is not known is said not to be.
    let whole = asked(&problem);
    if sharing.complete {
        assert_eq!(sharing, whole);
    } else {
        let doubt = sharing.not.iter().any(|not| not.because == Hindrance::Undecided);
        assert!(doubt || sharing.ways.iter().any(|way| !way.proved), "{sharing:?}");
    }
    for (dishes, place) in [(&["a"][..], "oven"), (&["a", "a"], "oven"), (&["a", "c"], "oven"), (&["a", "b"], "hob")] {
        let refused = can_share(&problem, dishes, place, &Limits::default());
        assert!(matches!(refused, Err(Error::Unknown { .. } | Error::Limit { .. })), "{dishes:?}: {refused:?}");
    }
}
