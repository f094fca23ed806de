//! A book of dishes: files of their own, faults in the right one, and scaling that is always said.

use rangewright::models::compile::{self, Compiled};
use rangewright::models::faults::{Code, Faults};
use rangewright::models::{examples, read};
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};

const GRATIN: &str = r#"// A dish of the book.
Dish(
    name: "Gratin",
    portions: 12,
    buys: {"potatoes": "2.4 kg"},
    steps: [
        Prep("Slice the potatoes", "30 min"),
        Bake(do: "Bake the gratin", at: "180 C", takes: "65 min", pan: "38 x 26 x 8 cm", weight: "5 kg"),
    ],
)
"#;

fn menu(guests: i64, dishes: &str) -> String {
    format!(
        r#"Menu(name: "Test", kitchen: Kitchen(places: [Oven("oven", "46 x 40 x 36 cm", racks: 3)], fridge_shelves: 2), guests: {guests},
            date: "2026-11-08", zone: "Europe/London", serve: "19:00", dishes: [{dishes}])"#
    )
    .replace("Oven(\"oven\", \"46 x 40 x 36 cm\", racks: 3)", "Oven(name: \"oven\", inside: \"46 x 40 x 36 cm\", racks: 3)")
}

fn read(menu: &str, gratin: &str) -> Result<Compiled, Faults> {
    compile::feast(menu, "menu", |name| match name {
        "gratin.dish.ron" => Ok(gratin.to_owned()),
        "secret.txt" => Ok("root:x:0:0".to_owned()),
        _ => Err("no such file".to_owned()),
    })
}

fn compiled(menu: &str) -> Compiled {
    read(menu, GRATIN).unwrap_or_else(|faults| panic!("{faults}"))
}

/// What every code of a fault is, and in which file and line it is.
fn faults(menu: &str, gratin: &str) -> Vec<(Code, String, usize)> {
    let faults = read(menu, gratin).expect_err("faults");
    let place =
        |at: Option<rangewright::models::faults::Location>| at.map_or((String::new(), 0), |at| (at.file, at.line));
    faults
        .0
        .into_iter()
        .map(|fault| (fault.code, place(fault.at)))
        .map(|(code, (file, line))| (code, file, line))
        .collect()
}

#[test]
fn a_dish_of_the_book_is_the_dish_written_in_the_menu() {
    let inside = GRATIN.trim_start_matches("// A dish of the book.\n");
    for entry in
        ["\"gratin.dish.ron\"", "Dish(dish: \"gratin.dish.ron\")", "Dish(dish: \"gratin.dish.ron\", scale: false)"]
    {
        assert_eq!(compiled(&menu(12, entry)).problem, compiled(&menu(12, inside)).problem, "{entry}");
    }
    let json = r#"{"Dish": {"name": "Gratin", "portions": 12, "steps": [{"Prep": ["Slice the potatoes", "30 min"]}]}}"#;
    assert!(read(&menu(12, "\"gratin.dish.ron\""), json).is_ok());
}

/// What the menu says of a dish goes before what its file says.
#[test]
fn a_menu_names_a_dish_and_its_course() {
    let own = compiled(&menu(
        12,
        r#"Dish(dish: "gratin.dish.ron", name: "Another gratin", course: "supper", for: "vegetarian"), "gratin.dish.ron""#,
    )
    .replace("guests: 12", "guests: 12, diets: {\"vegetarian\": 12}"));
    let names: Vec<&str> = own.problem.dishes.iter().map(|dish| dish.name.as_str()).collect();
    assert_eq!(names, ["Another gratin", "Gratin"]);
}

#[test]
fn faults_are_in_the_file_they_are_in() {
    let gratin = |code: Code, line| (code, "gratin.dish.ron".to_owned(), line);
    let entry = menu(12, "\"gratin.dish.ron\"");
    assert_eq!(faults(&entry, &GRATIN.replace("65 min", "65 kg")), [gratin(Code::WrongUnit, 8)]);
    assert_eq!(faults(&entry, &GRATIN.replace("38 x 26", "98 x 96")), [gratin(Code::PanTooLarge, 8)]);
    assert_eq!(faults(&entry, &GRATIN.replace("    portions: 12,\n", "")), [gratin(Code::MissingField, 2)]);
    assert_eq!(
        faults(&entry, &GRATIN.replace("portions: 12,", "portions: 12, dish: \"x\",")),
        [gratin(Code::UnknownField, 4)]
    );
    assert_eq!(faults(&entry, &GRATIN.replace("\"30 min\")", "\"30 min\"")), [gratin(Code::Syntax, 9)]);
    let of_menu = |dishes: &str| {
        faults(&menu(12, dishes), GRATIN).into_iter().map(|(code, file, _)| (code, file)).collect::<Vec<_>>()
    };
    assert_eq!(of_menu("\"lost.dish.ron\""), [(Code::NoDish, "menu".to_owned())]);
    assert_eq!(of_menu("\"secret.txt\""), [(Code::NoDish, "menu".to_owned())]);
    assert_eq!(of_menu("Dish(dish: \"gratin.dish.ron\", steps: [])"), [(Code::UnknownField, "menu".to_owned())]);
    let shown = read(&menu(12, "\"secret.txt\""), GRATIN).unwrap_err().to_string();
    assert!(!shown.contains("root"), "{shown}");
}

/// Twice as many: two pans, said as such, and the shopping follows. Children eat half.
#[test]
fn a_dish_of_the_book_is_made_for_those_who_eat_of_it() {
    let scaled = |guests: i64, more: &str| {
        compiled(
            &menu(guests, "\"gratin.dish.ron\"")
                .replace(&format!("guests: {guests}"), &format!("guests: {guests}{more}")),
        )
    };
    let own = scaled(24, "");
    let bakes: Vec<&str> = own.problem.steps.iter().filter(|step| step.kind == "bake").map(|step| &*step.id).collect();
    assert_eq!(bakes, ["gratin/bake", "gratin/bake-2"]);
    assert_eq!(own.labels.shopping[0].hundredths, 480_000);
    let said = own.labels.dishes["gratin"].scaled.as_ref().expect("it is said");
    assert_eq!((said.written, said.made, said.said()), (12, 48, "written for 12 portions, made for 24".to_owned()));
    let changes: Vec<String> = said.changes.iter().map(|own| format!("{}: {}", own.what, own.made)).collect();
    assert_eq!(changes, ["Potatoes: 4.8 kg", "Slice the potatoes: 52 min", "Bake the gratin: 2 pans of 5 kg"]);
    let children = scaled(24, ", children: 10");
    assert_eq!(children.labels.dishes["gratin"].scaled.as_ref().map(|own| own.made), Some(38));
    assert_eq!(scaled(12, "").labels.dishes["gratin"].scaled, None);
    assert_eq!(faults(&menu(140, "\"gratin.dish.ron\""), GRATIN)[0].0, Code::DoesNotScale);
}

/// Nothing is scaled unless it is asked for: a menu whose guests are changed is planned as it was, and the change is doubted.
#[test]
fn nothing_is_scaled_in_silence() {
    let inside = GRATIN.trim_start_matches("// A dish of the book.\n");
    let written = |guests: i64, more: &str| menu(guests, inside).replace("zone:", &format!("{more}zone:"));
    let problem = |text: &str| compiled(text).problem;
    assert_eq!(problem(&written(60, "")), problem(&written(12, "")));
    let doubts = |text: &str| {
        let feast = read::feast(text, "menu", |_| Ok(GRATIN.to_owned())).expect("it is read");
        let compiled = compile::compile(&feast).expect("it is compiled");
        compile::doubts(&feast, &compiled).into_iter().map(|doubt| (doubt.code, doubt.cause)).collect::<Vec<_>>()
    };
    assert_eq!(doubts(&written(12, "")), []);
    assert_eq!(doubts(&written(13, "")), [], "a tenth more is nothing to speak of");
    let found = doubts(&written(60, ""));
    assert_eq!(found.iter().map(|own| own.0).collect::<Vec<_>>(), [Code::OtherPortions]);
    assert!(found[0].1.contains("written for 12 portions, and 60 are eaten"), "{found:?}");
    assert_eq!(doubts(&menu(60, "Dish(dish: \"gratin.dish.ron\", scale: false)"))[0].0, Code::OtherPortions);
    assert_eq!(doubts(&written(60, "scale: true, ")), []);
    // For all dishes that do not say it themselves.
    let plain = inside.replace("    portions: 12,\n", "");
    let text = menu(24, &plain).replace("zone:", "portions: 12, scale: true, zone:");
    assert_eq!(problem(&text), problem(&menu(24, "\"gratin.dish.ron\"")));
    assert_eq!(faults(&menu(24, &plain.replace("name:", "scale: true, name:")), GRATIN)[0].0, Code::MissingField);
}

/// Several joints go each their own way from stage to stage, and are carved when all are there.
#[test]
fn several_joints_are_planned_side_by_side() {
    let dish = r#"Dish(name: "Loin", portions: 10, steps: [
        Joint(meat: pork, cut: loin, weight: "2 kg", thickness: "9 cm", to: "66 C", accepts: "160 C", last: Hot("220 C", "10 min"), pan: "36 x 18 x 10 cm"),
        Carve("Carve the loin", "6 min"),
    ])"#;
    let own = read(&menu(20, "\"gratin.dish.ron\""), dish).unwrap_or_else(|faults| panic!("{faults}"));
    let ids: Vec<&str> = own.problem.steps.iter().map(|step| &*step.id).collect();
    assert_eq!(
        ids,
        ["roast", "roast-2", "finish", "finish-2", "rest", "rest-2", "carve"].map(|id| format!("loin/{id}"))
    );
    let from =
        |id: &str| own.problem.links.iter().filter(|link| link.to == id).map(|link| &*link.from).collect::<Vec<_>>();
    assert_eq!(from("loin/finish-2"), ["loin/roast-2"]);
    assert_eq!(from("loin/rest"), ["loin/finish"]);
    assert_eq!(from("loin/carve"), ["loin/rest", "loin/rest-2"]);
    assert!(own.problem.links.iter().any(|link| link.to == "loin/finish-2" && link.stay));
}

/// The example is planned on time, says what it scales, and the book can be looked through.
#[test]
fn the_example_says_what_it_scales_and_its_book_is_looked_through() {
    let home = tempfile::tempdir().expect("a folder");
    let example = examples::ALL.iter().find(|own| own.name == "thirty").expect("it is shipped");
    let files = [(example.menu_name, example.menu), (example.kitchen_name, example.kitchen)];
    for (name, text) in files.into_iter().chain(example.dishes.iter().copied()) {
        std::fs::write(home.path().join(name), text).expect("a file");
    }
    let asked = |args: &[&str]| rangewright(args, &World { folder: Some(home.path()), ..World::default() });
    let plan = asked(&["plan", example.menu_name, "--work", "50000"]);
    assert_eq!((plan.exit, plan.err.as_str()), (Exit::Planned, ""));
    for part in [
        "MADE FOR MORE OR FEWER",
        "have no source",
        "made for 28",
        "3 pans of 4.11 kg, not 1 pan of 5 kg",
        "4 batches, not 1 batch",
    ] {
        assert!(plan.out.replace("\n  ", " ").contains(part), "{part}: {}", plan.out);
    }
    assert!(!plan.out.contains("later than wanted"), "{}", plan.out);
    let unscaled = example.menu.replace("Dish(dish: \"leek", "Dish(scale: false, dish: \"leek");
    std::fs::write(home.path().join("plain.menu.ron"), unscaled).expect("a file");
    let plan = asked(&["plan", "plain.menu.ron", "--work", "50000"]);
    assert!(plan.err.starts_with("warning: RW407") && plan.err.contains("written for 12 portions"), "{}", plan.err);
    let all = asked(&["dishes"]).out;
    assert!(all.contains("Potato and leek gratin, for 12 portions") && all.ends_with("3 dishes in ..\n"), "{all}");
    let found = asked(&["dishes", "leek", "MILK"]).out;
    assert!(found.contains("leek-gratin.dish.ron") && found.contains("1 of 3 dishes"), "{found}");
    assert_eq!(asked(&["dishes", "--book", "nowhere"]).exit, Exit::Io);
    std::fs::write(home.path().join("odd.dish.ron"), "Dish(\"Odd\", [])").expect("a file");
    let odd = asked(&["dishes"]);
    assert!(odd.exit == Exit::BadInput && odd.err.contains("odd.dish.ron") && odd.out.contains("gratin"), "{odd:?}");
}
