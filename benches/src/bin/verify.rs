//! Checks plans, whoever made them: see `--help`.

use std::fs;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use rangewright::models::check;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright_benches::instances::{self, Candidate, Content};

/// Checks PLANS/NAME.plan.json against each instance NAME below a folder, and the costs it states.
///
/// Prints a line for each plan. Exit code: 0; 1 if a plan is not valid; 74 if a folder cannot be read.
#[derive(Parser)]
#[command(name = "verify")]
struct Arguments {
    /// The folder with the instances.
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// The folder with the plans; an instance without one is passed over.
    #[arg(long, value_name = "PLANS")]
    plans: PathBuf,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let candidates = match instances::find(&arguments.data) {
        Ok(candidates) => candidates,
        Err(error) => {
            eprintln!("verify: {error}");
            return ExitCode::from(74);
        }
    };
    let mut sound = true;
    for candidate in candidates {
        let path = arguments.plans.join(format!("{}.plan.json", candidate.name));
        if !path.exists() {
            continue;
        }
        match verify(&candidate, &path) {
            Ok(cost) => println!("{}: valid, {cost}", candidate.name),
            Err(why) => {
                println!("{}: {why}", candidate.name);
                sound = false;
            }
        }
    }
    if sound { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn verify(candidate: &Candidate, path: &PathBuf) -> Result<String, String> {
    let problem: Problem = match candidate.read() {
        Content::Problem(problem) => *problem,
        Content::Unreadable(why) | Content::Foreign(why) => return Err(why),
    };
    let text = fs::read_to_string(path).map_err(|error| error.to_string())?;
    let plan: Plan = serde_json::from_str(&text).map_err(|error| error.to_string())?;
    let violations = match check::check(&problem, &plan) {
        Ok(cost) => return Ok(format!("lateness {}, waiting {}, hot {}", cost.lateness, cost.waiting, cost.hot)),
        Err(violations) => violations,
    };
    let words: Vec<_> = violations.iter().map(ToString::to_string).collect();
    Err(words.join("; "))
}
