//! Many questions in one process: each is answered as its command answers, and nothing that is asked ends the process.

use std::fs;
use std::path::PathBuf;

use proptest::prelude::*;
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};
use serde_json::{Value, json};

fn examples() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../models/examples")
}

fn text(name: &str) -> String {
    fs::read_to_string(examples().join(name)).expect("an example")
}

/// The answers to questions, a line each.
fn batch(questions: &[u8], args: &[&str]) -> Vec<String> {
    let folder = examples();
    let world = World { stdin: questions, folder: Some(&folder), ..World::default() };
    let answer = rangewright(&[&["batch"][..], args].concat(), &world);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    answer.out.lines().map(str::to_owned).collect()
}

fn one(question: &Value) -> Value {
    let lines = batch(format!("{question}\n").as_bytes(), &[]);
    assert_eq!(lines.len(), 1, "{lines:?}");
    serde_json::from_str(&lines[0]).expect("JSON")
}

/// The bytes of the answer within a line, and those of the command without the white space that JSON allows between its parts:
/// none of these answers has a text with two spaces or a line break in it.
fn within(line: &str) -> &str {
    let from = line.find("\"answer\":").expect("an answer") + "\"answer\":".len();
    line[from..].strip_suffix('}').expect("the end of a line")
}

fn packed(json: &str) -> String {
    json.lines().map(str::trim_start).collect::<String>().replace("\": ", "\":")
}

#[test]
fn answers_are_those_of_the_commands_byte_for_byte() {
    let files = json!({"m": text("supper.menu.ron"), "shed.kitchen.ron": text("shed.kitchen.ron"), "no": text("one-oven.menu.ron")});
    let asked = [
        (json!({"ask": "plan", "menu": "m", "work": 20000}), "plan|supper.menu.ron|--work|20000"),
        (json!({"ask": "plan", "menu": "no"}), "plan|one-oven.menu.ron"),
        (json!({"ask": "soonest", "menu": "m", "begin": "16:00"}), "soonest|supper.menu.ron|--begin|16:00"),
        (json!({"ask": "why", "menu": "m", "step": "celeriac/roast"}), "why|supper.menu.ron|celeriac/roast"),
        (
            json!({"ask": "worth", "menu": "m", "second": ["oven"], "drawer": true}),
            "worth|supper.menu.ron|--second|oven|--drawer",
        ),
        (
            json!({"ask": "share", "menu": "no", "dishes": ["roots", "meringue"]}),
            "share|one-oven.menu.ron|roots|meringue",
        ),
        (
            json!({"ask": "odds", "menu": "m", "work": 20000, "evenings": 500}),
            "odds|supper.menu.ron|--work|20000|--evenings|500",
        ),
        (
            json!({"ask": "roast", "meat": "lamb", "cut": "leg", "weight": "2.4 kg", "to": "60 C"}),
            "roast|lamb|leg|--weight|2.4 kg|--to|60 C",
        ),
        (json!({"ask": "chill", "depth": "15 cm", "covered": true}), "chill|15 cm|--covered"),
        (json!({"ask": "portions", "adults": 14, "main": ["turkey"]}), "portions|14|--main|turkey"),
    ];
    let questions: Vec<String> = asked
        .iter()
        .map(|(question, _)| {
            let mut question = question.clone();
            question["files"] = files.clone();
            format!("{question}\n")
        })
        .collect();
    let lines = batch(questions.concat().as_bytes(), &[]);
    assert_eq!(lines.len(), asked.len());
    let folder = examples();
    for ((_, args), line) in asked.iter().zip(&lines) {
        let args: Vec<&str> = args.split('|').chain(["--format", "json"]).collect();
        let alone = rangewright(&args, &World { folder: Some(&folder), ..World::default() });
        let reply: Value = serde_json::from_str(line).expect("JSON");
        assert_eq!(reply["exit"], alone.exit as u8, "{args:?}: {line}");
        assert_eq!(within(line), packed(&alone.out), "{args:?}");
    }
}

#[test]
fn a_day_is_planned_again_from_data_alone() {
    let files = json!({"m": text("supper.menu.ron"), "shed.kitchen.ron": text("shed.kitchen.ron")});
    let plan = one(&json!({"id": "p", "ask": "plan", "menu": "m", "work": 20000, "files": files}));
    assert_eq!((&plan["id"], &plan["exit"]), (&json!("p"), &json!(0)), "{plan}");
    let log = json!([{"at": 1040, "event": "started", "step": "baked-celeriac/roast"}]);
    let entry = serde_json::to_string(&log[0]).expect("JSON");
    let ask = |ask: &str, log: &Value| {
        one(&json!({"ask": ask, "menu": "m", "plan": plan["answer"], "log": log, "now": "17:50", "files": files}))
    };
    let again = ask("replan", &log);
    assert_eq!((&again["exit"], &again["answer"]["outcome"]), (&json!(0), &json!("replanned")), "{again}");
    // Entries as data, or as the text of a log: the same.
    let mut with_text = files.clone();
    with_text["day.log"] = json!(format!("{entry}\n"));
    let question = json!({"ask": "replan", "menu": "m", "plan": plan["answer"], "log": "day.log", "now": "17:50", "files": with_text});
    assert_eq!(one(&question)["answer"], again["answer"]);
    let pass = ask("pass", &log);
    assert_eq!(pass["answer"]["outcome"], "pass", "{pass}");
}

#[test]
fn other_formats_are_texts_and_menus_may_be_data() {
    let menu = json!({
        "name": "Soup night", "date": "2026-11-08", "zone": "Europe/London", "serve": "19:00",
        "kitchen": {"places": [{"Burners": ["burner", 2]}]},
        "dishes": [{"name": "Leek soup", "steps": [{"Prep": ["Slice the leeks", "15 min"]}, {"Simmer": ["Simmer them", "40 min"]}]}],
    });
    let reply = one(&json!({"ask": "plan", "menu": menu, "format": "markdown"}));
    assert!(reply["answer"].as_str().is_some_and(|text| text.contains("Slice the leeks")), "{reply}");
    let reply = one(&json!({"ask": "plan", "menu": menu, "format": "text", "cook": "Nobody"}));
    assert!(
        reply.get("answer").is_none() && reply["complaint"].as_str().is_some_and(|text| text.contains("Nobody")),
        "{reply}"
    );
}

#[test]
fn what_is_wrong_is_told_line_by_line() {
    let huge = format!("{{\"id\": 1, \"ask\": \"plan\", \"menu\": \"{}\"}}", "x".repeat(17 << 20));
    let questions = [
        "no JSON at all",
        "[1]",
        "{\"id\": 5}",
        "{\"id\": {\"a\": 1}, \"ask\": \"log\"}",
        "{\"ask\": \"plan\", \"menue\": \"m\"}",
        "{\"ask\": \"plan\", \"out\": \"somewhere\"}",
        "{\"ask\": \"plan\", \"menu\": \"/etc/hostname\"}",
        "{\"ask\": \"plan\", \"menu\": {\"kitchen\": \"shed.kitchen.ron\"}}",
        "{\"ask\": \"why\", \"step\": \"roast\"}",
        "{\"ask\": \"plan\", \"work\": \"many\"}",
        "{\"ask\": \"plan\", \"strict\": 3}",
        "{\"ask\": \"plan\", \"menu\": \"m\", \"files\": {\"m\": \"Menu(\"}}",
        &huge,
        "",
        "{\"id\": 9, \"ask\": \"chill\", \"depth\": \"5 cm\"}",
    ];
    let lines = batch(questions.join("\n").as_bytes(), &[]);
    let replies: Vec<Value> = lines.iter().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    // An empty line asks nothing, and counts.
    let numbers: Vec<u64> = replies.iter().filter_map(|reply| reply["line"].as_u64()).collect();
    assert_eq!(numbers, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 15]);
    let (last, wrong) = replies.split_last().expect("answers");
    assert_eq!((&last["id"], &last["exit"], &last["answer"]["outcome"]), (&json!(9), &json!(0), &json!("answered")));
    assert_eq!((&wrong[2]["id"], &wrong[3]["id"]), (&json!(5), &json!({"a": 1})));
    for reply in wrong {
        assert_eq!(reply["exit"], 2, "{reply}");
        let told = reply["complaint"].as_str().or(reply["answer"]["error"].as_str());
        assert!(told.is_some_and(|text| !text.is_empty()) || !reply["answer"]["faults"][0].is_null(), "{reply}");
    }
    let answer = |number: usize| &wrong[number]["answer"];
    assert!(answer(6)["error"].as_str().is_some_and(|text| text.contains("none of the files")), "{}", wrong[6]);
    let faults = answer(7)["faults"].as_array().expect("faults");
    assert!(faults.iter().any(|fault| fault["code"] == "RW104"), "{}", wrong[7]);
    assert!(wrong[8]["complaint"].as_str().is_some_and(|text| text.contains("\"menu\" is missing")));
    assert_eq!((&answer(11)["outcome"], &answer(11)["command"]), (&json!("faults"), &json!("plan")));
    assert_eq!(answer(11)["faults"][0]["at"]["file"], "m");
}

#[test]
fn files_of_the_machine_are_read_only_where_that_is_said() {
    let question = b"{\"ask\": \"check\", \"menu\": \"supper.menu.ron\"}\n";
    let reply = |args: &[&str]| -> Value { serde_json::from_str(&batch(question, args)[0]).expect("JSON") };
    assert_eq!(reply(&[])["exit"], 2);
    assert_eq!(reply(&["--read-files"])["answer"]["outcome"], "sound");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Whatever the lines are, each gets its answer.
    #[test]
    fn nothing_that_is_asked_ends_it(lines in proptest::collection::vec(line(), 1..6)) {
        let replies = batch(lines.join("\n").as_bytes(), &[]);
        prop_assert_eq!(replies.len(), lines.iter().filter(|line| !line.trim().is_empty()).count());
        for reply in replies {
            prop_assert!(serde_json::from_str::<Value>(&reply).is_ok_and(|reply| reply["exit"].is_u64()), "{}", reply);
        }
    }
}

/// Questions that are nearly right, and texts that are none. No search is asked for: those have tests of their own.
fn line() -> impl Strategy<Value = String> {
    let field = prop_oneof![
        Just("menu"),
        Just("depth"),
        Just("files"),
        Just("in"),
        Just("covered"),
        Just("adults"),
        Just("main"),
        Just("units")
    ];
    let value = prop_oneof![
        Just("null".to_owned()),
        Just("true".to_owned()),
        "-?[0-9]{1,3}",
        "\"[a-z0-9 -]{0,8}\"",
        Just("{}".to_owned()),
        Just("[1,\"a\",{}]".to_owned()),
    ];
    let ask = prop_oneof![Just("chill"), Just("portions"), Just("check"), Just("nothing")];
    let question = (ask, proptest::collection::vec((field, value), 0..4)).prop_map(|(ask, fields)| {
        let fields: String = fields.iter().map(|(name, value)| format!(", \"{name}\": {value}")).collect();
        format!("{{\"ask\": \"{ask}\"{fields}}}")
    });
    prop_oneof![3 => question, 1 => "[ -~]{0,30}".prop_map(|text| text.trim().to_owned())]
}
