//! Plays evenings and says what logging brought: see `--help`.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use rangewright::models::compile::compile;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::Crew;
use rangewright::models::{examples, read};
use rangewright::{Limits, Outcome, solve};
use rangewright_benches::evenings::{Arm, Evening, Luck, play};

/// Plays evenings by an example's plan, or by that of a problem in a file, with cooks who log nothing, big things, everything.
#[derive(Parser)]
#[command(name = "evenings")]
struct Arguments {
    /// The short name of an example, such as lantern, or the path of a problem in JSON.
    what: Vec<String>,
    /// How many evenings.
    #[arg(long, default_value_t = 10)]
    evenings: u64,
    /// The number of the first.
    #[arg(long, default_value_t = 1)]
    first: u64,
    /// Work of the first plan.
    #[arg(long, default_value_t = 20_000)]
    plan: u64,
    /// Work of each new plan.
    #[arg(long, default_value_t = 3_000)]
    work: u64,
    /// A line for each evening.
    #[arg(long)]
    each: bool,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    println!("what, arm: evenings, late (main), late (all), spoiled, asked, upset (most), false alarm (most), refused");
    for what in &arguments.what {
        if let Err(why) = measure(what, &arguments) {
            eprintln!("evenings: {what}: {why}");
            return ExitCode::from(2);
        }
    }
    ExitCode::SUCCESS
}

fn known(what: &str) -> Result<(Problem, Crew), String> {
    if let Some(example) = examples::ALL.iter().find(|example| example.name == what) {
        let feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name));
        let compiled = compile(&feast.map_err(|faults| faults.to_string())?).map_err(|faults| faults.to_string())?;
        return Ok((compiled.problem, Crew::named(&compiled.labels)));
    }
    let text = std::fs::read_to_string(PathBuf::from(what)).map_err(|error| error.to_string())?;
    let problem: Problem = serde_json::from_str(&text).map_err(|error| error.to_string())?;
    let crew = Crew::of(&problem);
    Ok((problem, crew))
}

fn measure(what: &str, arguments: &Arguments) -> Result<(), String> {
    let (problem, crew) = known(what)?;
    let limits = Limits { work: Some(arguments.plan), ..Limits::default() };
    let Outcome::Planned(planned) = solve(&problem, &limits).map_err(|error| error.to_string())? else {
        return Err("there is no plan of it".to_owned());
    };
    let limits = Limits { work: Some(arguments.work), ..Limits::default() };
    for arm in Arm::ALL {
        let mut evenings: Vec<Evening> = Vec::new();
        for number in arguments.first..arguments.first + arguments.evenings {
            let luck = Luck::new(&problem, number);
            let own = play(&problem, &planned.plan, &crew, &luck, arm, &limits);
            if arguments.each {
                println!("  {number}: {own:?}");
            }
            evenings.push(own);
        }
        let mean =
            |of: &dyn Fn(&Evening) -> i64| evenings.iter().map(of).sum::<i64>() as f64 / evenings.len().max(1) as f64;
        let most = |of: &dyn Fn(&Evening) -> i64| evenings.iter().map(of).max().unwrap_or(0);
        println!(
            "{what}, {arm:?}: {}, {:.1}, {:.1}, {:.1}, {:.1}, {:.1} ({}), {:.1} ({}), {}",
            evenings.len(),
            mean(&|own| own.main_late),
            mean(&|own| own.all_late),
            mean(&|own| own.spoiled),
            mean(&|own| own.asked as i64),
            mean(&|own| own.upset as i64),
            most(&|own| own.upset as i64),
            mean(&|own| own.false_alarm),
            most(&|own| own.false_alarm),
            evenings.iter().map(|own| own.hopeless).sum::<usize>(),
        );
    }
    Ok(())
}
