//! `rangewright plan`.

use std::path::Path;

use rangewright::calm::USUAL_PRICE;
use rangewright::mend::{Mend, mends};
use rangewright::models::caution::{PlanCaution, Weight};
use rangewright::models::plan::Plan;
use rangewright::models::problem::Minute;
use rangewright::odds::{CourseOdds, Dice};
use rangewright::spare::{self, Refused, Spared};
use rangewright::{Error, FeastPlan, Limits, Outcome, Planner};

use super::hand_over;
use super::no::why;
use super::search::{Search, refusal};
use super::watch;
use crate::args::{PlanArgs, ProgressArg};
use crate::evening::View;
use crate::formats::SheetFormat;
use crate::input::{self, Input, Refusal};
use crate::json::{self, Asked};
use crate::sheet::{self, Look};
use crate::words::{Calm, CalmCourse, Promise, Words};
use crate::{Exit, Io, chances};

pub(super) fn run(args: &PlanArgs, io: &mut Io<'_>) -> Exit {
    match answer(args, io) {
        Ok(exit) => exit,
        Err(refused) => refused.tell(Asked::Plan, args.sheets.as_data(), io),
    }
}

fn answer(args: &PlanArgs, io: &mut Io<'_>) -> Result<Exit, Refusal> {
    let input = hand_over::read(args.menu.as_deref(), &args.sheets, &args.look, io)?;
    let Input { planner, mut words, doubts } = input;
    // Another program's problem is planned by its own three goals, unless it asks for more.
    let usual = planner.is_dated() && args.spare_hands.is_none() && args.confidence.is_none();
    let price = args.calm.or(usual.then_some(USUAL_PRICE));
    for doubt in &doubts {
        match args.progress {
            Some(ProgressArg::Jsonl) => io.show(&json::doubt(doubt)),
            _ => {
                io.complain(&format!("warning: {doubt}\n"), Exit::Planned);
            }
        }
    }
    let style = hand_over::style(&args.sheets, &args.look, &words, io)?;
    let start = args.start.as_deref().map(|path| input::saved_plan(path, planner.problem(), io)).transpose()?;
    let search = Search::new(&args.limits, io);
    let look = style.look;
    let json = args.sheets.as_data();
    if args.strict {
        match mends(planner.problem(), &words.labels, &search.limits()) {
            Ok(broken) if broken.is_empty() => {}
            Ok(broken) => return Ok(refuse(args, &words, &broken, look, io)),
            Err(error) => return Err(Refusal::new(format!("error: {error}\n"), Exit::BadInput)),
        }
    }
    let sought = match args.spare_hands {
        None => {
            let limits = Limits { start: start.as_ref(), ..search.limits() };
            watch::plan(&planner, &limits, args.progress, io)
        }
        Some(percent) => match spared(&planner, &mut words, percent, &search.limits()) {
            Ok(Ok(outcome)) => Ok(outcome),
            Ok(Err(refused)) => {
                let text = if json {
                    json::spare_refused(&words, percent, &refused)
                } else {
                    sheet::spare_refused(percent, &refused, &words, look)
                };
                return Ok(say_no(args, &text, Exit::Impossible, io));
            }
            Err(error) => Err(error),
        },
    };
    let outcome = match sought {
        Ok(outcome) => outcome,
        Err(Error::Start(violations)) => {
            let shown = args.start.as_deref().unwrap_or(Path::new("the plan to start from"));
            return Err(Refusal::shown(sheet::broken_plan(shown, &words, &violations, look), Exit::BadInput));
        }
        Err(error) => return Err(refusal(&error)),
    };
    let (text, exit) = match outcome {
        Outcome::Planned(feast) => {
            let internal = |error: Error| Refusal::new(format!("error: {error}\n"), Exit::Internal);
            // A saved plan than which nothing better was found comes out as it went in.
            let as_it_was =
                args.calm.is_none() && start.as_ref().is_some_and(|start| start.steps == feast.plan().steps);
            let price = price.filter(|_| !as_it_was);
            let calmer = price.map(|price| calmed(&feast, price, start.as_ref(), &mut words));
            let feast = calmer.transpose().map_err(internal)?.unwrap_or(feast);
            let feast = likely(feast, args, &mut words, &search.limits()).map_err(internal)?;
            let cautions =
                feast.cautions().into_iter().filter(|own| args.strict && own.caution.weight == Weight::Breach);
            let mend = |own: PlanCaution| Mend { caution: own.caution, steps: own.steps, ways: Vec::new() };
            let broken: Vec<Mend> = cautions.map(mend).collect();
            if !broken.is_empty() {
                return Ok(refuse(args, &words, &broken, look, io));
            }
            return hand_over::hand_over(&args.sheets, &View::new(&feast, &words), style, io);
        }
        Outcome::Impossible(conflict) => {
            let no = why(planner.problem(), conflict, &search);
            let text = if json {
                json::impossible(Asked::Plan, planner.problem(), &words, &no)
            } else {
                sheet::impossible(planner.problem(), &words, &no, look)
            };
            (text, Exit::Impossible)
        }
        Outcome::Undecided(progress) => {
            let text = if json {
                json::undecided(Asked::Plan, &words, &progress)
            } else {
                sheet::undecided(&words, &progress, look)
            };
            (text, Exit::Undecided)
        }
    };
    Ok(say_no(args, &text, exit, io))
}

/// Says which limits are broken instead of a plan.
fn refuse(args: &PlanArgs, words: &Words, broken: &[Mend], look: Look, io: &mut Io<'_>) -> Exit {
    let text = if args.sheets.as_data() { json::refused(words, broken) } else { sheet::refused(words, broken, look) };
    say_no(args, &text, Exit::Impossible, io)
}

/// A "no" is for people to read, whatever was to be made of a plan, and must not end up in a file that is none of it.
fn say_no(args: &PlanArgs, text: &str, exit: Exit, io: &mut Io<'_>) -> Exit {
    let own = args.sheets.format == [SheetFormat::Text] || args.sheets.as_data();
    if args.sheets.out.is_some() || own { io.print(text, exit) } else { io.complain(text, exit) }
}

/// A plan that keeps a share of each cook free, promised in `words`; or why there is none, and what there is.
fn spared(
    planner: &Planner,
    words: &mut Words,
    percent: u32,
    limits: &Limits<'_>,
) -> Result<Result<Outcome<FeastPlan>, Box<Refused>>, Error> {
    Ok(match spare::keep(planner.problem(), planner.crew(), percent, limits)? {
        Spared::Kept(kept) => {
            words.promise = Some(Promise { minutes: kept.minutes, waiting: kept.waiting });
            Ok(Outcome::Planned(planner.with(kept.planned)?))
        }
        Spared::Refused(refused) => Err(refused),
        Spared::NoPlan(outcome) => Ok(outcome.map(|planned| planner.with(planned)).transpose()?),
    })
}

/// Puts margins into the plan if they are asked for; how likely each course is to keep its hour goes into `words`.
fn likely(feast: FeastPlan, args: &PlanArgs, words: &mut Words, limits: &Limits<'_>) -> Result<FeastPlan, Error> {
    let dice = Dice { within: Minute::from(args.within), ..chances::DICE };
    let Some(percent) = args.confidence else {
        words.odds = Some(feast.odds(chances::DOUBT, dice)?);
        return Ok(feast);
    };
    let (surer, margins) = feast.surer(chances::DOUBT, dice, percent, limits)?;
    words.odds = Some(margins.after.clone());
    words.margins = Some(margins);
    Ok(surer)
}

/// The plan with room in it; what that brings and costs goes into `words`.
fn calmed(feast: &FeastPlan, price: u32, known: Option<&Plan>, words: &mut Words) -> Result<FeastPlan, Error> {
    let (calmer, waiting) = feast.calmer(chances::DOUBT, price, known)?;
    let dice = chances::DICE;
    let (before, after) = (feast.odds(chances::DOUBT, dice)?, calmer.odds(chances::DOUBT, dice)?);
    let within = |course: &CourseOdds| 100 * course.kept_within / dice.evenings;
    let course = |(before, after): (&CourseOdds, &CourseOdds)| CalmCourse {
        course: after.course.clone(),
        without: within(before),
        with: within(after),
    };
    let courses = before.courses.iter().zip(&after.courses).map(course).collect();
    let percent = (100 * waiting + feast.plan().waiting - 1) / feast.plan().waiting.max(1);
    let moved = calmer.plan().steps != feast.plan().steps;
    words.calm = moved.then_some(Calm { waiting, percent: if waiting > 0 { percent } else { 0 }, courses });
    Ok(calmer)
}
