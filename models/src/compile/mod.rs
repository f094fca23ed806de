//! From a feast to a problem: defaults, places that can do each step, waits, and the words for the sheets.

mod labels;

use crate::faults::Faults;
use crate::feast::Feast;
use crate::problem::Problem;

pub use labels::{CookLabel, CourseLabel, DishLabel, Labels, ModeLabel, PlaceLabel, StepLabel};

/// A problem, and the words its ids stand for.
#[derive(Clone, Debug)]
pub struct Compiled {
    /// What is to be planned.
    pub problem: Problem,
    /// What people call its parts.
    pub labels: Labels,
}

/// Compiles a feast.
///
/// # Errors
/// Everything that is wrong with its meaning, at once. A feast that came from [`read::feast`](crate::read::feast) has no
/// faults left.
pub fn compile(feast: &Feast) -> Result<Compiled, Faults> {
    let _ = feast;
    Err(Faults(Vec::new()))
}
