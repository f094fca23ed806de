//! Small evenings by hand: two dishes and one oven, with numbers that are easily added up.

use std::collections::BTreeMap;

use rangewright::models::problem::{Cavity, Course, Dish, Heat, Link, Mode, Place, Problem, Shift, Sink, Step, Wait};

/// 46 x 40 x 36 cm, two racks, 3 cm of air; it rises 120 and falls 30 degrees in ten minutes and settles for 5 minutes.
pub fn oven() -> Cavity {
    Cavity {
        id: "oven".to_owned(),
        width: 460,
        depth: 400,
        height: 360,
        racks: 2,
        clearance: 30,
        max_weight: 20_000,
        t_min: 50,
        t_max: 250,
        t_open: 20,
        rise: 120,
        fall: 30,
        settle: 5,
        cool_off: 30,
        heats: vec![Heat::Fan, Heat::Static],
        attended: false,
    }
}

/// An hour at 180 C in a tray of 30 x 35 x 6 cm.
pub fn hour() -> Mode {
    Mode {
        place: Some("oven".to_owned()),
        min: 60,
        max: 60,
        t: Some([180, 180]),
        heat: Some(Heat::Fan),
        pan: Some([300, 350, 60]),
        weight: Some(3_000),
        ..counter(60, 60)
    }
}

/// Nothing but minutes, on the counter.
pub fn counter(min: i64, max: i64) -> Mode {
    Mode::at_counter(min, max)
}

/// A step of a dish that waits at 1 a minute; its id is `DISH/KIND`.
pub fn step(dish: &str, kind: &str, modes: Vec<Mode>) -> Step {
    let wait = Wait { rate: 1, soft: None, rate_after: 1 };
    Step {
        id: format!("{dish}/{kind}"),
        dish: dish.to_owned(),
        kind: kind.to_owned(),
        earliest: None,
        latest: None,
        wait,
        modes,
    }
}

/// A link at least 0 minutes long that waits at 1 a minute.
pub fn link(from: &str, to: &str, max: Option<i64>) -> Link {
    let wait = Wait { rate: 1, soft: None, rate_after: 1 };
    Link { from: from.to_owned(), to: to.to_owned(), min: 0, max, stay: false, wait, pools: BTreeMap::new() }
}

/// Dishes "a" and "b" from 10:00 on, wanted at 16:40 or up to 100 minutes later, served within `together` minutes of each other, from the oven.
pub fn evening(cavity: Cavity, together: i64, steps: Vec<Step>, links: Vec<Link>) -> Problem {
    let wait = Wait { rate: 1, soft: None, rate_after: 1 };
    let last = |step: &&Step| !links.iter().any(|link| link.from == step.id);
    let sinks =
        steps.iter().filter(last).map(|step| Sink { step: step.id.clone(), wait, pools: BTreeMap::new() }).collect();
    Problem {
        name: "two dishes".to_owned(),
        opening: 600,
        shifts: vec![Shift { start: 600, end: 1_200, hands: 1 }],
        cooks: Vec::new(),
        pools: BTreeMap::new(),
        places: vec![Place::Cavity(cavity)],
        dishes: ["a", "b"].map(|id| Dish { id: id.to_owned(), name: id.to_owned() }).into(),
        courses: vec![Course {
            id: "table".to_owned(),
            serve: 1_000,
            weight: 1,
            max_slip: 100,
            together,
            sinks,
            after: None,
        }],
        steps,
        links,
    }
}

/// Two dishes of one step each.
pub fn pair(cavity: Cavity, together: i64, a: Vec<Mode>, b: Vec<Mode>) -> Problem {
    evening(cavity, together, vec![step("a", "bake", a), step("b", "bake", b)], Vec::new())
}
