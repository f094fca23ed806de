//! How long after "stop" is said the library still works: extreme problems, each asked several questions under a limit of
//! time. A line of CSV for each: the question, the problem, the limit, and by how many milliseconds it was overrun.

use std::io;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use clap::Parser;
use rangewright::ask::{can_share_anywhere, how_soon};
use rangewright::change::{usual_changes, what_would_help};
use rangewright::models::problem::Problem;
use rangewright::why::why_not;
use rangewright::{Limits, solve};

#[derive(Parser)]
#[command(about = "Measures by how much limits of time are overrun")]
struct Args {
    /// Problems in JSON.
    #[arg(required = true)]
    problems: Vec<PathBuf>,
    /// Milliseconds for each question.
    #[arg(long, default_values_t = [50, 200, 1000])]
    limit: Vec<u64>,
}

type Ask = fn(&Problem, &Limits<'_>);

const QUESTIONS: [(&str, Ask); 5] = [
    ("plan", |problem, limits| drop(solve(problem, limits))),
    ("soonest", |problem, limits| drop(how_soon(problem, None, limits))),
    ("why not", |problem, limits| drop(why_not(problem, limits))),
    ("share", |problem, limits| {
        let dishes: Vec<&str> = problem.dishes.iter().take(2).map(|dish| dish.id.as_str()).collect();
        drop(can_share_anywhere(problem, &dishes, limits));
    }),
    ("worth", |problem, limits| drop(what_would_help(problem, &usual_changes(problem), limits))),
];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args = Args::parse();
    let mut lines = csv::Writer::from_writer(io::stdout());
    lines.write_record(["question", "problem", "limit_ms", "over_ms"])?;
    for path in &args.problems {
        let problem: Problem = serde_json::from_slice(&std::fs::read(path)?)?;
        for (name, ask) in QUESTIONS {
            for &limit in &args.limit {
                let began = Instant::now();
                let stop = || began.elapsed() >= Duration::from_millis(limit);
                ask(&problem, &Limits { stop: Some(&stop), ..Limits::default() });
                let over = began.elapsed().saturating_sub(Duration::from_millis(limit)).as_millis();
                let file = path.file_stem().unwrap_or_default().to_string_lossy();
                lines.write_record([name, &*file, &limit.to_string(), &over.to_string()])?;
                lines.flush()?;
            }
        }
    }
    Ok(())
}
