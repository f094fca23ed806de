//! Plans that break one rule each are refused for just that.

use rangewright::models::check::{BadHands, Opening, Violation, check};
use rangewright::models::plan::{Piece, Plan};
use rangewright::models::problem::Problem;
use rangewright_tests::data;

/// After `broken.csv` beside the plans: the file, its instance, and whether a violation is the one named there.
type Case = (&'static str, &'static str, fn(&Violation) -> bool);

const CASES: [Case; 6] = [
    ("who", "crew-7", |found| {
        matches!(found, Violation::PieceDone { step, piece: Piece::Whole, why: BadHands::MayNot { cook } }
            if step == "d05.2.mash" && cook == "second")
    }),
    ("not-there", "crew-8", |found| {
        matches!(found, Violation::PieceDone { step, piece: Piece::Load, why: BadHands::NotThere { cook } }
            if step == "d08.1.set" && cook == "junior")
    }),
    ("passing-while-busy", "crew-2", |found| {
        matches!(found, Violation::CookBusy { cook, minute: 2569, first, second }
            if cook == "head" && [&first.0, &second.0].iter().all(|step| ["d00.3.rest", "d02.1.roast"].contains(&step.as_str())))
    }),
    (
        "touch-too-far",
        "crew-3",
        |found| matches!(found, Violation::Touch { step, touch: 0, offset: 26, first: 20, last: 25 } if step == "d07.4.bake"),
    ),
    ("door", "crew-6", |found| {
        matches!(found, Violation::DoorOpened { place, shut, opened, what: Opening::Touch, minute: 2464 }
            if place == "ovenA" && shut == "d05.1.bake" && opened == "d01.1.low")
    }),
    ("waiting-pool", "crew-1", |found| {
        matches!(found, Violation::Pool { pool, minute: 2606, needed: 4, there: 3, steps }
            if pool == "lamp" && *steps == ["d00.5.plate", "d01.3.dish-up", "d02.3.dish-up", "d07.6.plate"])
    }),
];

#[test]
fn every_broken_plan_is_refused_for_what_is_broken() {
    for (name, instance, is_named) in CASES {
        let problem: Problem = data::json(&format!("kitchens/instances/{instance}.json"));
        let sound: Plan = data::json(&format!("kitchens/plans/{instance}.json"));
        // The broken files say what is done, and nothing of costs.
        let mut plan = serde_json::to_value(&sound).expect("a plan");
        let broken: serde_json::Map<String, serde_json::Value> =
            data::json(&format!("kitchens/broken/{name}.plan.json"));
        plan.as_object_mut().expect("an object").extend(broken);
        let plan: Plan = serde_json::from_value(plan).expect("a plan");
        let found = check(&problem, &plan).expect_err(name);
        assert!(found.iter().any(is_named), "{name}: {found:#?}");
        assert!(check(&problem, &sound).is_ok(), "{instance}");
    }
}

#[test]
fn what_a_plan_says_of_hands_and_touches_is_looked_at() {
    let problem: Problem = data::json("kitchens/instances/crew-1.json");
    let sound: Plan = data::json("kitchens/plans/crew-1.json");
    let after = |change: fn(&mut Plan)| {
        let mut plan = sound.clone();
        change(&mut plan);
        check(&problem, &plan).expect_err("it is broken")
    };
    let bad = |found: &[Violation], bad: &BadHands| {
        found.iter().any(|one| matches!(one, Violation::PieceDone { why, .. } if why == bad))
    };
    assert!(bad(&after(|plan| drop(plan.hands.pop())), &BadHands::Nobody));
    assert!(bad(&after(|plan| plan.hands.push(plan.hands[0].clone())), &BadHands::Twice));
    assert!(bad(&after(|plan| plan.hands[0].piece = Piece::Touch(9)), &BadHands::NoSuchPiece));
    assert!(bad(&after(|plan| plan.hands[0].cooks.clear()), &BadHands::Number { cooks: 0, needed: 1 }));
    let stranger = || BadHands::Unknown { cook: "nobody".to_owned() };
    assert!(bad(&after(|plan| plan.hands[0].cooks = vec!["nobody".to_owned()]), &stranger()));
    let found = after(|plan| plan.steps.get_mut("d00.1.low").expect("a step").touches.truncate(1));
    assert!(
        found.iter().any(|one| matches!(one, Violation::TouchesStated { stated: 1, touches: 2, .. })),
        "{found:#?}"
    );
}

#[test]
fn either_shifts_or_cooks_have_to_be_given() {
    let text = r#"{"name": "", "opening": 0, "pools": {}, "places": [], "dishes": [], "courses": [], "steps": [], "links": []"#;
    let read = |more: &str| serde_json::from_str::<Problem>(&format!("{text}{more}}}"));
    assert!(read("").is_err_and(|error| error.to_string().contains("`shifts`")));
    assert!(read(r#", "shifts": []"#).is_ok());
    assert!(
        read(r#", "shifts": [], "cooks": [{"id": "A", "shifts": []}]"#)
            .is_ok_and(|problem| problem.faults().is_empty())
    );
}
