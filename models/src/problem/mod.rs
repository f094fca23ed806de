//! The planning problem: the library's middle layer.
//!
//! Menus are compiled into a [`Problem`]; every solver, checker and renderer works from it, and other planners may build
//! one themselves. It is plain data: whole minutes from midnight of day 0, half-open intervals `[start, end)`, lengths in
//! millimetres, weights in grams, temperatures in degrees Celsius, rates of rise and fall in degrees per ten minutes.
//! Its serde form is the project's JSON form.
//!
//! Numbers are read as they come, legal or not: [`Problem::faults`](crate::problem::Problem::faults) names everything that is wrong.

mod faults;
mod fingerprint;
mod form;
pub mod legal;
mod touch;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

pub use faults::{FaultKind, Named, ProblemFault};
pub use touch::Touch;

/// A minute counted from midnight of day 0, or a number of minutes.
pub type Minute = i64;

/// One kitchen evening to be planned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "form::Form")]
pub struct Problem {
    /// A name for reports; any text.
    pub name: String,
    /// Nothing starts before this minute.
    pub opening: Minute,
    /// When there are hands, and how many. Disjoint; may touch.
    pub shifts: Vec<Shift>,
    /// Who works, by name and in place of `shifts`; where nobody is named, hands are only counted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cooks: Vec<Cook>,
    /// Things of which there is a limited number: mixers, refrigerator shelves, tins, watts.
    pub pools: BTreeMap<String, i64>,
    /// Cavities, hobs and tops.
    pub places: Vec<Place>,
    /// What is cooked.
    pub dishes: Vec<Dish>,
    /// What is served together, and when.
    pub courses: Vec<Course>,
    /// The jobs.
    pub steps: Vec<Step>,
    /// What follows what, and with which gap.
    pub links: Vec<Link>,
}

/// A stretch of time in which a number of hands is at work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shift {
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
    /// How many hands.
    pub hands: i64,
}

/// Somebody who works, and when.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cook {
    /// The id that modes and plans name.
    pub id: String,
    /// When the cook is there. Disjoint; those that touch count as one.
    pub shifts: Vec<Hours>,
}

/// A stretch of time in which a cook is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hours {
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
}

/// Where a step can be done other than on the counter.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub enum Place {
    /// An oven, a warming drawer, a grill or a spit.
    Cavity(Cavity),
    /// A group of equal burners.
    Hob(Hob),
    /// A heated plate on which pans stand side by side.
    Top(Top),
}

impl Problem {
    /// How many hands there are at a minute, by shifts or by named cooks.
    pub fn hands_at(&self, minute: Minute) -> i64 {
        let shifts = self.shifts.iter().filter(|shift| shift.start <= minute && minute < shift.end);
        let cooks = self.cooks.iter().flat_map(|cook| &cook.shifts);
        let named = cooks.filter(|hours| hours.start <= minute && minute < hours.end).count();
        shifts.map(|shift| shift.hands).sum::<i64>().saturating_add(i64::try_from(named).unwrap_or(i64::MAX))
    }

    /// Whether some number lies outside its legal range, so that nothing should be counted with it.
    pub fn has_absurd_numbers(&self) -> bool {
        self.faults().iter().any(|fault| matches!(fault.what, FaultKind::OutOfRange { .. }))
    }
}

impl Place {
    /// The id that modes name.
    pub fn id(&self) -> &str {
        match self {
            Place::Cavity(cavity) => &cavity.id,
            Place::Hob(hob) => &hob.id,
            Place::Top(top) => &top.id,
        }
    }
}

/// An enclosed space with one air temperature at a time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cavity {
    /// The id that modes name.
    pub id: String,
    /// Usable width inside, mm.
    pub width: i64,
    /// Usable depth inside, mm.
    pub depth: i64,
    /// Usable height inside, mm.
    pub height: i64,
    /// How many racks there are at most.
    pub racks: i64,
    /// Air needed above the tallest pan of each used rack, mm.
    pub clearance: i64,
    /// The most its racks bear together, g.
    pub max_weight: i64,
    /// The lowest temperature it keeps, degrees C.
    pub t_min: i64,
    /// The highest temperature it keeps, degrees C.
    pub t_max: i64,
    /// Its temperature at the opening time, degrees C.
    pub t_open: i64,
    /// How fast it heats, degrees per ten minutes.
    pub rise: i64,
    /// How fast it cools, degrees per ten minutes.
    pub fall: i64,
    /// Minutes added to each changeover until the temperature is steady.
    pub settle: Minute,
    /// An empty gap longer than this is worth switching off for, minutes.
    pub cool_off: Minute,
    /// The kinds of heat it offers.
    pub heats: Vec<Heat>,
    /// Whether it is lit by somebody who is there: after a stretch longer than `cool_off` in which nobody is, or before the
    /// first of them comes, it counts as out and at 20 C. Until it can be at the lower end of a mode's window again, `settle`
    /// included, no step begins with that mode; one whose pan stays in begins again as soon as somebody is back. Not said, a
    /// dial turns itself.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub attended: bool,
}

/// A group of equal burners, one pan each.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hob {
    /// The id that modes name.
    pub id: String,
    /// How many burners.
    pub count: i64,
    /// The lowest and highest heat level.
    pub scale: [i64; 2],
    /// The smallest pan that works, mm.
    pub min_diameter: i64,
    /// The largest pan that stands, mm.
    pub max_diameter: i64,
}

/// A heated plate; pans share it as long as the squares of their diameters fit side by side.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Top {
    /// The id that modes name.
    pub id: String,
    /// Width, mm.
    pub width: i64,
    /// Depth, mm.
    pub depth: i64,
    /// The lowest and highest heat level.
    pub scale: [i64; 2],
}

/// A kind of heat in a cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Heat {
    /// Moving air.
    Fan,
    /// Still air between two elements.
    Static,
    /// Moist heat.
    Steam,
    /// Radiant heat from above.
    Grill,
    /// A turning spit.
    Spit,
}

/// A dish: a group of steps with a name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Dish {
    /// The id that steps name.
    pub id: String,
    /// What the cook calls it.
    pub name: String,
}

/// What waiting costs: `rate * w + (rate_after - rate) * max(0, w - soft)` for `w` minutes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wait {
    /// Cost of each minute up to `soft`.
    pub rate: i64,
    /// Minutes after which waiting costs `rate_after`; never, if absent.
    pub soft: Option<Minute>,
    /// Cost of each minute past `soft`; at least `rate`.
    pub rate_after: i64,
}

/// Dishes that are served together at `serve + slip`, `0 <= slip <= max_slip`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// The id that other courses name.
    pub id: String,
    /// The wanted minute of serving.
    pub serve: Minute,
    /// Cost in lateness of each minute of slip.
    pub weight: i64,
    /// The most that serving may slip, minutes.
    pub max_slip: Minute,
    /// Each sink ends at most this many minutes before the serving, and never after it.
    pub together: Minute,
    /// The last step of each dish of the course.
    pub sinks: Vec<Sink>,
    /// The course that comes before, with the minutes between the actual servings.
    pub after: Option<After>,
}

/// The last step of a dish, and what it costs to let it stand until it is served.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sink {
    /// The id of the step.
    pub step: String,
    /// What each minute between its end and the serving costs.
    pub wait: Wait,
    /// What it takes of which pool from its end to the serving.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub pools: BTreeMap<String, i64>,
}

/// A course follows another by `min..=max` minutes of actual serving.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct After {
    /// The id of the earlier course.
    pub course: String,
    /// The least minutes between the two servings.
    pub min: Minute,
    /// The most minutes between the two servings; open if absent.
    pub max: Option<Minute>,
}

/// One job on one dish. Exactly one of its modes is chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// The id that links and sinks name.
    pub id: String,
    /// The id of its dish.
    pub dish: String,
    /// A word for what is done; free.
    pub kind: String,
    /// It starts no earlier than this minute.
    pub earliest: Option<Minute>,
    /// It ends no later than this minute.
    pub latest: Option<Minute>,
    /// What each minute beyond the mode's `min` costs, unless the mode has its own.
    pub wait: Wait,
    /// The ways to do it.
    pub modes: Vec<Mode>,
}

/// Where and how a step is done.
///
/// In a cavity `t`, `heat`, `pan` and `weight` are given; on a hob or a top `level` and `diameter`; on the counter none of them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mode {
    /// The id of the place; the counter if absent.
    pub place: Option<String>,
    /// The least minutes from start to end.
    pub min: Minute,
    /// The most minutes from start to end.
    pub max: Minute,
    /// Hands busy from start to end.
    #[serde(default)]
    pub hands: i64,
    /// Minutes at the start in which one hand is busy putting in.
    #[serde(default)]
    pub load: Minute,
    /// Minutes at the end in which one hand is busy taking out.
    #[serde(default)]
    pub unload: Minute,
    /// What it takes of which pool from start to end.
    #[serde(default)]
    pub pools: BTreeMap<String, i64>,
    /// What this way is worth in waiting.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub cost: i64,
    /// What its minutes beyond `min` cost, in place of the step's `wait`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<Wait>,
    /// Who may do its pieces of work, by the ids of cooks; anybody, if absent. At least as many as `hands`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub who: Option<Vec<String>>,
    /// Short jobs for one hand while it runs: baste, turn, stir, probe.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub touches: Vec<Touch>,
    /// How early and how late it may turn out, in minutes about the planned ones. Binds nobody.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<[Minute; 2]>,
    /// The wished height in the cavity. Binds nobody.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rack: Option<Rack>,
    /// Cavity: the lowest and highest air temperature, degrees C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub t: Option<[i64; 2]>,
    /// Cavity: the kind of heat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat: Option<Heat>,
    /// Cavity: outer width, depth and height of the pan with what stands in it, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pan: Option<[i64; 3]>,
    /// Cavity: weight of pan and food, g.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weight: Option<i64>,
    /// Cavity: minutes from the start in which the door stays shut.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub shut: Minute,
    /// Cavity: gives off moist air.
    #[serde(default, skip_serializing_if = "is_false")]
    pub wet: bool,
    /// Cavity: cannot stand moist air.
    #[serde(default, skip_serializing_if = "is_false")]
    pub dry: bool,
    /// Hob or top: the lowest and highest heat level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<[i64; 2]>,
    /// Hob or top: diameter of the pan, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Option<i64>,
}

impl Mode {
    /// A way that takes so many minutes at the counter and needs nothing: to be filled in with `..`.
    ///
    /// ```
    /// use rangewright_models::problem::Mode;
    /// let carve = Mode { hands: 1, ..Mode::at_counter(8, 10) };
    /// assert_eq!((carve.min, carve.max, carve.place), (8, 10, None));
    /// ```
    pub fn at_counter(min: Minute, max: Minute) -> Self {
        Mode {
            place: None,
            min,
            max,
            hands: 0,
            load: 0,
            unload: 0,
            pools: BTreeMap::new(),
            cost: 0,
            wait: None,
            who: None,
            touches: Vec::new(),
            spread: None,
            rack: None,
            t: None,
            heat: None,
            pan: None,
            weight: None,
            shut: 0,
            wet: false,
            dry: false,
            level: None,
            diameter: None,
        }
    }
}

impl Mode {
    /// The minutes it is likely to take: the least ones. Where these cover the longest it may turn out, and it may well be
    /// shorter, a margin is set aside in them, and it is likely to take the middle of what it may (our assumption).
    pub fn likely(&self) -> Minute {
        match self.spread {
            Some([early, late]) if late <= 0 && early > 0 => self.min - early + (early + late.max(-early)) / 2,
            _ => self.min,
        }
    }
}

/// A wished height in a cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Rack {
    /// Near the top.
    Upper,
    /// Between.
    Middle,
    /// Near the floor.
    Lower,
}

/// `end(from) + min <= start(to) <= end(from) + max`. Links are acyclic.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Link {
    /// The id of the earlier step.
    pub from: String,
    /// The id of the later step.
    pub to: String,
    /// The least gap; negative: `to` starts while `from` still runs.
    pub min: Minute,
    /// The greatest gap; open if absent.
    pub max: Option<Minute>,
    /// The pan stays in the cavity while its temperature changes: no changeover between the two.
    #[serde(default)]
    pub stay: bool,
    /// What each minute beyond `min` costs.
    pub wait: Wait,
    /// What it takes of which pool from the end of `from` to the start of `to`; nothing if that is not later.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub pools: BTreeMap<String, i64>,
}

fn is_zero(n: &i64) -> bool {
    *n == 0
}

fn is_false(b: &bool) -> bool {
    !*b
}
