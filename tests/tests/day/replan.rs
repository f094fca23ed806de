//! Re-planning: facts stay, nothing moves for nothing, and every plan passes the checker with the facts held.

use proptest::prelude::*;
use rangewright::models::check::{Violation, check};
use rangewright::models::compile::{Compiled, compile};
use rangewright::models::day::{Day, Entry, Event, Stage, fold, line, read as read_log};
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::{Crew, Job, What};
use rangewright::models::{examples, read};
use rangewright::replan::{Alarm, Replan, Replanned, replan};
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
        Event::GuestsLate { minutes: 15, only: None, course: None },
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
        // Putting in, taking out and tending are done in passing where it is tight.
        let work = |job: &&Job| job.what.busy() && !matches!(job.what, What::Touch { .. }) && job.until - job.at > 2;
        let own = replan.schedule.jobs.iter().filter(|job| work(job) && job.cooks.contains(&cook));
        let mut later: Vec<[i64; 2]> = own.filter(|job| job.at >= over).map(|job| [job.at, job.until]).collect();
        later.sort_unstable();
        assert!(later.len() > 3, "cook {cook}: {later:?}");
        assert!(later.windows(2).all(|pair| pair[0][1] <= pair[1][0]), "cook {cook}: {later:?}");
    }
}

/// Three minutes more of work are no news for anybody who eats.
#[test]
fn hands_on_steps_that_take_three_minutes_more_make_nothing_late() {
    let (problem, crew, plan) = demo();
    let day_of_the_feast = plan.served.values().min().expect("a course") - 8 * 60;
    for step in &problem.steps {
        let own = &plan.steps[&step.id];
        if step.modes[own.mode].hands == 0 || own.start < day_of_the_feast {
            continue;
        }
        let log = [entry(own.end, Event::Needs { step: step.id.clone(), minutes: 3 })];
        let replan = again(&problem, &plan, &crew, &log, own.end).expect("the evening goes on");
        let late: Vec<i64> = replan.servings.iter().map(|served| served.late()).collect();
        assert!(late.iter().all(|&late| late <= 5), "{} 3 min longer: {late:?}", step.id);
    }
}

/// An oven that is cold with something in it is said, and what is in it is not taken to be done at its time.
#[test]
fn a_cold_oven_is_an_alarm() {
    let (problem, crew, plan) = demo();
    let roast = &plan.steps["stuffed-pork-shoulder/roast"];
    let step = problem.steps.iter().find(|step| step.id == "stuffed-pork-shoulder/roast").expect("the roast");
    let place = step.modes[roast.mode].place.clone().expect("an oven");
    let now = roast.start + 60;
    let log = [entry(now, Event::OvenReads { place: place.clone(), degrees: 20 })];
    let replan = again(&problem, &plan, &crew, &log, now).expect("the evening goes on");
    let cold = replan
        .alarms
        .iter()
        .any(|alarm| matches!(alarm, Alarm::ColdOven { place: own, degrees: 20, .. } if *own == place));
    assert!(cold, "{:?}", replan.alarms);
    assert!(replan.plan.steps["stuffed-pork-shoulder/roast"].end > roast.end);
}

/// What stood in a broken oven needs the minutes that it lost, and no more; and the log is undone line by line.
#[test]
fn a_repaired_oven_goes_on_where_it_stopped() {
    let (problem, _, plan) = demo();
    let id = "stuffed-pork-shoulder/roast";
    let roast = &plan.steps[id];
    let step = problem.steps.iter().find(|step| step.id == id).expect("the roast");
    let place = step.modes[roast.mode].place.clone().expect("an oven");
    let (broke, mended) = (roast.start + 60, roast.start + 90);
    let mut log = vec![
        entry(broke, Event::Broken { place: place.clone(), burners: None }),
        entry(mended, Event::Repaired { place: place.clone() }),
    ];
    let day = fold(&problem, &plan, &log, mended).expect("can be");
    assert!(day.broken.is_empty() && day.broken_since.is_empty());
    assert!(matches!(day.stage(id), Stage::Running { until: Some(until), .. } if until == roast.end + 30), "{day:?}");
    log.push(entry(mended, Event::Undo));
    let undone = fold(&problem, &plan, &log, mended).expect("can be");
    assert_eq!(undone.broken_since.get(&place), Some(&broke));
    log.extend([entry(mended, Event::Undo), entry(mended, Event::Undo)]);
    assert!(fold(&problem, &plan, &log, mended).is_err(), "nothing is left to be undone");
}

/// What is made again is planned again, and then goes as planned unless somebody says otherwise.
#[test]
fn what_burnt_is_made_again_as_the_new_plan_says() {
    let (problem, crew, plan) = demo();
    let (first, last) = ("savoy-cabbage/prep", "savoy-cabbage/boil");
    let now = plan.steps[last].start + 3;
    let log = [entry(now, Event::Burnt { step: last.to_owned() })];
    let replan = again(&problem, &plan, &crew, &log, now).expect("the evening goes on");
    assert_eq!(replan.plan.steps[first].start, now);
    let day = fold(&problem, &replan.plan, &log, now + 5).expect("can be");
    assert!(matches!(day.stage(first), Stage::Running { start, .. } if start == now), "{day:?}");
    let later =
        again(&problem, &replan.plan, &crew.used_to(&replan.schedule), &log, now + 5).expect("the evening goes on");
    assert_eq!(later.plan.served, replan.plan.served);
}

/// A cook who has left has no work from then on, until they are back.
#[test]
fn who_has_left_has_no_work() {
    let (problem, crew, plan) = demo();
    let gone = plan.served.values().min().expect("a course") - 90;
    let name = crew.cooks[1].name.clone();
    let log = [entry(gone, Event::Gone { cook: name.clone() }), entry(gone + 30, Event::Back { cook: name.clone() })];
    let replan = again(&problem, &plan, &crew, &log[..1], gone).expect("the evening goes on");
    let own = |job: &&Job| job.what.busy() && job.at >= gone && job.cooks.contains(&1);
    assert_eq!(replan.schedule.jobs.iter().find(own), None, "{name} has left");
    let day = fold(&problem, &plan, &log, gone + 30).expect("can be");
    assert_eq!(day.away[&name], [[gone, gone + 30]]);
}

fn first_cook(replan: &Replan, step: &str) -> String {
    let job = replan.schedule.jobs.iter().find(|job| job.what.busy() && job.what.step() == Some(step)).expect("a job");
    replan.schedule.cooks[job.cooks[0]].clone()
}

/// A job that was given away stays so, over several plans, without being news to anybody. Not every job can be: the other may
/// have no hand free, and nothing that could be exchanged for it.
#[test]
fn who_swaps_keeps_the_job() {
    let (problem, crew, plan) = demo();
    let given = problem.steps.iter().filter(|step| step.modes[plan.steps[&step.id].mode].hands == 1).find_map(|own| {
        let (step, now) = (own.id.as_str(), plan.steps[&own.id].start - 30);
        let before = again(&problem, &plan, &crew, &[], now)?;
        let other = crew.cooks.iter().find(|cook| cook.name != first_cook(&before, step))?.name.clone();
        let log = [entry(now, Event::Swapped { step: step.to_owned(), cook: other.clone() })];
        let swapped = again(&problem, &plan, &crew, &log, now)?;
        (first_cook(&swapped, step) == other).then_some((step, now, other, log, swapped))
    });
    let (step, now, other, log, swapped) = given.expect("a job that the other can take");
    let used = crew.used_to(&swapped.schedule);
    let later = again(&problem, &swapped.plan, &used, &log, now + 2).expect("the evening goes on");
    assert_eq!((first_cook(&later, step), later.moved), (other, Vec::new()));
}

/// A slower cook's jobs are longer, and as usual once that is over; an oven nobody turned on is an alarm.
#[test]
fn slower_cooks_and_cold_ovens_take_longer() {
    let (problem, crew, plan) = demo();
    let step = "savoy-cabbage/prep";
    let now = plan.steps[step].start - 30;
    let minutes = |replan: &Replan| replan.plan.steps[step].end - replan.plan.steps[step].start;
    let before = again(&problem, &plan, &crew, &[], now).expect("the evening goes on");
    let cook = first_cook(&before, step);
    let mut log = vec![entry(now, Event::Slower { cook: cook.clone(), percent: 50 })];
    let slower = again(&problem, &plan, &crew, &log, now).expect("the evening goes on");
    assert!(minutes(&slower) * 2 >= minutes(&before) * 3, "{} {}", minutes(&slower), minutes(&before));
    log.push(entry(now, Event::Slower { cook, percent: 0 }));
    assert_eq!(again(&problem, &plan, &crew, &log, now).expect("the evening goes on").moved, []);
    let roast = &plan.steps["stuffed-pork-shoulder/roast"];
    let step = problem.steps.iter().find(|step| step.id == "stuffed-pork-shoulder/roast").expect("the roast");
    let place = step.modes[roast.mode].place.clone().expect("an oven");
    let log = [entry(roast.start + 10, Event::NotHeated { place })];
    let replan = again(&problem, &plan, &crew, &log, roast.start + 10).expect("the evening goes on");
    assert!(matches!(replan.alarms[..], [Alarm::ColdOven { degrees: 20, .. }]), "{:?}", replan.alarms);
}

/// Who comes sooner is served sooner where that can be; nothing waits for a few who come later; fewer shorten nothing.
#[test]
fn guests_come_as_they_like() {
    let (problem, crew, plan) = demo();
    let main = problem.courses.iter().max_by_key(|course| course.weight).expect("a course");
    let now = main.serve - 240;
    let served = |event: Event| {
        let replan = again(&problem, &plan, &crew, &[entry(now, event)], now).expect("the evening goes on");
        (replan.plan.served[&main.id], replan.moved.len())
    };
    // Once the roast is in, what is left of it sets how much sooner it can be; before, it goes in sooner.
    let soon = plan.steps["stuffed-pork-shoulder/roast"].start - 40;
    let log = [entry(soon, Event::GuestsEarly { minutes: 25, course: None })];
    let early = again(&problem, &plan, &crew, &log, soon).expect("the evening goes on").plan;
    assert!(early.served[&main.id] <= main.serve - 10, "{:?}", early.served);
    let course = Some(main.id.clone());
    assert_eq!(served(Event::GuestsLate { minutes: 20, only: Some(5), course }), (main.serve, 0));
    assert_eq!(served(Event::FewerGuests { fewer: 4, of: 14 }), (main.serve, 0));
}

/// Lines of one minute are one piece of news, whoever wrote theirs first.
#[test]
fn the_order_of_the_lines_of_a_minute_says_nothing() {
    let (problem, _, plan) = demo();
    let (id, own) = plan.steps.iter().find(|(id, _)| id.ends_with("cabbage/prep")).expect("the cabbage");
    let at = own.start + 5;
    let lines = [
        Event::Started { step: id.clone(), mode: None },
        Event::Finished { step: id.clone() },
        Event::GuestsLate { minutes: 10, only: None, course: None },
        Event::Dropped { dish: "warm-plates".to_owned() },
    ];
    let log = |order: [usize; 4]| order.map(|index| entry(at, lines[index].clone()));
    let first = fold(&problem, &plan, &log([0, 1, 2, 3]), at + 1).expect("can be");
    for order in [[3, 2, 1, 0], [1, 0, 3, 2], [2, 3, 0, 1]] {
        assert_eq!(fold(&problem, &plan, &log(order), at + 1).expect("can be"), first);
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
        5 => Event::GuestsLate { minutes, only: None, course: None },
        6 => Event::OvenReads { place, degrees: 40 * how as i64 },
        7 => Event::Broken { place, burners: (how % 2 == 0).then_some(1) },
        8 => Event::Dropped { dish: problem.dishes[which % problem.dishes.len()].id.clone() },
        9 => Event::Served { course: problem.courses[which % problem.courses.len()].id.clone() },
        10 => Event::Repaired { place },
        11 => Event::Burnt { step },
        12 => Event::Again { step },
        13 => Event::MoreGuests { more: 1 + which as i64, of: 4 },
        14 => Event::Undo,
        15 => Event::NotHeated { place },
        16 => Event::GuestsEarly { minutes, course: None },
        17 => Event::Swapped { step, cook: format!("Cook {}", 1 + how % 3) },
        18 => Event::Slower { cook: format!("Cook {}", 1 + how % 3), percent: 20 * minutes },
        19 => Event::FewerGuests { fewer: 1, of: 4 },
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

    /// The log is the truth: read back from its file, and with what different cooks wrote at the same minute in any order, it
    /// says the same; and what is written for later says nothing yet.
    #[test]
    fn a_log_says_the_same_whoever_wrote_first(
        problem in random::problem(Size::MEDIUM),
        picked in prop::collection::vec((0..6_i64, [0..11_usize, 0..6, 0..8]), 0..8),
        now in 0..8_i64,
    ) {
        let limits = Limits { work: Some(500), ..Limits::default() };
        let Outcome::Planned(planned) = solve(&problem, &limits).expect("no faults") else { return Ok(()) };
        let log = log(&problem, &planned.plan, &picked);
        let day = fold(&problem, &planned.plan, &log, now).ok();
        let mut file = Vec::new();
        for entry in &log {
            file.extend(line(&file, entry));
        }
        let back = read_log(&file).expect("as it was written").entries;
        prop_assert_eq!(&fold(&problem, &planned.plan, &back, now).ok(), &day);
        let mut turned = log.clone();
        turned.chunk_by_mut(|one, other| one.at == other.at).for_each(<[Entry]>::reverse);
        prop_assert_eq!(&fold(&problem, &planned.plan, &turned, now).ok(), &day);
        let known: Vec<Entry> = log.iter().filter(|entry| entry.at <= now).cloned().collect();
        prop_assert_eq!(&fold(&problem, &planned.plan, &known, now).ok(), &day);
    }

    /// Whatever is logged, the evening goes on: by the rules from now on, with the facts held, and if nothing is amiss as
    /// it was.
    #[test]
    fn random_evenings_go_on(
        problem in random::problem(Size::MEDIUM),
        picked in prop::collection::vec((0..20_i64, [0..21_usize, 0..6, 0..8]), 0..5),
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
