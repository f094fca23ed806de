//! Texts that were made to break something.

use std::fs;

use rangewright::models::read;
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};

/// Runs something on a thread with the stack that threads have by default elsewhere: 2 MiB.
fn on_a_small_stack(what: impl FnOnce() + Send + 'static) {
    let thread = std::thread::Builder::new().stack_size(2 << 20).spawn(what).expect("a thread");
    thread.join().expect("it neither panics nor runs out of stack");
}

#[test]
fn nesting_is_refused_at_its_place_however_deep() {
    for depth in [33, 2_000, 100_000] {
        on_a_small_stack(move || {
            for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
                let text = format!("{{\"dishes\":{}1{}}}", open.repeat(depth), close.repeat(depth));
                let faults = read::feast(&text, "deep", |_| Err("none".to_owned())).expect_err("nested too deeply");
                let at = faults.0[0].at.as_ref().expect("a place");
                assert_eq!((at.line, at.start), (1, 10 + 31 * open.len()), "{depth} {open}: {faults}");
                assert!(faults.to_string().contains("nested more than 32 deep"), "{faults}");
            }
            let ron = format!("Menu(dishes: {}1{})", "[".repeat(depth), "]".repeat(depth));
            read::feast(&ron, "deep", |_| Err("none".to_owned())).expect_err("nested too deeply");
        });
    }
}

#[test]
fn an_input_without_an_end_is_read_only_so_far() {
    let home = tempfile::tempdir().expect("a folder");
    let long = vec![b' '; read::LONGEST + 1];
    fs::write(home.path().join("long.menu.ron"), &long).expect("a file");
    let world = World { folder: Some(home.path()), stdin: &long, ..World::default() };
    for menu in ["long.menu.ron", "-"] {
        let answer = rangewright(&["check", menu], &world);
        assert_eq!(answer.exit, Exit::BadInput, "{}", answer.err);
        assert!(answer.err.contains("longer than 2097152 bytes"), "{}", answer.err);
    }
    #[cfg(unix)]
    {
        let endless = rangewright(&["check", "/dev/zero"], &world);
        assert!(endless.err.contains("longer than"), "{}", endless.err);
        fs::write(home.path().join("m.ron"), MENU.replace("KITCHEN", "/dev/zero")).expect("a file");
        let endless = rangewright(&["check", "m.ron", "--kitchen-anywhere"], &world);
        assert!(endless.err.contains("longer than"), "{}", endless.err);
    }
}

const MENU: &str = r#"Menu(name: "Supper", kitchen: "KITCHEN", guests: 4, date: "2026-11-08", zone: "Europe/London", serve: "19:00",
    dishes: [Dish("Soup", [Simmer("Simmer it", "35 min")])])"#;
const KITCHEN: &str = r#"Kitchen(name: "Shed", places: [Burners("burner", 2)])"#;
const SECRET: &str = "lantern:x:1000:1000:keeper of the hall:/home/lantern:/bin/sh\n";

#[test]
fn a_menu_reads_no_file_outside_its_folder_and_shows_none_that_is_no_kitchen() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join("menus");
    fs::create_dir_all(folder.join("kitchens")).expect("a folder");
    fs::write(home.path().join("secret"), SECRET).expect("a file");
    fs::write(home.path().join("hall.kitchen.ron"), KITCHEN).expect("a file");
    fs::write(folder.join("kitchens/secret"), SECRET).expect("a file");
    fs::write(folder.join("kitchens/shed.ron"), KITCHEN).expect("a file");
    let world = World { folder: Some(&folder), ..World::default() };
    let check = |kitchen: &str, more: &[&str]| {
        fs::write(folder.join("m.ron"), MENU.replace("KITCHEN", kitchen)).expect("a file");
        rangewright(&[&["check", "m.ron"], more].concat(), &world)
    };
    assert_eq!(check("kitchens/shed.ron", &[]).exit, Exit::Planned);
    let absolute = home.path().join("secret").display().to_string().replace('\\', "/");
    for outside in ["../secret", &absolute, "kitchens/../../secret", "../hall.kitchen.ron"] {
        let answer = check(outside, &[]);
        assert_eq!(answer.exit, Exit::BadInput, "{outside}");
        assert!(answer.err.contains("--kitchen-anywhere") && !answer.err.contains("keeper"), "{}", answer.err);
    }
    assert_eq!(check("../hall.kitchen.ron", &["--kitchen-anywhere"]).exit, Exit::Planned);
    for (secret, more) in [("kitchens/secret", &[][..]), ("../secret", &["--kitchen-anywhere"][..])] {
        let answer = check(secret, more);
        assert_eq!(answer.exit, Exit::BadInput);
        assert!(answer.err.contains("it is no kitchen") && !answer.err.contains("keeper"), "{}", answer.err);
    }
    let missing = check("kitchens/none.ron", &[]);
    assert_eq!(missing.exit, Exit::Io, "{}", missing.err);
}

#[test]
fn what_a_file_says_never_steers_the_terminal() {
    let evil = "\u{1b}[2J\u{1b}]0;owned\u{7}\u{1b}[31mevil\u{202e}\r\u{9b}";
    let problem = serde_json::json!({"name": evil, "opening": 0, "shifts": [], "pools": {evil: -1},
        "places": [{"id": "oven", "kind": evil}], "dishes": [], "courses": [], "steps": [], "links": []});
    let mut texts = vec![problem.to_string()];
    texts.push(problem.to_string().replace(r#"[{"id":"oven","kind":"#, r#"[],"more":[{"id":"oven","kind":"#));
    texts.push(MENU.replace("Soup", &evil.replace('\r', "\\r")).replace("35 min", evil));
    texts.push(MENU.replace("\"KITCHEN\"", KITCHEN).replace("Soup", evil));
    for text in &texts {
        let world = World { stdin: text.as_bytes(), ..World::default() };
        for format in ["text", "csv", "markdown"] {
            let answer = rangewright(&["plan", "-", "--work", "2000", "--format", format], &world);
            let csv = answer.out.replace("\r\n", "\n");
            for shown in [&csv, &answer.err] {
                let steers = |letter: char| letter.is_control() && letter != '\n' || letter == '\u{202e}';
                assert!(!shown.contains(steers), "{format}: {shown:?}");
            }
        }
    }
}
