//! The arguments of the questions about a menu: `share`, `soonest`, `why` and `worth`.

use std::path::PathBuf;

use clap::ValueEnum;
use rangewright::models::cook::roast::{Roast, Wanted};
use rangewright::models::cook::{Cut, Meat};
use rangewright::models::feast::Clock;
use rangewright::models::problem::Heat;
use rangewright::models::units::{self, Temperature};

use super::LookArgs;
use super::cook::{degree_range, degrees, in_words, like, rest, weight, word};

const SHARE: &str = "\
Examples:
  rangewright share lantern.menu.ron gratin beetroot
  rangewright share lantern.menu.ron shoulder gratin --in \"big oven\"
  rangewright share --roast \"pork loin, 2 kg, to 65 C, 150 to 170 C\" \\
                    --roast \"lamb leg, 2.4 kg, bone, to 60 C, 140 to 160 C, rest 40 min\"

Each way is planned for these dishes alone, started at once. Exit codes: 0 they can, 1 proved
that they cannot, 2 bad input, 3 a limit came first, 70 internal, 74 input or output.";

/// Can dishes share one oven: side by side, in turn, one while the other rests, on different days?
#[derive(Debug, clap::Args)]
#[command(after_help = SHARE)]
pub(crate) struct ShareArgs {
    /// The menu, in RON or JSON; `-` reads standard input
    #[arg(required_unless_present = "roasts", conflicts_with = "roasts")]
    pub(crate) menu: Option<PathBuf>,
    /// Two to four of its dishes, each by its name or part of it
    #[arg(requires = "menu")]
    pub(crate) dishes: Vec<String>,
    /// The oven, drawer, grill or spit to share [default: try each]
    #[arg(long = "in", value_name = "PLACE", conflicts_with = "roasts")]
    pub(crate) place: Option<String>,
    /// Without a menu: a roast and the oven temperatures it accepts, such as "lamb leg, 2.4 kg, bone, to 60 C, 140 to 160 C". Give it twice or more
    #[arg(long = "roast", value_name = "ROAST", value_parser = wanted)]
    pub(crate) roasts: Vec<Wanted>,
    /// Without a menu: the inside of the oven, width x depth x height
    #[arg(long, value_name = "SIZE", default_value = "46 x 40 x 36 cm", value_parser = inside)]
    pub(crate) inside: [i64; 3],
    #[command(flatten)]
    pub(crate) ask: AskArgs,
}

const SOONEST: &str = "\
Example:
  rangewright soonest porch.menu.ron --begin \"3:30 pm\"

Exit codes: 0 answered, 1 proved that it cannot be done at all, 2 bad input, 3 a limit
came first, 70 internal, 74 input or output.";

/// How soon can we eat, beginning at a given time?
#[derive(Debug, clap::Args)]
#[command(after_help = SOONEST)]
pub(crate) struct SoonestArgs {
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper
    pub(crate) menu: Option<PathBuf>,
    /// When work begins, such as "15:30" or "day before 16:00" [default: as early as the menu allows]
    #[arg(long, value_name = "TIME", value_parser = clock)]
    pub(crate) begin: Option<Clock>,
    #[command(flatten)]
    pub(crate) ask: AskArgs,
}

const WHY: &str = "\
Examples:
  rangewright why lantern.menu.ron \"bake the gratins\"
  rangewright why lantern.menu.ron crackling --plan tonight.json

Each alternative is planned again with everything else free; --work is per alternative, --time for
all of them.
Exit codes: 0 answered, 1 there is no plan at all, 2 bad input, 3 a limit came before a plan,
70 internal, 74 input or output.";

/// Why this oven, temperature, minute or order? What the nearest alternatives would cost.
#[derive(Debug, clap::Args)]
#[command(after_help = WHY)]
pub(crate) struct WhyArgs {
    /// The menu, in RON or JSON; `-` reads standard input
    pub(crate) menu: PathBuf,
    /// The step, by its words or part of them
    pub(crate) step: String,
    /// The plan in question, saved by `plan --format json` [default: the best one found]
    #[arg(long, value_name = "FILE")]
    pub(crate) plan: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) ask: AskArgs,
}

const WORTH: &str = "\
Examples:
  rangewright worth lantern.menu.ron
  rangewright worth lantern.menu.ron --second \"old oven\" --ahead tart

Each change is planned by itself; --work is per change, --time for all of them.

Exit codes: 0 answered,
2 bad input, 3 a limit came before anything was known, 70 internal, 74 input or output.";

/// What would a second oven, a warming drawer, one more pair of hands or a dish made the day before bring?
#[derive(Debug, clap::Args)]
#[command(after_help = WORTH)]
pub(crate) struct WorthArgs {
    /// The menu, in RON or JSON; `-` reads standard input. Without it, the built-in lantern-night supper
    pub(crate) menu: Option<PathBuf>,
    /// A second appliance just like this one; may be repeated [default, if no change is named: try the usual ones]
    #[arg(long, value_name = "PLACE")]
    pub(crate) second: Vec<String>,
    /// This many more pairs of hands
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(i64).range(1..=20))]
    pub(crate) hands: Option<i64>,
    /// Add a warming drawer
    #[arg(long)]
    pub(crate) drawer: bool,
    /// Make this dish the day before, except for its last step
    #[arg(long, value_name = "DISH")]
    pub(crate) ahead: Vec<String>,
    /// Leave this dish off the menu
    #[arg(long, value_name = "DISH")]
    pub(crate) without: Vec<String>,
    #[command(flatten)]
    pub(crate) ask: AskArgs,
}

/// How to answer a question.
#[derive(Debug, clap::Args)]
pub(crate) struct AskArgs {
    /// What to print
    #[arg(long, value_enum, default_value_t = AskFormat::Text)]
    pub(crate) format: AskFormat,
    /// Stop searching after this many seconds in all
    #[arg(long, value_name = "SECONDS", value_parser = super::seconds)]
    pub(crate) time: Option<f64>,
    /// Stop each search after this many units of work: the same limit gives the same answer on every machine [default: 50000,
    /// or none if --time is given]
    #[arg(long, value_name = "UNITS")]
    pub(crate) work: Option<u64>,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

/// Formats of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum AskFormat {
    /// Words to read
    Text,
    /// Facts as data, for other programs
    Json,
}

fn clock(text: &str) -> Result<Clock, String> {
    like(units::clock(text), "15:30")
}

fn inside(text: &str) -> Result<[i64; 3], String> {
    <[i64; 3]>::try_from(in_words(units::size(text))?)
        .map_err(|_| "give width x depth x height, such as \"46 x 40 x 36 cm\"".to_owned())
}

/// A roast in one line: meat and cut first, then in any order weight, target, oven temperatures, and whatever else is known.
fn wanted(text: &str) -> Result<Wanted, String> {
    let mut parts = text.split(',').map(str::trim);
    let name = parts.next().unwrap_or_default();
    let (meat, cut) = name.split_once(' ').ok_or("begin with meat and cut, such as \"lamb leg\"")?;
    let (meat, cut) = (word::<Meat>(meat)?, word::<Cut>(cut.trim())?);
    let mut roast = Roast { weight_g: None, ..Roast::of(meat, cut, 0.0, 0.0) };
    let mut wanted = Wanted { name: name.to_owned(), roast, heat: Heat::Static, oven_c: [140, 200], pan: None };
    let mut target = None;
    for part in parts {
        let lower = part.to_lowercase();
        match lower.split_once(' ').unwrap_or((&lower, "")) {
            ("bone", "") => roast.bone = true,
            ("tied", "") => roast.tied = true,
            ("stuffed", "") => roast.stuffed = true,
            ("to", text) => target = Some(degrees(text)?),
            ("from", text) => roast.start_c = degrees(text)?.celsius(),
            ("rest", text) => roast.rest_min = rest(text)? as f64,
            ("pan", text) => wanted.pan = Some(inside(text)?),
            ("fan" | "static" | "spit", "") => wanted.heat = word(&lower)?,
            _ => {
                if let Some(thick) = lower.strip_suffix(" thick") {
                    roast.thickness_mm = Some(in_words(units::length(thick))? as f64);
                } else if let Ok(grams) = weight(part) {
                    roast.weight_g = Some(grams as f64);
                } else if let Ok(range) = degree_range(part) {
                    wanted.oven_c = range.map(Temperature::whole);
                } else {
                    return Err(format!(
                        "{part:?} is not understood; say weight (\"2 kg\"), target (\"to 60 C\"), oven (\"140 to 160 C\"), \
                         and if you like \"9 cm thick\", \"bone\", \"tied\", \"stuffed\", \"from 12 C\", \"rest 40 min\", \
                         \"fan\", \"pan 40 x 30 x 12 cm\""
                    ));
                }
            }
        }
    }
    roast.target_c = target.ok_or("say how far it is to go, such as \"to 60 C\"")?.celsius();
    wanted.roast = roast;
    Ok(wanted)
}
