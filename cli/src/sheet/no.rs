//! When there is no plan.

use rangewright::{Conflict, Progress, Reason, StopReason};

use super::page::{Look, Page};
use crate::words::Words;

/// There is no plan, and why.
pub(crate) fn impossible(words: &Words, conflict: &Conflict, look: Look) -> String {
    let mut page = Page::new(look);
    page.title("This cannot be done");
    page.gap();
    page.line("It is proved that no plan keeps to this menu in this kitchen. What cannot hold:");
    page.gap();
    for reason in &conflict.reasons {
        page.point(&sentence(words, reason));
    }
    page.gap();
    page.line("Something has to give: a later hour, more minutes between dishes, another way to do a step, more hands, or one thing less on the menu.");
    page.finish()
}

fn sentence(words: &Words, reason: &Reason) -> String {
    match reason {
        Reason::NoMode { step } => {
            format!("No appliance of this kitchen can do this: {} ({}).", words.title(step), words.dish_of(step))
        }
        Reason::NoTime { steps } => {
            let titles: Vec<&str> = steps.iter().map(|step| words.title(step)).collect();
            format!(
                "These steps, one after the other, need more minutes than there are between the times they are held to: {}.",
                titles.join("; ")
            )
        }
        Reason::Exhausted => {
            "Each step alone is possible, but all of them together do not fit the places, the hands and the hours."
                .to_owned()
        }
    }
}

/// Nothing is known.
pub(crate) fn undecided(words: &Words, progress: &Progress, look: Look) -> String {
    let mut page = Page::new(look);
    page.title(&format!("{}: no plan yet", words.labels.name));
    page.gap();
    let (limit, more) = match progress.stopped_by {
        Some(StopReason::Work) => ("its work limit", "--work"),
        _ => ("its time limit", "--time"),
    };
    page.line(&format!("The search reached {limit} before it found a plan, and without a proof that there is none."));
    page.line(&format!(
        "Give it more with {more}, let courses slip further, or take a dish off the menu and try again."
    ));
    page.finish()
}
