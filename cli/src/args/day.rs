//! The arguments of the commands for the day itself: `odds`, `log` and `replan`.

use std::path::PathBuf;

use clap::Subcommand;
use jiff::civil::Date;
use rangewright::models::units;

use super::cook::{like, temperature};
use super::{AskFormat, LimitArgs, LookArgs};
use crate::formats::SheetFormat;

const ODDS: &str = "\
Examples:
  rangewright odds lantern.menu.ron
  rangewright odds lantern.menu.ron --plan tonight.json --confidence 90

Exit codes: 0 answered, 1 there is no plan at all, 2 bad input, 3 a limit came before a plan,
70 internal, 74 input or output.";

#[derive(Debug, clap::Args)]
#[command(after_help = ODDS)]
pub(crate) struct OddsArgs {
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper
    pub(crate) menu: Option<PathBuf>,
    /// A plan saved by `plan --format json` or `replan --format json` [default: plan first]
    #[arg(long, value_name = "FILE")]
    pub(crate) plan: Option<PathBuf>,
    /// How many evenings to play
    #[arg(long, value_name = "COUNT", default_value_t = 10_000, value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub(crate) evenings: u32,
    /// The random seed: the same seed gives the same answer
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(crate) seed: u64,
    /// By how many percent a step may run over if the menu gives no range for it; it may be shorter by half of that
    #[arg(long, value_name = "PERCENT", default_value_t = 10, value_parser = clap::value_parser!(u32).range(0..=200))]
    pub(crate) doubt: u32,
    /// Add margins until this many evenings in a hundred are no later than --within, and say what each costs
    #[arg(long, value_name = "PERCENT", value_parser = clap::value_parser!(u32).range(1..=100))]
    pub(crate) confidence: Option<u32>,
    /// How many minutes late still counts as on time
    #[arg(long, value_name = "MINUTES", default_value_t = 5, value_parser = clap::value_parser!(u32).range(0..=120))]
    pub(crate) within: u32,
    /// What to print
    #[arg(long, value_enum, default_value_t = AskFormat::Text)]
    pub(crate) format: AskFormat,
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

const REPLAN: &str = "\
Example:
  rangewright replan lantern.menu.ron --plan tonight.json --log day.log --brief

If you follow the new plan, save it with --format json: the next replan starts from it.
Without --time or --work the search takes a second, and a little longer to see what could be done
about lateness. Exit codes: 0 planned, 1 proved that the rest cannot be planned, 2 bad input,
3 a limit came first, 70 internal, 74 input or output.";

#[derive(Debug, clap::Args)]
#[command(after_help = REPLAN)]
#[command(mut_arg("time", |time| time.help("Stop searching after this many seconds [default: 1, or none if --work is given]")))]
pub(crate) struct ReplanArgs {
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper
    pub(crate) menu: Option<PathBuf>,
    /// The plan that was handed out last, saved by `plan --format json` or `replan --format json`
    #[arg(long, value_name = "FILE")]
    pub(crate) plan: PathBuf,
    /// The log of the day
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
    /// The time, such as 16:10 [default: what the clock shows]
    #[arg(long, value_name = "TIME")]
    pub(crate) now: Option<String>,
    /// The day of the feast, such as 2026-12-24, if it is another than the menu's
    #[arg(long, value_name = "DATE", value_parser = day)]
    pub(crate) date: Option<Date>,
    /// What to print
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: SheetFormat,
    /// Say only what is new, without the sheets
    #[arg(long)]
    pub(crate) brief: bool,
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

const PASS: &str = "\
Example:
  rangewright pass lantern.menu.ron --plan tonight.json --log day.log --cook Ines

Exit codes: 0 answered, 2 bad input, 70 internal, 74 input or output.";

/// Where the evening stands.
#[derive(Debug, clap::Args)]
#[command(after_help = PASS)]
pub(crate) struct PassArgs {
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper
    pub(crate) menu: Option<PathBuf>,
    /// The plan that was handed out last, saved by `plan --format json` or `replan --format json`
    #[arg(long, value_name = "FILE")]
    pub(crate) plan: PathBuf,
    /// The log of the day
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
    /// The time, such as 16:10 [default: what the clock shows]
    #[arg(long, value_name = "TIME")]
    pub(crate) now: Option<String>,
    /// Only the jobs of this cook; JSON has those of all
    #[arg(long, value_name = "NAME")]
    pub(crate) cook: Option<String>,
    /// What to print
    #[arg(long, value_enum, default_value_t = AskFormat::Text)]
    pub(crate) format: AskFormat,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

const LOG: &str = "\
Examples:
  rangewright log day.log --menu lantern.menu.ron started \"bake the gratins\"
  rangewright log day.log --menu lantern.menu.ron probe \"pork shoulder low\" \"41 C\" --to \"70 C\"
  rangewright log day.log --menu lantern.menu.ron

Anything you do not log is assumed to have gone as planned.

Exit codes: 0 noted or printed, 2 bad input, 70 internal, 74 input or output.";

#[derive(Debug, clap::Args)]
#[command(after_help = LOG)]
pub(crate) struct LogArgs {
    /// The log: a file of JSON lines, created if it does not exist. Lines are only ever added
    pub(crate) log: PathBuf,
    /// The menu, in RON or JSON. Without it, the built-in lantern-night supper
    #[arg(long, global = true, value_name = "FILE")]
    pub(crate) menu: Option<PathBuf>,
    /// When it happened, such as 16:10 [default: what the clock shows]
    #[arg(long, global = true, value_name = "TIME")]
    pub(crate) at: Option<String>,
    /// The day of the feast, such as 2026-12-24, if it is another than the menu's
    #[arg(long, global = true, value_name = "DATE", value_parser = day)]
    pub(crate) date: Option<Date>,
    /// What to print
    #[arg(long, global = true, value_enum, default_value_t = AskFormat::Text)]
    pub(crate) format: AskFormat,
    #[command(subcommand)]
    pub(crate) event: Option<EventArgs>,
}

/// What happened. Steps, dishes, places and courses are named by their words or part of them, or as in saved plans.
#[derive(Debug, Subcommand)]
pub(crate) enum EventArgs {
    /// A step was started
    Started {
        /// The step, by its words or part of them
        step: String,
    },
    /// A step is done
    Finished {
        /// The step, by its words or part of them
        step: String,
    },
    /// A pan went into its oven or onto its burner
    PutIn {
        /// The step, by its words or part of them
        step: String,
        /// Where, if not where it was planned
        place: Option<String>,
    },
    /// A pan came out
    TakenOut {
        /// The step, by its words or part of them
        step: String,
    },
    /// A step is done by this time, earlier today or still to come
    DoneBy {
        /// The step, by its words or part of them
        step: String,
        /// When, such as 18:40
        time: String,
    },
    /// A running step needs this many more minutes
    Needs {
        /// The step, by its words or part of them
        step: String,
        /// How long, such as "35 min"
        #[arg(value_parser = minutes)]
        minutes: i64,
    },
    /// The thermometer in the middle of a roast
    Probe {
        /// The step, by its words or part of them
        step: String,
        /// What it shows, such as "41 C"
        #[arg(value_parser = temperature, allow_hyphen_values = true)]
        core: i64,
        /// At what centre temperature it comes out. Without this the reading changes no times
        #[arg(long, value_name = "TEMPERATURE", value_parser = temperature)]
        to: Option<i64>,
        /// What it showed when it went in [default: 5 C]
        #[arg(long, value_name = "TEMPERATURE", value_parser = temperature, allow_hyphen_values = true)]
        from: Option<i64>,
    },
    /// The thermometer in an oven
    OvenReads {
        /// The oven
        place: String,
        /// What it shows, such as "150 C"
        #[arg(value_parser = temperature)]
        degrees: i64,
    },
    /// Somebody forgot to turn an oven on
    NotHeated {
        /// The oven
        place: String,
    },
    /// The guests will come later
    GuestsLate {
        /// By how much, such as "15 min"
        #[arg(value_parser = minutes)]
        minutes: i64,
        /// Only for this course
        #[arg(long)]
        course: Option<String>,
        /// Only so many of them, or "half": their portions are kept, and nothing waits for them
        #[arg(long, value_name = "COUNT")]
        only: Option<String>,
    },
    /// The guests will come sooner
    GuestsEarly {
        /// By how much, such as "15 min"
        #[arg(value_parser = minutes)]
        minutes: i64,
        /// Only for this course
        #[arg(long)]
        course: Option<String>,
    },
    /// An oven or a burner has stopped working
    Broken {
        /// The oven, the top or the group of burners
        place: String,
        /// How many of its burners [default: all of it]
        #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(i64).range(1..=1000))]
        burners: Option<i64>,
    },
    /// An oven or a burner works again
    Repaired {
        /// The oven, the top or the group of burners
        place: String,
    },
    /// The power is out: nothing that heats works
    PowerOff,
    /// The power is back
    PowerOn,
    /// A cook has left
    Gone {
        /// The cook
        cook: String,
    },
    /// A cook who had left is back
    Back {
        /// The cook
        cook: String,
    },
    /// A job goes to another cook, who gives away what they were to do meanwhile
    Swapped {
        /// The step, by its words or part of them
        step: String,
        /// The cook who does it now
        cook: String,
    },
    /// A cook takes longer over everything from now on
    Slower {
        /// The cook
        cook: String,
        /// By so many percent; 0 is as usual
        #[arg(value_parser = percent)]
        percent: i64,
    },
    /// A step is burnt or spilt, and its dish is made again from its beginning
    Burnt {
        /// The step, by its words or a part of them
        step: String,
    },
    /// A step is done once more; what it is made of is still there
    Again {
        /// The step, by its words or a part of them
        step: String,
    },
    /// More guests come than were expected
    MoreGuests {
        /// How many more
        #[arg(value_parser = clap::value_parser!(i64).range(1..=1000))]
        more: i64,
    },
    /// Fewer guests come than were expected
    FewerGuests {
        /// How many fewer, or "half"
        fewer: String,
    },
    /// A dish is left out after all
    Dropped {
        /// The dish
        dish: String,
    },
    /// A course went out
    Served {
        /// The course
        course: String,
    },
    /// An entry was wrong: this step has not been started
    Mistaken {
        /// The step, by its words or part of them
        step: String,
    },
    /// The last line was wrong: it is taken back
    Undo,
}

fn day(text: &str) -> Result<Date, String> {
    like(units::date(text), "2026-12-24")
}

/// A number, with or without its sign.
fn percent(text: &str) -> Result<i64, String> {
    let number = text.trim().trim_end_matches('%').trim_end().parse::<i64>().ok();
    number.filter(|number| (0..=500).contains(number)).ok_or_else(|| "write it like 30, from 0 to 500".to_owned())
}

fn minutes(text: &str) -> Result<i64, String> {
    like(units::minutes(text), "15 min")
}
