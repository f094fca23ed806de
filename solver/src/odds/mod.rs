//! How likely a plan is to keep its hour.
//!
//! [`odds`] plays the evening many times. Each time every step takes minutes drawn from its [`Range`], and the cooks keep to
//! one policy: nothing is started before its planned minute, but for what must follow at once when the step before it is
//! done early; who and what is needed twice is needed in the planned order;
//! what is not ready is waited for, and what comes of it waits as well. A rest gives up what it has above its least minutes
//! before it makes anything late. Basting and stirring are done in passing. A cook who is away for a
//! while is waited for; who ought to have gone for the day stays for the work at hand.
//!
//! What is late together is drawn together: the steps of an oven share a part of their luck, so do those of a cook, and the
//! trays of one batch all of it ([`Shared`]). A roast goes beyond its range in one evening of ten, as the range says.
//!
//! The numbers are as good as the ranges. The thermometer decides, not the odds.

mod evening;

mod range;
mod samples;

use rangewright_models::check::cost;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use rangewright_models::schedule::{Crew, schedule_with};
use serde::{Deserialize, Serialize};

use crate::Error;
use crate::order::{Event, Order, Touches, end};

use evening::{Evening, Evenings};

pub use range::{Range, Ranges, ranges};

/// How many evenings, and which luck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Dice {
    /// How many evenings are played. Legal: 1 to 1,000,000.
    pub evenings: usize,
    /// The same seed gives the same evenings, on every machine.
    pub seed: u64,
    /// What the steps of an evening share.
    pub shared: Shared,
    /// Minutes late within which evenings are counted besides [`WITHIN`]. Legal: 0 to 43,200.
    pub within: Minute,
}

/// How much of an evening's luck steps share, in percent (our assumptions; see the table in `odds/samples.rs`).
///
/// Legal: 0 to 100.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shared {
    /// Steps in one cavity: an oven that runs cold slows everything in it.
    pub cavity: u8,
    /// Hands-on work of one cook: who is slow is slow all evening.
    pub cook: u8,
}

impl Shared {
    /// Every step has luck of its own.
    pub const NOTHING: Shared = Shared { cavity: 0, cook: 0 };
    /// A half of each.
    pub const USUAL: Shared = Shared { cavity: 50, cook: 50 };
}

impl Default for Dice {
    /// Ten thousand evenings: the odds are then right to about one in a hundred.
    fn default() -> Self {
        Dice { evenings: 10_000, seed: 1, shared: Shared::USUAL, within: 5 }
    }
}

/// The minutes late within which evenings are counted.
pub const WITHIN: [Minute; 4] = [0, 5, 10, 15];

/// What came of all the evenings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Odds {
    /// How many evenings were played.
    pub evenings: usize,
    /// The seed.
    pub seed: u64,
    /// In how many of them every course was served within so many minutes of its planned minute: for each of [`WITHIN`].
    pub kept: [usize; 4],
    /// The minutes late that were asked about.
    pub within: Minute,
    /// In how many evenings every course was served within these.
    pub kept_within: usize,
    /// The courses, in the problem's order.
    pub courses: Vec<CourseOdds>,
    /// What the waiting of food cost; the plan's own cost is that of an evening without surprises.
    pub waiting: Spread,
    /// In how many evenings something had to wait longer than the menu allows, by more than [`BEARABLE`] minutes.
    pub too_long: usize,
    /// Where lateness came from, the worst first.
    pub risks: Vec<Risk>,
}

/// One course over all the evenings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CourseOdds {
    /// The course.
    pub course: String,
    /// When it is planned to be served.
    pub planned: Minute,
    /// In how many evenings it was served within so many minutes of that: for each of [`WITHIN`].
    pub kept: [usize; 4],
    /// In how many it was served within the minutes that were asked about.
    pub kept_within: usize,
    /// By how many minutes it was late.
    pub late: Spread,
}

/// How a number was spread over the evenings, in whole numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spread {
    /// The mean.
    pub mean: i64,
    /// No more than this in half of the evenings.
    pub half: i64,
    /// No more than this in nine of ten.
    pub nine_in_ten: i64,
    /// No more than this in ninety-nine of a hundred.
    pub nearly_all: i64,
    /// The worst.
    pub worst: i64,
}

/// A step that made courses late by taking longer than is likely.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Risk {
    /// The step.
    pub step: String,
    /// In how many evenings it was on the chain that made the latest course late, and took longer than is likely.
    pub evenings: usize,
    /// By how many minutes it ran over in those evenings, in the mean.
    pub over: i64,
}

/// Minutes over what the menu allows between two steps that no food minds (our assumption).
pub const BEARABLE: Minute = 5;
/// Less late than this is not late: half a minute.
const LATE: f64 = 0.5;

/// Plays a plan many times over.
///
/// # Errors
/// [`Error::Limit`] if the number of evenings is not legal; [`Error::Start`] if the plan is not complete or the problem is
/// refused. The plan need not keep all rules: an evening that is already under way is played as well.
pub fn odds(problem: &Problem, plan: &Plan, crew: &Crew, ranges: &Ranges, dice: Dice) -> Result<Odds, Error> {
    if !(1..=1_000_000).contains(&dice.evenings) {
        let problem = format!("{} is not within 1 to 1,000,000", dice.evenings);
        return Err(Error::Limit { field: "evenings", problem });
    }
    if !(0..=43_200).contains(&dice.within) {
        return Err(Error::Limit { field: "within", problem: format!("{} is not within 0 to 43,200", dice.within) });
    }
    if dice.shared.cavity.max(dice.shared.cook) > 100 {
        return Err(Error::Limit { field: "shared", problem: "a share is 0 to 100 percent".to_owned() });
    }
    cost(problem, plan).map_err(Error::Start)?;
    let day = schedule_with(problem, plan, crew);
    let Some(order) = Order::new(problem, plan, crew, &day, Touches::Pass) else {
        return Err(Error::Start(Vec::new()));
    };
    Ok(play(&order, ranges, dice))
}

fn play(order: &Order<'_>, ranges: &Ranges, dice: Dice) -> Odds {
    let problem = order.problem;
    let evenings = Evenings::new(order, ranges, dice);
    let mut went = evenings.empty();
    let mut late: Vec<Vec<f64>> = vec![Vec::with_capacity(dice.evenings); problem.courses.len()];
    let (mut worst, mut waiting) = (Vec::with_capacity(dice.evenings), Vec::with_capacity(dice.evenings));
    let mut blame: Vec<(usize, f64)> = vec![(0, 0.0); order.runs.len()];
    let mut too_long = 0;
    for evening in 0..dice.evenings {
        evenings.run(evening, &mut went);
        let mut latest = (0.0, None);
        for (course, late) in late.iter_mut().enumerate() {
            let serving = order.serving(course);
            let minutes = (went.at[serving] - order.planned[serving] as f64).max(0.0);
            late.push(minutes);
            if minutes > latest.0 {
                latest = (minutes, Some(serving));
            }
        }
        worst.push(latest.0);
        if let (true, Some(serving)) = (latest.0 >= LATE, latest.1) {
            accuse(order, &evenings, evening, &went, serving, &mut blame);
        }
        let (cost, long) = evenings.waiting(evening, &went);
        waiting.push(cost);
        too_long += usize::from(long);
    }
    let course = |(own, late): (&rangewright_models::problem::Course, Vec<f64>)| CourseOdds {
        course: own.id.clone(),
        planned: 0,
        kept: kept(&late),
        kept_within: kept_within(&late, dice.within),
        late: spread(late),
    };
    let mut courses: Vec<CourseOdds> = problem.courses.iter().zip(late).map(course).collect();
    for (number, course) in courses.iter_mut().enumerate() {
        course.planned = order.planned[order.serving(number)];
    }
    let mut risks: Vec<Risk> = (order.runs.iter().zip(blame))
        .filter(|(_, (evenings, _))| *evenings > 0)
        .map(|(run, (evenings, over))| Risk {
            step: run.step.id.clone(),
            evenings,
            over: (over / evenings as f64).round() as i64,
        })
        .collect();
    risks.sort_by_key(|risk| std::cmp::Reverse(risk.evenings as i64 * risk.over.max(1)));
    Odds {
        evenings: dice.evenings,
        seed: dice.seed,
        kept: kept(&worst),
        within: dice.within,
        kept_within: kept_within(&worst, dice.within),
        courses,
        waiting: spread(waiting),
        too_long,
        risks,
    }
}

/// Follows a late serving back to whatever came at its time, and accuses the steps on the way that took too long.
fn accuse(
    order: &Order<'_>,
    evenings: &Evenings<'_, '_>,
    evening: usize,
    went: &Evening,
    serving: Event,
    blame: &mut [(usize, f64)],
) {
    let mut event = serving;
    while went.because[event] != event {
        let before = went.because[event];
        if let Some(step) = order.step_of(event)
            && event == end(step)
            && order.step_of(before) == Some(step)
        {
            let over = evenings.overrun(step, evening);
            if over >= LATE {
                blame[step].0 += 1;
                blame[step].1 += over;
            }
        }
        event = before;
    }
}

fn kept(late: &[f64]) -> [usize; 4] {
    WITHIN.map(|within| kept_within(late, within))
}

fn kept_within(late: &[f64], within: Minute) -> usize {
    late.iter().filter(|&&minutes| minutes < within as f64 + LATE).count()
}

fn spread(mut numbers: Vec<f64>) -> Spread {
    if numbers.is_empty() {
        return Spread::default();
    }
    numbers.sort_by(f64::total_cmp);
    let count = numbers.len();
    // The smallest number that so many per cent do not exceed.
    let rank = |percent: usize| numbers[((count * percent).div_ceil(100)).clamp(1, count) - 1].round() as i64;
    Spread {
        mean: (numbers.iter().sum::<f64>() / count as f64).round() as i64,
        half: rank(50),
        nine_in_ten: rank(90),
        nearly_all: rank(99),
        worst: rank(100),
    }
}
