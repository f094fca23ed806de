//! Which step follows which: ids, references, links, circles.

use std::collections::BTreeMap;

use super::found::Found;
use super::stock::duplicate;
use crate::blocks::{Defaults, defaults};
use crate::caution::Nature;
use crate::faults::{Code, Origin, suggestion};
use crate::feast::Feast;
use crate::hazard::warms;
use crate::labels::Warmth;
use crate::larder::eaters;
use crate::menu::{Dish, Interval, Keeps, Named, Step, slug};

const AT_ONCE: Interval = Interval { min: 0, max: Some(0) };

/// A step of the menu among all steps of all dishes.
pub(super) struct Job<'a> {
    pub(super) id: String,
    pub(super) dish: usize,
    pub(super) step: &'a Step,
    pub(super) defaults: Defaults,
}

/// `to` follows `from`; both are indices of jobs.
pub(super) struct Arc {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) gap: Interval,
    /// The menu says so, or the kind of the later step does if the earlier one is in an oven.
    pub(super) stay: bool,
    pub(super) stay_said: bool,
    pub(super) keeps: Option<Keeps>,
    pub(super) origin: Origin,
}

pub(super) struct Graph<'a> {
    pub(super) dish_ids: Vec<String>,
    pub(super) jobs: Vec<Job<'a>>,
    pub(super) arcs: Vec<Arc>,
    /// The jobs so that each comes after all that it follows; absent if there is a circle.
    pub(super) order: Option<Vec<usize>>,
}

impl<'a> Graph<'a> {
    pub(super) fn new(feast: &'a Feast, found: &mut Found<'_>) -> Graph<'a> {
        let mut graph = Graph { dish_ids: Vec::new(), jobs: Vec::new(), arcs: Vec::new(), order: None };
        let mut index = Index::default();
        for (number, dish) in feast.menu.dishes.iter().enumerate() {
            let guests = dish.share.map_or(feast.menu.guests, |_| eaters(&feast.menu, dish).0);
            graph.add_dish(number, dish, guests, &mut index, found);
        }
        graph.add_arcs(feast, &index, found);
        graph.order = graph.sort(found);
        graph
    }

    fn add_dish(&mut self, number: usize, dish: &'a Dish, guests: i64, index: &mut Index, found: &mut Found<'_>) {
        let dish_id = slug(&dish.name);
        if index.dishes.insert(dish_id.clone(), number).is_some() {
            duplicate(&dish.name, "dish", dish.origin, found);
        }
        if dish.steps.is_empty() {
            let remedy = "add steps: [Prep(\"Peel and dice\", \"20 min\")]";
            found.field(Code::NothingIn, dish.origin, "steps", format!("{} has no steps", dish.name), remedy);
        }
        let mut used: BTreeMap<String, usize> = BTreeMap::new();
        let said: Vec<String> = dish.steps.iter().filter_map(|step| step.id.as_deref()).map(slug).collect();
        let first = self.jobs.len();
        for step in &dish.steps {
            let base = step.id.as_deref().map_or_else(|| slug(step.kind.word()), slug);
            let count = used.entry(base.clone()).or_insert(0);
            *count += 1;
            let local = match (&step.id, *count) {
                (Some(name), 2..) => {
                    duplicate(name, "step of this dish", step.origin, found);
                    continue;
                }
                (None, _) if said.contains(&base) => format!("{base}-{}", *count + 1),
                (_, 1) => base,
                (_, count) => format!("{base}-{count}"),
            };
            let local = if local.is_empty() { format!("step-{}", self.jobs.len() - first + 1) } else { local };
            index.steps.entry(number).or_default().push((local.clone(), self.jobs.len()));
            let defaults = defaults(&step.kind, guests);
            self.jobs.push(Job { id: format!("{dish_id}/{local}"), dish: number, step, defaults });
        }
        self.dish_ids.push(dish_id);
    }

    fn add_arcs(&mut self, feast: &Feast, index: &Index, found: &mut Found<'_>) {
        for to in 0..self.jobs.len() {
            let Job { step, dish, ref defaults, .. } = self.jobs[to];
            let before: Vec<usize> = match &step.after {
                None => self
                    .first_pan(to)
                    .checked_sub(1)
                    .filter(|&before| self.jobs[before].dish == dish)
                    .map_or_else(Vec::new, |last| self.pans(self.first_pan(last))),
                Some(named) => {
                    let found = named.iter().filter_map(|name| index.find(name, Some(dish), feast, found));
                    found.flat_map(|job| self.pans(job)).collect()
                }
            };
            let stay = step.stay.unwrap_or(defaults.stay);
            let before = self.own_pan(to, before, stay);
            // What follows several pans at once if nothing is said begins when the last of them is there.
            let several = before.iter().any(|&from| self.pans(self.first_pan(from)).len() > 1) && before.len() > 1;
            let usual = match defaults.gap {
                AT_ONCE if several => Interval { min: 0, max: None },
                gap => gap,
            };
            for from in before {
                self.arcs.push(Arc {
                    from,
                    to,
                    gap: step.gap.unwrap_or(if step.stay == Some(true) { AT_ONCE } else { usual }),
                    stay,
                    stay_said: step.stay == Some(true),
                    keeps: None,
                    origin: step.origin,
                });
            }
        }
        for tie in &feast.menu.ties {
            let ends = [&tie.from, &tie.to].map(|name| index.find(name, None, feast, found));
            if let [Some(from), Some(to)] = ends {
                let Interval { min, max } = tie.gap;
                let gap = Interval { min, max };
                let (stay, stay_said) = (false, false);
                self.arcs.push(Arc { from, to, gap, stay, stay_said, keeps: tie.keeps, origin: tie.origin });
            }
        }
    }

    /// Of what comes before one of several pans, or one of several joints, that which is in it, where it stays in its oven or is a
    /// joint: each goes its own way from stage to stage.
    fn own_pan(&self, job: usize, before: Vec<usize>, stay: bool) -> Vec<usize> {
        let pans = self.pans(self.first_pan(job));
        let joints = self.jobs[job].step.piece.is_some()
            && before.iter().all(|&from| self.jobs[from].step.piece == self.jobs[job].step.piece);
        if pans.len() < 2 || pans.len() != before.len() || !(stay || joints) {
            return before;
        }
        pans.iter().zip(&before).filter(|(pan, _)| **pan == job).map(|(_, &from)| from).collect()
    }

    /// The first of the equal pans that a job is one of; mostly itself.
    fn first_pan(&self, job: usize) -> usize {
        (0..=job).rev().find(|&first| !self.jobs[first].step.beside).unwrap_or(job)
    }

    /// A job, and the equal pans after it.
    fn pans(&self, first: usize) -> Vec<usize> {
        let more = self.jobs[first + 1..].iter().take_while(|job| job.step.beside).count();
        (first..=first + more).collect()
    }

    /// Jobs in an order in which links only lead forward; a circle is named step by step.
    fn sort(&self, found: &mut Found<'_>) -> Option<Vec<usize>> {
        let mut waits_for = vec![0_usize; self.jobs.len()];
        let mut followers = vec![Vec::new(); self.jobs.len()];
        for arc in &self.arcs {
            waits_for[arc.to] += 1;
            followers[arc.from].push(arc.to);
        }
        let mut order: Vec<usize> = (0..self.jobs.len()).filter(|&job| waits_for[job] == 0).collect();
        let mut next = 0;
        while let Some(&job) = order.get(next) {
            next += 1;
            for &follower in &followers[job] {
                waits_for[follower] -= 1;
                if waits_for[follower] == 0 {
                    order.push(follower);
                }
            }
        }
        let Some(start) = (0..self.jobs.len()).find(|&job| waits_for[job] > 0) else { return Some(order) };
        // Every job that is left waits for another one that is left: going back must come round.
        let mut back: BTreeMap<usize, usize> = BTreeMap::new();
        for arc in self.arcs.iter().filter(|arc| waits_for[arc.from] > 0) {
            back.entry(arc.to).or_insert(arc.from);
        }
        let mut path = vec![start];
        while let Some(&before) = path.last().and_then(|job| back.get(job)) {
            if let Some(at) = path.iter().position(|&job| job == before) {
                let mut circle = path.split_off(at);
                circle.reverse();
                self.circle(&circle, found);
                break;
            }
            path.push(before);
        }
        None
    }

    /// What has been and what will be done to the food of each job, as far as heat goes; nothing if there is a circle.
    pub(super) fn natures(&self) -> Vec<Nature> {
        let mut natures = vec![Nature::default(); self.jobs.len()];
        let order = self.order.as_deref().unwrap_or_default();
        let hot = |job: usize| warms(self.jobs[job].step) != Warmth::None;
        let through = |job: usize| warms(self.jobs[job].step) == Warmth::Through;
        for &to in order {
            let before: Vec<usize> = self.arcs.iter().filter(|arc| arc.to == to).map(|arc| arc.from).collect();
            natures[to].cooked = before.iter().any(|&from| hot(from) || natures[from].cooked);
            natures[to].through = before.iter().any(|&from| through(from) || natures[from].through);
        }
        for &from in order.iter().rev() {
            let after = self.arcs.iter().filter(|arc| arc.from == from);
            natures[from].to_be_cooked = after.map(|arc| arc.to).any(|to| hot(to) || natures[to].to_be_cooked);
        }
        natures
    }

    fn circle(&self, circle: &[usize], found: &mut Found<'_>) {
        let names: Vec<String> =
            circle.iter().chain(circle.first()).map(|&job| format!("\"{}\"", self.jobs[job].id)).collect();
        let cause = format!("these steps wait for each other in a circle: {}", names.join(", then "));
        // A step that names what it follows is likelier to be wrong than one that follows the written order.
        let named = circle.iter().find(|&&job| self.jobs[job].step.after.is_some());
        let origin = named.or(circle.first()).map_or(Origin::default(), |&job| self.jobs[job].step.origin);
        found.field(Code::Circle, origin, "after", cause, "take one of these links out");
    }
}

/// What steps are called.
#[derive(Default)]
struct Index {
    dishes: BTreeMap<String, usize>,
    steps: BTreeMap<usize, Vec<(String, usize)>>,
}

impl Index {
    /// The job that is meant by `step` within a dish, `dish/step`, or `dish` for its last step.
    fn find(&self, named: &Named, within: Option<usize>, feast: &Feast, found: &mut Found<'_>) -> Option<usize> {
        let steps = |dish: usize| self.steps.get(&dish).map_or(&[][..], Vec::as_slice);
        let step = |dish: usize, name: &str| steps(dish).iter().find(|(local, _)| *local == name).map(|(_, job)| *job);
        let dish = |name: &str| self.dishes.get(&slug(name)).copied();
        let job = match named.name.split_once('/') {
            Some((of, name)) => dish(of).and_then(|dish| step(dish, &slug(name))),
            None => within
                .and_then(|within| step(within, &slug(&named.name)))
                .or_else(|| dish(&named.name).and_then(|dish| steps(dish).last().map(|(_, job)| *job))),
        };
        if job.is_none() {
            let inside = named.name.split_once('/').map_or(within, |(of, _)| dish(of));
            let (of, known): (String, Vec<&str>) = match inside {
                Some(number) => {
                    let of = feast.menu.dishes.get(number).map_or("", |dish| &dish.name);
                    (format!(" in {of:?}"), steps(number).iter().map(|(local, _)| local.as_str()).collect())
                }
                None => (String::new(), self.dishes.keys().map(String::as_str).collect()),
            };
            let wrong = named.name.split_once('/').filter(|_| inside.is_some()).map_or(named.name.as_str(), |(_, s)| s);
            let cause = format!("there is no step {:?}{of}", named.name);
            found.add(Code::UnknownName, named.origin, cause, suggestion(wrong, known.into_iter()));
        }
        job
    }
}
