//! Readers of published instances, each mapped onto [`Problem`].
//!
//! Every one asks for the shortest makespan: one course wants to be served at the opening time, with weight 1, so that
//! its lateness is the makespan. Waiting costs nothing, and no cavity is kept hot. What a file lacks or has too much of is
//! a [`ReadError`] that names the line.

mod network;
mod project;
mod shop;
mod tokens;

use std::collections::BTreeMap;

use rangewright::models::problem::{Course, Dish, Link, Minute, Mode, Problem, Sink, Step, Wait};

pub use project::{read_progen, read_psplib};
pub use shop::{read_flexible_job_shop, read_job_shop};
pub use tokens::ReadError;

/// A problem whose only goal is to end soon after minute 0; the fields that depend on the format are still empty.
///
/// `ends` are the ids of the steps after which nothing comes. `horizon` is a number of minutes within which all can be done
/// if it can be done at all.
fn race(name: &str, horizon: Minute, ends: &[String]) -> Problem {
    let sinks =
        ends.iter().map(|step| Sink { step: step.clone(), wait: Wait::default(), pools: BTreeMap::new() }).collect();
    Problem {
        name: name.to_owned(),
        opening: 0,
        shifts: Vec::new(),
        cooks: Vec::new(),
        pools: BTreeMap::new(),
        places: Vec::new(),
        dishes: Vec::new(),
        courses: vec![Course {
            id: "all".to_owned(),
            serve: 0,
            weight: 1,
            max_slip: horizon,
            together: horizon,
            sinks,
            after: None,
        }],
        steps: Vec::new(),
        links: Vec::new(),
    }
}

fn dish(id: &str) -> Dish {
    Dish { id: id.to_owned(), name: id.to_owned() }
}

fn step(id: &str, dish: &str, kind: &str, modes: Vec<Mode>) -> Step {
    Step {
        id: id.to_owned(),
        dish: dish.to_owned(),
        kind: kind.to_owned(),
        earliest: None,
        latest: None,
        wait: Wait::default(),
        modes,
    }
}

/// A mode that takes exactly these minutes and nothing else.
pub(crate) fn rigid(minutes: Minute) -> Mode {
    Mode::at_counter(minutes, minutes)
}

fn link(from: &str, to: &str, min: Minute, max: Option<Minute>) -> Link {
    Link {
        from: from.to_owned(),
        to: to.to_owned(),
        min,
        max,
        stay: false,
        wait: Wait::default(),
        pools: BTreeMap::new(),
    }
}
