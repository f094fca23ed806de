//! What a cook has to know of a new plan: when courses go out, what moved, what can be done about lateness.

use rangewright::models::check::Violation;
use rangewright::replan::{Moved, Replan, Rescue, Way};

use super::Page;
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
    for moved in &replan.moved {
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

/// A change: when, and what of it is new.
fn told(replan: &Replan, words: &Words, moved: &Moved) -> (String, String) {
    let title = capital(words.title(&moved.step));
    let Some(to) = moved.to else { return (String::new(), format!("{title}: not needed any more")) };
    let step = replan.problem.steps.iter().find(|step| step.id == moved.step);
    let mode = step.and_then(|step| step.modes.get(to.mode));
    let place = mode.and_then(|mode| mode.place.as_deref()).map(|place| words.place(place).to_owned());
    let clock = |minute| words.clock_from(replan.now, minute);
    let mut parts: Vec<String> = Vec::new();
    if moved.running && moved.from.end != to.end {
        parts.push(format!("done at {}, not {}", clock(to.end), clock(moved.from.end)));
    } else if moved.from.start != to.start {
        parts.push(format!("from {} to {}, not from {}", clock(to.start), clock(to.end), clock(moved.from.start)));
    } else if moved.from.end != to.end {
        parts.push(format!("until {}, not {}", clock(to.end), clock(moved.from.end)));
    }
    if let (true, Some(place)) = (moved.place, place) {
        let degrees = mode.and_then(|mode| mode.t).map(|[low, high]| words.degrees((low + high) / 2));
        parts.push(format!("now in or on {place}{}", degrees.map_or(String::new(), |at| format!(" at {at}"))));
    }
    if let Some([before, after]) = &moved.cooks {
        let (own, other) = (after.join(" and "), before.join(" and "));
        match (after.as_slice(), before.as_slice()) {
            ([], _) => parts.push("nobody has to be there".to_owned()),
            (_, []) => parts.push(format!("{own} does it")),
            ([_], _) => parts.push(format!("{own} does it, not {other}")),
            _ => parts.push(format!("{own} do it, not {other}")),
        }
    }
    let margin = if moved.running { words.clock(to.end) } else { words.clock(to.start) };
    (margin, format!("{title}: {}", parts.join("; ")))
}

/// A broken rule in a cook's words.
fn broken(words: &Words, violation: &Violation) -> String {
    match violation {
        Violation::Duration { step, minutes: took, min, max } => {
            let asked = if min == max { minutes(*min) } else { format!("{} to {}", minutes(*min), minutes(*max)) };
            format!("{}: {} and not {asked}", capital(words.title(step)), minutes(*took))
        }
        Violation::Gap { from, to, gap, max, .. } => {
            let most = max.map_or(String::new(), |max| format!(", {} at the most", minutes(max)));
            format!("{} waits {} after \"{}\"{most}", capital(words.title(to)), minutes(*gap), words.title(from))
        }
        Violation::Together { course, step, end, served, together } => {
            let stands = minutes(served - end);
            let most = minutes(*together);
            format!(
                "{} stands {stands} before \"{}\" goes out, {most} at the most",
                words.dish_of(step),
                words.course(course)
            )
        }
        Violation::Slip { course, served, serve, max_slip } => {
            let (late, most) = (minutes(served - serve), minutes(*max_slip));
            format!("{} is {late} late, {most} at the most", capital(words.course(course)))
        }
        Violation::TooLate { step, end, latest } => {
            format!(
                "{} ends at {}, {} at the latest",
                capital(words.title(step)),
                words.clock(*end),
                words.clock(*latest)
            )
        }
        other => capital(&other.to_string()),
    }
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
