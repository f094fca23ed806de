//! The log of the day: cut off anywhere, added to afterwards, spoilt by hand; and what it makes of a plan.

use proptest::prelude::*;
use rangewright::models::compile::compile;
use rangewright::models::cook::roast::{Oven, Roast, forecast};
use rangewright::models::cook::{Cut, Meat};
use rangewright::models::day::{Entry, Event, Reading, Stage, fold, left, line, read};
use rangewright::models::plan::{Plan, PlannedStep, Status};
use rangewright::models::problem::{Heat, Link, Problem};
use rangewright::models::{examples, read as menus};
use rangewright::{Limits, Outcome, solve};
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};
use rangewright_tests::evening::{counter, evening, link, oven, step};

fn entry() -> impl Strategy<Value = Entry> {
    let name = "[a-zé\"\\\\ /]{0,12}";
    let event = prop_oneof![
        (name, prop::option::of(0..9_usize)).prop_map(|(step, mode)| Event::Started { step, mode }),
        name.prop_map(|step| Event::TakenOut { step }),
        (name, 0..90_i64, prop::option::of(40..90_i64)).prop_map(|(step, core, target)| Event::Probe {
            step,
            core,
            target,
            from: None
        }),
        (name, 0..300_i64).prop_map(|(place, degrees)| Event::OvenReads { place, degrees }),
        (0..60_i64, prop::option::of(name)).prop_map(|(minutes, course)| Event::GuestsLate {
            minutes,
            only: None,
            course
        }),
        (name, prop::option::of(1..3_i64)).prop_map(|(place, burners)| Event::Broken { place, burners }),
    ];
    (0..5_000_i64, event).prop_map(|(at, event)| Entry { at, event })
}

fn written(entries: &[Entry]) -> Vec<u8> {
    let mut file = Vec::new();
    for entry in entries {
        let bytes = line(&file, entry);
        file.extend(bytes);
    }
    file
}

proptest! {
    #[test]
    fn a_log_cut_off_anywhere_is_read_up_to_the_last_whole_entry(entries in prop::collection::vec(entry(), 1..6), more in entry()) {
        let file = written(&entries);
        prop_assert_eq!(&read(&file).expect("whole").entries, &entries);
        for cut in 0..=file.len() {
            let mut torn = file[..cut].to_vec();
            // An entry is whole once its last brace is there, with or without the end of its line.
            let ends = file.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at);
            let whole = ends.filter(|end| *end <= cut).count();
            let log = read(&torn).expect("torn is not spoilt");
            prop_assert_eq!(&log.entries[..], &entries[..whole]);
            let complete = torn.is_empty() || torn.ends_with(b"\n") || torn.ends_with(b"}") && log.torn.is_empty();
            prop_assert_eq!(log.torn.is_empty(), complete, "the warning, cut at {}", cut);
            // What is added afterwards is read, and nothing half-written comes to life.
            let added = line(&torn, &more);
            torn.extend(added);
            let log = read(&torn).expect("sound again");
            let expected: Vec<Entry> = entries[..whole].iter().chain([&more]).cloned().collect();
            prop_assert_eq!(log.entries, expected);
        }
    }
}

#[test]
fn a_spoilt_line_is_named_and_not_guessed_at() {
    let file = b"{\"at\": 5, \"event\": \"finished\", \"step\": \"a\"}\nwas here\n{\"at\": 5, \"event\": \"sang\"}\n";
    let faults = read(file).expect_err("two bad lines");
    assert_eq!(faults.iter().map(|fault| fault.line).collect::<Vec<_>>(), [2, 3]);
    assert!(faults[1].to_string().contains("sang"), "{}", faults[1]);
}

fn supper() -> (Problem, Plan) {
    let supper = examples::ALL[1];
    let feast = menus::feast(supper.menu, supper.menu_name, |name| supper.kitchen_text(name)).expect("a menu");
    let problem = compile(&feast).expect("no faults").problem;
    let limits = Limits { work: Some(20_000), ..Limits::default() };
    let Outcome::Planned(planned) = solve(&problem, &limits).expect("no faults") else { panic!("no plan") };
    (problem, planned.plan)
}

fn of_kind<'a>(problem: &'a Problem, kind: &str) -> &'a str {
    &problem.steps.iter().find(|step| step.kind == kind).expect("there is one").id
}

#[test]
fn silence_means_as_planned_and_one_delay_holds_up_what_follows() {
    let (problem, plan) = supper();
    let (roast, rest) = (of_kind(&problem, "roast"), of_kind(&problem, "rest"));
    let (out, rested) = (plan.steps[roast].end, plan.steps[rest].end);
    let day = fold(&problem, &plan, &[], out + 1).expect("nothing is wrong");
    assert!(matches!(day.stage(roast), Stage::Done { logged: false, .. }));
    assert!(matches!(day.stage(rest), Stage::Running { logged: false, .. }));
    let event = Event::Needs { step: roast.to_owned(), minutes: 20 };
    let log = [Entry { at: out - 5, event }];
    let day = fold(&problem, &plan, &log, rested).expect("nothing is wrong");
    assert!(matches!(day.stage(roast), Stage::Running { until: Some(until), .. } if until == out + 15));
    assert_eq!(day.stage(rest), Stage::Waiting);
    // What is logged for later has not happened yet.
    let early = fold(&problem, &plan, &log, out - 6).expect("nothing is wrong");
    assert!(matches!(early.stage(roast), Stage::Running { until: None, .. }));
}

/// The roasts of the cooking models, which solve the conduction of heat, are asked what the probe shows on the way; from that
/// alone the rule of thumb for a reading has to find the minutes that are left.
#[test]
fn a_reading_on_the_way_says_what_the_cooking_model_says() {
    let mut asked = 0;
    for (meat, cut, grams, target) in [
        (Meat::Pork, Cut::Loin, 2_000.0, 65.0),
        (Meat::Lamb, Cut::Leg, 2_400.0, 60.0),
        (Meat::Pork, Cut::Shoulder, 4_000.0, 72.0),
    ] {
        let roast = Roast { thickness_mm: Some(110.0), start_c: 5.0, ..Roast::of(meat, cut, grams, target) };
        let forecast = forecast(&roast, &Oven::new(Heat::Static, 150, 190)).expect("it works");
        for way in &forecast.ways {
            let target = way.long_end_c.round() as i64;
            for probe in way.probes.iter().filter(|probe| probe.minute < way.minutes) {
                let reading = Reading {
                    minute: probe.minute,
                    core: probe.core_c.round() as i64,
                    from: 5,
                    target,
                    air: way.oven_c,
                    planned: way.minutes,
                };
                let Some(left) = left(&reading) else { continue };
                let out = (probe.minute + left.minutes - way.minutes).abs();
                assert!(
                    out * 8 <= way.minutes,
                    "{cut:?} at {} C, {} min: {reading:?} {left:?}",
                    way.oven_c,
                    way.minutes
                );
                asked += 1;
            }
        }
    }
    assert!(asked > 10, "{asked}");
}

/// Gravy goes on 10 minutes before the roast is out; the roast goes in at 700 for an hour, after its prep.
fn overlapping() -> (Problem, Plan) {
    let steps = vec![
        step("a", "prep", vec![counter(20, 20)]),
        step("a", "roast", vec![counter(60, 60)]),
        step("b", "gravy", vec![counter(15, 90)]),
    ];
    let links = vec![link("a/prep", "a/roast", None), Link { min: -70, ..link("a/roast", "b/gravy", None) }];
    let problem = evening(oven(), 60, steps, links);
    let at = |start, end| PlannedStep::new(0, start, end);
    let steps = [("a/prep", at(680, 700)), ("a/roast", at(700, 760)), ("b/gravy", at(690, 770))];
    let plan = Plan {
        steps: steps.map(|(id, own)| (id.to_owned(), own)).into(),
        served: [("table".to_owned(), 1_000)].into(),
        hands: Vec::new(),
        lateness: 0,
        waiting: 0,
        hot: 0,
        bounds: [0; 3],
        status: Status::Feasible,
        made_for: None,
    };
    (problem, plan)
}

#[test]
fn a_step_planned_to_start_before_the_one_it_follows_is_not_held_up_by_it() {
    let (problem, plan) = overlapping();
    let stage = |log: &[Entry], now| fold(&problem, &plan, log, now).expect("nothing is wrong").stage("b/gravy");
    assert!(matches!(stage(&[], 695), Stage::Running { start: 690, .. }));
    // The roast goes in later: whether the gravy went on all the same, nobody knows.
    let late = [Entry { at: 694, event: Event::Needs { step: "a/prep".to_owned(), minutes: 20 } }];
    assert_eq!(stage(&late, 695), Stage::Waiting);
    let mistaken = [Entry { at: 694, event: Event::Mistaken { step: "a/roast".to_owned() } }];
    assert_eq!(stage(&mistaken, 695), Stage::Waiting);
}

#[test]
fn what_can_be_shorter_makes_up_for_a_late_start_and_what_cannot_does_not() {
    let (problem, plan) = overlapping();
    let started = |step: &str, at| [Entry { at, event: Event::Started { step: step.to_owned(), mode: None } }];
    let day = fold(&problem, &plan, &started("b/gravy", 699), 771).expect("nothing is wrong");
    assert!(matches!(day.stage("b/gravy"), Stage::Done { start: 699, end: 770, .. }));
    let day = fold(&problem, &plan, &started("a/roast", 704), 761).expect("nothing is wrong");
    assert!(matches!(day.stage("a/roast"), Stage::Running { start: 704, .. }));
    let day = fold(&problem, &plan, &started("a/roast", 704), 764).expect("nothing is wrong");
    assert!(matches!(day.stage("a/roast"), Stage::Done { end: 764, .. }));
}

#[test]
fn every_entry_that_cannot_be_is_named() {
    let (problem, plan) = supper();
    let roast = of_kind(&problem, "roast").to_owned();
    let at = plan.steps[&roast].start;
    let log = [
        Event::Finished { step: "pudding".to_owned() },
        Event::Started { step: roast.clone(), mode: None },
        Event::Started { step: roast.clone(), mode: None },
        Event::OvenReads { place: "cellar".to_owned(), degrees: 12 },
        Event::Mistaken { step: roast.clone() },
        Event::Started { step: roast, mode: Some(99) },
    ];
    let log: Vec<Entry> = log.into_iter().map(|event| Entry { at, event }).collect();
    let faults = fold(&problem, &plan, &log, at + 1).expect_err("four are wrong");
    assert_eq!(faults.iter().map(|fault| fault.entry).collect::<Vec<_>>(), [1, 3, 4, 6], "{faults:?}");
}

/// Two dishes with a step of the same name.
const ALIKE: &str = r#"Menu(
    name: "Two pots", guests: 2, date: "2026-11-08", zone: "UTC", serve: "19:00",
    kitchen: Kitchen(places: [Burners("big ring", 2)]),
    dishes: [
        Dish("Broth", [Prep("Chop", "5 min"), Simmer("Simmer the broth", "20 min")]),
        Dish("Stew", [Prep("Chop", "5 min"), Simmer("Simmer the stew", "30 min")]),
    ],
)"#;

#[test]
fn a_log_is_kept_in_a_cooks_words_and_never_of_the_wrong_step() {
    let home = tempfile::tempdir().expect("a folder");
    std::fs::write(home.path().join("pots.menu.ron"), ALIKE).expect("a file");
    let world = World { folder: Some(home.path()), ..World::default() };
    let log = |event: &[&str]| {
        rangewright(&[&["log", "day.log", "--menu", "pots.menu.ron", "--at", "18:10"][..], event].concat(), &world)
    };
    for (event, said) in [
        (&["started", "chop"][..], "Chop (broth/prep); Chop (stew/prep)"),
        (&["started", "fry"], "there is no step \"fry\""),
        (&["put-in", "stew/prep", "ring"], "\"Chop\" has no way in \"big ring\""),
        (&["dropped", "pudding"], "there is no dish \"pudding\""),
        (&["broken", "kiln"], "there is no appliance \"kiln\""),
        (&["served", "tea"], "there is no course \"tea\""),
        (&["done-by", "chop", "18:20"], "Chop (broth/prep); Chop (stew/prep)"),
        (&["not-heated", "ring"], "there is no oven \"ring\""),
        (&["slower", "nadja", "20"], "there is no cook \"nadja\""),
        (&["fewer-guests", "3"], "\"3\" of 2 guests"),
    ] {
        let answer = log(event);
        assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""), "{event:?}");
        assert!(
            answer.err.contains(said) && answer.err.to_lowercase().contains("nothing was logged"),
            "{}",
            answer.err
        );
    }
    assert!(!home.path().join("day.log").exists(), "a log of nothing");
    let events = [
        (&["started", "simmer the broth"][..], "Started: Simmer the broth", r#""started","step":"broth/simmer""#),
        (
            &["needs", "the broth", "9 min"],
            "Needs 9 min more: Simmer the broth",
            r#""needs","step":"broth/simmer","minutes":9"#,
        ),
        (&["started", "stew/prep"], "Started: Stew: Chop", r#""started","step":"stew/prep""#),
        (&["broken", "ring", "--burners", "1"], "Broken: Big ring, 1 burner", r#""broken","place":"big-ring""#),
        (&["guests-late", "20 min"], "Guests 20 min late", r#""guests-late","minutes":20"#),
        (&["guests-early", "5 min"], "Guests 5 min early", r#""guests-early","minutes":5"#),
        (&["guests-late", "9 min", "--only", "half"], "1 of the guests 9 min late", r#""minutes":9,"only":1"#),
        (&["fewer-guests", "half"], "1 fewer guests than 2", r#""fewer-guests","fewer":1,"of":2"#),
        (&["slower", "cook", "30 %"], "Slower by 30 %: the cook", r#""slower","cook":"the cook","percent":30"#),
        (
            &["swapped", "simmer stew", "cook"],
            "The cook does it now: Simmer the stew",
            r#""swapped","step":"stew/simmer""#,
        ),
        (
            &["done-by", "stew/prep", "18:25"],
            "Needs 15 min more: Stew: Chop",
            r#""needs","step":"stew/prep","minutes":15"#,
        ),
        (&["dropped", "STEW"], "Dropped: Stew", r#""dropped","dish":"stew""#),
    ];
    let mut all = String::new();
    for (event, said, kept) in events {
        let answer = log(event);
        assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""), "{event:?}");
        assert_eq!(answer.out, format!("18:10  {said}\n"));
        all += &answer.out;
        let file = std::fs::read_to_string(home.path().join("day.log")).expect("a log");
        assert!(file.lines().last().is_some_and(|line| line.contains(kept)), "{file}");
    }
    assert_eq!(log(&[]).out, all);
}

/// What was done a while ago is logged at the minute at which it was.
#[test]
fn what_was_done_earlier_is_done_since_then() {
    let home = tempfile::tempdir().expect("a folder");
    std::fs::write(home.path().join("pots.menu.ron"), ALIKE).expect("a file");
    let world = World { folder: Some(home.path()), ..World::default() };
    let line = ["log", "day.log", "--menu", "pots.menu.ron", "--at", "18:30", "done-by", "stew/prep", "18:11"];
    assert_eq!(rangewright(&line, &world).out, "18:11  Done: Stew: Chop\n");
}

#[test]
fn a_log_spoilt_by_hand_is_refused_in_words_that_help() {
    let home = tempfile::tempdir().expect("a folder");
    std::fs::write(home.path().join("pots.menu.ron"), ALIKE).expect("a file");
    let lines = "{\"at\":1090,\"event\":\"started\",\"step\":\"stew/prep\"}\n{\"at\":1095,\"event\":\"singed\"}\nthe stew burnt\n";
    std::fs::write(home.path().join("day.log"), lines).expect("a file");
    let world = World { folder: Some(home.path()), ..World::default() };
    let answer =
        rangewright(&["log", "day.log", "--menu", "pots.menu.ron", "--at", "18:20", "dropped", "stew"], &world);
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    for said in ["line 2", "there is no event \"singed\"", "write one of started", "line 3", "take them out"] {
        assert!(answer.err.contains(said), "{said}: {}", answer.err);
    }
    assert!(!answer.err.contains("variant"), "{}", answer.err);
    assert_eq!(std::fs::read_to_string(home.path().join("day.log")).expect("a log"), lines);
}

/// Without a menu the log would be the built-in supper's: a log of something else is not written into.
#[test]
fn the_log_of_another_menu_is_left_alone() {
    let home = tempfile::tempdir().expect("a folder");
    let line = "{\"at\":1090,\"event\":\"started\",\"step\":\"broth/prep\"}\n";
    std::fs::write(home.path().join("day.log"), line).expect("a file");
    let world = World { folder: Some(home.path()), ..World::default() };
    let answer = rangewright(&["log", "day.log", "--at", "18:20", "dropped", "warm plates"], &world);
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    for said in ["the log of another menu", "--menu", "nothing was logged"] {
        assert!(answer.err.contains(said), "{said}: {}", answer.err);
    }
    assert_eq!(std::fs::read_to_string(home.path().join("day.log")).expect("a log"), line);
}

/// What the clock shows is of use on the day of the menu only; on any other the menu is moved, or the time said.
#[test]
fn the_clock_of_another_day_is_refused_and_the_menu_can_be_moved() {
    let home = tempfile::tempdir().expect("a folder");
    std::fs::write(home.path().join("pots.menu.ron"), ALIKE).expect("a file");
    let world = World { folder: Some(home.path()), ..World::default() };
    let log = |more: &[&str]| {
        rangewright(&[&["log", "day.log", "--menu", "pots.menu.ron"][..], more, &["dropped", "stew"]].concat(), &world)
    };
    let answer = log(&[]);
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    for said in ["2026-11-01", "2026-11-08", "--date 2026-11-01", "--at"] {
        assert!(answer.err.contains(said), "{said}: {}", answer.err);
    }
    let answer = log(&["--date", "2026-11-01"]);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    assert_eq!(answer.out, "12:00  Dropped: Stew\n");
}
