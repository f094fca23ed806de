//! Names that are written from right to left, within sentences that are not.
//!
//! A number or a bracket beside such a name would otherwise be taken into it: a sentence is put together only after its
//! names are set apart (the isolates of the Unicode bidirectional algorithm, UAX 9).

use rangewright::models::labels::Labels;

use crate::plain;

/// First strong isolate, and pop directional isolate.
const MARKS: [char; 2] = ['\u{2068}', '\u{2069}'];

/// Sets apart every text of the labels that has letters written from right to left.
pub(crate) fn isolate(labels: &mut Labels) {
    let mut set_apart = |text: &mut String| {
        *text = plain::name(text);
        if text.chars().any(leftward) {
            *text = format!("{}{text}{}", MARKS[0], MARKS[1]);
        }
    };
    set_apart(&mut labels.name);
    set_apart(&mut labels.kitchen);
    labels.cooks.iter_mut().for_each(|cook| set_apart(&mut cook.name));
    labels.places.values_mut().for_each(|place| set_apart(&mut place.name));
    labels.pools.values_mut().for_each(&mut set_apart);
    labels.courses.values_mut().for_each(|course| set_apart(&mut course.name));
    for dish in labels.dishes.values_mut() {
        set_apart(&mut dish.name);
        dish.allergens.iter_mut().for_each(&mut set_apart);
        let changes = dish.scaled.iter_mut().flat_map(|scaled| &mut scaled.changes);
        changes.for_each(|change| set_apart(&mut change.what));
    }
    labels.shopping.iter_mut().for_each(|own| set_apart(&mut own.what));
    for step in labels.steps.values_mut() {
        set_apart(&mut step.title);
        step.look.iter_mut().chain(&mut step.note).for_each(&mut set_apart);
        for mode in &mut step.modes {
            mode.pan.iter_mut().chain(&mut mode.level).chain(&mut mode.touches).for_each(&mut set_apart);
        }
    }
}

/// Letters of scripts that are written from right to left, by their blocks.
fn leftward(letter: char) -> bool {
    matches!(letter, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}' | '\u{10800}'..='\u{10fff}'
        | '\u{1e800}'..='\u{1efff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hebrew_and_arabic_run_leftward_and_others_do_not() {
        assert!("שמש".chars().all(leftward) && "حساء".chars().all(leftward));
        assert!(!"Grütze, かぼちゃ, борщ, 12 🍲".chars().any(leftward));
    }
}
