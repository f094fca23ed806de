//! A kitchen: what there is to cook with, and who cooks.

use std::collections::BTreeMap;

use crate::calendar::Clock;
use crate::cook::Piece;
use crate::cook::safety::{Premises, Region};
use crate::faults::Origin;
use crate::problem::{Cavity, Heat};

use crate::units::Temperature;

pub use crate::units::PanSize;

/// The pool that the shelves of the refrigerator are.
pub(crate) const SHELF: &str = "fridge shelf";

/// Appliances, pans, things of which there are only so many, and cooks.
#[derive(Clone, Debug, Default)]
pub struct Kitchen {
    /// What the cooks call it.
    pub name: String,
    /// Ovens, burners, tops and their like. A step with no named place is offered to them in this order.
    pub places: Vec<Appliance>,
    /// Pans of which there are only so many, by name.
    pub pans: Vec<Pan>,
    /// Things of which there are only so many: mixers, shelves of the refrigerator, watts of a circuit.
    pub pools: BTreeMap<String, i64>,
    /// Whose limits of food safety are followed.
    pub region: Region,
    /// A household or a licensed kitchen, and how warm it is.
    pub premises: Premises,
    /// Roasts of the past, which shift and narrow the minutes of the next.
    pub log: Vec<Past>,
    /// Who cooks, unless the menu says otherwise.
    pub cooks: Vec<Cook>,
    /// Where it was written.
    pub origin: Origin,
}

/// An appliance, with the name the cooks know it by.
#[derive(Clone, Debug)]
pub struct Appliance {
    /// What the cooks call it.
    pub name: String,
    /// What it is.
    pub kind: ApplianceKind,
    /// What each pan in or on it takes of which pool, for example watts of a shared circuit. An oven that draws from a
    /// circuit counts once for each pan in it.
    pub draws: BTreeMap<String, i64>,
    /// Where it was written.
    pub origin: Origin,
}

/// What an appliance is.
#[derive(Clone, Debug)]
pub enum ApplianceKind {
    /// An oven, warming drawer, grill or spit.
    Cavity(CavitySpec),
    /// Equal burners.
    Burners(BurnersSpec),
    /// A heated plate, in one part or several of different heat.
    Top(TopSpec),
}

/// An enclosed space with one air temperature at a time. Fields as in [`problem::Cavity`](crate::problem::Cavity).
#[derive(Clone, Debug)]
pub struct CavitySpec {
    /// Whether it is an oven, a warming drawer, a grill or a spit.
    pub sort: CavitySort,
    /// Usable width, depth and height inside, mm.
    pub inside: [i64; 3],
    /// How many racks there are at most.
    pub racks: i64,
    /// Air needed above the tallest pan of each used rack, mm.
    pub clearance: i64,
    /// The most its racks bear together, g.
    pub bears: i64,
    /// The lowest and highest temperature it keeps, degrees C.
    pub range: [i64; 2],
    /// Its temperature at the opening time, degrees C.
    pub at_opening: i64,
    /// How fast it heats, degrees per ten minutes.
    pub rise: i64,
    /// How fast it cools, degrees per ten minutes.
    pub fall: i64,
    /// Minutes added to each change of temperature until it is steady.
    pub settle: i64,
    /// An empty gap longer than this is worth switching off for, minutes.
    pub cool_off: i64,
    /// The kinds of heat it offers, its usual one first.
    pub heats: Vec<Heat>,
}

impl CavitySpec {
    /// What an oven, a drawer, a grill and a spit are if the kitchen does not say otherwise. Common practice, no source, but
    /// for the clearance: 25 to 40 mm of air above a dish is common practice too.
    pub fn usual(sort: CavitySort, inside: [i64; 3]) -> Self {
        let oven = CavitySpec {
            sort,
            inside,
            racks: (inside[2] / 120).clamp(1, 5),
            clearance: 30,
            bears: 25_000,
            range: [50, 250],
            at_opening: 20,
            rise: 120,
            fall: 30,
            settle: 5,
            cool_off: 30,
            heats: vec![Heat::Fan, Heat::Static],
        };
        match sort {
            CavitySort::Oven => oven,
            CavitySort::Drawer => CavitySpec {
                racks: 1,
                clearance: 10,
                range: [30, 85],
                rise: 60,
                fall: 20,
                heats: vec![Heat::Static],
                ..oven
            },
            CavitySort::Grill => {
                CavitySpec { racks: 1, clearance: 50, range: [150, 300], rise: 400, heats: vec![Heat::Grill], ..oven }
            }
            CavitySort::Spit => {
                CavitySpec { racks: 1, clearance: 0, bears: 6_000, range: [100, 280], heats: vec![Heat::Spit], ..oven }
            }
        }
    }

    /// The same as a place of a problem.
    pub fn cavity(&self, id: &str) -> Cavity {
        Cavity {
            id: id.to_owned(),
            width: self.inside[0],
            depth: self.inside[1],
            height: self.inside[2],
            racks: self.racks,
            clearance: self.clearance,
            max_weight: self.bears,
            t_min: self.range[0],
            t_max: self.range[1],
            t_open: self.at_opening,
            rise: self.rise,
            fall: self.fall,
            settle: self.settle,
            cool_off: self.cool_off,
            heats: self.heats.clone(),
            attended: false,
        }
    }
}

/// What sort of cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum CavitySort {
    /// An oven.
    Oven,
    /// A warming drawer.
    Drawer,
    /// A grill.
    Grill,
    /// A turning spit.
    Spit,
}

/// A group of equal burners, one pan each.
#[derive(Clone, Debug)]
pub struct BurnersSpec {
    /// How many.
    pub count: i64,
    /// The lowest and highest mark on the dial.
    pub dial: [i64; 2],
    /// The smallest and the largest pan that work, diameter in mm.
    pub pans: [i64; 2],
}

impl BurnersSpec {
    /// The pans that burners take if the kitchen does not say (common practice, no source).
    pub const USUAL_PANS: [i64; 2] = [100, 320];
}

/// The marks of a dial on the hob if the kitchen does not say (common practice, no source).
pub const USUAL_DIAL: [i64; 2] = [1, 9];

/// A heated plate on which pans stand side by side.
#[derive(Clone, Debug)]
pub struct TopSpec {
    /// The lowest and highest mark on the dial; `low`, `medium` and `high` are thirds of it.
    pub dial: [i64; 2],
    /// Its parts; each part is a place of its own.
    pub parts: Vec<TopPart>,
}

/// A part of a top that has one heat.
#[derive(Clone, Debug)]
pub struct TopPart {
    /// What the cooks call it.
    pub name: String,
    /// Width and depth, mm.
    pub size: [i64; 2],
    /// The heat it can have, on the top's dial.
    pub levels: [i64; 2],
    /// Where it was written.
    pub origin: Origin,
}

/// A pan, tin, dish or pot of the kitchen. While a dish stands in it, from its first step to its last in it, it serves no other.
#[derive(Clone, Debug)]
pub struct Pan {
    /// What the cooks call it.
    pub name: String,
    /// How large.
    pub size: PanSize,
    /// How many equal ones there are; absent: as many as are wanted.
    pub count: Option<i64>,
    /// Where it was written.
    pub origin: Origin,
}

/// Somebody who cooks.
#[derive(Clone, Debug)]
pub struct Cook {
    /// Their name.
    pub name: String,
    /// When they are in the kitchen; empty: from ten hours before the first serving.
    pub shifts: Vec<Stretch>,
    /// When they are not, although on shift: sitting down with the guests.
    pub away: Vec<Stretch>,
    /// The kinds of steps they may do, by their words: `prep`; empty: any.
    pub only: Vec<String>,
    /// Where it was written.
    pub origin: Origin,
}

/// From one clock time to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// First moment.
    pub from: Clock,
    /// The moment after the last.
    pub to: Clock,
    /// Where it was written.
    pub origin: Origin,
}

/// A roast of the past.
#[derive(Clone, Debug)]
pub struct Past {
    /// What was roasted.
    pub piece: Piece,
    /// At which heat of the oven.
    pub at: Temperature,
    /// With which heat.
    pub heat: Heat,
    /// Minutes in the oven.
    pub took: i64,
    /// Its centre when it came out.
    pub pulled: Temperature,
    /// Where it was written.
    pub origin: Origin,
}
