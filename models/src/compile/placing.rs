//! Whether a place can do a way of a step, and why not.

use super::found::Found;
use super::stock::Site;
use super::ways::Mould;
use crate::blocks::{Defaults, Setting};
use crate::faults::Code;
use crate::kitchen::PanSize;
use crate::menu::Level;
use crate::problem::{Cavity, Heat, Mode, Place, legal};

/// The diameter of a pan on the hob if none is said, mm.
const USUAL_PAN: i64 = 240;

impl Mould<'_> {
    /// The modes of a legal place, one for each kind of heat that will do; `Err` says why there is none.
    pub(super) fn in_cavity(&self, base: &Mode, cavity: &Cavity, defaults: &Defaults) -> Result<Vec<Mode>, Refusal> {
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
                "it does not get as {why} as that ({} to {})",
                self.units.temperature(cavity.t_min),
                self.units.temperature(cavity.t_max)
            )));
        }
        let wanted = if way.heats.is_empty() { defaults.heats } else { &way.heats };
        let mut heats: Vec<Heat> = cavity.heats.iter().copied().filter(|heat| wanted.contains(heat)).collect();
        if way.heats.is_empty() {
            // Nobody minds which: the oven's usual heat.
            heats.truncate(1);
        }
        if heats.is_empty() && way.heats.is_empty() && self.sites.is_some() {
            // The place is named and has its own kind of heat: a spit.
            heats.extend(cavity.heats.first());
        }
        if heats.is_empty() {
            return Err(Refusal::Other("it has not the right kind of heat".to_owned()));
        }
        let [width, depth, height] = pan;
        let on_rack = |w, d| w <= cavity.width && d <= cavity.depth;
        if !(on_rack(width, depth) || on_rack(depth, width)) {
            return Err(Refusal::Pan(format!(
                "its racks are {} by {}",
                self.length(cavity.width),
                self.length(cavity.depth)
            )));
        }
        let room = cavity.height.saturating_sub(cavity.clearance);
        if height > room {
            return Err(Refusal::Pan(format!("a pan in it may be {} high", self.length(room))));
        }
        // Half full of something as heavy as water, and a kilogram of pan: heavy rather than light.
        let weight = way.weight.unwrap_or_else(|| {
            (width.saturating_mul(depth).saturating_mul(height) / 2_000 + 1_000).min(*legal::WEIGHT.end())
        });
        if weight > cavity.max_weight {
            return Err(Refusal::Other(format!(
                "its racks bear {}, this weighs {}",
                self.units.weight(cavity.max_weight),
                self.units.weight(weight)
            )));
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

    fn length(&self, mm: i64) -> String {
        self.units.length(mm)
    }

    pub(super) fn level(&self, defaults: &Defaults) -> Level {
        self.way.level.unwrap_or(defaults.level)
    }

    pub(super) fn on_hob(&self, base: &Mode, site: &Site, defaults: &Defaults) -> Result<Vec<Mode>, Refusal> {
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
                "it takes pans of {} to {}, this one is {} across",
                self.length(least),
                self.length(most),
                self.length(diameter)
            )));
        }
        Ok(vec![Mode {
            place: Some(site.place.id().to_owned()),
            level: Some(level),
            diameter: Some(diameter),
            ..base.clone()
        }])
    }

    pub(super) fn refused(&self, refusals: &[(String, Refusal)], found: &mut Found<'_>) {
        let origin = self.way.origin;
        if refusals.is_empty() {
            let what = if self.setting == Setting::Cavity { "oven" } else { "hob" };
            let article = if self.setting == Setting::Cavity { "an" } else { "a" };
            let cause = match self.sites {
                Some(_) => format!("the place that is named is no {what}"),
                None => format!("the kitchen has no {what}"),
            };
            found.add(
                Code::NoAppliance,
                origin,
                cause,
                format!("add {article} {what} to the kitchen, or say another place"),
            );
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
            let size = self.pan.unwrap_or(PanSize::Round(USUAL_PAN, None)).said(self.units);
            let cause = format!("no place holds the pan ({size}): {list}");
            found.field(Code::PanTooLarge, origin, "pan", cause, "use a smaller pan, or two");
        } else {
            let remedy = "change the temperature, the heat or the pan, or add an appliance that can do it";
            found.add(Code::NoAppliance, origin, format!("no appliance can do this: {list}"), remedy);
        }
    }
}

/// Why a place cannot do it.
pub(super) enum Refusal {
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
    fn on(self, [low, high]: [i64; 2]) -> [i64; 2] {
        let part = |of: i64, parts: i64| low.saturating_add(high.saturating_sub(low).saturating_mul(of) / parts);
        match self {
            Level::Low => [low, part(1, 3)],
            Level::Gentle => [low, part(1, 2)],
            Level::Medium => [part(1, 3), part(2, 3)],
            Level::High => [part(2, 3), high],
            Level::Marks(marks) => marks,
        }
    }

    pub(super) fn word(self) -> Option<&'static str> {
        match self {
            Level::Low => Some("low"),
            Level::Gentle => Some("gentle"),
            Level::Medium => Some("medium"),
            Level::High => Some("high"),
            Level::Marks(_) => None,
        }
    }
}
