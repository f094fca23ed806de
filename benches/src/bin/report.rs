//! Measures ours beside CP-SAT and writes the page: see `--help`.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Duration;

use clap::Parser;
use rangewright_benches::instances::{self, Candidate, Content};
use rangewright_benches::report::{self, Raw, References, Settings};

/// Measures our planner beside CP-SAT on every instance below a folder and writes benches/REPORT.md.
///
/// CP-SAT needs Python with OR-Tools (`pip install ortools`); without it only ours is measured. Measurements are kept, family
/// by family, in a folder of their own.
#[derive(Parser)]
#[command(name = "report")]
struct Arguments {
    /// The folder with the instances and, beside them, their reference values.
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// Where the measurements are kept.
    #[arg(long, value_name = "DIR", default_value = "target/report")]
    raw: PathBuf,
    /// The page.
    #[arg(long, value_name = "FILE", default_value = "benches/REPORT.md")]
    out: PathBuf,
    /// What is to stand below the tables.
    #[arg(long, value_name = "FILE", default_value = "benches/NOTES.md")]
    notes: PathBuf,
    /// Wall seconds for each instance.
    #[arg(long, value_name = "SECONDS", default_value_t = 20.0)]
    time: f64,
    /// Threads of ours.
    #[arg(long, value_name = "N", default_value_t = 1)]
    threads: usize,
    /// Workers of CP-SAT.
    #[arg(long, value_name = "N", default_value_t = 1)]
    workers: usize,
    /// The Python that has OR-Tools.
    #[arg(long, value_name = "PATH", default_value = "python3")]
    python: String,
    /// Only these families; all, if absent.
    #[arg(long, value_name = "NAME,...", value_delimiter = ',')]
    families: Vec<String>,
    /// Does not measure a family again that has been measured before.
    #[arg(long)]
    reuse: bool,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("report: {error}");
            ExitCode::from(74)
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), io::Error> {
    let settings = Settings {
        time: Duration::try_from_secs_f64(arguments.time).map_err(io::Error::other)?,
        threads: arguments.threads,
        workers: arguments.workers,
        python: arguments.python.clone(),
    };
    let references = References::below(&arguments.data)?;
    let raw = Raw::open(&arguments.raw)?;
    let known = raw.families()?;
    for (family, candidates) in families(arguments, &references)? {
        if arguments.reuse && known.contains(&family) {
            continue;
        }
        eprintln!("{family}: {} instances", candidates.len());
        report::measure(&family, &candidates, &settings, &raw)?;
    }
    let notes = fs::read_to_string(&arguments.notes).unwrap_or_default();
    let command = format!(
        "cargo run --release -p rangewright-benches --bin report -- --data DIR --time {} --threads {} --workers {}",
        arguments.time, arguments.threads, arguments.workers
    );
    fs::write(&arguments.out, report::write(&raw, &references, &command, &notes)?)
}

/// The instances that make sense, by family.
fn families(arguments: &Arguments, references: &References) -> Result<BTreeMap<String, Vec<Candidate>>, io::Error> {
    let mut families: BTreeMap<String, Vec<Candidate>> = BTreeMap::new();
    for candidate in instances::find(&arguments.data)? {
        let sound = matches!(candidate.read(), Content::Problem(problem) if problem.faults().is_empty());
        let family = references.family(&candidate.name).replace('/', "-");
        if sound && (arguments.families.is_empty() || arguments.families.contains(&family)) {
            families.entry(family).or_default().push(candidate);
        }
    }
    Ok(families)
}
