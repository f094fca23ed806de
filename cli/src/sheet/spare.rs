//! Spare hands in the last half hour that cannot be had.

use rangewright::spare::{LAST, Refused};

use super::{Look, Page};
use crate::words::{Words, capital, minutes};

/// Why there is no such plan, and what there is.
pub(crate) fn spare_refused(percent: u32, refused: &Refused, words: &Words, look: Look) -> String {
    let mut page = Page::new(look);
    let proof =
        if refused.proved { "That is proved." } else { "None was found, but it is not proved that there is none." };
    page.line(&format!(
        "No: {percent}% of each cook cannot be kept free in the last {} before each serving without serving later. {proof}",
        minutes(LAST)
    ));
    if refused.minutes > 0 {
        let (most, share) = (minutes(refused.minutes), refused.percent);
        page.point(&format!("On time, {most} can be kept free for each: ask for --spare-hands {share}%"));
    } else {
        page.point("On time, not even a minute can be kept free for each cook");
    }
    match &refused.later {
        Some(later) => {
            let one =
                |(course, by): &(String, i64)| format!("{} {} later", capital(words.course(course)), minutes(*by));
            let later: Vec<String> = later.iter().map(one).collect();
            page.point(&format!("All of it can be kept free by serving later: {}", later.join(", ")));
        }
        None => {
            page.point(
                "No plan was found that keeps it free by serving later, as far as the menu lets courses be late",
            );
        }
    }
    page.finish()
}
