//! Solves every instance below a folder and writes a line for each: see `--help`.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Duration;

use clap::Parser;
use rangewright::models::plan::Plan;
use rangewright_benches::instances;
use rangewright_benches::yard::{self, Allowance};

/// Solves every instance below a folder within a limit, checks every plan, and writes a line of CSV for each.
///
/// Instances are problems in the project's own JSON form, job shops (.jss), flexible job shops (.fjs), projects of PSPLIB
/// (.sm) and projects with time lags of ProGen/max (.sch). Files that are none of these are skipped.
///
/// Exit code: 0; 70 if the checker rejects a plan or the search breaks; 74 if a file cannot be read or written.
#[derive(Parser)]
#[command(name = "yardstick")]
struct Arguments {
    /// The folder with the instances; its subfolders are searched, too.
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// Wall time for each whole instance [default: 20, unless --nodes is given].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    time: Option<Duration>,
    /// Units of work for each instance: the same number gives the same results everywhere.
    #[arg(long, value_name = "N")]
    nodes: Option<u64>,
    /// Threads of the search.
    #[arg(long, value_name = "N", default_value_t = 1)]
    threads: usize,
    /// Writes each plan to OUTDIR/NAME.plan.json.
    #[arg(long, value_name = "OUTDIR")]
    plans: Option<PathBuf>,
    /// Writes the lines to this file, too.
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Writes a line for each improvement of plan or bound to this file.
    #[arg(long, value_name = "FILE")]
    trace: Option<PathBuf>,
    /// Only instances whose name contains this.
    #[arg(long, value_name = "SUBSTRING", default_value = "")]
    filter: String,
}

fn seconds(text: &str) -> Result<Duration, String> {
    let seconds: f64 = text.parse().map_err(|_| "not a number".to_owned())?;
    Duration::try_from_secs_f64(seconds).map_err(|error| error.to_string())
}

fn main() -> ExitCode {
    match measure(&Arguments::parse()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::from(70),
        Err(error) => {
            eprintln!("yardstick: {error}");
            ExitCode::from(74)
        }
    }
}

/// Runs all instances; false if something of ours is broken.
fn measure(arguments: &Arguments) -> Result<bool, io::Error> {
    let time = match (arguments.time, arguments.nodes) {
        (None, None) => Some(Duration::from_secs(20)),
        (time, _) => time,
    };
    let allowance = Allowance { time, work: arguments.nodes, threads: arguments.threads };
    let mut lines = Lines::to(arguments.csv.as_deref())?;
    let mut trace = match &arguments.trace {
        Some(path) => Some(csv::Writer::from_path(path)?),
        None => None,
    };
    let mut sound = true;
    for candidate in instances::find(&arguments.data)? {
        if !candidate.name.contains(&arguments.filter) {
            continue;
        }
        let run = match yard::run(&candidate, allowance) {
            Ok(run) => run,
            Err(why) => {
                eprintln!("{}: skipped, no instance: {why}", candidate.path.display());
                continue;
            }
        };
        if let Some(complaint) = &run.complaint {
            eprintln!("{}: {complaint}", candidate.name);
        }
        sound &= !run.is_broken();
        lines.write(&run.row)?;
        if let Some(trace) = &mut trace {
            run.moments.iter().try_for_each(|moment| trace.serialize(moment))?;
            trace.flush()?;
        }
        if let (Some(dir), Some(plan)) = (&arguments.plans, &run.plan) {
            write_plan(dir, &candidate.name, plan)?;
        }
    }
    Ok(sound)
}

/// The lines on standard output and, if wanted, in a file; each appears as soon as it is known.
struct Lines {
    writers: Vec<csv::Writer<Box<dyn Write>>>,
}

impl Lines {
    fn to(file: Option<&Path>) -> Result<Self, io::Error> {
        let mut outputs: Vec<Box<dyn Write>> = vec![Box::new(io::stdout())];
        if let Some(path) = file {
            outputs.push(Box::new(fs::File::create(path)?));
        }
        let mut writers: Vec<_> = outputs
            .into_iter()
            .map(|output| csv::WriterBuilder::new().has_headers(false).from_writer(output))
            .collect();
        for writer in &mut writers {
            writer.write_record(yard::Row::FIELDS)?;
            writer.flush()?;
        }
        Ok(Lines { writers })
    }

    fn write(&mut self, row: &yard::Row) -> Result<(), io::Error> {
        for writer in &mut self.writers {
            writer.serialize(row)?;
            writer.flush()?;
        }
        Ok(())
    }
}

fn write_plan(dir: &Path, name: &str, plan: &Plan) -> Result<(), io::Error> {
    let path = dir.join(format!("{name}.plan.json"));
    if let Some(parent) = path.parent() {
        fs::create_dir_all(parent)?;
    }
    fs::write(path, serde_json::to_string_pretty(plan)? + "\n")
}
