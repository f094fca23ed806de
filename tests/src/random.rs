//! Tiny random problems that make sense, with everything a problem can say, small enough to enumerate all plans.
//!
//! Joins, branches, ties between dishes, gaps below zero, stay links, costs and waits of modes, touches, touching shifts,
//! shut doors, moist air, pools, tops, several courses that follow each other.

use std::collections::{BTreeMap, BTreeSet};

use proptest::collection::vec;
use proptest::prelude::*;
use rangewright::models::problem::{
    After, Cavity, Cook, Course, Dish, Heat, Hob, Hours, Link, Mode, Place, Problem, Shift, Sink, Step, Top, Touch,
    Wait,
};

/// How large the problems are.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    /// The most steps.
    pub steps: usize,
    /// The most modes of a step.
    pub modes: usize,
    /// The most minutes by which a duration or a gap may stretch.
    pub stretch: i64,
    /// The latest minute for which a first course is asked.
    pub serve: i64,
    /// The most a course may slip.
    pub slip: i64,
    /// One hand, one oven, one burner, no work without a hand.
    pub crowded: bool,
}

impl Size {
    /// Enumerated within milliseconds, mostly.
    pub const SMALL: Size = Size { steps: 4, modes: 2, stretch: 2, serve: 12, slip: 3, crowded: false };
    /// Harder, and still enumerated in a moment, mostly.
    pub const MEDIUM: Size = Size { steps: 6, modes: 3, stretch: 3, serve: 16, slip: 4, crowded: false };
    /// Everybody wants the same oven and the same hand.
    pub const CROWDED: Size = Size { steps: 5, modes: 2, stretch: 2, serve: 10, slip: 6, crowded: true };
}

/// Random problems up to a size. None of them is refused.
pub fn problem(size: Size) -> impl Strategy<Value = Problem> {
    let steps = vec(step(size), 1..=size.steps);
    let links = vec(link(size), 0..=size.steps + 2);
    let courses = prop_oneof![3 => vec(course(size), 1), 2 => vec(course(size), 2), 1 => vec(course(size), 3)];
    (0..2_i64, shifts(), places(), prop_oneof![1 => Just(0_i64), 9 => 1..=2_i64], 2..=5_i64, steps, links, courses)
        .prop_map(move |(opening, shifts, places, tins, power, steps, links, courses)| {
            let pools = BTreeMap::from([("tin".to_owned(), tins), ("power".to_owned(), power)]);
            let mut problem = assemble(Raw { opening, shifts, places, pools, steps, links, courses });
            if size.crowded {
                crowd(&mut problem);
            }
            problem
        })
}

/// Random problems with what the second edition of the model can say: cooks by name, touches that float or are done in
/// passing, pools that are needed while food waits.
pub fn peopled(size: Size) -> impl Strategy<Value = Problem> {
    let modes = size.steps * size.modes;
    let cooks = prop_oneof![1 => Just(Vec::new()), 4 => vec(hours(), 1..=3)];
    let who = vec(prop::option::weighted(0.4, vec(0..3_usize, 1..=2)), modes);
    let touches = vec(prop::option::weighted(0.4, float()), modes);
    let pools =
        vec(prop::option::weighted(0.4, prop_oneof![Just(("tin", 1_i64)), (1..=3_i64).prop_map(|n| ("power", n))]), 24);
    (problem(size), cooks, who, touches, pools).prop_map(|(mut problem, cooks, who, touches, pools)| {
        people(&mut problem, &cooks, &who);
        let modes = problem.steps.iter_mut().flat_map(|step| &mut step.modes);
        for (mode, float) in modes.zip(touches) {
            if let Some(float) = float {
                loosen(mode, float);
            }
        }
        let mut pools = pools.into_iter();
        let sinks = problem.courses.iter_mut().flat_map(|course| &mut course.sinks).map(|sink| &mut sink.pools);
        for taken in problem.links.iter_mut().map(|link| &mut link.pools).chain(sinks) {
            taken.extend(pools.next().flatten().map(|(id, amount)| (id.to_owned(), amount)));
        }
        problem
    })
}

/// When a cook is there; often all the time, so that some are alike.
fn hours() -> impl Strategy<Value = Vec<Hours>> {
    let hours = |start, end| Hours { start, end };
    prop_oneof![
        4 => Just(vec![hours(0, 60)]),
        1 => (0..6_i64, 8..30_i64).prop_map(move |(start, end)| vec![hours(start, end)]),
        1 => (3..9_i64, 0..3_i64).prop_map(move |(at, gap)| vec![hours(at + gap, 60), hours(0, at)]),
    ]
}

/// Puts these cooks in the place of the shifts.
fn people(problem: &mut Problem, cooks: &[Vec<Hours>], who: &[Option<Vec<usize>>]) {
    if cooks.is_empty() {
        return;
    }
    problem.shifts.clear();
    let cook = |(index, shifts): (usize, &Vec<Hours>)| Cook { id: format!("cook {index}"), shifts: shifts.clone() };
    problem.cooks = cooks.iter().enumerate().map(cook).collect();
    let modes = problem.steps.iter_mut().flat_map(|step| &mut step.modes);
    for (mode, who) in modes.zip(who) {
        let Some(who) = who else { continue };
        let named: BTreeSet<usize> = who.iter().map(|cook| cook % cooks.len()).collect();
        mode.hands = mode.hands.min(named.len() as i64);
        mode.who = Some(named.iter().map(|cook| format!("cook {cook}")).collect());
    }
}

/// A touch in fractions of the step it is put into.
fn float() -> impl Strategy<Value = (i64, Touch)> {
    let touch = (1..=2_i64, 0..=2_i64, 0..=3_i64, any::<bool>());
    (0..=4_i64, touch)
        .prop_map(|(at, (minutes, early, late, passing))| (at, Touch { at: 0, minutes, early, late, passing }))
}

/// Gives a mode such a touch, if it lies inside.
fn loosen(mode: &mut Mode, (at, touch): (i64, Touch)) {
    if touch.minutes <= mode.min {
        mode.touches.truncate(1);
        mode.touches.push(Touch { at: at % (mode.min - touch.minutes + 1), ..touch });
    }
}

/// A problem whose parts do not know of each other yet.
struct Raw {
    opening: i64,
    shifts: Vec<Shift>,
    places: Vec<Place>,
    pools: BTreeMap<String, i64>,
    steps: Vec<Step>,
    links: Vec<RawLink>,
    courses: Vec<RawCourse>,
}

#[derive(Clone, Debug)]
struct RawLink {
    from: usize,
    /// How many steps further on it leads.
    skip: usize,
    min: i64,
    max: Option<i64>,
    stay: bool,
    wait: Wait,
}

#[derive(Clone, Debug)]
struct RawCourse {
    serve: i64,
    weight: i64,
    max_slip: i64,
    together: i64,
    after: Option<(usize, i64, Option<i64>)>,
    waits: Vec<Wait>,
}

fn assemble(raw: Raw) -> Problem {
    let mut steps = raw.steps;
    for (i, step) in steps.iter_mut().enumerate() {
        step.id = format!("s{i}");
    }
    let mut links: Vec<Link> = Vec::new();
    for link in raw.links.into_iter().filter(|_| steps.len() > 1) {
        let from = link.from % (steps.len() - 1);
        let to = from + 1 + link.skip % (steps.len() - 1 - from);
        let stay = link.stay && common_cavity(&steps[from], &steps[to], &raw.places);
        let (min, max) = if stay { (0, Some(0)) } else { (link.min, link.max) };
        links.push(Link {
            from: steps[from].id.clone(),
            to: steps[to].id.clone(),
            min,
            max,
            stay,
            wait: link.wait,
            pools: BTreeMap::new(),
        });
    }
    let mut courses: Vec<Course> = Vec::new();
    for (i, course) in raw.courses.iter().enumerate() {
        let after = course.after.filter(|_| i > 0).map(|(before, min, max)| (before % i, min, max));
        // Near what the earlier course asks for, at times a little before it.
        let asked = |(before, min, _): (usize, i64, _)| courses[before].serve + min + course.serve % 4 - 1;
        let serve = after.map_or(course.serve, asked);
        courses.push(Course {
            id: format!("c{i}"),
            serve: serve.max(0),
            weight: course.weight,
            max_slip: course.max_slip,
            together: course.together,
            sinks: Vec::new(),
            after: after.map(|(before, min, max)| After { course: format!("c{before}"), min, max }),
        });
    }
    for (i, step) in steps.iter().enumerate().filter(|(_, step)| !links.iter().any(|link| link.from == step.id)) {
        let course = i % courses.len();
        let waits = &raw.courses[course].waits;
        courses[course].sinks.push(Sink {
            step: step.id.clone(),
            wait: waits[i % waits.len()],
            pools: BTreeMap::new(),
        });
    }
    let dishes = (0..3).map(|i| Dish { id: format!("d{i}"), name: format!("dish {i}") }).collect();
    let Raw { opening, shifts, places, pools, .. } = raw;
    Problem {
        name: "random".to_owned(),
        opening,
        shifts,
        cooks: Vec::new(),
        pools,
        places,
        dishes,
        courses,
        steps,
        links,
    }
}

fn crowd(problem: &mut Problem) {
    problem.shifts = vec![Shift { start: 0, end: 60, hands: 1 }];
    for place in &mut problem.places {
        match place {
            Place::Cavity(oven) => {
                oven.heats = vec![Heat::Fan, Heat::Static];
                oven.t_max = 260;
            }
            Place::Hob(hob) => (hob.count, hob.min_diameter) = (1, 1),
            Place::Top(top) => top.scale = [1, 6],
        }
    }
    problem.pools.values_mut().for_each(|amount| *amount = (*amount).max(1));
    for course in &mut problem.courses {
        course.weight = course.weight.max(1);
        course.max_slip += 3;
        if let Some(after) = &mut course.after {
            after.max = None;
        }
    }
    for step in &mut problem.steps {
        step.latest = None;
        for mode in &mut step.modes {
            if mode.place.as_deref() == Some("drawer") {
                mode.place = Some("oven".to_owned());
            }
            let idle = mode.hands == 0 && mode.load == 0 && mode.unload == 0;
            if mode.min > 0 && idle && mode.place.is_none() {
                mode.hands = 1;
            }
            mode.hands = mode.hands.min(1);
        }
    }
}

fn common_cavity(a: &Step, b: &Step, places: &[Place]) -> bool {
    let is_cavity = |id: &str| places.iter().any(|place| place.id() == id && matches!(place, Place::Cavity(_)));
    let used = |step: &Step, id: &str| step.modes.iter().any(|mode| mode.place.as_deref() == Some(id));
    ["oven", "drawer"].into_iter().any(|id| is_cavity(id) && used(a, id) && used(b, id))
}

fn shifts() -> impl Strategy<Value = Vec<Shift>> {
    let shift = |start, end, hands| Shift { start, end, hands };
    let hands = || prop_oneof![1 => Just(0_i64), 5 => Just(1), 4 => Just(2)];
    prop_oneof![
        6 => (1..=3_i64).prop_map(move |hands| vec![shift(0, 40, hands)]),
        3 => (hands(), 3..12_i64, hands())
            .prop_map(move |(a, at, b)| vec![shift(0, at, a), shift(at, 40, b)]),
        2 => (1..=2_i64, 3..9_i64, 1..4_i64, 1..=2_i64)
            .prop_map(move |(a, at, gap, b)| vec![shift(at + gap, 40, b), shift(0, at, a)]),
        1 => (1..=2_i64, 3..6_i64, hands(), 3..6_i64, 1..=2_i64).prop_map(move |(a, at, b, more, c)| {
            vec![shift(0, at, a), shift(at, at + more, b), shift(at + more, 40, c)]
        }),
    ]
}

fn places() -> impl Strategy<Value = Vec<Place>> {
    let hob = (prop_oneof![1 => Just(0_i64), 9 => 1..=3_i64], 1..3_i64).prop_map(|(count, least)| {
        Place::Hob(Hob { id: "hob".to_owned(), count, scale: [1, 5], min_diameter: least, max_diameter: 4 })
    });
    let top = (3..6_i64, 3..6_i64)
        .prop_map(|(width, depth)| Place::Top(Top { id: "top".to_owned(), width, depth, scale: [2, 6] }));
    (cavity("oven"), cavity("drawer"), hob, top).prop_map(|(oven, drawer, hob, top)| vec![oven, hob, drawer, top])
}

fn cavity(id: &'static str) -> impl Strategy<Value = Place> {
    let size = (3..=4_i64, 3..=4_i64, 3..=6_i64, 1..=3_i64, 0..=1_i64, 5..=9_i64);
    let heat = (prop::sample::select(vec![20_i64, 100, 180]), 200..=900_i64, 150..=900_i64, 0..=1_i64, 0..=4_i64);
    (size, heat, any::<bool>()).prop_map(move |(size, heat, both)| {
        let (width, depth, height, racks, clearance, max_weight) = size;
        let (t_open, rise, fall, settle, cool_off) = heat;
        Place::Cavity(Cavity {
            id: id.to_owned(),
            width,
            depth,
            height,
            racks,
            clearance,
            max_weight,
            t_min: 50,
            t_max: 220,
            t_open,
            rise,
            fall,
            settle,
            cool_off,
            heats: if both { vec![Heat::Fan, Heat::Static] } else { vec![Heat::Fan] },
            attended: false,
        })
    })
}

fn wait() -> impl Strategy<Value = Wait> {
    (0..=3_i64, prop::option::of(0..=3_i64), 0..=9_i64).prop_map(|(rate, soft, more)| Wait {
        rate,
        soft,
        rate_after: rate + more,
    })
}

fn course(size: Size) -> impl Strategy<Value = RawCourse> {
    let after = prop::option::of((0..3_usize, 0..=4_i64, prop::option::of(1..=4_i64)));
    let times = (size.serve / 2..=size.serve, 0..=3_i64, 0..=size.slip, 0..=2_i64);
    (times, after, vec(wait(), 1..=3)).prop_map(|((serve, weight, max_slip, together), after, waits)| {
        let after = after.map(|(course, min, more)| (course, min, more.map(|more| min + more)));
        RawCourse { serve, weight, max_slip, together, after, waits }
    })
}

fn link(size: Size) -> impl Strategy<Value = RawLink> {
    let gap = (-2..=1_i64, prop::option::weighted(0.4, 0..=size.stretch + 1));
    let skip = prop_oneof![4 => Just(0_usize), 1 => 1..3_usize];
    (0..size.steps, skip, gap, prop::bool::weighted(0.25), wait()).prop_map(|(from, skip, (min, more), stay, wait)| {
        RawLink { from, skip, min, max: more.map(|more| min + more), stay, wait }
    })
}

fn step(size: Size) -> impl Strategy<Value = Step> {
    let earliest = prop::option::weighted(0.15, 0..6_i64);
    let latest = prop::option::weighted(0.1, 10..16_i64);
    (0..3_usize, earliest, latest, wait(), vec(mode(size), 1..=size.modes)).prop_map(
        |(dish, earliest, latest, wait, modes)| Step {
            id: String::new(),
            dish: format!("d{dish}"),
            kind: "job".to_owned(),
            earliest,
            latest,
            wait,
            modes,
        },
    )
}

/// What a mode needs beside its place.
#[derive(Clone, Debug)]
struct Needs {
    hands: i64,
    load: i64,
    unload: i64,
    touches: Vec<Touch>,
    pools: BTreeMap<String, i64>,
    cost: i64,
    wait: Option<Wait>,
}

fn needs() -> impl Strategy<Value = Needs> {
    let hands = prop_oneof![
        4 => Just((0_i64, 0_i64, 0_i64)),
        3 => prop_oneof![4 => Just(1_i64), 1 => Just(2)].prop_map(|hands| (hands, 0, 0)),
        4 => (0..=1_i64, 0..=1_i64).prop_map(|(load, unload)| (0, load, unload)),
    ];
    let touches = prop_oneof![3 => Just(Vec::new()), 1 => vec((0..=4_i64, 0..=2_i64).prop_map(|(a, b)| Touch::fixed(a, b)), 1..=2)];
    let pool = prop::option::weighted(0.25, prop_oneof![Just(("tin", 1_i64)), (0..=3_i64).prop_map(|n| ("power", n))]);
    let cost = prop_oneof![3 => Just(0_i64), 1 => 1..=6_i64];
    (hands, touches, pool, cost, prop::option::weighted(0.2, wait())).prop_map(
        |((hands, load, unload), touches, pool, cost, wait)| {
            let pools = pool.into_iter().map(|(id, amount)| (id.to_owned(), amount)).collect();
            Needs { hands, load, unload, touches, pools, cost, wait }
        },
    )
}

fn mode(size: Size) -> impl Strategy<Value = Mode> {
    let minutes = (0..=4_i64, 0..=size.stretch);
    (minutes, needs(), site()).prop_map(|((min, more), needs, site)| {
        let busy = site.place.is_some() || needs.hands > 0 || needs.pools.values().any(|&amount| amount > 0);
        let min = min.max(i64::from(busy)).max(needs.load + needs.unload);
        Mode {
            min,
            max: min + more,
            hands: needs.hands,
            load: needs.load,
            unload: needs.unload,
            pools: needs.pools,
            cost: needs.cost,
            wait: needs.wait,
            touches: needs.touches,
            shut: site.shut.min(min),
            ..site
        }
    })
}

/// A mode of which only the place is known.
fn site() -> impl Strategy<Value = Mode> {
    let windows = vec![[60_i64, 100], [90, 130], [120, 170], [150, 200], [160, 260], [40, 110], [190, 230], [230, 250]];
    let pan = (1..=3_i64, 1..=3_i64, 1..=3_i64).prop_map(|(w, d, h)| [w, d, h]);
    let heat = prop_oneof![8 => Just(Heat::Fan), 1 => Just(Heat::Static)];
    let air = prop_oneof![4 => Just((false, false)), 1 => Just((true, false)), 1 => Just((false, true))];
    let shut = prop_oneof![3 => Just(0_i64), 1 => 1..=4_i64];
    let place = prop_oneof![3 => Just("oven"), 1 => Just("drawer")];
    let in_cavity = (place, prop::sample::select(windows), heat, pan, 1..=5_i64, shut, air).prop_map(
        |(place, t, heat, pan, weight, shut, (wet, dry))| Mode {
            place: Some(place.to_owned()),
            t: Some(t),
            heat: Some(heat),
            pan: Some(pan),
            weight: Some(weight),
            shut,
            wet,
            dry,
            ..counter()
        },
    );
    let on_fire = (prop_oneof![Just("hob"), Just("top")], 1..=5_i64, 0..=2_i64, 1..=3_i64).prop_map(
        |(place, low, more, diameter)| Mode {
            place: Some(place.to_owned()),
            level: Some([low, low + more]),
            diameter: Some(diameter),
            ..counter()
        },
    );
    prop_oneof![3 => Just(counter()), 5 => in_cavity, 3 => on_fire]
}

/// A mode on the counter that takes no time and needs nothing.
pub fn counter() -> Mode {
    Mode::at_counter(0, 0)
}
