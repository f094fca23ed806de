//! What a problem demands, one demand at a time.

use std::collections::BTreeSet;
use std::fmt;

use rangewright_models::problem::{Minute, Place, Problem};
use serde::{Deserialize, Serialize};

/// A demand of a problem that could be given up. Ids are those of the problem.
///
/// [`without`](super::without) says exactly what giving one up means.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Fact {
    /// The dish is on the menu.
    Dish {
        /// The dish.
        dish: String,
    },
    /// The course is served no later than its `serve + max_slip`.
    Serving {
        /// The course.
        course: String,
    },
    /// The dishes of the course come to the table within its `together` minutes.
    Together {
        /// The course.
        course: String,
    },
    /// The course keeps its distance from the one before.
    Following {
        /// The later course.
        course: String,
    },
    /// Nothing starts before the kitchen opens.
    Opening,
    /// The step does not start before its earliest time.
    Earliest {
        /// The step.
        step: String,
    },
    /// The step has ended by its latest time.
    Latest {
        /// The step.
        step: String,
    },
    /// The step does not last longer than its modes allow.
    Keeping {
        /// The step.
        step: String,
    },
    /// The later step starts at the latest this link's greatest gap after the earlier has ended.
    Gap {
        /// The earlier step.
        from: String,
        /// The later step.
        to: String,
    },
    /// There are no more hands than the shifts have, within these minutes.
    Hands {
        /// First minute.
        from: Minute,
        /// The minute after the last.
        to: Minute,
    },
    /// There is no more of this than the kitchen has.
    Pool {
        /// The pool.
        pool: String,
    },
    /// There are no more burners than the kitchen has.
    Burners {
        /// The hob.
        place: String,
    },
    /// Pans need room: racks, width, depth and height of a cavity, or the face of a top.
    Room {
        /// The cavity or top.
        place: String,
    },
    /// The racks bear no more than their weight limit.
    Weight {
        /// The cavity.
        place: String,
    },
    /// Food in one cavity shares one temperature, within the cavity's range.
    Temperature {
        /// The cavity.
        place: String,
    },
    /// The cavity takes time to change its temperature.
    Changeover {
        /// The cavity.
        place: String,
    },
    /// Food in one cavity shares one kind of heat, and only what the cavity offers.
    Heat {
        /// The cavity.
        place: String,
    },
    /// What gives off moist air spoils what cannot stand it.
    Moisture {
        /// The cavity.
        place: String,
    },
    /// The door stays shut for the first minutes of the step.
    Shut {
        /// The step.
        step: String,
    },
}

impl Fact {
    /// Every demand of a problem, in a fixed order: what is easiest to give up first.
    pub fn all(problem: &Problem) -> Vec<Fact> {
        let mut facts = vec![Fact::Opening];
        facts.extend(problem.dishes.iter().map(|dish| Fact::Dish { dish: dish.id.clone() }));
        for step in &problem.steps {
            let id = || step.id.clone();
            if step.modes.iter().any(|mode| mode.shut > 0) {
                facts.push(Fact::Shut { step: id() });
            }
            if step.earliest.is_some() {
                facts.push(Fact::Earliest { step: id() });
            }
            if step.latest.is_some() {
                facts.push(Fact::Latest { step: id() });
            }
            facts.push(Fact::Keeping { step: id() });
        }
        // Several links may join the same two steps; giving up their gap gives it up in all of them.
        let bounded = problem.links.iter().filter(|link| link.max.is_some());
        let pairs: BTreeSet<(&str, &str)> = bounded.map(|link| (link.from.as_str(), link.to.as_str())).collect();
        facts.extend(pairs.into_iter().map(|(from, to)| Fact::Gap { from: from.to_owned(), to: to.to_owned() }));
        facts.extend(problem.pools.keys().map(|pool| Fact::Pool { pool: pool.clone() }));
        for place in &problem.places {
            let place_id = place.id().to_owned();
            match place {
                Place::Cavity(_) => facts.extend([
                    Fact::Moisture { place: place_id.clone() },
                    Fact::Heat { place: place_id.clone() },
                    Fact::Weight { place: place_id.clone() },
                    Fact::Room { place: place_id.clone() },
                    Fact::Changeover { place: place_id.clone() },
                    Fact::Temperature { place: place_id },
                ]),
                Place::Hob(_) => facts.push(Fact::Burners { place: place_id }),
                Place::Top(_) => facts.push(Fact::Room { place: place_id }),
            }
        }
        for course in &problem.courses {
            facts.push(Fact::Together { course: course.id.clone() });
            if course.after.is_some() {
                facts.push(Fact::Following { course: course.id.clone() });
            }
        }
        facts.push(Fact::Hands { from: 0, to: super::without::LAST_MINUTE });
        facts.extend(problem.courses.iter().map(|course| Fact::Serving { course: course.id.clone() }));
        facts
    }

    /// A word for the kind of demand; facts of one kind are tried together.
    pub(super) fn kind(&self) -> &'static str {
        match self {
            Fact::Dish { .. } => "dish",
            Fact::Serving { .. } => "serving",
            Fact::Together { .. } => "together",
            Fact::Following { .. } => "following",
            Fact::Opening => "opening",
            Fact::Earliest { .. } => "earliest",
            Fact::Latest { .. } => "latest",
            Fact::Keeping { .. } => "keeping",
            Fact::Gap { .. } => "gap",
            Fact::Hands { .. } => "hands",
            Fact::Pool { .. } => "pool",
            Fact::Burners { .. } => "burners",
            Fact::Room { .. } => "room",
            Fact::Weight { .. } => "weight",
            Fact::Temperature { .. } => "temperature",
            Fact::Changeover { .. } => "changeover",
            Fact::Heat { .. } => "heat",
            Fact::Moisture { .. } => "moisture",
            Fact::Shut { .. } => "shut",
        }
    }
}

/// The latest minute at which a course may be served.
pub(super) fn last_serving(problem: &Problem) -> Minute {
    problem.courses.iter().map(|course| course.serve + course.max_slip).max().unwrap_or(problem.opening)
}

impl fmt::Display for Fact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fact::Dish { dish } => write!(f, "{dish} is on the menu"),
            Fact::Serving { course } => write!(f, "{course} is served no later than the menu allows"),
            Fact::Together { course } => write!(f, "the dishes of {course} come to the table together"),
            Fact::Following { course } => write!(f, "{course} keeps its distance from the course before"),
            Fact::Opening => write!(f, "nothing starts before the kitchen opens"),
            Fact::Earliest { step } => write!(f, "{step} cannot start before its earliest time"),
            Fact::Latest { step } => write!(f, "{step} must be done by its latest time"),
            Fact::Keeping { step } => write!(f, "{step} may not last any longer"),
            Fact::Gap { from, to } => write!(f, "{to} may not wait any longer after {from}"),
            Fact::Hands { from, to } => write!(f, "there are only so many hands from minute {from} to {to}"),
            Fact::Pool { pool } => write!(f, "there is only so much of {pool}"),
            Fact::Burners { place } => write!(f, "{place} has only so many burners"),
            Fact::Room { place } => write!(f, "{place} has only so much room"),
            Fact::Weight { place } => write!(f, "{place} bears only so much weight"),
            Fact::Temperature { place } => write!(f, "{place} has one temperature at a time"),
            Fact::Changeover { place } => write!(f, "{place} takes time to change its temperature"),
            Fact::Heat { place } => write!(f, "{place} has one kind of heat at a time"),
            Fact::Moisture { place } => write!(f, "moist and dry do not go together in {place}"),
            Fact::Shut { step } => write!(f, "the door stays shut while {step} begins"),
        }
    }
}
