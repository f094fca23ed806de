//! The pass: where the evening stands, for everybody: what is to be done now, next and later, what runs, what needs a word.
//!
//! Made from the plan that was handed out last and the log. A job that nobody has ticked stays among those of now for a
//! while; then it is taken to have gone as planned, as everything is of which the log says nothing.

mod events;
mod look_out;

use rangewright::models::day::{Day, Stage};
use rangewright::models::problem::Minute;
use rangewright::models::schedule::What;
use serde::Serialize;

use crate::evening::{Entry, Evening, View};
use crate::words::{Words, capital};

pub(crate) use events::{Event, Field};

/// Jobs that begin in so many minutes are the next ones.
const SOON: Minute = 15;
/// A job that nobody has ticked is shown for so many minutes after it should have been over.
const PATIENCE: Minute = 15;

/// Where an evening stands.
#[derive(Serialize)]
pub(crate) struct Pass {
    /// The minute it is made for.
    pub(crate) now: Minute,
    /// The same on the wall clock.
    pub(crate) clock: String,
    /// The date of minute 0; absent for a bare problem.
    pub(crate) day_zero: Option<String>,
    /// The cooks' names; [`Job::cooks`] counts into them.
    pub(crate) cooks: Vec<String>,
    /// Everything that is done, in order of time.
    pub(crate) jobs: Vec<Job>,
    /// What runs.
    pub(crate) running: Vec<Running>,
    /// What is not as it should be, in words.
    pub(crate) look_out: Vec<String>,
    /// What else can be logged.
    pub(crate) events: Vec<Event>,
    /// The steps, places, dishes, courses and cooks, for whoever logs something of them.
    pub(crate) names: Names,
}

/// A job, and how far it has got.
#[derive(Serialize)]
pub(crate) struct Job {
    pub(crate) at: Minute,
    pub(crate) until: Minute,
    pub(crate) clock: String,
    pub(crate) head: String,
    pub(crate) more: Vec<String>,
    /// Cautions of this job, which stand apart.
    pub(crate) care: Vec<String>,
    pub(crate) cooks: Vec<usize>,
    #[serde(flatten)]
    pub(crate) what: What,
    pub(crate) when: When,
    /// It has been ticked; otherwise, if it is done, that is only taken to be so.
    pub(crate) ticked: bool,
    /// Somebody is at it.
    pub(crate) begun: bool,
    /// What to log, after `log FILE`, when somebody begins it; absent where beginning is all there is, or it has begun.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) begin: Option<[String; 2]>,
    /// What to log when it is done; absent where there is nothing to log.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) done: Option<[String; 2]>,
    /// What to log when it has not been begun after all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) wrong: Option<[String; 2]>,
}

/// When a job's turn is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum When {
    Done,
    Now,
    Next,
    Later,
}

/// A step that runs.
#[derive(Serialize)]
pub(crate) struct Running {
    pub(crate) step: String,
    pub(crate) title: String,
    /// Where, if not on the counter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) place: Option<String>,
    pub(crate) since: Minute,
    /// When it should be done.
    pub(crate) until: Minute,
    pub(crate) clock: String,
    /// A probe in its middle says how long it still takes.
    pub(crate) probe: bool,
}

/// An id and what it is called.
#[derive(Serialize)]
pub(crate) struct Name {
    pub(crate) id: String,
    pub(crate) name: String,
}

/// What can be named.
#[derive(Serialize)]
pub(crate) struct Names {
    pub(crate) step: Vec<Name>,
    pub(crate) place: Vec<Name>,
    pub(crate) dish: Vec<Name>,
    pub(crate) course: Vec<Name>,
    pub(crate) cook: Vec<Name>,
}

impl Pass {
    /// Where the evening of `view` stands; `events` is what can be logged.
    pub(crate) fn new(view: &View<'_>, day: &Day, events: Vec<Event>) -> Pass {
        let words = view.words;
        let mut jobs: Vec<Job> = Evening::new(view).entries.into_iter().map(|entry| job(entry, day)).collect();
        next(&mut jobs);
        Pass {
            now: day.now,
            clock: words.clock(day.now),
            day_zero: words.dated.then(|| words.labels.calendar.moment(0).to_string()),
            cooks: view.cooks().map(str::to_owned).collect(),
            jobs,
            running: running(view, day),
            look_out: look_out::all(view, day),
            events,
            names: names(view, words),
        }
    }
}

fn job(entry: Entry, day: &Day) -> Job {
    use crate::evening::Sort;

    let step = entry.what.step().map(str::to_owned);
    let stage = step.as_deref().map(|step| day.stage(step));
    let begins = matches!(entry.what, What::Work { .. } | What::PutIn { .. } | What::Leave { .. });
    let ends = matches!(entry.what, What::Work { .. } | What::TakeOut { .. });
    let (begun, finished) = match stage {
        Some(Stage::Running { logged, .. }) => (logged, false),
        Some(Stage::Done { logged, .. }) => (logged, logged),
        _ => (false, false),
    };
    let ticked = match &entry.what {
        What::Serve { course } => day.served.contains_key(course),
        _ if ends => finished,
        _ if begins => begun,
        _ => false,
    };
    let over = match &entry.what {
        // What stands by itself needs nobody who ticks it.
        What::Leave { .. } => entry.at <= day.now,
        _ => entry.until.max(entry.at) + PATIENCE <= day.now,
    };
    // What comes out late is not out yet, whatever the plan has.
    let over = over && !matches!(stage, Some(Stage::Running { .. }) if ends);
    let log = |event: &str, of: &Option<String>| of.as_ref().map(|of| [event.to_owned(), of.clone()]);
    let done = match &entry.what {
        What::Work { .. } => log("finished", &step),
        What::PutIn { .. } => log("put-in", &step),
        What::Leave { .. } => log("started", &step),
        What::TakeOut { .. } => log("taken-out", &step),
        What::Serve { course } => log("served", &Some(course.clone())),
        What::Touch { .. } | What::Dial { .. } | What::Shift { .. } | What::Wash { .. } => None,
    };
    let head = entry.said();
    let (care, more): (Vec<_>, Vec<_>) = entry.more.into_iter().partition(|line| line.sort == Sort::Care);
    let texts = |lines: Vec<crate::evening::Line>| lines.into_iter().map(|line| line.text).collect();
    Job {
        at: entry.at,
        until: entry.until,
        clock: entry.clock,
        head,
        more: texts(more),
        care: texts(care),
        cooks: entry.cooks,
        when: match () {
            () if ticked || over => When::Done,
            () if entry.at <= day.now || begins && begun => When::Now,
            () => When::Later,
        },
        ticked,
        begun: begun && !finished,
        begin: log("started", &step).filter(|_| matches!(entry.what, What::Work { .. }) && !begun),
        done: done.filter(|_| !ticked),
        wrong: log("mistaken", &step).filter(|_| begun),
        what: entry.what,
    }
}

/// The next jobs: those that begin soon, and the first of each cook.
fn next(jobs: &mut [Job]) {
    let Some(first) = jobs.iter().filter(|job| job.when == When::Later).map(|job| job.at).min() else { return };
    let mut known: Vec<usize> = Vec::new();
    for job in jobs.iter_mut().filter(|job| job.when == When::Later) {
        let new = job.cooks.iter().any(|cook| !known.contains(cook));
        known.extend(&job.cooks);
        if new || job.at <= first + SOON {
            job.when = When::Next;
        }
    }
}

fn running(view: &View<'_>, day: &Day) -> Vec<Running> {
    let mut all: Vec<Running> = Vec::new();
    for step in &view.problem.steps {
        let Stage::Running { mode, start, until, .. } = day.stage(&step.id) else { continue };
        let planned = view.planned.plan.steps.get(&step.id).map_or(start, |planned| planned.end);
        let (until, mode) = (until.unwrap_or(planned.max(start)), step.modes.get(mode));
        all.push(Running {
            step: step.id.clone(),
            title: capital(view.words.title(&step.id)),
            place: mode.and_then(|mode| mode.place.as_deref()).map(|place| capital(view.words.place(place))),
            since: start,
            until,
            clock: view.words.clock(until),
            probe: mode.is_some_and(|mode| mode.t.is_some()),
        });
    }
    all.sort_by_key(|own| own.until);
    all
}

fn names(view: &View<'_>, words: &Words) -> Names {
    let name = |id: &str, name: &str| Name { id: id.to_owned(), name: capital(name) };
    let problem = view.problem;
    Names {
        step: problem
            .steps
            .iter()
            .map(|own| name(&own.id, &format!("{} ({})", words.title(&own.id), words.dish_of(&own.id))))
            .collect(),
        place: problem.places.iter().map(|own| name(own.id(), words.place(own.id()))).collect(),
        dish: problem.dishes.iter().map(|own| name(&own.id, words.dish(&own.id))).collect(),
        course: problem.courses.iter().map(|own| name(&own.id, words.course(&own.id))).collect(),
        cook: words.said.cooks.iter().map(|own| name(&own.name, words.cook(&own.name))).collect(),
    }
}
