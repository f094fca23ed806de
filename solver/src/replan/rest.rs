//! What is still to be done, as a problem of its own that begins now.
//!
//! What is done is dropped; where something still to come follows it, an empty step at `now` stands for it, and the gap of
//! the link is shifted by the minutes that have gone by, so that its limits and its waiting are those of the menu. What
//! runs is a step that starts now and has its remaining minutes. So an ordinary search plans the rest, and the ordinary
//! checker checks it.

use std::collections::{BTreeMap, BTreeSet};

use rangewright_models::check::cost;
use rangewright_models::day::Stage;
use rangewright_models::plan::{Hands, Piece, Plan, PlannedStep, Status};
use rangewright_models::problem::{After, Course, Link, Minute, Mode, Place, Problem, Shift, Sink, Step, Wait};

use super::price::{STRETCH, may_last, overdue};
use super::shift::Given;
use super::today::{Today, in_passing};

/// How much of the menu the rest must still keep to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Strictness {
    /// All of it.
    Menu,
    /// Courses may be later than the menu allows, and rules of how long food may wait are for sale: see [`price`](super::price).
    Facts,
    /// The cooks stay longer as well.
    Late,
    /// However long food waits: it is ready when it is ready. What cooks does not cook for longer.
    Anything,
    /// What runs, though it cannot run at once by the rules, runs out; only then does anything else begin.
    InTurn,
}

impl Strictness {
    /// From all that the menu asks for to the least.
    pub(super) const ALL: [Strictness; 5] =
        [Strictness::Menu, Strictness::Facts, Strictness::Late, Strictness::Anything, Strictness::InTurn];
}

/// Beyond any sensible gap.
const EVER: Minute = 43_200;
/// So late a course may be before the cooks have to stay for it, minutes: a search has a table of every minute up to it.
const LATEST: Minute = 360;
/// How long the cooks stay if they must, minutes.
const OVERTIME: Minute = 240;

/// The rest as a problem.
#[derive(Clone)]
pub(super) struct Rest {
    pub(super) problem: Problem,
    /// For each step that is planned, the index in today's problem of each of its modes.
    modes: BTreeMap<String, Vec<usize>>,
}

impl Rest {
    /// `None` if nothing is left to be planned.
    pub(super) fn new(today: &Today<'_>, strictness: Strictness, given: &BTreeSet<Given>) -> Option<Self> {
        let kept = needed(today);
        let mut builder =
            Builder { today, strictness, given, kept, steps: Vec::new(), links: Vec::new(), modes: BTreeMap::new() };
        builder.add_steps();
        builder.add_links();
        let courses = builder.courses();
        if courses.is_empty() {
            return None;
        }
        let problem = Problem {
            name: today.problem.name.clone(),
            opening: today.now(),
            shifts: builder.shifts(),
            cooks: today.problem.cooks.clone(),
            pools: today.problem.pools.clone(),
            places: builder.places(),
            dishes: today.problem.dishes.clone(),
            courses,
            steps: builder.steps,
            links: builder.links,
        };
        Some(Rest { problem, modes: builder.modes })
    }

    /// The part of a whole plan that is the rest, with its costs; `None` if it makes no sense there.
    pub(super) fn plan(&self, today: &Today<'_>, whole: &Plan) -> Option<Plan> {
        let mut steps = BTreeMap::new();
        for step in &self.problem.steps {
            let planned = match self.modes.get(&step.id) {
                // An empty step stands where its only minutes are.
                None => {
                    let at = step.earliest?;
                    PlannedStep::new(0, at, at)
                }
                Some(modes) => {
                    let own = whole.steps.get(&step.id)?;
                    let mode = modes.iter().position(|&mode| mode == own.mode)?;
                    PlannedStep { mode, start: own.start.max(today.now()), ..own.clone() }
                }
            };
            steps.insert(step.id.clone(), planned);
        }
        let served = self.problem.courses.iter().filter_map(|course| {
            let past = today.day.served.contains_key(&course.id);
            let at = if past { today.now() } else { *whole.served.get(&course.id)? };
            Some((course.id.clone(), at))
        });
        let mut plan = Plan {
            served: served.collect(),
            hands: whole.hands.iter().filter(|hands| self.asks_for(hands, &steps)).cloned().collect(),
            steps,
            lateness: 0,
            waiting: 0,
            hot: 0,
            bounds: [0; 3],
            status: Status::Feasible,
            made_for: None,
        };
        let cost = cost(&self.problem, &plan).ok()?;
        [plan.lateness, plan.waiting, plan.hot] = cost.goals();
        Some(plan)
    }

    /// Whether there is such a piece of work in what is still to be done.
    fn asks_for(&self, hands: &Hands, steps: &BTreeMap<String, PlannedStep>) -> bool {
        let step = self.problem.steps.iter().find(|step| step.id == hands.step);
        let mode = step.and_then(|step| step.modes.get(steps.get(&step.id)?.mode));
        mode.is_some_and(|mode| match hands.piece {
            Piece::Whole => mode.hands > 0,
            Piece::Load => mode.load > 0,
            Piece::Unload => mode.unload > 0,
            Piece::Touch(index) => index < mode.touches.len(),
        })
    }

    /// The whole plan that a plan of the rest makes together with what has happened.
    pub(super) fn whole(&self, today: &Today<'_>, rest: &Plan) -> Plan {
        let mut whole = Plan { steps: BTreeMap::new(), served: BTreeMap::new(), ..rest.clone() };
        for (step, stage) in today.problem.steps.iter().zip(&today.stages) {
            let planned = rest.steps.get(&step.id).zip(self.modes.get(&step.id));
            let planned = match (*stage, planned) {
                (Stage::Done { mode, start, end, .. }, _) => PlannedStep::new(mode, start, end),
                (Stage::Running { mode, start, .. }, Some((own, _))) if !today.interrupted.contains(&step.id) => {
                    PlannedStep::new(mode, start, own.end)
                }
                (_, Some((own, modes))) => {
                    PlannedStep { mode: modes.get(own.mode).copied().unwrap_or(0), ..own.clone() }
                }
                (Stage::Running { mode, start, .. }, None) => {
                    PlannedStep::new(mode, start, (start + step.modes[mode].min).max(today.now()))
                }
                // Nobody needs it any more.
                (Stage::Waiting, None) => continue,
            };
            let touches = today.touched.get(&step.id).cloned().unwrap_or_default();
            let told = today.old.steps.get(&step.id).is_some_and(|old| old.mode == planned.mode);
            let planned = if told { PlannedStep { touches, ..planned } } else { planned };
            whole.steps.insert(step.id.clone(), planned);
        }
        for course in &today.problem.courses {
            let past = today.day.served.get(&course.id);
            if let Some(&at) = past.or_else(|| rest.served.get(&course.id)) {
                whole.served.insert(course.id.clone(), at);
            }
        }
        // Whose hands were on what is done, and on what the rest leaves to whoever is near.
        let stated = |own: &Hands| rest.hands.iter().any(|hands| (&hands.step, hands.piece) == (&own.step, own.piece));
        let known = |own: &Hands| whole.steps.contains_key(&own.step);
        let others = today.old.hands.iter().filter(|own| known(own) && !stated(own)).cloned();
        whole.hands.extend(others.collect::<Vec<Hands>>());
        whole
    }
}

/// Which steps are still needed: what leads to a course that has not been served, and what runs.
fn needed(today: &Today<'_>) -> BTreeSet<usize> {
    let open = today.problem.courses.iter().filter(|course| !today.day.served.contains_key(&course.id));
    let mut kept: BTreeSet<usize> = open.flat_map(|c| &c.sinks).filter_map(|sink| today.index(&sink.step)).collect();
    let mut waiting: Vec<usize> = kept.iter().copied().collect();
    while let Some(step) = waiting.pop() {
        let to = &today.problem.steps[step].id;
        // What is done or runs needs nothing before it any more, unless that was to be done beside it or after it anyway.
        let begun = !matches!(today.stages[step], Stage::Waiting);
        let links = today.problem.links.iter().filter(|link| link.to == *to && !(begun && link.min >= 0));
        for from in links.filter_map(|link| today.index(&link.from)) {
            if kept.insert(from) {
                waiting.push(from);
            }
        }
    }
    // What runs takes up its place and its cook, needed or not.
    kept.extend((0..today.stages.len()).filter(|&step| matches!(today.stages[step], Stage::Running { .. })));
    kept
}

struct Builder<'t, 'a> {
    today: &'t Today<'a>,
    strictness: Strictness,
    given: &'t BTreeSet<Given>,
    kept: BTreeSet<usize>,
    steps: Vec<Step>,
    links: Vec<Link>,
    modes: BTreeMap<String, Vec<usize>>,
}

impl Builder<'_, '_> {
    fn add_steps(&mut self) {
        let today = self.today;
        for index in self.kept.clone() {
            let step = &today.problem.steps[index];
            match today.stages[index] {
                Stage::Done { .. } => self.steps.push(empty(step.id.clone(), &step.dish, today.now())),
                Stage::Running { .. } if today.interrupted.contains(&step.id) => self.add_interrupted(index),
                Stage::Running { mode, start, .. } => self.add_running(index, mode, start),
                Stage::Waiting => self.add_waiting(index),
            }
        }
    }

    fn add_waiting(&mut self, index: usize) {
        let step = &self.today.problem.steps[index];
        let usable = |mode: &usize| self.today.usable(&step.modes[*mode]);
        let modes: Vec<usize> = (0..step.modes.len()).filter(usable).collect();
        let mut own = Step { modes: modes.iter().map(|&mode| step.modes[mode].clone()).collect(), ..step.clone() };
        own.modes.iter_mut().for_each(|mode| self.in_passing(mode));
        if self.strictness > Strictness::Menu || own.latest.is_some_and(|latest| latest <= self.today.now()) {
            own.latest = None;
        }
        let more = self.beyond(&Given::Minutes(own.id.clone()));
        for mode in own.modes.iter_mut().filter(|mode| more > 0 && may_last(step, mode)) {
            mode.wait = Some(overdue(mode.wait.unwrap_or(step.wait), mode.max - mode.min));
            mode.max = mode.max.saturating_add(more).min(EVER);
        }
        if self.strictness == Strictness::InTurn {
            own.earliest = own.earliest.max(Some(self.run_out()));
        }
        self.modes.insert(own.id.clone(), modes);
        self.steps.push(own);
    }

    /// Putting in and taking out is done between two moves of other work, if it must be.
    fn in_passing(&self, mode: &mut Mode) {
        if self.strictness > Strictness::Menu {
            in_passing(mode);
        }
    }

    fn add_running(&mut self, index: usize, mode: usize, start: Minute) {
        let step = &self.today.problem.steps[index];
        let now = self.today.now();
        let gone = (now - start).max(0);
        let mut own = step.modes[mode].clone();
        let wait = later(own.wait.unwrap_or(step.wait), gone - own.min);
        own.min = (own.min - gone).max(1);
        own.unload = own.unload.min(own.min);
        own.max = (own.max - gone).max(own.min);
        let more = self.beyond(&Given::Minutes(step.id.clone()));
        let wait = if more > 0 && may_last(step, &own) { overdue(wait, own.max - own.min) } else { wait };
        if more > 0 && may_last(step, &own) {
            own.max = own.max.saturating_add(more).min(EVER);
        }
        if self.strictness == Strictness::InTurn {
            own = Mode { min: own.min, max: own.min, ..Mode::at_counter(0, 0) };
        }
        own.load = (own.load - gone).max(0).min(own.min - own.unload);
        own.shut = (own.shut - gone).max(0).min(own.min);
        own.touches.retain(|touch| touch.at >= gone);
        own.touches.iter_mut().for_each(|touch| touch.at -= gone);
        self.in_passing(&mut own);
        (own.wait, own.cost) = (Some(wait), 0);
        let rigid = own.min == own.max;
        let latest = if rigid { Some(now + own.min) } else { None };
        if !rigid {
            // It runs: it must not be put off.
            let anchor = format!("{} (runs)", step.id);
            self.steps.push(empty(anchor.clone(), &step.dish, now));
            self.links.push(at_once(anchor, step.id.clone()));
        }
        self.modes.insert(step.id.clone(), vec![mode]);
        self.steps.push(Step { earliest: None, latest, modes: vec![own], ..step.clone() });
    }

    /// What is left of it, in every way that is not the broken one.
    fn add_interrupted(&mut self, index: usize) {
        let step = &self.today.problem.steps[index];
        let was = match self.today.stages[index] {
            Stage::Running { mode, .. } => step.modes[mode].place.clone(),
            _ => None,
        };
        let elsewhere = |&mode: &usize| step.modes[mode].place != was && self.today.usable(&step.modes[mode]);
        let modes: Vec<usize> = (0..step.modes.len()).filter(elsewhere).collect();
        let part = |&mode: &usize| step.modes[mode].clone();
        let own = Step { modes: modes.iter().map(part).collect(), earliest: None, latest: None, ..step.clone() };
        self.modes.insert(own.id.clone(), modes);
        self.steps.push(own);
    }

    fn add_links(&mut self) {
        let (today, now) = (self.today, self.today.now());
        for link in &today.problem.links {
            let (Some(from), Some(to)) = (today.index(&link.from), today.index(&link.to)) else { continue };
            if !self.kept.contains(&from) || !self.kept.contains(&to) {
                continue;
            }
            let over = !matches!(today.stages[to], Stage::Waiting);
            let more = self.beyond(&Given::Gap(link.from.clone(), link.to.clone()));
            let (mut link, mut max) = (link.clone(), link.max);
            if let Some(least) = max.filter(|_| more > 0 && !link.stay) {
                link.wait = overdue(link.wait, least - link.min);
                max = (more < EVER).then_some(least + more);
            }
            match today.stages[from] {
                _ if over => {}
                Stage::Done { end, .. } => {
                    let gone = now - end;
                    // Nothing begins before now.
                    let max = max
                        .map(|max| if self.strictness > Strictness::Menu { (max - gone).max(0) } else { max - gone });
                    self.links.push(Link { min: link.min - gone, max, stay: false, ..link.clone() });
                }
                Stage::Running { .. } | Stage::Waiting => {
                    // What stays in a cavity cannot be parted from it, unless it is no longer taken to be in there.
                    let gone = today.interrupted.contains(&link.from)
                        || self.strictness == Strictness::InTurn && matches!(today.stages[from], Stage::Running { .. });
                    let stay = link.stay && !gone;
                    let max = if stay { link.max } else { max.filter(|_| !link.stay) };
                    self.links.push(Link { max, stay, ..link.clone() });
                }
            }
        }
        // A step that leads nowhere any more may still be running: it is tied loosely to something that leads somewhere.
        let sinks: Vec<String> = self.open_courses().flat_map(|course| &course.sinks).map(|s| s.step.clone()).collect();
        let leads =
            |id: &str, links: &[Link]| links.iter().any(|link| link.from == id) || sinks.iter().any(|s| s == id);
        let lost: Vec<String> =
            self.steps.iter().filter(|step| !leads(&step.id, &self.links)).map(|step| step.id.clone()).collect();
        let waiting = |id: &&String| self.steps.iter().any(|step| step.id == **id);
        if let Some(sink) = sinks.iter().find(waiting) {
            for from in lost {
                let link = Link { min: -EVER, max: None, ..at_once(from, sink.clone()) };
                self.links.push(link);
            }
        }
    }

    /// When what runs will have run out.
    fn run_out(&self) -> Minute {
        let left = |&index: &usize| match self.today.stages[index] {
            Stage::Running { mode, start, .. } => {
                let step = &self.today.problem.steps[index];
                (!self.today.interrupted.contains(&step.id)).then(|| start + step.modes[mode].min)
            }
            Stage::Done { .. } | Stage::Waiting => None,
        };
        self.kept.iter().filter_map(left).fold(self.today.now(), Minute::max)
    }

    /// By how many minutes a rule may be passed, at its price.
    fn beyond(&self, limit: &Given) -> Minute {
        if self.strictness >= Strictness::Anything || self.given.contains(limit) {
            EVER
        } else if self.strictness > Strictness::Menu {
            STRETCH
        } else {
            0
        }
    }

    fn open_courses(&self) -> impl Iterator<Item = &Course> {
        let served = &self.today.day.served;
        self.today.problem.courses.iter().filter(|course| !served.contains_key(&course.id) && !course.sinks.is_empty())
    }

    fn courses(&mut self) -> Vec<Course> {
        let now = self.today.now();
        let mut past: BTreeMap<String, Course> = BTreeMap::new();
        let mut courses: Vec<Course> = Vec::new();
        let open: Vec<Course> = self.open_courses().cloned().collect();
        for mut course in open {
            let loose = self.strictness > Strictness::Menu;
            if loose {
                let most = EVER - course.serve.clamp(0, EVER);
                let late = (now - course.serve).max(0) + LATEST.max(course.max_slip);
                course.max_slip = if self.strictness == Strictness::Facts { late.min(most) } else { most };
            }
            let apart = self.given.iter().any(|given| matches!(given, Given::Together(own, _) if *own == course.id));
            let pause = self.beyond(&Given::Pause(course.id.clone())) >= EVER;
            if loose {
                course.sinks.iter_mut().for_each(|sink| sink.wait = overdue(sink.wait, course.together));
                course.together = course.together.saturating_add(STRETCH);
            }
            if apart || self.strictness >= Strictness::Anything {
                course.together = EVER;
            }
            // A dish that has been ready for a while has used up some of what it may wait.
            for Sink { step, wait, .. } in &mut course.sinks {
                if let Some(Stage::Done { end, .. }) = self.today.index(step).map(|index| self.today.stages[index]) {
                    *wait = later(*wait, now - end);
                    let left = end + course.together - course.serve;
                    if !loose && left >= (now - course.serve).max(0) {
                        course.max_slip = course.max_slip.min(left);
                    }
                }
            }
            if let Some(after) = course.after.clone() {
                course.after = self.after(after, now, pause, &mut past);
            }
            courses.push(course);
        }
        let mut all: Vec<Course> = past.into_values().collect();
        all.append(&mut courses);
        all
    }

    /// How long after a course that may have been served already.
    fn after(&mut self, after: After, now: Minute, loose: bool, past: &mut BTreeMap<String, Course>) -> Option<After> {
        let Some(&served) = self.today.day.served.get(&after.course) else {
            let known = self.open_courses().any(|course| course.id == after.course);
            return known.then(|| After { max: after.max.filter(|_| !loose), ..after });
        };
        let gone = now - served;
        let own = self.today.problem.courses.iter().find(|course| course.id == after.course)?;
        if !past.contains_key(&own.id) {
            let step = format!("{} (served)", own.id);
            let dish = self.today.problem.dishes.first()?.id.clone();
            self.steps.push(empty(step.clone(), &dish, now));
            let served = Course {
                serve: now,
                max_slip: 0,
                together: EVER,
                sinks: vec![Sink { step, wait: Wait::default(), pools: BTreeMap::new() }],
                after: None,
                ..own.clone()
            };
            past.insert(own.id.clone(), served);
        }
        let max = after.max.filter(|_| !loose).map(|max| (max - gone).max(0));
        Some(After { min: (after.min - gone).max(0), max, ..after })
    }

    fn shifts(&self) -> Vec<Shift> {
        let now = self.today.now();
        let mut shifts: Vec<Shift> = self.today.problem.shifts.clone();
        shifts.retain(|shift| shift.end > now);
        for shift in &mut shifts {
            shift.start = shift.start.max(now);
        }
        if self.strictness >= Strictness::Late {
            // Whoever is there last stays; absences before that are kept.
            let before = self.today.problem.shifts.iter().max_by_key(|shift| shift.end);
            match shifts.iter_mut().max_by_key(|shift| shift.end) {
                Some(last) => last.end = (last.end + OVERTIME).min(EVER),
                None => {
                    shifts.extend(before.map(|last| Shift { start: now, end: (now + OVERTIME).min(EVER), ..*last }));
                }
            }
        }
        if self.strictness >= Strictness::Anything {
            // And then all who were there at once at any time of the day come back.
            let start = shifts.iter().map(|shift| shift.end).max().unwrap_or(now);
            let hands = self.today.problem.shifts.iter().map(|shift| shift.hands).max().unwrap_or(0);
            shifts.push(Shift { start, end: EVER, hands });
        }
        shifts
    }

    fn places(&self) -> Vec<Place> {
        let mut places = self.today.problem.places.clone();
        for place in &mut places {
            if let Place::Cavity(cavity) = place
                && let Some(&air) = self.today.air.get(&cavity.id)
            {
                cavity.t_open = air;
            }
        }
        places
    }
}

/// A wait of which some minutes have gone by.
fn later(wait: Wait, gone: Minute) -> Wait {
    Wait { soft: wait.soft.map(|soft| (soft - gone.max(0)).max(0)), ..wait }
}

/// A step of no minutes that can only be at one.
fn empty(id: String, dish: &str, at: Minute) -> Step {
    Step {
        id,
        dish: dish.to_owned(),
        kind: "done".to_owned(),
        earliest: Some(at),
        latest: Some(at),
        wait: Wait::default(),
        modes: vec![Mode::at_counter(0, 0)],
    }
}

fn at_once(from: String, to: String) -> Link {
    Link { from, to, min: 0, max: Some(0), stay: false, wait: Wait::default(), pools: BTreeMap::new() }
}
