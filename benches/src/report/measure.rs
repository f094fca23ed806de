//! Measuring a family of instances on both sides.

use std::fs;
use std::io::{self, Write};
use std::path::Path;
use std::process::Command;
use std::time::Duration;

use rangewright::models::check;
use rangewright::models::plan::Plan;

use super::machine;
use super::raw::{Circumstances, Raw, Side};
use crate::instances::{Candidate, Content};
use crate::yard::{self, Allowance};

/// How to measure.
#[derive(Clone, Debug)]
pub struct Settings {
    /// Wall time for each instance.
    pub time: Duration,
    /// Threads of ours.
    pub threads: usize,
    /// Workers of CP-SAT.
    pub workers: usize,
    /// The Python that has OR-Tools.
    pub python: String,
}

/// Measures a family and keeps the results. CP-SAT is left out if Python does not know it.
///
/// # Errors
/// Something cannot be read or written, or the Python side fails.
pub fn measure(family: &str, candidates: &[Candidate], settings: &Settings, raw: &Raw) -> Result<(), io::Error> {
    let ortools = machine::first_line(&settings.python, &["-c", "import ortools; print(ortools.__version__)"]);
    measure_ours(family, candidates, settings, raw)?;
    if !ortools.is_empty() {
        measure_theirs(family, candidates, settings, raw)?;
    }
    let circumstances = Circumstances {
        day: jiff::Timestamp::now().strftime("%Y-%m-%d").to_string(),
        seconds: settings.time.as_secs_f64(),
        threads: settings.threads,
        workers: settings.workers,
        commit: machine::commit(),
        ortools,
        machine: machine::machine(),
    };
    raw.note(family, &circumstances)
}

fn measure_ours(family: &str, candidates: &[Candidate], settings: &Settings, raw: &Raw) -> Result<(), io::Error> {
    let allowance = Allowance { time: Some(settings.time), work: None, threads: settings.threads };
    let mut results = csv::Writer::from_path(raw.results(family, Side::Ours))?;
    let mut moments = csv::Writer::from_path(raw.moments(family, Side::Ours))?;
    for candidate in candidates {
        let Ok(run) = yard::run(candidate, allowance) else { continue };
        if let Some(complaint) = run.complaint.as_ref().filter(|_| run.is_broken()) {
            eprintln!("{}: {complaint}", candidate.name);
        }
        results.serialize(&run.row)?;
        run.moments.iter().try_for_each(|moment| moments.serialize(moment))?;
    }
    results.flush()?;
    moments.flush()
}

fn measure_theirs(family: &str, candidates: &[Candidate], settings: &Settings, raw: &Raw) -> Result<(), io::Error> {
    let problems = raw.path(family, "problems");
    let plans = raw.path(family, "plans");
    for candidate in candidates {
        if let Content::Problem(problem) = candidate.read() {
            write_below(&problems, &format!("{}.json", candidate.name), &serde_json::to_string(&problem)?)?;
        }
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("compare").join("cpsat.py");
    let status = Command::new(&settings.python)
        .arg(script)
        .args(["--time", &settings.time.as_secs_f64().to_string()])
        .args(["--workers", &settings.workers.to_string()])
        .arg("--data")
        .arg(&problems)
        .arg("--plans")
        .arg(&plans)
        .arg("--csv")
        .arg(raw.results(family, Side::Theirs))
        .arg("--trace")
        .arg(raw.moments(family, Side::Theirs))
        .stdout(std::process::Stdio::null())
        .status()?;
    if !status.success() {
        return Err(io::Error::other(format!("CP-SAT on {family}: {status}")));
    }
    let mut rejected = fs::File::create(raw.path(family, "rejected.txt"))?;
    for candidate in candidates {
        if let Some(why) = rejected_plan(candidate, &plans) {
            writeln!(rejected, "{}: {why}", candidate.name)?;
        }
    }
    Ok(())
}

/// Why our checker does not accept CP-SAT's plan, if there is one and it does not.
fn rejected_plan(candidate: &Candidate, plans: &Path) -> Option<String> {
    let Content::Problem(problem) = candidate.read() else { return None };
    let text = fs::read_to_string(plans.join(format!("{}.plan.json", candidate.name))).ok()?;
    let plan: Plan = match serde_json::from_str(&text) {
        Ok(plan) => plan,
        Err(error) => return Some(error.to_string()),
    };
    let violations = check::check(&problem, &plan).err()?;
    Some(violations.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
}

fn write_below(dir: &Path, name: &str, text: &str) -> Result<(), io::Error> {
    let path = dir.join(name);
    if let Some(parent) = path.parent() {
        fs::create_dir_all(parent)?;
    }
    fs::write(path, text)
}
