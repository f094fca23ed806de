//! From the ways of a step to its modes: every place that can do it.

use std::collections::BTreeMap;

use super::found::Found;
use super::labels::ModeLabel;
use super::stock::{COUNTER, Site, Stock};
use crate::blocks::{Defaults, Setting, wait};
use crate::faults::Code;
use crate::kitchen::PanSize;
use crate::menu::{Interval, Level, PanChoice, Step, Way, slug};
use crate::problem::{Cavity, Heat, Mode, Place, legal};
use crate::read::SHELF;

/// The diameter of a pan on the hob if none is said, mm.
const USUAL_PAN: i64 = 240;
/// More touches than this in one step are taken for a slip of the pen.
const MOST_TOUCHES: usize = 200;

/// One way with everything said, as far as the step and its kind say it.
pub(super) struct Mould<'a> {
    way: Way,
    takes: Interval,
    pub(super) setting: Setting,
    sites: Option<Vec<usize>>,
    pan: Option<PanSize>,
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
    Some(Mould { way, takes, setting, sites: named, pan, pan_name, tin, pools })
}

/// What the neighbours of a step take off its hands.
#[derive(Clone, Copy, Default)]
pub(super) struct Stays {
    /// Its pan is in the oven already.
    pub(super) before: bool,
    /// Its pan stays in the oven.
    pub(super) after: bool,
}

impl Mould<'_> {
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
            pan: self.pan_name.map(str::to_owned).or_else(|| self.pan.map(|size| size.to_string())),
            level: None,
            touches,
        };
        if self.setting == Setting::Counter {
            return vec![(base, label)];
        }
        let mut modes = Vec::new();
        let mut refusals: Vec<(String, Refusal)> = Vec::new();
        for (index, site) in stock.sites.iter().enumerate() {
            if self.sites.as_ref().is_some_and(|named| !named.contains(&index)) {
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
            let end = min.saturating_sub(if touch.every.is_some() { unload } else { 0 });
            let mut at = touch.at;
            if at.saturating_add(touch.takes) > min {
                let cause = format!("{:?} at {at} min lies outside the step's {min} min", touch.what);
                found.field(Code::TooShort, way.origin, "touches", cause, "do it earlier, or let the step take longer");
                return None;
            }
            while at.saturating_add(touch.takes) <= end && touches.len() <= MOST_TOUCHES {
                touches.push(([at, touch.takes], &touch.what));
                let Some(every) = touch.every.filter(|&every| every > 0) else { break };
                at = at.saturating_add(every);
            }
        }
        if touches.len() > MOST_TOUCHES {
            let cause = format!("something is done more than {MOST_TOUCHES} times in the step");
            found.field(Code::Absurd, way.origin, "touches", cause, "do it less often, or ask for hands throughout");
            return None;
        }
        touches.sort();
        let spread =
            (way.early.is_some() || way.late.is_some()).then(|| [way.early.unwrap_or(0), way.late.unwrap_or(0)]);
        let mode = Mode {
            place: None,
            min,
            max,
            hands,
            load,
            unload,
            pools: self.pools.clone(),
            cost: way.cost.unwrap_or(0),
            wait: way.stretch.map(|keeps| wait(keeps, false)),
            touches: touches.iter().map(|(touch, _)| *touch).collect(),
            spread,
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
        };
        Some((mode, touches.into_iter().map(|(_, what)| what.to_owned()).collect()))
    }

    /// The modes of a legal place, one for each kind of heat that will do; `Err` says why there is none.
    fn in_cavity(&self, base: &Mode, cavity: &Cavity, defaults: &Defaults) -> Result<Vec<Mode>, Refusal> {
        let way = &self.way;
        let pan = match self.pan {
            Some(PanSize::Box(sides)) => sides,
            Some(PanSize::Round(across, Some(high))) => [across, across, high],
            Some(PanSize::Round(_, None)) | None => return Err(Refusal::NeedsPan),
        };
        let window = way.temperature.or(defaults.temperature).unwrap_or_default();
        if window[1] < cavity.t_min || window[0] > cavity.t_max {
            let why = if window[0] > cavity.t_max { "hot" } else { "cool" };
            return Err(Refusal::Other(format!(
                "it does not get as {why} as that ({} to {} C)",
                cavity.t_min, cavity.t_max
            )));
        }
        let wanted = if way.heats.is_empty() { defaults.heats } else { &way.heats };
        let mut heats: Vec<Heat> = cavity.heats.iter().copied().filter(|heat| wanted.contains(heat)).collect();
        if way.heats.is_empty() {
            // Nobody minds which: the oven's usual heat.
            heats.truncate(1);
        }
        if heats.is_empty() {
            return Err(Refusal::Other("it has not the right kind of heat".to_owned()));
        }
        let [width, depth, height] = pan;
        let on_rack = |w, d| w <= cavity.width && d <= cavity.depth;
        if !(on_rack(width, depth) || on_rack(depth, width)) {
            return Err(Refusal::Pan(format!("its racks are {} x {} mm", cavity.width, cavity.depth)));
        }
        let room = cavity.height.saturating_sub(cavity.clearance);
        if height > room {
            return Err(Refusal::Pan(format!("a pan in it may be {room} mm high")));
        }
        // Half full of something as heavy as water, and a kilogram of pan: heavy rather than light.
        let weight = way.weight.unwrap_or_else(|| {
            (width.saturating_mul(depth).saturating_mul(height) / 2_000 + 1_000).min(*legal::WEIGHT.end())
        });
        if weight > cavity.max_weight {
            return Err(Refusal::Other(format!("its racks bear {} g, this weighs {weight} g", cavity.max_weight)));
        }
        let mode = |heat| Mode {
            place: Some(cavity.id.clone()),
            t: Some(window),
            heat: Some(heat),
            pan: Some(pan),
            weight: Some(weight),
            shut: way.shut.unwrap_or(0),
            wet: way.wet.unwrap_or(false),
            dry: way.dry.unwrap_or(false),
            rack: way.rack,
            ..base.clone()
        };
        Ok(heats.into_iter().map(mode).collect())
    }

    fn level(&self, defaults: &Defaults) -> Level {
        self.way.level.unwrap_or(defaults.level)
    }

    fn on_hob(&self, base: &Mode, site: &Site, defaults: &Defaults) -> Result<Vec<Mode>, Refusal> {
        let diameter = match self.pan {
            Some(PanSize::Box([width, depth, _])) => width.max(depth),
            Some(PanSize::Round(across, _)) => across,
            None => USUAL_PAN,
        };
        let (scale, [least, most]) = match &site.place {
            Place::Hob(hob) => (hob.scale, [hob.min_diameter, hob.max_diameter]),
            Place::Top(top) => (top.scale, [1, top.width.min(top.depth)]),
            Place::Cavity(_) => return Err(Refusal::Other("it is an oven".to_owned())),
        };
        let level = self.level(defaults).on(site.dial);
        if level[1] < scale[0] || level[0] > scale[1] {
            return Err(Refusal::Other(format!("its heat goes from {} to {}", scale[0], scale[1])));
        }
        if !(least..=most).contains(&diameter) {
            return Err(Refusal::Pan(format!(
                "it takes pans of {least} to {most} mm, this one is {diameter} mm across"
            )));
        }
        Ok(vec![Mode {
            place: Some(site.place.id().to_owned()),
            level: Some(level),
            diameter: Some(diameter),
            ..base.clone()
        }])
    }

    fn refused(&self, refusals: &[(String, Refusal)], found: &mut Found<'_>) {
        let origin = self.way.origin;
        if refusals.is_empty() {
            let what = if self.setting == Setting::Cavity { "oven" } else { "hob" };
            let cause = match self.sites {
                Some(_) => format!("the place that is named is no {what}"),
                None => format!("the kitchen has no {what}"),
            };
            found.add(Code::NoAppliance, origin, cause, format!("add an {what} to the kitchen, or say another place"));
            return;
        }
        if refusals.iter().any(|(_, refusal)| matches!(refusal, Refusal::NeedsPan)) {
            let remedy = "add pan: \"40 x 30 x 12 cm\", round \"28 x 14 cm\", or the name of one of the kitchen's pans";
            found.field(Code::NeedsPan, origin, "pan", "in an oven the pan's width, depth and height count", remedy);
            return;
        }
        let list: Vec<String> = refusals.iter().map(|(name, why)| format!("{name}: {why}")).collect();
        let list = list.join("; ");
        if refusals.iter().all(|(_, refusal)| matches!(refusal, Refusal::Pan(_))) {
            let size = self.pan.map_or_else(|| format!("{USUAL_PAN} mm across"), |size| size.to_string());
            let cause = format!("no place holds the pan ({size}): {list}");
            found.field(Code::PanTooLarge, origin, "pan", cause, "use a smaller pan, or two");
        } else {
            let remedy = "change the temperature, the heat or the pan, or add an appliance that can do it";
            found.add(Code::NoAppliance, origin, format!("no appliance can do this: {list}"), remedy);
        }
    }
}

/// Why a place cannot do it.
enum Refusal {
    NeedsPan,
    Pan(String),
    Other(String),
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Refusal::NeedsPan => f.write_str("the pan is not said"),
            Refusal::Pan(why) | Refusal::Other(why) => f.write_str(why),
        }
    }
}

impl Level {
    /// The marks on a dial.
    pub(super) fn on(self, [low, high]: [i64; 2]) -> [i64; 2] {
        let part = |of: i64, parts: i64| low.saturating_add(high.saturating_sub(low).saturating_mul(of) / parts);
        match self {
            Level::Low => [low, part(1, 3)],
            Level::Gentle => [low, part(1, 2)],
            Level::Medium => [part(1, 3), part(2, 3)],
            Level::High => [part(2, 3), high],
            Level::Marks(marks) => marks,
        }
    }

    fn word(self) -> Option<&'static str> {
        match self {
            Level::Low => Some("low"),
            Level::Gentle => Some("gentle"),
            Level::Medium => Some("medium"),
            Level::High => Some("high"),
            Level::Marks(_) => None,
        }
    }
}
