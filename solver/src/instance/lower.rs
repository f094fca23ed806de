//! From ids to indices.

use std::collections::BTreeMap;

use rangewright_models::oven;
use rangewright_models::problem::{self, Cavity, Minute, Place, Problem, legal};

use super::crew::{self, Muster};
use super::minded::Minded;
use super::windows::LinkGraph;
use super::{
    Course, During, HANDS, Instance, Link, Mode, Need, PlaceTable, Profile, Rate, Resource, Step, Time, Windows,
};
use crate::limits::Halt;
use crate::outcome::Reason;

/// Indices of everything that ids name.
struct Names<'p> {
    dishes: BTreeMap<&'p str, usize>,
    places: BTreeMap<&'p str, usize>,
    steps: BTreeMap<&'p str, usize>,
    courses: BTreeMap<&'p str, usize>,
    /// Pools and hobs by id, as indices of resources.
    pools: BTreeMap<&'p str, usize>,
    hobs: BTreeMap<&'p str, usize>,
}

pub(super) fn lower<'p>(problem: &'p Problem, halt: Halt<'p>) -> Result<Instance<'p>, Vec<Reason>> {
    let names = Names::of(problem);
    let links: Vec<Link> = problem.links.iter().map(|link| lower_link(link, &names)).collect();
    let courses: Vec<Course> = problem.courses.iter().map(|course| lower_course(course, &names)).collect();
    let horizon = horizon(&courses, &links);
    let mut places: Vec<PlaceTable> = problem.places.iter().map(PlaceTable::new).collect();
    let mut resources = resources(problem);
    let (minded, lit) = Minded::new(problem, resources.len());
    resources.extend(lit);
    let muster = Muster::new(problem, resources.len());
    let mut steps = Vec::with_capacity(problem.steps.len());
    let mut reasons = Vec::new();
    for (index, step) in problem.steps.iter().enumerate() {
        let modes = step.modes.iter().enumerate();
        let modes: Vec<Mode> = modes
            .filter_map(|(source, mode)| lower_mode(problem, &names, muster.as_ref(), &minded, step, source, mode))
            .collect();
        if modes.is_empty() {
            reasons.push(Reason::NoMode { step: step.id.clone() });
        }
        steps.push(Step {
            dish: names.dishes[step.dish.as_str()],
            earliest: step.earliest.map_or(time(problem.opening), |minute| time(minute.max(problem.opening))),
            latest: step.latest.map_or(horizon, |minute| time(minute).min(horizon)),
            modes,
            before: (0..links.len()).filter(|&link| links[link].to == index).collect(),
            after: (0..links.len()).filter(|&link| links[link].from == index).collect(),
            sink: None,
        });
    }
    if !reasons.is_empty() {
        return Err(reasons);
    }
    keep_stays_in_cavities(problem, &mut steps, &links)?;
    for (index, course) in problem.courses.iter().enumerate() {
        for sink in &course.sinks {
            steps[names.steps[sink.step.as_str()]].sink = Some((index, rate(&sink.wait)));
        }
    }
    for (index, step) in steps.iter_mut().enumerate() {
        for (number, mode) in step.modes.iter_mut().enumerate() {
            if let Some(place) = mode.place {
                let source = &problem.steps[index].modes[mode.source];
                mode.occupant = places[place].add(index, number, source);
            }
        }
    }
    for place in &mut places {
        place.close(&links, halt);
    }
    let mut dishes = vec![Vec::new(); problem.dishes.len()];
    for (index, step) in steps.iter().enumerate() {
        dishes[step.dish].push(index);
    }
    let order = order(steps.len(), &links);
    for (index, row) in muster.iter().flat_map(Muster::resources) {
        match resources.get_mut(index) {
            Some(resource) => *resource = row,
            None => resources.push(row),
        }
    }
    let mut instance = Instance {
        problem,
        halt,
        opening: time(problem.opening),
        horizon,
        steps,
        links,
        courses,
        resources,
        crew: muster.map(Muster::into_crew),
        places,
        dishes,
        order,
        windows: Windows::default(),
    };
    instance.windows = LinkGraph::new(&instance).windows().map_err(|cycle| {
        vec![Reason::NoTime { steps: cycle.into_iter().map(|step| problem.steps[step].id.clone()).collect() }]
    })?;
    Ok(instance)
}

/// No step ends later. A step may outlast the one that follows it, and so the last serving, by as much as gaps below zero
/// allow; the minutes of a plan have a limit of their own.
fn horizon(courses: &[Course], links: &[Link]) -> Time {
    let last = courses.iter().map(|course| course.serve + course.max_slip).max().unwrap_or(0);
    let overhang = links.iter().map(|link| -i64::from(link.min.min(0))).sum::<i64>();
    time((i64::from(last) + overhang).min(*legal::MINUTES.end()))
}

/// Drops the modes of a stay that are in no cavity, or in one that the other step cannot use: what is left of two linked steps
/// may be together as soon as the places are the same.
fn keep_stays_in_cavities(problem: &Problem, steps: &mut [Step], links: &[Link]) -> Result<(), Vec<Reason>> {
    let is_cavity = |place: &usize| matches!(problem.places[*place], Place::Cavity(_));
    let mut changed = true;
    while changed {
        changed = false;
        for link in links.iter().filter(|link| link.stay) {
            for (one, other) in [(link.from, link.to), (link.to, link.from)] {
                let shared: Vec<usize> =
                    steps[other].modes.iter().filter_map(|mode| mode.place).filter(is_cavity).collect();
                let before = steps[one].modes.len();
                steps[one].modes.retain(|mode| mode.place.is_some_and(|place| shared.contains(&place)));
                changed |= steps[one].modes.len() < before;
                if steps[one].modes.is_empty() {
                    return Err(vec![Reason::NoMode { step: problem.steps[one].id.clone() }]);
                }
            }
        }
    }
    Ok(())
}

impl<'p> Names<'p> {
    fn of(problem: &'p Problem) -> Self {
        fn index<'p>(ids: impl Iterator<Item = &'p str>) -> BTreeMap<&'p str, usize> {
            ids.enumerate().map(|(index, id)| (id, index)).collect()
        }
        let hobs = problem.places.iter().filter(|place| matches!(place, Place::Hob(_))).map(Place::id);
        let first_hob = HANDS + 1 + problem.pools.len();
        Names {
            dishes: index(problem.dishes.iter().map(|dish| dish.id.as_str())),
            places: index(problem.places.iter().map(Place::id)),
            steps: index(problem.steps.iter().map(|step| step.id.as_str())),
            courses: index(problem.courses.iter().map(|course| course.id.as_str())),
            pools: problem.pools.keys().enumerate().map(|(index, id)| (id.as_str(), HANDS + 1 + index)).collect(),
            hobs: hobs.enumerate().map(|(index, id)| (id, first_hob + index)).collect(),
        }
    }
}

/// Hands, then pools in the order of their ids, then hobs in the order of the places.
fn resources(problem: &Problem) -> Vec<Resource> {
    let shifts = problem.shifts.iter().map(|shift| (time(shift.start), time(shift.end), shift.hands)).collect();
    let mut resources = vec![Resource { capacity: Profile::of_shifts(shifts) }];
    resources.extend(problem.pools.values().map(|&amount| Resource { capacity: Profile::constant(amount) }));
    for place in &problem.places {
        if let Place::Hob(hob) = place {
            resources.push(Resource { capacity: Profile::constant(hob.count) });
        }
    }
    resources
}

/// A mode, if it is legal: it fits its place alone, and no need of its own exceeds what there is.
fn lower_mode(
    problem: &Problem,
    names: &Names<'_>,
    muster: Option<&Muster<'_>>,
    minded: &Minded,
    step: &problem::Step,
    source: usize,
    mode: &problem::Mode,
) -> Option<Mode> {
    let place = mode.place.as_deref().map(|id| names.places[id]);
    let mut ready = time(problem.opening);
    let works = muster.map_or_else(Vec::new, |muster| muster.works(mode));
    let mut needs = if muster.is_some() { crew::needs(&works) } else { hands_of(mode) };
    match place.map(|place| &problem.places[place]) {
        None => {}
        Some(Place::Cavity(cavity)) => ready += first_heat(cavity, mode)?,
        Some(Place::Hob(hob)) => {
            let ([lo, hi], diameter) = (mode.level?, mode.diameter?);
            let legal = lo <= hob.scale[1] && hi >= hob.scale[0];
            if !legal || !(hob.min_diameter..=hob.max_diameter).contains(&diameter) || hob.count < 1 {
                return None;
            }
            needs.push(Need { resource: names.hobs[hob.id.as_str()], during: During::Whole, amount: 1 });
        }
        Some(Place::Top(top)) => {
            let ([lo, hi], diameter) = (mode.level?, mode.diameter?);
            if lo > top.scale[1] || hi < top.scale[0] || diameter > top.width.min(top.depth) {
                return None;
            }
        }
    }
    for (pool, &amount) in &mode.pools {
        if amount > problem.pools[pool] {
            return None;
        }
        if amount > 0 {
            needs.push(Need { resource: names.pools[pool.as_str()], during: During::Whole, amount });
        }
    }
    needs.extend(minded.need(problem, place, step, mode));
    let in_cavity = mode.t.is_some();
    Some(Mode {
        source,
        min: time(mode.min),
        max: time(mode.max),
        cost: mode.cost,
        wait: rate(mode.wait.as_ref().unwrap_or(&step.wait)),
        ready,
        needs,
        works,
        place,
        occupant: None,
        shut: if in_cavity { time(mode.shut) } else { 0 },
        openings: if in_cavity { touches(mode).map(|[offset, _]| offset).collect() } else { Vec::new() },
    })
}

/// Pieces of work for hands.
fn hands_of(mode: &problem::Mode) -> Vec<Need> {
    let whole = (mode.hands > 0).then_some((During::Whole, mode.hands));
    let load = (mode.load > 0).then(|| (During::FromStart { offset: 0, minutes: time(mode.load) }, 1));
    let unload = (mode.unload > 0).then(|| (During::BeforeEnd { minutes: time(mode.unload) }, 1));
    let touches = touches(mode).map(|[offset, minutes]| (During::FromStart { offset, minutes }, 1));
    let pieces = whole.into_iter().chain(load).chain(unload).chain(touches);
    pieces.map(|(during, amount)| Need { resource: HANDS, during, amount }).collect()
}

/// Offset and minutes of each touch that has its minute. One of no minutes takes no hand and opens no door.
fn touches(mode: &problem::Mode) -> impl Iterator<Item = [Time; 2]> {
    mode.touches
        .iter()
        .filter(|touch| touch.minutes > 0 && !touch.floats())
        .map(|touch| [time(touch.at), time(touch.minutes)])
}

/// Minutes from the opening until the cavity first has the mode's temperature; nothing if the mode is not legal there.
fn first_heat(cavity: &Cavity, mode: &problem::Mode) -> Option<Time> {
    let ([lo, hi], heat, [width, depth, height], weight) = (mode.t?, mode.heat?, mode.pan?, mode.weight?);
    let lies = width <= cavity.width && depth <= cavity.depth || depth <= cavity.width && width <= cavity.depth;
    let stands = height + cavity.clearance <= cavity.height && weight <= cavity.max_weight;
    let meets = lo <= cavity.t_max && hi >= cavity.t_min;
    let legal = lies && stands && meets && cavity.heats.contains(&heat);
    legal.then(|| time(oven::preheating(cavity, [lo, hi])))
}

/// Minutes from the end of a mode at `from` to the start of one at `to`; none if the windows meet.
pub(super) fn changeover(cavity: &Cavity, from: [i64; 2], to: [i64; 2]) -> Option<Time> {
    oven::changeover(cavity, from, to).map(time)
}

fn lower_link(link: &problem::Link, names: &Names<'_>) -> Link {
    Link {
        from: names.steps[link.from.as_str()],
        to: names.steps[link.to.as_str()],
        min: time(link.min),
        max: link.max.map_or(Time::MAX, time),
        stay: link.stay,
        wait: rate(&link.wait),
    }
}

fn lower_course(course: &problem::Course, names: &Names<'_>) -> Course {
    Course {
        serve: time(course.serve),
        weight: course.weight,
        // Serving is a minute of the plan, too.
        max_slip: time(course.max_slip.min(legal::MINUTES.end() - course.serve)),
        together: time(course.together),
        sinks: course.sinks.iter().map(|sink| names.steps[sink.step.as_str()]).collect(),
        after: course
            .after
            .as_ref()
            .map(|after| (names.courses[after.course.as_str()], time(after.min), after.max.map_or(Time::MAX, time))),
    }
}

fn rate(wait: &problem::Wait) -> Rate {
    Rate { rate: wait.rate, soft: wait.soft.map_or(Time::MAX, time), rate_after: wait.rate_after }
}

/// A legal minute fits 32 bits with room to add a few of them up.
pub(super) fn time(minute: Minute) -> Time {
    Time::try_from(minute).unwrap_or(if minute < 0 { Time::MIN / 8 } else { Time::MAX / 8 })
}

/// A topological order of the steps; ties go to the smaller index.
fn order(steps: usize, links: &[Link]) -> Vec<usize> {
    let mut missing = vec![0_usize; steps];
    let mut after = vec![Vec::new(); steps];
    for link in links {
        missing[link.to] += 1;
        after[link.from].push(link.to);
    }
    let mut ready: std::collections::BTreeSet<usize> = (0..steps).filter(|&step| missing[step] == 0).collect();
    let mut order = Vec::with_capacity(steps);
    while let Some(step) = ready.pop_first() {
        order.push(step);
        for &next in &after[step] {
            missing[next] -= 1;
            if missing[next] == 0 {
                ready.insert(next);
            }
        }
    }
    order
}
