//! Writes problems with our answers to them, for another solver to check: see `--help`.

use std::io::{self, BufWriter, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use rangewright_benches::instances::{self, Content};
use rangewright_benches::{answers, random};

/// Solves problems and writes a line of JSON for each: the problem, our verdict, and the values of the three goals.
///
/// `compare/highs.py` proves each a second time.
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
    /// Dishes of each of them [default: two or three].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=20))]
    dishes: Option<u8>,
    /// Units of work for each problem.
    #[arg(long, value_name = "N", default_value_t = 5_000_000)]
    nodes: u64,
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
    let chosen = found.iter().filter(|candidate| candidate.name.contains(&arguments.filter));
    let read = chosen.filter_map(|candidate| match candidate.read() {
        Content::Problem(problem) => Some(*problem),
        Content::Unreadable(_) | Content::Foreign(_) => None,
    });
    let numbers = arguments.first..arguments.first.saturating_add(arguments.random);
    let made = numbers.map(|number| random::problem(number, arguments.dishes));
    let mut out = BufWriter::new(io::stdout().lock());
    answers::write(read.chain(made), arguments.nodes, &mut out)?;
    out.flush()
}
