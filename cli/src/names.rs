//! From what somebody types to the ids of a problem.

use std::collections::BTreeMap;

use rangewright::models::problem::{Place, Problem};

use crate::Exit;
use crate::input::Refusal;
use crate::words::Words;

/// The id of a dish named in full or in part.
pub(crate) fn dish(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    let known = problem.dishes.iter().map(|dish| (dish.id.as_str(), words.dish(&dish.id).to_owned()));
    find("dish", name, known)
}

/// The id of a cavity named in full or in part.
pub(crate) fn cavity(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    let cavities = problem.places.iter().filter(|place| matches!(place, Place::Cavity(_)));
    find("oven", name, cavities.map(|place| (place.id(), words.place(place.id()).to_owned())))
}

/// The id of an appliance named in full or in part.
pub(crate) fn place(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    find("appliance", name, problem.places.iter().map(|place| (place.id(), words.place(place.id()).to_owned())))
}

/// The id of a step named in full or in part.
pub(crate) fn step(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    find("step", name, problem.steps.iter().map(|step| (step.id.as_str(), words.title(&step.id).to_owned())))
}

/// The one whose id or name it is; else the only one of which it is a part.
fn find<'a>(what: &str, name: &str, known: impl Iterator<Item = (&'a str, String)>) -> Result<String, Refusal> {
    let known: BTreeMap<&str, String> = known.collect();
    let wanted = name.trim().to_lowercase();
    if let Some((id, _)) = known.iter().find(|(id, own)| **id == name.trim() || own.to_lowercase() == wanted) {
        return Ok((*id).to_owned());
    }
    let part = |(id, own): &(&&str, &String)| own.to_lowercase().contains(&wanted) || id.contains(&wanted);
    let parts: Vec<(&&str, &String)> = known.iter().filter(part).collect();
    let text = match parts.as_slice() {
        [(id, _)] => return Ok((**id).to_owned()),
        [] => {
            let all: Vec<&str> = known.values().map(String::as_str).collect();
            format!("error: there is no {what} {name:?}; there are: {}\n", all.join(", "))
        }
        several => {
            let all: Vec<&str> = several.iter().map(|(_, own)| own.as_str()).collect();
            format!("error: {name:?} may be more than one {what}: {}; say more of the name\n", all.join(", "))
        }
    };
    Err(Refusal::new(text, Exit::BadInput))
}
