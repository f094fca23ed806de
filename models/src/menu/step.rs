//! A step of a dish, and the ways to do it.

use std::collections::BTreeMap;

use super::{Accepts, Cools, Joint, Keeps, Kind, Piece, Stand};
use crate::calendar::Clock;
use crate::cook::roast::Roasting;
use crate::cook::safety::Caution;
use crate::faults::Origin;
use crate::problem::{Heat, Rack};
use crate::units::{Interval, PanSize, Temperature};

/// One job. What is absent takes the default of its kind.
#[derive(Clone, Debug)]
pub struct Step {
    /// What is done.
    pub kind: Kind,
    /// What other steps call it; absent: the word of its kind.
    pub id: Option<String>,
    /// The job in a cook's words; absent: made from the kind and the dish.
    pub title: Option<String>,
    /// The steps before it, `step` or `dish/step`; absent: the step written before it.
    pub after: Option<Vec<Named>>,
    /// Minutes between the end of each step before it and its start; negative: it starts while they still run.
    pub gap: Option<Interval>,
    /// The pan stays in the oven between the step before and this one, while the oven changes its temperature.
    pub stay: Option<bool>,
    /// It starts no earlier.
    pub earliest: Option<Clock>,
    /// It ends no later.
    pub latest: Option<Clock>,
    /// How the food bears waiting after it.
    pub keeps: Option<Keeps>,
    /// Where the food stands until it goes on; absent: where a cook would put it.
    pub waits: Option<Stand>,
    /// Minutes up to which the step may be stretched at no cost, what the cut likes of a rest.
    pub likes: Option<i64>,
    /// Who may do it, by the names of cooks; empty: whom its dish names.
    pub cooks: Vec<Named>,
    /// Who is there besides, without doing it.
    pub with: Vec<With>,
    /// What to look for.
    pub look: Option<String>,
    /// Anything else the cook should know.
    pub note: Option<String>,
    /// A roast that is worked out from what it is; the step then becomes several.
    pub joint: Option<Box<Joint>>,
    /// What is roasted, in a step that a roast was written out to.
    pub piece: Option<Piece>,
    /// What the long stage of a roast is followed by on the day, in the step that it was written out to.
    pub roasting: Option<Box<Roasting>>,
    /// Other oven temperatures for which the minutes are worked out.
    pub accepts: Option<Accepts>,
    /// How it cools hot food.
    pub cools: Option<Cools>,
    /// It is done in so many equal pans, each a step of its own.
    pub pans: Option<i64>,
    /// It is done in so many batches, one after the other in the same place and pan; its minutes are those of one batch.
    pub batches: Option<i64>,
    /// It is done beside the step before it, and follows what that one follows: another of several pans.
    pub beside: bool,
    /// Where and how.
    pub way: Way,
    /// Other ways; each takes from `way` what it leaves out. If there are any, `way` alone is none.
    pub ways: Vec<Way>,
    /// Where it was written.
    pub origin: Origin,
}

/// Where and how a step is done. What is absent takes the default of the step's kind.
#[derive(Clone, Debug, Default)]
pub struct Way {
    /// The places it may use; empty: every place that can do it.
    pub places: Vec<Named>,
    /// How long.
    pub takes: Option<Interval>,
    /// Lowest and highest air temperature, degrees C.
    pub temperature: Option<[i64; 2]>,
    /// The single temperature within that range that is asked for, as it was written.
    pub asked: Option<Temperature>,
    /// Heat on the hob.
    pub level: Option<Level>,
    /// Kinds of heat that will do; empty: the kind's own, in the oven's order.
    pub heats: Vec<Heat>,
    /// The pan.
    pub pan: Option<PanChoice>,
    /// Pan and food together, g.
    pub weight: Option<i64>,
    /// Hands busy from start to end.
    pub hands: Option<i64>,
    /// Minutes for one hand to put it in.
    pub load: Option<i64>,
    /// Minutes for one hand to take it out.
    pub unload: Option<i64>,
    /// Minutes in which the door stays shut.
    pub shut: Option<i64>,
    /// Gives off moist air.
    pub wet: Option<bool>,
    /// Cannot stand moist air.
    pub dry: Option<bool>,
    /// What this way is worth in waiting.
    pub cost: Option<i64>,
    /// Hand work in mid-step.
    pub touches: Vec<Touch>,
    /// How many minutes earlier it may turn out to be done.
    pub early: Option<i64>,
    /// How many minutes later it may turn out to be done.
    pub late: Option<i64>,
    /// The least and the most minutes it may turn out to take, in place of `early` and `late`.
    pub between: Option<[i64; 2]>,
    /// The wished height in the oven.
    pub rack: Option<Rack>,
    /// What it takes of which pool.
    pub uses: BTreeMap<String, i64>,
    /// How the food bears that the step is stretched beyond its least minutes; among `ways`, that this way is.
    pub stretch: Option<Keeps>,
    /// Places that it may not use, because they are another group's.
    pub others: Vec<String>,
    /// One of several ways that were worked out: left out without a fault if no place can do it, as long as one can.
    pub one_of: bool,
    /// What the cook should know of this way, line by line.
    pub notes: Vec<String>,
    /// What this way means for the step that follows, to be read there.
    pub hands_on: Vec<String>,
    /// The cautions that apply to this way alone.
    pub cautions: Vec<Caution>,
    /// Where it was written.
    pub origin: Origin,
}

impl Step {
    /// A step that leaves everything to the defaults of its kind, so many minutes long.
    pub fn new(kind: Kind, minutes: i64) -> Step {
        let takes = Some(Interval { min: minutes, max: Some(minutes) });
        Step {
            kind,
            id: None,
            title: None,
            after: None,
            gap: None,
            stay: None,
            earliest: None,
            latest: None,
            keeps: None,
            waits: None,
            likes: None,
            cooks: Vec::new(),
            with: Vec::new(),
            look: None,
            note: None,
            joint: None,
            piece: None,
            roasting: None,
            accepts: None,
            cools: None,
            pans: None,
            batches: None,
            beside: false,
            way: Way { takes, ..Way::default() },
            ways: Vec::new(),
            origin: Origin::default(),
        }
    }
}

impl Way {
    /// This way, with what it leaves out taken from another one.
    pub fn over(self, base: &Way) -> Way {
        fn list<T: Clone>(own: Vec<T>, base: &[T]) -> Vec<T> {
            if own.is_empty() { base.to_vec() } else { own }
        }
        // An oven and a burner are told apart by the heat: whichever is said here counts alone.
        let own_heat = self.temperature.is_some() || self.level.is_some();
        // The range of the minutes is said in one of two ways, and whichever is said here counts alone.
        let own_range = self.early.is_some() || self.late.is_some() || self.between.is_some();
        Way {
            places: list(self.places, &base.places),
            takes: self.takes.or(base.takes),
            temperature: if own_heat { self.temperature } else { base.temperature },
            asked: if own_heat { self.asked } else { base.asked },
            level: if own_heat { self.level } else { base.level },
            heats: list(self.heats, &base.heats),
            pan: self.pan.or_else(|| base.pan.clone()),
            weight: self.weight.or(base.weight),
            hands: self.hands.or(base.hands),
            load: self.load.or(base.load),
            unload: self.unload.or(base.unload),
            shut: self.shut.or(base.shut),
            wet: self.wet.or(base.wet),
            dry: self.dry.or(base.dry),
            cost: self.cost.or(base.cost),
            touches: list(self.touches, &base.touches),
            early: if own_range { self.early } else { base.early },
            late: if own_range { self.late } else { base.late },
            between: if own_range { self.between } else { base.between },
            rack: self.rack.or(base.rack),
            uses: if self.uses.is_empty() { base.uses.clone() } else { self.uses },
            // The step's own stretch is the step's wait, not this way's.
            stretch: self.stretch,
            others: list(self.others, &base.others),
            one_of: self.one_of,
            notes: list(self.notes, &base.notes),
            hands_on: list(self.hands_on, &base.hands_on),
            cautions: list(self.cautions, &base.cautions),
            origin: self.origin,
        }
    }
}

/// Heat on the hob.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    /// The lowest third of the dial.
    Low,
    /// The lowest half.
    Gentle,
    /// The middle third.
    Medium,
    /// The highest third.
    High,
    /// From one mark on the dial to another.
    Marks([i64; 2]),
}

/// A pan of the kitchen by its name, or any pan of a size.
#[derive(Clone, Debug)]
pub enum PanChoice {
    /// One of the kitchen's pans.
    Named(Named),
    /// Any pan of this size.
    Size(PanSize),
}

/// Hand work in mid-step: baste, turn, stir, probe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Touch {
    /// What is done.
    pub what: String,
    /// Minutes from the start of the step.
    pub at: i64,
    /// How long one hand is busy.
    pub takes: i64,
    /// Repeated after so many minutes, for as long as the step lasts.
    pub every: Option<i64>,
    /// Who may do it, by the names of cooks; empty: who does the step.
    pub cooks: Vec<Named>,
}

/// Somebody who is to be there while a step is done, and does nothing else meanwhile: an instructor.
#[derive(Clone, Debug)]
pub struct With {
    /// Who.
    pub cook: Named,
    /// For so many minutes from its start; absent: for the minutes that are planned for it.
    pub first: Option<i64>,
}

/// One step follows another.
#[derive(Clone, Debug)]
pub struct Link {
    /// The earlier step: `dish/step`.
    pub from: Named,
    /// The later step: `dish/step`.
    pub to: Named,
    /// Minutes from the end of the one to the start of the other.
    pub gap: Interval,
    /// How the food bears waiting in between; absent: as after the earlier step.
    pub keeps: Option<Keeps>,
    /// Where it was written.
    pub origin: Origin,
}

/// A name of something else in the feast.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// The name as written.
    pub name: String,
    /// Where it was written.
    pub origin: Origin,
}

impl From<&str> for Named {
    fn from(name: &str) -> Named {
        Named { name: name.to_owned(), origin: Origin::default() }
    }
}
