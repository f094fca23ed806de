//! Who does what: cooks whom steps name, cooks who may do only some kinds of work, and those who stand by.

use super::found::Found;
use super::graph::{Graph, Job};
use super::stock::duplicate;
use super::ways::{Apart, Mould};
use super::{Draft, words};
use crate::faults::{Code, suggestion};
use crate::feast::Feast;
use crate::kitchen::Cook;
use crate::labels::{CookLabel, Facts, ModeLabel, STAND_BY, StepLabel};
use crate::menu::{Dish, Kind, Named, Step as Written, slug};
use crate::problem::{self, Hours, Link, Minute, Mode, Step, Wait};

/// The cooks of a feast in which it matters who does what.
pub(super) struct People<'a> {
    cooks: &'a [Cook],
}

impl<'a> People<'a> {
    /// `None` if nobody is named and everybody may do everything: then hands are only counted.
    pub(super) fn of(feast: &'a Feast) -> Option<People<'a>> {
        let cooks = if feast.menu.cooks.is_empty() { &feast.kitchen.cooks } else { &feast.menu.cooks };
        let touched = |step: &Written| {
            let ways = std::iter::once(&step.way).chain(&step.ways);
            ways.flat_map(|way| &way.touches).any(|touch| !touch.cooks.is_empty())
        };
        let step = |step: &Written| !step.cooks.is_empty() || !step.with.is_empty() || touched(step);
        let dish = |dish: &Dish| !dish.cooks.is_empty() || dish.steps.iter().any(step);
        let matters = cooks.iter().any(|cook| !cook.only.is_empty()) || feast.menu.dishes.iter().any(dish);
        matters.then_some(People { cooks })
    }

    /// The cooks as the problem names them: by their names.
    pub(super) fn named(&self, labels: &[CookLabel], found: &mut Found<'_>) -> Vec<problem::Cook> {
        for (number, cook) in self.cooks.iter().enumerate() {
            if self.cooks[..number].iter().any(|other| slug(&other.name) == slug(&cook.name)) {
                duplicate(&cook.name, "cook", cook.origin, found);
            }
        }
        let hours = |&[start, end]: &[Minute; 2]| Hours { start, end };
        let cook =
            |cook: &CookLabel| problem::Cook { id: cook.name.clone(), shifts: cook.shifts.iter().map(hours).collect() };
        labels.iter().map(cook).collect()
    }

    /// Says of each step who may do it, and adds what others do meanwhile.
    pub(super) fn assign(
        &self,
        feast: &Feast,
        graph: &Graph<'_>,
        moulds: &[Vec<Mould<'_>>],
        draft: &mut Draft,
        found: &mut Found<'_>,
    ) {
        for ((number, job), moulds) in graph.jobs.iter().enumerate().zip(moulds) {
            let dish = &feast.menu.dishes[job.dish];
            let named = if job.step.cooks.is_empty() { &dish.cooks } else { &job.step.cooks };
            let Some(who) = self.who(named, job, found) else { continue };
            let Some(step) = draft.steps.get_mut(number) else { continue };
            for mode in step.modes.iter_mut().filter(|mode| is_busy(mode)) {
                mode.who.clone_from(&who);
            }
            let least = step.modes.iter().map(|mode| mode.hands).min().unwrap_or(0);
            if let Some(who) = who.as_ref().filter(|who| usize::try_from(least).is_ok_and(|least| least > who.len())) {
                let cause = format!(
                    "{:?} needs {least} pairs of hands, and only {} may do it",
                    title(job, dish),
                    crate::faults::and(who)
                );
                found.field(
                    Code::NotEnough,
                    job.step.origin,
                    "cook",
                    cause,
                    "name another cook, or ask for fewer hands",
                );
            }
            let planned = step.modes.iter().map(|mode| mode.min).max().unwrap_or(0);
            self.beside(job, dish, who.as_deref(), planned, draft, found);
            self.apart(job, dish, moulds, draft, found);
        }
    }

    /// The ids of those who may do a step: `Some(None)` is anybody, `None` nobody, which is noted.
    fn who(&self, named: &[Named], job: &Job<'_>, found: &mut Found<'_>) -> Option<Option<Vec<String>>> {
        let kind = &job.step.kind;
        let may = |cook: &&Cook| cook.only.is_empty() || cook.only.iter().any(|own| own == kind.word());
        if named.is_empty() {
            let who: Vec<String> = self.cooks.iter().filter(may).map(|cook| cook.name.clone()).collect();
            if who.is_empty() && !self.cooks.is_empty() {
                let cause = format!("no cook may do this: {kind} is in nobody's \"only\"");
                let remedy = "add the kind to a cook's \"only\", or call in another cook";
                found.add(Code::NotEnough, job.step.origin, cause, remedy);
                return None;
            }
            return Some((who.len() < self.cooks.len()).then_some(who));
        }
        let mut who = Vec::new();
        for name in named {
            let cook = self.find(name, found)?;
            if !may(&cook) {
                let cause = format!("{} may do only {}, and this is {kind}", cook.name, crate::faults::and(&cook.only));
                let remedy = "name another cook, or add the kind to what this one may do";
                found.add(Code::Contradiction, name.origin, cause, remedy);
                return None;
            }
            if !who.contains(&cook.name) {
                who.push(cook.name.clone());
            }
        }
        Some(Some(who))
    }

    fn find(&self, named: &Named, found: &mut Found<'_>) -> Option<&'a Cook> {
        let cook = self.cooks.iter().find(|cook| slug(&cook.name) == slug(&named.name));
        if cook.is_none() {
            let remedy = match self.cooks {
                [] => format!("add cooks: [Cook({:?}, [\"13:00 to 21:30\"])] to the menu or its kitchen", named.name),
                cooks => suggestion(&named.name, cooks.iter().map(|cook| cook.name.as_str())),
            };
            found.add(Code::UnknownName, named.origin, format!("there is no cook {:?}", named.name), remedy);
        }
        cook
    }

    /// Those who are there besides.
    fn beside(
        &self,
        job: &Job<'_>,
        dish: &Dish,
        who: Option<&[String]>,
        planned: Minute,
        draft: &mut Draft,
        found: &mut Found<'_>,
    ) {
        for (number, with) in job.step.with.iter().enumerate() {
            let Some(cook) = self.find(&with.cook, found) else { continue };
            if who.is_some_and(|who| who == [cook.name.clone()]) {
                let cause = format!("{} does this, and cannot be there besides", cook.name);
                found.add(Code::Contradiction, with.cook.origin, cause, "name somebody else, or leave out \"with\"");
            }
            let minutes = with.first.unwrap_or(planned);
            if minutes > planned {
                let cause = format!("{} is to be there for {minutes} min of a step of {planned}", cook.name);
                found.field(Code::TooShort, job.step.origin, "with", cause, "shorten it, or leave it out");
                continue;
            }
            let title = format!("Be there: {}", words::mid_sentence(&title(job, dish)));
            let other = Other { name: nth("with", number), title, at: 0, minutes, who: vec![cook.name.clone()] };
            draft.meanwhile(job, other);
        }
    }

    /// Touches that are another cook's.
    fn apart(&self, job: &Job<'_>, dish: &Dish, moulds: &[Mould<'_>], draft: &mut Draft, found: &mut Found<'_>) {
        let Some(first) = moulds.first().map(Mould::apart) else { return };
        let alike = |own: &Mould<'_>| own.apart().iter().map(Apart::what).eq(first.iter().map(Apart::what));
        if !moulds.iter().all(alike) {
            let cause = "a touch with a cook of its own comes at other minutes in another way of this step";
            let remedy = "let it come at the same minute in every way, or name the cook for the step";
            found.field(Code::Contradiction, job.step.origin, "touches", cause, remedy);
            return;
        }
        for (number, touch) in first.iter().enumerate() {
            let who: Option<Vec<String>> =
                touch.cooks.iter().map(|name| self.find(name, found).map(|cook| cook.name.clone())).collect();
            let Some(mut who) = who else { continue };
            who.dedup();
            let title = format!("{}: {}", touch.does, dish.name);
            let other = Other { name: nth("touch", number), title, at: touch.at, minutes: touch.takes, who };
            draft.meanwhile(job, other);
        }
    }
}

/// What somebody else does while a step runs.
struct Other {
    /// The end of its id.
    name: String,
    title: String,
    /// Minutes after the start of the step.
    at: Minute,
    minutes: Minute,
    who: Vec<String>,
}

impl Draft {
    /// A step of its own that is tied to another by the minute: it begins so many minutes after that one does.
    fn meanwhile(&mut self, job: &Job<'_>, other: Other) {
        let Some(dish) = self.labels.get(&job.id).map(|label| label.dish.clone()) else { return };
        let id = format!("{}.{}", job.id, other.name);
        let label = StepLabel {
            title: other.title,
            kind: Kind::Other(STAND_BY.to_owned()),
            dish: dish.clone(),
            look: None,
            note: None,
            cautions: Vec::new(),
            facts: Facts::default(),
            roasting: None,
            stands: None,
            modes: vec![ModeLabel::default()],
        };
        let mode = Mode { hands: 1, who: Some(other.who), ..Mode::at_counter(other.minutes, other.minutes) };
        self.labels.insert(id.clone(), label);
        self.steps.push(Step {
            id: id.clone(),
            dish,
            kind: STAND_BY.to_owned(),
            earliest: None,
            latest: None,
            wait: Wait::default(),
            modes: vec![mode],
        });
        // end(other) - at - minutes = start(job): a link forward whose gap is negative, so that it holds for every mode.
        let gap = other.at.saturating_add(other.minutes).saturating_neg();
        self.links.push(Link {
            from: id,
            to: job.id.clone(),
            min: gap,
            max: Some(gap),
            stay: false,
            wait: Wait::default(),
            pools: std::collections::BTreeMap::new(),
        });
    }
}

/// Whether anything in it is done by hand.
fn is_busy(mode: &Mode) -> bool {
    mode.hands > 0 || mode.load > 0 || mode.unload > 0 || !mode.touches.is_empty()
}

fn title(job: &Job<'_>, dish: &Dish) -> String {
    words::title(job.step, dish, &job.defaults)
}

/// `with`, then `with-2`.
fn nth(name: &str, number: usize) -> String {
    if number == 0 { name.to_owned() } else { format!("{name}-{}", number + 1) }
}

#[cfg(test)]
mod tests;
