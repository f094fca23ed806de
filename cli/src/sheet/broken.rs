//! Rules that a plan or a day breaks, in a cook's words: names, clock times, and what would have been allowed.

use std::path::Path;

use rangewright::models::check::Violation;
use rangewright::models::problem::Minute;

use super::{Look, Page};
use crate::evening::marks::job;
use crate::words::{Words, capital, count, minutes};

/// Every rule that the plan of a file breaks.
pub(crate) fn broken_plan(file: &Path, words: &Words, violations: &[Violation], look: Look) -> String {
    let mut page = Page::new(look);
    for violation in violations {
        page.point(&broken(words, violation));
    }
    let rules = count(violations.len(), "rule", "rules");
    format!("error: {} breaks {rules}:\n{}", file.display(), page.finish())
}

/// A broken rule.
pub(crate) fn broken(words: &Words, violation: &Violation) -> String {
    let title = |step: &str| capital(&job(words, step));
    let place = |place: &str| words.place(place).to_owned();
    let clock = |minute: Minute| words.clock(minute);
    match violation {
        Violation::MissingStep { step } => format!("{} is not planned", title(step)),
        Violation::UnknownStep { step } => format!("The plan has a step \"{step}\", which is not on the menu"),
        Violation::UnknownCourse { course } => format!("The plan serves \"{course}\", which the menu does not"),
        Violation::NoSuchMode { step, mode, modes } => {
            let ways = count(*modes, "way", "ways");
            format!("{}: the plan does it in way {}, and the menu knows {ways}", title(step), mode.saturating_add(1))
        }
        Violation::EndBeforeStart { step, start, end } => {
            format!("{} ends at {}, before it starts at {}", title(step), clock(*end), clock(*start))
        }
        Violation::IllegalMode { step, place: own, why } => {
            format!("{} cannot be done in or on {}: {why}", title(step), place(own))
        }
        Violation::Duration { step, minutes: took, min, max } => {
            format!("{} takes {} instead of {}", title(step), minutes(*took), range(*min, Some(*max)))
        }
        Violation::BeforeOpening { step, start, opening } => {
            format!("{} starts at {}, before the kitchen opens at {}", title(step), clock(*start), clock(*opening))
        }
        Violation::TooEarly { step, start, earliest } => {
            format!("{} starts at {}, {} at the earliest", title(step), clock(*start), clock(*earliest))
        }
        Violation::TooLate { step, end, latest } => {
            format!("{} ends at {}, {} at the latest", title(step), clock(*end), clock(*latest))
        }
        Violation::Gap { from, to, gap, min, max } => {
            let from = words.title(from);
            match max {
                _ if *gap < 0 => format!("{} starts {} before \"{from}\" ends", title(to), minutes(-gap)),
                Some(max) if gap > max => {
                    format!("{} waits {} after \"{from}\", {} at the most", title(to), minutes(*gap), minutes(*max))
                }
                _ => format!("{} waits {} after \"{from}\", {} at the least", title(to), minutes(*gap), minutes(*min)),
            }
        }
        Violation::StayApart { from, to } => {
            format!("{} and \"{}\" are one pan that stays in, and are planned apart", title(from), words.title(to))
        }
        Violation::Slip { course, served, serve, .. } if served < serve => {
            format!("{} goes out at {}, before {}", capital(words.course(course)), clock(*served), clock(*serve))
        }
        Violation::Slip { course, served, serve, max_slip } => {
            let (late, most) = (minutes(served - serve), minutes(*max_slip));
            format!("{} is {late} late, {most} at the most", capital(words.course(course)))
        }
        Violation::Together { course, step, end, served, .. } if end > served => {
            let (end, served) = (clock(*end), clock(*served));
            format!("{} is done at {end}, after \"{}\" goes out at {served}", title(step), words.course(course))
        }
        Violation::Together { course, step, end, served, together } => {
            let (stands, most) = (minutes(served - end), minutes(*together));
            let (dish, course) = (words.dish_of(step), words.course(course));
            format!("{dish} stands {stands} before \"{course}\" goes out, {most} at the most")
        }
        Violation::After { course, after, gap, min, max } => {
            let (course, after) = (capital(words.course(course)), words.course(after));
            format!("{course} goes out {} after \"{after}\", not {}", minutes(*gap), range(*min, *max))
        }
        Violation::Hands { minute, needed, there, steps } => {
            let hands = count(usize::try_from(*needed).unwrap_or(0), "pair of hands is", "pairs of hands are");
            format!("At {} {hands} needed, but {there} there: {}", clock(*minute), list(words, steps))
        }
        Violation::Pool { pool, minute, needed, there, steps } => {
            let pool = words.pool(pool);
            format!("At {} {needed} of {pool} are needed, of {there}: {}", clock(*minute), list(words, steps))
        }
        Violation::Hob { place: own, minute, count: burners, steps } => {
            let burners = count(usize::try_from(*burners).unwrap_or(0), "burner", "burners");
            format!("At {} too much is on {}, which has {burners}: {}", clock(*minute), place(own), list(words, steps))
        }
        Violation::Top { place: own, minute, steps } => {
            format!("At {} these do not fit on {}: {}", clock(*minute), place(own), list(words, steps))
        }
        Violation::Room { place: own, minute, steps } => {
            format!("At {} these do not fit on the racks of {}: {}", clock(*minute), place(own), list(words, steps))
        }
        Violation::RoomUnknown { place: own, minute, steps } => {
            format!(
                "At {} it is not known whether these fit in or on {}: {}",
                clock(*minute),
                place(own),
                list(words, steps)
            )
        }
        Violation::Weight { place: own, minute, weight, max_weight, steps } => format!(
            "At {} {} holds {}, more than the {} it carries: {}",
            clock(*minute),
            place(own),
            words.weight(*weight),
            words.weight(*max_weight),
            list(words, steps)
        ),
        Violation::Air { place: own, minute, first, second, clash } => format!(
            "At {} {} and \"{}\" are together in {}, but {clash}",
            clock(*minute),
            title(first),
            words.title(second),
            place(own)
        ),
        Violation::Changeover { place: own, from, to, minutes: there, needed } => {
            let from = from.as_ref().map_or("the opening".to_owned(), |from| format!("\"{}\"", words.title(from)));
            let (own, to) = (capital(&place(own)), words.title(to));
            format!(
                "{own} has {} to heat or cool between {from} and \"{to}\", but needs {}",
                minutes(*there),
                minutes(*needed)
            )
        }
        Violation::Unlit { place: own, step, start, back, needed } => format!(
            "\"{}\" starts at {}, but nobody is there to light {} before {}, and it then takes {}",
            words.title(step),
            clock(*start),
            place(own),
            clock(*back),
            minutes(*needed)
        ),
        Violation::DoorOpened { place: own, shut, opened, what, minute } => format!(
            "At {} the door of {} is opened because \"{}\" {what}, but must stay shut for \"{}\"",
            clock(*minute),
            place(own),
            words.title(opened),
            words.title(shut)
        ),
        // What is left is about figures of the file, which have no other words.
        other => capital(&other.to_string()),
    }
}

fn range(min: Minute, max: Option<Minute>) -> String {
    match max {
        Some(max) if min == max => minutes(min),
        Some(max) => format!("{} to {}", minutes(min), minutes(max)),
        None => format!("{} or more", minutes(min)),
    }
}

fn list(words: &Words, steps: &[String]) -> String {
    steps.iter().map(|step| capital(&job(words, step))).collect::<Vec<_>>().join("; ")
}
