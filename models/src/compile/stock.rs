//! Where and with what: places, pools and pans of a kitchen.

use std::collections::BTreeMap;

use super::found::Found;
use crate::faults::{Code, Origin, suggestion};
use crate::kitchen::{Appliance, ApplianceKind, Kitchen, Pan};
use crate::labels::PlaceLabel;
use crate::menu::{Named, slug};
use crate::problem::{Hob, Place, Top};
use crate::units::Units;

/// The name that stands for no appliance at all.
pub(super) const COUNTER: &str = "counter";

/// One place of the problem.
pub(super) struct Site {
    pub(super) place: Place,
    pub(super) label: PlaceLabel,
    /// The slugs by which a menu may name it.
    names: Vec<String>,
    /// The dial by which `low` and `high` are measured.
    pub(super) dial: [i64; 2],
    pub(super) draws: BTreeMap<String, i64>,
}

impl Site {
    /// Whether it is the place of this name, or a part of it.
    pub(super) fn is_called(&self, name: &str) -> bool {
        self.names.contains(&slug(name))
    }
}

/// The kitchen as the problem sees it.
pub(super) struct Stock<'a> {
    pub(super) sites: Vec<Site>,
    pub(super) pools: BTreeMap<String, i64>,
    pub(super) pool_names: BTreeMap<String, String>,
    pans: BTreeMap<String, &'a Pan>,
    /// Those of the menu.
    pub(super) units: Units,
}

impl<'a> Stock<'a> {
    pub(super) fn new(kitchen: &'a Kitchen, units: Units, found: &mut Found<'_>) -> Stock<'a> {
        let mut stock = Stock {
            sites: Vec::new(),
            pools: BTreeMap::new(),
            pool_names: BTreeMap::new(),
            pans: BTreeMap::new(),
            units,
        };
        for (name, &amount) in &kitchen.pools {
            stock.add_pool(name, amount, kitchen.origin, found);
        }
        for pan in &kitchen.pans {
            if stock.pans.insert(slug(&pan.name), pan).is_some() {
                duplicate(&pan.name, "pan", pan.origin, found);
            }
            if let Some(count) = pan.count {
                stock.add_pool(&pan.name, count, pan.origin, found);
            }
        }
        for appliance in &kitchen.places {
            let draws = stock.amounts(&appliance.draws, appliance.origin, "draws", found);
            for site in sites(appliance, draws) {
                let id = site.place.id();
                if id == COUNTER || stock.sites.iter().any(|known| known.place.id() == id) {
                    duplicate(&site.label.name, "place", appliance.origin, found);
                } else {
                    stock.sites.push(site);
                }
            }
        }
        if kitchen.places.is_empty() {
            let remedy =
                "add places: [Oven(name: \"oven\", inside: \"46 x 40 x 36 cm\"), Burners(name: \"hob\", count: 4)]";
            found.field(Code::NothingIn, kitchen.origin, "places", "the kitchen has no places to cook", remedy);
        }
        stock
    }

    fn add_pool(&mut self, name: &str, amount: i64, origin: Origin, found: &mut Found<'_>) {
        let id = slug(name);
        if id.is_empty() {
            found.field(
                Code::MissingField,
                origin,
                "pools",
                format!("{name:?} is no name"),
                "name it, for example \"mixer\"",
            );
        } else if self.pools.insert(id.clone(), amount).is_some() {
            duplicate(name, "thing of which there are only so many", origin, found);
        }
        self.pool_names.insert(id, name.to_owned());
    }

    /// Amounts of pools by their ids.
    pub(super) fn amounts(
        &self,
        amounts: &BTreeMap<String, i64>,
        part: Origin,
        field: &'static str,
        found: &mut Found<'_>,
    ) -> BTreeMap<String, i64> {
        let mut by_id = BTreeMap::new();
        for (name, &amount) in amounts {
            let id = slug(name);
            if !self.pools.contains_key(&id) {
                let cause = format!("the kitchen has no {name:?}");
                let known = suggestion(name, self.pool_names.values().map(String::as_str));
                found.field(
                    Code::UnknownName,
                    part,
                    field,
                    cause,
                    format!("add it to the kitchen's pools; or {known}"),
                );
            } else if amount > 0 {
                by_id.insert(id, amount);
            }
        }
        by_id
    }

    pub(super) fn pan(&self, named: &Named, found: &mut Found<'_>) -> Option<&'a Pan> {
        let pan = self.pans.get(&slug(&named.name)).copied();
        if pan.is_none() {
            let cause = format!("the kitchen has no pan {:?}", named.name);
            let known = suggestion(&named.name, self.pans.values().map(|pan| pan.name.as_str()));
            found.add(Code::UnknownName, named.origin, cause, format!("add it to the kitchen's pans; or {known}"));
        }
        pan
    }

    /// The sites that a menu's name stands for: one, or all parts of a top.
    pub(super) fn named(&self, named: &Named, found: &mut Found<'_>) -> Vec<usize> {
        let wanted = slug(&named.name);
        let sites: Vec<usize> =
            (0..self.sites.len()).filter(|&site| self.sites[site].names.contains(&wanted)).collect();
        if sites.is_empty() {
            let names = self.sites.iter().map(|site| site.label.name.as_str());
            let known = suggestion(&named.name, names.chain([COUNTER]));
            found.add(Code::UnknownName, named.origin, format!("the kitchen has no place {:?}", named.name), known);
        }
        sites
    }
}

pub(super) fn duplicate(name: &str, what: &str, origin: Origin, found: &mut Found<'_>) {
    let cause = format!("there is already a {what} {name:?}");
    found.add(Code::DuplicateName, origin, cause, "give one of the two another name");
}

fn sites(appliance: &Appliance, draws: BTreeMap<String, i64>) -> Vec<Site> {
    let id = slug(&appliance.name);
    let name = appliance.name.clone();
    let site = |place, sort, dial| Site {
        place,
        label: PlaceLabel { name: name.clone(), sort },
        names: vec![id.clone()],
        dial,
        draws: draws.clone(),
    };
    match &appliance.kind {
        ApplianceKind::Cavity(spec) => {
            let cavity = spec.cavity(&id);
            vec![site(Place::Cavity(cavity), Some(spec.sort), [0, 0])]
        }
        ApplianceKind::Burners(spec) => {
            let [min_diameter, max_diameter] = spec.pans;
            let hob = Hob { id: id.clone(), count: spec.count, scale: spec.dial, min_diameter, max_diameter };
            vec![site(Place::Hob(hob), None, spec.dial)]
        }
        ApplianceKind::Top(spec) => {
            let several = spec.parts.len() > 1;
            let part_site = |part: &crate::kitchen::TopPart| {
                let part_id = if several { format!("{id}-{}", slug(&part.name)) } else { id.clone() };
                let [width, depth] = part.size;
                let top = Top { id: part_id.clone(), width, depth, scale: part.levels };
                let mut site = site(Place::Top(top), None, spec.dial);
                if several {
                    site.names.extend([part_id, slug(&part.name)]);
                    site.label.name = format!("{name}, {}", part.name);
                }
                site
            };
            spec.parts.iter().map(part_site).collect()
        }
    }
}
