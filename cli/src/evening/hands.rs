//! How busy each cook is in the hour before each serving: where a feast is lost.

use rangewright::models::problem::Minute;
use rangewright::models::schedule::Schedule;

use super::View;
use crate::words::capital;

/// Minutes of one column.
const QUARTER: Minute = 15;
/// Columns: an hour.
pub(crate) const QUARTERS: usize = 4;

/// The hour before one serving.
pub(crate) struct LastHour {
    /// The course and its minute: "Main at 19:20".
    pub(crate) head: String,
    /// The minute at which each quarter begins, as clock times.
    pub(crate) quarters: [String; QUARTERS],
    /// Each cook who is in the kitchen then.
    pub(crate) cooks: Vec<Load>,
}

/// What one cook has to do in that hour.
pub(crate) struct Load {
    pub(crate) name: String,
    /// Minutes of work in each quarter.
    pub(crate) busy: [Minute; QUARTERS],
}

impl Load {
    /// Minutes of work in the whole hour.
    pub(crate) fn sum(&self) -> Minute {
        self.busy.iter().sum()
    }
}

/// The hour before each serving, in order of time; empty if nobody has a name.
pub(crate) fn last_hours(view: &View<'_>) -> Vec<LastHour> {
    let hour = |serving: &rangewright::models::schedule::Serving| {
        let begin = |quarter: usize| serving.at - QUARTER * (QUARTERS - quarter) as Minute;
        let load = |(cook, name): (usize, &str)| {
            let name = name.to_owned();
            let busy = std::array::from_fn(|quarter| busy(view.day, cook, begin(quarter), begin(quarter) + QUARTER));
            Load { name, busy }
        };
        LastHour {
            head: format!("{} at {}", capital(view.words.course(&serving.course)), view.words.clock(serving.at)),
            quarters: std::array::from_fn(|quarter| view.words.clock(begin(quarter))),
            cooks: view.cooks().enumerate().map(load).filter(|load| load.sum() > 0).collect(),
        }
    };
    view.day.servings.iter().map(hour).filter(|hour| !hour.cooks.is_empty()).collect()
}

/// Minutes of work of a cook within `[from, to)`.
fn busy(day: &Schedule, cook: usize, from: Minute, to: Minute) -> Minute {
    let own = day.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&cook));
    own.map(|job| (job.until.min(to) - job.at.max(from)).max(0)).sum()
}
