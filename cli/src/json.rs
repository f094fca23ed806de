//! The answer for other programs. The number of the schema grows when a field changes its meaning or goes away.

use std::collections::BTreeMap;
use std::time::Duration;

use rangewright::change::Change as Remedy;
use rangewright::margins::Margins;
use rangewright::mend::Mend;
use rangewright::models::caution::{DEFERENCE, PlanCaution, Weight, of_plan};
use rangewright::models::check::Cost;
use rangewright::models::faults::{Fault, Faults};
use rangewright::models::hazard;
use rangewright::models::labels::Bought;
use rangewright::models::larder::Food;
use rangewright::models::menu::Measure;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::scale::Change;
use rangewright::models::schedule::Schedule;
use rangewright::odds::Odds;
use rangewright::outcome::Reason;
use rangewright::replan::Replan;
use rangewright::spare::Refused;
use rangewright::why::Fact;
use rangewright::{Progress, StopReason};
use serde::{Deserialize, Serialize};

use crate::evening::View;
use crate::evening::stands::{self, Stands};
use crate::pass::Pass;
use crate::sheet::No;
use crate::words::{Calm, Promise, Words};

const SCHEMA: u32 = 1;

/// Whose answer it is.
#[derive(Clone, Copy, Debug, Serialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Asked {
    Plan,
    Show,
    Share,
    Soonest,
    Why,
    Worth,
    Replan,
    Odds,
    Check,
    Log,
    Pass,
    Roast,
    Chill,
    Portions,
    Dishes,
}

#[derive(Serialize)]
struct Answer<'a, T> {
    schema: u32,
    command: Asked,
    outcome: &'static str,
    /// What the evening is called; absent where there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<&'a str>,
    #[serde(flatten)]
    rest: T,
}

#[derive(Serialize)]
struct Planned<'a> {
    stopped_by: StopReason,
    work: u64,
    /// The date of minute 0; absent for a bare problem.
    day_zero: Option<String>,
    plan: &'a Plan,
    schedule: &'a Schedule,
    titles: BTreeMap<&'a str, &'a str>,
    /// What is to be bought; absent if the menu says nothing of it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    to_buy: Vec<ToBuy<'a>>,
    /// The dishes that are made for more or fewer than they are written for; absent if there is none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    scaled: Vec<Scaled<'a>>,
    /// Where food stands for a while between two steps or before it is served; absent if it never does.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    stands: Vec<Stands<'a>>,
    /// The limits of food safety that it breaks, in words; absent if there is none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    breach: Vec<String>,
    cautions: Vec<PlanCaution>,
    /// Kept free for each cook; absent if it was not asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    spare_hands: Option<Promise>,
    /// What room in the plan brings and costs; absent if it was not asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    calm: Option<&'a Calm>,
    /// The margins in it; absent if they were not asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    margins: Option<&'a Margins>,
    /// How likely each course is to keep its hour.
    #[serde(skip_serializing_if = "Option::is_none")]
    odds: Option<&'a Odds>,
    deference: &'static str,
}

/// What stands beside a saved plan and does not follow from it, read back for showing it again.
#[derive(Deserialize)]
pub(crate) struct Beside {
    stopped_by: StopReason,
    work: u64,
    spare_hands: Option<Promise>,
    calm: Option<Calm>,
    margins: Option<Margins>,
    odds: Option<Odds>,
}

impl Beside {
    /// The plan as it was handed out; what was said of it goes into `words`.
    pub(crate) fn planned(self, plan: Plan, words: &mut Words) -> rangewright::Planned {
        words.promise = self.spare_hands;
        words.calm = self.calm;
        words.margins = self.margins;
        words.odds = self.odds;
        rangewright::Planned { plan, stopped_by: self.stopped_by, work: self.work }
    }
}

#[derive(Serialize)]
struct ToBuy<'a> {
    what: &'a str,
    /// Of the unit.
    amount: f64,
    /// `g`, `ml`, or what the pieces are called; empty for what is just counted.
    unit: &'a str,
    /// Ids.
    dishes: &'a [String],
}

fn to_buy(own: &Bought) -> ToBuy<'_> {
    let unit = match &own.measure {
        Measure::Grams => "g",
        Measure::Millilitres => "ml",
        Measure::Pieces(word) => word,
    };
    ToBuy { what: &own.what, amount: own.hundredths as f64 / 100.0, unit, dishes: &own.dishes }
}

#[derive(Serialize)]
struct Scaled<'a> {
    /// The id of the dish.
    dish: &'a str,
    /// For how many portions it is written.
    written: i64,
    /// For how many it is made: a child eats half of one.
    made: f64,
    /// What is other than written.
    changes: &'a [Change],
}

fn scaled(words: &Words) -> Vec<Scaled<'_>> {
    let dishes = words.said.dishes.iter();
    let own = dishes.filter_map(|(id, label)| label.scaled.as_ref().map(|own| (id, own)));
    own.map(|(id, own)| Scaled { dish: id, written: own.written, made: own.made as f64 / 2.0, changes: &own.changes })
        .collect()
}

/// The limits of food safety that a plan breaks, in words.
fn breach(cautions: &[PlanCaution]) -> Vec<String> {
    let broken = cautions.iter().filter(|own| own.caution.weight == Weight::Breach);
    broken.map(|own| own.caution.to_string()).collect()
}

/// An answer with the limits of food safety that its plan breaks; absent if there is none.
#[derive(Serialize)]
pub(crate) struct Breached<T> {
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) breach: Vec<String>,
    #[serde(flatten)]
    pub(crate) rest: T,
}

/// An answer with the limits of food safety that the menu breaks in every plan.
pub(crate) fn breached<T>(problem: &Problem, words: &Words, rest: T) -> Breached<T> {
    let breach = hazard::broken(problem, &words.said).iter().map(|(caution, _)| caution.to_string()).collect();
    Breached { breach, rest }
}

/// The moment of minute 0, if it is known.
fn day_zero(words: &Words) -> Option<String> {
    words.dated.then(|| words.labels.calendar.moment(0).to_string())
}

/// A plan, with the schedule that follows from it.
pub(crate) fn planned(view: &View<'_>) -> String {
    let words = view.words;
    let cautions = of_plan(view.problem, &words.said, &view.planned.plan);
    let rest = Planned {
        stopped_by: view.planned.stopped_by,
        work: view.planned.work,
        day_zero: day_zero(words),
        plan: &view.planned.plan,
        schedule: view.day,
        titles: view
            .problem
            .steps
            .iter()
            .map(|step| {
                (
                    step.id.as_str(),
                    words.said.steps.get(&step.id).map_or(step.id.as_str(), |label| label.title.as_str()),
                )
            })
            .collect(),
        to_buy: words.said.shopping.iter().map(to_buy).collect(),
        scaled: scaled(words),
        stands: stands::all(view),
        breach: breach(&cautions),
        cautions,
        spare_hands: words.promise,
        calm: words.calm.as_ref(),
        margins: words.margins.as_ref(),
        odds: words.odds.as_ref(),
        deference: DEFERENCE,
    };
    answer(Asked::Plan, "planned", &words.said.name, rest)
}

#[derive(Serialize)]
struct Impossible<'a> {
    reasons: &'a [Reason],
    /// Facts that cannot all hold; absent if they were not found within the limits.
    facts: Option<&'a [Fact]>,
    /// Without any one of the facts there is a plan; absent with them.
    smallest: Option<bool>,
    remedies: Vec<&'a [Remedy]>,
}

/// A proof that there is no plan.
pub(crate) fn impossible(asked: Asked, problem: &Problem, words: &Words, no: &No) -> String {
    let rest = Impossible {
        reasons: &no.conflict.reasons,
        facts: no.explanation.as_ref().map(|explanation| explanation.facts.as_slice()),
        smallest: no.explanation.as_ref().map(|explanation| explanation.smallest),
        remedies: no.remedies.iter().map(|remedy| remedy.changes.as_slice()).collect(),
    };
    answer(asked, "impossible", &words.said.name, breached(problem, words, rest))
}

/// A plan is refused because it would break limits of food safety, with what was tried and mends them.
pub(crate) fn refused(words: &Words, mends: &[Mend]) -> String {
    #[derive(Serialize)]
    struct Refused<'a> {
        mends: &'a [Mend],
    }
    let breach = mends.iter().map(|own| own.caution.to_string()).collect();
    answer(Asked::Plan, "refused", &words.said.name, Breached { breach, rest: Refused { mends } })
}

/// So much of each cook cannot be kept free; and what can.
pub(crate) fn spare_refused(words: &Words, asked: u32, refused: &Refused) -> String {
    #[derive(Serialize)]
    struct No<'a> {
        spare_hands: Spare<'a>,
    }
    #[derive(Serialize)]
    struct Spare<'a> {
        /// Percent.
        asked: u32,
        #[serde(flatten)]
        refused: &'a Refused,
    }
    answer(Asked::Plan, "no", &words.said.name, No { spare_hands: Spare { asked, refused } })
}

/// A limit that came first.
pub(crate) fn undecided(asked: Asked, words: &Words, progress: &Progress) -> String {
    answer(asked, "undecided", &words.said.name, progress)
}

/// A new plan of the rest of the day with the limits it breaks; `plan` is the whole day, for the next re-planning.
pub(crate) fn replanned(words: &Words, replan: &Replan, rest: &impl Serialize) -> String {
    let rest = Breached { breach: breach(&of_plan(&replan.problem, &words.said, &replan.plan)), rest };
    answer(Asked::Replan, "replanned", &words.labels.name, rest)
}

/// There is no new plan of the rest of the day: all has been served, it cannot be done, or none was found.
pub(crate) fn not_replanned(words: &Words, outcome: &'static str) -> String {
    #[derive(Serialize)]
    struct Nothing {}
    answer(Asked::Replan, outcome, &words.labels.name, Nothing {})
}

/// What was found in a menu without faults.
#[derive(Serialize)]
pub(crate) struct Sound<'a> {
    pub(crate) courses: usize,
    pub(crate) dishes: usize,
    pub(crate) steps: usize,
    /// The limits of food safety that it breaks, in words.
    pub(crate) limits: &'a [String],
    /// What is hardly meant as it is written.
    pub(crate) doubts: &'a [Fault],
    /// Dishes that sound like food that calls for care, of which the menu says nothing.
    pub(crate) unknown_food: &'a [UnknownFood],
    /// What the saved plan comes to, if there is one.
    pub(crate) cost: Option<&'a Cost>,
}

/// What may be in a dish.
#[derive(Serialize)]
pub(crate) struct UnknownFood {
    /// The id of the dish.
    pub(crate) dish: String,
    pub(crate) food: Food,
    /// What it sounds like it by.
    pub(crate) word: String,
    /// The question, and what to write.
    pub(crate) text: String,
}

/// A menu without faults.
pub(crate) fn sound(words: &Words, found: &Sound<'_>) -> String {
    answer(Asked::Check, "sound", &words.said.name, found)
}

/// A saved plan breaks rules of its menu.
pub(crate) fn broken_plan(words: &Words, rules: &[String]) -> String {
    #[derive(Serialize)]
    struct Broken<'a> {
        /// In words.
        rules: &'a [String],
    }
    answer(Asked::Check, "broken", &words.said.name, Broken { rules })
}

/// What is wrong with a menu or its kitchen.
pub(crate) fn faults(asked: Asked, faults: &Faults) -> String {
    #[derive(Serialize)]
    struct Told<'a> {
        faults: &'a Faults,
    }
    text(&Answer { schema: SCHEMA, command: asked, outcome: "faults", name: None, rest: Told { faults } })
}

/// What else keeps a question from being answered, in words.
pub(crate) fn error(asked: Asked, words: &str) -> String {
    #[derive(Serialize)]
    struct Told<'a> {
        error: &'a str,
    }
    let error = words.strip_prefix("error: ").unwrap_or(words).trim_end();
    text(&Answer { schema: SCHEMA, command: asked, outcome: "error", name: None, rest: Told { error } })
}

/// What is in the log of the day, or was added to it.
pub(crate) fn log(words: &Words, outcome: &'static str, entries: &[impl Serialize]) -> String {
    #[derive(Serialize)]
    struct Log<'a, T> {
        day_zero: Option<String>,
        entries: &'a [T],
    }
    answer(Asked::Log, outcome, &words.said.name, Log { day_zero: day_zero(words), entries })
}

/// Where the evening stands.
pub(crate) fn pass(words: &Words, pass: &Pass) -> String {
    answer(Asked::Pass, "pass", &words.labels.name, pass)
}

/// The odds of a plan.
pub(crate) fn odds(problem: &Problem, words: &Words, rest: &impl Serialize) -> String {
    answer(Asked::Odds, "odds", &words.labels.name, breached(problem, words, rest))
}

/// What is hardly meant as it is written, on a line.
pub(crate) fn doubt(doubt: &Fault) -> String {
    #[derive(Serialize)]
    struct Told<'a> {
        schema: u32,
        doubt: &'a Fault,
    }
    on_a_line(&Told { schema: SCHEMA, doubt })
}

/// Where a search stands after so long, on a line.
pub(crate) fn progress(after: Duration, progress: &Progress) -> String {
    #[derive(Serialize)]
    struct Told<'a> {
        schema: u32,
        seconds: f64,
        #[serde(flatten)]
        progress: &'a Progress,
    }
    on_a_line(&Told { schema: SCHEMA, seconds: (after.as_secs_f64() * 1000.0).round() / 1000.0, progress })
}

fn on_a_line(told: &impl Serialize) -> String {
    serde_json::to_string(told).expect("plain data with text keys always becomes JSON") + "\n"
}

/// The answer to a question about an evening.
pub(crate) fn answer(asked: Asked, outcome: &'static str, name: &str, rest: impl Serialize) -> String {
    text(&Answer { schema: SCHEMA, command: asked, outcome, name: Some(name), rest })
}

/// The answer to a question about one dish.
pub(crate) fn of_dish(asked: Asked, rest: &impl Serialize) -> String {
    #[derive(Serialize)]
    struct Told<'a, T> {
        #[serde(flatten)]
        rest: &'a T,
        deference: &'static str,
    }
    let rest = Told { rest, deference: DEFERENCE };
    text(&Answer { schema: SCHEMA, command: asked, outcome: "answered", name: None, rest })
}

/// An answer that is about no evening.
pub(crate) fn unnamed(asked: Asked, rest: &impl Serialize) -> String {
    text(&Answer { schema: SCHEMA, command: asked, outcome: "answered", name: None, rest })
}

fn text<T: Serialize>(answer: &Answer<'_, T>) -> String {
    let text = serde_json::to_string_pretty(answer).expect("plain data with text keys always becomes JSON");
    // As data it says what it said; as text it turns nothing round where it is shown.
    let mut shown = String::with_capacity(text.len() + 1);
    for letter in text.chars() {
        match crate::plain::turns(letter) {
            true => shown += &format!("\\u{:04x}", u32::from(letter)),
            false => shown.push(letter),
        }
    }
    shown + "\n"
}
