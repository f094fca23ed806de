//! What a step is done like, and what it would cost to do it otherwise.

use std::collections::BTreeMap;

use rangewright::ask::{Alternative, Difference, Force, beside};
use rangewright::models::plan::Plan;
use rangewright::models::problem::{Minute, Mode, Problem};

use super::WAITING;
use super::limits::said_first;
use super::page::Page;
use crate::evening::marks::job;
use crate::evening::phrases;
use crate::words::{Words, capital, minutes};

/// What was chosen, then each alternative with its cost, the cheapest first.
pub(crate) fn why(
    page: &mut Page,
    problem: &Problem,
    words: &Words,
    plan: &Plan,
    step: &str,
    alternatives: &[Alternative],
) {
    page.title(&format!("Why this way? {}", job(words, step)));
    said_first(page, problem, words);
    let sheet = Sheet { problem, words };
    if let Some((mode, planned)) =
        plan.steps.get(step).and_then(|planned| Some((sheet.mode(step, planned.mode)?, planned)))
    {
        page.line(&format!(
            "{}, from {} to {}.",
            capital(&sheet.how(mode)),
            words.clock(planned.start),
            words.clock_from(planned.start, planned.end)
        ));
    }
    let best = plan.bounds == [plan.lateness, plan.waiting, plan.hot];
    page.line(if best { "This plan is proved best." } else { "This plan is not proved best." });
    let company = beside(problem, plan, step);
    if let Some(text) = sheet.company(plan, &company) {
        page.line(&text);
    }
    if let Some(text) = sheet.compromise(plan, step, &company, alternatives) {
        page.line(&text);
    }
    page.heading("What the alternatives would cost");
    for alternative in alternatives {
        let (what, cost) = (sheet.force(plan, &alternative.force), sheet.difference(&company, &alternative.difference));
        page.point(&format!("{}: {cost}", capital(&what)));
    }
    if alternatives.is_empty() {
        page.line("There is no other way to do it.");
        return;
    }
    page.gap();
    page.line(&format!("Each was planned again with everything else free. {WAITING}"));
}

struct Sheet<'a> {
    problem: &'a Problem,
    words: &'a Words,
}

impl Sheet<'_> {
    fn mode(&self, step: &str, index: usize) -> Option<&Mode> {
        self.problem.steps.iter().find(|own| own.id == step)?.modes.get(index)
    }

    /// `big oven, 175 to 185 C fan, 70 min`.
    fn how(&self, mode: &Mode) -> String {
        let mut parts =
            vec![mode.place.as_deref().map_or("on the counter".to_owned(), |id| self.words.place(id).to_owned())];
        if let Some(range) = mode.t {
            let heat = mode.heat.map_or(String::new(), |heat| format!(" {}", phrases::heat(heat)));
            parts.push(format!("{}{heat}", self.words.range(range)));
        }
        if let Some([lo, hi]) = mode.level {
            parts.push(if lo == hi { format!("heat {lo}") } else { format!("heat {lo} to {hi}") });
        }
        parts.push(if mode.min == mode.max { minutes(mode.min) } else { format!("{} or more", minutes(mode.min)) });
        parts.join(", ")
    }

    /// With what it shares its oven: `It shares the oven with Roast the squash (375 to 400 F)`.
    fn company(&self, plan: &Plan, company: &[String]) -> Option<String> {
        let named: Vec<String> = company.iter().map(|step| self.with_range(plan, step)).collect();
        (!named.is_empty()).then(|| format!("It shares the oven with {}.", named.join(", ")))
    }

    fn with_range(&self, plan: &Plan, step: &str) -> String {
        let range = plan.steps.get(step).and_then(|planned| self.mode(step, planned.mode)?.t);
        let title = job(self.words, step);
        range.map_or(title.clone(), |range| format!("{title} ({})", self.words.range(range)))
    }

    /// The chosen temperature is not the one liked best, and with that one it would lose company.
    fn compromise(&self, plan: &Plan, step: &str, company: &[String], alternatives: &[Alternative]) -> Option<String> {
        let modes = &self.problem.steps.iter().find(|own| own.id == step)?.modes;
        let chosen = modes.get(plan.steps.get(step)?.mode)?;
        let there = modes.iter().filter(|mode| mode.place == chosen.place && mode.t.is_some());
        let liked = there.min_by_key(|mode| mode.cost).filter(|mode| mode.cost < chosen.cost)?;
        let Alternative { difference, .. } = alternatives.iter().find(|own| {
            matches!(&own.force, Force::Mode { mode, .. } if modes.get(*mode).is_some_and(|mode| mode.t == liked.t))
        })?;
        let Difference::Costs { more, later, beside, .. } = difference else { return None };
        let lost = self.lost(company, beside);
        (*more > [0; 3] && !lost.is_empty()).then(|| {
            let liked = self.words.range(liked.t.unwrap_or_default());
            format!(
                "Its temperature is a compromise: {liked} would suit it best, but then it could not share the oven with {}, and {}.",
                lost.join(", "),
                self.cost(*more, later).join(", ")
            )
        })
    }

    fn force(&self, plan: &Plan, force: &Force) -> String {
        let title = |step: &str| format!("\"{}\"", job(self.words, step));
        let at = |step: &str| plan.steps.get(step);
        match force {
            Force::Place { place: Some(place), .. } => format!("in another place: {}", self.words.place(place)),
            Force::Place { place: None, .. } => "on the counter".to_owned(),
            Force::Mode { step, mode } => self.mode(step, *mode).map_or_else(String::new, |mode| self.how(mode)),
            Force::StartFrom { step, minute } => {
                let later = at(step).map_or(0, |planned| minute - planned.start);
                format!("started {} later, at {} or after", minutes(later), self.words.clock(*minute))
            }
            Force::EndBy { step, minute } => {
                let sooner = at(step).map_or(0, |planned| planned.end - minute);
                format!("done {} sooner, by {}", minutes(sooner), self.words.clock(*minute))
            }
            Force::Before { first, second } => format!("{} before {}", title(first), title(second)),
            _ => "another way".to_owned(),
        }
    }

    fn difference(&self, company: &[String], difference: &Difference) -> String {
        match difference {
            Difference::Impossible => "cannot be done".to_owned(),
            Difference::Undecided => "not known: the search reached its limit".to_owned(),
            Difference::Costs { more, later, beside, proved } => {
                let parts = self.cost(*more, later);
                let better = *more < [0; 3];
                let mut text = match () {
                    () if parts.is_empty() => "costs nothing".to_owned(),
                    () if better => format!("would be better: {}", parts.join(", ")),
                    () if *proved => parts.join(", "),
                    () => format!("{} (perhaps less: the search reached its limit)", parts.join(", ")),
                };
                let lost = self.lost(company, beside);
                if !lost.is_empty() {
                    text.push_str(&format!("; not beside {}", lost.join(", ")));
                }
                text
            }
        }
    }

    /// What shares the oven in the plan at hand and would not any more.
    fn lost<'b>(&'b self, company: &'b [String], beside: &[String]) -> Vec<&'b str> {
        company.iter().filter(|id| !beside.contains(id)).map(|id| self.words.title(id)).collect()
    }

    fn cost(&self, more: [i64; 3], later: &BTreeMap<String, Minute>) -> Vec<String> {
        let mut parts = self.later(later);
        if more[0] != 0 && parts.is_empty() {
            parts.push(signed(more[0], "more lateness", "less lateness"));
        }
        if more[1] != 0 {
            parts.push(format!("waiting costs {}", signed(more[1], "more", "less")));
        }
        if more[0] <= 0 && more[1] == 0 && more[2] != 0 {
            parts.push(format!("ovens are hot for {} min", signed(more[2], "more", "less")));
        }
        parts
    }

    fn later(&self, later: &BTreeMap<String, Minute>) -> Vec<String> {
        let say = |(course, by): (&String, &Minute)| {
            let how = if *by > 0 { "later" } else { "sooner" };
            format!("\"{}\" {} {how}", self.words.course(course), minutes(by.abs()))
        };
        later.iter().map(say).collect()
    }
}

fn signed(number: i64, more: &str, less: &str) -> String {
    if number > 0 { format!("{number} {more}") } else { format!("{} {less}", -number) }
}
