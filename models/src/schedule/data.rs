//! The shape of a schedule.

use serde::{Deserialize, Serialize};

use crate::problem::{Heat, Minute, Rack};

/// What the cooks do and what the appliances do, from the opening to the last serving.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Schedule {
    /// The cooks' names; [`Job::cooks`] counts into them.
    pub cooks: Vec<String>,
    /// Everything that is done, in order of time.
    pub jobs: Vec<Job>,
    /// Each cavity of the problem, in its order, used or not.
    pub cavities: Vec<CavityDay>,
    /// Each group of burners of the problem, in its order, used or not.
    pub hobs: Vec<HobDay>,
    /// Each top of the problem, in its order, used or not.
    pub tops: Vec<TopDay>,
    /// When the courses go out, in order of time.
    pub servings: Vec<Serving>,
}

/// One thing that is done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Job {
    /// First minute.
    pub at: Minute,
    /// The minute after the last; `at` for what takes no time.
    pub until: Minute,
    /// Who does it, as indices into [`Schedule::cooks`], ascending. For what is done in passing: whose sheet says it.
    pub cooks: Vec<usize>,
    /// What it is.
    #[serde(flatten)]
    pub what: What,
}

/// What a job is. Some keep hands busy ([`busy`](What::busy)); the others are done in passing and take nobody's time.
/// Of jobs that begin at the same minute they come in this order.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(tag = "do", rename_all = "kebab-case")]
pub enum What {
    /// A course goes out.
    Serve {
        /// The course.
        course: String,
    },
    /// Take a step out of its place; the last minutes of the step.
    TakeOut {
        /// The step.
        step: String,
    },
    /// Shift a pan to another spot of its cavity, because what comes next has no room otherwise.
    Shift {
        /// The cavity.
        place: String,
        /// The step whose pan is shifted.
        step: String,
    },
    /// Turn the dial of a cavity, or switch it off.
    Dial {
        /// The cavity.
        place: String,
        /// Index into [`CavityDay::settings`].
        setting: usize,
    },
    /// Wash hands, board and knife, which had something raw; added by [`add_washing`](crate::caution::add_washing).
    Wash {
        /// The step that soiled them.
        after: String,
    },
    /// A step starts that needs no hand: it rests, chills, or stays where it is.
    Leave {
        /// The step.
        step: String,
    },
    /// Put a step in its place; the first minutes of the step.
    PutIn {
        /// The step.
        step: String,
    },
    /// Hands are on the step from start to end.
    Work {
        /// The step.
        step: String,
    },
    /// Baste, turn, stir or probe.
    Touch {
        /// The step.
        step: String,
        /// Index into the mode's touches.
        index: usize,
    },
}

impl What {
    /// The step it belongs to, if to one.
    pub fn step(&self) -> Option<&str> {
        match self {
            What::Work { step }
            | What::PutIn { step }
            | What::TakeOut { step }
            | What::Touch { step, .. }
            | What::Shift { step, .. }
            | What::Leave { step } => Some(step),
            What::Dial { .. } | What::Serve { .. } | What::Wash { .. } => None,
        }
    }

    /// Whether it keeps a hand busy for its minutes.
    pub fn busy(&self) -> bool {
        matches!(self, What::Work { .. } | What::PutIn { .. } | What::TakeOut { .. } | What::Touch { .. })
    }
}

/// What a cavity does.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CavityDay {
    /// The cavity's id.
    pub place: String,
    /// When something is in it: maximal, in order.
    pub spells: Vec<Spell>,
    /// Where the dial is turned, in order. Before the first it is off.
    pub settings: Vec<Setting>,
    /// Which pan stands where and how long, in order of time. A pan that is shifted has several in a row.
    pub spots: Vec<Spot>,
    /// Wishes for a height that the other pans leave no room for.
    pub unmet: Vec<Unmet>,
    /// When the door opens, in order.
    pub doors: Vec<Door>,
}

impl CavityDay {
    /// The pans that are shifted, with the minute.
    pub fn shifts(&self) -> impl Iterator<Item = (&str, Minute)> {
        self.spots.iter().filter(|spot| spot.shifted).map(|spot| (spot.step.as_str(), spot.from))
    }
}

/// A stretch of time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spell {
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
}

/// A turn of the dial.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Setting {
    /// The minute of the turn.
    pub at: Minute,
    /// The temperature set, degrees C; off if absent.
    pub degrees: Option<i64>,
    /// The kind of heat; absent when off.
    pub heat: Option<Heat>,
    /// The minute at which the air has got there at the cavity's rates (without `settle`).
    pub there: Minute,
}

/// A pan's spot in a cavity.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spot {
    /// The step.
    pub step: String,
    /// First minute.
    pub from: Minute,
    /// The minute after the last.
    pub until: Minute,
    /// Number of the shelf, from 1 at the bottom, among the shelves in use around that time.
    pub shelf: usize,
    /// The height in words.
    pub height: Rack,
    /// Height of the shelf above the cavity's floor, mm.
    pub floor: i64,
    /// Distance of the pan from the left wall, mm.
    pub x: i64,
    /// Distance of the pan from the back wall, mm.
    pub y: i64,
    /// Width as it stands, mm.
    pub width: i64,
    /// Depth as it stands, mm.
    pub depth: i64,
    /// Whether it stands turned by 90 degrees.
    pub turned: bool,
    /// Whether it is shifted here from another spot at `from`.
    pub shifted: bool,
}

/// A wish for a height that is not met.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unmet {
    /// The step.
    pub step: String,
    /// What its mode asks for.
    pub wish: Rack,
    /// What it gets.
    pub got: Rack,
}

/// An opening of a cavity's door.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Door {
    /// The minute.
    pub at: Minute,
    /// Steps that are put in.
    pub puts_in: Vec<String>,
    /// Steps that are taken out.
    pub takes_out: Vec<String>,
    /// Steps that are basted, turned, stirred or probed.
    pub touches: Vec<String>,
    /// Steps whose pans are shifted.
    pub shifts: Vec<String>,
}

/// What a group of burners does.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HobDay {
    /// The group's id.
    pub place: String,
    /// Which pan stands on which burner, in order of time.
    pub spots: Vec<HobSpot>,
}

/// A pan's burner.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HobSpot {
    /// The step.
    pub step: String,
    /// First minute.
    pub from: Minute,
    /// The minute after the last.
    pub until: Minute,
    /// Number of the burner, from 1.
    pub burner: usize,
    /// Lowest and highest heat level that suits.
    pub level: [i64; 2],
}

/// What a top does.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TopDay {
    /// The top's id.
    pub place: String,
    /// Which pan stands where, in order of time.
    pub spots: Vec<TopSpot>,
}

/// A pan's square on a top.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct TopSpot {
    /// The step.
    pub step: String,
    /// First minute.
    pub from: Minute,
    /// The minute after the last.
    pub until: Minute,
    /// Distance of the square from the left edge, mm.
    pub x: i64,
    /// Distance of the square from the back edge, mm.
    pub y: i64,
    /// Diameter of the pan, mm.
    pub diameter: i64,
    /// Lowest and highest heat level that suits.
    pub level: [i64; 2],
}

/// A course going out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Serving {
    /// The course's id.
    pub course: String,
    /// The minute.
    pub at: Minute,
    /// Minutes later than wanted.
    pub slip: Minute,
}
