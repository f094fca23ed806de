//! Which changes could lift a conflict.

use rangewright_models::problem::{Place, Problem};

use super::Change;
use crate::why::Fact;

/// The most minutes a remedy asks for: two hours and a bit.
const MOST_MINUTES: i64 = 128;
/// The most degrees a remedy asks for.
const MOST_DEGREES: i64 = 32;
/// The most millimetres a remedy asks a pan to be smaller.
const MOST_MILLIMETRES: i64 = 128;
/// The most of anything that is counted: burners, racks, hands.
const MOST_COUNT: i64 = 3;

/// The changes that could lift a fact of the conflict, each as large as one would ask for.
pub(super) fn candidates(problem: &Problem, facts: &[Fact]) -> Vec<Change> {
    let dishes: Vec<&str> = facts
        .iter()
        .filter_map(|fact| if let Fact::Dish { dish } = fact { Some(dish.as_str()) } else { None })
        .collect();
    let mut changes = Vec::new();
    for fact in facts {
        match fact {
            Fact::Dish { dish } => changes.push(Change::DropDish { dish: dish.clone() }),
            Fact::Serving { course } => {
                changes.push(Change::ServeLater { course: course.clone(), minutes: MOST_MINUTES });
            }
            Fact::Together { course } => {
                changes.push(Change::SpreadOut { course: course.clone(), minutes: MOST_MINUTES });
            }
            Fact::Following { course } => {
                changes.push(Change::PauseLonger { course: course.clone(), minutes: MOST_MINUTES });
            }
            Fact::Earliest { step } => {
                changes.push(Change::StartEarlier { step: step.clone(), minutes: MOST_MINUTES });
            }
            Fact::Latest { step } => changes.push(Change::EndLater { step: step.clone(), minutes: MOST_MINUTES }),
            Fact::Opening => {
                changes.push(Change::OpenEarlier { minutes: MOST_MINUTES });
                changes.push(Change::DayBefore { minutes: 2 * MOST_MINUTES });
            }
            Fact::Keeping { step } => changes.push(Change::KeepLonger { step: step.clone(), minutes: MOST_MINUTES }),
            Fact::Gap { from, to } => {
                changes.push(Change::WaitLonger { from: from.clone(), to: to.clone(), minutes: MOST_MINUTES });
            }
            Fact::Hands { .. } => {
                changes.push(Change::MoreHands { hands: MOST_COUNT });
                changes.extend(
                    dishes.iter().map(|dish| Change::Ahead { dish: (*dish).to_owned(), minutes: 2 * MOST_MINUTES }),
                );
                changes.push(Change::DayBefore { minutes: 2 * MOST_MINUTES });
                changes.push(Change::OpenEarlier { minutes: MOST_MINUTES });
            }
            Fact::Pool { pool } => changes.push(Change::MoreOf { pool: pool.clone(), amount: MOST_COUNT }),
            Fact::Burners { place } => changes.push(Change::MoreBurners { place: place.clone(), count: MOST_COUNT }),
            Fact::Room { place } => {
                if problem.places.iter().any(|other| other.id() == place && matches!(other, Place::Cavity(_))) {
                    changes.push(Change::MoreRacks { place: place.clone(), count: MOST_COUNT });
                }
                changes.push(Change::Second { place: place.clone() });
                changes.extend(
                    steps_in(problem, place, &dishes)
                        .map(|step| Change::SmallerPan { step: step.to_owned(), millimetres: MOST_MILLIMETRES }),
                );
            }
            Fact::Temperature { place } | Fact::Changeover { place } => {
                changes.push(Change::Second { place: place.clone() });
                changes.extend(
                    steps_in(problem, place, &dishes)
                        .map(|step| Change::AcceptDegrees { step: step.to_owned(), degrees: MOST_DEGREES }),
                );
            }
            Fact::Moisture { place } => {
                changes.push(Change::Second { place: place.clone() });
                changes.extend(steps_in(problem, place, &dishes).map(|step| Change::Cover { step: step.to_owned() }));
            }
            Fact::Weight { place } | Fact::Heat { place } => changes.push(Change::Second { place: place.clone() }),
            Fact::Shut { .. } => {}
        }
    }
    changes
}

/// The steps of these dishes that can be done in a place.
fn steps_in<'p>(problem: &'p Problem, place: &str, dishes: &[&str]) -> impl Iterator<Item = &'p str> {
    problem
        .steps
        .iter()
        .filter(|step| dishes.contains(&step.dish.as_str()))
        .filter(|step| step.modes.iter().any(|mode| mode.place.as_deref() == Some(place)))
        .map(|step| step.id.as_str())
}
