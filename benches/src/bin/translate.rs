//! Writes every instance below a folder as a problem in the project's own JSON form: see `--help`.

use std::fs;
use std::io;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use rangewright_benches::instances::{self, Content};

/// Writes every instance below a folder to OUTDIR/NAME.json in the project's own form, for solvers that read only that.
#[derive(Parser)]
#[command(name = "translate")]
struct Arguments {
    /// The folder with the instances; its subfolders are searched, too.
    #[arg(long, value_name = "DIR")]
    data: PathBuf,
    /// Where the problems go.
    #[arg(long, value_name = "OUTDIR")]
    out: PathBuf,
    /// Only instances whose name contains this.
    #[arg(long, value_name = "SUBSTRING", default_value = "")]
    filter: String,
}

fn main() -> ExitCode {
    match translate(&Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("translate: {error}");
            ExitCode::from(74)
        }
    }
}

fn translate(arguments: &Arguments) -> Result<(), io::Error> {
    for candidate in instances::find(&arguments.data)? {
        if !candidate.name.contains(&arguments.filter) {
            continue;
        }
        match candidate.read() {
            Content::Problem(problem) => {
                let path = arguments.out.join(format!("{}.json", candidate.name));
                if let Some(parent) = path.parent() {
                    fs::create_dir_all(parent)?;
                }
                fs::write(path, serde_json::to_string(&problem)? + "\n")?;
            }
            Content::Unreadable(why) | Content::Foreign(why) => eprintln!("{}: {why}", candidate.name),
        }
    }
    Ok(())
}
