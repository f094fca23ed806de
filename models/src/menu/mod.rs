//! A menu: guests, courses, and dishes made of steps.

mod buy;
mod group;
mod joint;
mod kind;
mod step;

use jiff::civil::Date;

use crate::calendar::Clock;
use crate::faults::Origin;
use crate::kitchen::Cook;

pub use buy::Buy;
pub use group::{Group, Own};
pub use joint::{Accepts, Cools, Hot, Joint, Margin};
pub use kind::{Keeps, Kind, Stand};
pub use step::{Level, Link, Named, PanChoice, Step, Touch, Way, With};

pub use crate::cook::{Piece, Start};
pub use crate::units::{Amount, Interval, Measure, Units};

/// What is served to whom and when.
#[derive(Clone, Debug, Default)]
pub struct Menu {
    /// What the evening is called.
    pub name: String,
    /// How many guests.
    pub guests: i64,
    /// How many of them are children, who eat half a portion.
    pub children: i64,
    /// How many of them have which diet.
    pub diets: Vec<Diet>,
    /// The day of the feast.
    pub date: Date,
    /// Its time zone, an IANA name such as `Europe/London`.
    pub zone: String,
    /// The units the cooks wish to read.
    pub units: Units,
    /// Nothing starts before this; absent: when the first cook comes.
    pub opens: Option<Clock>,
    /// In the order of serving.
    pub courses: Vec<Course>,
    /// What is cooked.
    pub dishes: Vec<Dish>,
    /// Links between steps of different dishes, and other links beyond the written order.
    pub ties: Vec<Link>,
    /// Who cooks, in place of the kitchen's cooks.
    pub cooks: Vec<Cook>,
    /// Groups, each of which makes every dish that is not made once for all; empty: everything is made once.
    pub groups: Vec<Group>,
    /// Where it was written.
    pub origin: Origin,
}

/// Guests who do not eat everything.
#[derive(Clone, Debug)]
pub struct Diet {
    /// What it is called: `vegetarian`, `no nuts`.
    pub name: String,
    /// How many of the guests have it.
    pub guests: i64,
    /// Where it was written.
    pub origin: Origin,
}

/// Dishes that come to the table together.
#[derive(Clone, Debug)]
pub struct Course {
    /// What it is called; dishes name it.
    pub name: String,
    /// When.
    pub serve: Clock,
    /// How much a minute late matters.
    pub weight: i64,
    /// The most it may slip, minutes.
    pub slip: i64,
    /// The most minutes between the first dish ready and the serving.
    pub together: i64,
    /// Minutes between the actual serving of the course before and of this one; absent: any, but in the written order.
    pub follows: Option<Interval>,
    /// Where it was written.
    pub origin: Origin,
}

impl Course {
    /// A course of weight 1 that may slip by an hour and whose dishes are ready within five minutes of each other.
    pub fn new(name: &str, serve: Clock) -> Course {
        Course {
            name: name.to_owned(),
            serve,
            weight: 1,
            slip: 60,
            together: 5,
            follows: None,
            origin: Origin::default(),
        }
    }
}

/// A dish: steps in the order written, or a graph of them.
#[derive(Clone, Debug)]
pub struct Dish {
    /// What it is called.
    pub name: String,
    /// Its course; absent for what only goes into other dishes, or if there is but one course.
    pub course: Option<Named>,
    /// What is in it that calls for care: `poultry`, `pork`, `egg` and so on.
    pub contains: Vec<Contains>,
    /// What is in it that some guests cannot have, in the cook's words: `hazelnut`, `milk`.
    pub allergens: Vec<String>,
    /// What it does not contain, although its words sound like it: `egg`, `milk`.
    pub without: Vec<String>,
    /// The diets it is made for; empty: for everybody who can have it.
    pub diets: Vec<Named>,
    /// What is bought for it, as far as the menu says.
    pub buys: Vec<Buy>,
    /// Who may do its steps, by the names of cooks; empty: anybody.
    pub cooks: Vec<Named>,
    /// How many portions it is written for; absent: for whoever is there.
    pub portions: Option<i64>,
    /// It is made for those who eat of it, by the rules of [`scale`](crate::scale), and not as it is written.
    pub scale: bool,
    /// It is made once for all groups.
    pub once: bool,
    /// One of so many groups makes it, for its own share of those who eat of it; absent: it is made for all.
    pub share: Option<i64>,
    /// The jobs.
    pub steps: Vec<Step>,
    /// Where it was written.
    pub origin: Origin,
}

impl Dish {
    /// A dish of the only course there is.
    pub fn new(name: &str, steps: Vec<Step>) -> Dish {
        Dish {
            name: name.to_owned(),
            course: None,
            contains: Vec::new(),
            allergens: Vec::new(),
            without: Vec::new(),
            diets: Vec::new(),
            buys: Vec::new(),
            cooks: Vec::new(),
            portions: None,
            scale: false,
            once: false,
            share: None,
            steps,
            origin: Origin::default(),
        }
    }
}

/// Food that calls for care, because it can make people ill when it is not cooked or cooled well.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Contains {
    /// Beef, veal, lamb, pork, whole.
    Meat,
    /// Minced meat of any kind.
    Mince,
    /// Chicken, duck, turkey, whole or in pieces.
    Poultry,
    /// Fish and shellfish.
    Fish,
    /// Eggs.
    Egg,
    /// Cooked rice.
    Rice,
    /// Dried beans.
    Beans,
}

/// The id of a name: letters and figures in lower case, hyphens for everything between.
///
/// Two names with the same id are the same name: `Roast squash` may be called `roast-squash`.
pub fn slug(name: &str) -> String {
    let mut id = String::with_capacity(name.len());
    for c in name.chars() {
        if c.is_alphanumeric() {
            id.extend(c.to_lowercase());
        } else if !id.is_empty() && !id.ends_with('-') {
            id.push('-');
        }
    }
    id.truncate(id.trim_end_matches('-').len());
    id
}
