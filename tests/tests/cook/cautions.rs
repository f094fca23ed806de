//! Cautions of whole plans: raw poultry beside what is eaten raw, allergens where tools are shared, low ovens and slow
//! cooling only where they bite, and the figures of the region.

use rangewright::models::caution::{PlanCaution, Topic, Weight, of_plan};
use rangewright::models::compile::compile;
use rangewright::models::cook::Known;
use rangewright::models::read;
use rangewright::{Limits, Outcome, solve};

fn cautions(kitchen: &str, dishes: &str) -> Vec<PlanCaution> {
    let menu = format!(
        "(name: \"Test\", kitchen: ({kitchen}), guests: 4, date: \"2026-11-08\", zone: \"Europe/London\", courses: [Course(name: \"supper\", serve: \"19:00\", together: \"12 h\")],
          cooks: [Cook(\"Ines\", [\"day before 8:00 to 20:00\", \"8:00 to 20:00\"]), Cook(\"Tom\", [\"8:00 to 20:00\"])], dishes: [{dishes}])"
    );
    let feast = read::feast(&menu, "menu", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"));
    let compiled = compile(&feast).unwrap_or_else(|faults| panic!("{faults}"));
    let outcome = solve(&compiled.problem, &Limits::default()).expect("a legal problem");
    let Outcome::Planned(planned) = outcome else { panic!("no plan") };
    of_plan(&compiled.problem, &compiled.labels, &planned.plan)
}

fn about(cautions: &[PlanCaution], topic: Topic) -> Vec<&PlanCaution> {
    cautions.iter().filter(|own| own.caution.topic == topic).collect()
}

const PLACES: &str = r#"places: [Oven("oven", "44 x 38 x 32 cm"), Burners("burner", 2)], pools: {"board": 1, "big bowl": 1}, fridge_shelves: 2"#;

/// Both are worked on at the last minute, by two cooks at once.
#[test]
fn raw_poultry_is_kept_from_what_is_eaten_raw() {
    let hen = "Dish(name: \"Hen strips\", contains: [Poultry], steps: [Prep(takes: \"15 min\", by: \"18:40\", from: \"18:25\"), Fry(takes: \"15 min\")])";
    let salad = |when: &str| format!("Dish(name: \"Leaves\", steps: [Dress(takes: \"10 min\", {when} keeps: free)])");
    let beside = cautions(PLACES, &format!("{hen}, {}", salad("from: \"18:30\", by: \"18:40\",")));
    let found = about(&beside, Topic::RawPoultry);
    assert_eq!(found.len(), 1, "{beside:?}");
    assert_eq!(found[0].caution.weight, Weight::Caution);
    assert_eq!(found[0].steps, ["hen-strips/prep", "leaves/dress"]);
    assert!(found[0].caution.text.contains("at the same time"));
    let early = cautions(PLACES, &format!("{hen}, {}", salad("by: \"18:20\",")));
    assert_eq!(about(&early, Topic::RawPoultry).len(), 0, "before it, nothing is carried over: {early:?}");
}

/// The one board is used for the bird, and five minutes later for the salad: a limit is broken, and comes first.
#[test]
fn one_board_for_both_breaks_the_limit() {
    let dishes = "Dish(name: \"Hen strips\", contains: [Poultry], steps: [Prep(takes: \"15 min\", from: \"18:15\", by: \"18:30\", uses: [\"board\"]), Fry(takes: \"25 min\", keeps: free)]),
                  Dish(name: \"Leaves\", steps: [Dress(takes: \"20 min\", from: \"18:35\", by: \"18:55\", uses: [\"board\"])])";
    let found = cautions(PLACES, dishes);
    assert_eq!((found[0].caution.topic, found[0].caution.weight), (Topic::RawPoultry, Weight::Breach), "{found:?}");
    assert!(found[0].caution.text.contains("the same board 5 min later"), "{}", found[0].caution.text);
}

#[test]
fn allergens_are_shown_where_tools_are_shared() {
    let dishes = "Dish(name: \"Nut cream\", allergens: [\"hazelnut\", \"milk\"], steps: [Prep(takes: \"10 min\", by: \"15:00\", uses: [\"big bowl\"])]),
                  Dish(name: \"Milk jelly\", allergens: [\"milk\"], steps: [Prep(takes: \"10 min\", from: \"16:00\", by: \"16:30\", uses: [\"big bowl\"])]),
                  Dish(name: \"Plain beans\", steps: [Prep(takes: \"10 min\", uses: [\"big bowl\"], from: \"17:00\"), Boil(takes: \"20 min\")])";
    let found = cautions(PLACES, dishes);
    let texts: Vec<&str> = about(&found, Topic::Allergen).iter().map(|own| own.caution.text.as_str()).collect();
    assert!(
        texts.iter().any(|text| text.contains("Nut cream has hazelnut and shares the big bowl with Milk jelly")),
        "{texts:?}"
    );
    assert!(
        texts.iter().any(|text| text.contains("Nut cream has hazelnut, milk") && text.contains("Plain beans")),
        "{texts:?}"
    );
    assert!(texts.iter().any(|text| text.contains("Milk jelly has milk") && text.contains("Plain beans")), "{texts:?}");
    assert_eq!(texts.len(), 3, "{texts:?}");
}

/// Pastry is chilled cold; stew is chilled hot. A low oven is named for meat, and only in the mode that is chosen.
#[test]
fn cautions_stand_only_where_they_bite() {
    let pastry = "Dish(\"Tart\", [Prep(takes: \"20 min\"), Chill(takes: \"1 h\"), Bake(at: \"180 C\", takes: \"30 min\", pan: \"28 x 5 cm\")])";
    assert_eq!(about(&cautions(PLACES, pastry), Topic::SlowCooling).len(), 0);
    let stew =
        "Dish(\"Stew\", [Simmer(takes: \"60 min\", by: \"12:00\"), Chill(takes: \"4 h\"), Reheat(takes: \"20 min\")])";
    assert_eq!(about(&cautions(PLACES, stew), Topic::SlowCooling).len(), 1);
    let roast = |cost: [i64; 2]| {
        let [low, high] = cost;
        format!(
            "Dish(name: \"Loin\", contains: [Meat], steps: [Roast(pan: \"30 x 20 x 10 cm\", ways: [Way(at: \"140 C\", takes: \"90 min\", cost: {low}), Way(at: \"180 C\", takes: \"90 min\", cost: {high})])])"
        )
    };
    assert_eq!(about(&cautions(PLACES, &roast([0, 9])), Topic::LowOven).len(), 1);
    assert_eq!(about(&cautions(PLACES, &roast([9, 0])), Topic::LowOven).len(), 0);
}

/// 57 C: FDA Food Code 3-501.16(A)(1). 63 C: Food Hygiene (Scotland) Regulations 2006. 60 C: FSANZ 2-hour/4-hour rule.
#[test]
fn the_region_decides_the_figures() {
    let hold = "Dish(\"Mash\", [Boil(takes: \"20 min\"), Hold(takes: \"5 to 30 min\", pan: \"30 x 20 x 10 cm\")])";
    for (region, degrees) in [
        ("", "57 C"),
        ("region: US,", "57 C"),
        ("region: \"UK\",", "63 C"),
        ("region: \"AU\",", "60 C"),
        ("region: \"NZ\",", "60 C"),
    ] {
        let found = cautions(&format!("{region} {PLACES}"), hold);
        let holding = about(&found, Topic::Holding);
        assert!(holding.len() == 1 && holding[0].caution.text.contains(degrees), "{region}: {found:?}");
    }
}

/// FSANZ 2-hour/4-hour rule: after 2 h to be used, after 4 h thrown away; in a licensed kitchen of the US 4 h (FDA Food Code 3-501.19), at home 2 h (USDA), in the UK one
/// spell of 2 h (both from memory).
#[test]
fn minutes_between_the_limits_add_up_to_the_table() {
    let rice = |more: &str| format!("Dish(name: \"Rice\", contains: [Rice], steps: [Boil(takes: \"20 min\", {more})])");
    let found = |region: &str, dish: &str| {
        let all = cautions(&format!("{region} {PLACES}"), dish);
        let own = about(&all, Topic::Holding).into_iter().find(|own| own.caution.text.contains("stands"));
        own.map(|own| {
            if region.contains("UK") {
                assert_eq!(own.caution.source.known, Known::Memory, "what is remembered is not passed off as read");
            }
            (own.caution.weight, own.caution.text.clone(), own.steps.clone())
        })
    };
    let (weight, text, steps) = found("region: \"AU\",", &rice("by: \"16:30\"")).expect("150 min are over 2 h");
    assert_eq!((weight, steps.as_slice()), (Weight::Caution, &["rice/boil".to_owned()][..]));
    assert!(text.contains("5 C and 60 C for up to 150 min in all; the limit is 240 min"), "{text}");
    let weight = |region: &str, dish: &str| found(region, dish).map(|(weight, _, _)| weight);
    assert_eq!(weight("region: UK,", &rice("by: \"16:30\"")), Some(Weight::Breach));
    assert_eq!(weight("", &rice("by: \"14:55\"")), Some(Weight::Breach), "245 min");
    assert_eq!(weight("", &rice("by: \"17:05\"")), None, "115 min");
    assert_eq!(weight("", &rice("by: \"14:55\", keeps: cold")), None);
    // Two spells with cold between them add up; heat in between begins anew.
    let spells = |middle: &str| {
        format!(
            "Dish(name: \"Stew\", contains: [Meat], steps: [Boil(takes: \"20 min\"), Rest(takes: \"80 min\"), {middle}, Step(kind: \"stand\", takes: \"50 min\")])"
        )
    };
    assert_eq!(weight("", &spells("Chill(takes: \"2 h\")")), Some(Weight::Breach), "130 min at home");
    assert_eq!(
        weight("licensed: true,", &spells("Chill(takes: \"2 h\")")),
        Some(Weight::Caution),
        "in a licensed kitchen"
    );
    assert_eq!(weight("", &spells("Reheat(takes: \"20 min\")")), None);
    // A hold is as good as its place is hot.
    let held = |at: &str| {
        format!("Dish(\"Mash\", [Boil(takes: \"20 min\"), Hold(takes: \"150 min\", at: \"{at}\", pan: \"30 x 20 x 10 cm\")])")
            .replace("Dish(\"Mash\", [", "Dish(name: \"Mash\", contains: [Beans], steps: [")
    };
    assert_eq!(weight("", &held("60 to 65 C")), None);
    assert_eq!(weight("region: UK,", &held("60 to 65 C")), Some(Weight::Breach));
}

/// The same limits of the regions: whoever says nothing of a gap after hot meat does not mean it to last overnight.
#[test]
fn an_open_gap_ends_with_the_time_food_may_stand() {
    let gap = |region: &str, first: &str, second: &str| {
        let menu = format!(
            "(name: \"Test\", kitchen: ({region} {PLACES}), guests: 4, date: \"2026-11-08\", zone: \"Europe/London\", courses: [Course(name: \"supper\", serve: \"19:00\")],
              cooks: [Cook(\"Ines\", [\"8:00 to 20:00\"])], dishes: [Dish(name: \"Loin\", contains: [Meat], steps: [Boil(takes: \"20 min\"{first}), Carve(takes: \"10 min\"{second})])])"
        );
        let feast = read::feast(&menu, "menu", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"));
        compile(&feast).unwrap_or_else(|faults| panic!("{faults}")).problem.links[0].max
    };
    assert_eq!(gap("", "", ""), Some(120), "USDA two-hour rule for home cooks");
    assert_eq!(gap("licensed: true,", "", ""), Some(240), "FDA Food Code 3-501.19");
    assert_eq!(gap("region: UK,", "", ""), Some(120));
    assert_eq!(
        gap("", "", ", gap: \"5 h or more\""),
        Some(300),
        "the menu asks for it, and the plan says what it breaks"
    );
    assert_eq!(gap("", "", ", gap: \"up to 30 min\""), Some(30));
    assert_eq!(gap("", ", keeps: cold", ""), None);
}
