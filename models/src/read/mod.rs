//! Reading a menu and its kitchen from text.
#![doc = include_str!("language.md")]

mod fields;
mod joint;
mod json;
mod kitchen;
mod menu;
mod node;
mod reading;
mod ron;
mod sorts;
mod step;
mod words;

pub(crate) use kitchen::SHELF;
pub(crate) use words::suggestion;

use node::{Node, Value};
use reading::Reading;

use crate::compile::{compile, log};
use crate::cook::Calibration;
use crate::faults::{Code, Fault, Faults, Sources};
use crate::feast::Feast;

/// Texts longer than this are refused, bytes. A menu of 1,000 dishes is about a tenth of it.
pub const LONGEST: usize = 2 << 20;

/// Reads a feast: the text of a menu in RON or JSON, and the kitchen it names, whose text `kitchen` is asked for by name.
///
/// `menu_name` is what faults call the menu's text. `kitchen` gives the text of a kitchen file, or says why there is none.
/// It is not asked when the kitchen is written inside the menu.
///
/// # Errors
/// Everything that is wrong, at once. Only what cannot be read as RON or JSON at all hides other faults behind it.
///
/// # Examples
/// ```
/// use rangewright_models::{examples, read};
///
/// let demo = examples::demo();
/// let feast = read::feast(demo.menu, "menu.ron", |_| Ok(demo.kitchen.to_owned()))?;
/// assert_eq!(feast.menu.guests, 14);
///
/// let faults = read::feast("Menu(name: \"Supper\", gests: 4)", "menu.ron", |_| Err("no such file".to_owned())).unwrap_err();
/// assert!(faults.to_string().contains("did you mean \"guests\"?"));
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn feast(
    menu: &str,
    menu_name: &str,
    kitchen: impl FnOnce(&str) -> Result<String, String>,
) -> Result<Feast, Faults> {
    let mut feast = Feast::default();
    let mut faults = Vec::new();
    let mut r = Reading::new(menu_name, menu, &mut feast.sources, &mut faults);
    let mut wanted = None;
    let mut file = None;
    if let Some(tree) = tree(&mut r, menu) {
        let (read, at) = menu::menu(&mut r, &tree);
        feast.menu = read;
        match at.map(|node| (&node.value, node)) {
            Some((Value::Text(name), node)) => file = Some((name.clone(), node.span.clone())),
            Some((_, node)) => wanted = Some(kitchen::kitchen(&mut r, node)),
            None => {}
        }
    }
    let mut lost = r.lost;
    if let Some((name, span)) = file {
        match kitchen(&name) {
            Ok(text) => {
                let mut r = Reading::new(&name, &text, &mut feast.sources, &mut faults);
                wanted = tree(&mut r, &text).map(|tree| kitchen::kitchen(&mut r, &tree));
                lost |= r.lost;
            }
            Err(why) => {
                let remedy = "correct the name, or write the kitchen inside the menu: kitchen: Kitchen(...)";
                r.fault(Code::NoKitchen, &span, format!("the kitchen {name:?} cannot be had: {why}"), remedy);
            }
        }
    }
    // Meaning is checked even when reading found faults, but not against a kitchen that could not be read at all, and
    // without what may only follow from something that could not be read.
    if let Some(kitchen) = wanted {
        feast.kitchen = kitchen;
        if let Err(Faults(more)) = compile(&feast) {
            let unread = faults.clone();
            let follows = |fault: &Fault| lost && names_others(fault.code) || unread.iter().any(|u| encloses(fault, u));
            faults.extend(more.into_iter().filter(|fault| !follows(fault)));
        }
    }
    if faults.is_empty() { Ok(feast) } else { Err(Faults::sorted(faults)) }
}

/// Reads what the log of past roasts in a kitchen file teaches; nothing if it has none. `name` is what faults call the text.
///
/// # Errors
/// Everything that is wrong with the kitchen as far as it can be read, and with each roast of its log.
///
/// # Examples
/// ```
/// use rangewright_models::{examples, read};
///
/// let porch = examples::ALL[3];
/// let learned = read::calibration(porch.kitchen, porch.kitchen_name)?;
/// assert_eq!(learned.roasts, 2);
/// assert!(learned.factor() > 1.0, "hens take longer there than computed");
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn calibration(kitchen: &str, name: &str) -> Result<Calibration, Faults> {
    let mut sources = Sources::default();
    let mut faults = Vec::new();
    let mut r = Reading::new(name, kitchen, &mut sources, &mut faults);
    let read = tree(&mut r, kitchen).map(|tree| kitchen::kitchen(&mut r, &tree));
    let mut learned = Calibration::default();
    if let Some(kitchen) = read {
        let (calibration, more) = log(&kitchen, &sources);
        learned = calibration;
        faults.extend(more);
    }
    if faults.is_empty() { Ok(learned) } else { Err(Faults::sorted(faults)) }
}

/// A fault of this sort may come from another part of the feast that was lost.
fn names_others(code: Code) -> bool {
    use Code::{
        CannotStay, NeedsPan, NoAppliance, NotEnough, NotServed, NothingIn, PanTooLarge, ServeOffShift, UnknownName,
    };
    let others =
        [CannotStay, NeedsPan, NoAppliance, NotEnough, NotServed, NothingIn, PanTooLarge, ServeOffShift, UnknownName];
    others.contains(&code)
}

/// The part of the text that one fault is about holds another fault.
fn encloses(outer: &Fault, inner: &Fault) -> bool {
    match (&outer.at, &inner.at) {
        (Some(outer), Some(inner)) => outer.file == inner.file && outer.start <= inner.start && inner.end <= outer.end,
        _ => false,
    }
}

/// The text as a tree. What begins with a brace is JSON, everything else RON.
fn tree(r: &mut Reading<'_>, text: &str) -> Option<Node> {
    let body = text.trim_start_matches('\u{feff}').trim_start();
    if text.len() > LONGEST {
        let cause = format!("the text is {} bytes long, more than {LONGEST}", text.len());
        r.fault(Code::TooLong, &(0..0), cause, "give the file of a menu or of a kitchen");
        return None;
    }
    if body.is_empty() {
        r.fault(Code::Empty, &(0..0), "the text is empty", "start with Menu( or Kitchen( or look at an example");
        return None;
    }
    let source = node::Source(text);
    let skipped = text.len() - text.trim_start_matches('\u{feff}').len();
    let parsed = if body.starts_with('{') {
        json::parse(&text[skipped..], source)
    } else {
        ron::parse(&text[skipped..], source)
    };
    match parsed {
        Ok(tree) => Some(tree),
        Err(node::Unreadable { why, at }) => {
            let at = (at + skipped).min(text.len());
            let end = text[at..].chars().next().map_or(at, |c| at + c.len_utf8());
            let remedy = match &text[at..end] {
                "“" | "”" | "„" | "‘" | "’" | "«" | "»" => "write straight quotation marks: \"...\"",
                _ => "look just before this place",
            };
            r.fault(Code::Syntax, &(at..end), format!("this cannot be read: {why}"), remedy);
            None
        }
    }
}
