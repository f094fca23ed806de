//! Faults of menus and kitchens: every code is provoked, with its line; nothing makes the reader panic or hang.

use rangewright::models::compile::{self, Compiled, compile};
use rangewright::models::faults::{Code, Fault, Faults};
use rangewright::models::kitchen::ApplianceKind;
use rangewright::models::{examples, read};

/// One field on each line, so that a fault's line says which field it means.
const KITCHEN: &str = r#"Kitchen(
    name: "Test kitchen",
    places: [
        Oven(name: "oven", inside: "44 x 38 x 32 cm", range: "50 to 250 C"),
        Burners(name: "burner", count: 2, dial: "1 to 9", pans: "12 to 30 cm"),
    ],
    pans: [Pan(name: "tin", size: "40 x 30 x 8 cm", count: 1)],
    pools: {"mixer": 1},
    cooks: [Cook(name: "Ines", shifts: ["12:00 to 20:00"])],
)
"#;

const MENU: &str = r#"Menu(
    name: "Test supper",
    kitchen: "test.kitchen.ron",
    guests: 4,
    date: "2026-11-08",
    zone: "Europe/London",
    serve: "19:00",
    dishes: [
        Dish(
            name: "Roots",
            steps: [
                Prep("Cut the roots", "15 min"),
                Roast(at: "200 C", takes: "45 min", pan: "tin"),
            ],
        ),
        Dish(name: "Mash", steps: [Boil("Boil", "20 min"), Prep("Mash", "6 min")]),
    ],
)
"#;

fn read_both(menu: &str, kitchen: &str) -> Result<Compiled, Faults> {
    compile::feast(menu, "menu", |name| match name {
        "test.kitchen.ron" => Ok(kitchen.to_owned()),
        _ => Err("no such file".to_owned()),
    })
}

fn faults(menu: &str, kitchen: &str) -> Vec<Fault> {
    read_both(menu, kitchen).err().map_or_else(Vec::new, |faults| faults.0)
}

/// What a fault is of, in which file, on which line.
fn places(faults: &[Fault]) -> Vec<(Code, &str, usize)> {
    faults.iter().filter_map(|fault| fault.at.as_ref().map(|at| (fault.code, &*at.file, at.line))).collect()
}

/// A part of the menu, what is written in its place, and the fault that must be found, alone, on this line of the menu.
const IN_MENU: &[(&str, &str, Code, usize)] = &[
    ("guests: 4,", "guests: 4", Code::Syntax, 5),
    ("test.kitchen.ron", "lost.kitchen.ron", Code::NoKitchen, 3),
    ("name: \"Test supper\"", "name: [\"Test\"]", Code::Shape, 2),
    ("guests: 4", "gests: 4", Code::UnknownField, 4),
    ("date: \"2026-11-08\",", "", Code::MissingField, 1),
    ("guests: 4,", "guests: 4, guests: 5,", Code::SaidTwice, 4),
    ("Prep(\"Cut", "Perp(\"Cut", Code::UnknownWord, 12),
    ("\"15 min\"", "\"a while\"", Code::NotAQuantity, 12),
    ("\"200 C\"", "\"200\"", Code::NoUnit, 13),
    ("takes: \"45 min\"", "takes: 45", Code::NoUnit, 13),
    ("\"45 min\"", "\"45 kg\"", Code::WrongUnit, 13),
    ("\"45 min\"", "\"45.5 min\"", Code::NotWhole, 13),
    ("guests: 4", "guests: 4.5", Code::NotWhole, 4),
    ("\"200 C\"", "\"4000 C\"", Code::Absurd, 13),
    ("\"45 min\"", "\"-45 min\"", Code::Absurd, 13),
    ("guests: 4", "guests: NaN", Code::Absurd, 4),
    ("guests: 4", "guests: inf", Code::Absurd, 4),
    ("guests: 4", "guests: -4", Code::Absurd, 4),
    ("\"45 min\"", "\"45 to 40 min\"", Code::UpsideDown, 13),
    ("serve: \"19:00\"", "serve: \"19\"", Code::NotAClock, 7),
    ("serve: \"19:00\"", "serve: \"19:60\"", Code::NotAClock, 7),
    ("2026-11-08", "2026-02-30", Code::NotADate, 5),
    ("Europe/London", "Europe/Lundun", Code::UnknownZone, 6),
    ("pan: \"tin\")", "pan: \"tin\", hands: 1, load: \"2 min\")", Code::Contradiction, 13),
    ("pan: \"tin\")", "pan: \"tin\", between: \"50 to 60 min\")", Code::Contradiction, 13),
    ("pan: \"tin\")", "pan: \"tin\", between: \"40 to 60 min\", late: \"5 min\")", Code::Contradiction, 13),
    ("pan: \"tin\")", "pan: \"tin\", between: \"40 min or more\")", Code::NotAQuantity, 13),
    ("pan: \"tin\")", "pan: \"tin\", between: \"60 to 40 min\")", Code::UpsideDown, 13),
    ("pan: \"tin\")", "pan: \"tin\", between: \"0 to 60 min\")", Code::Absurd, 13),
    ("pan: \"tin\"", "pan: \"tim\"", Code::UnknownName, 13),
    ("pan: \"tin\")", "pan: \"tin\", place: \"stove\")", Code::UnknownName, 13),
    ("pan: \"tin\")", "pan: \"tin\", uses: [\"blender\"])", Code::UnknownName, 13),
    ("pan: \"tin\")", "pan: \"tin\", after: \"peel\")", Code::UnknownName, 13),
    ("name: \"Roots\",", "name: \"Roots\", course: \"sweet\",", Code::UnknownName, 10),
    ("name: \"Mash\"", "name: \"roots\"", Code::DuplicateName, 16),
    ("name: \"Mash\"", "name: \"Mash\", buys: [\"leeks\"]", Code::Shape, 16),
    ("name: \"Mash\"", "name: \"Mash\", buys: {\"leeks\": \"some\"}", Code::NotAQuantity, 16),
    ("name: \"Mash\"", "name: \"Mash\", buys: {\"leeks\": \"2 kg 3 oz 4\"}", Code::NotAQuantity, 16),
    ("name: \"Mash\"", "name: \"Mash\", buys: {\"leeks\": 0}", Code::Absurd, 16),
    ("name: \"Mash\"", "name: \"Mash\", buys: {\"leeks\": 1.5}", Code::NotWhole, 16),
    (
        "\"15 min\")",
        "\"15 min\"), Prep(id: \"x\", takes: \"1 min\"), Prep(id: \"x\", takes: \"1 min\")",
        Code::DuplicateName,
        12,
    ),
    ("Prep(\"Cut the roots\", \"15 min\")", "Prep(takes: \"15 min\", after: \"roast\")", Code::Circle, 12),
    ("[Boil(\"Boil\", \"20 min\"), Prep(\"Mash\", \"6 min\")]", "[]", Code::NothingIn, 16),
    (
        "serve: \"19:00\"",
        "courses: [Course(\"one\", \"18:00\"), Course(\"two\", \"19:00\")], ties: [Tie(from: \"Mash\", to: \"Roots/roast\")]",
        Code::NotServed,
        9,
    ),
    ("serve: \"19:00\"", "serve: \"20:30\"", Code::ServeOffShift, 7),
    ("serve: \"19:00\"", "serve: \"day after 19:00\"", Code::ServeOffShift, 7),
    ("\"15 min\")", "\"15 min\"), Prep(takes: \"30 min\", from: \"13:00\", by: \"13:20\")", Code::NoRoomInTime, 12),
    ("\"15 min\")", "\"15 min\"), Prep(takes: \"30 min\", on: \"day before\")", Code::NoRoomInTime, 12),
    ("pan: \"tin\"", "pan: \"50 x 40 x 8 cm\"", Code::PanTooLarge, 13),
    ("pan: \"tin\"", "pan: \"40 x 30 x 30 cm\"", Code::PanTooLarge, 13),
    ("Boil(\"Boil\", \"20 min\")", "Boil(takes: \"20 min\", pan: \"40 cm\")", Code::PanTooLarge, 16),
    ("\"200 C\"", "\"300 C\"", Code::NoAppliance, 13),
    ("pan: \"tin\")", "pan: \"tin\", heat: Steam)", Code::NoAppliance, 13),
    ("pan: \"tin\")", "pan: \"tin\", weight: \"40 kg\")", Code::NoAppliance, 13),
    ("pan: \"tin\")", "pan: \"tin\", place: \"burner\")", Code::NoAppliance, 13),
    (", pan: \"tin\")", ")", Code::NeedsPan, 13),
    (
        "Roast(at: \"200 C\", takes: \"45 min\", pan: \"tin\")",
        "Joint(meat: pork, cut: slab, to: \"66 C\", accepts: \"160 C\", pan: \"tin\")",
        Code::Unroastable,
        13,
    ),
    (
        "Roast(at: \"200 C\", takes: \"45 min\", pan: \"tin\")",
        "Joint(meat: pork, cut: loin, weight: \"2 kg\", to: \"66 C\", accepts: \"160 C\", start: frozen, pan: \"tin\")",
        Code::NoThawing,
        13,
    ),
    ("pan: \"tin\"", "pan: \"30 cm\"", Code::NeedsPan, 13),
    ("pan: \"tin\")", "pan: \"tin\"), Prep(takes: \"5 min\", stay: true)", Code::CannotStay, 13),
    (
        "pan: \"tin\")",
        "pan: \"tin\"), Finish(at: \"230 C\", takes: \"10 min\", pan: \"tin\", gap: \"up to 5 min\")",
        Code::CannotStay,
        13,
    ),
    ("pan: \"tin\")", "pan: \"tin\", uses: {\"mixer\": 2})", Code::NotEnough, 13),
    ("pan: \"tin\")", "pan: \"tin\", hands: 3)", Code::NotEnough, 13),
    ("pan: \"tin\")", "pan: \"tin\", load: \"50 min\")", Code::TooShort, 13),
    ("pan: \"tin\")", "pan: \"tin\", shut: \"50 min\")", Code::TooShort, 13),
    ("pan: \"tin\")", "pan: \"tin\", touches: [Touch(\"Turn\", \"45 min\")])", Code::TooShort, 13),
];

const IN_KITCHEN: &[(&str, &str, Code, usize)] = &[
    ("\"44 x 38 x 32 cm\"", "\"44 x 38 cm\"", Code::NotAQuantity, 4),
    ("\"44 x 38 x 32 cm\"", "\"44 x 38 x 32\"", Code::NoUnit, 4),
    ("\"50 to 250 C\"", "\"50 to 4000 C\"", Code::Absurd, 4),
    ("Oven(", "Ofen(", Code::UnknownWord, 4),
    ("count: 2", "count: 0", Code::Absurd, 5),
    ("\"burner\"", "\"oven\"", Code::DuplicateName, 5),
    ("\"mixer\"", "\"tin\"", Code::DuplicateName, 7),
    ("[\"12:00 to 20:00\"]", "[\"12:00 to 16:00\", \"15:00 to 20:00\"]", Code::ShiftsOverlap, 9),
    ("[\"12:00 to 20:00\"]", "[]", Code::NothingIn, 9),
    ("\"12:00 to 20:00\"", "\"12:00\"", Code::NotAClock, 9),
];

fn changed(text: &str, part: &str, by: &str) -> String {
    assert_eq!(text.matches(part).count(), 1, "{part:?} stands once in the text");
    text.replace(part, by)
}

#[test]
fn the_unchanged_texts_have_no_fault() {
    assert_eq!(faults(MENU, KITCHEN), []);
}

#[test]
fn every_fault_is_found_alone_and_on_its_line() {
    for &(part, by, code, line) in IN_MENU {
        let found = faults(&changed(MENU, part, by), KITCHEN);
        assert!(places(&found).contains(&(code, "menu", line)), "{by:?}: {found:#?}");
        assert!(found.iter().all(|fault| fault.code == code || consequence(code, fault.code)), "{by:?}: {found:#?}");
    }
    for &(part, by, code, line) in IN_KITCHEN {
        let found = faults(MENU, &changed(KITCHEN, part, by));
        assert!(places(&found).contains(&(code, "test.kitchen.ron", line)), "{by:?}: {found:#?}");
    }
}

/// What one fault cannot do without: the second of two courses stays empty when no dish says its course.
fn consequence(of: Code, code: Code) -> bool {
    (of, code) == (Code::NotServed, Code::NothingIn)
}

#[test]
fn clock_changes_are_refused_with_the_reason() {
    // British clocks went forward at 1:00 on 29 March 2026 and back at 2:00 on 25 October 2026.
    let on = |date: &str, shift: &str| {
        let kitchen = changed(KITCHEN, "12:00 to 20:00", shift);
        faults(&changed(MENU, "2026-11-08", date), &kitchen)
    };
    let skipped = on("2026-03-29", "1:30 to 20:00");
    assert!(places(&skipped).contains(&(Code::SkippedTime, "test.kitchen.ron", 9)), "{skipped:#?}");
    let twice = on("2026-10-25", "1:30 to 20:00");
    assert!(places(&twice).contains(&(Code::RepeatedTime, "test.kitchen.ron", 9)), "{twice:#?}");
    assert_eq!(on("2026-10-25", "0:30 to 20:00"), []);
}

#[test]
fn whole_texts_that_are_no_menu() {
    let of = |menu: &str| faults(menu, KITCHEN).iter().map(|fault| fault.code).collect::<Vec<_>>();
    assert_eq!(of(""), [Code::Empty]);
    assert_eq!(of(" \n\t"), [Code::Empty]);
    assert_eq!(of("\u{feff}"), [Code::Empty]);
    assert_eq!(of("\0\0\0"), [Code::Syntax]);
    assert_eq!(of("42"), [Code::Shape]);
    assert_eq!(of("\"Menu\""), [Code::Shape]);
    assert_eq!(of("{"), [Code::Syntax]);
    assert_eq!(of(&"(".repeat(100_000)), [Code::Syntax]);
    assert_eq!(of(&"[".repeat(100_000)), [Code::Syntax]);
    assert_eq!(of(&"{\"a\":".repeat(100_000)), [Code::Syntax]);
    assert_eq!(of(&"Some(".repeat(100_000)), [Code::Syntax]);
    assert_eq!(of(&"x".repeat(10_000_000)), [Code::TooLong]);
    assert!(!of("Menu").is_empty());
    assert!(!of("Menu()").is_empty());
    assert!(!of("[1, 2, 3]").is_empty());
}

#[test]
fn a_plan_that_a_feast_built_in_code_cannot_mean_is_refused() {
    let mut feast = read::feast(MENU, "menu", |_| Ok(KITCHEN.to_owned())).unwrap();
    let ApplianceKind::Cavity(oven) = &mut feast.kitchen.places[0].kind else { panic!("the oven comes first") };
    oven.rise = 0;
    let faults = compile(&feast).unwrap_err().0;
    assert_eq!(faults.iter().map(|fault| fault.code).collect::<Vec<_>>(), [Code::Refused]);
    assert_eq!(faults[0].at, None);
}

/// Every code is provoked by a test of this file.
#[test]
fn every_code_has_its_test() {
    let tabled = IN_MENU.iter().chain(IN_KITCHEN).map(|&(_, _, code, _)| code);
    let elsewhere = [Code::Empty, Code::TooLong, Code::SkippedTime, Code::RepeatedTime, Code::Refused];
    // Those of dishes in files of their own, and of scaling, in the tests of the book.
    let book = [Code::NoDish, Code::DoesNotScale, Code::OtherPortions];
    // Doubts are provoked beside what looks for them.
    let doubts =
        [Code::LargerThanLife, Code::Backwards, Code::OddPortion, Code::OddHeat, Code::OutOfTime, Code::OddMinutes];
    let tested: Vec<Code> = tabled.chain(elsewhere).chain(book).chain(doubts).collect();
    let untested: Vec<&Code> = Code::ALL.iter().filter(|code| !tested.contains(code)).collect();
    assert_eq!(untested, [] as [&Code; 0]);
}

/// Reading alone says what cannot be read; what makes no sense is said by compiling.
#[test]
fn what_cannot_be_read_and_what_makes_no_sense_are_told_apart_and_told_together() {
    let menu = MENU.replace("pan: \"tin\"", "pan: \"cauldron\"").replace("\"20 min\"", "\"20 kg\"");
    let kitchen = |_: &str| Ok(KITCHEN.to_owned());
    let codes = |faults: Faults| faults.iter().map(|fault| fault.code).collect::<Vec<_>>();
    assert_eq!(codes(read::feast(&menu, "menu", kitchen).unwrap_err()), [Code::WrongUnit]);
    assert_eq!(codes(compile::feast(&menu, "menu", kitchen).unwrap_err()), [Code::UnknownName, Code::WrongUnit]);
    let unread = read::feast(&menu.replace("20 kg", "20 min"), "menu", kitchen).unwrap();
    assert_eq!(codes(compile(&unread).unwrap_err()), [Code::UnknownName]);
}

#[test]
fn faults_of_both_texts_are_found_at_once() {
    let menu = MENU.replace("\"200 C\"", "\"200\"").replace("guests", "gests").replace("\"20 min\"", "\"20 kg\"");
    let kitchen = KITCHEN.replace("44 x 38", "44 y 38").replace("\"mixer\": 1", "\"mixer\": -1");
    let found = faults(&menu, &kitchen);
    let expected = [
        (Code::UnknownField, "menu", 4),
        (Code::NoUnit, "menu", 13),
        (Code::WrongUnit, "menu", 16),
        (Code::WrongUnit, "test.kitchen.ron", 4),
        (Code::Absurd, "test.kitchen.ron", 8),
    ];
    assert_eq!(places(&found), expected, "{found:#?}");
}

#[test]
fn a_fault_points_at_the_bytes_and_the_column() {
    let menu = changed(MENU, "\"Cut the roots\", \"15 min\"", "\"Würfeln\", \"15 sacks\"");
    let found = faults(&menu, KITCHEN);
    let at = found[0].at.as_ref().unwrap();
    assert_eq!(&menu[at.start..at.end], "\"15 sacks\"");
    assert_eq!((at.line, at.column), (12, 33));
    assert!(found[0].remedy.contains("min"), "{:?}", found[0]);
}

#[test]
fn a_circle_is_named_step_by_step() {
    let menu = changed(MENU, "Prep(\"Cut the roots\", \"15 min\")", "Prep(takes: \"15 min\", after: \"roast\")");
    let found = faults(&menu, KITCHEN);
    assert!(
        found[0].cause.contains("\"roots/roast\", then \"roots/prep\", then \"roots/roast\""),
        "{}",
        found[0].cause
    );
}

#[test]
fn near_names_are_suggested() {
    let menu = changed(MENU, "pan: \"tin\"", "pan: \"tim\"");
    assert!(faults(&menu, KITCHEN)[0].remedy.contains("did you mean \"tin\"?"));
    let menu = changed(MENU, "takes: \"45 min\"", "tkes: \"45 min\"");
    assert!(faults(&menu, KITCHEN).iter().any(|fault| fault.remedy.contains("did you mean \"takes\"?")));
}

#[test]
fn long_simmers_are_allowed() {
    assert_eq!(
        faults(
            &changed(MENU, "Boil(\"Boil\", \"20 min\")", "Simmer(takes: \"40 h\", from: \"2 days before 0:00\")"),
            &changed(
                KITCHEN,
                "\"12:00 to 20:00\"",
                "\"2 days before 0:00 to 2 days before 23:00\", \"12:00 to 20:00\"",
            )
        ),
        []
    );
}

#[test]
fn a_thousand_dishes_are_read_within_seconds() {
    let mut dishes = String::new();
    for number in 0..1_000 {
        dishes += &format!(
            "Dish(name: \"Dish {number}\", steps: [Prep(\"Cut\", \"5 min\"), Roast(at: \"180 C\", takes: \"30 min\", pan: \"20 x 15 x 5 cm\")]),\n"
        );
    }
    let mash = "Dish(name: \"Mash\", steps: [Boil(\"Boil\", \"20 min\"), Prep(\"Mash\", \"6 min\")]),";
    let menu = changed(MENU, mash, &dishes);
    let started = std::time::Instant::now();
    assert_eq!(read_both(&menu, KITCHEN).unwrap().problem.steps.len(), 2_002);
    // On one long line, with a fault in every dish.
    let menu = menu.replace('\n', " ").replace("5 min", "5 mni");
    assert_eq!(faults(&menu, KITCHEN).len(), 1_001 + 1);
    assert!(started.elapsed().as_secs() < 20, "{:?}", started.elapsed());
}

/// The longest text that is read at all, nested as deeply as anything is.
#[test]
fn a_long_and_deep_text_does_not_hang() {
    let deep = format!("{}{}{}", "[".repeat(12), "1, ".repeat(690_000), "]".repeat(12));
    let started = std::time::Instant::now();
    assert!(deep.len() < read::LONGEST && !faults(&deep, KITCHEN).is_empty());
    assert!(started.elapsed().as_secs() < 60, "{:?}", started.elapsed());
}

/// Broken copies of the examples: no byte taken out or doubled makes the reader panic.
#[test]
fn broken_examples_are_refused_or_read() {
    std::thread::scope(|threads| {
        for example in examples::ALL {
            threads.spawn(move || broken_copies(example));
        }
    });
}

fn broken_copies(example: &examples::Example) {
    let chars: Vec<(usize, char)> = example.menu.char_indices().collect();
    for &(at, c) in chars.iter().step_by(29) {
        let end = at + c.len_utf8();
        for by in ["", "\"", "-9"] {
            let menu = format!("{}{by}{}", &example.menu[..at], &example.menu[end..]);
            let _ = compile::feast(&menu, example.menu_name, |name| example.kitchen_text(name));
        }
    }
}

#[test]
fn the_usual_slips_are_answered_with_what_to_do() {
    let curly = faults(&MENU.replace("\"Roots\"", "\u{201c}Roots\u{201d}"), KITCHEN);
    assert_eq!(places(&curly), [(Code::Syntax, "menu", 10)]);
    assert_eq!(curly[0].remedy, "write straight quotation marks: \"...\"");
    // A kitchen given for a menu is one slip, not a fault for each of its fields.
    let kitchen = faults(KITCHEN, KITCHEN);
    assert_eq!(places(&kitchen), [(Code::UnknownWord, "menu", 1)]);
    assert!(kitchen[0].cause.contains("this is a kitchen"), "{}", kitchen[0].cause);
    assert!(kitchen[0].remedy.contains("a menu that names this kitchen"), "{}", kitchen[0].remedy);
    // Steps are called what the cook calls them, and times are those of a clock.
    let late = "Prep(do: \"Cut the roots\", takes: \"2 h 30 min\", from: \"13:00\", by: \"14:20\")";
    let late = faults(&MENU.replace("Prep(\"Cut the roots\", \"15 min\")", late), KITCHEN);
    assert_eq!(places(&late), [(Code::NoRoomInTime, "menu", 12)]);
    let said = "\"Cut the roots\" takes 2 h 30, but has only from 13:00 on 8 November to 14:20 on 8 November";
    assert_eq!(late[0].cause, said);
}
