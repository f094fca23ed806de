//! Writes problems with our answers to them, for another solver to check: see `--help`.

use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use rangewright::models::plan::Status;
use rangewright::models::problem::Problem;
use rangewright::{Limits, Outcome};
use rangewright_benches::instances::{self, Content};
use rangewright_benches::random;
use serde::Serialize;

/// Solves problems and writes a line of JSON for each: the problem, our verdict, and the values of the three goals.
#[derive(Parser)]
#[command(name = "answers")]
struct Arguments {
    /// A folder with instances.
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
    /// Only instances whose name contains this.
    #[arg(long, value_name = "SUBSTRING", default_value = "")]
    filter: String,
    /// So many random problems.
    #[arg(long, value_name = "N", default_value_t = 0)]
    random: u64,
    /// The number of the first of them.
    #[arg(long, value_name = "N", default_value_t = 0)]
    first: u64,
    /// Units of work for each problem.
    #[arg(long, value_name = "N", default_value_t = 5_000_000)]
    nodes: u64,
}

#[derive(Serialize)]
struct Answer<'a> {
    problem: &'a Problem,
    status: &'static str,
    values: Option<[i64; 3]>,
}

fn main() -> ExitCode {
    match answer_all(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("answers: {error}");
            ExitCode::from(74)
        }
    }
}

fn answer_all(arguments: &Arguments) -> Result<(), io::Error> {
    let found = match &arguments.data {
        Some(dir) => instances::find(dir)?,
        None => Vec::new(),
    };
    let read = found.iter().filter(|candidate| candidate.name.contains(&arguments.filter)).filter_map(|candidate| {
        match candidate.read() {
            Content::Problem(problem) => Some(*problem),
            Content::Unreadable(_) | Content::Foreign(_) => None,
        }
    });
    let made = (arguments.first..).take(usize::try_from(arguments.random).unwrap_or(usize::MAX)).map(random::problem);
    let mut out = io::stdout().lock();
    for problem in read.chain(made) {
        let limits = Limits { work: Some(arguments.nodes), ..Limits::default() };
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
        serde_json::to_writer(&mut out, &Answer { problem: &problem, status, values })?;
        writeln!(out)?;
    }
    Ok(())
}
