//! When there is no plan.

use rangewright::change::Remedy;
use rangewright::models::problem::Problem;
use rangewright::outcome::Reason;
use rangewright::why::Explanation;
use rangewright::{Conflict, Progress, StopReason};

use super::facts;
use super::limits::said_first;
use super::page::{Look, Page};
use crate::words::{Words, capital};

/// The most facts that are listed when not all of them may be needed.
const MOST_FACTS: usize = 12;

/// Everything that is known about a "no".
pub(crate) struct No {
    pub(crate) conflict: Conflict,
    /// Facts that cannot all hold, if they were found within the limits.
    pub(crate) explanation: Option<Explanation>,
    /// Changes that each make it possible.
    pub(crate) remedies: Vec<Remedy>,
}

/// There is no plan; why, and what would help.
pub(crate) fn impossible(problem: &Problem, words: &Words, no: &No, look: Look) -> String {
    let mut page = Page::new(look);
    page.title(&format!("{}: this cannot be done", words.labels.name));
    page.gap();
    page.line("It is proved that this menu cannot be cooked in this kitchen as it stands.");
    said_first(&mut page, problem, words);
    page.heading("These cannot all be true at once");
    // A long list of which only some may matter says less than none.
    match no.explanation.as_ref().filter(|own| own.smallest || own.facts.len() <= MOST_FACTS) {
        Some(explanation) => {
            for fact in facts::sentences(problem, words, &explanation.facts) {
                page.point(&fact);
            }
            if !explanation.smallest {
                page.gap();
                page.line("The search reached its limit first, so some of these may not matter.");
            }
        }
        None => {
            for reason in &no.conflict.reasons {
                page.point(&sentence(words, reason));
            }
        }
    }
    if no.remedies.is_empty() {
        page.gap();
        page.line(
            "Something has to give: serve later, allow longer waits between steps, do a step another way, find more hands, or \
             take something off the menu.",
        );
    } else {
        let several = no.remedies.iter().any(|remedy| remedy.changes.len() > 1);
        page.heading(match (several, no.remedies.len()) {
            (false, 1) => "This change makes it possible",
            (true, 1) => "These changes together make it possible",
            _ => "Any one of these changes makes it possible",
        });
        let mut said = Vec::new();
        for remedy in &no.remedies {
            let changes: Vec<String> = remedy.changes.iter().map(|change| facts::change(words, change)).collect();
            let least = if remedy.least { "" } else { " (less may be enough)" };
            let sentence = format!("{}{least}", capital(&changes.join(", and ")));
            if !said.contains(&sentence) {
                page.point(&sentence);
                said.push(sentence);
            }
        }
    }
    page.finish()
}

fn sentence(words: &Words, reason: &Reason) -> String {
    match reason {
        Reason::NoMode { step } => {
            format!("No appliance in this kitchen can do this: {} ({})", words.title(step), words.dish_of(step))
        }
        Reason::NoTime { steps } => {
            let titles: Vec<String> = steps.iter().map(|step| capital(words.title(step))).collect();
            format!("Done one after the other, these steps need more minutes than there are: {}", titles.join("; "))
        }
        Reason::Exhausted => {
            "Each step is possible by itself, but together they need more room, hands or time than there is".to_owned()
        }
        other => capital(&other.to_string()),
    }
}

/// Nothing is known.
pub(crate) fn undecided(words: &Words, progress: &Progress, look: Look) -> String {
    let mut page = Page::new(look);
    page.title(&format!("{}: no plan yet", words.labels.name));
    page.gap();
    let (limit, more) = match progress.stopped_by {
        Some(StopReason::Packing) => {
            page.line(
                "The search could not work out whether some of these pans fit together, and found no plan without them. Use \
                 fewer or larger pans, or take a dish off the menu, and try again.",
            );
            return page.finish();
        }
        Some(StopReason::Work) => ("its work limit", "--work"),
        _ => ("its time limit", "--time"),
    };
    page.line(&format!(
        "The search reached {limit} before it found a plan or a proof that there is none. Give it longer with {more}, \
         let courses be later, or take a dish off the menu and try again."
    ));
    page.finish()
}
