//! What menus mean: formats, building blocks, units, days, and that whatever is compiled is a legal problem.

use proptest::prelude::*;
use rangewright::models::compile::{self, Compiled};
use rangewright::models::menu::{Kind, Measure};
use rangewright::models::problem::{Problem, Step, Wait};
use rangewright::models::{examples, read};

fn compiled(menu: &str, kitchen: &str) -> Compiled {
    compile::feast(menu, "menu", |_| Ok(kitchen.to_owned())).unwrap_or_else(|faults| panic!("{faults}"))
}

fn step<'a>(problem: &'a Problem, id: &str) -> &'a Step {
    problem.steps.iter().find(|step| step.id == id).unwrap_or_else(|| panic!("no step {id}"))
}

const KITCHEN: &str = r#"(places: [
    Oven(name: "left oven", inside: "44 x 38 x 32 cm", heats: [Fan, Static]),
    Oven(name: "right oven", inside: "40 x 36 x 20 cm", heats: [Static], range: "50 to 200 C"),
    Burners(name: "burner", count: 2, dial: "1 to 9"),
    Top(name: "top", dial: "1 to 9", parts: [Part("hot end", "30 x 40 cm", "6 to 9"), Part("cool end", "30 x 40 cm", "1 to 4")]),
], pans: [Pan("tin", "30 x 28 x 8 cm", 1)], fridge_shelves: 2, pools: {"socket": "3 kW"})"#;

fn menu(steps: &str) -> String {
    format!(
        "(name: \"Test\", kitchen: \"k\", guests: 9, date: \"2026-11-08\", zone: \"Europe/London\", serve: \"19:00\",
          cooks: [Cook(\"Ines\", [\"day before 8:00 to 20:00\", \"8:00 to 20:00\"])], dishes: [Dish(\"Dish\", [{steps}])])"
    )
}

fn problem_of(steps: &str) -> Problem {
    compiled(&menu(steps), KITCHEN).problem
}

#[test]
fn the_same_data_is_accepted_as_json() {
    let ron = r#"Menu(name: "Supper", kitchen: Kitchen(places: [Oven("oven", "44 x 38 x 32 cm"), Burners(name: "hob", count: 2)]),
        guests: 4, date: "2026-11-08", zone: "Europe/London", units: F, serve: "19:00", dishes: [
        Dish("Roots", [Prep("Cut", "15 min"), Roast(at: "200 C", takes: "45 min", pan: "40 x 30 x 8 cm", heat: [Fan, Static],
            ways: [Way("200 C", "45 min"), Way(at: "180 C", takes: "60 min", cost: 3)])]),
        Dish(name: "Mash", contains: [Egg], steps: [Boil("Boil", "20 min"), Plate(), Rest(takes: "1 to 2 min", keeps: Wait(rate: 2, after: 4))])])"#;
    let json = r#"{"name": "Supper", "kitchen": {"places": [{"Oven": ["oven", "44 x 38 x 32 cm"]}, {"Burners": {"name": "hob", "count": 2}}]},
        "guests": 4, "date": "2026-11-08", "zone": "Europe/London", "units": "F", "serve": "19:00", "dishes": [
        {"name": "Roots", "steps": [{"Prep": ["Cut", "15 min"]}, {"Roast": {"at": "200 C", "takes": "45 min", "pan": "40 x 30 x 8 cm",
            "heat": ["fan", "static"], "ways": [{"at": "200 C", "takes": "45 min"}, {"at": "180 C", "takes": "60 min", "cost": 3}]}}]},
        {"name": "Mash", "contains": ["egg"], "course": null, "steps": [{"Boil": ["Boil", "20 min"]}, {"Plate": {}},
            {"Rest": {"takes": "1 to 2 min", "keeps": {"rate": 2, "after": 4}}}]}]}"#;
    let [ron, json] = [ron, json].map(|text| compiled(text, ""));
    assert_eq!(ron.problem, json.problem);
    assert_eq!(ron.labels, json.labels);
}

#[test]
fn ways_times_ovens_are_modes() {
    let problem = problem_of(
        "Roast(pan: \"38 x 30 x 8 cm\", ways: [Way(\"150 C\", \"95 min\"), Way(at: \"175 C\", takes: \"70 min\", heat: [Fan, Static])])",
    );
    let modes: Vec<_> = (step(&problem, "dish/roast").modes.iter())
        .map(|mode| (mode.place.as_deref().unwrap(), mode.min, mode.t.unwrap(), format!("{:?}", mode.heat.unwrap())))
        .collect();
    let fan = "Fan".to_owned();
    let still = "Static".to_owned();
    let expected = [
        ("left-oven", 95, [145, 155], fan.clone()),
        ("right-oven", 95, [145, 155], still.clone()),
        ("left-oven", 70, [170, 180], fan),
        ("left-oven", 70, [170, 180], still.clone()),
        ("right-oven", 70, [170, 180], still),
    ];
    assert_eq!(modes, expected);
}

/// A range is said by its ends or by what is early and late; a way's own takes the place of the step's. It travels with the
/// words, and as the mode's spread, which binds nobody.
#[test]
fn minutes_have_a_range() {
    let ranges = |step_text: &str| -> Vec<Option<[i64; 2]>> {
        let Compiled { problem, labels } = compiled(&menu(step_text), KITCHEN);
        let (step, words) = (&problem.steps[0], &labels.steps[&problem.steps[0].id]);
        assert_eq!(step.modes.len(), words.modes.len());
        (step.modes.iter().zip(&words.modes))
            .map(|(mode, words)| {
                let range = words.range?;
                let [early, late] = mode.spread.unwrap();
                assert_eq!([(mode.min - early).max(1), mode.min + late], [range.shortest, range.longest]);
                Some([range.shortest, range.longest])
            })
            .collect()
    };
    assert_eq!(ranges("Prep(takes: \"45 min\")"), [None]);
    assert_eq!(ranges("Prep(takes: \"45 min\", between: \"40 to 55 min\")"), [Some([40, 55])]);
    assert_eq!(ranges("Prep(takes: \"45 min\", early: \"5 min\", late: \"10 min\")"), [Some([40, 55])]);
    assert_eq!(ranges("Prep(takes: \"45 min\", early: \"2 h\")"), [Some([1, 45])]);
    assert_eq!(ranges("Rest(takes: \"20 to 40 min\", between: \"20 to 30 min\")"), [Some([20, 30])]);
    assert_eq!(
        ranges(
            "Roast(place: \"left oven\", pan: \"tin\", late: \"9 min\", ways: [Way(\"150 C\", \"95 min\"), \
             Way(at: \"175 C\", takes: \"70 min\", between: \"1 h to 1 h 30 min\")])"
        ),
        [Some([95, 104]), Some([60, 90])]
    );
}

#[test]
fn a_step_goes_only_where_it_can_be_done() {
    let places = |step_text: &str| -> Vec<String> {
        let problem = problem_of(step_text);
        problem.steps[0].modes.iter().map(|mode| mode.place.clone().unwrap_or_default()).collect()
    };
    // Too hot for the right oven, too high for it, on named and unnamed places.
    assert_eq!(places("Bake(at: \"220 C\", takes: \"20 min\", pan: \"30 x 30 x 5 cm\")"), ["left-oven"]);
    assert_eq!(places("Bake(at: \"180 C\", takes: \"20 min\", pan: \"30 x 30 x 18 cm\")"), ["left-oven"]);
    assert_eq!(
        places("Bake(at: \"180 C\", takes: \"20 min\", pan: \"30 x 30 x 5 cm\", place: \"right oven\")"),
        ["right-oven"]
    );
    assert_eq!(places("Fry(takes: \"8 min\")"), ["burner", "top-hot-end"]);
    assert_eq!(places("Simmer(takes: \"8 min\", at: low)"), ["burner", "top-cool-end"]);
    assert_eq!(places("Simmer(takes: \"8 min\", place: \"top\", at: \"4 to 7\")"), ["top-hot-end", "top-cool-end"]);
    assert_eq!(places("Simmer(takes: \"8 min\", place: \"cool end\")"), ["top-cool-end"]);
    assert_eq!(places("Reheat(takes: \"8 min\", at: \"150 C\", pan: \"tin\")"), ["left-oven", "right-oven"]);
    assert_eq!(places("Prep(takes: \"8 min\")"), [""]);
}

#[test]
fn a_spit_a_drawer_and_a_grill_are_cavities() {
    let kitchen = r#"(places: [Spit("spit", "40 x 30 x 30 cm"), Drawer("drawer", "44 x 40 x 14 cm"), Grill("grill", "44 x 38 x 20 cm")])"#;
    let places = |step_text: &str| -> Vec<(String, [i64; 2])> {
        let modes = compiled(&menu(step_text), kitchen).problem.steps.remove(0).modes;
        modes.into_iter().map(|mode| (mode.place.unwrap_or_default(), mode.t.unwrap_or_default())).collect()
    };
    let pan = "pan: \"30 x 25 x 10 cm\"";
    let one = |place: &str, t| vec![(place.to_owned(), t)];
    assert_eq!(
        places(&format!("Roast(at: \"200 C\", takes: \"60 min\", place: \"spit\", {pan})")),
        one("spit", [195, 205])
    );
    assert_eq!(places(&format!("Roast(at: \"200 C\", takes: \"60 min\", heat: Spit, {pan})")), one("spit", [195, 205]));
    assert_eq!(places(&format!("Hold(takes: \"10 min\", {pan})")), one("drawer", [65, 85]));
    assert_eq!(places(&format!("Grill(takes: \"10 min\", {pan})")), one("grill", [220, 280]));
}

#[test]
fn a_finish_stays_in_the_oven() {
    let problem = problem_of(
        "Roast(at: \"150 C\", takes: \"95 min\", pan: \"tin\"), Finish(at: \"220 C\", takes: \"15 min\", pan: \"tin\"), Rest(takes: \"10 to 50 min\", likes: \"25 min\")",
    );
    let link = &problem.links[0];
    assert!(link.stay && link.min == 0 && link.max == Some(0));
    assert_eq!(step(&problem, "dish/roast").modes[0].unload, 0);
    assert_eq!(step(&problem, "dish/finish").modes[0].load, 0);
    assert_eq!(step(&problem, "dish/rest").wait, Wait { rate: 0, soft: Some(15), rate_after: 8 });
    assert_eq!((problem.links[1].min, problem.links[1].max), (0, Some(0)));
}

#[test]
fn only_the_first_wait_of_a_kind_has_soft_minutes() {
    let problem = problem_of(
        "Prep(takes: \"10 min\"), Prep(takes: \"5 min\"), Simmer(takes: \"10 min\"), Simmer(takes: \"5 min\"), Plate()",
    );
    let waits: Vec<Wait> =
        problem.links.iter().map(|link| link.wait).chain([problem.courses[0].sinks[0].wait]).collect();
    let wait = |rate, soft, rate_after| Wait { rate, soft, rate_after };
    let [cold, later_cold] = [wait(0, Some(240), 1), wait(1, None, 1)];
    let [hot, later_hot] = [wait(3, Some(10), 8), wait(8, None, 8)];
    assert_eq!(waits, [cold, later_cold, hot, later_hot, later_hot]);
    assert_eq!(step(&problem, "dish/plate").modes[0].min, 5, "half a minute for each of nine guests");
}

#[test]
fn a_tin_stays_with_its_dish() {
    let problem = problem_of(
        "Sear(takes: \"5 min\", pan: \"tin\", at: high), Roast(at: \"180 C\", takes: \"30 min\", pan: \"tin\")",
    );
    let stand = step(&problem, "dish/roast.stand");
    assert_eq!(stand.modes[0].pools["tin"], 1);
    assert_eq!(problem.links.len(), 2);
    assert!(problem.links.iter().all(|link| link.max == Some(0)));
    let at_once = problem_of(
        "Sear(takes: \"5 min\", pan: \"tin\", at: high), Roast(at: \"180 C\", takes: \"30 min\", pan: \"tin\", gap: \"0 min\")",
    );
    assert_eq!(at_once.steps.len(), 2);
}

/// Minutes are elapsed minutes: the evening before the clocks go back at 2:00 on 25 October 2026 is 25 hours from the evening after.
#[test]
fn minutes_pass_over_a_clock_change() {
    let text = menu("Soak(takes: \"20 h\", from: \"day before 19:00\")").replace("2026-11-08", "2026-10-25");
    let Compiled { problem, labels } = compiled(&text, KITCHEN);
    let soaked_from = problem.steps[0].earliest.unwrap();
    assert_eq!(problem.courses[0].serve - soaked_from, 25 * 60);
    assert_eq!(labels.calendar.civil(soaked_from).to_string(), "2026-10-24T19:00:00");
    assert_eq!(labels.calendar.civil(problem.courses[0].serve).to_string(), "2026-10-25T19:00:00");
    assert_eq!(labels.cooks[0].shifts[1], [32 * 60 + 60, 44 * 60 + 60]);
}

#[test]
fn days_before_the_feast_come_first() {
    let problem = problem_of("Prep(takes: \"10 min\", on: \"day before\"), Prep(takes: \"10 min\")");
    assert_eq!(problem.opening, 8 * 60);
    assert_eq!(problem.courses[0].serve, 24 * 60 + 19 * 60);
    assert_eq!((step(&problem, "dish/prep").earliest, step(&problem, "dish/prep").latest), (Some(0), Some(24 * 60)));
}

#[test]
fn absences_are_taken_out_of_shifts() {
    let text =
        menu("Prep(takes: \"10 min\")").replace("8:00 to 20:00\"])", "8:00 to 20:00\"], away: [\"12:00 to 13:00\"])");
    let text = text.replace(
        "Cook(\"Ines\", [\"day before 8:00 to 20:00\", \"8:00 to 20:00\"]",
        "Cook(name: \"Ines\", shifts: [\"8:00 to 20:00\"]",
    );
    let Compiled { problem, labels } = compiled(&text, KITCHEN);
    assert_eq!(labels.cooks[0].shifts, [[480, 720], [780, 1200]]);
    assert_eq!(problem.shifts.len(), 2);
}

#[test]
fn a_cook_may_be_a_name_alone() {
    let text = menu("Prep(takes: \"10 min\")").replace(
        "Cook(\"Ines\", [\"day before 8:00 to 20:00\", \"8:00 to 20:00\"])",
        "\"Ines\", Cook(name: \"Tom\", away: [\"12:00 to 13:00\"])",
    );
    let Compiled { labels, .. } = compiled(&text, KITCHEN);
    let told: Vec<_> = labels.cooks.iter().map(|cook| (cook.name.as_str(), cook.shifts.as_slice())).collect();
    // From ten hours before the serving at 19:00 until it could be served at the latest.
    assert_eq!(told, [("Ines", &[[540, 1200]][..]), ("Tom", &[[540, 720], [780, 1200]][..])]);
}

/// Every field of the model can be said in the step-by-step form.
#[test]
fn a_raw_step_says_everything() {
    let problem = problem_of(
        r#"Prep(id: "before", takes: "3 min"),
        Step(kind: "smoke", id: "smoke", do: "Smoke it", after: "before", gap: "-1 to 9 min", from: "9:00", by: "15:00",
             keeps: Wait(rate: 1, soft: "2 min", after: 3), stretch: Wait(rate: 4), look: "bronze", note: "vent open",
             at: "80 to 110 C", takes: "30 to 50 min", pan: "20 x 20 x 10 cm", weight: "1.5 kg", load: "2 min", unload: "3 min",
             shut: "20 min", wet: true, dry: false, cost: 7, early: "5 min", late: "9 min", rack: Upper, heat: Static,
             place: "left oven", uses: {"socket": 900}, touches: [Touch("Turn", "10 min", "2 min")])"#,
    );
    let smoke = step(&problem, "dish/smoke");
    let expected = serde_json::json!({
        "id": "dish/smoke", "dish": "dish", "kind": "smoke", "earliest": 1440 + 540, "latest": 1440 + 900,
        "wait": {"rate": 4, "soft": null, "rate_after": 4},
        "modes": [{"place": "left-oven", "min": 30, "max": 50, "hands": 0, "load": 2, "unload": 3, "pools": {"socket": 900},
            "cost": 7, "touches": [[10, 2]], "spread": [5, 9], "rack": "upper", "t": [80, 110], "heat": "static",
            "pan": [200, 200, 100], "weight": 1500, "shut": 20, "wet": true}],
    });
    assert_eq!(serde_json::to_value(smoke).unwrap(), expected);
    let link = &problem.links[0];
    assert_eq!((link.min, link.max), (-1, Some(9)));
    assert_eq!(problem.courses[0].sinks[0].wait, Wait { rate: 1, soft: Some(2), rate_after: 3 });
}

#[test]
fn titles_are_in_a_cooks_words() {
    let labels = compiled(
        &menu("Roast(at: \"180 C\", takes: \"9 min\", pan: \"tin\")").replace("\"Dish\"", "\"Baked celeriac\""),
        KITCHEN,
    )
    .labels;
    let step = &labels.steps["baked-celeriac/roast"];
    assert_eq!(step.title, "Roast the baked celeriac");
    assert_eq!(step.kind, Kind::Roast);
    assert_eq!(step.modes[0].pan.as_deref(), Some("tin"));
}

#[test]
fn reordering_the_kitchen_changes_only_the_order_of_modes() {
    let demo = examples::demo();
    let [one, two] = [(); 2].map(|()| compiled(demo.menu, demo.kitchen));
    assert_eq!(one.problem, two.problem, "the same text gives the same problem");
}

/// What the examples say they show: the demo is served to the minute, three courses and more than ten dishes of it; one evening
/// is impossible.
#[test]
fn the_examples_show_what_they_say() {
    let outcome = |example: examples::Example| {
        let feast =
            read::feast(example.menu, "menu", |name| example.kitchen_text(name)).expect("the examples are read");
        let limits = rangewright::Limits { work: Some(2_000_000), ..rangewright::Limits::default() };
        let outcome = rangewright::plan(&feast, &limits).expect("the examples are planned");
        (feast.menu, outcome)
    };
    let (menu, planned) = outcome(examples::demo());
    assert!(menu.guests == 14 && menu.courses.len() == 3 && menu.dishes.len() >= 10);
    assert!(matches!(planned, rangewright::Outcome::Planned(planned) if planned.plan().lateness == 0));
    let one_oven = examples::ALL.iter().find(|example| example.name == "one-oven").expect("it is shipped");
    assert!(matches!(outcome(*one_oven).1, rangewright::Outcome::Impossible(_)));
}

prop_compose! {
    /// Steps of random kinds with random fields, most of them sensible.
    fn any_step()(
        kind in 0..Kind::ALL.len(),
        takes in prop::sample::select(vec!["1 min", "7 min", "20 to 40 min", "2 h or more", "90 min", "1 to 3 h"]),
        at in prop::sample::select(vec!["", "at: \"180 C\", ", "at: \"60 to 90 C\", ", "at: low, ", "at: \"3 to 7\", ", "at: \"450 F\", "]),
        pan in prop::sample::select(vec!["", "pan: \"tin\", ", "pan: \"30 x 20 x 6 cm\", ", "pan: \"24 x 12 cm\", "]),
        more in prop::sample::select(vec![
            "", "hands: 1, ", "load: \"1 min\", ", "gap: \"-5 to 10 min\", ", "gap: \"up to 20 min\", ", "keeps: fragile, ", "likes: \"30 min\", ",
            "on: \"day before\", ", "stay: true, ", "after: [], ", "after: \"Dish 0\", ", "uses: {\"fridge shelf\": 1}, ", "rack: lower, wet: true, ",
            "touches: [Touch(do: \"Turn\", every: \"5 min\")], ", "stretch: hot, early: \"1 min\", ", "shut: \"1 min\", dry: true, cost: 9, ",
            "ways: [Way(\"150 C\", \"50 min\"), Way(at: medium, takes: \"40 min\", stretch: cold)], ",
        ]),
    ) -> String {
        let word = Kind::ALL[kind].word();
        format!("{}{}({at}{pan}{more}takes: \"{takes}\")", word[..1].to_uppercase(), &word[1..])
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is compiled makes sense as a problem, and every fault that is found says where.
    #[test]
    fn what_is_compiled_is_never_refused(dishes in prop::collection::vec(prop::collection::vec(any_step(), 1..5), 1..4)) {
        let dishes: Vec<String> = dishes.iter().enumerate()
            .map(|(number, steps)| format!("Dish(\"Dish {number}\", [{}])", steps.join(", "))).collect();
        let text = menu("").replace("Dish(\"Dish\", [])", &dishes.join(", "));
        match compile::feast(&text, "menu", |_| Ok(KITCHEN.to_owned())) {
            Ok(compiled) => prop_assert_eq!(compiled.problem.faults(), []),
            Err(faults) => for fault in faults.iter() {
                prop_assert_ne!(fault.code.id(), "RW390", "{}\n{}", text, fault);
                prop_assert!(fault.at.is_some(), "{}", fault);
            },
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,60}", wrap in 0..4) {
        let text = match wrap {
            0 => text,
            1 => format!("Menu(name: {text}"),
            2 => menu(&text),
            _ => format!("{{\"name\": {text}}}"),
        };
        let _ = compile::feast(&text, "menu", |_| Ok(KITCHEN.to_owned()));
        let _ = compile::feast(&menu("Prep(\"x\", \"5 min\")"), "menu", |_| Ok(text.clone()));
    }

    /// Pieces of the language in any order.
    #[test]
    fn no_heap_of_tokens_makes_the_reader_panic(tokens in prop::collection::vec(prop::sample::select(vec![
        "Menu", "(", ")", "[", "]", "{", "}", ",", ":", "name", "\"Test\"", "dishes", "Dish", "steps", "Roast", "at", "\"180 C\"", "takes", "\"1 h\"",
        "4", "-1", "NaN", "inf", "1e400", "None", "Some", "true", "'", "\"", "r#\"", "//", "/*", "\n", "b\"x\"", "#![enable(implicit_some)]", "..", "0x1F", "_",
    ]), 0..40)) {
        let text = tokens.concat();
        let _ = compile::feast(&text, "menu", |_| Ok(text.clone()));
        let _ = compile::feast(&menu(&text), "menu", |_| Ok(KITCHEN.to_owned()));
    }
}

/// Nine guests of whom two are children eat eight portions.
#[test]
fn shopping_is_scaled_to_the_table_and_added_up() {
    let dish =
        |name: &str, buys: &str| format!("Dish(name: \"{name}\", buys: {buys}, steps: [Prep(\"Cut\", \"5 min\")])");
    let dishes = [
        dish("Soup", "{\"squash\": \"200 g each\", \"Red onions\": \"1/4 each\", \"stock\": \"1.5 l\"}"),
        dish("Salad", "{\"squash\": \"1 lb\", \"red onions\": 3, \"sage\": \"2 bunches\", \"stock\": \"10 g\"}"),
    ];
    let text = format!(
        "(name: \"Test\", kitchen: \"k\", guests: 9, children: 2, date: \"2026-11-08\", zone: \"UTC\", serve: \"19:00\",
          cooks: [Cook(\"Ines\", [\"8:00 to 20:00\"])], dishes: [{}])",
        dishes.join(", ")
    );
    let list = compiled(&text, KITCHEN).labels.shopping;
    let own: Vec<(&str, i64, &Measure, usize)> =
        list.iter().map(|own| (own.what.as_str(), own.hundredths, &own.measure, own.dishes.len())).collect();
    let pieces = |word: &str| Measure::Pieces(word.to_owned());
    assert_eq!(
        own,
        [
            // A pound is 453.59 g.
            ("squash", 160_000 + 45_359, &Measure::Grams, 2),
            ("Red onions", 200 + 300, &pieces(""), 2),
            ("stock", 150_000, &Measure::Millilitres, 1),
            ("sage", 200, &pieces("bunches"), 1),
            ("stock", 1_000, &Measure::Grams, 1),
        ]
    );
}
