//! All plans of a tiny problem, one after the other: what is the best, and is there any?
//!
//! Everything is counted minute by minute, straight from the meaning of a plan. Steps are taken from the last to the
//! first; a beginning of a plan is given up only when it breaks a rule itself or already costs more than a whole plan
//! does (no step that is added makes anything cheaper).

use std::cell::RefCell;
use std::collections::BTreeMap;

use rangewright::models::plan::{Hands, Plan, PlannedStep, Status};
use rangewright::models::problem::{Cavity, Mode, Place, Problem, Sink, Wait};

use super::hands;
use super::packing;

/// A best plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Best {
    /// Lateness, waiting and hot minutes.
    pub goals: [i64; 3],
    /// The mode, start and end of each step.
    pub steps: Vec<(usize, i64, i64)>,
    /// When the touches of each step are begun, in minutes after its start.
    pub touches: Vec<Vec<i64>>,
    /// Who does what, where cooks are named.
    pub hands: Vec<Hands>,
    /// When each course is served.
    pub served: Vec<i64>,
}

impl Best {
    /// The plan in the problem's own words, said to be best.
    pub fn plan(&self, problem: &Problem) -> Plan {
        let planned = self.steps.iter().zip(&self.touches);
        let planned = planned.map(|(&(mode, start, end), touches)| PlannedStep {
            touches: touches.clone(),
            ..PlannedStep::new(mode, start, end)
        });
        let [lateness, waiting, hot] = self.goals;
        Plan {
            steps: problem.steps.iter().map(|step| step.id.clone()).zip(planned).collect(),
            served: problem.courses.iter().map(|course| course.id.clone()).zip(self.served.iter().copied()).collect(),
            hands: self.hands.clone(),
            lateness,
            waiting,
            hot,
            bounds: self.goals,
            status: Status::Optimal,
            made_for: None,
        }
    }
}

/// What enumeration says of a problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// This plan is as good as any.
    Best(Best),
    /// There is no plan.
    Impossible,
    /// There are too many to look at them all.
    TooLarge,
}

/// Enumerates the plans of a problem that makes sense; looks at no more than so many beginnings of plans.
pub fn enumerate(problem: &Problem, most: u64) -> Verdict {
    let mut servings = servings(problem);
    servings.sort_by_key(|(lateness, _)| *lateness);
    let table = Table::new(problem);
    let mut best: Option<Best> = None;
    let mut left = most;
    for (lateness, served) in servings {
        if best.as_ref().is_some_and(|best| best.goals[0] < lateness) {
            break;
        }
        let known = best.as_ref().map(|best| [best.goals[1], best.goals[2]]);
        let mut search = Search::new(&table, &served, known, left);
        search.go(0, 0);
        left = search.left;
        if left == 0 {
            return Verdict::TooLarge;
        }
        if let Some(Found { goals: [waiting, hot], steps, touches, hands }) = search.found {
            best = Some(Best { goals: [lateness, waiting, hot], steps, touches, hands, served });
        }
    }
    best.map_or(Verdict::Impossible, Verdict::Best)
}

/// All ways to serve the courses, with their lateness.
fn servings(problem: &Problem) -> Vec<(i64, Vec<i64>)> {
    let mut all = vec![(0, Vec::new())];
    for course in &problem.courses {
        let extend = |(lateness, served): (i64, Vec<i64>)| {
            (0..=course.max_slip).map(move |slip| {
                let mut served = served.clone();
                served.push(course.serve + slip);
                (lateness + course.weight * slip, served)
            })
        };
        all = all.into_iter().flat_map(extend).collect();
    }
    let minute = |served: &[i64], id: &str| {
        served[problem.courses.iter().position(|course| course.id == id).expect("known courses")]
    };
    all.retain(|(_, served)| {
        problem.courses.iter().zip(served).all(|(course, &at)| {
            course.after.as_ref().is_none_or(|after| {
                let gap = at - minute(served, &after.course);
                after.min <= gap && after.max.is_none_or(|max| gap <= max)
            })
        })
    });
    all
}

/// For a place and the pans in it, in order: whether they fit.
type Rooms = BTreeMap<(usize, Vec<[i64; 3]>), bool>;
/// Mode, start and end of a step.
type Choice = (usize, i64, i64);

/// The problem, looked up once.
struct Table<'a> {
    problem: &'a Problem,
    /// Steps from the last to the first: each comes after all that follow it.
    order: Vec<usize>,
    /// Links by their first step, with the index of the second one.
    after: Vec<Vec<(usize, &'a rangewright::models::problem::Link)>>,
    /// The course of each sink, and what it says of it.
    sink: Vec<Option<(usize, &'a Sink)>>,
    minutes: usize,
    rooms: RefCell<Rooms>,
}

impl<'a> Table<'a> {
    fn new(problem: &'a Problem) -> Self {
        let index: BTreeMap<&str, usize> =
            problem.steps.iter().enumerate().map(|(i, step)| (step.id.as_str(), i)).collect();
        let mut after = vec![Vec::new(); problem.steps.len()];
        for link in &problem.links {
            after[index[link.from.as_str()]].push((index[link.to.as_str()], link));
        }
        let mut order: Vec<usize> = Vec::new();
        while order.len() < problem.steps.len() {
            let ready =
                |&step: &usize| !order.contains(&step) && after[step].iter().all(|(next, _)| order.contains(next));
            let next = (0..problem.steps.len()).find(ready).expect("links are acyclic");
            order.push(next);
        }
        let mut sink = vec![None; problem.steps.len()];
        for (c, course) in problem.courses.iter().enumerate() {
            for s in &course.sinks {
                sink[index[s.step.as_str()]] = Some((c, s));
            }
        }
        let last = problem.courses.iter().map(|course| course.serve + course.max_slip).max().unwrap_or(0);
        let touches = problem.steps.iter().flat_map(|step| &step.modes).flat_map(|mode| &mode.touches);
        let longest = touches.map(|touch| touch.at + touch.late + touch.minutes).max().unwrap_or(0);
        // A step may outlast the one that follows it, as far as gaps below zero allow.
        let overhang: i64 = problem.links.iter().map(|link| (-link.min).max(0)).sum();
        let minutes = usize::try_from(last + overhang + longest + 1).expect("minutes are not negative");
        Table { problem, order, after, sink, minutes, rooms: RefCell::default() }
    }

    fn place(&self, mode: &Mode) -> Option<usize> {
        mode.place
            .as_ref()
            .map(|id| self.problem.places.iter().position(|place| place.id() == id).expect("known places"))
    }

    fn cavity(&self, mode: &Mode) -> Option<(usize, &'a Cavity)> {
        let place = self.place(mode)?;
        match &self.problem.places[place] {
            Place::Cavity(cavity) => Some((place, cavity)),
            _ => None,
        }
    }

    fn legal(&self, mode: &Mode) -> bool {
        let within = |a: [i64; 2], b: [i64; 2]| (a[0]..=a[1]).any(|x| b[0] <= x && x <= b[1]);
        match self.place(mode).map(|place| &self.problem.places[place]) {
            None => true,
            Some(Place::Cavity(cavity)) => {
                within(mode.t.expect("given"), [cavity.t_min, cavity.t_max])
                    && cavity.heats.contains(&mode.heat.expect("given"))
                    && mode.weight.expect("given") <= cavity.max_weight
            }
            Some(Place::Hob(hob)) => {
                let diameter = mode.diameter.expect("given");
                within(mode.level.expect("given"), hob.scale)
                    && diameter >= hob.min_diameter
                    && diameter <= hob.max_diameter
            }
            Some(Place::Top(top)) => within(mode.level.expect("given"), top.scale),
        }
    }

    /// Whether these modes of one place may all run at one minute.
    fn together(&self, place: usize, modes: &[&Mode]) -> bool {
        let pans = |pan: fn(&Mode) -> [i64; 3]| {
            let mut pans: Vec<[i64; 3]> = modes.iter().map(|mode| pan(mode)).collect();
            pans.sort_unstable();
            pans
        };
        let fits = |room, racks, clearance, pans: Vec<[i64; 3]>| {
            let key = (place, pans);
            if let Some(&known) = self.rooms.borrow().get(&key) {
                return known;
            }
            let fits = packing::fits(room, racks, clearance, &key.1);
            self.rooms.borrow_mut().insert(key, fits);
            fits
        };
        match &self.problem.places[place] {
            Place::Hob(hob) => modes.len() as i64 <= hob.count,
            Place::Top(top) => {
                let squares = |mode: &Mode| [mode.diameter.unwrap_or(0), mode.diameter.unwrap_or(0), 1];
                fits([top.width, top.depth, 1], 1, 0, pans(squares))
            }
            Place::Cavity(cavity) => {
                let weight: i64 = modes.iter().filter_map(|mode| mode.weight).sum();
                let room = [cavity.width, cavity.depth, cavity.height];
                weight <= cavity.max_weight
                    && fits(room, cavity.racks, cavity.clearance, pans(|mode| mode.pan.unwrap_or([0; 3])))
            }
        }
    }
}

/// A step as it is planned.
#[derive(Clone)]
pub(super) struct Run<'a> {
    pub(super) step: usize,
    pub(super) mode: &'a Mode,
    index: usize,
    pub(super) start: i64,
    pub(super) end: i64,
    /// When its touches are begun, in minutes after the start.
    pub(super) touches: Vec<i64>,
}

/// The best plan found for some servings.
struct Found {
    goals: [i64; 2],
    steps: Vec<Choice>,
    touches: Vec<Vec<i64>>,
    hands: Vec<Hands>,
}

struct Search<'t, 'a> {
    table: &'t Table<'a>,
    served: &'t [i64],
    runs: Vec<Run<'a>>,
    pools: BTreeMap<&'a str, Vec<i64>>,
    /// Waiting and hot minutes of the best plan known.
    known: Option<[i64; 2]>,
    found: Option<Found>,
    left: u64,
}

impl<'t, 'a> Search<'t, 'a> {
    fn new(table: &'t Table<'a>, served: &'t [i64], known: Option<[i64; 2]>, left: u64) -> Self {
        let pools = table.problem.pools.keys().map(|pool| (pool.as_str(), vec![0; table.minutes])).collect();
        Search { table, served, runs: Vec::new(), pools, known, found: None, left }
    }

    fn go(&mut self, depth: usize, waiting: i64) {
        self.left = self.left.saturating_sub(1);
        let so_far = [waiting, self.hot()];
        if self.left == 0 || self.known.is_some_and(|known| so_far >= known) {
            return;
        }
        let Some(&step) = self.table.order.get(depth) else {
            let mut steps = vec![(0, 0, 0); self.runs.len()];
            let mut touches = vec![Vec::new(); self.runs.len()];
            for run in &self.runs {
                steps[run.step] = (run.index, run.start, run.end);
                touches[run.step] = run.touches.clone();
            }
            let hands = hands::found(self.table.problem, &self.runs).expect("asked with each step");
            self.known = Some(so_far);
            self.found = Some(Found { goals: so_far, steps, touches, hands });
            return;
        };
        let data = &self.table.problem.steps[step];
        let (first_end, last_end) = self.ends(step);
        for (index, mode) in data.modes.iter().enumerate() {
            if !self.table.legal(mode) {
                continue;
            }
            for end in (first_end..=last_end).rev() {
                for start in (end - mode.max..=end - mode.min).rev() {
                    let in_time = start >= self.table.problem.opening
                        && data.earliest.is_none_or(|earliest| start >= earliest)
                        && data.latest.is_none_or(|latest| end <= latest);
                    for touches in if in_time { begun(mode, end - start) } else { Vec::new() } {
                        let run = Run { step, mode, index, start, end, touches };
                        if self.agrees(&run) {
                            let more = self.waiting(&run);
                            self.book(&run, 1);
                            self.runs.push(run);
                            if self.enough() {
                                self.go(depth + 1, waiting + more);
                            }
                            let run = self.runs.pop().expect("pushed a moment ago");
                            self.book(&run, -1);
                        }
                    }
                }
            }
        }
    }

    fn planned(&self, step: usize) -> &Run<'a> {
        self.runs.iter().find(|run| run.step == step).expect("later steps are planned first")
    }

    /// When a step may end, as far as serving and the steps that follow it are concerned.
    fn ends(&self, step: usize) -> (i64, i64) {
        let (mut first, mut last) = (self.table.problem.opening, i64::MAX);
        if let Some((course, _)) = self.table.sink[step] {
            last = self.served[course];
            first = first.max(last - self.table.problem.courses[course].together);
        }
        for (next, link) in &self.table.after[step] {
            let start = self.planned(*next).start;
            last = last.min(start - link.min);
            first = first.max(link.max.map_or(first, |max| start - max));
        }
        (first, last)
    }

    /// What waiting the step adds: its own, to the steps that follow it, or to its serving.
    fn waiting(&self, run: &Run<'_>) -> i64 {
        let own = run.mode.wait.unwrap_or(self.table.problem.steps[run.step].wait);
        let mut waiting = run.mode.cost + price(own, run.end - run.start - run.mode.min);
        if let Some((course, sink)) = self.table.sink[run.step] {
            waiting += price(sink.wait, self.served[course] - run.end);
        }
        for (next, link) in &self.table.after[run.step] {
            waiting += price(link.wait, self.planned(*next).start - run.end - link.min);
        }
        waiting
    }

    /// Books pools for a run and for the food that waits after it, or takes them back.
    fn book(&mut self, run: &Run<'a>, sign: i64) {
        let mut book = |pools: &'a BTreeMap<String, i64>, from: i64, to: i64| {
            for (pool, amount) in pools {
                let booked = self.pools.get_mut(pool.as_str()).expect("known pools");
                (from..to).for_each(|minute| booked[minute as usize] += sign * amount);
            }
        };
        book(&run.mode.pools, run.start, run.end);
        for (next, link) in &self.table.after[run.step] {
            let next = self.runs.iter().find(|other| other.step == *next).expect("later steps are planned first");
            book(&link.pools, run.end, next.start);
        }
        if let Some((course, sink)) = self.table.sink[run.step] {
            book(&sink.pools, run.end, self.served[course]);
        }
    }

    /// Whether there are hands, pools and room for everything, the last run included.
    fn enough(&self) -> bool {
        let Some(run) = self.runs.last() else { return true };
        let pools = self
            .pools
            .iter()
            .all(|(pool, booked)| booked.iter().all(|&amount| amount <= self.table.problem.pools[*pool]));
        let place = self.table.place(run.mode);
        let room = place.is_none_or(|place| {
            (run.start..run.end).all(|minute| {
                let inside = self.runs.iter().filter(|other| {
                    self.table.place(other.mode) == Some(place) && other.start <= minute && minute < other.end
                });
                self.table.together(place, &inside.map(|other| other.mode).collect::<Vec<_>>())
            })
        });
        pools && room && hands::found(self.table.problem, &self.runs).is_some()
    }

    /// Whether a run agrees with each one that is planned already, and with the cavity as it is at the opening.
    fn agrees(&self, run: &Run<'a>) -> bool {
        let stays_in = self.table.after[run.step].iter().filter(|(_, link)| link.stay).all(|(next, _)| {
            let here = self.table.cavity(run.mode).map(|(place, _)| place);
            here.is_some() && here == self.table.place(self.planned(*next).mode)
        });
        let Some((place, cavity)) = self.table.cavity(run.mode) else { return stays_in };
        let first_heat = changeover(cavity, [cavity.t_open; 2], run.mode.t.expect("given"));
        let inside = || self.runs.iter().filter(|other| self.table.place(other.mode) == Some(place));
        let clash = |other: &Run<'a>| {
            let air = air_clashes(run.mode, other.mode);
            let apart = run.end <= other.start || other.end <= run.start;
            (air && !apart) || !self.time_between(cavity, run, other) || opens(run, other) || opens(other, run)
        };
        stays_in
            && run.start >= self.table.problem.opening + first_heat
            && self.is_lit(cavity, run)
            && !inside().any(clash)
    }

    /// Looks at the minutes one by one: where nobody is there for long, an oven that somebody lights goes out.
    fn is_lit(&self, cavity: &Cavity, run: &Run<'a>) -> bool {
        let problem = self.table.problem;
        let window = run.mode.t.expect("given");
        let low = window[0].max(cavity.t_min);
        if !cavity.attended || low <= 20 {
            return true;
        }
        let stays = problem.links.iter().any(|link| link.stay && link.to == problem.steps[run.step].id);
        let needed = if stays { 0 } else { changeover(cavity, [20, 20], [low, low]) };
        let hands = |minute: i64| problem.shifts.iter().any(|s| s.hands > 0 && s.start <= minute && minute < s.end);
        let somebody = |minute: i64| {
            hands(minute)
                || problem.cooks.iter().flat_map(|cook| &cook.shifts).any(|s| s.start <= minute && minute < s.end)
        };
        let ends =
            problem.shifts.iter().map(|s| s.end).chain(problem.cooks.iter().flat_map(|c| &c.shifts).map(|s| s.end));
        let last = ends.max().unwrap_or(0);
        let Some(first) = (0..=last).find(|&minute| somebody(minute)) else { return true };
        if problem.opening < first && cavity.t_open <= 20 && run.start < first + needed {
            return false;
        }
        let mut alone = 0;
        for minute in first..=last {
            if !somebody(minute) {
                alone += 1;
                continue;
            }
            if alone > cavity.cool_off && minute - alone < run.start && run.start < minute + needed {
                return false;
            }
            alone = 0;
        }
        true
    }

    fn time_between(&self, cavity: &Cavity, a: &Run<'a>, b: &Run<'a>) -> bool {
        let (first, second) = if a.start <= b.start { (a, b) } else { (b, a) };
        let stays = self.table.after[first.step].iter().any(|(next, link)| link.stay && *next == second.step);
        let needed = changeover(cavity, first.mode.t.expect("given"), second.mode.t.expect("given"));
        stays || needed == 0 || second.start >= first.end + needed
    }

    /// Minutes for which cavities are kept hot, counted one by one.
    fn hot(&self) -> i64 {
        let mut minutes = 0;
        for (place, data) in self.table.problem.places.iter().enumerate() {
            let Place::Cavity(cavity) = data else { continue };
            let mut empty_for = None;
            for minute in 0..self.table.minutes as i64 {
                let inside = |run: &&Run<'_>| {
                    self.table.place(run.mode) == Some(place) && run.start <= minute && minute < run.end
                };
                if self.runs.iter().find(inside).is_some() {
                    minutes += 1 + cavity.cool_off.min(empty_for.unwrap_or(0));
                    empty_for = Some(0);
                } else {
                    empty_for = empty_for.map(|gap| gap + 1);
                }
            }
        }
        minutes
    }
}

/// All ways to begin the touches of a step that takes so long: those that float wherever they lie inside it.
fn begun(mode: &Mode, length: i64) -> Vec<Vec<i64>> {
    let mut all = vec![Vec::new()];
    for touch in &mode.touches {
        let floats = touch.early > 0 || touch.late > 0;
        let inside = |offset: &i64| !floats || (*offset >= 0 && offset + touch.minutes <= length);
        let offsets: Vec<i64> = (touch.at - touch.early..=touch.at + touch.late).filter(inside).collect();
        let extend = |begun: Vec<i64>| {
            offsets.iter().map(move |&offset| begun.iter().copied().chain([offset]).collect()).collect::<Vec<_>>()
        };
        all = all.into_iter().flat_map(extend).collect();
    }
    all
}

/// Whether the door is opened for `other` while `shut` needs it shut.
fn opens(other: &Run<'_>, shut: &Run<'_>) -> bool {
    let touches = other.mode.touches.iter().zip(&other.touches).filter(|(touch, _)| touch.minutes > 0);
    let touched = touches.map(|(_, begun)| other.start + begun);
    [other.start, other.end]
        .into_iter()
        .chain(touched)
        .any(|minute| shut.start < minute && minute < shut.start + shut.mode.shut)
}

fn air_clashes(a: &Mode, b: &Mode) -> bool {
    let (x, y) = (a.t.expect("given"), b.t.expect("given"));
    x[1] < y[0] || y[1] < x[0] || a.heat != b.heat || (a.wet && b.dry) || (b.wet && a.dry)
}

/// Minutes of a changeover; 0 if the windows meet.
fn changeover(cavity: &Cavity, from: [i64; 2], to: [i64; 2]) -> i64 {
    let (degrees, rate) = if to[0] > from[1] {
        (to[0] - from[1], cavity.rise)
    } else if from[0] > to[1] {
        (from[0] - to[1], cavity.fall)
    } else {
        return 0;
    };
    let mut minutes = 0;
    while minutes * rate < 10 * degrees {
        minutes += 1;
    }
    cavity.settle + minutes
}

fn price(wait: Wait, minutes: i64) -> i64 {
    let past = match wait.soft {
        Some(soft) if minutes > soft => minutes - soft,
        _ => 0,
    };
    wait.rate * (minutes - past) + wait.rate_after * past
}
