//! What people call the parts of a problem.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::calendar::Calendar;
use crate::cook::Piece;
use crate::cook::chill::Cooler;
use crate::cook::roast::Roasting;
use crate::cook::safety::{Caution, Premises, Region};
use crate::kitchen::CavitySort;
use crate::larder::{Contents, Suits};
use crate::menu::{Keeps, Kind, Stand};
use crate::problem::Minute;
use crate::scale::Change;
use crate::units::{Measure, Temperature, Units};

/// The kind of a step in which somebody is there, or lends a hand, while another step runs: it has no food of its own.
pub const STAND_BY: &str = "stand by";

/// The words for a problem's ids, and whatever else a sheet shows. Keys are the problem's ids.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Labels {
    /// What the evening is called.
    pub name: String,
    /// What the kitchen is called.
    pub kitchen: String,
    /// How many guests.
    pub guests: i64,
    /// The diets of the guests.
    pub diets: Vec<DietLabel>,
    /// Whose limits of food safety are followed.
    pub region: Region,
    /// A household or a licensed kitchen, and how warm it is.
    pub premises: Premises,
    /// The units the cooks wish to read.
    pub units: Units,
    /// Minutes to dates and clock times.
    pub calendar: Calendar,
    /// Who cooks.
    pub cooks: Vec<CookLabel>,
    /// Ovens, burners, tops, in the kitchen's order.
    pub places: BTreeMap<String, PlaceLabel>,
    /// Pools: mixers, shelves, pans.
    pub pools: BTreeMap<String, String>,
    /// Courses.
    pub courses: BTreeMap<String, CourseLabel>,
    /// Dishes.
    pub dishes: BTreeMap<String, DishLabel>,
    /// What is to be bought, as far as the menu says.
    pub shopping: Vec<Bought>,
    /// Steps.
    pub steps: BTreeMap<String, StepLabel>,
}

impl Labels {
    /// What is known of the roasts, by the ids of their steps: what [`fold_with`](crate::day::fold_with) follows them by.
    pub fn roasts(&self) -> BTreeMap<String, Roasting> {
        let known = self.steps.iter().filter_map(|(id, step)| Some((id.clone(), **step.roasting.as_ref()?)));
        known.collect()
    }
}

/// Guests who do not eat everything.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct DietLabel {
    /// What it is called.
    pub name: String,
    /// How many of the guests have it.
    pub guests: i64,
}

impl DietLabel {
    /// `3 guests (vegetarian)`.
    pub fn whom(&self) -> String {
        let guests = if self.guests == 1 { "guest" } else { "guests" };
        format!("{} {guests} ({})", self.guests, self.name)
    }
}

/// Somebody who cooks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CookLabel {
    /// Their name.
    pub name: String,
    /// When they work, absences taken out: `[start, end)`, in order of time.
    pub shifts: Vec<[Minute; 2]>,
}

/// A place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlaceLabel {
    /// What the cooks call it.
    pub name: String,
    /// What sort of cavity it is; absent for burners and tops.
    pub sort: Option<CavitySort>,
}

/// A course.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CourseLabel {
    /// What it is called.
    pub name: String,
}

/// A dish.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct DishLabel {
    /// What it is called.
    pub name: String,
    /// The id of its course; absent for what only goes into other dishes.
    pub course: Option<String>,
    /// The allergens in it, as the menu names them.
    pub allergens: Vec<String>,
    /// What it contains, said or inferred.
    pub contents: Contents,
    /// Whether it suits each of the diets, in their order.
    pub suits: Vec<Suits>,
    /// Nothing but baking heats it.
    pub baked: bool,
    /// It is made for more or fewer than it is written for; absent if it is made as it is written.
    pub scaled: Option<ScaledLabel>,
}

/// A dish that is made for more or fewer than it is written for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ScaledLabel {
    /// For how many portions it is written.
    pub written: i64,
    /// For how many half portions it is made: a child eats half of one.
    pub made: i64,
    /// What is other than written.
    pub changes: Vec<Change>,
}

impl ScaledLabel {
    /// `written for 14 portions, made for 12 1/2`.
    pub fn said(&self) -> String {
        let portions = if self.written == 1 { "portion" } else { "portions" };
        let half = if self.made % 2 == 0 { "" } else { " 1/2" };
        format!("written for {} {portions}, made for {}{half}", self.written, self.made / 2)
    }
}

/// A step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StepLabel {
    /// The job in a cook's words: `Roast the celeriac`.
    pub title: String,
    /// What is done.
    pub kind: Kind,
    /// The id of its dish.
    pub dish: String,
    /// What to look for.
    pub look: Option<String>,
    /// Anything else the cook should know.
    pub note: Option<String>,
    /// The cautions that apply in every mode.
    pub cautions: Vec<Caution>,
    /// What it does to its food.
    pub facts: Facts,
    /// What it is followed by on the day, if it is the long stage of a roast.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roasting: Option<Box<Roasting>>,
    /// Where its food stands until it goes on; absent: on the counter, or wherever it is.
    pub stands: Option<Stand>,
    /// The words of each mode, in the order of the step's modes.
    pub modes: Vec<ModeLabel>,
}

/// How a step warms its food.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Warmth {
    /// It does not.
    #[default]
    None,
    /// The outside alone: browning.
    Outside,
    /// It cooks or heats it through.
    Through,
    /// It keeps it hot.
    Holds,
}

/// What a step does to its food, and what has been done to it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Facts {
    /// How it is warmed.
    pub warmth: Warmth,
    /// How the menu says that it bears waiting afterwards.
    pub keeps: Keeps,
    /// It has been hot before.
    pub cooked: bool,
    /// Heat comes after.
    pub to_be_cooked: bool,
    /// What cools it, if the menu says.
    pub cooler: Option<Cooler>,
    /// The cooling model knows how deep it is.
    pub depth_known: bool,
    /// The roast that it is a part of.
    pub piece: Option<Piece>,
}

impl Default for Facts {
    fn default() -> Self {
        Facts {
            warmth: Warmth::None,
            keeps: Keeps::Free,
            cooked: false,
            to_be_cooked: false,
            cooler: None,
            depth_known: false,
            piece: None,
        }
    }
}

/// How few and how many minutes a step may turn out to take in one of its modes.
///
/// The planned minutes, `min` of the mode, lie within. A step that is stretched beyond them, a rest for example, takes what
/// the plan gives it.
///
/// ```
/// use rangewright_models::{compile::compile, labels::Range, read};
///
/// let menu = r#"(name: "Soup", kitchen: (places: [Burners("burner", 1)]), date: "2026-11-08", zone: "Europe/London",
///     serve: "19:00", dishes: [Dish("Soup", [Simmer(takes: "45 min", between: "40 to 55 min")])])"#;
/// let compiled = compile(&read::feast(menu, "menu", |_| Err("none".to_owned()))?)?;
/// assert_eq!(compiled.labels.steps["soup/simmer"].modes[0].range, Some(Range { shortest: 40, longest: 55 }));
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Range {
    /// The fewest minutes: at least one, at most the planned ones.
    pub shortest: Minute,
    /// The most minutes: at least the planned ones.
    pub longest: Minute,
}

/// The words of a mode.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ModeLabel {
    /// The pan's name or size.
    pub pan: Option<String>,
    /// The heat as a word, where it was given as one: `low`, `medium`, `high`.
    pub level: Option<String>,
    /// The oven temperature that is asked for, as it was written, if it is a single one. The window of the mode is this and
    /// 5 C on either side.
    pub asked: Option<Temperature>,
    /// What each of the mode's touches is, in the order of its `touches`.
    pub touches: Vec<String>,
    /// How few and how many minutes it may turn out to take; absent: not known.
    pub range: Option<Range>,
    /// What the cook should know of this mode, line by line.
    pub notes: Vec<String>,
    /// What this mode means for the step that follows, to be read there.
    pub hands_on: Vec<String>,
    /// The cautions that apply in this mode alone.
    pub cautions: Vec<Caution>,
}

/// Something to buy, for all dishes that want it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Bought {
    /// What it is, as the menu first calls it.
    pub what: String,
    /// Hundredths of the measure.
    pub hundredths: i64,
    /// What is counted.
    pub measure: Measure,
    /// Ids of the dishes, in the menu's order.
    pub dishes: Vec<String>,
}
