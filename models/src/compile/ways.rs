//! From the ways of a step to its modes: every place that can do it.

use std::collections::BTreeMap;

use super::found::Found;
use super::placing::Refusal;
use super::stock::{COUNTER, Stock};
use crate::blocks::{Defaults, Setting, wait};
use crate::faults::Code;
use crate::kitchen::PanSize;
use crate::kitchen::SHELF;
use crate::labels::{ModeLabel, Range};
use crate::menu::{Interval, Named, PanChoice, Step, Touch, Way, slug};
use crate::problem::{self, Mode, Place, legal};
use crate::units::Units;

/// More touches than this in one step are taken for a slip of the pen.
const MOST_TOUCHES: usize = 200;

/// One way with everything said, as far as the step and its kind say it.
pub(super) struct Mould<'a> {
    pub(super) way: Way,
    /// Those of the menu, for sizes in words.
    pub(super) units: Units,
    takes: Interval,
    pub(super) setting: Setting,
    /// The sites that are named; absent: all of the kitchen.
    pub(super) sites: Option<Vec<usize>>,
    pub(super) pan: Option<PanSize>,
    pub(super) pan_name: Option<&'a str>,
    /// The pool of the pan, if there are only so many of it.
    pub(super) tin: Option<String>,
    pools: BTreeMap<String, i64>,
}

/// Reads the ways of a step; a way that lacks something is noted and left out.
pub(super) fn moulds<'a>(step: &Step, defaults: &Defaults, stock: &Stock<'a>, found: &mut Found<'_>) -> Vec<Mould<'a>> {
    let ways = if step.ways.is_empty() {
        // Its stretch is the step's.
        vec![Way { stretch: None, ..step.way.clone() }]
    } else {
        step.ways.iter().map(|way| way.clone().over(&step.way)).collect()
    };
    ways.into_iter().filter_map(|way| mould(way, defaults, stock, found)).collect()
}

fn mould<'a>(way: Way, defaults: &Defaults, stock: &Stock<'a>, found: &mut Found<'_>) -> Option<Mould<'a>> {
    let counter = way.places.iter().any(|named| slug(&named.name) == COUNTER);
    let named = (!way.places.is_empty() && !counter)
        .then(|| way.places.iter().flat_map(|named| stock.named(named, found)).collect::<Vec<_>>());
    if named.as_ref().is_some_and(Vec::is_empty) {
        return None;
    }
    let named_setting = named.as_ref().and_then(|sites| match stock.sites[*sites.first()?].place {
        Place::Cavity(_) => Some(Setting::Cavity),
        _ => Some(Setting::Hob),
    });
    let setting = match (&way.temperature, &way.level) {
        _ if counter => Setting::Counter,
        (Some(_), _) => Setting::Cavity,
        (None, Some(_)) => Setting::Hob,
        (None, None) => named_setting.unwrap_or(defaults.setting),
    };
    if setting == Setting::Cavity && way.temperature.or(defaults.temperature).is_none() {
        let remedy = "add at: \"180 C\", or ways: [Way(\"150 C\", \"95 min\"), Way(\"175 C\", \"70 min\")]";
        found.add(Code::MissingField, way.origin, "the temperature is missing", remedy);
        return None;
    }
    let Some(takes) = way.takes.or(defaults.takes) else {
        found.add(Code::MissingField, way.origin, "how long it takes is missing", "add takes: \"25 min\"");
        return None;
    };
    let mut pools = stock.amounts(&way.uses, way.origin, "uses", found);
    let shelf = slug(SHELF);
    if defaults.shelf && stock.pools.contains_key(&shelf) && !way.uses.keys().any(|name| slug(name) == shelf) {
        pools.insert(shelf, 1);
    }
    let (pan, named_pan) = match &way.pan {
        None => (None, None),
        Some(PanChoice::Size(size)) => (Some(*size), None),
        Some(PanChoice::Named(name)) => {
            let pan = stock.pan(name, found)?;
            (Some(pan.size), Some(pan))
        }
    };
    let tin = named_pan.filter(|pan| pan.count.is_some()).map(|pan| slug(&pan.name));
    if let Some(tin) = &tin {
        pools.entry(tin.clone()).or_insert(1);
    }
    let pan_name = named_pan.map(|pan| pan.name.as_str());
    Some(Mould { way, units: stock.units, takes, setting, sites: named, pan, pan_name, tin, pools })
}

/// What the neighbours of a step take off its hands.
#[derive(Clone, Copy, Default)]
pub(super) struct Stays {
    /// Its pan is in the oven already.
    pub(super) before: bool,
    /// Its pan stays in the oven.
    pub(super) after: bool,
}

/// A touch that a cook of its own does, once.
pub(super) struct Apart {
    pub(super) does: String,
    /// Minutes after the start of the step.
    pub(super) at: i64,
    pub(super) takes: i64,
    pub(super) cooks: Vec<Named>,
}

impl Apart {
    /// What it is, whoever does it.
    pub(super) fn what(&self) -> (i64, i64, &str) {
        (self.at, self.takes, &self.does)
    }
}

/// The minutes after the start of a step of `min` minutes at which a touch is begun.
fn begun(touch: &Touch, min: i64, unload: i64) -> Vec<i64> {
    let end = min.saturating_sub(if touch.every.is_some() { unload } else { 0 });
    let mut at = touch.at;
    let mut begun = Vec::new();
    while at.saturating_add(touch.takes) <= end && begun.len() <= MOST_TOUCHES {
        begun.push(at);
        let Some(every) = touch.every.filter(|&every| every > 0) else { break };
        at = at.saturating_add(every);
    }
    begun
}

impl Mould<'_> {
    /// The touches that have cooks of their own, in order of time.
    pub(super) fn apart(&self) -> Vec<Apart> {
        let way = &self.way;
        let own = way.touches.iter().filter(|touch| !touch.cooks.is_empty());
        let all = own.flat_map(|touch| {
            let at = begun(touch, self.takes.min, way.unload.unwrap_or(0));
            at.into_iter().map(|at| Apart {
                does: touch.what.clone(),
                at,
                takes: touch.takes,
                cooks: touch.cooks.clone(),
            })
        });
        let mut all: Vec<Apart> = all.collect();
        all.sort_by(|one, other| one.what().cmp(&other.what()));
        all
    }

    /// The modes of this way, in the order of the kitchen's places; none, if no place can do it, which is noted.
    pub(super) fn modes(
        &self,
        defaults: &Defaults,
        stays: Stays,
        stock: &Stock<'_>,
        found: &mut Found<'_>,
    ) -> Vec<(Mode, ModeLabel)> {
        let Some((base, touches)) = self.base(defaults, stays, found) else { return Vec::new() };
        let label = ModeLabel {
            pan: self.pan_name.map(str::to_owned).or_else(|| self.pan.map(|size| size.said(self.units))),
            level: None,
            asked: self.way.asked,
            touches,
            // Work that is begun takes a minute at least.
            range: base.spread.map(|[early, late]| Range {
                shortest: base.min.saturating_sub(early).max(1),
                longest: base.min.saturating_add(late),
            }),
            notes: self.way.notes.clone(),
            hands_on: self.way.hands_on.clone(),
            cautions: self.way.cautions.clone(),
        };
        if self.setting == Setting::Counter {
            return vec![(base, label)];
        }
        let mut modes = Vec::new();
        let mut refusals: Vec<(String, Refusal)> = Vec::new();
        for (index, site) in stock.sites.iter().enumerate() {
            let others = || self.way.others.iter().any(|own| site.is_called(own));
            if self.sites.as_ref().is_some_and(|named| !named.contains(&index)) || others() {
                continue;
            }
            let placed = match (&site.place, self.setting) {
                (Place::Cavity(cavity), Setting::Cavity) => self.in_cavity(&base, cavity, defaults),
                (Place::Hob(_) | Place::Top(_), Setting::Hob) => self.on_hob(&base, site, defaults),
                _ => continue,
            };
            match placed {
                Ok(placed) => modes.extend(placed.into_iter().map(|mut mode| {
                    for (pool, watts) in &site.draws {
                        let taken = mode.pools.entry(pool.clone()).or_insert(0);
                        *taken = taken.saturating_add(*watts);
                    }
                    let level = (self.setting == Setting::Hob).then(|| self.level(defaults).word()).flatten();
                    (mode, ModeLabel { level: level.map(str::to_owned), ..label.clone() })
                })),
                Err(refusal) => refusals.push((site.label.name.clone(), refusal)),
            }
        }
        if modes.is_empty() {
            self.refused(&refusals, found);
        }
        modes
    }

    /// The part of a mode that is the same in every place, and what its touches are.
    fn base(&self, defaults: &Defaults, stays: Stays, found: &mut Found<'_>) -> Option<(Mode, Vec<String>)> {
        let way = &self.way;
        let [min, max] = [self.takes.min, self.takes.max.unwrap_or(*legal::MINUTES.end())];
        let said = way.load.is_some() || way.unload.is_some();
        if way.hands.is_some_and(|hands| hands > 0) && (way.load.unwrap_or(0) > 0 || way.unload.unwrap_or(0) > 0) {
            let cause = "hands are said for the whole step and for putting in or taking out as well";
            found.field(Code::Contradiction, way.origin, "hands", cause, "keep either hands, or load and unload");
            return None;
        }
        let hands = way.hands.unwrap_or(if said { 0 } else { defaults.hands });
        // What only the defaults say gives way in a short step.
        let usual =
            |minutes: i64, spared: bool, room: i64| if hands > 0 || spared { 0 } else { minutes.min(room.max(0)) };
        let load = way
            .load
            .unwrap_or_else(|| usual(defaults.load[0], stays.before, min.saturating_sub(way.unload.unwrap_or(0)) / 2));
        let unload = way.unload.unwrap_or_else(|| usual(defaults.load[1], stays.after, min.saturating_sub(load)));
        let shut = way.shut.unwrap_or(0);
        for (field, needed, what) in [
            ("load", load.saturating_add(unload), "putting in and taking out"),
            ("shut", shut, "the time with the door shut"),
        ] {
            if needed > min {
                let cause = format!("{what} takes {needed} min, the step only {min}");
                found.field(
                    Code::TooShort,
                    way.origin,
                    field,
                    cause,
                    format!("shorten it, or let the step take {needed} min"),
                );
                return None;
            }
        }
        let mut touches: Vec<([i64; 2], &str)> = Vec::new();
        for touch in &way.touches {
            if touch.at.saturating_add(touch.takes) > min {
                let at = touch.at;
                let cause = format!("{:?} at {at} min lies outside the step's {min} min", touch.what);
                found.field(Code::TooShort, way.origin, "touches", cause, "do it earlier, or let the step take longer");
                return None;
            }
            // Those of another cook are work of their own.
            if touch.cooks.is_empty() {
                touches.extend(begun(touch, min, unload).into_iter().map(|at| ([at, touch.takes], &*touch.what)));
            }
        }
        if touches.len() + self.apart().len() > MOST_TOUCHES {
            let cause = format!("something is done more than {MOST_TOUCHES} times in the step");
            found.field(Code::Absurd, way.origin, "touches", cause, "do it less often, or ask for hands throughout");
            return None;
        }
        touches.sort();
        let spread = self.spread(min, found)?;
        let mode = Mode {
            hands,
            load,
            unload,
            pools: self.pools.clone(),
            cost: way.cost.unwrap_or(0),
            wait: way.stretch.map(|keeps| wait(keeps, false)),
            touches: touches.iter().map(|&([at, minutes], _)| problem::Touch::fixed(at, minutes)).collect(),
            spread,
            ..Mode::at_counter(min, max)
        };
        Some((mode, touches.into_iter().map(|(_, what)| what.to_owned()).collect()))
    }

    /// How many minutes early and late a way of `min` minutes may turn out; `None` outside if that contradicts itself.
    fn spread(&self, min: i64, found: &mut Found<'_>) -> Option<Option<[i64; 2]>> {
        let way = &self.way;
        let Some([shortest, longest]) = way.between else {
            let said = way.early.is_some() || way.late.is_some();
            return Some(said.then(|| [way.early.unwrap_or(0), way.late.unwrap_or(0)]));
        };
        if (shortest..=longest).contains(&min) {
            return Some(Some([min - shortest, longest - min]));
        }
        let cause = format!("it is planned with {min} min, which are not between {shortest} and {longest} min");
        let remedy = "let takes lie between the two; among ways, give each its own";
        found.field(Code::Contradiction, way.origin, "between", cause, remedy);
        None
    }
}
