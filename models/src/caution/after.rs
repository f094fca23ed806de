//! The hour after the last course: what is left over, ovens, hot fat, embers.

use crate::cook::Source;
use crate::cook::safety::Limit;
use crate::hazard::{Night, days_kept, glows};
use crate::kitchen::SHELF;
use crate::labels::{Labels, Warmth};
use crate::menu::{Kind, slug};
use crate::plan::Plan;
use crate::problem::{Minute, Place, Problem};

/// How deep leftovers may lie so that they cool in time, millimetres (common practice, no source).
const SHALLOW_MM: i64 = 50;
const DAY: Minute = 1_440;
/// Times are said on marks of so many minutes.
const MARK: Minute = 5;

/// What is to be done when the last course is out.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Afterwards {
    /// What is left of these dishes goes into the cold, in shallow containers.
    Chill {
        /// Names of dishes, each with the latest minute at which that is begun, so that it has not stood for too long.
        dishes: Vec<(String, Minute)>,
        /// The last day on which it is eaten lies around this minute.
        eat_by: Minute,
        /// Shelves of the refrigerator, if the kitchen says how many there are.
        shelves: Option<i64>,
        /// Who says how long it may stand, and how long it keeps.
        sources: [Source; 2],
    },
    /// What is left of these has stood for too long to be kept.
    Discard {
        /// Names of dishes.
        dishes: Vec<String>,
    },
    /// Places that are hot.
    Off {
        /// Their names.
        places: Vec<String>,
    },
    /// Fat that was fried in.
    Fat,
    /// Coals.
    Embers,
}

impl Afterwards {
    /// As a sentence; `clock` and `day` say a minute as the cooks read it.
    pub fn sentence(&self, clock: impl Fn(Minute) -> String, day: impl Fn(Minute) -> String) -> String {
        match self {
            Afterwards::Chill { dishes, eat_by, shelves, sources: [stands, keeps] } => {
                let room = match shelves {
                    Some(1) => "; the one shelf of the refrigerator must be free",
                    Some(_) => "; keep a shelf of the refrigerator free for them",
                    None => "",
                };
                let dishes: Vec<String> =
                    dishes.iter().map(|(dish, by)| format!("{dish} by {}", clock(by - by % MARK))).collect();
                format!(
                    "What is left goes into the refrigerator, no deeper than {SHALLOW_MM} mm, uncovered until it is cold{room}: {} [{}]. \
                     Eat it by {}; what was hot is heated right through, once [{}].",
                    dishes.join("; "),
                    stands.cited(),
                    day(*eat_by),
                    keeps.cited()
                )
            }
            Afterwards::Discard { dishes } => {
                format!("Keep nothing of {}: it has stood between cold and hot for too long.", dishes.join(", "))
            }
            Afterwards::Off { places } => format!("Off, and looked at once more: {}.", places.join(", ")),
            Afterwards::Fat => {
                "Hot fat stays where it is, lid on, until it is cold; never water, never down the sink.".to_owned()
            }
            Afterwards::Embers => {
                "Embers stay outdoors, drowned or in a closed metal bin; never brought in to cool.".to_owned()
            }
        }
    }
}

/// What is to be done when the last course of a plan is out, in order.
pub fn afterwards(problem: &Problem, labels: &Labels, plan: &Plan) -> Vec<Afterwards> {
    let night = Night::new(problem, labels, plan);
    let Limit { value: allowed, source: stands } = labels.region.rechill_minutes();
    let (days, keeps) = days_kept(labels.region);
    let allowed = allowed as Minute;
    let (mut kept, mut gone): (Vec<(String, Minute)>, Vec<String>) = (Vec::new(), Vec::new());
    let mut last = 0;
    for spell in &night.spells {
        let Some(served) = spell.served else { continue };
        last = last.max(served);
        if spell.perishable(spell.facts.cooked || spell.facts.warmth != Warmth::None).is_none() {
            continue;
        }
        let (name, left) = (&spell.dish.name, allowed - spell.stood);
        if left <= 0 {
            if !gone.contains(name) {
                gone.push(name.clone());
            }
        } else if let Some((_, by)) = kept.iter_mut().find(|(dish, _)| dish == name) {
            *by = (*by).min(served + left);
        } else {
            kept.push((name.clone(), served + left));
        }
    }
    kept.retain(|(dish, _)| !gone.contains(dish));
    kept.sort_by_key(|(_, by)| *by);
    let mut all = Vec::new();
    if !kept.is_empty() {
        let shelves = problem.pools.get(&slug(SHELF)).copied();
        all.push(Afterwards::Chill { dishes: kept, eat_by: last + days * DAY, shelves, sources: [stands, keeps] });
    }
    if !gone.is_empty() {
        all.push(Afterwards::Discard { dishes: gone });
    }
    let hot = problem.places.iter().filter(|place| {
        night.spells.iter().any(|spell| spell.mode.place.as_deref() == Some(place.id()))
            && matches!(place, Place::Cavity(_) | Place::Hob(_) | Place::Top(_))
    });
    let places: Vec<String> =
        hot.map(|place| labels.places.get(place.id()).map_or(place.id().to_owned(), |own| own.name.clone())).collect();
    if !places.is_empty() {
        all.push(Afterwards::Off { places });
    }
    if night.spells.iter().any(|spell| matches!(spell.label.kind, Kind::Fry | Kind::DeepFry)) {
        all.push(Afterwards::Fat);
    }
    if night.spells.iter().any(glows) {
        all.push(Afterwards::Embers);
    }
    all
}
