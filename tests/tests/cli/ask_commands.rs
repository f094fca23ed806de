//! `share`, `soonest`, `why` and `worth` from outside: what a cook reads, what a program gets, and exit codes.

use std::path::PathBuf;

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{Answer, World, rangewright};
use serde_json::Value;

fn examples() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../models/examples")
}

fn asked(args: &[&str]) -> Answer {
    let folder = examples();
    let terminal = Terminal { width: Some(80), colour: false, unicode: true, watched: false };
    let answer = rangewright(args, &World { folder: Some(&folder), terminal, ..World::default() });
    let wide = answer.out.lines().find(|line| line.chars().count() > 80);
    assert!(answer.out.starts_with('{') || args.contains(&"--help") || wide.is_none(), "{wide:?}");
    answer
}

/// The answer as data, which must come with this outcome and exit code.
fn data(args: &[&str], exit: Exit, outcome: &str) -> Value {
    let answer = asked(&[args, &["--format", "json"]].concat());
    assert_eq!((answer.exit, answer.err.as_str()), (exit, ""), "{args:?}");
    let value: Value = serde_json::from_str(&answer.out).expect("JSON");
    assert_eq!((&value["schema"], &value["outcome"]), (&1.into(), &outcome.into()));
    value
}

#[test]
fn two_dishes_of_a_menu_share_an_oven() {
    let args = ["share", "lantern.menu.ron", "shoulder", "gratin"];
    let answer = asked(&args);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    insta::assert_snapshot!("share_menu", answer.out);
    assert_eq!(asked(&args), answer, "the same bytes again");
    let value = data(&args, Exit::Planned, "yes");
    assert_eq!(value["cavities"][0]["ways"][0]["manner"], "while-resting");
}

#[test]
fn what_cannot_share_is_told_why() {
    let args = ["share", "one-oven.menu.ron", "roots", "meringue"];
    let answer = asked(&args);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Impossible, ""));
    insta::assert_snapshot!("share_no", answer.out);
    let value = data(&args, Exit::Impossible, "no");
    assert_eq!(value["cavities"][0]["clashes"][0]["obstacles"][0]["windows"]["degrees"], 110);
}

#[test]
fn roasts_need_no_menu() {
    let args = [
        "share",
        "--roast",
        "pork loin, 2 kg, to 65 C, 150 to 170 C",
        "--roast",
        "lamb leg, 2.4 kg, bone, to 60 C, 140 to 160 C, rest 40 min",
    ];
    let answer = asked(&args);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    insta::assert_snapshot!("share_roasts", answer.out);
    // The lamb is below its limit, and that stands at the top.
    assert!(answer.out.lines().nth(1).is_some_and(|line| line.starts_with("LIMIT BROKEN: lamb leg")), "{}", answer.out);
    let value = data(&args, Exit::Planned, "yes");
    assert_eq!(value["forecasts"].as_array().map(Vec::len), Some(2));

    // Two tall birds in a low oven: drawn rack by rack.
    let bird = "poultry bird, 5 kg, to 74 C, 170 to 180 C";
    let answer = asked(&["share", "--roast", bird, "--roast", bird, "--inside", "40 x 36 x 30 cm"]);
    insta::assert_snapshot!("share_crowd", answer.out);

    // A low and a hot roast, one of them out of the oven for a while.
    let slow = "lamb shoulder, 2 kg, to 75 C, 120 to 130 C, rest 60 min";
    let hot = "beef round, 1.5 kg, to 58 C, 190 to 200 C, fan";
    let value = data(&["share", "--roast", slow, "--roast", hot], Exit::Planned, "yes");
    assert_ne!(value["cavities"][0]["ways"][0]["manner"], "side-by-side");
}

#[test]
fn how_soon_is_told_with_what_decides() {
    let answer = asked(&["soonest", "porch.menu.ron", "--begin", "3:30 pm"]);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    insta::assert_snapshot!("soonest", answer.out);
    let value = data(&["soonest", "porch.menu.ron", "--begin", "3:30 pm"], Exit::Planned, "planned");
    assert_eq!(value["proved"], true);
    assert!(value["chain"]["steps"].as_array().is_some_and(|steps| !steps.is_empty()));
    // Two wishes for one oven have no soonest hour.
    data(&["soonest", "one-oven.menu.ron"], Exit::Impossible, "impossible");
    data(&["soonest", "porch.menu.ron", "--work", "0"], Exit::Undecided, "undecided");
}

#[test]
fn why_so_is_told_by_what_the_alternatives_cost() {
    let args = ["why", "supper.menu.ron", "roast"];
    let answer = asked(&args);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    insta::assert_snapshot!("why", answer.out);
    let value = data(&args, Exit::Planned, "answered");
    assert_eq!(value["proved"], true);
    assert!(value["alternatives"].as_array().is_some_and(|found| found.len() >= 2));
    data(&["why", "one-oven.menu.ron", "roast roots"], Exit::Impossible, "impossible");
    data(&["why", "lantern.menu.ron", "gratins", "--work", "0"], Exit::Undecided, "undecided");
}

/// The hen is liked best at 340 F. Squash in the same oven makes 375 F better: with the squash fried on the hob the planner
/// keeps to what is liked.
#[test]
fn why_so_says_that_a_temperature_is_a_compromise() {
    let args = ["why", "porch.menu.ron", "roast the hen"];
    let answer = asked(&args);
    insta::assert_snapshot!("why_compromise", answer.out);
    let words = answer.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("a compromise: 330 to 350 °F would suit it best"), "{words}");
    assert!(words.contains("could not share the oven with Roast the squash"), "{words}");
    let value = data(&args, Exit::Planned, "answered");
    let alone = value["alternatives"].as_array().expect("alternatives").iter().filter_map(|own| {
        let costs = &own["difference"]["costs"];
        (costs["beside"].as_array()?.is_empty()).then(|| costs["more"][1].as_i64())
    });
    let alone: Vec<_> = alone.collect();
    assert!(alone.len() >= 3 && alone.iter().all(|more| *more > Some(100)), "{alone:?}");

    let folder = tempfile::tempdir().expect("a folder");
    let example = |name| std::fs::read_to_string(examples().join(name)).expect("an example");
    let oven = "Roast(do: \"Roast the squash\", at: \"375 to 400 F\", takes: \"40 min\", pan: \"18 x 13 x 1 in\", weight: \"4 lb\", keeps: \"warm\")";
    let menu = example("porch.menu.ron");
    assert!(menu.contains(oven));
    let hob = "Fry(id: \"roast\", do: \"Fry the squash\", takes: \"20 min\", pan: \"11 in\", keeps: \"warm\")";
    std::fs::write(folder.path().join("porch.menu.ron"), menu.replace(oven, hob)).expect("written");
    std::fs::write(folder.path().join("porch.kitchen.ron"), example("porch.kitchen.ron")).expect("written");
    let answer = rangewright(&args, &World { folder: Some(folder.path()), ..World::default() });
    assert!(answer.out.contains("330 to 350 F fan") && !answer.out.contains("compromise"), "{}", answer.out);
    let chosen = answer.out.lines().nth(1).unwrap_or_default();
    assert!(chosen.contains("330 to 350 F"), "{chosen}");
}

#[test]
fn what_would_help_is_told_by_what_it_brings() {
    let answer = asked(&["worth", "porch.menu.ron"]);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    insta::assert_snapshot!("worth", answer.out);
    let args = ["worth", "one-oven.menu.ron", "--second", "oven", "--hands", "1", "--drawer", "--without", "roots"];
    let value = data(&args, Exit::Planned, "answered");
    assert_eq!(value["before"], "impossible");
    assert_eq!(value["benefits"].as_array().map(Vec::len), Some(4));
    assert!(value["benefits"][0]["after"]["plan"].is_object());
    data(&["worth", "lantern.menu.ron", "--drawer", "--work", "0"], Exit::Undecided, "undecided");
}

#[test]
fn a_name_that_is_none_or_several_is_refused_with_what_there_is() {
    for (args, said) in [
        (&["share", "lantern.menu.ron", "soup", "pudding"][..], "there is no dish \"pudding\"; there are:"),
        (&["share", "lantern.menu.ron", "soup", "soup"], "name 2 to 4 different dishes"),
        (&["share", "lantern.menu.ron", "e", "soup"], "may be more than one dish"),
        (&["share", "lantern.menu.ron", "soup", "gratin", "--in", "kiln"], "there is no oven \"kiln\""),
        (&["share", "--roast", "pork loin, 2 kg, to 65 C"], "name 2 to 4 different dishes"),
        (&["share", "--roast", "pork loin, 2 kg"], "to 60 C"),
        (&["share", "--roast", "pork loin, blue, to 65 C"], "\"blue\" is not understood"),
        (&["share", "--roast", "pork", "--roast", "pork loin"], "begin with meat and cut"),
        (&["share"], "required"),
        (&["share", "lantern.menu.ron", "soup", "--roast", "pork loin, 2 kg, to 65 C"], "cannot be used with"),
        (&["soonest", "porch.menu.ron", "--begin", "soon"], "clock time"),
        (&["soonest", "porch.menu.ron", "--begin", "29 days before 15:00"], "does not reach"),
        (&["why", "supper.menu.ron", "flambe"], "there is no step"),
        (&["why", "supper.menu.ron"], "required"),
        (&["worth", "supper.menu.ron", "--second", "kiln"], "there is no appliance"),
        (&["worth", "supper.menu.ron", "--hands", "0"], "--hands"),
        (&["roast", "goose", "bird", "--to", "74 C"], "write one of beef, veal, lamb"),
    ] {
        let answer = asked(args);
        assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""), "{args:?}");
        assert!(answer.err.contains(said), "{args:?}: {}", answer.err);
    }
    for command in ["share", "soonest", "why", "worth", "odds", "replan"] {
        let answer = asked(&[command, "--help"]);
        assert_eq!(answer.exit, Exit::Planned);
        assert!(answer.out.contains("Example") && answer.out.contains("Exit codes"), "{}", answer.out);
        let answer = asked(&[command, "no-such-menu.ron", "a", "b"]);
        assert!(matches!(answer.exit, Exit::Io | Exit::BadInput), "{}", answer.err);
    }
}

#[test]
fn a_saved_plan_is_asked_about_and_a_wrong_one_refused() {
    let folder = examples();
    let saved = asked(&["plan", "supper.menu.ron", "--work", "100000", "--format", "json"]);
    let world = World { folder: Some(&folder), stdin: saved.out.as_bytes(), ..World::default() };
    let answer = rangewright(&["why", "supper.menu.ron", "simmer", "--plan", "-"], &world);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    let answer = rangewright(&["why", "porch.menu.ron", "corn cakes", "--plan", "-"], &world);
    assert_eq!(answer.exit, Exit::BadInput, "{}{}", answer.out, answer.err);
    let answer = rangewright(&["plan", "-"], &world);
    assert!(answer.exit == Exit::BadInput && answer.err.contains("no menu"), "{}", answer.err);
}

/// What is in a dish stands beside whom it concerns.
#[test]
fn guests_with_a_diet_are_told_what_they_leave() {
    let said = asked(&["plan", "midwinter.menu.ron", "--work", "2000"]).out;
    assert!(said.contains("- Bread sauce: ") && said.contains("- Not for 1 guest (no milk): Bread sauce\n"), "{said}");
}

/// A thermometer is read by what the sheet says: one sheet, one unit, but for the cook's own words and the cautions.
#[test]
fn what_the_cooking_models_say_is_in_the_units_asked_for() {
    let said = |units: &str| asked(&["plan", "porch.menu.ron", "--work", "3000", "--units", units]).out;
    let (metric, customary) = (said("metric"), said("customary"));
    assert!(metric.contains(" °C expected (") && !metric.contains("F expected"), "{metric}");
    assert!(customary.contains(" °F expected (") && !customary.contains("C expected"), "{customary}");
}
