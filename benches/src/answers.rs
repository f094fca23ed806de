//! Problems with our answers to them, for another solver to check.

use std::io::{self, Write};

use rangewright::models::plan::Status;
use rangewright::models::problem::Problem;
use rangewright::{Limits, Outcome};
use serde::Serialize;

/// A line: the problem, our verdict, and the values of the three goals.
#[derive(Serialize)]
struct Answer<'a> {
    problem: &'a Problem,
    status: &'static str,
    values: Option<[i64; 3]>,
}

/// Solves problems within so many units of work each and writes a line of JSON for each.
///
/// # Errors
/// Nothing can be written.
pub fn write(problems: impl Iterator<Item = Problem>, work: u64, out: &mut dyn Write) -> Result<(), io::Error> {
    for problem in problems {
        let limits = Limits { work: Some(work), ..Limits::default() };
        let (status, values) = match rangewright::solve(&problem, &limits) {
            Ok(Outcome::Planned(planned)) => {
                let plan = planned.plan;
                let status = if plan.status == Status::Optimal { "optimal" } else { "feasible" };
                (status, Some([plan.lateness, plan.waiting, plan.hot]))
            }
            Ok(Outcome::Impossible(_)) => ("impossible", None),
            Ok(Outcome::Undecided(_)) => ("undecided", None),
            Err(error) => {
                eprintln!("{}: {error}", problem.name);
                ("refused", None)
            }
        };
        serde_json::to_writer(&mut *out, &Answer { problem: &problem, status, values })?;
        writeln!(out)?;
    }
    Ok(())
}
