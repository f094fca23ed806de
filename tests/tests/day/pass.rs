//! `pass`: where the evening stands, from a plan and a log.

use std::fs;
use std::path::PathBuf;

use rangewright_tests::command::{World, rangewright};
use serde_json::Value;

/// A planned supper, and a log that grows.
struct Supper {
    home: tempfile::TempDir,
    examples: PathBuf,
}

impl Supper {
    fn new() -> Supper {
        let examples = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../models/examples");
        let supper = Supper { home: tempfile::tempdir().expect("a folder"), examples };
        let plan = supper.run(&["plan", "supper.menu.ron", "--work", "20000", "--format", "json"]);
        fs::write(supper.home.path().join("plan.json"), plan).expect("a file");
        supper
    }

    fn run(&self, args: &[&str]) -> String {
        let answer = rangewright(args, &World { folder: Some(&self.examples), ..World::default() });
        assert_eq!(answer.err, "", "{args:?}");
        answer.out
    }

    fn path(&self, name: &str) -> String {
        self.home.path().join(name).to_string_lossy().into_owned()
    }

    fn log(&self, at: &str, event: &[&str]) {
        let log = self.path("day.log");
        self.run(&[&["log", &log, "--menu", "supper.menu.ron", "--at", at][..], event].concat());
    }

    fn pass(&self, now: &str, more: &[&str]) -> String {
        let (plan, log) = (self.path("plan.json"), self.path("day.log"));
        let mut args = vec!["pass", "supper.menu.ron", "--plan", &plan, "--now", now];
        if fs::exists(&log).expect("a folder") {
            args.extend(["--log", &log]);
        }
        self.run(&[&args, more].concat())
    }

    fn stands(&self, now: &str) -> Value {
        serde_json::from_str(&self.pass(now, &["--format", "json"])).expect("JSON")
    }
}

/// When the turn is of the job of a step that begins so.
fn turn<'a>(stands: &'a Value, job: &str, step: &str) -> &'a Value {
    let jobs = stands["jobs"].as_array().expect("jobs");
    jobs.iter().find(|own| own["do"] == job && own["step"] == step).expect("the job")
}

#[test]
fn a_job_is_next_then_now_then_taken_as_done() {
    let supper = Supper::new();
    let when = |now: &str| turn(&supper.stands(now), "work", "baked-celeriac/prep")["when"].clone();
    // 17:04 to 17:14, and a quarter of an hour for whoever forgets to tick.
    assert_eq!(["17:00", "17:04", "17:28", "17:29"].map(when), ["next", "now", "now", "done"]);
    let stands = supper.stands("17:29");
    let job = turn(&stands, "work", "baked-celeriac/prep");
    assert_eq!((&job["ticked"], &job["done"][0]), (&false.into(), &"finished".into()), "it can still be ticked");
}

#[test]
fn what_a_job_says_to_log_ticks_it() {
    let supper = Supper::new();
    let tap = |now: &str, what: &str| {
        let stands = supper.stands(now);
        let args = turn(&stands, "work", "baked-celeriac/prep")[what].as_array().expect("what to log").clone();
        let args: Vec<&str> = args.iter().filter_map(Value::as_str).collect();
        supper.log(now, &args);
        turn(&supper.stands(now), "work", "baked-celeriac/prep").clone()
    };
    let begun = tap("17:12", "begin");
    assert_eq!((&begun["when"], &begun["begun"], &begun["begin"]), (&"now".into(), &true.into(), &Value::Null));
    let wrong = tap("17:13", "wrong");
    assert_eq!((&wrong["begun"], &wrong["begin"][0]), (&false.into(), &"started".into()));
    tap("17:14", "begin");
    let done = tap("17:22", "done");
    assert_eq!((&done["when"], &done["ticked"], &done["done"]), (&"done".into(), &true.into(), &Value::Null));
}

#[test]
fn a_cold_oven_and_a_slow_roast_are_called_out() {
    let supper = Supper::new();
    assert_eq!(supper.stands("18:00")["look_out"], serde_json::json!([]));
    supper.log("17:20", &["put-in", "baked-celeriac/roast"]);
    supper.log("17:40", &["oven-reads", "oven", "178 C"]);
    assert_eq!(supper.stands("17:41")["look_out"], serde_json::json!([]), "two degrees are nothing");
    supper.log("17:50", &["oven-reads", "oven", "140 C"]);
    supper.log("18:30", &["probe", "baked-celeriac/roast", "30 C", "--to", "90 C"]);
    let said = supper.pass("18:31", &[]).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("! Oven is colder than its dial: 140"), "{said}");
    assert!(said.contains("! Roast the baked celeriac: done about") && said.contains("later than planned"), "{said}");
    // A reading that is an hour old says nothing of the oven.
    assert!(!supper.pass("18:51", &[]).contains("colder than its dial"));
}

#[test]
fn every_event_of_the_log_can_be_made_from_what_is_said_of_it() {
    let stands = Supper::new().stands("17:00");
    let help = rangewright(&["log", "--help"], &World::default()).out;
    let events = stands["events"].as_array().expect("events");
    assert!(events.len() >= 12, "{events:?}");
    for event in events {
        let (name, about) = (event["event"].as_str().expect("a name"), event["about"].as_str().expect("words"));
        assert!(help.contains(name) && help.contains(about.split(';').next().unwrap_or(about)), "{name}: {about}");
        for field in event["fields"].as_array().expect("fields") {
            assert!(field["about"].as_str().is_some_and(|about| !about.is_empty()), "{name}: {field}");
        }
    }
}
