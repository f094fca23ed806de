//! What a cook has to know of a new plan: when courses go out, what moved, what can be done about lateness.

use rangewright::models::problem::{Mode, Place, Problem};
use rangewright::replan::{Moved, Replan, Rescue, Way};

use super::{Page, broken};
use crate::words::{Words, capital, minutes};

/// Dishes that are named as ones to leave out.
const LEFT_OUT: usize = 4;

/// Writes the news.
pub(crate) fn news(replan: &Replan, words: &Words, page: &mut Page) {
    page.title(&format!("New plan at {}", words.clock(replan.now)));
    for served in &replan.servings {
        let name = capital(words.course(&served.course));
        let late = match served.late() {
            0 => "on time".to_owned(),
            late => format!("{} late", minutes(late)),
        };
        let before = match served.before {
            Some(before) if before != served.at => format!("; the last plan said {}", words.clock(before)),
            _ => String::new(),
        };
        page.entry(&words.clock(served.at), &format!("{name}: {late}{before}"));
    }
    page.heading("What is new");
    if replan.moved.is_empty() {
        page.line("Nothing: go on as the last sheet says.");
    } else {
        page.line("Everything else stays as the last sheet says.");
    }
    let (only_when, other): (Vec<&Moved>, Vec<&Moved>) = replan.moved.iter().partition(|moved| is_only_when(moved));
    for moved in &other {
        let (margin, text) = told(replan, words, moved);
        page.entry(&margin, &text);
    }
    if !only_when.is_empty() && !other.is_empty() {
        page.gap();
        page.line("Only at another time:");
    }
    for moved in &only_when {
        let (margin, text) = told(replan, words, moved);
        page.entry(&margin, &text);
    }
    if !replan.broken.is_empty() {
        page.heading("What the menu asks for and the day breaks");
        for violation in &replan.broken {
            page.point(&broken(words, violation));
        }
    }
    if replan.servings.iter().any(|served| served.late() > 0) {
        page.heading("What could be done about it");
        page.line(if replan.proved {
            "With all of the menu nothing is sooner: that is proved."
        } else {
            "Whether anything is sooner with all of the menu is not known."
        });
        if replan.rescues.is_empty() {
            page.line("Nothing else that was tried makes it less late.");
        }
        let mut said: Vec<&str> = Vec::new();
        let left_out = |rescue: &&Rescue| matches!(rescue.way, Way::Without { .. });
        let others = replan.rescues.iter().filter(|rescue| !left_out(rescue));
        for rescue in others.chain(replan.rescues.iter().filter(left_out).take(LEFT_OUT)) {
            rescued(words, rescue, page);
            // What goes for two ways is said once.
            for caution in rescue.cautions.iter().filter(|caution| !said.contains(&caution.as_str())) {
                page.more(&format!("! {caution}"));
            }
            said.extend(rescue.cautions.iter().map(String::as_str));
        }
    }
}

/// Whether the same cook does it in the same place, and only the minute is new: nothing to think about, only to look up.
fn is_only_when(moved: &Moved) -> bool {
    moved.to.is_some() && !moved.running && !moved.place && moved.cooks.is_none()
}

/// A change: when, and what of it is new.
fn told(replan: &Replan, words: &Words, moved: &Moved) -> (String, String) {
    let title = capital(words.title(&moved.step));
    let Some(to) = &moved.to else { return (String::new(), format!("{title}: not needed any more")) };
    let step = replan.problem.steps.iter().find(|step| step.id == moved.step);
    let mode = step.and_then(|step| step.modes.get(to.mode));
    let clock = |minute| words.clock_from(replan.now, minute);
    let mut parts: Vec<String> = Vec::new();
    if moved.running && moved.from.end != to.end {
        parts.push(format!("done at {}, not {}", clock(to.end), clock(moved.from.end)));
    } else if !moved.running {
        let takes = to.end - to.start;
        let longer = takes != moved.from.end - moved.from.start;
        let until = if longer { format!("until {}, {}", clock(to.end), minutes(takes)) } else { String::new() };
        let was = if moved.from.start == to.start { String::new() } else { format!("was {}", clock(moved.from.start)) };
        parts.extend([was, until].into_iter().filter(|part| !part.is_empty()));
    }
    if let Some(mode) = mode.filter(|_| moved.place) {
        parts.push(format!("now {}", place(&replan.problem, words, mode)));
    }
    if let Some([before, after]) = &moved.cooks {
        let named = |cooks: &[String]| cooks.iter().map(|name| words.cook(name)).collect::<Vec<_>>().join(" and ");
        let (own, other) = (named(after), named(before));
        match (after.as_slice(), before.as_slice()) {
            ([], _) => parts.push("nobody has to be there".to_owned()),
            (_, []) => parts.push(own),
            _ => parts.push(format!("{own}, not {other}")),
        }
    }
    let margin = if moved.running { words.clock(to.end) } else { words.clock(to.start) };
    (margin, format!("{title} ({})", parts.join("; ")))
}

/// Where something is done: in an oven at some degrees, on a burner, or on the counter.
fn place(problem: &Problem, words: &Words, mode: &Mode) -> String {
    let Some(id) = mode.place.as_deref() else { return "on the counter".to_owned() };
    let cavity = problem.places.iter().any(|own| own.id() == id && matches!(own, Place::Cavity(_)));
    let degrees = mode.t.map_or(String::new(), |[low, high]| format!(" at {}", words.degrees((low + high) / 2)));
    format!("{} {}{degrees}", if cavity { "in" } else { "on" }, words.place(id))
}

fn rescued(words: &Words, rescue: &Rescue, page: &mut Page) {
    let title = |step: &str| capital(words.title(step));
    let what = match &rescue.way {
        Way::Hotter { step, degrees, left } => {
            format!("{}: turn up to {}; about {} left then", title(step), words.degrees(*degrees), minutes(*left))
        }
        Way::SliceEarlier { step, minutes: least } => format!("{}: only {}", title(step), minutes(*least)),
        Way::OtherOven { step, place } => format!("{}: go on in {}", title(step), words.place(place)),
        Way::Without { dish } => format!("Leave out {}", words.dish(dish)),
        Way::MoreHands => "One more pair of hands from now on".to_owned(),
        other => format!("{other:?}"),
    };
    let served = |served: &rangewright::replan::Served| {
        let late = served.late();
        let late = if late == 0 { "on time".to_owned() } else { format!("{} late", minutes(late)) };
        format!("{} at {}, {late}", words.course(&served.course), words.clock(served.at))
    };
    let servings: Vec<String> = rescue.servings.iter().map(served).collect();
    page.point(&format!("{what}: {}", servings.join("; ")));
}
