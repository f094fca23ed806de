//! Where, how hot, how long: the words for one job.

use rangewright::models::problem::{Heat, Minute, Mode, Place, Rack, Step};
use rangewright::models::schedule::{CavityDay, Setting, Spot, TopSpot};
use rangewright::models::units::Temperature;

use super::View;
use crate::words::capital;

/// The names of a course's dishes.
pub(crate) fn dishes_of<'a>(view: &View<'a>, course: &str) -> Vec<&'a str> {
    let mut names: Vec<&str> = Vec::new();
    for own in view.problem.courses.iter().filter(|own| own.id == course) {
        for sink in &own.sinks {
            let name = view.words.dish_of(&sink.step);
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
}

/// First words of dishes that keep their capital within a sentence: where a dish comes from, the day it is made for.
const PROPER: &[&str] = &[
    "African",
    "Alsatian",
    "American",
    "Arab",
    "Argentine",
    "Asian",
    "Austrian",
    "Bakewell",
    "Basque",
    "Bavarian",
    "Belgian",
    "Bengali",
    "Bolognese",
    "Bombay",
    "Brazilian",
    "British",
    "Brussels",
    "Burmese",
    "Caesar",
    "Cajun",
    "Caribbean",
    "Cheshire",
    "Chinese",
    "Christmas",
    "Cornish",
    "Creole",
    "Cuban",
    "Cumberland",
    "Danish",
    "Devon",
    "Dutch",
    "Easter",
    "Eccles",
    "Egyptian",
    "English",
    "Ethiopian",
    "Filipino",
    "Finnish",
    "Flemish",
    "Florentine",
    "French",
    "Genoese",
    "German",
    "Goan",
    "Greek",
    "Hungarian",
    "Indian",
    "Indonesian",
    "Iranian",
    "Irish",
    "Italian",
    "Jamaican",
    "Japanese",
    "Kashmiri",
    "Korean",
    "Lancashire",
    "Lebanese",
    "Lincolnshire",
    "London",
    "Maltese",
    "Mexican",
    "Moroccan",
    "Neapolitan",
    "Norwegian",
    "Palestinian",
    "Parma",
    "Persian",
    "Peruvian",
    "Polish",
    "Portuguese",
    "Provencal",
    "Roman",
    "Romanian",
    "Russian",
    "Scandinavian",
    "Scotch",
    "Scottish",
    "Sicilian",
    "Spanish",
    "Swedish",
    "Swiss",
    "Syrian",
    "Thai",
    "Tunisian",
    "Turkish",
    "Tuscan",
    "Victoria",
    "Vietnamese",
    "Waldorf",
    "Welsh",
    "Yorkshire",
];

/// A dish or an appliance in the middle of a sentence: `the warm plates`, `the big oven`; but `burner 1`, `the Yorkshire
/// puddings`, and `BBQ chicken` and whatever else begins with two capitals.
pub(crate) fn the(name: &str) -> String {
    let mut letters = name.chars();
    let (first, second) = (letters.next(), letters.next());
    let counted = name.ends_with(|letter: char| letter.is_ascii_digit());
    let own = second.is_some_and(char::is_uppercase);
    let has = ["the ", "a ", "an ", "my ", "our "].iter().any(|article| name.to_lowercase().starts_with(article));
    let Some(first) = first.filter(|_| !own) else { return name.to_owned() };
    let word = name.split(|letter: char| !letter.is_alphanumeric()).next().unwrap_or_default();
    let small: String = match PROPER.contains(&word) {
        true => name.to_owned(),
        false => first.to_lowercase().chain(name.chars().skip(1)).collect(),
    };
    if counted || has { small } else { format!("the {small}") }
}

/// Names in a row, told apart even where one has a comma in it.
pub(crate) fn list(names: &[impl AsRef<str>]) -> String {
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    names.join(if names.iter().any(|name| name.contains(',')) { "; " } else { ", " })
}

/// A step with its chosen mode and its minutes.
#[derive(Clone, Copy)]
pub(crate) struct Planned<'a> {
    pub(crate) step: &'a Step,
    pub(crate) mode: &'a Mode,
    pub(crate) index: usize,
    pub(crate) start: Minute,
    pub(crate) end: Minute,
}

/// Looks a step up in the plan.
pub(crate) fn planned<'a>(view: &View<'a>, step: &str) -> Option<Planned<'a>> {
    let planned = view.planned.plan.steps.get(step)?;
    let step = view.problem.steps.iter().find(|own| own.id == step)?;
    let mode = step.modes.get(planned.mode)?;
    Some(Planned { step, mode, index: planned.mode, start: planned.start, end: planned.end })
}

/// Where a step is done, how hot and in what: `Big oven, upper rack, 180 C fan, oven tray`. Nothing for the bare counter.
pub(crate) fn place(view: &View<'_>, own: Planned<'_>) -> Option<String> {
    let mut parts = own.mode.place.as_deref().and_then(|id| appliance(view, own, id)).unwrap_or_default();
    let pan = view.words.step(&own.step.id).and_then(|label| label.modes.get(own.index)?.pan.as_deref());
    parts.extend(
        pan.map(
            |pan| if pan.starts_with(|c: char| c.is_ascii_digit()) { format!("pan {pan}") } else { pan.to_owned() },
        ),
    );
    // Watts and the like are nothing to look for in a cupboard.
    const MOST: i64 = 20;
    for (pool, &amount) in own.mode.pools.iter().filter(|(_, amount)| (1..=MOST).contains(*amount)) {
        let name = view.words.pool(pool);
        if pan != Some(name) {
            parts.push(if amount > 1 { format!("{amount} x {name}") } else { name.to_owned() });
        }
    }
    (!parts.is_empty()).then(|| capital(&parts.join(", ")))
}

/// The name of an appliance; of a hob, with the number of the burner.
pub(crate) fn named(view: &View<'_>, own: Planned<'_>, id: &str) -> String {
    let name = view.words.place(id);
    let several =
        view.problem.places.iter().any(|place| matches!(place, Place::Hob(hob) if hob.id == id && hob.count > 1));
    let spots = view.day.hobs.iter().filter(|day| day.place == id).flat_map(|day| &day.spots);
    match spots.into_iter().find(|spot| spot.step == own.step.id) {
        Some(spot) if several && name.ends_with("burner") => format!("{name} {}", spot.burner),
        Some(spot) if several => format!("{name}, burner {}", spot.burner),
        _ => name.to_owned(),
    }
}

fn appliance(view: &View<'_>, own: Planned<'_>, id: &str) -> Option<Vec<String>> {
    let words = view.words.step(&own.step.id).and_then(|label| label.modes.get(own.index));
    let level = |level: [i64; 2]| {
        let marks = if level[0] == level[1] {
            format!("heat {}", level[0])
        } else {
            format!("heat {} to {}", level[0], level[1])
        };
        match words.and_then(|words| words.level.as_deref()) {
            Some(word) => format!("{word} heat ({})", marks.trim_start_matches("heat ")),
            None => marks,
        }
    };
    let mut parts = vec![named(view, own, id)];
    if let Some(day) = view.day.cavities.iter().find(|day| day.place == id) {
        let racks = view.problem.places.iter().find_map(|place| match place {
            Place::Cavity(cavity) if cavity.id == id => Some(cavity.racks),
            _ => None,
        });
        if let Some(spot) = day.spots.iter().find(|spot| spot.step == own.step.id && spot.from == own.start) {
            if racks.is_some_and(|racks| racks > 1) {
                parts.push(format!("{} rack{}", rack(spot.height), beside(day, spot)));
            } else if !beside(day, spot).is_empty() {
                parts.push(beside(day, spot).trim_start_matches([',', ' ']).to_owned());
            }
            if spot.turned {
                parts.push("short side to the front".to_owned());
            }
        }
        parts.extend(setting_at(day, own.start).map(|setting| dial(view, day, setting)));
    } else if let Some(day) = view.day.hobs.iter().find(|day| day.place == id) {
        let spot = day.spots.iter().find(|spot| spot.step == own.step.id)?;
        parts.push(level(spot.level));
    } else if let Some(day) = view.day.tops.iter().find(|day| day.place == id) {
        let spot = day.spots.iter().find(|spot| spot.step == own.step.id)?;
        let (width, depth) = view.problem.places.iter().find_map(|place| match place {
            Place::Top(top) if top.id == id => Some((top.width, top.depth)),
            _ => None,
        })?;
        parts.extend(corner(spot, width, depth));
        parts.push(level(spot.level));
    }
    Some(parts)
}

/// The setting in force once a step has begun.
pub(crate) fn setting_at(day: &CavityDay, minute: Minute) -> Option<&Setting> {
    day.settings.iter().rfind(|setting| setting.at <= minute)
}

/// `180 C fan`, `180 C, no fan`, or `off`.
pub(crate) fn dial(view: &View<'_>, day: &CavityDay, setting: &Setting) -> String {
    match (setting.degrees, setting.heat) {
        (Some(degrees), Some(Heat::Static)) => {
            format!("{}, {}", set_to(view, day, setting, degrees), heat(Heat::Static))
        }
        (Some(degrees), Some(kind)) => format!("{} {}", set_to(view, day, setting, degrees), heat(kind)),
        (Some(degrees), None) => set_to(view, day, setting, degrees),
        (None, _) => "off".to_owned(),
    }
}

/// The degrees of a setting: as they were asked for by what is in meanwhile, if they are the same.
pub(crate) fn set_to(view: &View<'_>, day: &CavityDay, setting: &Setting, degrees: i64) -> String {
    let asked = asked(view, day, setting).into_iter().find(|(_, asked)| asked.whole() == degrees);
    view.words.dial(asked.map_or(Temperature::of_celsius(degrees), |(_, asked)| asked))
}

/// What each step asks for that is in while a setting is in force.
pub(crate) fn asked<'a>(view: &View<'a>, day: &CavityDay, setting: &Setting) -> Vec<(Planned<'a>, Temperature)> {
    let next = day.settings.iter().find(|next| next.at > setting.at).map_or(Minute::MAX, |next| next.at);
    let steps = view.problem.steps.iter().filter_map(|step| planned(view, &step.id));
    let here = steps.filter(|own| own.mode.place.as_deref() == Some(day.place.as_str()));
    here.filter(|own| own.start < next && setting.at < own.end)
        .filter_map(|own| Some((own, view.words.step(&own.step.id)?.modes.get(own.index)?.asked?)))
        .collect()
}

/// Why a dial is not set to what was asked for, if it is not.
pub(crate) fn moved(view: &View<'_>, day: &CavityDay, setting: &Setting) -> Option<String> {
    let degrees = setting.degrees?;
    let asked = asked(view, day, setting);
    if asked.iter().all(|(_, asked)| asked.whole() == degrees) {
        return None;
    }
    let mut wishes: Vec<(String, Vec<String>)> = Vec::new();
    for (own, wish) in &asked {
        let (wish, dish) = (view.words.dial(*wish), the(view.words.dish_of(&own.step.id)));
        match wishes.iter_mut().find(|(own, _)| *own == wish) {
            Some((_, dishes)) if dishes.contains(&dish) => {}
            Some((_, dishes)) => dishes.push(dish),
            None => wishes.push((wish, vec![dish])),
        }
    }
    let dishes: usize = wishes.iter().map(|(_, dishes)| dishes.len()).sum();
    let why = match dishes {
        1 => "this also suits what is in the oven before, beside or after it",
        2 => "this suits both",
        _ => "this suits all",
    };
    let wishes = wishes.into_iter().map(|(wish, dishes)| format!("{wish} for {}", dishes.join(" and ")));
    Some(format!("Wanted: {}; {why}", wishes.collect::<Vec<_>>().join(", ")))
}

pub(crate) fn heat(heat: Heat) -> &'static str {
    match heat {
        Heat::Fan => "fan",
        Heat::Static => "no fan",
        Heat::Steam => "steam",
        Heat::Grill => "grill",
        Heat::Spit => "spit",
    }
}

pub(crate) fn rack(rack: Rack) -> &'static str {
    match rack {
        Rack::Upper => "upper",
        Rack::Middle => "middle",
        Rack::Lower => "lower",
    }
}

/// Which side of a shelf, if it is shared.
fn beside(day: &CavityDay, spot: &Spot) -> String {
    let shares = |other: &&Spot| {
        other.step != spot.step && other.floor == spot.floor && other.from < spot.until && spot.from < other.until
    };
    let others: Vec<&Spot> = day.spots.iter().filter(shares).collect();
    if others.is_empty() {
        return String::new();
    }
    let across = if others.iter().all(|other| spot.x + spot.width <= other.x) {
        " on the left"
    } else if others.iter().all(|other| other.x + other.width <= spot.x) {
        " on the right"
    } else if others.iter().all(|other| spot.y + spot.depth <= other.y) {
        " at the back"
    } else if others.iter().all(|other| other.y + other.depth <= spot.y) {
        " at the front"
    } else {
        " between the others"
    };
    across.to_owned()
}

/// Which part of a top a pan stands on; nothing if it is all one.
fn corner(spot: &TopSpot, width: i64, depth: i64) -> Option<String> {
    let third = |from: i64, side: i64, words: [&'static str; 3]| {
        let middle = 2 * from + spot.diameter;
        let index = if 3 * middle < 2 * side { 0 } else { 1 + usize::from(3 * middle > 4 * side) };
        words[index]
    };
    let along = third(spot.y, depth, ["back", "", "front"]);
    let across = third(spot.x, width, ["left", "", "right"]);
    let words = [along, across].into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
    (!words.is_empty()).then_some(words)
}

#[cfg(test)]
mod tests {
    use super::the;

    #[test]
    fn a_name_in_a_sentence_is_small_unless_it_is_a_proper_one() {
        let names = ["Warm plates", "Yorkshire puddings", "Burner 1", "The big oven", "BBQ chicken"];
        let small = ["the warm plates", "the Yorkshire puddings", "burner 1", "the big oven", "BBQ chicken"];
        assert_eq!(names.map(the), small);
    }
}
