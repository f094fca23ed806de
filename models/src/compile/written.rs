//! From text to a problem: what cannot be read and what makes no sense, told at once.

use super::found::Found;
use super::{Compiled, compile, expand};
use crate::cook::Calibration;
use crate::faults::{Code, Fault, Faults};
use crate::read::{self, Draft};

/// Reads a feast and compiles it; the arguments are those of [`read::feast`](crate::read::feast).
///
/// # Errors
/// Everything that is wrong with the text and its meaning, at once.
///
/// ```
/// use rangewright_models::{compile, examples};
///
/// let demo = examples::demo();
/// let compiled = compile::feast(demo.menu, demo.menu_name, |name| demo.kitchen_text(name))?;
/// assert_eq!(compiled.labels.guests, 14);
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn feast(
    menu: &str,
    menu_name: &str,
    file: impl FnMut(&str) -> Result<String, String>,
) -> Result<Compiled, Faults> {
    draft(read::draft(menu, menu_name, file))
}

/// Compiles what was read.
///
/// # Errors
/// Everything that could not be read and everything that makes no sense, at once. Meaning is not judged by a kitchen that
/// could not be read at all, and what may only follow from something that could not be read is left out.
pub fn draft(draft: Draft) -> Result<Compiled, Faults> {
    let Draft { feast, mut faults, lost, has_kitchen } = draft;
    if has_kitchen {
        match compile(&feast) {
            Ok(compiled) if faults.is_empty() => return Ok(compiled),
            Ok(_) => {}
            Err(Faults(more)) => {
                let unread = faults.clone();
                let follows =
                    |fault: &Fault| lost && names_others(fault.code) || unread.iter().any(|u| encloses(fault, u));
                faults.extend(more.into_iter().filter(|fault| !follows(fault)));
            }
        }
    }
    Err(Faults::sorted(faults))
}

/// Reads what the log of past roasts in a kitchen file teaches; nothing if it has none. `name` is what faults call the text.
///
/// # Errors
/// Everything that is wrong with the kitchen as far as it can be read, and with each roast of its log.
///
/// # Examples
/// ```
/// use rangewright_models::{compile, examples};
///
/// let porch = examples::ALL[3];
/// let learned = compile::calibration(porch.kitchen, porch.kitchen_name)?;
/// assert_eq!(learned.roasts, 2);
/// assert!(learned.factor() > 1.0, "hens take longer there than computed");
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn calibration(kitchen: &str, name: &str) -> Result<Calibration, Faults> {
    let (read, sources, mut faults) = read::kitchen(kitchen, name);
    let mut learned = Calibration::default();
    if let Some(kitchen) = read {
        let mut found = Found::new(&sources);
        learned = expand::calibration(&kitchen, &mut found);
        faults.extend(found.faults);
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
