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

/// 130 F is 54.4 C, and stays 130 F; an oven at 325 F is one of them by itself; a rest is said as menus say it.
#[test]
fn temperatures_are_those_that_were_written() {
    let args = ["roast", "beef", "round", "--weight", "4 lb", "--to", "130 F", "--rest", "20 to 60 min"];
    let oven = |oven: &str| asked(&[&args[..], &["--oven", oven]].concat());
    let answer = oven("325 F");
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    assert!(answer.out.contains("TO 130 F") && answer.out.contains("rest 20 min"), "{}", answer.out);
    assert!(answer.out.contains("AT 325 F, MINUTE BY MINUTE"), "{}", answer.out);
    let three = oven("300 to 350 F").out;
    for heat in ["300 F", "325 F", "350 F"] {
        assert!(three.lines().any(|line| line.trim_start().starts_with(heat)), "{heat} in {three}");
    }
}

#[test]
fn a_broken_limit_stands_at_the_top() {
    let answer = asked(&["roast", "poultry", "bird", "--weight", "2 kg", "--to", "65 C"]);
    let top = answer.out.lines().nth(1).unwrap_or_default();
    assert!(top.starts_with("LIMIT BROKEN"), "{}", answer.out);
    let answer = asked(&["chill", "15 cm", "--covered"]);
    assert!(answer.out.starts_with("TOO SLOW\n- LIMIT BROKEN: 57 C to 21 C takes"), "{}", answer.out);
    assert!(answer.out.contains("ice bath, stirred"), "{}", answer.out);
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
        ["roast", "lamb", "leg", "--bone", "--weight", "2.4 kg", "--to", "60 C", "--past", "-", "--format", "json"];
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

/// The kitchen's own file says the same as the JSON list, and its faults are shown in their lines.
#[test]
fn the_log_of_a_kitchen_moves_the_minutes() {
    let kitchen = "Kitchen(places: [], log: [Past(meat: lamb, cut: leg, bone: true, weight: \"2.4 kg\", at: \"160 C\", heat: static, took: \"150 min\", pulled: \"55 C\")])";
    let args = ["roast", "lamb", "leg", "--bone", "--weight", "2.4 kg", "--to", "60 C", "--past", "-"];
    let with = |stdin: &str| rangewright(&args, &World { stdin: stdin.as_bytes(), ..World::default() });
    let answer = with(kitchen);
    assert!(answer.out.replace('\n', " ").contains("1 past roast in this kitchen"), "{}{}", answer.out, answer.err);
    let list = r#"[{"roast": {"meat": "lamb", "cut": "leg", "weight_g": 2400, "bone": true, "target_c": 55, "rest_min": 0},
        "oven": {"heat": "static", "lo_c": 150, "hi_c": 170}, "oven_c": 160, "minutes": 150, "pull_c": 55}]"#;
    assert_eq!(with(list), answer);
    let wrong = with(&kitchen.replace("2.4 kg", "400 kg"));
    assert!(
        wrong.exit == Exit::BadInput && wrong.err.contains("\"weight\" is 400 kg") && wrong.err.contains("-:1:"),
        "{}",
        wrong.err
    );
    assert!(with("Kitchen(places: [], log: [Past(cut: leg)])").err.contains("meat"));
    assert!(with("Kitchen(").exit == Exit::BadInput);
}

/// Worked by hand: a pan of 20 x 15 x 6 cm, three quarters full, holds 1.35 kg, so 2.8 kg of braise want three.
#[test]
fn portions_are_split_over_pans() {
    let args = ["portions", "10", "--main", "braise", "--pan", "20 x 15 x 6 cm"];
    let answer = asked(&args);
    let words = answer.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("braise: 2.8 kg (2.5 to 3.1). In 3 pans of 0.9 kg, in the oven at once"), "{}", answer.out);
    let small = asked(&[&args[..], &["--inside", "26 x 22 x 12 cm", "--racks", "1"]].concat());
    assert!(small.out.replace("\n  ", " ").contains("1, then 1, then 1"), "{}", small.out);
    let bad = asked(&["portions", "10", "--main", "braise", "--pan", "20 x 15 cm"]);
    assert!(bad.exit == Exit::BadInput && bad.err.contains("width, depth and height"), "{}", bad.err);
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
    for said in ["--to is 300 C: give 40 C to 90 C", "--heat: there is no model", "--from: it is frozen"] {
        assert!(answer.err.contains(said), "{said} in {}", answer.err);
    }
    let never = asked(&["roast", "beef", "round", "--weight", "3 kg", "--to", "88 C", "--oven", "80 to 90 C"]);
    assert!(never.exit == Exit::Impossible && never.err.contains("hotter oven"), "{}", never.err);
    for args in
        [&["roast", "lamb", "wing", "--to", "60 C"][..], &["chill", "5"], &["portions", "0", "--main", "braise"]]
    {
        assert_eq!(asked(args).exit, Exit::BadInput, "{args:?}");
    }
    let loin = |more: &[&'static str]| asked(&[&["roast", "pork", "loin", "--to", "65 C"][..], more].concat());
    for (more, said) in [
        (&["--weight", "0 kg"][..], "--weight is 0 g: give 100 g to 20 kg"),
        (&["--weight", "400 kg"], "--weight is 400 kg: give 100 g to 20 kg"),
        (&["--weight", "-3 kg"], "--weight is -3 kg"),
        (&["--weight", "NaN kg"], "not a quantity"),
        (&["--weight", "2"], "no unit"),
        (&[], "--weight is missing"),
        (&["--weight", "2 kg", "--thickness", "2 m"], "--thickness is 200 cm: give 1.5 cm to 40 cm"),
        (&["--weight", "2 kg", "--oven", "300 to 400 C"], "--oven is 300 C: give 80 C to 260 C"),
        (&["--weight", "2 kg", "--rest", "600"], "--rest is 600 min: give 0 min to 240 min"),
        (&["--weight", "2 kg", "--hot-last", "900 C"], "--hot-first or --hot-last is 900 C"),
        (&["--weight", "2 kg", "--probe", "0 min, 5 C"], "--probe is 0 min"),
        (&["--weight", "2 kg", "--probe", "70 min"], "give minutes and centre"),
    ] {
        let answer = loin(more);
        assert!(answer.exit == Exit::BadInput && answer.err.contains(said), "{more:?}: {}", answer.err);
    }
    let deep = asked(&["chill", "-4 cm"]);
    assert!(
        deep.exit == Exit::BadInput && deep.err.contains("the depth is -4 cm: give 0.5 cm to 40 cm"),
        "{}",
        deep.err
    );
}

#[test]
fn portions_are_said_in_the_units_asked_for() {
    let metric = asked(&["portions", "14", "--main", "leg-on-bone"]);
    assert!(metric.out.contains("leg on bone: 5.5 kg") && metric.out.contains(" L ("), "{}", metric.out);
    let customary = asked(&["portions", "14", "--main", "leg-on-bone", "--units", "customary"]);
    assert!(customary.out.contains("leg on bone: 12.2 lb"), "{}", customary.out);
}

#[test]
fn either_unit_may_be_asked_for_by_its_letter_and_chilling_limits_have_both() {
    let whole = asked(&["chill", "3 in", "--units", "customary"]);
    assert_eq!(whole.exit, Exit::Planned);
    assert_eq!(asked(&["chill", "3 in", "--units", "F"]), whole);
    let unfolded = whole.out.replace("\n  ", " ");
    assert!(unfolded.contains("57 to 21 C (135 to 70 F) takes about"), "{unfolded}");
    assert!(unfolded.contains("the limit is 2 h ["), "{unfolded}");
    let many = asked(&["portions", "many", "--main", "braise"]);
    assert!(many.err.contains("write a whole number, such as 14"), "{}", many.err);
}

#[test]
fn the_region_may_be_said_of_any_command() {
    let chill = |region: &str| asked(&["chill", "4 cm", "--region", region]).out;
    assert!(chill("au").contains("60 C to 21 C") && chill("us").contains("57 C to 21 C"));
    assert_eq!(chill("au"), chill("AU"));
    assert!(chill("nz").contains("60 C to 21 C") && chill("nz").contains("New Zealand"));
    let wrong = asked(&["chill", "4 cm", "--region", "mars"]);
    assert!(wrong.err.contains("write one of us, uk, au, nz"), "{}", wrong.err);
    // Of a menu it takes the place of what the kitchen says.
    let examples = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../models/examples");
    let world = World { folder: Some(&examples), ..World::default() };
    let porch = |more: &[&str]| {
        let answer =
            rangewright(&[&["plan", "porch.menu.ron", "--work", "2000", "--width", "200"][..], more].concat(), &world);
        assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
        answer.out
    };
    assert_eq!(porch(&[]), porch(&["--region", "us"]));
    let (us, uk) = (porch(&[]), porch(&["--region", "uk"]));
    let holding = |sheet: &str| sheet.lines().filter(|line| line.contains("145 F (63 C) or hotter")).count();
    assert!(holding(&us) < holding(&uk), "{uk}");
}
