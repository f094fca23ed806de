//! A problem as a shop: jobs that wait for each other, and machines that do one at a time.

use crate::instance::{Instance, Link, Mode, PlaceTable, Separation, Time, Work};

/// With more steps than this the tables of the search would be too large.
const MANY: usize = 1_500;

/// A step.
pub(super) struct Job {
    pub(super) ways: Vec<Way>,
    /// Jobs that it waits for, and the minutes from their ends to its start.
    pub(super) before: Vec<(usize, Time)>,
    /// Jobs that wait for it.
    pub(super) after: Vec<(usize, Time)>,
}

/// A mode of a step.
#[derive(Clone, Copy)]
pub(super) struct Way {
    pub(super) machine: Option<usize>,
    pub(super) minutes: Time,
    pub(super) ready: Time,
}

/// The problem as this engine sees it.
pub(super) struct Shop {
    pub(super) jobs: Vec<Job>,
    pub(super) machines: usize,
}

/// What becomes of a stock of an instance.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stock {
    /// There is always enough.
    Ample,
    /// One at a time.
    Machine(usize),
}

impl Shop {
    /// None if the problem is no shop: more than one course, a gap below zero, something scarce that some steps could share,
    /// or a way that needs two scarce things at once.
    pub(super) fn new(instance: &Instance<'_>) -> Option<Self> {
        let is_forward = |link: &Link| link.min >= 0;
        let fits = instance.courses.len() == 1 && instance.steps.len() <= MANY && instance.links.iter().all(is_forward);
        if !fits {
            return None;
        }
        let mut machines = 0;
        let resources: Vec<Stock> = (0..instance.resources.len())
            .map(|resource| stock(instance, resource, &mut machines))
            .collect::<Option<_>>()?;
        let places: Vec<Stock> =
            instance.places.iter().map(|table| room(table, &mut machines)).collect::<Option<_>>()?;
        let mut jobs = Vec::with_capacity(instance.steps.len());
        for step in &instance.steps {
            let way = |mode: &Mode| {
                let hands = mode.work.iter().map(|_| resources[0]);
                let used = mode.uses.iter().map(|need| resources[need.resource]);
                let inside = mode.place.filter(|_| mode.occupant.is_some()).map(|place| places[place]);
                let mut scarce = hands.chain(used).chain(inside).filter_map(|stock| match stock {
                    Stock::Machine(machine) => Some(machine),
                    Stock::Ample => None,
                });
                let machine = scarce.next();
                let way = Way { machine, minutes: mode.min, ready: step.earliest.max(mode.ready) };
                scarce.next().is_none().then_some(way)
            };
            let links = |links: &[usize], other: fn(&Link) -> usize| {
                links.iter().map(|&link| (other(&instance.links[link]), instance.links[link].min)).collect()
            };
            jobs.push(Job {
                ways: step.modes.iter().map(way).collect::<Option<_>>()?,
                before: links(&step.before, |link| link.from),
                after: links(&step.after, |link| link.to),
            });
        }
        (machines > 0).then_some(Shop { jobs, machines })
    }
}

/// A resource, if there is enough for all, or if no two of its users can have it at once and each has it from start to end.
fn stock(instance: &Instance<'_>, resource: usize, machines: &mut usize) -> Option<Stock> {
    let capacity = &instance.resources[resource].capacity;
    let (least, most) = (capacity.least(instance.opening, instance.horizon), capacity.most());
    let (mut sum, mut smallest, mut is_whole) = (0, i64::MAX, true);
    for step in &instance.steps {
        let mut largest = 0;
        for mode in &step.modes {
            let used = mode.uses.iter().filter(|need| need.resource == resource).map(|need| need.amount);
            let hands = mode.work.iter().filter(|_| resource == 0).map(|work| match work {
                Work::Whole { hands } => *hands,
                Work::FromStart { .. } | Work::BeforeEnd { .. } => 1,
            });
            is_whole &= resource != 0 || mode.work.iter().all(|work| matches!(work, Work::Whole { .. }));
            let amount: i64 = used.chain(hands).sum();
            if amount > 0 {
                largest = largest.max(amount);
                smallest = smallest.min(amount);
            }
        }
        sum += largest;
    }
    if sum <= least {
        Some(Stock::Ample)
    } else if is_whole && smallest > most / 2 && least == most {
        *machines += 1;
        Some(Stock::Machine(*machines - 1))
    } else {
        None
    }
}

/// A cavity or top, if no two pans can be there together and none has to wait for the air to change.
fn room(table: &PlaceTable, machines: &mut usize) -> Option<Stock> {
    let count = table.occupants.len();
    let apart = |first: usize, second: usize| {
        table.occupants[first].step == table.occupants[second].step
            || table.separation(first, second) == Some(Separation { forth: 0, back: 0 })
    };
    let is_machine = (0..count).all(|first| (0..first).all(|second| apart(first, second)));
    if count == 0 {
        return Some(Stock::Ample);
    }
    is_machine.then(|| {
        *machines += 1;
        Stock::Machine(*machines - 1)
    })
}
