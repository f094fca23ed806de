//! How soon, why this way, what would help: cases worked by hand, and what must hold of every answer.

use proptest::prelude::*;
use rangewright::Limits;
use rangewright::ask::{Because, Difference, Force, HowSoon, Soonest, at_once, chain, how_soon, why_this_way};
use rangewright::change::{Change, Found, Scarce, changed, usual_changes, what_would_help};
use rangewright::models::check::check;
use rangewright::models::problem::{Mode, Problem};
use rangewright::{Error, Outcome, solve};
use rangewright_tests::data;
use rangewright_tests::evening::{counter, evening, hour, link, oven, pair, step};
use rangewright_tests::random::{Size, problem};

fn soon(problem: &Problem, now: Option<i64>) -> Soonest {
    match how_soon(problem, now, &Limits::default()).expect("the question makes sense") {
        HowSoon::At(soonest) => {
            check(&at_once(problem, now), &soonest.plan).expect("a plan");
            assert!(soonest.proved);
            soonest
        }
        other => panic!("{other:?}"),
    }
}

fn hands(minutes: i64) -> Mode {
    Mode { hands: 1, ..counter(minutes, minutes) }
}

#[test]
fn the_oven_decides_or_the_hands_do() {
    // Prepared, baked for an hour, carved. The oven is hot after 5 + ceil(1600 / 120) = 19 minutes.
    let day = |prep| {
        let steps = vec![
            step("a", "prep", vec![hands(prep)]),
            step("a", "bake", vec![hour()]),
            step("a", "carve", vec![hands(5)]),
        ];
        let links = vec![link("a/prep", "a/bake", None), link("a/bake", "a/carve", None)];
        evening(oven(), 5, steps, links)
    };
    let told = |soonest: &Soonest| -> Vec<(String, Because)> {
        soonest.chain.steps.iter().map(|own| (own.step.clone(), own.because.clone())).collect()
    };
    let follows = |step: &str| Because::Follows { step: step.to_owned() };
    let quick = soon(&day(10), None);
    assert_eq!(quick.plan.served["table"], 600 + 19 + 60 + 5);
    let heat = Because::FirstHeat { place: "oven".to_owned() };
    assert_eq!(told(&quick), [("a/bake".to_owned(), heat), ("a/carve".to_owned(), follows("a/bake"))]);
    let slow = soon(&day(30), None);
    assert_eq!(slow.plan.served["table"], 600 + 30 + 60 + 5);
    assert_eq!(
        told(&slow),
        [
            ("a/prep".to_owned(), Because::Opening),
            ("a/bake".to_owned(), follows("a/prep")),
            ("a/carve".to_owned(), follows("a/bake"))
        ]
    );
    // Begun an hour later, it is served an hour later.
    assert_eq!(soon(&day(30), Some(660)).plan.served["table"], 660 + 30 + 60 + 5);
}

#[test]
fn what_stands_in_the_way_is_named() {
    // Two trays that fill the oven one after the other; and two dishes that one pair of hands dresses.
    let full = || Mode { pan: Some([450, 390, 300]), ..hour() };
    let trays = soon(&pair(oven(), 60, vec![full()], vec![full()]), None);
    assert_eq!(trays.plan.served["table"], 600 + 19 + 120);
    let [first, second] = &trays.chain.steps[..] else { panic!("{:?}", trays.chain) };
    assert_eq!(second.because, Because::Place { place: "oven".to_owned(), step: first.step.clone() });
    let dressed = soon(&pair(oven(), 60, vec![hands(20)], vec![hands(20)]), None);
    let [first, second] = &dressed.chain.steps[..] else { panic!("{:?}", dressed.chain) };
    assert_eq!((dressed.plan.served["table"], &first.because), (640, &Because::Opening));
    assert_eq!(second.because, Because::Hands { step: first.step.clone() });
}

#[test]
fn what_may_not_wait_begins_late() {
    // "a" may wait 5 minutes for its last step, whose hands are busy with "b" until 660.
    let steps = vec![
        step("a", "boil", vec![counter(10, 10)]),
        step("a", "dress", vec![hands(10)]),
        step("b", "knead", vec![hands(60)]),
    ];
    let soonest = soon(&evening(oven(), 60, steps, vec![link("a/boil", "a/dress", Some(5))]), None);
    let steps: Vec<&str> = soonest.chain.steps.iter().map(|own| own.step.as_str()).collect();
    assert_eq!((soonest.plan.served["table"], steps), (670, vec!["b/knead", "a/dress"]));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, max_global_rejects: 6_000, ..ProptestConfig::default() })]

    /// Each step of a chain names the one before it, and they meet in time.
    #[test]
    fn a_chain_hangs_together(problem in problem(Size::MEDIUM)) {
        let limits = Limits { work: Some(2_000_000), ..Limits::default() };
        let Ok(HowSoon::At(soonest)) = how_soon(&problem, None, &limits) else {
            return Err(TestCaseError::reject("impossible"));
        };
        let chain = chain(&at_once(&problem, None), &soonest.plan);
        prop_assert_eq!(&chain, &soonest.chain);
        prop_assert!(!chain.steps.is_empty());
        for pair in chain.steps.windows(2) {
            let named = match &pair[1].because {
                Because::Follows { step } | Because::Hands { step } | Because::Waits { step } => step,
                Because::Place { step, .. } | Because::Pool { step, .. } => step,
                // A step that is held by its course follows the one that decides when that is served.
                Because::Together { course } => {
                    let course = problem.courses.iter().find(|own| own.id == *course).expect("a course");
                    prop_assert!(soonest.plan.served[&course.id] >= pair[0].end);
                    prop_assert!(course.sinks.iter().any(|sink| sink.step == pair[1].step));
                    continue;
                }
                other => return Err(TestCaseError::fail(format!("{other:?} in the middle of {chain:?}"))),
            };
            prop_assert_eq!(named, &pair[0].step);
        }
        let rooted = matches!(
            chain.steps[0].because,
            Because::Opening | Because::Shift | Because::Earliest | Because::FirstHeat { .. } | Because::Slack
        );
        prop_assert!(rooted, "{:?}", chain.steps[0]);
        // A plan that cannot be sooner is held by something that cannot move.
        let counts = problem.courses.iter().all(|course| course.weight > 0 && !course.sinks.is_empty());
        prop_assert!(!soonest.proved || !counts || chain.steps[0].because != Because::Slack, "{:?}", chain);
    }

    /// Whatever is forced, a plan that is proved best stays best.
    #[test]
    fn no_alternative_beats_a_proved_plan(problem in problem(Size::SMALL)) {
        let limits = Limits { work: Some(2_000_000), ..Limits::default() };
        let Ok(Outcome::Planned(planned)) = solve(&problem, &limits) else {
            return Err(TestCaseError::reject("impossible"));
        };
        for step in &problem.steps {
            let alternatives = why_this_way(&problem, &planned.plan, &step.id, &limits);
            for alternative in alternatives.map_err(|error| TestCaseError::fail(error.to_string()))? {
                match &alternative.difference {
                    Difference::Costs { more, proved, .. } => prop_assert!(*proved && *more >= [0; 3], "{alternative:?}"),
                    Difference::Impossible => {}
                    Difference::Undecided => prop_assert!(false, "no limit was near: {alternative:?}"),
                }
            }
        }
    }

    /// More of anything does no harm, and what is measured is so.
    #[test]
    fn more_does_no_harm(problem in problem(Size::SMALL)) {
        let limits = Limits { work: Some(2_000_000), ..Limits::default() };
        let help = what_would_help(&problem, &usual_changes(&problem), &limits);
        let help = help.map_err(|error| TestCaseError::fail(error.to_string()))?;
        for benefit in &help.benefits {
            prop_assert_eq!(changed(&problem, std::slice::from_ref(&benefit.change)).faults(), []);
            let more = matches!(benefit.change, Change::MoreHands { .. } | Change::Second { .. } | Change::Drawer);
            if let (true, Some(gain)) = (more, benefit.gain) {
                prop_assert!(gain[..3] >= [0; 3][..], "{benefit:?}");
            }
            prop_assert!(!(more && matches!(help.before, Found::Plan(_)) && benefit.after == Found::Impossible));
        }
    }
}

#[test]
fn the_other_temperature_costs_what_it_says() {
    // 150 C for 95 minutes at a cost of 7, or 200 C for 70; alone there is all the time.
    let way = |t, min, cost| Mode { t: Some([t, t]), min, max: min, cost, ..hour() };
    let problem = evening(oven(), 60, vec![step("a", "bake", vec![way(150, 95, 7), way(200, 70, 0)])], Vec::new());
    let Ok(Outcome::Planned(planned)) = solve(&problem, &Limits::default()) else { panic!("there is a plan") };
    let alternatives = why_this_way(&problem, &planned.plan, "a/bake", &Limits::default()).expect("it makes sense");
    let of = |wanted: &dyn Fn(&Force) -> bool| {
        let found = alternatives.iter().find(|alternative| wanted(&alternative.force));
        found.unwrap_or_else(|| panic!("{alternatives:?}")).difference.clone()
    };
    let costs =
        |more: [i64; 3]| Difference::Costs { more, later: Default::default(), beside: Vec::new(), proved: true };
    // 95 - 70 = 25 more hot minutes and 7 in waiting; ten minutes sooner the dish waits ten minutes.
    assert_eq!(of(&|force| matches!(force, Force::Mode { mode: 0, .. })), costs([0, 7, 25]));
    assert_eq!(of(&|force| matches!(force, Force::EndBy { .. })), costs([0, 10, 0]));
    let later = [("table".to_owned(), 10)].into();
    assert_eq!(
        of(&|force| matches!(force, Force::StartFrom { .. })),
        Difference::Costs { more: [10, 0, 0], later, beside: Vec::new(), proved: true }
    );
    let unknown = why_this_way(&problem, &planned.plan, "no such step", &Limits::default());
    assert!(matches!(unknown, Err(Error::Unknown { .. })), "{unknown:?}");
}

#[test]
fn a_second_oven_is_worth_the_hour_it_saves() {
    // Two trays fill the oven one after the other, within an hour of each other; served five minutes after the second.
    let full = || Mode { pan: Some([450, 390, 300]), ..hour() };
    let mut problem = pair(oven(), 60, vec![full()], vec![full()]);
    problem.courses[0].serve = 600;
    problem.courses[0].max_slip = 300;
    let changes = usual_changes(&problem);
    assert!(changes.contains(&Change::MoreHands { hands: 1 }) && changes.contains(&Change::Drawer));
    let help = what_would_help(&problem, &changes, &Limits::default()).expect("it makes sense");
    let Found::Plan(before) = &help.before else { panic!("{help:?}") };
    assert_eq!((before.lateness, before.waiting, before.slips["table"]), (139, 60, 139));
    let oven = Scarce::Place { place: "oven".to_owned() };
    assert_eq!(help.bottleneck, Some(oven.clone()));
    let busy = before.busy.iter().find(|busy| busy.what == oven).expect("the oven is busy");
    assert_eq!((busy.stretches.as_slice(), busy.minutes), (&[[619, 739]][..], 120));
    // The second oven heats beside the first: both are done after 19 + 60 minutes.
    assert_eq!(help.benefits[0].change, Change::Second { place: "oven".to_owned() });
    assert_eq!(help.benefits[0].gain, Some([60, 60, 0, 0]));
    assert!(help.benefits[1..].iter().all(|benefit| benefit.gain == Some([0; 4])), "{help:?}");
}

#[test]
fn an_impossible_evening_is_helped_by_what_makes_it_possible() {
    let problem: Problem = data::json("kitchens/instances/nohours-7.json");
    let limits = Limits { work: Some(20_000), ..Limits::default() };
    let place = problem.places.iter().find(|place| place.id() == "ovenA").expect("an oven").id().to_owned();
    let changes = [Change::MoreHands { hands: 1 }, Change::Second { place: place.clone() }];
    let help = what_would_help(&problem, &changes, &limits).expect("it makes sense");
    assert_eq!(help.before, Found::Impossible);
    assert!(matches!(help.benefits[0].after, Found::Plan(_)) && help.benefits[0].change == changes[1]);
    assert_eq!((&help.benefits[1].after, help.bottleneck), (&Found::Impossible, Some(Scarce::Place { place })));
}

/// Who thaws for days needs more than the three days that are looked at otherwise.
#[test]
fn a_menu_that_begins_days_ahead_is_served_at_some_time() {
    use rangewright::models::{compile::compile, examples, read};
    let larder = examples::ALL.iter().find(|own| own.menu_name.contains("larder")).expect("the example");
    let feast = read::feast(larder.menu, larder.menu_name, |name| larder.kitchen_text(name)).expect("no faults");
    let problem = compile(&feast).expect("no faults").problem;
    let limits = Limits { work: Some(20_000), ..Limits::default() };
    let soon = how_soon(&problem, None, &limits).expect("no faults");
    assert!(matches!(soon, HowSoon::At(_)), "{soon:?}");
}
