//! The command from outside: exit codes, formats, streams, and whatever a terminal can be.

use std::io::{self, Write};

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{Answer, World, rangewright, rangewright_into};

/// Terminals that differ in everything.
const MODERN: Terminal = Terminal { width: Some(100), colour: true, unicode: true, watched: false };
const OLD: Terminal = Terminal { width: Some(20), colour: false, unicode: false, watched: false };

const EVENING: &str = "data/kitchens/instances/small-1.json";

fn plain(args: &[&str]) -> Answer {
    rangewright(args, &World::default())
}

/// A stream that cannot be written to, for a reason.
struct Stuck(io::ErrorKind);

impl Write for Stuck {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn help_and_version_are_answers_and_nonsense_is_not() {
    for args in [&["--help"][..], &["plan", "--help"], &["check", "--help"], &["--version"]] {
        let answer = plain(args);
        assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""), "{args:?}");
        assert!(!answer.out.contains('\x1b'), "{args:?}");
    }
    for args in [
        &[][..],
        &["roast"],
        &["check"],
        &["plan", "a", "b"],
        &["plan", "--format", "html,svg"],
        &["plan", "--time", "soon"],
        &["plan", "--time", "-1"],
        &["plan", "--time", "NaN"],
        &["plan", "--gap", "101"],
        &["plan", "--work", "-1"],
        &["plan", "--threads", "0"],
        &["plan", "--width", "39"],
    ] {
        let answer = plain(args);
        assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""), "{args:?}");
        assert!(!answer.err.is_empty(), "{args:?}");
    }
}

#[test]
fn what_cannot_be_read_is_said_with_its_name() {
    for (path, exit, said) in [
        ("data/no-such-menu.ron", Exit::Io, "no such file"),
        ("data", Exit::Io, "folder"),
        ("data/kitchens/instances", Exit::Io, "folder"),
    ] {
        for command in ["plan", "check"] {
            let answer = plain(&[command, path]);
            assert_eq!((answer.exit, answer.out.as_str()), (exit, ""), "{path}");
            assert!(answer.err.contains(said) && answer.err.contains(path), "{}", answer.err);
        }
    }
    let answer = rangewright(&["plan", "-"], &World { stdin: b"Menu(name: \"\xff\")", ..World::default() });
    assert_eq!(answer.exit, Exit::BadInput);
    assert!(answer.err.contains("UTF-8"), "{}", answer.err);
}

#[test]
fn a_problem_that_makes_no_sense_is_refused_with_all_its_faults() {
    let answer = plain(&["plan", "data/kitchens/refused/three-faults.json"]);
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    assert_eq!(answer.err.lines().count(), 3, "{}", answer.err);
    let answer = plain(&["check", "data/kitchens/refused/cyclic.json"]);
    assert_eq!(answer.exit, Exit::BadInput);
}

#[test]
fn a_limit_that_comes_first_is_an_answer_of_its_own() {
    let answer = plain(&["plan", EVENING, "--work", "0"]);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Undecided, ""));
    assert!(answer.out.contains("--work"), "{}", answer.out);
    let answer = plain(&["plan", EVENING, "--work", "0", "--format", "json"]);
    assert_eq!(answer.exit, Exit::Undecided);
    let value: serde_json::Value = serde_json::from_str(&answer.out).expect("JSON");
    assert_eq!((&value["schema"], &value["outcome"]), (&1.into(), &"undecided".into()));
}

#[test]
fn a_no_says_what_cannot_hold_and_what_would_help() {
    let evening = "data/kitchens/instances/nohours-6.json";
    let answer = plain(&["plan", evening, "--work", "2000"]);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Impossible, ""));
    insta::assert_snapshot!("impossible", answer.out);
    let answer = plain(&["plan", evening, "--work", "2000", "--format", "json"]);
    assert_eq!(answer.exit, Exit::Impossible);
    let value: serde_json::Value = serde_json::from_str(&answer.out).expect("JSON");
    assert_eq!((&value["schema"], &value["outcome"]), (&1.into(), &"impossible".into()));
    assert!(value["facts"].as_array().is_some_and(|facts| !facts.is_empty()), "{value}");
}

#[test]
fn the_same_work_gives_the_same_bytes_and_a_proof_says_so() {
    let args = ["plan", EVENING, "--work", "100000"];
    let answer = plain(&args);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    assert!(answer.out.contains("this plan is proved best"), "{}", answer.out);
    assert_eq!(plain(&args), answer);
    let text = std::fs::read(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(EVENING)).expect("the evening");
    let piped = rangewright(&["plan", "-", "--work", "100000"], &World { stdin: &text, ..World::default() });
    assert_eq!(piped, answer);
}

#[test]
fn a_reader_who_goes_away_is_no_fault_and_a_full_disk_is() {
    let args = ["plan", EVENING, "--work", "0"];
    let mut err = Vec::new();
    let exit = rangewright_into(&args, &World::default(), &mut Stuck(io::ErrorKind::BrokenPipe), &mut err);
    assert_eq!((exit, err.as_slice()), (Exit::Undecided, &b""[..]));
    let exit = rangewright_into(&args, &World::default(), &mut Stuck(io::ErrorKind::StorageFull), &mut err);
    assert_eq!(exit, Exit::Io);
    assert!(!err.is_empty());
    // With nobody to complain to there is still the exit code.
    let mut gone = Stuck(io::ErrorKind::BrokenPipe);
    let exit = rangewright_into(&["plan", "data"], &World::default(), &mut Vec::new(), &mut gone);
    assert_eq!(exit, Exit::Io);
}

#[test]
fn the_terminal_is_what_the_environment_says() {
    let terminal = |is_terminal, variables: &[(&str, &str)]| {
        let variables: Vec<(String, String)> =
            variables.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
        Terminal::from_environment(is_terminal, |name| {
            variables.iter().find(|(own, _)| own == name).map(|(_, value)| value.into())
        })
    };
    assert!(terminal(true, &[]).colour);
    assert!(terminal(true, &[("NO_COLOR", "")]).colour, "an empty NO_COLOR says nothing (no-color.org)");
    assert!(!terminal(true, &[("NO_COLOR", "1")]).colour);
    assert!(!terminal(true, &[("TERM", "dumb")]).colour);
    assert!(!terminal(false, &[]).colour);
    assert_eq!(terminal(false, &[("COLUMNS", "57")]).width, Some(57));
    assert_eq!(terminal(false, &[("COLUMNS", "wide")]).width, None);
    assert!(terminal(false, &[("LANG", "en_GB.UTF-8")]).unicode);
    assert!(!terminal(false, &[("LANG", "en_GB.UTF-8"), ("LC_ALL", "C")]).unicode);
}

/// A reference evening with its saved plan, which no search can change: what is printed depends on the faces alone.
fn saved(name: &str, more: &[&str], terminal: Terminal) -> Answer {
    let (problem, plan) = (format!("data/kitchens/instances/{name}.json"), format!("data/kitchens/plans/{name}.json"));
    let mut args = vec!["plan", &problem, "--start", &plan, "--work", "0"];
    args.extend(more);
    rangewright(&args, &World { terminal, ..World::default() })
}

#[test]
fn sheets_of_saved_plans_look_as_they_did() {
    let answer = saved("dinner-3", &[], Terminal { unicode: true, ..Terminal::default() });
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    insta::assert_snapshot!("dinner", answer.out);
    insta::assert_snapshot!("dinner_in_an_old_terminal", saved("dinner-3", &[], OLD).out);
    insta::assert_snapshot!(
        "banquet",
        saved("banquet-1", &["--width", "132", "--units", "customary"], Terminal::default()).out
    );
    // How much work the search has done by then is its own affair.
    let json = saved("small-1", &["--format", "json"], MODERN).out;
    let json: Vec<&str> = json.lines().filter(|line| !line.starts_with("  \"work\":")).collect();
    insta::assert_snapshot!("small_json", json.join("\n"));
}

#[test]
fn lines_are_no_wider_than_asked_for() {
    for name in ["small-6", "feast-2", "banquet-2"] {
        for (width, terminal) in [("40", OLD), ("61", MODERN), ("80", Terminal::default()), ("200", MODERN)] {
            let text = saved(name, &["--width", width], terminal).out.replace("\x1b[1m", "").replace("\x1b[0m", "");
            let longest = text.lines().map(|line| line.chars().count()).max().unwrap_or(0);
            assert!(longest <= width.parse().expect("a number"), "{name} {width}: {longest}");
        }
    }
    // A terminal narrower than a page can be read gets the narrowest page.
    let text = saved("small-6", &[], OLD).out;
    assert!(text.lines().all(|line| line.len() <= 40) && text.is_ascii(), "{text}");
    assert!(saved("small-6", &[], MODERN).out.contains('\x1b'));
    assert!(saved("small-6", &["--ascii"], Terminal { colour: false, ..MODERN }).out.is_ascii());
}

#[test]
fn a_saved_plan_can_be_checked_by_itself_and_within_an_answer() {
    let folder = std::env::temp_dir().join(format!("rangewright-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let file = folder.join("answer.json");
    std::fs::write(&file, saved("small-1", &["--format", "json"], MODERN).out).expect("a file");
    let answer = plain(&["check", EVENING, "--plan", "data/kitchens/plans/small-1.json"]);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    assert_eq!(plain(&["check", EVENING, "--plan", &file.to_string_lossy()]), answer);
    let other = plain(&["check", "data/kitchens/instances/small-2.json", "--plan", &file.to_string_lossy()]);
    assert_eq!((other.exit, other.out.as_str()), (Exit::BadInput, ""));
    std::fs::write(&file, "{\"plan\": 3}").expect("a file");
    assert_eq!(plain(&["check", EVENING, "--plan", &file.to_string_lossy()]).exit, Exit::BadInput);
    assert_eq!(plain(&["plan", EVENING, "--start", &file.to_string_lossy()]).exit, Exit::BadInput);
    assert_eq!(plain(&["check", EVENING, "--plan", "data/none.json"]).exit, Exit::Io);
    std::fs::remove_dir_all(&folder).expect("removed");
}

/// A saved plan in which something was moved by hand: every rule it breaks is said in names and clock times.
#[test]
fn what_a_plan_breaks_is_said_in_a_cooks_words() {
    let home = tempfile::tempdir().expect("a folder");
    let (folder, menu) = (examples(), std::fs::read(examples().join("supper.menu.ron")).expect("a menu"));
    let world = World { stdin: &menu, folder: Some(&folder), ..World::default() };
    let answer = rangewright(&["plan", "-", "--work", "100000", "--format", "json"], &world);
    let mut saved: serde_json::Value = serde_json::from_str(&answer.out).expect("an answer");
    let step = &mut saved["plan"]["steps"]["baked-celeriac/carve"];
    for end in ["start", "end"] {
        step[end] = (step[end].as_i64().expect("a minute") - 20).into();
    }
    let file = home.path().join("moved.json");
    std::fs::write(&file, saved.to_string()).expect("a file");
    let file = file.to_string_lossy();
    let answer = rangewright(&["check", "-", "--plan", &file], &world);
    assert_eq!(answer.exit, Exit::BadInput);
    let unfolded = answer.err.replace("\n  ", " ");
    for said in [
        "breaks 2 rules",
        "- Baked celeriac: Cut it in wedges starts 20 min before \"Let it stand, covered\" ends",
        "- Baked celeriac stands 21 min before \"supper\" goes out, 5 min at the most",
    ] {
        assert!(unfolded.contains(said), "{said}: {unfolded}");
    }
    assert!(!unfolded.contains("baked-celeriac/") && !unfolded.contains("minute "), "{unfolded}");
    let odds = rangewright(&["odds", "-", "--plan", &file, "--evenings", "10"], &world);
    assert_eq!(odds.exit, Exit::Planned);
    assert!(odds.err.starts_with("warning: ") && odds.err.contains("breaks 2 rules of the menu"), "{}", odds.err);
    let started = rangewright(&["plan", "-", "--start", &file], &world);
    assert_eq!((started.exit, &started.err), (Exit::BadInput, &answer.err));
    // Where a step has come in since, it is not taken for one that is no longer needed.
    let more = String::from_utf8_lossy(&menu).replace(
        "Prep(\"Slice the leeks\"",
        "Prep(id: \"wash\", do: \"Wash the leeks\", takes: \"5 min\"), Prep(\"Slice the leeks\"",
    );
    let more = World { stdin: more.as_bytes(), folder: Some(&folder), ..World::default() };
    let replan = rangewright(&["replan", "-", "--plan", &file, "--now", "17:00"], &more);
    assert_eq!(replan.exit, Exit::BadInput);
    let odds = rangewright(&["odds", "-", "--plan", &file], &more);
    assert!(odds.exit == Exit::BadInput && odds.err.contains("- Wash the leeks is not planned"), "{}", odds.err);
    assert!(replan.err.contains("the menu has changed") && replan.err.contains("\"Wash the leeks\""), "{}", replan.err);
    // A plan of another menu is not taken to pieces, and nothing is made of it.
    for (command, option) in [("check", "--plan"), ("plan", "--start"), ("odds", "--plan"), ("replan", "--plan")] {
        let answer = rangewright(&[command, "lantern.menu.ron", option, &file], &world);
        assert_eq!(answer.exit, Exit::BadInput, "{command}");
        assert!(answer.err.contains("is a plan of another menu") && answer.err.lines().count() == 1, "{}", answer.err);
    }
    // What is no plan at all is not answered in the words of a parser.
    std::fs::write(&*file, "{\"x\": 1}").expect("a file");
    let answer = rangewright(&["check", "-", "--plan", &file], &world);
    assert!(answer.err.contains("is no saved plan") && !answer.err.contains("field"), "{}", answer.err);
}

/// A menu may have no faults and still be dangerous: the check says so before anything is planned.
#[test]
fn a_limit_that_every_plan_would_break_is_said_by_the_check() {
    let folder = examples();
    let menu = std::fs::read_to_string(folder.join("porch.menu.ron")).expect("a menu");
    let check = |menu: &str| {
        let world = World { stdin: menu.as_bytes(), folder: Some(&folder), ..World::default() };
        let answer = rangewright(&["check", "-", "--width", "200"], &world);
        assert_eq!(answer.err, "");
        (answer.exit, answer.out)
    };
    let (exit, safe) = check(&menu);
    assert!(exit == Exit::Planned && !safe.contains("LIMIT BROKEN"), "{safe}");
    let (exit, low) = check(&menu.replace("to: \"170 F\"", "to: \"150 F\""));
    let said = "- LIMIT BROKEN: Roast hen: a centre of 150 F (65.6 C) is below the least of 165 F (73.9 C) for this food [USDA";
    assert_eq!(exit, Exit::Impossible);
    assert!(low.starts_with("No faults") && low.matches(said).count() == 1, "{low}");
}

/// Whatever is asked of such a menu, the limit comes first, in words and as data.
#[test]
fn a_broken_limit_is_said_before_any_answer() {
    let folder = examples();
    let menu = std::fs::read_to_string(folder.join("porch.menu.ron")).expect("a menu");
    let low = menu.replace("to: \"170 F\"", "to: \"150 F\"");
    let questions: [&[&str]; 5] = [
        &["soonest", "-"],
        &["worth", "-", "--hands", "1"],
        &["why", "-", "roast the hen"],
        &["odds", "-"],
        &["share", "-", "roast hen", "squash and kale bowl"],
    ];
    for question in questions {
        let asked = |menu: &str, more: &[&str]| {
            let world = World { stdin: menu.as_bytes(), folder: Some(&folder), ..World::default() };
            rangewright(&[question, &["--work", "1000", "--width", "300"], more].concat(), &world).out
        };
        let text = asked(&low, &[]);
        let (head, rest) = text.split_once("\n=== ").unwrap_or((&text, ""));
        let limit = "LIMIT BROKEN: ";
        assert_eq!(head.matches(limit).count(), 1, "{question:?}: {text}");
        assert!(head.contains("a centre of 150 F (65.6 C) is below the least of 165 F (73.9 C)"), "{rest}");
        let data = |menu: &str| -> serde_json::Value {
            serde_json::from_str(&asked(menu, &["--format", "json"])).expect("JSON")
        };
        assert_eq!(data(&low)["breach"].as_array().map(Vec::len), Some(1), "{question:?}");
        assert!(data(&menu).get("breach").is_none() && !asked(&menu, &[]).contains(limit), "{question:?}");
    }
}

/// The folder of the shipped examples.
fn examples() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../models/examples")
}

#[test]
fn the_demo_is_planned_when_no_menu_is_given() {
    let answer = rangewright(&["plan", "--work", "100000"], &World { terminal: MODERN, ..World::default() });
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    for part in ["LANTERN-NIGHT SUPPER", "FRIDAY", "SERVE MAIN", "Heat the big oven", "TAKE CARE", "Local food codes"] {
        assert!(answer.out.contains(part), "{part}: {}", answer.out);
    }
    let file = examples().join("lantern.menu.ron");
    let from_file = rangewright(
        &["plan", &file.to_string_lossy(), "--work", "100000"],
        &World { terminal: MODERN, ..World::default() },
    );
    assert_eq!(from_file, answer);
}

#[test]
fn a_menu_from_standard_input_finds_its_kitchen_in_the_current_folder() {
    let (folder, menu) = (examples(), std::fs::read(examples().join("supper.menu.ron")).expect("a menu"));
    let world = World { stdin: &menu, folder: Some(&folder), ..World::default() };
    let answer = rangewright(&["plan", "-", "--work", "100000"], &world);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    insta::assert_snapshot!("supper", answer.out);
    assert_eq!(rangewright(&["plan", "supper.menu.ron", "--work", "100000"], &world), answer);
    // Elsewhere there is no such kitchen.
    let elsewhere = rangewright(&["plan", "-"], &World { stdin: &menu, ..World::default() });
    assert_eq!((elsewhere.exit, elsewhere.out.as_str()), (Exit::Io, ""));
    assert!(elsewhere.err.contains("shed.kitchen.ron"), "{}", elsewhere.err);
}

#[test]
fn faults_of_a_menu_are_shown_where_they_are() {
    let folder = examples();
    let menu = br#"Menu(
    name: "Supper", kitchen: "shed.kitchen.ron", gests: 4, date: "2026-11-08", zone: "Europe/London", serve: "19:00",
    dishes: [Dish("Toast", [Bake(at: "4000 C", takes: "9 min", pan: "tea tray")])],
)"#;
    for command in ["plan", "check"] {
        let world = World { stdin: menu, folder: Some(&folder), ..World::default() };
        let answer = rangewright(&[command, "-"], &world);
        assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
        insta::assert_snapshot!("faults", answer.err);
    }
}

#[test]
fn whatever_is_fed_to_it_it_answers() {
    let deep = "[".repeat(100_000);
    let texts: [&[u8]; 8] =
        [b"", b"\0\0\0", b"Menu(", b"{}", b"{\"places\": 1, \"steps\": 2, \"links\": 3}", b"[]", b"-", deep.as_bytes()];
    for text in texts {
        for command in ["plan", "check"] {
            let answer = rangewright(&[command, "-"], &World { stdin: text, ..World::default() });
            assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""), "{:?}", text.get(..20));
            assert!(!answer.err.is_empty());
        }
    }
}

#[test]
fn examples_have_no_faults() {
    for menu in ["lantern", "supper", "one-oven", "porch", "larder"] {
        let file = examples().join(format!("{menu}.menu.ron"));
        let answer = plain(&["check", &file.to_string_lossy()]);
        assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
        assert!(answer.out.starts_with("No faults: "), "{}", answer.out);
    }
}
