//! What a cook wants to know of an evening, answered from the chart alone: from what its marks say of themselves.

use crate::demo::demo;

/// Minutes of a day.
fn clock(text: &str) -> Option<i64> {
    let (hour, minute) = text.split_once(':')?;
    Some(hour.parse::<i64>().ok()? * 60 + minute.parse::<i64>().ok()?)
}

/// A mark of the drawing: what it says, and from when to when on one day.
struct Said {
    what: String,
    from: i64,
    to: i64,
    note: String,
}

/// `Squash soup: Blend it (in hand), 18:02 to 18:10; a note`.
fn said(title: &str) -> Option<Said> {
    let (said, note) = title.split_once("; ").unwrap_or((title, ""));
    let (what, times) = said.rsplit_once(", ")?;
    let (from, to) = times.split_once(" to ").unwrap_or((times, "23:59"));
    Some(Said { what: what.to_owned(), from: clock(from)?, to: clock(to).unwrap_or(1439), note: note.to_owned() })
}

/// Every mark of the last day.
fn chart() -> Vec<Said> {
    let drawing = demo(&["--format", "svg"]);
    let tree = roxmltree::Document::parse(&drawing).expect("XML");
    let day: Vec<_> =
        tree.descendants().filter(|node| node.has_tag_name(("http://www.w3.org/2000/svg", "title"))).collect();
    day.iter().filter_map(|node| said(node.text()?)).collect()
}

fn at<'a>(all: &'a [Said], minute: &str, part: &str) -> Vec<&'a str> {
    let minute = clock(minute).expect("a time");
    all.iter()
        .filter(|own| own.from <= minute && minute < own.to && own.what.contains(part))
        .map(|own| own.what.as_str())
        .collect()
}

#[test]
fn eight_questions_are_answered_by_the_chart_of_the_demo() {
    let all = chart();
    let roast =
        all.iter().find(|own| own.what.starts_with("Stuffed pork shoulder: Roast") && own.what.contains("(old oven"));
    let roast = roast.expect("the pork goes in");
    assert!(roast.from < roast.to, "when does it go in?");
    assert!(roast.note.contains("Most likely done after"), "when is it ready? {}", roast.note);
    assert!(roast.note.contains("it may take"), "and at the latest? {}", roast.note);
    let big = at(&all, "19:10", "(big oven");
    assert!(big.iter().any(|what| what.starts_with("Potato and celeriac gratin")), "what is in the big oven? {big:?}");
    let hot = at(&all, "18:20", "old oven: ");
    assert!(hot.len() == 1 && hot[0].contains("C, no fan"), "how hot is the old one? {hot:?}");
    assert_eq!(at(&all, "18:22", "(Ines)").len(), 1, "what does Ines do?");
    let stew = at(&all, "16:30", "Mutton and quince stew: waits");
    assert_eq!(stew, ["Mutton and quince stew: waits where it was (waits)"], "where is the stew?");
    assert!(!at(&all, "18:30", "Beetroot in foil: ").is_empty(), "where is the beetroot?");
    assert!(all.iter().any(|own| own.what == "Tom: away"), "who is away?");
}

/// From its first step until it is served a dish is always somewhere.
#[test]
fn no_minute_of_a_dish_is_without_a_place() {
    let all = chart();
    for dish in
        ["Squash soup", "Stuffed pork shoulder", "Potato and celeriac gratin", "Beetroot in foil", "Savoy cabbage"]
    {
        let mut own: Vec<&Said> = all
            .iter()
            .filter(|own| {
                own.what.starts_with(dish)
                    && own.what.ends_with(')')
                    && !own.what.contains("(Ines")
                    && !own.what.contains("(Tom")
            })
            .collect();
        own.sort_by_key(|own| own.from);
        let mut reached = own.first().expect("a place").from;
        for stay in own {
            assert!(
                stay.from <= reached,
                "{dish} is nowhere at minute {reached}, but {} from {} on",
                stay.what,
                stay.from
            );
            reached = reached.max(stay.to);
        }
        assert!(reached >= 18 * 60 + 30, "{dish} until it is served");
    }
}
