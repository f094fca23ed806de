//! Roasts, bakes and chilling in a menu: which steps and modes come of them, that they agree with the models, and what is
//! refused.

use rangewright::models::caution::{Topic, Weight};
use rangewright::models::compile::{self, Compiled};
use rangewright::models::cook::roast::{Finish, Oven, Roast, forecast};
use rangewright::models::cook::{Cut, Meat};
use rangewright::models::faults::{Code, Faults};
use rangewright::models::problem::{Heat, Mode, Step, Touch};

const KITCHEN: &str = r#"(places: [
    Oven(name: "big", inside: "46 x 40 x 36 cm", rise: "100 C in 10 min", heats: [Fan, Static]),
    Oven(name: "small", inside: "42 x 36 x 27 cm", rise: "80 C in 10 min", range: "70 to 230 C", heats: [Static]),
    Burners("burner", 2),
], fridge_shelves: 2"#;

fn read_menu(kitchen: &str, steps: &str) -> Result<Compiled, Faults> {
    let menu = format!(
        "(name: \"Test\", kitchen: {KITCHEN}, {kitchen}), guests: 10, date: \"2026-11-08\", zone: \"Europe/London\", serve: \"19:00\",
          cooks: [Cook(\"Ines\", [\"3 days before 9:00 to 9:30\", \"8:00 to 20:00\"])], dishes: [Dish(\"Dish\", [{steps}])])"
    );
    compile::feast(&menu, "menu", |_| Err("none".to_owned()))
}

fn compiled(steps: &str) -> Compiled {
    read_menu("", steps).unwrap_or_else(|faults| panic!("{faults}"))
}

fn codes(steps: &str) -> Vec<Code> {
    read_menu("", steps).err().map_or_else(Vec::new, |faults| faults.iter().map(|fault| fault.code).collect())
}

fn step<'a>(compiled: &'a Compiled, id: &str) -> &'a Step {
    compiled.problem.steps.iter().find(|step| step.id == id).unwrap_or_else(|| panic!("no step {id}"))
}

fn at<'a>(step: &'a Step, place: &str, t: i64) -> (usize, &'a Mode) {
    // At the end of what is accepted the window goes no further.
    let found = [[t - 5, t + 5], [t, t + 5], [t - 5, t]].into_iter().find_map(|window| {
        let wanted = |mode: &Mode| mode.place.as_deref() == Some(place) && mode.t == Some(window);
        step.modes.iter().enumerate().find(|(_, mode)| wanted(mode))
    });
    found.unwrap_or_else(|| panic!("no mode at {t} in {place}"))
}

const PAN: &str = "pan: \"40 x 30 x 16 cm\"";
const LOIN: &str = "meat: pork, cut: loin, weight: \"3 kg\", thickness: \"10 cm\", tied: true, to: \"66 C\"";

/// Every mode has the minutes of the model for its oven, and no others.
#[test]
fn a_roast_has_the_minutes_of_the_model() {
    let whole =
        compiled(&format!("Joint({LOIN}, accepts: \"145 to 180 C\", margin: none, {PAN}), Carve(takes: \"5 min\")"));
    let roast = step(&whole, "dish/roast");
    let ids: Vec<&str> = whole.problem.steps.iter().map(|step| step.id.as_str()).collect();
    assert_eq!(ids, ["dish/roast", "dish/rest", "dish/carve"]);
    assert_eq!(roast.modes.len(), 10, "145 C and every ten degrees up to 180, in two ovens");
    let piece = Roast {
        thickness_mm: Some(100.0),
        tied: true,
        rest_min: 20.0,
        ..Roast::of(Meat::Pork, Cut::Loin, 3_000.0, 66.0)
    };
    for (place, heat, rise) in [("big", Heat::Fan, 100.0), ("small", Heat::Static, 80.0)] {
        let ways = forecast(&piece, &Oven { rise, ..Oven::new(heat, 150, 180) }).expect("it works").ways;
        assert_eq!(ways.len(), 4);
        for way in ways {
            let (index, mode) = at(roast, place, way.oven_c);
            assert_eq!((mode.min, mode.max, mode.heat), (way.minutes, way.minutes, Some(heat)));
            let range = whole.labels.steps["dish/roast"].modes[index].range.expect("always a range");
            assert_eq!([range.shortest, range.longest], [way.early_min, way.late_min]);
        }
    }
    // Fan and hotter are quicker; 4.5 kg of pan and meat.
    assert!(at(roast, "big", 150).1.min > at(roast, "big", 180).1.min);
    assert!(at(roast, "big", 150).1.min < at(roast, "small", 150).1.min);
    assert!(roast.modes.iter().all(|mode| mode.weight == Some(4_500)));
}

/// A margin up to the late end is on unless the cook says otherwise; what it takes is shown, and the rest is the shorter.
#[test]
fn a_margin_takes_up_what_is_late() {
    let plan =
        |margin: &str| compiled(&format!("Joint({LOIN}, accepts: \"160 C\", {margin} {PAN}, rest: \"20 to 90 min\")"));
    let [bare, usual, said] = [plan("margin: none,"), plan(""), plan("margin: \"30 min\",")];
    let mode = |compiled: &Compiled| at(step(compiled, "dish/roast"), "big", 160).1.clone();
    let estimate = mode(&bare).min;
    assert_eq!(mode(&said).min, estimate + 30);
    let label = &usual.labels.steps["dish/roast"].modes[0];
    let range = label.range.expect("always a range");
    assert!(range.longest <= mode(&usual).min && mode(&usual).min < range.longest + 5 && mode(&usual).min % 5 == 0);
    assert!(range.shortest < estimate && estimate < range.longest);
    assert!(label.notes.iter().any(|note| note.contains("margin")), "{:?}", label.notes);
    // The moment at which it is likely to be done has its probe, with the pull temperature.
    assert_eq!(mode(&usual).touches.last(), Some(&Touch::fixed(estimate, 1)));
    assert!(
        label.touches.last().is_some_and(|what| what.contains("take it out as soon as it shows")),
        "{:?}",
        label.touches
    );
    let rest = |compiled: &Compiled| step(compiled, "dish/rest").modes[0].max;
    assert_eq!(rest(&bare), 90);
    assert!(rest(&said) < 90 && rest(&said) >= 20);
    // Both ends work: the latest roast leaves the least rest, and the earliest is told of.
    assert!(usual.labels.steps["dish/rest"].note.as_deref().is_some_and(|note| note.contains("early")));
}

#[test]
fn a_hot_finish_stays_in_and_takes_the_rise_of_its_oven() {
    let whole = compiled(&format!(
        "Joint({LOIN}, accepts: \"140 to 170 C\", last: Hot(\"220 C\", \"12 min\"), margin: none, {PAN})"
    ));
    let link = whole.problem.links.iter().find(|link| link.to == "dish/finish").expect("a link");
    assert!(link.stay && link.from == "dish/roast" && link.max == Some(0));
    let finish = step(&whole, "dish/finish");
    // From the coolest stage, 140 C: 80 degrees at 100 and at 80 in ten minutes.
    assert_eq!([at(finish, "big", 220).1.min, at(finish, "small", 220).1.min], [12 + 8, 12 + 10]);
    // From 170 C the oven is hot after 5 min, and 15 are left at heat: the model is asked for just that.
    let piece = Roast {
        thickness_mm: Some(100.0),
        tied: true,
        rest_min: 20.0,
        finish: Finish::HotLast { at_c: 220.0, minutes: 15.0, gap_min: 0.0 },
        ..Roast::of(Meat::Pork, Cut::Loin, 3_000.0, 66.0)
    };
    let way =
        forecast(&piece, &Oven { rise: 100.0, ..Oven::new(Heat::Fan, 170, 170) }).expect("it works").ways.remove(0);
    let (index, mode) = at(step(&whole, "dish/roast"), "big", 170);
    assert_eq!(mode.min, way.minutes);
    let words = &whole.labels.steps["dish/roast"].modes[index].hands_on;
    assert!(words[0].contains(&format!("{:.0} C in the middle", way.pull_c)), "{words:?} for {}", way.pull_c);
}

#[test]
fn no_oven_is_set_beyond_what_is_accepted() {
    let whole = compiled(&format!("Joint({LOIN}, accepts: \"150 to 180 C\", {PAN})"));
    let windows = step(&whole, "dish/roast").modes.iter().filter_map(|mode| mode.t);
    assert!(windows.clone().all(|[low, high]| low >= 150 && high <= 180) && windows.count() == 8);
}

#[test]
fn a_roast_is_browned_after_its_rest() {
    let whole = compiled(&format!(
        "Joint({LOIN}, accepts: \"110 C\", last: Hot(at: \"230 C\", takes: \"10 min\", after: \"30 to 75 min\"), {PAN})"
    ));
    let ids: Vec<&str> = whole.problem.steps.iter().map(|step| step.id.as_str()).collect();
    assert_eq!(ids, ["dish/roast", "dish/rest", "dish/finish", "dish/stand"]);
    assert!(whole.problem.links.iter().all(|link| !link.stay), "it comes out for its rest");
    let finish = step(&whole, "dish/finish");
    assert!(finish.modes.iter().all(|mode| (mode.min, mode.max) == (10, 10)), "the oven is hot by then");
    let rest = &step(&whole, "dish/rest").modes[0];
    assert!(rest.min == 30 && rest.max <= 75 && rest.place.is_none());
    let words = &whole.labels.steps["dish/roast"].modes[0];
    assert!(words.touches.last().is_some_and(|what| what.contains("take it out")), "{:?}", words.touches);
}

#[test]
fn low_to_a_centre_and_then_brown() {
    let whole = compiled(
        &format!("Joint({LOIN}, until: \"60 C\", accepts: \"120 C\", last: Hot(\"230 C\", \"12 min\"), {PAN})")
            .replace(", to: \"66 C\"", ""),
    );
    let label = &whole.labels.steps["dish/roast"].modes[0];
    assert!(
        label.touches.last().is_some_and(|what| what.contains("turn the oven up as soon as it shows 60 C")),
        "{:?}",
        label.touches
    );
    assert!(
        label.notes.iter().any(|note| note.contains("60 C, as the cook says: by the model it then comes to 7")),
        "{:?}",
        label.notes
    );
    let both = compiled(&format!("Joint({LOIN}, until: \"64 C\", accepts: \"170 C\", {PAN})"));
    let notes = &both.labels.steps["dish/roast"].modes[0].notes;
    assert!(notes.iter().any(|note| note.ends_with("where 66 C is wanted")), "{notes:?}");
}

#[test]
fn a_cook_may_allow_minutes_of_his_own() {
    let plan = |allow: &str| compiled(&format!("Joint({LOIN}, accepts: \"140 to 180 C\", {allow} {PAN})"));
    let whole = plan("allow: \"1 h 30 min\",");
    let roast = step(&whole, "dish/roast");
    assert!(roast.modes.iter().all(|mode| (mode.min, mode.max) == (90, 90)));
    assert!(roast.modes.len() < step(&plan(""), "dish/roast").modes.len(), "where the model can agree");
    let notes = |whole: &Compiled| whole.labels.steps["dish/roast"].modes[0].notes.clone();
    assert!(notes(&whole).iter().any(|note| note.starts_with("90 min are allowed")), "{:?}", notes(&whole));
    let short = plan("allow: \"30 min\",");
    assert!(notes(&short).iter().any(|note| note.starts_with("CHECK: 30 min are allowed and")), "{:?}", notes(&short));
    let faults = codes(&format!("Joint({LOIN}, accepts: \"160 C\", allow: \"90 min\", margin: none, {PAN})"));
    assert_eq!(faults, [Code::Contradiction]);
}

#[test]
fn what_it_rests_under_moves_the_pull() {
    let pull = |cover: &str| {
        let whole = compiled(&format!("Joint({LOIN}, accepts: \"170 C\", cover: {cover}, {PAN})"));
        (whole.labels.steps["dish/roast"].modes[0].hands_on[0].clone(), whole.labels.steps["dish/rest"].title.clone())
    };
    let [open, wrapped] = ["open", "wrapped"].map(pull);
    assert_ne!(open.0, wrapped.0);
    assert!(open.1.contains("uncovered") && wrapped.1.contains("wrapped tight"), "{open:?} {wrapped:?}");
}

#[test]
fn a_hot_start_is_turned_down_with_the_roast_in() {
    let whole =
        compiled(&format!("Joint({LOIN}, accepts: \"150 C\", first: Hot(\"220 C\", \"15 min\"), margin: none, {PAN})"));
    let ids: Vec<&str> = whole.problem.steps.iter().map(|step| step.id.as_str()).collect();
    assert_eq!(ids, ["dish/hot-start", "dish/roast", "dish/rest"]);
    assert!(whole.problem.links[0].stay);
    let piece = Roast {
        thickness_mm: Some(100.0),
        tied: true,
        rest_min: 20.0,
        finish: Finish::HotFirst { at_c: 220.0, minutes: 15.0 },
        ..Roast::of(Meat::Pork, Cut::Loin, 3_000.0, 66.0)
    };
    let way =
        forecast(&piece, &Oven { rise: 100.0, ..Oven::new(Heat::Fan, 150, 150) }).expect("it works").ways.remove(0);
    assert_eq!(at(step(&whole, "dish/hot-start"), "big", 220).1.min, 15);
    assert_eq!(at(step(&whole, "dish/roast"), "big", 150).1.min, way.minutes - 15);
}

/// USDA Turkey Basics: 24 hours in the refrigerator for each 4 to 5 lb; 3 kg are two days at the slower end.
#[test]
fn frozen_thaws_days_ahead_or_is_refused() {
    let whole = compiled(&format!("Joint({LOIN}, accepts: \"160 C\", start: frozen, {PAN})"));
    let thaw = step(&whole, "dish/thaw");
    assert_eq!(thaw.modes[0].min, 2 * 1_440);
    assert_eq!(thaw.modes[0].pools.get("fridge-shelf"), Some(&1));
    let thawing = &whole.labels.steps["dish/thaw"].cautions;
    assert!(thawing.iter().any(|caution| caution.topic == Topic::Thawing && caution.source.text.contains("USDA")));
    let heavy = format!(
        "Joint(meat: poultry, cut: bird, weight: \"9 kg\", to: \"75 C\", accepts: \"170 C\", start: frozen, {PAN})"
    );
    let faults = read_menu("", &heavy).expect_err("five days are too many");
    assert_eq!(faults.iter().map(|fault| fault.code).collect::<Vec<_>>(), [Code::NoThawing]);
    assert!(faults.to_string().contains("5 days"), "{faults}");
}

/// 10 guests at 280 to 340 g of boneless roast as bought (common practice, no source).
#[test]
fn a_roast_without_weight_is_sized_for_the_guests() {
    let whole = compiled(&format!("Joint(meat: pork, cut: loin, tied: true, to: \"66 C\", accepts: \"160 C\", {PAN})"));
    assert_eq!(step(&whole, "dish/roast").modes[0].weight, Some(3_100 + 1_500));
    let note = whole.labels.steps["dish/roast"].note.clone().unwrap_or_default();
    assert!(note.contains("3.1 kg") && note.contains("common practice"), "{note}");
}

#[test]
fn a_log_narrows_the_range() {
    let roast = format!("Joint({LOIN}, accepts: \"160 C\", {PAN})");
    let past = "Past(meat: pork, cut: loin, weight: \"3 kg\", thickness: \"10 cm\", tied: true, at: \"160 C\", heat: fan, took: \"85 min\", pulled: \"58 C\")";
    let width = |log: &str| {
        let whole = read_menu(log, &roast).unwrap_or_else(|faults| panic!("{faults}"));
        let (index, _) = at(step(&whole, "dish/roast"), "big", 160);
        let range = whole.labels.steps["dish/roast"].modes[index].range.expect("always a range");
        (range.longest as f64 / range.shortest as f64, range.shortest)
    };
    let (first, early) = width("");
    let (third, later_on) = width(&format!("log: [{past}, {past}, {past}]"));
    assert!(third < first, "{third} and {first}");
    assert!(later_on > early, "it is shifted as well: {later_on} and {early}");
    let wrong = past.replace("85 min", "85 days");
    let faults = read_menu(&format!("log: [{wrong}]"), &roast).expect_err("nothing roasts so long");
    assert_eq!(faults.iter().map(|fault| fault.code).collect::<Vec<_>>(), [Code::Absurd]);
}

#[test]
fn a_roast_that_cannot_be_is_refused_with_its_place() {
    for (roast, code, says) in [
        (
            format!("Joint(meat: pork, cut: slab, to: \"66 C\", accepts: \"160 C\", {PAN})"),
            Code::Unroastable,
            "thickness",
        ),
        (format!("Joint({LOIN}, accepts: \"160 C\", start: \"60 C\", {PAN})"), Code::Unroastable, "start"),
        (
            format!("Joint({}, accepts: \"80 C\", {PAN})", LOIN.replace("66 C", "85 C")),
            Code::Unroastable,
            "the centre gets no further",
        ),
        (format!("Joint({LOIN}, accepts: \"90 to 240 C\", place: \"burner\", {PAN})"), Code::Unroastable, "no oven"),
        (format!("Joint({LOIN}, accepts: \"240 to 250 C\", place: \"small\", {PAN})"), Code::Unroastable, "accepted"),
        (format!("Joint({LOIN}, accepts: \"160 C\", takes: \"60 min\", {PAN})"), Code::UnknownField, "takes"),
        (
            format!(
                "Joint({LOIN}, accepts: \"160 C\", first: Hot(\"220 C\", \"9 min\"), last: Hot(\"220 C\", \"9 min\"), {PAN})"
            ),
            Code::Contradiction,
            "first",
        ),
        (format!("Joint({LOIN}, accepts: \"160 C\")"), Code::MissingField, "pan"),
        (format!("Joint({LOIN}, accepts: \"160 C\", pan: \"60 x 50 x 16 cm\")"), Code::PanTooLarge, "no place holds"),
        (
            format!("Bake(at: \"180 C\", takes: \"50 min\", accepts: \"120 to 180 C\", {PAN})"),
            Code::Unroastable,
            "150 C to 210 C",
        ),
        (
            format!("Bake(at: \"180 C\", takes: \"50 to 60 min\", accepts: \"160 to 180 C\", {PAN})"),
            Code::Contradiction,
            "one known",
        ),
        ("Chill(takes: \"12 h\", covered: true)".to_owned(), Code::MissingField, "depth"),
    ] {
        let faults = read_menu("", &roast).expect_err(&roast);
        assert!(faults.iter().any(|fault| fault.code == code), "{roast}: {faults}");
        assert!(faults.to_string().contains(says), "{roast}: {faults}");
        assert!(faults.iter().all(|fault| fault.at.is_some()), "{faults}");
    }
    assert_eq!(codes(&format!("Joint({LOIN}, accepts: \"160 C\", {PAN})")), []);
}

/// A pan that only the big oven holds leaves out the ways of the small one, without a fault.
#[test]
fn what_does_not_fit_falls_away() {
    let whole = compiled(&format!("Joint({LOIN}, accepts: \"150 to 170 C\", pan: \"44 x 38 x 16 cm\")"));
    let roast = step(&whole, "dish/roast");
    assert_eq!(roast.modes.len(), 3);
    assert!(roast.modes.iter().all(|mode| mode.place.as_deref() == Some("big")));
}

/// Our bake rule (cook::bake): the known minutes come back, cooler takes longer, and the cost grows with the distance.
#[test]
fn a_bake_accepts_other_temperatures() {
    let whole = compiled(
        "Bake(at: \"180 C\", takes: \"50 min\", accepts: \"160 to 200 C\", known: fan, pan: \"36 x 26 x 8 cm\")",
    );
    let bake = step(&whole, "dish/bake");
    assert_eq!(at(bake, "big", 180).1.min, 50);
    assert_eq!(at(bake, "big", 180).1.cost, 0);
    let minutes: Vec<i64> = [160, 170, 180, 190, 200].map(|t| at(bake, "big", t).1.min).to_vec();
    assert!(minutes.windows(2).all(|pair| pair[0] > pair[1]), "{minutes:?}");
    assert_eq!([160, 170, 190, 200].map(|t| at(bake, "big", t).1.cost), [8, 4, 4, 8]);
    assert!(at(bake, "small", 180).1.min > 50, "still heat is slower than the fan for which the minutes are known");
    let (index, _) = at(bake, "big", 160);
    assert!(whole.labels.steps["dish/bake"].modes[index].range.is_some());
}

#[test]
fn several_pans_are_steps_of_their_own() {
    let whole = compiled(
        "Prep(takes: \"5 min\"), Bake(at: \"180 C\", takes: \"50 min\", pan: \"36 x 26 x 8 cm\", pans: 3), Plate(takes: \"5 min\")",
    );
    let ids: Vec<&str> = whole.problem.steps.iter().map(|step| step.id.as_str()).collect();
    assert_eq!(ids, ["dish/prep", "dish/bake", "dish/bake-2", "dish/bake-3", "dish/plate"]);
    let links: Vec<(&str, &str)> =
        whole.problem.links.iter().map(|link| (link.from.as_str(), link.to.as_str())).collect();
    let expected = [
        ("dish/prep", "dish/bake"),
        ("dish/prep", "dish/bake-2"),
        ("dish/prep", "dish/bake-3"),
        ("dish/bake", "dish/plate"),
        ("dish/bake-2", "dish/plate"),
        ("dish/bake-3", "dish/plate"),
    ];
    assert_eq!(links.len(), expected.len(), "{links:?}");
    assert!(expected.iter().all(|link| links.contains(link)), "{links:?}");
    assert!(whole.labels.steps["dish/bake-2"].title.ends_with("2 of 3"));
}

/// FDA Food Code 3-501.14(A): from 57 to 21 C in 2 h, to 5 C in 6 h. Roberts et al. (2013): chili 51 mm deep in a
/// refrigerator failed. A stirred bath of ice is quick enough.
#[test]
fn chilling_is_judged_by_the_size_of_the_pot() {
    let chill = |more: &str| {
        let whole = compiled(&format!("Simmer(takes: \"60 min\"), Chill(takes: \"12 h\", {more})"));
        whole.labels.steps["dish/chill"].modes[0].clone()
    };
    let deep = chill("depth: \"51 mm\"");
    assert!(
        deep.cautions.iter().any(|own| own.topic == Topic::SlowCooling && own.weight == Weight::Breach),
        "{deep:?}"
    );
    assert!(deep.notes.iter().any(|note| note.starts_with("Quick enough instead")), "{:?}", deep.notes);
    let pot = chill("pan: \"30 x 20 cm\", weight: \"9 kg\"");
    assert!(pot.cautions.iter().any(|own| own.weight == Weight::Breach), "eight kilograms in a pot: {pot:?}");
    let bath = chill("depth: \"10 cm\", cooler: \"stirred ice bath\"");
    assert!(bath.cautions.iter().all(|own| own.weight != Weight::Breach), "{bath:?}");
}

/// Cold food in the same oven: minutes grow by a tenth for each pan in still heat and half of that with a fan, and what may
/// be early stays as early as it was.
#[test]
fn cold_pans_beside_it_make_a_roast_and_a_bake_longer() {
    let roast = |beside: &str| {
        let whole = compiled(&format!("Joint({LOIN}, accepts: \"160 C\", margin: none, {beside} {PAN})"));
        let modes = step(&whole, "dish/roast");
        let label = &whole.labels.steps["dish/roast"];
        ["big", "small"].map(|place| {
            let (index, mode) = at(modes, place, 160);
            let range = label.modes[index].range.expect("a range");
            (mode.min, range.shortest, range.longest, label.modes[index].notes.join(" "))
        })
    };
    let [alone, full] = [roast(""), roast("beside: 2,")];
    // The big oven has a fan, the small one none.
    for (place, tenths) in [(0, 11), (1, 12)] {
        let wanted = (alone[place].0 as f64 * f64::from(tenths) / 10.0).round() as i64;
        assert_eq!(full[place].0, wanted);
        assert_eq!(full[place].1, alone[place].1);
        assert!(full[place].2 >= alone[place].2 && full[place].0 > alone[place].0);
        assert!(full[place].3.contains("with 2 more cold pans in the oven"), "{}", full[place].3);
        assert!(!alone[place].3.contains("cold pan"), "{}", alone[place].3);
    }
    let bake = |beside: &str| {
        let whole =
            compiled(&format!("Bake(at: \"180 C\", takes: \"60 min\", accepts: \"170 to 190 C\", {beside} {PAN})"));
        ["big", "small"].map(|place| at(step(&whole, "dish/bake"), place, 180).1.min)
    };
    assert_eq!((bake(""), bake("beside: 1,")), ([60, 60], [63, 66]));
    // Where the cook says the minutes, the cook says them for a full oven as well.
    assert_eq!(codes(&format!("Bake(at: \"180 C\", takes: \"60 min\", beside: 1, {PAN})")), [Code::MissingField]);
    assert_eq!(codes(&format!("Joint({LOIN}, accepts: \"160 C\", beside: 10, {PAN})")), [Code::Absurd]);
}
