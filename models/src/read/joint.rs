//! A roast from a tree, and what other steps say for the cooking models.

use super::fields::Fields;
use super::kitchen::HEATS;
use super::node::{Node, Value};
use super::reading::Reading;
use super::sorts;
use crate::cook::chill::{Cooler, Texture};
use crate::cook::safety::Handling;
use crate::cook::{Cover, Cut, Meat};
use crate::faults::Code;
use crate::kitchen::Past;
use crate::menu::{Accepts, Cools, Hot, Joint, Margin, Piece, Start};
use crate::units::Temperature;

const MEATS: &[(&str, Meat)] = &[
    ("beef", Meat::Beef),
    ("veal", Meat::Veal),
    ("lamb", Meat::Lamb),
    ("pork", Meat::Pork),
    ("poultry", Meat::Poultry),
    ("fish", Meat::Fish),
    ("vegetable", Meat::Vegetable),
];
const CUTS: &[(&str, Cut)] = &[
    ("rib", Cut::Rib),
    ("round", Cut::Round),
    ("eye", Cut::Eye),
    ("fillet", Cut::Fillet),
    ("loin", Cut::Loin),
    ("leg", Cut::Leg),
    ("shoulder", Cut::Shoulder),
    ("bird", Cut::Bird),
    ("duck", Cut::Duck),
    ("cylinder", Cut::Cylinder),
    ("slab", Cut::Slab),
    ("ball", Cut::Ball),
    ("brick", Cut::Brick),
];
const HANDLINGS: &[(&str, Handling)] = &[
    ("whole", Handling::Whole),
    ("tenderised", Handling::Tenderised),
    ("minced", Handling::Minced),
    ("ground", Handling::Minced),
];
const COVERS: &[(&str, Cover)] =
    &[("open", Cover::Open), ("tented", Cover::Tented), ("covered", Cover::Tented), ("wrapped", Cover::Wrapped)];
const COOLERS: &[(&str, Cooler)] = &[
    ("kitchen", Cooler::Kitchen),
    ("refrigerator", Cooler::Refrigerator),
    ("walk-in", Cooler::WalkIn),
    ("freezer", Cooler::Freezer),
    ("chiller", Cooler::Chiller),
    ("ice bath", Cooler::IceBath),
    ("stirred ice bath", Cooler::StirredIceBath),
];

/// No oven holds more pans than these and one.
const MOST_BESIDE: i64 = 9;

/// The fields of a `Joint` that are its own; `None` if one that must be said is not, which is noted.
pub(super) fn joint(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Option<Joint> {
    let piece = piece(f, r);
    let until = f.get(r, "until").and_then(|node| r.degrees(node));
    let to = match (f.get(r, "to"), until) {
        (None, Some(until)) => Some(until),
        _ => f.need(r, "to", "\"65 C\"").and_then(|node| r.degrees(node)),
    };
    let accepts = f.need(r, "accepts", "\"140 to 180 C\"").and_then(|node| range(r, node));
    let best = f.get(r, "best").and_then(|node| r.degrees(node));
    let first = f.get(r, "first").map(|node| hot(r, node, true));
    let last = f.get(r, "last").map(|node| hot(r, node, false));
    f.not_both(r, "first", "last", "a roast is hot at first or at last");
    let rest = f.quantity(r, "rest", &sorts::TAKES);
    let cover = f.word(r, "cover", COVERS).unwrap_or_default();
    let margin = f.get(r, "margin").and_then(|node| margin(r, node)).unwrap_or_default();
    let allow = f.quantity(r, "allow", &sorts::SOME_MINUTES);
    f.not_both(r, "allow", "margin", "what is allowed is all the minutes there are");
    let beside = beside(f, r).unwrap_or(0);
    let hot = first.or(last);
    if matches!(hot, Some(None)) {
        return None;
    }
    let (piece, to, accepts, hot) = (piece?, to?, accepts?, hot.flatten());
    Some(Joint { piece, to, until, accepts, best, hot, rest, cover, allow, margin, beside })
}

fn piece(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Option<Piece> {
    let meat = f.need(r, "meat", "pork").and_then(|node| r.word(node, MEATS));
    let cut = f.need(r, "cut", "shoulder").and_then(|node| r.word(node, CUTS));
    let weight = f.quantity(r, "weight", &sorts::WEIGHT);
    let [thickness, breadth, length] =
        ["thickness", "breadth", "length"].map(|field| f.quantity(r, field, &sorts::SOME_LENGTH));
    let bone = f.truth(r, "bone").unwrap_or(false);
    let tied = f.truth(r, "tied").unwrap_or(false);
    let stuffed = f.truth(r, "stuffed").unwrap_or(false);
    let handling = f.word(r, "handling", HANDLINGS).unwrap_or_default();
    let start = f.get(r, "start").and_then(|node| start(r, node)).unwrap_or_default();
    let (meat, cut) = (meat?, cut?);
    Some(Piece { meat, cut, weight, thickness, breadth, length, bone, tied, stuffed, handling, start })
}

/// `fridge`, `frozen`, or degrees.
fn start(r: &mut Reading<'_>, node: &Node) -> Option<Start> {
    match &node.value {
        Value::Text(text) if text.contains(|c: char| c.is_ascii_digit()) => {
            r.degrees(node).map(|t| if t.celsius() < 0.0 { Start::Frozen } else { Start::At(t) })
        }
        _ => r.word(node, &[("fridge", Start::Fridge), ("frozen", Start::Frozen)]),
    }
}

fn hot(r: &mut Reading<'_>, node: &Node, first: bool) -> Option<Hot> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Hot", &["at", "takes"])?;
    let at = f.need(r, "at", "\"225 C\"").and_then(|node| r.degrees(node));
    let minutes = f.need(r, "takes", "\"15 min\"").and_then(|node| r.quantity(node, &sorts::SOME_MINUTES));
    let after = if first { None } else { f.quantity(r, "after", &sorts::TAKES) };
    f.close(r);
    Some(Hot { first, at: at?, minutes: minutes?, after })
}

/// Minutes, or `none`.
fn margin(r: &mut Reading<'_>, node: &Node) -> Option<Margin> {
    match &node.value {
        Value::Text(text) if text.contains(|c: char| c.is_ascii_digit()) => {
            r.quantity(node, &sorts::MINUTES).map(Margin::Minutes)
        }
        _ => r.word(node, &[("range", Margin::Range), ("none", Margin::Minutes(0))]),
    }
}

/// Two temperatures of an oven, or one.
fn range(r: &mut Reading<'_>, node: &Node) -> Option<[Temperature; 2]> {
    r.degree_range(node, &sorts::DEGREE_RANGE)
}

/// The temperatures that a bake accepts, if it says any.
pub(super) fn accepts(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Option<Accepts> {
    let window = f.get(r, "accepts").and_then(|node| range(r, node));
    let known = f.word(r, "known", HEATS);
    let done = f.get(r, "done").and_then(|node| r.degrees(node));
    let beside_it = beside(f, r);
    if let (None, Some(_), Some(node)) = (window, beside_it, f.get(r, "beside")) {
        let remedy = "add accepts: \"170 to 190 C\", or say in takes what a full oven needs";
        r.fault(Code::MissingField, &node.span, "beside counts only where minutes are worked out", remedy);
    }
    Some(Accepts { window: window?, known, done, beside: beside_it.unwrap_or(0) })
}

/// How many pans of cold food go into the same oven.
fn beside(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Option<u32> {
    f.whole(r, "beside", 0..=MOST_BESIDE).and_then(|pans| u32::try_from(pans).ok())
}

/// How a step cools hot food, if it says anything about it.
pub(super) fn cools(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Option<Cools> {
    let depth = f.quantity(r, "depth", &sorts::SOME_LENGTH);
    let cooler = f.word(r, "cooler", COOLERS);
    let covered = f.truth(r, "covered");
    let texture = f.word(r, "texture", &[("thick", Texture::Thick), ("thin", Texture::Thin)]);
    let said = depth.is_some() || cooler.is_some() || covered.is_some() || texture.is_some();
    said.then(|| Cools {
        depth,
        cooler: cooler.unwrap_or(Cooler::Refrigerator),
        covered: covered.unwrap_or(false),
        texture: texture.unwrap_or_default(),
    })
}

/// A roast of the past: `Past(meat: pork, cut: loin, weight: "2 kg", at: "160 C", heat: fan, took: "80 min", pulled: "62 C")`.
pub(super) fn past(r: &mut Reading<'_>, node: &Node) -> Option<Past> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Past", &[])?;
    let piece = piece(&mut f, r);
    let at = f.need(r, "at", "\"160 C\"").and_then(|node| r.degrees(node));
    let heat = f.need(r, "heat", "fan").and_then(|node| r.word(node, HEATS));
    let took = f.need(r, "took", "\"80 min\"").and_then(|node| r.quantity(node, &sorts::SOME_MINUTES));
    let pulled = f.need(r, "pulled", "\"62 C\"").and_then(|node| r.degrees(node));
    let origin = f.close(r);
    Some(Past { piece: piece?, at: at?, heat: heat?, took: took?, pulled: pulled?, origin })
}
