//! Can these dishes share one oven?

mod examine;
mod obstacle;
mod way;

use rangewright_models::problem::{Hours, Minute, Named, Place, Problem, Shift};
use serde::{Deserialize, Serialize};

use super::soon::at_once;
use crate::change::{Change, changed};
use crate::why::{Fact, LAST_MINUTE, without};
use crate::{Error, Limits};

use examine::Examiner;

pub use obstacle::{Crowd, Obstacle, obstacles};
pub use way::{Visit, Way};

/// The answer for one cavity.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sharing {
    /// The cavity.
    pub place: String,
    /// Every way that works, the best first: least later, then least waiting, then the fewest racks.
    pub ways: Vec<Way>,
    /// What keeps steps of different dishes from standing side by side, the nearest steps of each two dishes; none for
    /// two dishes that can.
    pub clashes: Vec<Clash>,
    /// The ways that do not work, and why.
    pub not: Vec<Not>,
    /// Every way was examined to its end. If not, a limit struck: a way that is missing may exist all the same, and one
    /// that is found may cost less.
    pub complete: bool,
}

/// Steps that cannot stand side by side.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Clash {
    /// The steps, each of another dish.
    pub steps: Vec<String>,
    /// What is in their way.
    pub obstacles: Vec<Obstacle>,
}

/// A way that does not work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Not {
    /// The way.
    pub manner: Manner,
    /// Why not.
    pub because: Hindrance,
}

/// Why a way to share does not work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Hindrance {
    /// The dishes are not to be made in this cavity at all, not even one of them alone.
    Alone {
        /// The dishes.
        dishes: Vec<String>,
    },
    /// They cannot stand side by side: see the clashes.
    Clash,
    /// Their minutes do not fit: the dishes of one course would have to come to the table so much further apart.
    Minutes {
        /// The course.
        course: String,
        /// The least that is missing.
        minutes: Minute,
    },
    /// It is proved that no plan does it; the times that the steps are held to leave none.
    NoPlan,
    /// What is made the day before would wait through the night at a cost that says it does not keep.
    DoesNotKeep,
    /// A limit was reached first.
    Undecided,
}

/// How dishes share a cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Manner {
    /// Side by side at a temperature that both accept.
    SideBySide,
    /// One has the cavity while the other rests or is held elsewhere between or after its own minutes there.
    WhileResting,
    /// One after the other.
    InTurn,
    /// One on the day before.
    AcrossDays,
}

/// The most dishes that are asked about at once.
pub const DISHES_AT_MOST: usize = 4;

/// Hands are asked for on the day before for so long.
const EVE: Minute = 480;
/// The hands stay on for so long: ten days.
const LONG: Minute = 14_400;
/// And no longer than this, a day before the last minute that a problem may speak of: a day before may be put in.
const LAST: Minute = LAST_MINUTE - 1_440;

/// Examines every way in which dishes can share a cavity: side by side, one while the other rests, in turn, across days.
///
/// Each way is a problem of its own with these dishes alone, wanted at once, their steps held to this cavity wherever they
/// have a mode there ([`sharing_problem`]).
///
/// # Errors
/// [`Error::Unknown`] for a dish or a cavity that is not there, [`Error::Limit`] unless two to [`DISHES_AT_MOST`] dishes are
/// named, each once; else as [`solve`](crate::solve).
pub fn can_share(problem: &Problem, dishes: &[&str], place: &str, limits: &Limits<'_>) -> Result<Sharing, Error> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(Error::Refused(faults));
    }
    limits.verify()?;
    let sharing =
        Sharing { place: place.to_owned(), ways: Vec::new(), clashes: Vec::new(), not: Vec::new(), complete: true };
    let cavity = problem.places.iter().find_map(|other| match other {
        Place::Cavity(cavity) if cavity.id == place => Some(cavity),
        _ => None,
    });
    let unknown = |named, id: &str| Error::Unknown { named, id: id.to_owned() };
    let cavity = cavity.ok_or_else(|| unknown(Named::Place, place))?;
    if let Some(dish) = dishes.iter().find(|dish| problem.dishes.iter().all(|other| other.id != **dish)) {
        return Err(unknown(Named::Dish, dish));
    }
    let once = dishes.iter().enumerate().all(|(index, dish)| !dishes[..index].contains(dish));
    if !once || !(2..=DISHES_AT_MOST).contains(&dishes.len()) {
        let problem = format!("name 2 to {DISHES_AT_MOST} dishes, each once");
        return Err(Error::Limit { field: "dishes", problem });
    }
    Examiner::new(problem, cavity, dishes, limits, sharing).examine()
}

/// As [`can_share`] for every cavity of the problem, the best first: where there is a way, by the cost of the best one.
///
/// # Errors
/// As [`solve`](crate::solve).
pub fn can_share_anywhere(problem: &Problem, dishes: &[&str], limits: &Limits<'_>) -> Result<Vec<Sharing>, Error> {
    let cavities = problem.places.iter().filter(|place| matches!(place, Place::Cavity(_)));
    let answers = cavities.map(|place| can_share(problem, dishes, place.id(), limits));
    let mut answers: Vec<Sharing> = answers.collect::<Result<_, _>>()?;
    answers.sort_by_key(|sharing| sharing.ways.first().map_or((true, (0, 0, 0)), |way| (false, way.cost())));
    Ok(answers)
}

/// The problem that a [`Way`]'s plan is a plan of: these dishes alone, wanted at once, held to a cavity; across days with
/// one pair of hands on the day before. The question is about the oven: the clock times that steps are held to are given
/// up, and the hands of the best staffed shift stay on.
pub fn sharing_problem(problem: &Problem, dishes: &[&str], place: &str, manner: Manner) -> Problem {
    let mut only = at_once(&held_to(&only_dishes(problem, dishes), place), None);
    let hands = only.shifts.iter().map(|shift| shift.hands).max().unwrap_or(0);
    let (start, end) = (only.opening, (only.opening + LONG).min(LAST));
    if only.cooks.is_empty() {
        only.shifts = vec![Shift { start, end, hands }];
    }
    for cook in &mut only.cooks {
        cook.shifts = vec![Hours { start, end }];
    }
    for step in &mut only.steps {
        (step.earliest, step.latest) = (None, None);
    }
    match manner {
        Manner::AcrossDays => changed(&only, &[Change::DayBefore { minutes: EVE }]),
        _ => only,
    }
}

/// These dishes alone.
fn only_dishes(problem: &Problem, dishes: &[&str]) -> Problem {
    let others = problem.dishes.iter().filter(|dish| !dishes.contains(&dish.id.as_str()));
    let mut only = without(problem, &others.map(|dish| Fact::Dish { dish: dish.id.clone() }).collect::<Vec<_>>());
    // A course without dishes would hold up the others.
    let empty: Vec<String> =
        only.courses.iter().filter(|course| course.sinks.is_empty()).map(|course| course.id.clone()).collect();
    only.courses.retain(|course| !course.sinks.is_empty());
    for course in &mut only.courses {
        course.after = course.after.take().filter(|after| !empty.contains(&after.course));
    }
    only
}

/// Steps that can be done in this cavity can be done nowhere else.
fn held_to(problem: &Problem, place: &str) -> Problem {
    let mut problem = problem.clone();
    for step in &mut problem.steps {
        if step.modes.iter().any(|mode| mode.place.as_deref() == Some(place)) {
            step.modes.retain(|mode| mode.place.as_deref() == Some(place));
        }
    }
    problem
}
