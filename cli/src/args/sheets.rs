//! What a plan is handed over as: the options that `plan` and `show` share, and `show` itself.

use std::path::PathBuf;

use clap::builder::ArgPredicate;

use super::LookArgs;
use crate::formats::SheetFormat;
use crate::paper::{Paper, PaperSize};

const SHOW: &str = "\
Examples:
  rangewright plan lantern.menu.ron --format json > tonight.json
  rangewright show tonight.json --menu lantern.menu.ron
  rangewright show tonight.json --menu lantern.menu.ron --format html,ical --out sheets

Exit codes: 0 shown, 2 bad input, or the plan is none of this menu, 70 internal, 74 input or output.";

#[derive(Debug, clap::Args)]
#[command(after_help = SHOW)]
pub(crate) struct ShowArgs {
    /// A plan saved by `plan --format json`
    pub(crate) plan: PathBuf,
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper
    #[arg(long, value_name = "FILE")]
    pub(crate) menu: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) sheets: SheetArgs,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

/// What to print or write of a plan.
#[derive(Debug, clap::Args)]
#[command(next_help_heading = "What to print or write")]
pub(crate) struct SheetArgs {
    /// What to print or write. For several at once, separate them with commas and give --out
    #[arg(
        long,
        value_enum,
        value_delimiter = ',',
        value_name = "FORMAT",
        default_value = "text",
        default_value_if("paper", ArgPredicate::IsPresent, "html")
    )]
    pub(crate) format: Vec<SheetFormat>,
    /// Write files into this folder (all of them or none) and print their names
    #[arg(long, value_name = "FOLDER")]
    pub(crate) out: Option<PathBuf>,
    /// Replace files that already exist
    #[arg(long, requires = "out")]
    pub(crate) overwrite: bool,
    /// Print only the sheet and the calendar of this cook
    #[arg(long, value_name = "NAME")]
    pub(crate) cook: Option<String>,
    /// What the page is to be printed for; without it the page has everything
    #[arg(long, value_enum)]
    pub(crate) paper: Option<Paper>,
    /// The paper it is printed on
    #[arg(long, value_enum, default_value = "a4")]
    pub(crate) size: PaperSize,
    /// In the calendar, give every job an alarm of its own, even where several begin within ten minutes
    #[arg(long)]
    pub(crate) all_alarms: bool,
    /// Begin tables with a byte order mark, for spreadsheets that garble letters without it
    #[arg(long)]
    pub(crate) byte_order_mark: bool,
    /// For a bare problem: the date of its day 0, such as 2026-11-14
    #[arg(long, value_name = "DATE")]
    pub(crate) date: Option<jiff::civil::Date>,
    /// For a bare problem: the time zone of that date
    #[arg(long, value_name = "ZONE", requires = "date", default_value = "UTC")]
    pub(crate) zone: String,
}
