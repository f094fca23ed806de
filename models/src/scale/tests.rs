use super::*;
use crate::menu::{Amount, Buy, Kind, Measure, Way};
use crate::read;
use proptest::prelude::*;

fn kitchen() -> Kitchen {
    let text = r#"Kitchen(places: [Oven("oven", "46 x 40 x 36 cm")], fridge_shelves: 3,
        pans: [Pan(name: "stew pot", size: "30 x 18 cm", count: 2), Pan(name: "tray", size: "40 x 30 x 4 cm", count: 1)])"#;
    let (kitchen, ..) = read::kitchen(text, "kitchen");
    kitchen.unwrap()
}

fn dish(steps: &str) -> Dish {
    read::dish(
        &format!("Dish(name: \"Roots\", portions: 10, buys: {{\"roots\": \"2 kg\", \"eggs\": 3}}, steps: [{steps}])"),
        "roots",
    )
    .unwrap_or_else(|faults| panic!("{faults}"))
}

fn made(steps: &str, portions: i64) -> Scaled {
    scale(&dish(steps), 2 * portions, &kitchen(), Units::Metric).unwrap_or_else(|misfits| panic!("{misfits:?}"))
}

/// Every rule of the table, by figures worked out by hand.
#[test]
fn each_rule_of_the_table() {
    let changes = |steps: &str, portions: i64| {
        let changes = made(steps, portions).changes;
        changes.into_iter().map(|own| format!("{}: {}, not {}", own.what, own.made, own.written)).collect::<Vec<_>>()
    };
    let shopping = ["Roots: 4.6 kg, not 2 kg", "Eggs: 7, not 3"];
    let with = |line: &str| shopping.iter().map(|own| (*own).to_owned()).chain([line.to_owned()]).collect::<Vec<_>>();
    let bake = r#"Bake(do: "Bake", at: "180 C", takes: "50 min", pan: "tray", weight: "4 kg")"#;
    // 3 kg of food times 2.3 in three pans.
    assert_eq!(changes(bake, 23), with("Bake: 3 pans of 3.3 kg, not 1 pan of 4 kg"));
    assert_eq!(changes(r#"Fry(do: "Fry", takes: "6 min", batches: 2)"#, 23), with("Fry: 5 batches, not 2 batches"));
    assert_eq!(changes(r#"Fry(do: "Fry", takes: "6 min")"#, 23), with("Fry: 3 batches, not 1 batch"));
    // 2.3 to the power of 0.8 is 1.947.
    assert_eq!(changes(r#"Prep("Peel", "30 min")"#, 23), with("Peel: 58 min, not 30 min"));
    assert_eq!(
        changes(r#"Chill(do: "Chill", takes: "4 h")"#, 23),
        with("Chill: 3 shelves of the refrigerator, not 1 shelf of the refrigerator")
    );
    let joint = r#"Joint(do: "Roast", meat: pork, cut: loin, weight: "3 kg", thickness: "10 cm", to: "66 C", accepts: "160 C", pan: "40 x 30 x 12 cm")"#;
    assert_eq!(changes(joint, 23), with("Roast: 3 joints of 2.3 kg, not 1 joint of 3 kg"));
    assert_eq!(made(joint, 23).dish.steps[0].joint.as_ref().unwrap().beside, 2);
    assert_eq!(changes(joint, 12)[2], "Roast: 1 joint of 3.6 kg, not 1 joint of 3 kg", "up to a quarter heavier");
    assert_eq!(changes(bake, 11)[2], "Bake: 1 pan of 4.3 kg, not 1 pan of 4 kg", "up to a tenth fuller");
    assert_eq!(changes(r#"Rest("Let it stand", "20 min")"#, 23), shopping);
    assert!(made(bake, 5).dish.steps[0].note.as_ref().unwrap().contains("look sooner"));
    assert_eq!(made(bake, 10).changes, []);
}

#[test]
fn what_does_not_fit_is_refused_with_up_to_how_many_it_would() {
    let refused = |steps: &str, portions: i64| {
        let misfits = scale(&dish(steps), 2 * portions, &kitchen(), Units::Metric).unwrap_err();
        misfits.into_iter().map(|own| format!("{}; {}", own.cause, own.remedy)).collect::<Vec<_>>().join("\n")
    };
    let stew = r#"Simmer(do: "Start", takes: "20 min", pan: "stew pot"), Braise(do: "Stew", at: "150 C", takes: "2 h", pan: "stew pot")"#;
    assert!(made(stew, 20).changes.len() == 4, "two pots are there");
    let text = refused(stew, 21);
    assert!(
        text.contains("3 of the stew pot at once, and the kitchen has 2") && text.contains("up to 20 portions"),
        "{text}"
    );
    assert!(refused(r#"Chill(do: "Chill", takes: "4 h")"#, 31).contains("4 shelves of the refrigerator, and it has 3"));
    assert!(refused(r#"Prep("Peel", "30 min")"#, 101).contains("beyond 10 times"));
    assert!(refused(r#"Fry(takes: "6 min", batches: 6)"#, 90).contains("54 batches"));
    assert_eq!(
        made(r#"Bake(at: "180 C", takes: "50 min", pan: "tray")"#, 30).dish.steps[0].pans,
        Some(3),
        "one after the other"
    );
}

fn steps() -> impl Strategy<Value = Step> {
    let minutes = 1_i64..200;
    let counter =
        (prop_oneof![Just(Kind::Prep), Just(Kind::Carve), Just(Kind::Beat), Just(Kind::Dress)], minutes.clone())
            .prop_map(|(kind, minutes)| Step::new(kind, minutes));
    let stands = (prop_oneof![Just(Kind::Chill), Just(Kind::Rest), Just(Kind::Soak)], minutes.clone())
        .prop_map(|(kind, minutes)| Step::new(kind, minutes));
    let batches = (prop_oneof![Just(Kind::Fry), Just(Kind::Sear), Just(Kind::StirFry)], minutes.clone(), 1_i64..6)
        .prop_map(|(kind, minutes, count)| Step { batches: (count > 1).then_some(count), ..Step::new(kind, minutes) });
    let pans = (minutes, 1_i64..6, proptest::option::of(10_i64..20_000)).prop_map(|(minutes, count, weight)| {
        let mut step = Step { pans: (count > 1).then_some(count), ..Step::new(Kind::Bake, minutes) };
        step.way = Way { temperature: Some([175, 185]), weight, ..step.way };
        step
    });
    let joint = (1_i64..4, 500_i64..9_000, proptest::option::of(40_i64..150)).prop_map(|(count, weight, thickness)| {
        let mut step = dish(
            r#"Joint(meat: pork, cut: loin, weight: "3 kg", thickness: "10 cm", to: "66 C", accepts: "160 C", pan: "40 x 30 x 12 cm")"#,
        )
        .steps
        .remove(0);
        step.pans = (count > 1).then_some(count);
        let joint = step.joint.as_mut().unwrap();
        (joint.piece.weight, joint.piece.thickness) = (Some(weight), thickness);
        step
    });
    prop_oneof![counter, stands, batches, pans, joint]
}

fn dishes() -> impl Strategy<Value = Dish> {
    let measures = prop_oneof![
        (1_i64..100_000).prop_map(|grams| (100 * grams, Measure::Grams)),
        (1_i64..10_000).prop_map(|ml| (ml, Measure::Millilitres)),
        (1_i64..60).prop_map(|pieces| (100 * pieces, Measure::Pieces("bunches".to_owned()))),
        (1_i64..9).prop_map(|halves| (50 * halves, Measure::Pieces(String::new()))),
    ];
    let buy = (measures, any::<bool>()).prop_map(|((hundredths, measure), each)| Buy {
        what: "roots".to_owned(),
        amount: Amount { hundredths, measure, each },
    });
    let parts = (1_i64..40, proptest::collection::vec(buy, 0..4), proptest::collection::vec(steps(), 1..6));
    parts.prop_map(|(portions, buys, steps)| Dish { portions: Some(portions), buys, ..Dish::new("Roots", steps) })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    /// Made for so many times as many and back again, a dish is what it was.
    #[test]
    fn there_and_back_is_the_same_dish(dish in dishes(), times in 2_i64..=8) {
        let large = Kitchen::default();
        let written = dish.portions.unwrap();
        let there = scale(&dish, 2 * written * times, &large, Units::Metric).unwrap();
        let back = scale(&there.dish, 2 * written, &large, Units::Metric).unwrap();
        prop_assert_eq!(format!("{:?}", back.dish), format!("{dish:?}"));
        prop_assert_eq!(there.changes.len(), back.changes.len());
    }

    /// Never less of anything for more people, no pan fuller than a tenth over what is written, no joint more than a quarter heavier.
    #[test]
    fn more_people_get_no_less(dish in dishes(), halves in 2_i64..80, more in 0_i64..40) {
        let large = Kitchen::default();
        let both = [halves, halves + more].map(|halves| scale(&dish, halves, &large, Units::Metric));
        let [Ok(few), Ok(many)] = both else { return Ok(()) };
        for (less, more) in few.dish.buys.iter().zip(&many.dish.buys) {
            prop_assert!(less.amount.hundredths <= more.amount.hundredths);
        }
        let food = |step: &Step| {
            let each = step.joint.as_ref().map_or(step.way.weight, |joint| joint.piece.weight);
            each.map(|each| each * step.pans.unwrap_or(1))
        };
        for ((written, less), more) in dish.steps.iter().zip(&few.dish.steps).zip(&many.dish.steps) {
            prop_assert!(less.pans.unwrap_or(1) <= more.pans.unwrap_or(1));
            prop_assert!(less.batches.unwrap_or(1) <= more.batches.unwrap_or(1));
            prop_assert!(less.way.takes.map(|takes| takes.min) <= more.way.takes.map(|takes| takes.min));
            // A gram for each pan is lost in rounding.
            let lost = more.pans.unwrap_or(1) + less.pans.unwrap_or(1);
            prop_assert!(food(less).zip(food(more)).is_none_or(|(less, more)| less <= more + lost));
            let each = |step: &Step| step.joint.as_ref().map_or(step.way.weight, |joint| joint.piece.weight);
            let most = if written.joint.is_some() { 1.25 } else { 1.1 };
            let fits = |(own, written): (i64, i64)| own as f64 <= written as f64 * most + 1.0;
            prop_assert!(each(more).zip(each(written)).is_none_or(fits));
        }
    }
}
