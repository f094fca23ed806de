//! The front door: a menu goes in, is compiled once, and is planned as often as is wanted.

mod feast_plan;

use std::sync::Arc;

use rangewright_models::caution::add_washing;
use rangewright_models::check::check;
use rangewright_models::compile::{self, Compiled, bare, compile};
use rangewright_models::faults::Faults;
use rangewright_models::feast::{Calendar, Feast};
use rangewright_models::labels::Labels;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Problem, ProblemFault};
use rangewright_models::schedule::{Crew, Schedule, schedule_with};
use rangewright_models::write::Record;

use crate::error::Error;
use crate::limits::Limits;
use crate::odds::{Range, Ranges, ranges};
use crate::outcome::{Outcome, Planned};
use crate::search::solve;

pub use feast_plan::FeastPlan;

/// Plans a feast that is there as data; from text, see [`Planner::read`].
///
/// # Errors
/// [`Error::Feast`] names every fault of the menu and the kitchen; for the others see [`solve`](crate::solve).
///
/// ```
/// use rangewright::models::feast::Feast;
/// // A feast without a menu is no feast: what it lacks is said.
/// let error = rangewright::plan(&Feast::default(), &rangewright::Limits::default()).unwrap_err();
/// assert!(matches!(error, rangewright::Error::Feast(_)));
/// ```
pub fn plan(feast: &Feast, limits: &Limits<'_>) -> Result<Outcome<FeastPlan>, Error> {
    Planner::new(feast).map_err(Error::Feast)?.plan(limits)
}

/// A feast, compiled and ready to be planned: the problem, the words for its ids, and the cooks.
///
/// Cheap to clone, and may be shared between threads.
///
/// ```
/// use rangewright::{Limits, Outcome, Planner, models::examples};
///
/// let supper = examples::ALL[1];
/// let planner = Planner::read(supper.menu, supper.menu_name, |name| supper.kitchen_text(name))?;
/// let Outcome::Planned(supper) = planner.plan(&Limits::default())? else { panic!("it can be cooked") };
/// assert!(supper.proof().is_best());
/// assert_eq!(supper.labels().steps["lentils-with-leeks/prep"].title, "Slice the leeks");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Planner(Arc<Ready>);

#[derive(Debug)]
struct Ready {
    problem: Problem,
    labels: Labels,
    crew: Crew,
    dated: bool,
}

impl Planner {
    /// From the text of a menu in RON or JSON, and of the kitchen that it names, for which `kitchen` is asked.
    ///
    /// Arguments and faults are those of [`compile::feast`].
    ///
    /// # Errors
    /// Everything that is wrong with the text and with what it means, at once.
    pub fn read(
        menu: &str,
        menu_name: &str,
        file: impl FnMut(&str) -> Result<String, String>,
    ) -> Result<Planner, Faults> {
        compile::feast(menu, menu_name, file).map(Planner::from)
    }

    /// From a menu written in Rust, with its kitchen in it.
    ///
    /// # Errors
    /// As [`Planner::read`]; places are those of the text that `menu` stands for.
    pub fn written(menu: &Record) -> Result<Planner, Faults> {
        let inside = |_: &str| Err("a menu written in Rust has its kitchen in it".to_owned());
        Planner::read(&menu.to_string(), "the menu", inside)
    }

    /// From a feast as data.
    ///
    /// # Errors
    /// Everything that is wrong with its meaning, at once.
    pub fn new(feast: &Feast) -> Result<Planner, Faults> {
        compile(feast).map(Planner::from)
    }

    /// From a bare problem, with its ids for words. `calendar` says when its minute 0 is, if that is known.
    ///
    /// # Errors
    /// Every fault of the problem.
    pub fn of_problem(problem: Problem, calendar: Option<Calendar>) -> Result<Planner, Vec<ProblemFault>> {
        let faults = problem.faults();
        if !faults.is_empty() {
            return Err(faults);
        }
        let dated = calendar.is_some();
        let labels = bare(&problem, calendar);
        Ok(Planner::with_crew(Compiled { problem, labels }, dated))
    }

    /// The same problem with another calendar for its words: one that had none gets days.
    #[must_use]
    pub fn dated(&self, calendar: Calendar) -> Planner {
        let labels = Labels { calendar, ..self.labels().clone() };
        Planner::with_crew(Compiled { problem: self.problem().clone(), labels }, true)
    }

    fn with_crew(Compiled { problem, labels }: Compiled, dated: bool) -> Planner {
        let crew = Crew::named(&labels);
        Planner(Arc::new(Ready { problem, labels, crew, dated }))
    }

    /// What is searched, checked and sent as JSON.
    pub fn problem(&self) -> &Problem {
        &self.0.problem
    }

    /// What people call its parts.
    pub fn labels(&self) -> &Labels {
        &self.0.labels
    }

    /// Who cooks.
    pub fn crew(&self) -> &Crew {
        &self.0.crew
    }

    /// Whether its minutes lie on a known day; those of a bare problem without a calendar do not.
    pub fn is_dated(&self) -> bool {
        self.0.dated
    }

    /// How few and how many minutes each step may really take: as the menu or the cooking models say, else up to `doubt`
    /// percent more (see [`ranges`](crate::odds::ranges)).
    pub fn ranges(&self, plan: &Plan, doubt: u32) -> Ranges {
        let mut known = ranges(self.problem(), plan, doubt);
        for step in &self.problem().steps {
            let Some(mode) = plan.steps.get(&step.id).map(|planned| planned.mode) else { continue };
            let label = self.labels().steps.get(&step.id);
            let said = label.and_then(|label| label.modes.get(mode)?.range);
            if let (Some(said), Some(mode)) = (said, step.modes.get(mode)) {
                let range = Range { shortest: said.shortest, likely: mode.likely(), longest: said.longest };
                let is_roast = label.is_some_and(|label| label.facts.piece.is_some());
                known.insert(step.id.clone(), if is_roast { range.with_tails() } else { range });
            }
        }
        known
    }

    /// What the cooks and the appliances do by a plan, with a wash after raw meat. The plan need not keep all rules: an evening
    /// that is under way has one, too.
    pub fn schedule(&self, plan: &Plan) -> Schedule {
        let mut schedule = schedule_with(self.problem(), plan, self.crew());
        add_washing(&mut schedule, self.problem(), self.labels(), plan);
        schedule
    }

    /// Plans it.
    ///
    /// # Errors
    /// As [`solve`](crate::solve).
    pub fn plan(&self, limits: &Limits<'_>) -> Result<Outcome<FeastPlan>, Error> {
        let found = solve(self.problem(), limits)?;
        Ok(found.map(|planned| FeastPlan::new(self.clone(), planned)))
    }

    /// A plan from elsewhere, found by a question or stored, as a plan of this feast. It is checked.
    ///
    /// # Errors
    /// [`Error::Start`] names every rule that it breaks.
    ///
    /// ```
    /// # use rangewright::{Limits, Outcome, Planner, models::{examples, plan::Plan}};
    /// # let supper = examples::ALL[1];
    /// # let planner = Planner::read(supper.menu, supper.menu_name, |name| supper.kitchen_text(name))?;
    /// # let Outcome::Planned(evening) = planner.plan(&Limits::default())? else { panic!("it can be cooked") };
    /// let stored = serde_json::to_string(evening.plan())?;
    /// // Another day:
    /// let plan: Plan = serde_json::from_str(&stored)?;
    /// assert_eq!(planner.with(plan)?.schedule(), evening.schedule());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn with(&self, plan: impl Into<Planned>) -> Result<FeastPlan, Error> {
        let planned = plan.into();
        check(self.problem(), &planned.plan).map_err(Error::Start)?;
        Ok(FeastPlan::new(self.clone(), planned))
    }
}

impl From<Compiled> for Planner {
    fn from(compiled: Compiled) -> Planner {
        Planner::with_crew(compiled, true)
    }
}
