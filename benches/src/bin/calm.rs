//! What room in a plan brings and costs: every example menu and every instance that is named, planned and then calmed.
//! A line of CSV for each: courses served within five minutes before and after, in a hundred evenings; waiting; and what
//! the day is like for the cooks.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Instant;

use clap::Parser;
use rangewright::models::examples;
use rangewright::models::problem::Minute;
use rangewright::models::schedule::{Job, What};
use rangewright::odds::{Dice, Odds};
use rangewright::{FeastPlan, Limits, Outcome, Planner};

#[derive(Parser)]
#[command(about = "Measures what room in a plan brings and costs")]
struct Args {
    /// Problems in JSON, besides the example menus.
    problems: Vec<PathBuf>,
    /// Menus in RON, besides the example menus.
    #[arg(long)]
    menus: Vec<PathBuf>,
    /// How many percent more waiting there may be.
    #[arg(long, default_value_t = 5)]
    price: u32,
    /// Work of each planning.
    #[arg(long, default_value_t = 20_000)]
    work: u64,
}

/// How many percent a step of which nothing is said is in doubt.
const DOUBT: u32 = 10;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args = Args::parse();
    let mut feasts: Vec<(String, Planner)> = Vec::new();
    for example in examples::ALL {
        let planner = Planner::read(example.menu, example.menu_name, |name| example.kitchen_text(name));
        feasts.extend(planner.ok().map(|planner| (example.menu_name.to_owned(), planner)));
    }
    for path in &args.menus {
        let text = std::fs::read_to_string(path)?;
        let beside = |name: &str| std::fs::read_to_string(path.with_file_name(name)).map_err(|why| why.to_string());
        match Planner::read(&text, "menu", beside) {
            Ok(planner) => feasts.push((stem(path), planner)),
            Err(faults) => eprintln!("{}: {faults}", path.display()),
        }
    }
    for path in &args.problems {
        let problem = serde_json::from_slice(&std::fs::read(path)?)?;
        feasts.extend(Planner::of_problem(problem, None).ok().map(|planner| (stem(path), planner)));
    }
    let mut lines = csv::Writer::from_writer(io::stdout());
    lines.write_record([
        "menu",
        "waiting",
        "more_percent",
        "kept",
        "kept_calm",
        "worst",
        "worst_calm",
        "doors",
        "doors_calm",
        "hands_on",
        "hands_on_calm",
        "unbroken",
        "unbroken_calm",
        "plan_ms",
        "calm_ms",
    ])?;
    let (mut sums, mut count) = ([0.0; 3], 0.0);
    for (name, planner) in &feasts {
        let began = Instant::now();
        let limits = Limits { work: Some(args.work), ..Limits::default() };
        let Outcome::Planned(feast) = planner.plan(&limits)? else { continue };
        let planned = began.elapsed().as_millis();
        let began = Instant::now();
        let (calm, waiting) = feast.calmer(DOUBT, args.price, None)?;
        let calmed = began.elapsed().as_millis();
        let more = 100.0 * waiting as f64 / feast.plan().waiting.max(1) as f64;
        let (before, after) = (odds(&feast)?, odds(&calm)?);
        let days = [Day::of(&feast), Day::of(&calm)];
        let mut line = vec![name.clone(), feast.plan().waiting.to_string(), format!("{more:.1}")];
        line.extend([mean(&before), mean(&after), worst(&before), worst(&after)].map(|share| format!("{share:.1}")));
        for part in [|day: &Day| day.doors, |day: &Day| day.changes, |day: &Day| day.unbroken] {
            line.extend(days.iter().map(|day| part(day).to_string()));
        }
        line.extend([planned, calmed].map(|ms| ms.to_string()));
        lines.write_record(line)?;
        lines.flush()?;
        for (sum, value) in sums.iter_mut().zip([mean(&before), mean(&after), more]) {
            *sum += value;
        }
        count += 1.0;
    }
    let [before, after, more] = sums.map(|sum| sum / count);
    eprintln!(
        "mean of {count}: {before:.1} -> {after:.1} of 100 courses within five minutes, {more:.1} % more waiting"
    );
    Ok(())
}

fn stem(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

fn odds(feast: &FeastPlan) -> Result<Odds, rangewright::Error> {
    feast.odds(DOUBT, Dice { evenings: 5_000, ..Dice::default() })
}

fn shares(odds: &Odds) -> impl Iterator<Item = f64> {
    odds.courses.iter().map(|course| 100.0 * course.kept_within as f64 / odds.evenings as f64)
}

fn mean(odds: &Odds) -> f64 {
    shares(odds).sum::<f64>() / odds.courses.len().max(1) as f64
}

fn worst(odds: &Odds) -> f64 {
    shares(odds).fold(100.0, f64::min)
}

/// What a day is like.
struct Day {
    /// Minutes at which an oven is opened, by oven.
    doors: Minute,
    /// How often a dish goes from one cook to another.
    changes: Minute,
    /// The longest time a cook works without five minutes to breathe.
    unbroken: Minute,
}

impl Day {
    fn of(feast: &FeastPlan) -> Day {
        let (problem, plan, day) = (feast.problem(), feast.plan(), feast.schedule());
        let step = |id: &str| problem.steps.iter().find(|step| step.id == id);
        let mut doors: Vec<(&str, Minute)> = Vec::new();
        let mut last: BTreeMap<&str, &[usize]> = BTreeMap::new();
        let mut spells: BTreeMap<usize, [Minute; 2]> = BTreeMap::new();
        let (mut changes, mut unbroken) = (0, 0);
        let mut jobs: Vec<&Job> = day.jobs.iter().filter(|job| job.what.busy()).collect();
        jobs.sort_by_key(|job| (job.at, job.until));
        for job in jobs {
            let Some(step) = job.what.step().and_then(step) else { continue };
            let mode = &step.modes[plan.steps[&step.id].mode];
            if let (Some(place), Some(_)) = (&mode.place, mode.t) {
                // Taken out at the end of its minutes, opened at the beginning of everything else.
                doors.push((place, if matches!(job.what, What::TakeOut { .. }) { job.until } else { job.at }));
            }
            let before = last.insert(&step.dish, &job.cooks);
            changes += Minute::from(before.is_some_and(|before| before != job.cooks));
            for &cook in &job.cooks {
                let spell = spells.entry(cook).or_insert([job.at, job.at]);
                if job.at - spell[1] >= 5 {
                    spell[0] = job.at;
                }
                spell[1] = spell[1].max(job.until);
                unbroken = unbroken.max(spell[1] - spell[0]);
            }
        }
        doors.sort_unstable();
        // What follows within two minutes is done with the same door open.
        let joined = doors.windows(2).filter(|pair| pair[0].0 == pair[1].0 && pair[1].1 - pair[0].1 <= 2).count();
        Day { doors: (doors.len() - joined) as Minute, changes, unbroken }
    }
}
