//! Words to choose from.

/// `did you mean "x"?`, or all there are to choose from.
pub(crate) fn suggestion<'a>(wrong: &str, known: impl Iterator<Item = &'a str> + Clone) -> String {
    // A long text is no slip of the pen, and comparing it would take long.
    let wrong: String = wrong.chars().take(60).flat_map(char::to_lowercase).collect();
    let close = known
        .clone()
        .map(|word| (strsim::osa_distance(&wrong, &word.to_lowercase()), word))
        .filter(|(distance, word)| *distance <= 1 + word.chars().count() / 4)
        .min_by_key(|(distance, _)| *distance);
    match close {
        Some((_, word)) => format!("did you mean \"{word}\"?"),
        None => format!("write {}", one_of(known)),
    }
}

pub(crate) fn one_of<'a>(words: impl Iterator<Item = &'a str>) -> String {
    // What may stand in one of several ways is asked for more than once.
    let mut all: Vec<&str> = Vec::new();
    for word in words {
        if !all.contains(&word) {
            all.push(word);
        }
    }
    let words = &all[..all.len().min(40)];
    match words {
        [] => "nothing here: there is none".to_owned(),
        [only] => format!("\"{only}\""),
        [first @ .., last] => format!("one of \"{}\" or \"{last}\"", first.join("\", \"")),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn and(words: &[impl AsRef<str>]) -> String {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    match &words[..] {
        [] => "nobody".to_owned(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
