//! Re-planning: facts stay, nothing moves for nothing, and every plan passes the checker with the facts held.

use proptest::prelude::*;
use rangewright::models::check::{Violation, check};
use rangewright::models::compile::{Compiled, compile};
use rangewright::models::day::{Day, Entry, Event, Stage, fold};
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::{Crew, Job};
use rangewright::models::{examples, read};
use rangewright::replan::{Replan, Replanned, replan};
use rangewright::{Limits, Outcome, solve};
use rangewright_tests::random::{self, Size};

/// Enough for a fair plan, in a moment.
const WORK: u64 = 6_000;

fn limits() -> Limits<'static> {
    Limits { work: Some(WORK), ..Limits::default() }
}

fn planned(problem: &Problem) -> Plan {
    match solve(problem, &limits()).expect("no faults") {
        Outcome::Planned(planned) => planned.plan,
        other => panic!("no plan: {other:?}"),
    }
}

fn demo() -> (Problem, Crew, Plan) {
    let demo = examples::demo();
    let feast = read::feast(demo.menu, demo.menu_name, |name| demo.kitchen_text(name)).expect("no faults");
    let Compiled { problem, labels } = compile(&feast).expect("no faults");
    let plan = planned(&problem);
    (problem, Crew::named(&labels), plan)
}

/// Re-plans, and looks at whatever must hold of every answer.
fn again(problem: &Problem, plan: &Plan, crew: &Crew, log: &[Entry], now: i64) -> Option<Box<Replan>> {
    let day = fold(problem, plan, log, now).unwrap_or_else(|faults| panic!("{now}: {faults:?}"));
    let replan = match replan(problem, plan, &day, crew, &limits()).unwrap_or_else(|error| panic!("{now}: {error}")) {
        Replanned::Planned(replan) => replan,
        Replanned::Over => return None,
        other => panic!("{now}: {other:?}"),
    };
    check(&replan.rest, &replan.rest_plan).unwrap_or_else(|broken| panic!("{now}: {broken:?}"));
    facts_stay(&day, &replan);
    Some(replan)
}

fn facts_stay(day: &Day, replan: &Replan) {
    let busy = |job: &&Job| job.what.busy();
    let undone = replan.schedule.jobs.iter().filter(busy).find(|job| job.cooks.is_empty());
    assert_eq!(undone, None, "work that is on nobody's sheet");
    for (step, own) in &replan.plan.steps {
        match day.stage(step) {
            Stage::Done { mode, start, end, .. } => {
                assert_eq!((own.mode, own.start, own.end), (mode, start, end), "{step} is done and has moved");
            }
            Stage::Running { start, .. } => assert!(own.start == start || own.start >= day.now, "{step} runs"),
            Stage::Waiting => assert!(own.start >= day.now, "{step} would have to be started in the past"),
        }
    }
}

#[test]
fn with_nothing_amiss_nothing_changes() {
    let (problem, crew, plan) = demo();
    let minutes: Vec<i64> = plan.steps.values().flat_map(|own| [own.start, own.end]).collect();
    let (first, last) = (minutes.iter().min().expect("steps"), minutes.iter().max().expect("steps"));
    for now in (first - 5..last + 20).step_by(3) {
        let Some(replan) = again(&problem, &plan, &crew, &[], now) else { continue };
        assert_eq!(replan.moved, [], "at {now}");
        assert_eq!(replan.broken, [], "at {now}");
        assert!(replan.proved && replan.rescues.is_empty(), "at {now}");
    }
}

fn entry(at: i64, event: Event) -> Entry {
    Entry { at, event }
}

/// The demo's evening with something going wrong at some minute, one thing at a time, and then all of it.
#[test]
fn whatever_happens_the_plan_of_the_rest_keeps_to_the_rules() {
    let (problem, crew, plan) = demo();
    let roast = "stuffed-pork-shoulder/roast".to_owned();
    let out = plan.steps[&roast].end;
    let now = out - 30;
    let events = [
        Event::Needs { step: roast, minutes: 50 },
        Event::Broken { place: "large-burner".to_owned(), burners: Some(1) },
        Event::GuestsLate { minutes: 15, course: None },
        Event::Dropped { dish: "warm-plates".to_owned() },
        Event::OvenReads { place: "big-oven".to_owned(), degrees: 120 },
    ];
    for event in &events {
        let replan = again(&problem, &plan, &crew, &[entry(now, event.clone())], now).expect("the evening goes on");
        assert_ne!(replan.servings, [], "{event:?}");
    }
    let log: Vec<Entry> = events.into_iter().map(|event| entry(now, event)).collect();
    let replan = again(&problem, &plan, &crew, &log, now).expect("the evening goes on");
    // The new plan is the one that is handed out; with nothing new it stays, or settles within three minutes where the search
    // stopped at its limit.
    let mut plan = replan.plan;
    let settled = (1..=3).any(|minutes| {
        let once_more = again(&problem, &plan, &crew, &log, now + minutes).expect("the evening goes on");
        plan = once_more.plan;
        once_more.moved.is_empty()
    });
    assert!(settled);
}

/// Three things were begun at once by two cooks. That is past, and no reason for sheets without work.
#[test]
fn hands_that_were_short_for_a_moment_leave_the_rest_shared_out() {
    let (problem, crew, plan) = demo();
    let preps = ["squash-soup/prep", "beetroot-in-foil/prep", "savoy-cabbage/prep"];
    let at = preps.iter().map(|step| plan.steps[*step].start).min().expect("three");
    let log = preps.map(|step| entry(at, Event::Started { step: step.to_owned(), mode: None }));
    let replan = again(&problem, &plan, &crew, &log, at).expect("the evening goes on");
    assert!(replan.broken.iter().any(|broken| matches!(broken, Violation::Hands { .. })), "{:?}", replan.broken);
    let over = replan.plan.steps[preps[0]].end;
    for cook in 0..crew.cooks.len() {
        let own = replan.schedule.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&cook));
        let mut later: Vec<[i64; 2]> = own.filter(|job| job.at >= over).map(|job| [job.at, job.until]).collect();
        later.sort_unstable();
        assert!(later.len() > 3, "cook {cook}: {later:?}");
        assert!(later.windows(2).all(|pair| pair[0][1] <= pair[1][0]), "cook {cook}: {later:?}");
    }
}

/// What may be logged of a random problem, picked by numbers.
fn event(problem: &Problem, [kind, which, how]: [usize; 3]) -> Event {
    let step = problem.steps[which % problem.steps.len()].id.clone();
    let place = problem.places[which % problem.places.len()].id().to_owned();
    let minutes = (how % 7) as i64;
    match kind {
        0 => Event::Started { step, mode: None },
        1 => Event::PutIn { step, place: None },
        2 => Event::Finished { step },
        3 => Event::TakenOut { step },
        4 => Event::Needs { step, minutes },
        5 => Event::GuestsLate { minutes, course: None },
        6 => Event::OvenReads { place, degrees: 40 * how as i64 },
        7 => Event::Broken { place, burners: (how % 2 == 0).then_some(1) },
        8 => Event::Dropped { dish: problem.dishes[which % problem.dishes.len()].id.clone() },
        9 => Event::Served { course: problem.courses[which % problem.courses.len()].id.clone() },
        _ => Event::Mistaken { step },
    }
}

/// The entries that can be true, in order of time.
fn log(problem: &Problem, plan: &Plan, picked: &[(i64, [usize; 3])]) -> Vec<Entry> {
    let mut picked = picked.to_vec();
    picked.sort_by_key(|(at, _)| *at);
    let mut log = Vec::new();
    for (at, numbers) in picked {
        log.push(Entry { at, event: event(problem, numbers) });
        if fold(problem, plan, &log, at).is_err() {
            log.pop();
        }
    }
    log
}

fn cases(default: u32) -> u32 {
    std::env::var("PROPTEST_CASES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(default)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(200), failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is logged, the evening goes on: by the rules from now on, with the facts held, and if nothing is amiss as
    /// it was.
    #[test]
    fn random_evenings_go_on(
        problem in random::problem(Size::MEDIUM),
        picked in prop::collection::vec((0..20_i64, [0..11_usize, 0..6, 0..8]), 0..5),
        now in 0..24_i64,
    ) {
        let limits = Limits { work: Some(2_000), ..Limits::default() };
        let Outcome::Planned(planned) = solve(&problem, &limits).expect("no faults") else { return Ok(()) };
        let (plan, crew) = (planned.plan, Crew::of(&problem));
        for log in [Vec::new(), log(&problem, &plan, &picked)] {
            let day = fold(&problem, &plan, &log, now).expect("only what can be true");
            let needed = day.broken.is_empty();
            match replan(&problem, &plan, &day, &crew, &limits).expect("no defect") {
                Replanned::Over => {}
                Replanned::Hopeless => prop_assert!(!needed, "hopeless, and nothing is broken: {log:?}"),
                Replanned::Undecided => prop_assert!(false, "undecided: {log:?}"),
                Replanned::Planned(replan) => {
                    let rules = check(&replan.rest, &replan.rest_plan);
                    prop_assert!(rules.is_ok(), "{log:?}: {rules:?}");
                    facts_stay(&day, &replan);
                    if log.iter().all(|entry| entry.at > now) {
                        prop_assert_eq!(&replan.moved, &[]);
                        prop_assert_eq!(&replan.broken, &[]);
                    }
                }
            }
        }
    }
}
