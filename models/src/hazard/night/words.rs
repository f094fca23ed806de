//! The words by which a step is known to be cold, or warm.

/// Kinds of a cook's own that are done in the cold unless the menu says otherwise.
pub(super) const COLD: &[&str] =
    &["thaw", "defrost", "marinate", "marinade", "brine", "cure", "cool", "set", "freeze", "chill"];

/// Words for the room, where the refrigerator would be expected.
pub(super) const IN_THE_ROOM: &[&str] = &[
    "counter",
    "worktop",
    "room temperature",
    "room temp",
    "on the side",
    "windowsill",
    "window sill",
    "out of the fridge",
    "out of the refrigerator",
    "warm place",
    "warm water",
    "hot water",
    "in the sink",
    "on the table",
    "kitchen table",
    "bench",
    "ambient",
    "on the stove",
    "on the hob",
    "on the porch",
    "airing cupboard",
];

/// Words for eggs and milk that do not keep though they are baked.
pub(super) const WET: &[&str] = &[
    "custard",
    "quiche",
    "frittata",
    "omelette",
    "souffle",
    "creme brulee",
    "trifle",
    "mousse",
    "tiramisu",
    "carbonara",
];

/// Whether one of these phrases is in a text.
pub(crate) fn says(text: &[String], phrases: &[&str]) -> bool {
    phrases.iter().any(|phrase| {
        let words: Vec<&str> = phrase.split(' ').collect();
        text.windows(words.len())
            .any(|own| own.iter().zip(&words).all(|(own, word)| own == word || own.strip_suffix('s') == Some(*word)))
    })
}
