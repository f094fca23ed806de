//! Every answer that `--format json` gives keeps to the published schema, and the schema notices what is missing.

use std::fs;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};

use jsonschema::{Resource, Validator};
use rangewright_tests::command::{World, rangewright};
use serde_json::Value;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The schema of answers, with the others that it refers to at hand.
pub(super) fn validator() -> Validator {
    let files = fs::read_dir(root().join("cli/schema")).expect("a folder");
    let texts = files.map(|file| fs::read_to_string(file.expect("a file").path()).expect("a schema"));
    let all: Vec<Value> = texts.map(|text| serde_json::from_str(&text).expect("JSON")).collect();
    let mut options = jsonschema::options();
    for schema in &all {
        jsonschema::meta::validate(schema).expect("a schema of its draft");
        let id = schema["$id"].as_str().expect("an id");
        options = options.with_resource(id, Resource::from_contents(schema.clone()));
    }
    let answer = all.iter().find(|schema| schema["$id"] == "urn:rangewright:answer:1").expect("the schema of answers");
    options.build(answer).expect("a schema that compiles")
}

/// What is wrong with an answer by the schema. `tests/types/run` has the answers written into a folder, to read them with types
/// generated from it.
pub(super) fn faults(validator: &Validator, value: &Value) -> Vec<String> {
    if let Some(folder) = std::env::var_os("RANGEWRIGHT_ANSWERS") {
        static NUMBER: AtomicUsize = AtomicUsize::new(0);
        let [command, outcome] = ["command", "outcome"].map(|field| value[field].as_str().unwrap_or_default());
        let name = format!("{command}-{outcome}-{}.json", NUMBER.fetch_add(1, Ordering::Relaxed));
        fs::write(PathBuf::from(folder).join(name), value.to_string()).expect("a file");
    }
    validator.iter_errors(value).map(|error| format!("{}: {error}", error.instance_path())).collect()
}

/// An answer as data, asked among the examples.
fn asked(args: &str) -> Value {
    let folder = root().join("models/examples");
    let args: Vec<&str> = args.split('|').chain(["--format", "json"]).collect();
    let answer = rangewright(&args, &World { folder: Some(&folder), ..World::default() });
    serde_json::from_str(&answer.out).unwrap_or_else(|error| panic!("{args:?}: {error}: {}", answer.err))
}

const SMALL: &str = "../../tests/data/kitchens/instances/small-1.json";
const NO: &str = "../../tests/data/kitchens/instances/nohours-6.json";

#[test]
fn every_answer_keeps_to_the_published_schema() {
    let validator = validator();
    let small = |args: &str| asked(&args.replace("SMALL", SMALL).replace("NO", NO));
    let answers = [
        small("plan|supper.menu.ron|--work|20000"),
        small("plan|SMALL|--work|20000"),
        small("plan|SMALL|--work|0"),
        small("plan|thirty.menu.ron|--work|20000"),
        small("plan|one-oven.menu.ron"),
        small("plan|supper.menu.ron|--work|20000|--spare-hands|25%"),
        small("plan|supper.menu.ron|--work|20000|--spare-hands|100%"),
        small("plan|NO|--work|2000"),
        small("plan|supper.menu.ron|--work|20000|--confidence|95"),
        small("share|lantern.menu.ron|shoulder|gratin|--work|2000"),
        small("share|one-oven.menu.ron|roots|meringue"),
        asked("share|--roast|pork loin, 2 kg, to 65 C, 150 to 170 C|--roast|lamb leg, 2.4 kg, to 60 C, 140 to 160 C"),
        small("soonest|supper.menu.ron|--begin|16:00"),
        small("soonest|SMALL|--work|0"),
        small("why|supper.menu.ron|celeriac/roast"),
        small("why|one-oven.menu.ron|roots/roast"),
        small("worth|supper.menu.ron|--work|20000"),
        small("worth|SMALL|--work|0"),
        small("odds|supper.menu.ron|--work|20000"),
        small("odds|supper.menu.ron|--work|20000|--confidence|80"),
        small("odds|one-oven.menu.ron|--work|20000"),
        small("odds|SMALL|--work|0"),
        small("check|supper.menu.ron"),
        small("check|../../tests/browser/faulty.menu.ron"),
        small(
            "check|../../tests/data/kitchens/instances/small-1.json|--plan|../../tests/data/kitchens/plans/small-1.json",
        ),
        asked("roast|lamb|leg|--bone|--weight|2.4 kg|--to|60 C"),
        asked("roast|lamb|leg|--bone|--weight|2.4 kg|--to|60 C|--probe|70 min, 33 C"),
        asked("roast|pork|loin|--weight|2 kg|--to|65 C|--hot-last|230 C"),
        asked("chill|15 cm|--covered"),
        asked("chill|3 cm|--in|chiller"),
        asked("portions|14|--main|turkey"),
        asked("dishes|leek"),
    ];
    let mut read = 0;
    for answer in &answers {
        assert_eq!(faults(&validator, answer), Vec::<String>::new(), "{}", answer["command"]);
        notices(&validator, answer);
        read += super::back::comes_back(answer);
    }
    assert!(read > 50, "{read} parts of answers were read back");
    // No command's answer went unseen, but for `replan` and `pass`, which need a plan in a file.
    let mut commands: Vec<&str> = answers.iter().filter_map(|answer| answer["command"].as_str()).collect();
    commands.dedup();
    assert_eq!(
        commands,
        ["plan", "share", "soonest", "why", "worth", "odds", "check", "roast", "chill", "portions", "dishes"]
    );
}

/// Without any one of its fields, or with another number, an answer is none.
fn notices(validator: &Validator, answer: &Value) {
    let fields: Vec<String> = answer.as_object().expect("an object").keys().cloned().collect();
    // Given only with roasts, only where a limit is broken, only if there are spare hands, room, margins, scaling or shopping,
    // and only if food waits.
    let sometimes = |field: &str| {
        let asked_for = ["spare_hands", "calm", "margins", "scaled", "to_buy", "stands"].contains(&field)
            && answer["outcome"] == "planned";
        ["forecasts", "breach"].contains(&field) || asked_for
    };
    for field in fields.iter().filter(|field| !sometimes(field)) {
        let mut broken = answer.clone();
        broken.as_object_mut().expect("an object").remove(field);
        assert!(!validator.is_valid(&broken), "{} without {field}", answer["command"]);
    }
    let mut broken = answer.clone();
    broken["schema"] = 2.into();
    assert!(!validator.is_valid(&broken), "{}", answer["command"]);
}

#[test]
fn a_new_plan_of_the_day_keeps_to_it_too() {
    let validator = validator();
    let home = tempfile::tempdir().expect("a folder");
    let (plan, log) = (home.path().join("plan.json"), home.path().join("day.log"));
    let (plan, log) = (plan.to_string_lossy(), log.to_string_lossy());
    let folder = root().join("models/examples");
    let run = |args: &[&str]| rangewright(args, &World { folder: Some(&folder), ..World::default() });
    let saved = run(&["plan", "supper.menu.ron", "--work", "20000", "--format", "json"]).out;
    fs::write(&*plan, saved).expect("a file");
    for event in
        [&["started", "baked-celeriac/roast", "--at", "17:20"][..], &["guests-late", "15 min", "--at", "17:45"]]
    {
        let answer = run(&[&["log", &log, "--menu", "supper.menu.ron", "--format", "json"][..], event].concat());
        let told: Value = serde_json::from_str(&answer.out).unwrap_or_else(|error| panic!("{error}: {}", answer.err));
        assert_eq!((&told["outcome"], faults(&validator, &told)), (&"noted".into(), Vec::new()));
        notices(&validator, &told);
        assert_eq!(super::back::comes_back(&told), 1);
    }
    let told = run(&["log", &log, "--menu", "supper.menu.ron", "--format", "json"]);
    let told: Value = serde_json::from_str(&told.out).unwrap_or_else(|error| panic!("{error}: {}", told.err));
    assert_eq!((&told["outcome"], faults(&validator, &told)), (&"log".into(), Vec::new()));
    assert_eq!(told["entries"][1]["text"], "Guests 15 min late");
    // What cannot have happened is refused as data, and nothing is logged.
    let before = fs::read_to_string(&*log).expect("a log");
    let no =
        run(&["log", &log, "--menu", "supper.menu.ron", "--format", "json", "--at", "17:50", "finished", "custard"]);
    let told: Value = serde_json::from_str(&no.out).unwrap_or_else(|error| panic!("{error}: {}", no.err));
    assert_eq!((&told["command"], &told["outcome"]), (&"log".into(), &"error".into()));
    assert_eq!(faults(&validator, &told), Vec::<String>::new());
    assert_eq!(fs::read_to_string(&*log).expect("a log"), before);
    // A saved plan with a minute that the menu does not allow: the rules are data.
    let mut broken: Value = serde_json::from_str(&fs::read_to_string(&*plan).expect("a plan")).expect("JSON");
    let rest = broken.pointer_mut("/plan/steps/baked-celeriac~1rest").expect("a step");
    rest["end"] = (rest["start"].as_i64().expect("a minute") + 1).into();
    let spoilt = home.path().join("spoilt.json");
    fs::write(&spoilt, broken.to_string()).expect("a file");
    let told = run(&["check", "supper.menu.ron", "--plan", &spoilt.to_string_lossy(), "--format", "json"]);
    let told: Value = serde_json::from_str(&told.out).unwrap_or_else(|error| panic!("{error}: {}", told.err));
    assert_eq!((&told["outcome"], faults(&validator, &told)), (&"broken".into(), Vec::new()));
    notices(&validator, &told);
    let now = ["--log", &log, "--plan", &plan, "--now", "17:50", "--work", "2000"];
    let answer = run(&[&["replan", "supper.menu.ron", "--format", "json"][..], &now].concat());
    let answer: Value = serde_json::from_str(&answer.out).unwrap_or_else(|error| panic!("{error}: {}", answer.err));
    assert_eq!(faults(&validator, &answer), Vec::<String>::new());
    notices(&validator, &answer);
    assert_eq!(super::back::comes_back(&answer), 2);
    // Where the evening stands, by the same plan and log.
    let answer = run(&[&["pass", "supper.menu.ron", "--format", "json"][..], &now[..6]].concat());
    let answer: Value = serde_json::from_str(&answer.out).unwrap_or_else(|error| panic!("{error}: {}", answer.err));
    assert_eq!(faults(&validator, &answer), Vec::<String>::new());
    notices(&validator, &answer);
    // When all has been served there is no new plan, and that is data as well, but no page.
    let answer = run(&["log", &log, "--menu", "supper.menu.ron", "--at", "19:20", "served", "supper"]);
    assert_eq!(answer.err, "");
    let over = ["--log", &log, "--plan", &plan, "--now", "23:30"];
    let answer = run(&[&["replan", "supper.menu.ron", "--format", "json"][..], &over].concat());
    let answer: Value = serde_json::from_str(&answer.out).unwrap_or_else(|error| panic!("{error}: {}", answer.err));
    assert_eq!((&answer["outcome"], faults(&validator, &answer)), (&"over".into(), Vec::new()));
    notices(&validator, &answer);
    let page = run(&[&["replan", "supper.menu.ron", "--format", "html"][..], &over].concat());
    assert!(page.out.is_empty() && page.err.contains("has been served"), "{}", page.out);
}
