//! Where the evening stands, as text.

use super::Page;
use crate::pass::{Job, Pass, When};

/// Now, next, and what runs; with what needs a word first.
pub(crate) fn pass(pass: &Pass, cook: Option<usize>, page: &mut Page) {
    page.line(&format!("It is {}.", pass.clock));
    for text in &pass.look_out {
        page.line(&format!("! {text}"));
    }
    for (when, heading) in [(When::Now, "Now"), (When::Next, "Next")] {
        let own = |job: &&Job| job.when == when && cook.is_none_or(|cook| job.cooks.contains(&cook));
        let jobs: Vec<&Job> = pass.jobs.iter().filter(own).collect();
        if jobs.is_empty() && when == When::Next {
            continue;
        }
        page.heading(heading);
        if jobs.is_empty() {
            page.line("Nothing.");
        }
        for job in jobs {
            let names: Vec<&str> =
                job.cooks.iter().filter_map(|&cook| pass.cooks.get(cook)).map(String::as_str).collect();
            let who = if cook.is_some() || names.is_empty() || pass.cooks.len() < 2 {
                String::new()
            } else {
                format!("{}: ", names.join(" and "))
            };
            let begun = if job.begun && job.done.is_some() { " (begun)" } else { "" };
            page.entry(&job.clock, &format!("{who}{}{begun}", job.head));
            job.more.iter().for_each(|line| page.more(line));
            job.care.iter().for_each(|line| page.more(&format!("! {line}")));
        }
    }
    if !pass.running.is_empty() {
        page.heading("Running");
        for own in &pass.running {
            let place = own.place.as_deref().map_or(String::new(), |place| format!(", {place}"));
            page.entry(&own.clock, &format!("{}{place}", own.title));
        }
    }
}
