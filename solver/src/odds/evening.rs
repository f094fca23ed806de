//! One evening after the other, by the order of the plan.

use rangewright_models::problem::{Link, Minute, Wait};

use super::range::{Range, Ranges};
use super::samples;
use super::{BEARABLE, Dice};
use crate::order::{Event, Order, Run, Tie, end, start};

/// An absence of more minutes than this is the end of a cook's day (our assumption).
const AWAY: f64 = 60.0;

/// An arc in the form the evenings run through.
#[derive(Clone, Copy)]
struct Hop {
    from: Event,
    least: f64,
    /// The step whose minutes it takes, if they are in doubt.
    step: Option<usize>,
}

/// Work of a cook that hangs on an event: from `event + before`, for `minutes` at least.
struct Shifted {
    before: f64,
    minutes: f64,
    cook: usize,
}

/// What all evenings have in common.
pub(super) struct Evenings<'o, 'p> {
    order: &'o Order<'p>,
    /// The arcs into each event, in the sequence of the events.
    hops: Vec<(Event, Vec<Hop>)>,
    work: Vec<Vec<Shifted>>,
    samples: Vec<Option<Vec<f64>>>,
    likely: Vec<f64>,
    waits: Vec<Waiting>,
    /// For each step, whether it has to follow another at once: then it starts early if that is done early.
    follows: Vec<bool>,
}

/// Something that may have to wait, by the events between which it does.
struct Waiting {
    from: Event,
    to: Event,
    free: f64,
    /// The step of which the minutes are no waiting.
    step: Option<usize>,
    wait: Wait,
    /// The longest it may wait.
    most: Option<f64>,
}

/// How one evening went.
pub(super) struct Evening {
    /// The minute of each event.
    pub(super) at: Vec<f64>,
    /// What each event waited for in the end; itself if it came at its time.
    pub(super) because: Vec<Event>,
}

impl<'o, 'p> Evenings<'o, 'p> {
    pub(super) fn new(order: &'o Order<'p>, ranges: &Ranges, dice: Dice) -> Self {
        let range = |step: usize| {
            let run = &order.runs[step];
            ranges.get(&run.step.id).copied().unwrap_or(Range::exactly(run.mode.min)).ordered()
        };
        let ranges: Vec<Range> = (0..order.runs.len()).map(range).collect();
        let samples = samples::minutes(order, &ranges, dice.seed, dice.evenings, dice.shared);
        let likely = ranges.iter().map(|range| range.likely as f64).collect();
        let mut hops: Vec<Vec<Hop>> = vec![Vec::new(); order.planned.len()];
        for arc in &order.arcs {
            let step = (arc.tie == Tie::Minutes).then_some(arc.from / 2);
            hops[arc.to].push(Hop { from: arc.from, least: arc.least as f64, step });
        }
        let mut work: Vec<Vec<Shifted>> = order.planned.iter().map(|_| Vec::new()).collect();
        for piece in &order.pieces {
            let [begin, finish] = [piece.begin, piece.finish].map(|(event, offset)| order.planned[event] + offset);
            let shifted = Shifted { before: piece.begin.1 as f64, minutes: (finish - begin) as f64, cook: piece.cook };
            work[piece.begin.0].push(shifted);
        }
        let hops = order.sequence.iter().map(|&event| (event, std::mem::take(&mut hops[event]))).collect();
        let at_once = |link: &&Link| link.max == Some(link.min);
        let follows = |run: &Run<'_>| order.problem.links.iter().filter(at_once).any(|link| link.to == run.step.id);
        let follows = order.runs.iter().map(follows).collect();
        Evenings { order, hops, work, samples, likely, waits: waits(order), follows }
    }

    /// The minutes a step takes in an evening.
    pub(super) fn minutes(&self, step: usize, evening: usize) -> f64 {
        self.samples[step].as_ref().map_or(self.likely[step], |minutes| minutes[evening])
    }

    /// By how much a step takes longer than is likely.
    pub(super) fn overrun(&self, step: usize, evening: usize) -> f64 {
        self.minutes(step, evening) - self.likely[step]
    }

    /// Nothing before its time but what has to follow at once, everything in the planned order, waits as they come. What is
    /// elastic ends at its planned minute if it has had its least minutes by then; what is not ends when it is done.
    pub(super) fn run(&self, evening: usize, went: &mut Evening) {
        let steps = 2 * self.order.runs.len();
        for (event, hops) in &self.hops {
            let event = *event;
            let ends = event < steps && event % 2 == 1;
            let elastic = ends && {
                let mode = self.order.runs[event / 2].mode;
                mode.max > mode.min
            };
            let mut at = match () {
                _ if ends && !elastic => f64::NEG_INFINITY,
                _ if event < steps && !ends && self.follows[event / 2] => f64::NEG_INFINITY,
                _ if event >= steps => self.order.problem.courses[event - steps].serve as f64,
                _ => self.order.planned[event] as f64,
            };
            let mut because = event;
            for hop in hops {
                let least = hop.step.map_or(hop.least, |step| self.minutes(step, evening));
                let ready = went.at[hop.from] + least;
                if ready > at {
                    (at, because) = (ready, hop.from);
                }
            }
            for work in &self.work[event] {
                at = self.present(work.cook, at + work.before, work.minutes) - work.before;
            }
            went.at[event] = at;
            went.because[event] = because;
        }
    }

    /// The first minute from which a cook is there for a piece of work. Who is only away for a while is waited for; who has
    /// gone for the day has stayed.
    fn present(&self, cook: usize, begin: f64, minutes: f64) -> f64 {
        let Some(present) = self.order.present.get(cook) else { return begin };
        let fits = |[comes, leaves]: [Minute; 2]| begin.max(comes as f64) + minutes <= leaves as f64;
        let spell = present.iter().find(|&&spell| fits(spell)).map_or(begin, |spell| begin.max(spell[0] as f64));
        if spell - begin <= AWAY { spell } else { begin }
    }

    pub(super) fn empty(&self) -> Evening {
        Evening { at: vec![0.0; self.order.planned.len()], because: vec![0; self.order.planned.len()] }
    }

    /// What the waiting of food costs in an evening, by the rates of the problem, and whether something waits longer than
    /// it may, by more than is bearable.
    pub(super) fn waiting(&self, evening: usize, went: &Evening) -> (f64, bool) {
        let (mut cost, mut too_long) = (0.0, false);
        for waiting in &self.waits {
            let free = waiting.step.map_or(waiting.free, |step| self.minutes(step, evening));
            let minutes = (went.at[waiting.to] - went.at[waiting.from] - free).max(0.0);
            let Wait { rate, soft, rate_after } = waiting.wait;
            let past = soft.map_or(0.0, |soft| (minutes - soft as f64).max(0.0));
            cost += rate as f64 * minutes + (rate_after - rate) as f64 * past;
            too_long |= waiting.most.is_some_and(|most| minutes > most + BEARABLE as f64);
        }
        (cost, too_long)
    }
}

fn waits(order: &Order<'_>) -> Vec<Waiting> {
    let mut waits = Vec::new();
    for (index, run) in order.runs.iter().enumerate() {
        let wait = run.mode.wait.unwrap_or(run.step.wait);
        waits.push(Waiting { from: start(index), to: end(index), free: 0.0, step: Some(index), wait, most: None });
    }
    for link in &order.problem.links {
        let (Some(from), Some(to)) = (order.index(&link.from), order.index(&link.to)) else { continue };
        let most = link.max.map(|max| (max - link.min) as f64);
        waits.push(Waiting {
            from: end(from),
            to: start(to),
            free: link.min as f64,
            step: None,
            wait: link.wait,
            most,
        });
    }
    for (number, course) in order.problem.courses.iter().enumerate() {
        for sink in &course.sinks {
            let Some(step) = order.index(&sink.step) else { continue };
            let most = Some(course.together as f64);
            let to = order.serving(number);
            waits.push(Waiting { from: end(step), to, free: 0.0, step: None, wait: sink.wait, most });
        }
    }
    waits.retain(|waiting| waiting.most.is_some() || waiting.wait.rate > 0 || waiting.wait.rate_after > 0);
    waits
}
