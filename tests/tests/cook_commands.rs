//! `roast`, `chill` and `portions` from outside.

use rangewright_cli::Exit;
use rangewright_tests::command::{Answer, World, rangewright};

fn asked(args: &[&str]) -> Answer {
    rangewright(args, &World::default())
}

#[test]
fn a_roast_is_answered_with_range_pull_and_cautions() {
    let answer =
        asked(&["roast", "lamb", "leg", "--bone", "--weight", "2.4 kg", "--to", "60 C", "--oven", "150 to 170 C"]);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    for said in ["150 C", "160 C", "170 C", "nine in ten", "pull", "probe", "62.8 C", "Local food codes", "guessed"] {
        assert!(answer.out.contains(said), "{said} in {}", answer.out);
    }
    assert!(answer.out.lines().all(|line| line.chars().count() <= 80), "{}", answer.out);
}

#[test]
fn a_broken_limit_stands_at_the_top() {
    let answer = asked(&["roast", "poultry", "bird", "--weight", "2 kg", "--to", "65 C"]);
    let top = answer.out.lines().nth(1).unwrap_or_default();
    assert!(top.starts_with("LIMIT BROKEN"), "{}", answer.out);
    let answer = asked(&["chill", "15 cm", "--covered"]);
    assert!(
        answer.out.starts_with("TOO SLOW\nLIMIT BROKEN") && answer.out.contains("ice bath, stirred"),
        "{}",
        answer.out
    );
}

#[test]
fn other_programs_get_the_same_answer_as_data() {
    let args = ["roast", "pork", "loin", "--weight", "2 kg", "--to", "65 C", "--hot-last", "230 C", "--format", "json"];
    let answer = asked(&args);
    let data: serde_json::Value = serde_json::from_str(&answer.out).expect("JSON");
    assert_eq!(data["schema"], 1);
    let way = &data["ways"][0];
    assert!(
        way["early_min"].as_i64() <= way["minutes"].as_i64() && way["stages"].as_array().is_some_and(|s| s.len() == 2)
    );
    assert_eq!(asked(&args), answer, "the same bytes again");
    for args in
        [&["chill", "4 cm", "--format", "json"][..], &["portions", "14", "--main", "turkey", "--format", "json"]]
    {
        let data: serde_json::Value = serde_json::from_str(&asked(args).out).expect("JSON");
        assert!(data["deference"].as_str().is_some_and(|text| text.contains("Local food codes")));
    }
}

#[test]
fn a_log_from_standard_input_moves_the_minutes() {
    let log = br#"[{"roast": {"meat": "lamb", "cut": "leg", "weight_g": 2400, "bone": true, "target_c": 60},
        "oven": {"heat": "static", "lo_c": 150, "hi_c": 170}, "oven_c": 160, "minutes": 150, "pull_c": 55}]"#;
    let args =
        ["roast", "lamb", "leg", "--bone", "--weight", "2.4 kg", "--to", "60 C", "--log", "-", "--format", "json"];
    let minutes = |args: &[&str], stdin| {
        let answer = rangewright(args, &World { stdin, ..World::default() });
        let data: serde_json::Value = serde_json::from_str(&answer.out).expect("JSON");
        data["ways"][0]["minutes"].as_i64().expect("minutes")
    };
    let without = [&args[..8], &args[10..]].concat();
    assert!(minutes(&args, log) > minutes(&without, b""));
    let bad = rangewright(&args, &World { stdin: b"{}", ..World::default() });
    assert_eq!(bad.exit, Exit::BadInput);
}

#[test]
fn a_probe_says_what_is_left() {
    let answer =
        asked(&["roast", "lamb", "leg", "--bone", "--weight", "2.4 kg", "--to", "60 C", "--probe", "70 min, 33 C"]);
    assert!(answer.out.contains("After this reading"), "{}", answer.out);
    let early =
        asked(&["roast", "lamb", "leg", "--bone", "--weight", "2.4 kg", "--to", "60 C", "--probe", "10 min, 6 C"]);
    assert!(early.exit == Exit::BadInput && early.err.contains("probe again later"), "{}", early.err);
}

#[test]
fn nonsense_is_refused_with_all_its_faults() {
    let answer = asked(&["roast", "lamb", "leg", "--to", "300 C", "--heat", "grill", "--from", "-18 C"]);
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    for said in ["target_c", "oven.heat", "start_c"] {
        assert!(answer.err.contains(said), "{said} in {}", answer.err);
    }
    let never = asked(&["roast", "beef", "round", "--weight", "3 kg", "--to", "88 C", "--oven", "80 to 90 C"]);
    assert!(never.exit == Exit::Impossible && never.err.contains("hotter oven"), "{}", never.err);
    for args in
        [&["roast", "lamb", "wing", "--to", "60 C"][..], &["chill", "5"], &["portions", "0", "--main", "braise"]]
    {
        assert_eq!(asked(args).exit, Exit::BadInput, "{args:?}");
    }
}

#[test]
fn portions_are_said_in_the_units_asked_for() {
    let metric = asked(&["portions", "14", "--main", "leg-on-bone"]);
    assert!(metric.out.contains("leg on bone: 5.5 kg") && metric.out.contains(" L ("), "{}", metric.out);
    let customary = asked(&["portions", "14", "--main", "leg-on-bone", "--units", "customary"]);
    assert!(customary.out.contains("leg on bone: 12.2 lb"), "{}", customary.out);
}
