//! Trying each way to share.

use std::collections::BTreeMap;

use rangewright_models::pack::Packer;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Cavity, Link, Minute, Problem, Step, Wait};

use super::obstacle::{alone, crowd, obstacles};
use super::way::Reading;
use super::{Clash, Hindrance, Manner, Not, Sharing, only_dishes, sharing_problem};
use crate::change::{Change, changed};
use crate::probe::{Finding, Probe};
use crate::{Error, Limits};

/// The most that dishes of one course are let come apart in search of what is missing: two hours and a bit.
const APART: Minute = 128;
/// Minutes for which two dishes stand in a cavity together at least, for us to say that they share it (our assumption).
const TOGETHER: Minute = 15;
/// Steps side by side, beside the likeliest ones, that are tried before "no" is no longer said to be proved.
const COMPANIES: usize = 64;
/// What may wait through a night: food that keeps cold costs 1 a minute at most, and a night is half a day.
const NIGHT: i64 = 720;

pub(super) struct Examiner<'a, 'l> {
    problem: &'a Problem,
    cavity: &'a Cavity,
    dishes: &'a [&'a str],
    only: Problem,
    probe: Probe<'l>,
    /// The last serving when the slowest dish is made alone, and what waits when each is.
    alone: Minute,
    waits: i64,
    /// Minutes of each step when its dish is made alone.
    minutes: BTreeMap<String, Minute>,
    sharing: Sharing,
}

impl<'a, 'l> Examiner<'a, 'l> {
    pub(super) fn new(
        problem: &'a Problem,
        cavity: &'a Cavity,
        dishes: &'a [&'a str],
        limits: &Limits<'l>,
        sharing: Sharing,
    ) -> Self {
        let only = sharing_problem(problem, dishes, &cavity.id, Manner::SideBySide);
        let probe = Probe::new(limits);
        Examiner { problem, cavity, dishes, only, probe, alone: 0, waits: 0, minutes: BTreeMap::new(), sharing }
    }

    pub(super) fn examine(mut self) -> Result<Sharing, Error> {
        if !self.each_alone()? {
            return Ok(self.sharing);
        }
        self.name_clashes();
        self.side_by_side()?;
        self.one_at_a_time()?;
        self.across_days()?;
        let mut ways = std::mem::take(&mut self.sharing.ways);
        ways.sort_by_key(|way| (way.cost(), way.manner));
        // The best of each manner says it all.
        for way in ways {
            if !self.found(way.manner) {
                self.sharing.ways.push(way);
            }
        }
        let found: Vec<Manner> = self.sharing.ways.iter().map(|way| way.manner).collect();
        self.sharing.not.retain(|not| !found.contains(&not.manner));
        Ok(self.sharing)
    }

    fn found(&self, manner: Manner) -> bool {
        self.sharing.ways.iter().any(|way| way.manner == manner)
    }

    /// Every dish by itself; false if one of them is not to be made here, or that is not known.
    fn each_alone(&mut self) -> Result<bool, Error> {
        let mut never = Vec::new();
        let mut undecided = false;
        for dish in self.dishes {
            if self.steps_of(dish).next().is_none() {
                never.push((*dish).to_owned());
                continue;
            }
            let problem = only_dishes(&self.only, &[dish]);
            match self.probe.search(&problem, 2)? {
                Finding::Plan(plan) => {
                    self.alone = self.alone.max(last_serving(&plan));
                    self.waits += plan.waiting;
                    let minutes = plan.steps.iter().map(|(id, planned)| (id.clone(), planned.end - planned.start));
                    self.minutes.extend(minutes);
                }
                Finding::None => never.push((*dish).to_owned()),
                Finding::Unknown => undecided = true,
            }
        }
        let manners = [Manner::SideBySide, Manner::InTurn, Manner::AcrossDays];
        if !never.is_empty() {
            for manner in manners {
                self.no(manner, Hindrance::Alone { dishes: never.clone() });
            }
            return Ok(false);
        }
        if undecided {
            for manner in manners {
                self.no(manner, Hindrance::Undecided);
            }
        }
        Ok(!undecided)
    }

    fn no(&mut self, manner: Manner, because: Hindrance) {
        self.sharing.complete &= because != Hindrance::Undecided;
        if !self.sharing.not.iter().any(|not| not.manner == manner) {
            self.sharing.not.push(Not { manner, because });
        }
    }

    /// The steps of a dish that the cavity allows.
    fn steps_of<'s>(&'s self, dish: &'s str) -> impl Iterator<Item = &'s Step> {
        let mut packer = Packer::new();
        let steps = self.only.steps.iter().filter(move |step| step.dish == dish);
        steps.filter(move |step| step.modes.iter().any(|mode| alone(self.cavity, mode, &mut packer)))
    }

    /// Of each two dishes the two steps that come nearest to standing side by side; then of all of them.
    fn name_clashes(&mut self) {
        let mut clashes = Vec::new();
        for (index, first) in self.dishes.iter().enumerate() {
            for second in &self.dishes[index + 1..] {
                let pairs = self.steps_of(first).flat_map(|a| self.steps_of(second).map(move |b| (a, b)));
                let found = pairs.map(|(a, b)| (a, b, obstacles(self.cavity, a, b)));
                if let Some((a, b, found)) = found.min_by_key(|(_, _, found)| found.len())
                    && !found.is_empty()
                {
                    clashes.push(Clash { steps: vec![a.id.clone(), b.id.clone()], obstacles: found });
                }
            }
        }
        if clashes.is_empty() && self.dishes.len() > 2 {
            let longest = |dish: &&'a str| self.steps_of(dish).max_by_key(|step| least(step));
            let steps: Vec<&Step> = self.dishes.iter().filter_map(longest).collect();
            if let Some(crowd) = crowd(self.cavity, &steps) {
                let ids = steps.iter().map(|step| step.id.clone()).collect();
                clashes.push(Clash { steps: ids, obstacles: vec![super::Obstacle::Room(crowd)] });
            }
        }
        self.sharing.clashes = clashes;
    }

    /// Some step of every other dish starts while a step of one dish is in the cavity, and stands beside it for a while.
    fn side_by_side(&mut self) -> Result<(), Error> {
        // With the longest guests first: mostly they settle it.
        let (problems, others) = self.companies();
        let mut found = false;
        for problem in &problems {
            found |= self.attempt(problem, Manner::SideBySide)?;
        }
        let mut others = others.into_iter();
        for problem in others.by_ref().take(COMPANIES) {
            found = found || self.attempt(&problem, Manner::SideBySide)?;
        }
        if !found && others.next().is_some() {
            self.no(Manner::SideBySide, Hindrance::Undecided);
        }
        if !found {
            let because = match problems.first() {
                None => Hindrance::Clash,
                Some(_) if !self.sharing.clashes.is_empty() => Hindrance::Clash,
                Some(problem) => self.missing_minutes(problem)?,
            };
            self.no(Manner::SideBySide, because);
        }
        Ok(())
    }

    /// For each step that may be host to one of every other dish a problem in which it is: with the longest guests, and with
    /// any other guests.
    fn companies(&self) -> (Vec<Problem>, Vec<Problem>) {
        let (mut longest, mut others) = (Vec::new(), Vec::new());
        for host_dish in self.dishes {
            for host in self.steps_of(host_dish) {
                let guests = self.dishes.iter().filter(|dish| *dish != host_dish);
                let fitting = guests.map(|dish| {
                    let fits = |step: &&Step| obstacles(self.cavity, host, step).is_empty();
                    let mut fitting: Vec<&Step> = self.steps_of(dish).filter(fits).collect();
                    // Of equally long ones the last.
                    fitting.reverse();
                    fitting.sort_by_key(|step| std::cmp::Reverse(least(step)));
                    fitting
                });
                let mut companies: Vec<Vec<&Step>> = vec![Vec::new()];
                for guests in fitting {
                    companies = companies
                        .iter()
                        .flat_map(|company| guests.iter().map(|guest| [&company[..], &[*guest]].concat()))
                        .take(COMPANIES + 2)
                        .collect();
                }
                let mut problems = companies.iter().map(|company| self.beside(host, company));
                longest.extend(problems.next());
                others.extend(problems);
            }
        }
        (longest, others)
    }

    /// These steps start while the host is in the cavity, and stand beside it for a while.
    fn beside(&self, host: &Step, guests: &[&Step]) -> Problem {
        let mut problem = self.only.clone();
        let longest = host.modes.iter().map(|mode| mode.max).max().unwrap_or(0);
        for guest in guests {
            let beside = least(guest).min(TOGETHER).min(longest);
            problem.links.push(link(&host.id, &guest.id, -longest, Some(-beside)));
        }
        problem
    }

    /// Never pans of two dishes at a time: in turn, or one while the other rests.
    fn one_at_a_time(&mut self) -> Result<(), Error> {
        let problem = one_at_a_time(&self.only, &self.cavity.id);
        if self.attempt(&problem, Manner::InTurn)? {
            return Ok(());
        }
        if !self.sharing.not.iter().any(|not| not.manner == Manner::InTurn) {
            let because = self.missing_minutes(&problem)?;
            self.no(Manner::InTurn, because);
        }
        Ok(())
    }

    /// How much further apart the dishes of one course would have to come. "The least" and "no plan" are only said where no
    /// search was given up.
    fn missing_minutes(&mut self, problem: &Problem) -> Result<Hindrance, Error> {
        let mut because = Hindrance::NoPlan;
        for course in problem.courses.iter().filter(|course| course.sinks.len() > 1) {
            let (mut too_little, mut enough) = (0, APART);
            match self.possible_apart(problem, &course.id, enough)? {
                Some(true) => {}
                Some(false) => continue,
                None => {
                    because = Hindrance::Undecided;
                    continue;
                }
            }
            while enough - too_little > 1 {
                let middle = (enough + too_little) / 2;
                match self.possible_apart(problem, &course.id, middle)? {
                    Some(true) => enough = middle,
                    Some(false) => too_little = middle,
                    None => {
                        self.sharing.complete = false;
                        too_little = middle;
                    }
                }
            }
            return Ok(Hindrance::Minutes { course: course.id.clone(), minutes: enough });
        }
        Ok(because)
    }

    /// Nothing where a limit came first.
    fn possible_apart(&mut self, problem: &Problem, course: &str, minutes: Minute) -> Result<Option<bool>, Error> {
        let change = [Change::SpreadOut { course: course.to_owned(), minutes }];
        Ok(match self.probe.search_as(&changed(problem, &change), &changed(&self.only, &change), 0)? {
            Finding::Plan(_) => Some(true),
            Finding::None => Some(false),
            Finding::Unknown => None,
        })
    }

    /// One dish has the cavity on the day before.
    fn across_days(&mut self) -> Result<(), Error> {
        let whole = sharing_problem(self.problem, self.dishes, &self.cavity.id, Manner::AcrossDays);
        // The day's own opening is where the work of the day before has long ended.
        let cooks = whole.cooks.first().and_then(|cook| cook.shifts.first()).map(|hours| hours.end);
        let evening = whole.shifts.first().map(|shift| shift.end).or(cooks).unwrap_or(whole.opening);
        let opening = whole.courses.iter().map(|course| course.serve).min().unwrap_or(whole.opening);
        let mut because = Hindrance::NoPlan;
        for first in self.dishes {
            let own: Vec<String> = self.steps_of(first).map(|step| step.id.clone()).collect();
            let mut problem = whole.clone();
            for step in &mut problem.steps {
                if own.contains(&step.id) {
                    step.latest = Some(evening);
                } else if step.dish != *first {
                    step.earliest = Some(opening);
                }
            }
            if !problem.faults().is_empty() {
                // A day that cannot be put in before says nothing of the dishes.
                because = Hindrance::Undecided;
                continue;
            }
            match self.probe.search(&problem, 2)? {
                Finding::Plan(plan) if plan.waiting - self.waits > NIGHT => {
                    // A dearer plan than the best one says nothing of the best one.
                    let proved = plan.bounds[0] == plan.lateness && plan.bounds[1] - self.waits > NIGHT;
                    because = if proved && because != Hindrance::Undecided {
                        Hindrance::DoesNotKeep
                    } else {
                        Hindrance::Undecided
                    };
                }
                Finding::Plan(plan) => {
                    let later = last_serving(&plan) - opening - (self.alone - self.only.opening);
                    self.keep(&whole, &plan, Manner::AcrossDays, later);
                }
                Finding::None => {}
                Finding::Unknown => because = Hindrance::Undecided,
            }
        }
        if because == Hindrance::Undecided || !self.found(Manner::AcrossDays) {
            self.no(Manner::AcrossDays, because);
        }
        Ok(())
    }

    /// Plans one way. False: there is none, or none was found.
    fn attempt(&mut self, problem: &Problem, manner: Manner) -> Result<bool, Error> {
        match self.probe.search_as(problem, &self.only, 2)? {
            Finding::Plan(plan) => {
                let reading = Reading { cavity: self.cavity, problem: &self.only, plan: &plan };
                let own = reading.manner();
                let only = self.only.clone();
                self.keep(&only, &plan, own, last_serving(&plan) - self.alone);
                Ok(true)
            }
            Finding::None => Ok(false),
            Finding::Unknown => {
                self.no(manner, Hindrance::Undecided);
                Ok(false)
            }
        }
    }

    fn keep(&mut self, problem: &Problem, plan: &Plan, manner: Manner, later: Minute) {
        let reading = Reading { cavity: self.cavity, problem, plan };
        let way = reading.way(manner, later, plan.waiting - self.waits, &self.minutes);
        self.sharing.complete &= way.proved;
        self.sharing.ways.push(way);
    }
}

/// Steps of different dishes that go into the cavity each need one thing of which there is one; pans of the same dish may
/// stand together.
fn one_at_a_time(problem: &Problem, place: &str) -> Problem {
    let mut problem = problem.clone();
    let goes_in = |step: &Step| step.modes.iter().any(|mode| mode.place.as_deref() == Some(place));
    let inside: Vec<usize> = (0..problem.steps.len()).filter(|&index| goes_in(&problem.steps[index])).collect();
    for (number, &first) in inside.iter().enumerate() {
        for &second in &inside[number + 1..] {
            if problem.steps[first].dish == problem.steps[second].dish {
                continue;
            }
            let turn = format!("{} or {}", problem.steps[first].id, problem.steps[second].id);
            for index in [first, second] {
                let modes = problem.steps[index].modes.iter_mut();
                for mode in modes.filter(|mode| mode.place.as_deref() == Some(place)) {
                    mode.pools.insert(turn.clone(), 1);
                }
            }
            problem.pools.insert(turn, 1);
        }
    }
    problem
}

fn link(from: &str, to: &str, min: Minute, max: Option<Minute>) -> Link {
    Link {
        from: from.to_owned(),
        to: to.to_owned(),
        min,
        max,
        stay: false,
        wait: Wait::default(),
        pools: BTreeMap::new(),
    }
}

fn least(step: &Step) -> Minute {
    step.modes.iter().map(|mode| mode.min).min().unwrap_or(0)
}

fn last_serving(plan: &Plan) -> Minute {
    plan.served.values().copied().max().unwrap_or(0)
}
