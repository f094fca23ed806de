//! Who does what, where hands are more than a number: cooks have names, or touches float or are done in passing.
//!
//! Cooks that nothing tells apart form one *class*, so that equals are counted and not named. What is done in passing may be
//! done beside a whole piece of the same cook, which counting does not tell: then each cook is a class of its own.
//!
//! Beside the classes there are *rows*: for each set of cooks that some pieces are confined to, and for unions of such sets, no
//! more of these pieces are done at once than there are cooks in it (one half of P. Hall's theorem on representatives,
//! 1935; from memory). Rows are resources like any other, and all engines know them; only the one that learns knows who does
//! what, and when a floating touch is begun.

use std::collections::{BTreeMap, BTreeSet};

use rangewright_models::plan::Piece;
use rangewright_models::problem::{self, Problem, Touch};

use super::lower::time;
use super::{During, HANDS, Need, Profile, Resource, Time};

/// No more rows than this are made.
const ENOUGH: usize = 24;

/// Those who work.
pub(crate) struct Crew {
    pub(crate) classes: Vec<Class>,
}

/// Cooks that nothing tells apart.
pub(crate) struct Class {
    /// Indices of cooks; empty where hands are only counted.
    pub(crate) cooks: Vec<usize>,
    /// How many of them are there.
    pub(crate) capacity: Profile,
}

/// A piece of work of a mode.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Work {
    pub(crate) piece: Piece,
    pub(crate) when: When,
    pub(crate) hands: i64,
    pub(crate) passing: bool,
    /// The classes whose cooks may do it.
    pub(crate) classes: Vec<usize>,
    /// The resources that count it.
    pub(crate) rows: Vec<usize>,
}

impl Work {
    /// Whether it is one of the pieces of which a cook does one at a time: all but those done in passing, or (`beside`) all
    /// but whole ones.
    pub(crate) fn counts(&self, beside: bool) -> bool {
        if beside { self.piece != Piece::Whole } else { !self.passing }
    }
}

/// When a piece of work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum When {
    Fixed(During),
    /// Begun from `first` to `last` minutes after the start of its step, and done by its end.
    Floats {
        first: Time,
        last: Time,
        minutes: Time,
    },
}

/// A set of cooks, and which of the two counts: all but what is done in passing, or all but whole pieces.
struct Row {
    cooks: BTreeSet<usize>,
    beside: bool,
    resource: usize,
}

impl Row {
    fn counts(&self, who: &BTreeSet<usize>, piece: Piece, passing: bool) -> bool {
        let counted = if self.beside { piece != Piece::Whole } else { !passing };
        counted && who.is_subset(&self.cooks)
    }
}

/// The crew while the problem is being lowered.
pub(super) struct Muster<'p> {
    names: BTreeMap<&'p str, usize>,
    everyone: BTreeSet<usize>,
    rows: Vec<Row>,
    capacities: Vec<Profile>,
    crew: Crew,
}

impl<'p> Muster<'p> {
    /// `None` where hands are only counted and every piece has its minute. `resources`: how many there are without.
    pub(super) fn new(problem: &'p Problem, resources: usize) -> Option<Self> {
        let modes = || problem.steps.iter().flat_map(|step| &step.modes);
        let unusual = |touch: &Touch| touch.floats() || touch.passing;
        if problem.cooks.is_empty() && !modes().any(|mode| mode.touches.iter().any(unusual)) {
            return None;
        }
        let names: BTreeMap<&str, usize> =
            problem.cooks.iter().enumerate().map(|(index, cook)| (cook.id.as_str(), index)).collect();
        let everyone: BTreeSet<usize> = (0..problem.cooks.len()).collect();
        let who = |mode: &problem::Mode| who(&names, &everyone, mode);
        let sets: BTreeSet<BTreeSet<usize>> = modes().map(who).collect();
        let passing: BTreeSet<BTreeSet<usize>> =
            modes().filter(|mode| mode.touches.iter().any(|touch| touch.passing)).map(who).collect();
        let shifts = problem.shifts.iter().map(|shift| (time(shift.start), time(shift.end), shift.hands));
        let counted = problem.cooks.is_empty().then(|| Profile::of_shifts(shifts.collect()));
        let there = |cooks: &BTreeSet<usize>| counted.clone().unwrap_or_else(|| there(problem, cooks));
        let mut rows = Vec::new();
        let mut next = resources;
        for cooks in unions(&sets, &everyone) {
            for beside in [false, true] {
                if beside && !passing.iter().any(|who| who.is_subset(&cooks)) {
                    continue;
                }
                // The first row is about everyone.
                let resource = if rows.is_empty() { HANDS } else { next };
                next += usize::from(!rows.is_empty());
                rows.push(Row { cooks: cooks.clone(), beside, resource });
            }
        }
        let capacities = rows.iter().map(|row| there(&row.cooks)).collect();
        let classes = match &counted {
            Some(capacity) => vec![Class { cooks: Vec::new(), capacity: capacity.clone() }],
            None => classes(problem, &sets, &passing),
        };
        Some(Muster { names, everyone, rows, capacities, crew: Crew { classes } })
    }

    /// All pieces of work of a mode.
    pub(super) fn works(&self, mode: &problem::Mode) -> Vec<Work> {
        let who = who(&self.names, &self.everyone, mode);
        let classes = self.crew.classes.iter().enumerate();
        let able = classes.filter(|(_, class)| class.cooks.iter().all(|cook| who.contains(cook)));
        let able: Vec<usize> = able.map(|(index, _)| index).collect();
        let work = |(piece, when, hands, passing)| {
            let rows = self.rows.iter().filter(|row| row.counts(&who, piece, passing));
            let rows = rows.map(|row| row.resource).collect();
            Work { piece, when, hands, passing, classes: able.clone(), rows }
        };
        pieces(mode).into_iter().map(work).collect()
    }

    pub(super) fn resources(&self) -> impl Iterator<Item = (usize, Resource)> {
        let rows = self.rows.iter().zip(&self.capacities);
        rows.map(|(row, capacity)| (row.resource, Resource { capacity: capacity.clone() }))
    }

    pub(super) fn into_crew(self) -> Crew {
        self.crew
    }
}

/// What pieces with a minute of their own need. Touches that float are left out: whoever counts only these allows too much,
/// and never too little.
pub(super) fn needs(works: &[Work]) -> Vec<Need> {
    let fixed = works.iter().filter_map(|work| match work.when {
        When::Fixed(during) => Some((during, work)),
        When::Floats { .. } => None,
    });
    let needs = fixed.flat_map(|(during, work)| {
        work.rows.iter().map(move |&resource| Need { resource, during, amount: work.hands })
    });
    needs.collect()
}

/// The minutes, hands, and whether in passing, of each piece of a mode.
fn pieces(mode: &problem::Mode) -> Vec<(Piece, When, i64, bool)> {
    let fixed = |piece, during, hands| (piece, When::Fixed(during), hands, false);
    let mut pieces = Vec::new();
    if mode.hands > 0 {
        pieces.push(fixed(Piece::Whole, During::Whole, mode.hands));
    }
    if mode.load > 0 {
        pieces.push(fixed(Piece::Load, During::FromStart { offset: 0, minutes: time(mode.load) }, 1));
    }
    if mode.unload > 0 {
        pieces.push(fixed(Piece::Unload, During::BeforeEnd { minutes: time(mode.unload) }, 1));
    }
    for (index, touch) in mode.touches.iter().enumerate().filter(|(_, touch)| touch.minutes > 0) {
        let (at, minutes) = (time(touch.at), time(touch.minutes));
        let when = if touch.floats() {
            When::Floats { first: (at - time(touch.early)).max(0), last: at + time(touch.late), minutes }
        } else {
            When::Fixed(During::FromStart { offset: at, minutes })
        };
        pieces.push((Piece::Touch(index), when, 1, touch.passing));
    }
    pieces
}

fn who(names: &BTreeMap<&str, usize>, everyone: &BTreeSet<usize>, mode: &problem::Mode) -> BTreeSet<usize> {
    mode.who.as_ref().map_or_else(|| everyone.clone(), |who| who.iter().map(|id| names[id.as_str()]).collect())
}

/// Everyone first, then the sets themselves, then unions of them as far as there is room.
fn unions(sets: &BTreeSet<BTreeSet<usize>>, everyone: &BTreeSet<usize>) -> Vec<BTreeSet<usize>> {
    let mut unions = vec![everyone.clone()];
    unions.extend(sets.iter().filter(|set| *set != everyone).take(ENOUGH).cloned());
    let mut index = 1;
    while index < unions.len() {
        for other in 1..index {
            let union: BTreeSet<usize> = unions[index].union(&unions[other]).copied().collect();
            if unions.len() < ENOUGH && !unions.contains(&union) {
                unions.push(union);
            }
        }
        index += 1;
    }
    unions
}

/// How many of some cooks are there, minute by minute.
fn there(problem: &Problem, cooks: &BTreeSet<usize>) -> Profile {
    let hours = cooks.iter().flat_map(|&cook| spells(&problem.cooks[cook]));
    Profile::of_overlapping(&hours.collect::<Vec<_>>())
}

/// When a cook is there; shifts that touch are one.
fn spells(cook: &problem::Cook) -> Vec<(Time, Time)> {
    let hours = cook.shifts.iter().map(|hours| (time(hours.start), time(hours.end), 1));
    let profile = Profile::of_shifts(hours.collect());
    let ends = profile.pieces().windows(2).filter(|pair| pair[0].1 > 0);
    ends.map(|pair| (pair[0].0, pair[1].0)).collect()
}

/// The hours of a cook, to which sets of cooks one belongs, and who it is if that has to be told.
type Kind = (Vec<(Time, Time)>, Vec<bool>, Option<usize>);

/// Cooks with the same hours who may do the same; each alone if somebody like that has something to do in passing.
fn classes(problem: &Problem, sets: &BTreeSet<BTreeSet<usize>>, passing: &BTreeSet<BTreeSet<usize>>) -> Vec<Class> {
    let mut alike: BTreeMap<Kind, Vec<usize>> = BTreeMap::new();
    for (index, cook) in problem.cooks.iter().enumerate() {
        let may = sets.iter().map(|set| set.contains(&index)).collect();
        let alone = passing.iter().any(|set| set.contains(&index)).then_some(index);
        alike.entry((spells(cook), may, alone)).or_default().push(index);
    }
    let mut classes: Vec<Class> = alike
        .into_values()
        .map(|cooks| Class { capacity: there(problem, &cooks.iter().copied().collect()), cooks })
        .collect();
    classes.sort_by(|a, b| a.cooks.cmp(&b.cooks));
    classes
}
