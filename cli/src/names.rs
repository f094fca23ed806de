//! From what somebody types to the ids of a problem.

use std::collections::BTreeMap;

use rangewright::models::problem::{Place, Problem};

use crate::Exit;
use crate::input::Refusal;
use crate::words::Words;

/// The id of a dish named in full or in part.
pub(crate) fn dish(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    let known = problem.dishes.iter().map(|dish| (dish.id.as_str(), words.dish(&dish.id).to_owned()));
    find("dish", name, known, &|_| false)
}

/// The id of a cavity named in full or in part.
pub(crate) fn cavity(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    let cavities = problem.places.iter().filter(|place| matches!(place, Place::Cavity(_)));
    find("oven", name, cavities.map(|place| (place.id(), words.place(place.id()).to_owned())), &|_| false)
}

/// The id of an appliance named in full or in part.
pub(crate) fn place(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    let known = problem.places.iter().map(|place| (place.id(), words.place(place.id()).to_owned()));
    find("appliance", name, known, &|_| false)
}

/// The id of a step named in full or in part, or by its dish. Where that may be several, the only one that is `likely`.
pub(crate) fn step(problem: &Problem, words: &Words, name: &str, likely: Likely<'_>) -> Result<String, Refusal> {
    let known = || problem.steps.iter().map(|step| (step.id.as_str(), words.title(&step.id).to_owned()));
    let found = find("step", name, known(), likely);
    let none = !known().any(|(id, own)| own.to_lowercase().contains(&name.trim().to_lowercase()) || id.contains(name));
    match dish(problem, words, name) {
        Ok(dish) if found.is_err() && none => {
            let of = |id: &str| problem.steps.iter().any(|step| step.id == id && step.dish == dish);
            find("step", &dish, known().filter(|(id, _)| of(id)), likely)
        }
        _ => found,
    }
}

/// The name of a cook, as schedules have it, from a part of it.
pub(crate) fn cook(words: &Words, name: &str) -> Result<String, Refusal> {
    let cooks = words.said.cooks.iter().map(|cook| (cook.name.as_str(), words.cook(&cook.name).to_owned()));
    find("cook", name, cooks, &|_| false)
}

/// The id of a course named in full or in part.
pub(crate) fn course(problem: &Problem, words: &Words, name: &str) -> Result<String, Refusal> {
    let known = problem.courses.iter().map(|course| (course.id.as_str(), words.course(&course.id).to_owned()));
    find("course", name, known, &|_| false)
}

/// Which of several is likely to be meant, by its id.
pub(crate) type Likely<'a> = &'a dyn Fn(&str) -> bool;

/// Whether what was typed is like an id or its name.
type Likeness<'a> = &'a dyn Fn(&str, &str) -> bool;

/// A name as it is compared: in small letters and without articles, for `Roast the roots` is called `roast roots` as well.
fn bare(name: &str) -> String {
    let words = name.split_whitespace().map(str::to_lowercase);
    words.filter(|word| !matches!(word.as_str(), "the" | "a" | "an")).collect::<Vec<_>>().join(" ")
}

/// The one whose id or name it is; else the only one of which it is a part.
fn find<'a>(
    what: &str,
    name: &str,
    known: impl Iterator<Item = (&'a str, String)>,
    likely: Likely<'_>,
) -> Result<String, Refusal> {
    let known: BTreeMap<&str, String> = known.collect();
    if known.contains_key(name.trim()) {
        return Ok(name.trim().to_owned());
    }
    let (wanted, bare_wanted) = (name.trim().to_lowercase(), bare(name));
    // The closest likeness that anything has decides.
    let all_words = |id: &str, own: &str| {
        let said = format!("{} {}", bare(own), id.replace(['-', '/'], " "));
        !bare_wanted.is_empty() && bare_wanted.split(' ').all(|word| said.contains(word))
    };
    let alike: [Likeness<'_>; 5] = [
        &|_, own| own.to_lowercase() == wanted,
        &|_, own| bare(own) == bare_wanted,
        &|id, own| own.to_lowercase().contains(&wanted) || id.contains(&wanted),
        &|_, own| bare(own).contains(&bare_wanted),
        &all_words,
    ];
    let found: Vec<(&&str, &String)> = alike
        .iter()
        .map(|is_like| known.iter().filter(|(id, own)| is_like(id, own)).collect::<Vec<_>>())
        .find(|found| !found.is_empty())
        .unwrap_or_default();
    let text = match found.as_slice() {
        [(id, _)] => return Ok((**id).to_owned()),
        [] => {
            let all: Vec<&str> = known.values().map(String::as_str).collect();
            format!("error: there is no {what} {name:?}; there are: {}\n", all.join("; "))
        }
        several if several.iter().filter(|(id, _)| likely(id)).count() == 1 => {
            let one = several.iter().find(|(id, _)| likely(id)).map_or("", |(id, _)| **id);
            return Ok(one.to_owned());
        }
        several => {
            // What is called the same is told apart by its id.
            let alike = |own: &String| several.iter().filter(|(_, other)| *other == own).count() > 1;
            let told = |(id, own): &(&&str, &String)| if alike(own) { format!("{own} ({id})") } else { (*own).clone() };
            let all: Vec<String> = several.iter().map(told).collect();
            format!("error: {name:?} may be more than one {what}: {}. Say more of the name\n", all.join("; "))
        }
    };
    Err(Refusal::new(text, Exit::BadInput))
}
