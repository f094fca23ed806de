//! The arguments of the commands about one dish: `roast`, `chill` and `portions`.

use std::fmt::Display;
use std::path::PathBuf;

use rangewright::models::cook::chill::Cooler;
use rangewright::models::cook::portions::{Appetite, MainDish};
use rangewright::models::cook::safety::Handling;
use rangewright::models::cook::{Cover, Cut, Meat};
use rangewright::models::problem::Heat;
use rangewright::models::units::{self, Temperature};
use serde::de::value::StrDeserializer;
use serde::de::{DeserializeOwned, IntoDeserializer};

use super::{AskFormat, LookArgs};

const ROAST: &str = "\
Examples:
  rangewright roast lamb leg --bone --weight \"2.4 kg\" --to \"60 C\" --oven \"150 to 170 C\"
  rangewright roast pork loin --weight \"2 kg\" --to \"65 C\" --probe \"50 min, 38 C\" --dial \"160 C\"

Exit codes: 0 answered, 2 bad input, 70 internal, 74 input or output.";

const CHILL: &str = "\
Example:
  rangewright chill \"5 cm\" --in ice-bath

Exit codes: 0 answered, 2 bad input, 70 internal, 74 input or output.";

const PORTIONS: &str = "\
Example:
  rangewright portions 14 --main braise --sides 3 --pan \"38 x 26 x 8 cm\"

Exit codes: 0 answered, 2 bad input, 70 internal, 74 input or output.";

const DISHES: &str = "\
Examples:
  rangewright dishes
  rangewright dishes gratin --book recipes
  rangewright dishes leek milk --book recipes --format json

A dish stands in a file NAME.dish.ron, or NAME.dish.json, and says for how many portions it is written. A menu
takes it by the name of the file: Dish(dish: \"recipes/gratin.dish.ron\", course: \"main\").

Exit codes: 0 answered, 2 bad input (a dish cannot be read), 70 internal, 74 input or output.";

#[derive(Debug, clap::Args)]
#[command(after_help = DISHES)]
pub(crate) struct DishesArgs {
    /// Only dishes with all of these words in their name, their file, their shopping or what they contain
    #[arg(value_name = "WORD")]
    pub(crate) words: Vec<String>,
    /// The book: this folder and those in it
    #[arg(long, value_name = "FOLDER", default_value = ".")]
    pub(crate) book: PathBuf,
    /// What to print
    #[arg(long, value_enum, default_value_t = AskFormat::Text)]
    pub(crate) format: AskFormat,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

#[derive(Debug, clap::Args)]
#[command(after_help = ROAST)]
pub(crate) struct RoastArgs {
    /// The meat: beef, veal, lamb, pork, poultry, fish or vegetable
    #[arg(value_parser = word::<Meat>)]
    pub(crate) meat: Meat,
    /// The cut: rib, round, eye, fillet, loin, leg, shoulder, bird, duck, or a shape: cylinder, slab, ball, brick
    #[arg(value_parser = word::<Cut>)]
    pub(crate) cut: Cut,
    /// The centre temperature it should reach at its highest, during the rest, such as "60 C" or "140 F"
    #[arg(long, value_name = "TEMPERATURE", value_parser = degrees, allow_hyphen_values = true)]
    pub(crate) to: Temperature,
    /// Weight as bought, such as "2.2 kg"
    #[arg(long, value_parser = weight, allow_hyphen_values = true)]
    pub(crate) weight: Option<i64>,
    /// Thickness at the thickest place, such as "9 cm": it governs the minutes
    #[arg(long, value_parser = length, allow_hyphen_values = true)]
    pub(crate) thickness: Option<i64>,
    /// Breadth of a brick
    #[arg(long, value_parser = length, allow_hyphen_values = true)]
    pub(crate) breadth: Option<i64>,
    /// Length
    #[arg(long, value_parser = length, allow_hyphen_values = true)]
    pub(crate) length: Option<i64>,
    /// With its bones
    #[arg(long)]
    pub(crate) bone: bool,
    /// Tied to an even thickness
    #[arg(long)]
    pub(crate) tied: bool,
    /// With a stuffing
    #[arg(long)]
    pub(crate) stuffed: bool,
    /// How the meat was handled: whole, tenderised or minced
    #[arg(long, default_value = "whole", value_parser = word::<Handling>)]
    pub(crate) handling: Handling,
    /// Its temperature when it goes in
    #[arg(long, value_name = "TEMPERATURE", default_value = "5 C", value_parser = degrees, allow_hyphen_values = true)]
    pub(crate) from: Temperature,
    /// Its rest, such as "40 min" or "1 h"; of a range, such as "20 to 60 min", the shorter end counts
    #[arg(long, value_name = "MINUTES", default_value = "30 min", value_parser = rest)]
    pub(crate) rest: i64,
    /// What it rests under: open, tented or wrapped
    #[arg(long, default_value = "tented", value_parser = word::<Cover>)]
    pub(crate) cover: Cover,
    /// It rests on a cold tray, not in its hot tin
    #[arg(long)]
    pub(crate) cold_tray: bool,
    /// It goes in while the oven is still cold
    #[arg(long)]
    pub(crate) cold_oven: bool,
    /// Oven temperatures accepted, such as "150 to 180 C", "325 F" or "gas 3 to 5"
    #[arg(long, value_name = "TEMPERATURES", default_value = "140 to 200 C", value_parser = degree_range)]
    pub(crate) oven: [Temperature; 2],
    /// The kind of heat: fan, static (no fan) or spit
    #[arg(long, default_value = "static", value_parser = word::<Heat>)]
    pub(crate) heat: Heat,
    /// Begin at this temperature, then turn the oven down with the roast in it
    #[arg(long, value_name = "TEMPERATURE", value_parser = degrees, conflicts_with = "hot_last")]
    pub(crate) hot_first: Option<Temperature>,
    /// Finish at this temperature
    #[arg(long, value_name = "TEMPERATURE", value_parser = degrees, allow_hyphen_values = true)]
    pub(crate) hot_last: Option<Temperature>,
    /// Minutes at the hot temperature
    #[arg(long, value_name = "MINUTES", default_value_t = 10)]
    pub(crate) hot_minutes: u16,
    /// Minutes out of the oven before a hot finish
    #[arg(long, value_name = "MINUTES", default_value_t = 0)]
    pub(crate) stand: u16,
    /// Past roasts, which adjust and narrow the minutes: a kitchen file with its log, or a JSON list
    #[arg(long, value_name = "FILE")]
    pub(crate) past: Option<PathBuf>,
    /// Say minute by minute what to do at this oven temperature [default: the middle one]
    #[arg(long, value_name = "TEMPERATURE", value_parser = degrees, allow_hyphen_values = true)]
    pub(crate) dial: Option<Temperature>,
    /// A reading during the roast, minutes in the oven and centre, such as "70 min, 41 C": says how long is left
    #[arg(long, value_name = "READING", value_parser = reading)]
    pub(crate) probe: Option<(i64, i64)>,
    #[command(flatten)]
    pub(crate) answer: AnswerArgs,
}

#[derive(Debug, clap::Args)]
#[command(after_help = CHILL)]
pub(crate) struct ChillArgs {
    /// Depth of the food in its pan, such as "5 cm"
    #[arg(value_parser = length, allow_hyphen_values = true)]
    pub(crate) depth: i64,
    /// Its temperature when it begins to cool
    #[arg(long, value_name = "TEMPERATURE", default_value = "90 C", value_parser = temperature, allow_hyphen_values = true)]
    pub(crate) from: i64,
    /// Where it cools: kitchen, refrigerator, walk-in, freezer, chiller, ice-bath or stirred-ice-bath
    #[arg(long = "in", value_name = "PLACE", default_value = "refrigerator", value_parser = word::<Cooler>)]
    pub(crate) cooler: Cooler,
    /// It is covered
    #[arg(long)]
    pub(crate) covered: bool,
    /// It is thin enough to mix itself, like stock
    #[arg(long)]
    pub(crate) thin: bool,
    #[command(flatten)]
    pub(crate) answer: AnswerArgs,
}

#[derive(Debug, clap::Args)]
#[command(after_help = PORTIONS)]
pub(crate) struct PortionsArgs {
    /// How many adults sit down
    #[arg(value_parser = number)]
    pub(crate) adults: u32,
    /// How many children, counted as half a portion each
    #[arg(long, default_value_t = 0, value_parser = number)]
    pub(crate) children: u32,
    /// The main dishes: rib-on-bone, boneless-roast, fillet, turkey, leg-on-bone, braise, ham-on-bone
    #[arg(long = "main", value_name = "DISH", required = true, num_args = 1.., value_parser = word::<MainDish>)]
    pub(crate) mains: Vec<MainDish>,
    /// How many side dishes
    #[arg(long, default_value_t = 3, value_parser = number)]
    pub(crate) sides: u32,
    /// How much they eat: light, usual or hearty
    #[arg(long, default_value = "usual", value_parser = word::<Appetite>)]
    pub(crate) appetite: Appetite,
    /// Buy a quarter more, for leftovers
    #[arg(long)]
    pub(crate) leftovers: bool,
    /// Also say how many pans of this size it takes, such as "38 x 26 x 8 cm"
    #[arg(long, value_name = "SIZE", value_parser = size)]
    pub(crate) pan: Option<[i64; 3]>,
    /// The inside of the oven they go into
    #[arg(long, value_name = "SIZE", default_value = "44 x 38 x 32 cm", value_parser = size)]
    pub(crate) inside: [i64; 3],
    /// How many racks that oven has
    #[arg(long, default_value_t = 2)]
    pub(crate) racks: u32,
    #[command(flatten)]
    pub(crate) answer: AnswerArgs,
}

/// How to answer.
#[derive(Debug, clap::Args)]
pub(crate) struct AnswerArgs {
    /// What to print
    #[arg(long, value_enum, default_value_t = AskFormat::Text)]
    pub(crate) format: AskFormat,
    #[command(flatten)]
    pub(crate) look: LookArgs,
}

/// One of the words of the library's own data, dashes allowed.
pub(super) fn word<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    let text = text.to_lowercase().replace('-', "_");
    let word: StrDeserializer<'_, Unknown> = text.as_str().into_deserializer();
    T::deserialize(word).map_err(|error| error.to_string())
}

/// Which words there are, where one is none of them.
#[derive(Debug)]
struct Unknown(String);

impl Display for Unknown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Unknown {}

impl serde::de::Error for Unknown {
    fn custom<T: Display>(text: T) -> Self {
        Unknown(text.to_string())
    }

    fn unknown_variant(_: &str, known: &'static [&'static str]) -> Self {
        Unknown(format!("write one of {}", known.join(", ").replace('_', "-")))
    }
}

pub(super) fn in_words<T>(read: Result<T, impl Display>) -> Result<T, String> {
    read.map_err(|error| error.to_string())
}

/// What is wrong, and how it is written.
pub(super) fn like<T>(read: Result<T, impl Display>, example: &str) -> Result<T, String> {
    read.map_err(|error| format!("{error}; write it like \"{example}\""))
}

pub(super) fn temperature(text: &str) -> Result<i64, String> {
    like(units::temperature(text), "60 C")
}

/// A temperature as it was written.
pub(super) fn degrees(text: &str) -> Result<Temperature, String> {
    like(units::degrees(text), "60 C")
}

pub(super) fn degree_range(text: &str) -> Result<[Temperature; 2], String> {
    like(units::degree_range(text), "150 to 180 C")
}

/// Minutes as menus say a rest, or a bare number of them.
pub(super) fn rest(text: &str) -> Result<i64, String> {
    match text.trim().parse() {
        Ok(minutes) => Ok(minutes),
        Err(_) => like(units::interval(text), "40 min").map(|rest| rest.min),
    }
}

pub(super) fn weight(text: &str) -> Result<i64, String> {
    like(units::weight(text), "2.2 kg")
}

fn number(text: &str) -> Result<u32, String> {
    text.parse().map_err(|_| "write a whole number, such as 14".to_owned())
}

fn length(text: &str) -> Result<i64, String> {
    like(units::length(text), "9 cm")
}

fn size(text: &str) -> Result<[i64; 3], String> {
    in_words(units::size(text))?
        .try_into()
        .map_err(|_| "give width, depth and height, such as \"38 x 26 x 8 cm\"".to_owned())
}

fn reading(text: &str) -> Result<(i64, i64), String> {
    let (minutes, core) = text.split_once(',').ok_or("give minutes and centre, such as \"70 min, 41 C\"")?;
    Ok((in_words(units::minutes(minutes.trim()))?, temperature(core.trim())?))
}
