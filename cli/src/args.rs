//! The arguments, and with them the text of the help.

mod ask;
mod cook;
mod day;
mod sheets;

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};
use rangewright::models::cook::safety::Region;

pub(crate) use ask::{AskArgs, AskFormat, ShareArgs, SoonestArgs, WhyArgs, WorthArgs};
pub(crate) use cook::{AnswerArgs, ChillArgs, DishesArgs, PortionsArgs, RoastArgs};
pub(crate) use day::{EventArgs, LogArgs, OddsArgs, PassArgs, ReplanArgs};
pub(crate) use sheets::{SheetArgs, ShowArgs};

/// Gets a whole feast to the table at one moment from a kitchen that is too small for it.
#[derive(Debug, Parser)]
#[command(name = "rangewright", version, arg_required_else_help = true, after_help = AFTER)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

const AFTER: &str = "\
Begin with `rangewright plan`, which plans a built-in supper; then `rangewright plan MENU`.

Exit codes: 0 planned or answered, 1 proved impossible, 2 bad input or usage, 3 a limit came first,
70 a defect of ours, 74 a file cannot be read or written.";

const PLAN: &str = "\
Examples:
  rangewright plan lantern.menu.ron
  rangewright plan lantern.menu.ron --format html,ical --out sheets

Exit codes: 0 planned, 1 proved impossible, 2 bad input, 3 a limit came before any plan,
70 internal, 74 input or output.";

const CHECK: &str = "\
Examples:
  rangewright check lantern.menu.ron
  rangewright check lantern.menu.ron --plan tonight.json

Exit codes: 0 no faults (warnings may be), 1 a food-safety limit is broken, 2 bad input or the saved
plan breaks a rule, 70 internal, 74 input or output.";

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Plan a menu and print the run sheets
    ///
    /// Read the sheet of each cook from top to bottom: time, job, place, dial. What was proved stands near the end. If the menu
    /// cannot be cooked in this kitchen, it says which of its wishes clash and which single changes would help.
    Plan(PlanArgs),
    /// Print the sheets of a saved plan again, in any format
    ///
    /// Nothing is planned: what was saved is checked against the menu and printed as `plan` printed it. A plan of another menu,
    /// or one that the menu no longer allows, is refused with what is wrong.
    Show(ShowArgs),
    /// Check a menu, or with --plan a saved plan of it
    ///
    /// Lists every fault at once, each with its place in the file and what to do; what is hardly meant as it is written; and every
    /// food-safety limit that the menu breaks however it is planned.
    Check(CheckArgs),
    /// Find out whether dishes can share an oven, and how
    ///
    /// Tries every way (side by side, in turn, one while the other rests, one the day before) and says what each costs in minutes
    /// and waiting, or why it does not work.
    Share(Box<ShareArgs>),
    /// Find out how soon everything can be on the table
    ///
    /// Gives the earliest serving times and the chain of steps that decides them: to eat sooner, shorten one of these.
    Soonest(SoonestArgs),
    /// Ask why a step is done this way, and what the alternatives cost
    ///
    /// Plans the evening again with the step in another place, at another temperature, earlier, later or in another order, and
    /// says what each would cost.
    Why(WhyArgs),
    /// Find out what a second oven, more hands or a dish made ahead would gain
    ///
    /// Plans the evening again with each change by itself and says what becomes earlier or waits less; changes that gain nothing
    /// are listed too.
    Worth(WorthArgs),
    /// Work out how long a roast takes, and when to take it out
    ///
    /// For each oven temperature: minutes with a range, the temperature at which to take it out, and what the rest adds. The
    /// thermometer decides.
    Roast(Box<RoastArgs>),
    /// Work out how long a pan of food takes to cool, and whether that is quick enough
    ///
    /// Compares the time with the usual two-stage limits and says what would cool it faster.
    Chill(ChillArgs),
    /// Work out how much to buy for a number of guests
    ///
    /// Gives raw weights for the main dishes and sides; with --pan, also how many pans they fill and whether the oven takes them.
    Portions(PortionsArgs),
    /// Look through a book of dishes: the dishes that stand in files of their own
    ///
    /// Lists those in a folder and the folders in it, with the portions they are written for and what is in them.
    Dishes(DishesArgs),
    /// Find out how likely you are to serve on time
    ///
    /// Plays the evening thousands of times with minutes that vary, and says how often each course is on time, which steps make it
    /// late, and which steps have minutes to spare; with --confidence, where a margin would help most.
    Odds(Box<OddsArgs>),
    /// Note what has happened today, or print the log of the day
    ///
    /// Each event is one line in a file. `replan` reads it.
    Log(Box<LogArgs>),
    /// See where the evening stands: what to do now and next, and what is cooking
    ///
    /// Reads the plan you handed out and the log of the day. What nobody has logged stays under "Now" for a quarter of an hour,
    /// then counts as done as planned.
    Pass(PassArgs),
    /// Plan the rest of the day again, changing as little as possible
    ///
    /// Starts from the plan you handed out and the log of the day. Says what is new for each cook and, if a course will be late,
    /// what could be done about it.
    Replan(Box<ReplanArgs>),
    /// Answer many questions in one process: one JSON object a line in, one a line out
    ///
    /// For programs. Each line of the standard input asks what one of the other commands answers; the answer is theirs, byte for
    /// byte but for the line breaks. What is wrong with a question is told in its answer, and the next one is read.
    Batch(BatchArgs),
    /// List the kinds of steps a menu may have, with what each is if the menu says nothing
    ///
    /// Where it is done, whose hands it needs, how the food keeps afterwards, and the other words for it.
    Kinds,
    /// Print a completion script for a shell
    Completions(CompletionsArgs),
    /// Print the manual page, or that of one command
    Man(ManArgs),
}

#[derive(Debug, clap::Args)]
#[command(after_help = PLAN)]
pub(crate) struct PlanArgs {
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper
    pub(crate) menu: Option<PathBuf>,
    /// Refuse to plan, with exit code 1, where a food-safety limit would be broken; says what was tried and mends it
    #[arg(long)]
    pub(crate) strict: bool,
    /// Keep this share of each cook's last half hour before each serving free, such as 25%
    #[arg(long, value_name = "SHARE", value_parser = share, conflicts_with = "start")]
    pub(crate) spare_hands: Option<u32>,
    /// Leave room after steps that may take longer, for up to this many percent more waiting; 0 costs nothing [default: 5 for menus]
    #[arg(long, value_name = "PERCENT", conflicts_with = "spare_hands", value_parser = clap::value_parser!(u32).range(0..=100))]
    pub(crate) calm: Option<u32>,
    /// Leave margins after steps that make courses late, until this many evenings in a hundred are no later than --within
    #[arg(long, value_name = "PERCENT", conflicts_with_all = ["spare_hands", "calm"], value_parser = clap::value_parser!(u32).range(1..=100))]
    pub(crate) confidence: Option<u32>,
    /// How many minutes late still counts as on time
    #[arg(long, value_name = "MINUTES", default_value_t = 5, value_parser = clap::value_parser!(u32).range(0..=120))]
    pub(crate) within: u32,
    /// How the search tells on the standard error that it goes on [default: a line that renews itself, if that is a terminal]
    #[arg(long, value_enum, value_name = "HOW")]
    pub(crate) progress: Option<ProgressArg>,
    /// Start from a plan saved with --format json and look only for better ones; `show` prints it as it is
    #[arg(long, value_name = "FILE")]
    pub(crate) start: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) sheets: SheetArgs,
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

const BATCH: &str = r#"Example:
  echo '{"id": 1, "ask": "plan", "menu": "m", "work": 20000, "files": {"m": "Menu(...)"}}' | rangewright batch

A question names its command in "ask". Its other fields are the arguments and options of that command, with _ for -: a
text, a number, true, or a list of them. Where a command reads a file, the question holds its content as data, or
names one of its "files", which are texts or data by name. "id" comes back with the answer.

An answer has "line", "id", "ask", "exit" (the exit code), "answer" (data, or a text if another format was asked
for), and "complaint" where the command would have complained.

Exit codes: 0 all lines were answered, each with an exit code of its own, 74 input or output."#;

#[derive(Debug, clap::Args)]
#[command(after_help = BATCH)]
pub(crate) struct BatchArgs {
    /// Let questions name files of this machine as well
    #[arg(long)]
    pub(crate) read_files: bool,
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
#[command(after_help = CHECK)]
pub(crate) struct CheckArgs {
    /// The menu, in RON or JSON; `-` reads standard input
    pub(crate) menu: PathBuf,
    /// A plan saved by `plan --format json`
    #[arg(long, value_name = "FILE")]
    pub(crate) plan: Option<PathBuf>,
    /// What to print; as JSON, a menu with faults is answered with these
    #[arg(long, value_enum, default_value_t = AskFormat::Text)]
    pub(crate) format: AskFormat,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

/// How long to search.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "How long to search")]
pub(crate) struct LimitArgs {
    /// Stop searching after this many seconds [default: 10, or none if --work is given]
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(crate) time: Option<f64>,
    /// Stop searching after this many units of work: the same limit gives the same plan on every machine
    #[arg(long, value_name = "UNITS")]
    pub(crate) work: Option<u64>,
    /// Stop once the plan is proved to be within this many percent of the least waiting [default: 0]
    #[arg(long, value_name = "PERCENT", value_parser = percent)]
    pub(crate) gap: Option<f64>,
    /// How many threads search: 1 or 2. Only with 1 do equal limits give equal plans
    #[arg(long, value_name = "COUNT", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=64))]
    pub(crate) threads: u8,
}

/// How to print.
#[derive(Clone, Debug, clap::Args)]
#[command(next_help_heading = "Units, words and looks")]
pub(crate) struct LookArgs {
    /// Show temperatures in C or in F [default: as the menu says]
    #[arg(long, value_enum)]
    pub(crate) units: Option<UnitsArg>,
    /// Whose food-safety limits apply: us, uk, au or nz [default: as the kitchen says, or us]
    #[arg(long, value_parser = region)]
    pub(crate) region: Option<Region>,
    /// Show times on a 24-hour clock, or on a 12-hour clock with am and pm
    #[arg(long, value_enum, value_name = "HOURS", default_value_t = ClockArg::TwentyFour)]
    pub(crate) clock: ClockArg,
    /// How many columns wide to print [default: as wide as the terminal, or 80; at least 40]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..))]
    pub(crate) width: Option<u16>,
    /// Use only ASCII characters in charts
    #[arg(long)]
    pub(crate) ascii: bool,
    /// Let the menu read a kitchen file outside its own folder
    #[arg(long)]
    pub(crate) kitchen_anywhere: bool,
}

/// How a search tells that it goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum ProgressArg {
    /// A line for people, renewed
    Line,
    /// A JSON object on a line of its own whenever a better plan or a better bound is known, for other programs
    Jsonl,
    /// Not at all
    None,
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
        "au" => Ok(Region::Au),
        "nz" => Ok(Region::Nz),
        _ => Err("write one of us, uk, au, nz".to_owned()),
    }
}

fn share(text: &str) -> Result<u32, String> {
    let number = text.strip_suffix('%').unwrap_or(text).trim().parse::<u32>();
    let share = number.map_err(|_| "give a share in whole percent, such as 25%".to_owned())?;
    if share <= 100 { Ok(share) } else { Err("give 0% to 100%".to_owned()) }
}
