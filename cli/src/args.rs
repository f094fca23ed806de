//! The arguments, and with them the text of the help.

mod ask;
mod cook;
mod day;

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};
use rangewright::models::cook::safety::Region;

use crate::formats::SheetFormat;

pub(crate) use ask::{AskArgs, AskFormat, ShareArgs, SoonestArgs, WhyArgs, WorthArgs};
pub(crate) use cook::{ChillArgs, PortionsArgs, RoastArgs};
pub(crate) use day::{EventArgs, LogArgs, OddsArgs, ReplanArgs};

/// Gets a whole feast to the table at one moment from a kitchen that is too small for it.
#[derive(Debug, Parser)]
#[command(name = "rangewright", version, arg_required_else_help = true, after_help = AFTER)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

const AFTER: &str =
    "Exit codes: 0 planned, 1 impossible, 2 bad input or usage, 3 undecided, 70 internal, 74 input or output.";

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Plan a menu and print the run sheets
    Plan(PlanArgs),
    /// Look for faults in a menu; with --plan, in a saved plan of it
    Check(CheckArgs),
    /// Say whether dishes can share an oven, in which ways, and at what cost
    Share(Box<ShareArgs>),
    /// Say how soon everything can be on the table, and what decides it
    Soonest(SoonestArgs),
    /// Say why a step is done so and not otherwise: what the alternatives would cost
    Why(WhyArgs),
    /// Say what a second oven, a drawer, more hands or a dish made ahead would bring
    Worth(WorthArgs),
    /// Say how long a roast takes, by oven temperature, with pull, rest, peak and range
    Roast(Box<RoastArgs>),
    /// Say how long a pan of food takes to cool, and whether that is quick enough
    Chill(ChillArgs),
    /// Say how much to buy for so many guests
    Portions(PortionsArgs),
    /// Say how likely the hour is to be kept, where the risk comes from, and what margins would bring
    Odds(Box<OddsArgs>),
    /// Add to the log of the day, or print it
    Log(Box<LogArgs>),
    /// Plan the rest of the day again, changing as little as can be
    Replan(Box<ReplanArgs>),
    /// Print a script that completes arguments in a shell
    Completions(CompletionsArgs),
    /// Print the manual page of the command, or of one of its commands
    Man(ManArgs),
}

#[derive(Debug, clap::Args)]
pub(crate) struct PlanArgs {
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper is planned
    pub(crate) menu: Option<PathBuf>,
    /// What to hand over; several with commas or by repeating it, which needs --out
    #[arg(long, value_enum, value_delimiter = ',', value_name = "FORMAT", default_value = "text")]
    pub(crate) format: Vec<SheetFormat>,
    /// Write files into this folder, all of them or none, and print their names
    #[arg(long, value_name = "FOLDER")]
    pub(crate) out: Option<PathBuf>,
    /// Replace files that are there already
    #[arg(long, requires = "out")]
    pub(crate) overwrite: bool,
    /// Only the sheet and the calendar of this cook
    #[arg(long, value_name = "NAME")]
    pub(crate) cook: Option<String>,
    /// The date of day 0 of a bare problem, such as 2026-11-14
    #[arg(long, value_name = "DATE")]
    pub(crate) date: Option<jiff::civil::Date>,
    /// The time zone of that date
    #[arg(long, value_name = "ZONE", requires = "date", default_value = "UTC")]
    pub(crate) zone: String,
    /// Keep such a share of each cook free in the last half hour before each serving, such as 25%
    #[arg(long, value_name = "SHARE", value_parser = share, conflicts_with = "start")]
    pub(crate) spare_hands: Option<u32>,
    /// Start from a plan saved by --format json, and only look for better ones
    #[arg(long, value_name = "FILE")]
    pub(crate) start: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

#[derive(Debug, clap::Args)]
pub(crate) struct CompletionsArgs {
    /// The shell
    #[arg(value_enum)]
    pub(crate) shell: clap_complete::Shell,
}

#[derive(Debug, clap::Args)]
pub(crate) struct ManArgs {
    /// The command; without it, the page of rangewright itself
    #[arg(value_name = "COMMAND")]
    pub(crate) of: Option<String>,
}

#[derive(Debug, clap::Args)]
pub(crate) struct CheckArgs {
    /// The menu, in RON or JSON; `-` reads standard input
    pub(crate) menu: PathBuf,
    /// A plan saved by `plan --format json`
    #[arg(long, value_name = "FILE")]
    pub(crate) plan: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

/// How long to search.
#[derive(Debug, clap::Args)]
pub(crate) struct LimitArgs {
    /// Stop searching after so many seconds [default: 10, or none if --work is given]
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(crate) time: Option<f64>,
    /// Stop searching after so many units of work: the same limit gives the same plan on every machine
    #[arg(long, value_name = "UNITS")]
    pub(crate) work: Option<u64>,
    /// Stop once food is proved to wait at most so many percent longer than it must [default: 0]
    #[arg(long, value_name = "PERCENT", value_parser = percent)]
    pub(crate) gap: Option<f64>,
    /// How many threads may search; more than 2 are of no use, and only with 1 do equal limits give equal plans
    #[arg(long, value_name = "COUNT", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=64))]
    pub(crate) threads: u8,
}

/// How to print.
#[derive(Clone, Debug, clap::Args)]
pub(crate) struct LookArgs {
    /// Temperatures in C or in F [default: as the menu says]
    #[arg(long, value_enum)]
    pub(crate) units: Option<UnitsArg>,
    /// Whose limits of food safety: us, uk, au or nz [default: as the kitchen says, or us]
    #[arg(long, value_parser = region)]
    pub(crate) region: Option<Region>,
    /// Clock times from 0 to 23 hours, or from 1 to 12 with am and pm
    #[arg(long, value_enum, value_name = "HOURS", default_value_t = ClockArg::TwentyFour)]
    pub(crate) clock: ClockArg,
    /// Columns to print [default: as wide as the terminal, or 80; at least 40]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..))]
    pub(crate) width: Option<u16>,
    /// Use only ASCII characters in charts
    #[arg(long)]
    pub(crate) ascii: bool,
    /// Let the menu name a kitchen file outside its own folder
    #[arg(long)]
    pub(crate) kitchen_anywhere: bool,
}

/// How a clock counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum ClockArg {
    /// 18:30
    #[value(name = "24")]
    TwentyFour,
    /// 6:30 pm
    #[value(name = "12")]
    Twelve,
}

/// Units of temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum UnitsArg {
    /// Degrees Celsius
    #[value(aliases = ["c", "C"])]
    Metric,
    /// Degrees Fahrenheit
    #[value(aliases = ["f", "F"])]
    Customary,
}

fn seconds(text: &str) -> Result<f64, String> {
    let seconds: f64 = text.parse().map_err(|_| "give a number of seconds, such as 10 or 0.5".to_owned())?;
    if (0.0..=1e6).contains(&seconds) { Ok(seconds) } else { Err("give 0 to 1,000,000 seconds".to_owned()) }
}

fn percent(text: &str) -> Result<f64, String> {
    let percent: f64 = text.parse().map_err(|_| "give a number of percent, such as 5 or 0.5".to_owned())?;
    if (0.0..=100.0).contains(&percent) { Ok(percent) } else { Err("give 0 to 100 percent".to_owned()) }
}

fn region(text: &str) -> Result<Region, String> {
    match text.to_lowercase().as_str() {
        "us" => Ok(Region::Us),
        "uk" => Ok(Region::Uk),
        "au" | "nz" | "au-nz" | "au_nz" | "au/nz" => Ok(Region::AuNz),
        _ => Err("write one of us, uk, au, nz".to_owned()),
    }
}

fn share(text: &str) -> Result<u32, String> {
    let number = text.strip_suffix('%').unwrap_or(text).trim().parse::<u32>();
    let share = number.map_err(|_| "give a share in whole percent, such as 25%".to_owned())?;
    if share <= 100 { Ok(share) } else { Err("give 0% to 100%".to_owned()) }
}
