//! `rangewright share`: can they share one oven?

use rangewright::ask::{DISHES_AT_MOST, Sharing, Visit, can_share, can_share_anywhere};
use rangewright::models::caution::Weight;
use rangewright::models::cook::roast::{self, Forecast, RoastFault, Together};
use rangewright::models::hazard;
use rangewright::models::kitchen::{CavitySort, CavitySpec};
use rangewright::models::problem::Problem;
use rangewright::{Error, Planner};
use serde::Serialize;

use super::search::{Search, refusal};
use crate::args::{AskFormat, ShareArgs};
use crate::input::{self, Input, Refusal};
use crate::json::{self, Asked};
use crate::plain::TIED;
use crate::sheet::{self, Page};
use crate::words::Words;
use crate::{Exit, Io, names};

pub(super) fn run(args: &ShareArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer(args, io), Asked::Share, args.ask.format == AskFormat::Json, io)
}

#[derive(Serialize)]
struct Answer<'a> {
    dishes: &'a [String],
    /// One for each cavity, the best first.
    cavities: &'a [Sharing],
    /// The roasts given on the command line, in order.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    forecasts: &'a [Forecast],
    problem: &'a Problem,
}

fn answer(args: &ShareArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let Question { planner, mut words, dishes, place, forecasts } = match &args.menu {
        Some(_) => of_menu(args, io)?,
        None => of_roasts(args)?,
    };
    let problem = planner.problem();
    super::adapt(&mut words, &args.ask.look);
    let own: Vec<&str> = dishes.iter().map(String::as_str).collect();
    let search = Search::of_question(&args.ask, io);
    let answers = match &place {
        Some(place) => can_share(problem, &own, place, &search.limits()).map(|answer| vec![answer]),
        None => can_share_anywhere(problem, &own, &search.limits()),
    };
    let answers = answers.map_err(|error| refusal(&error))?;
    let (outcome, exit) = match () {
        () if answers.iter().any(|answer| !answer.ways.is_empty()) => ("yes", Exit::Planned),
        () if answers.iter().all(|answer| answer.complete) => ("no", Exit::Impossible),
        () => ("undecided", Exit::Undecided),
    };
    let text = match args.ask.format {
        AskFormat::Json => {
            let rest = Answer { dishes: &dishes, cavities: &answers, forecasts: &forecasts, problem };
            let breach = broken_by(args, problem, &words, &forecasts, &dishes);
            json::answer(Asked::Share, outcome, &words.said.name, json::Breached { breach, rest })
        }
        AskFormat::Text => {
            let mut page = Page::new(super::look(&args.ask.look, io));
            sheet::share(&mut page, problem, &words, &dishes, &answers, &broken(args, &forecasts));
            if !forecasts.is_empty() {
                roasts(&mut page, args, &words, &dishes, &forecasts, &answers);
            }
            page.finish()
        }
    };
    Ok((text, exit))
}

/// What is asked about.
struct Question {
    planner: Planner,
    words: Words,
    dishes: Vec<String>,
    place: Option<String>,
    forecasts: Vec<Forecast>,
}

fn of_menu(args: &ShareArgs, io: &mut Io<'_>) -> Result<Question, Refusal> {
    let Input { planner, words, .. } = input::read(args.menu.as_deref(), super::wish(&args.ask.look), io)?;
    let mut dishes: Vec<String> = Vec::new();
    for name in &args.dishes {
        let dish = names::dish(planner.problem(), &words, name)?;
        if !dishes.contains(&dish) {
            dishes.push(dish);
        }
    }
    let place = args.place.as_deref().map(|name| names::cavity(planner.problem(), &words, name)).transpose()?;
    counted(dishes.len())?;
    Ok(Question { planner, words, dishes, place, forecasts: Vec::new() })
}

fn of_roasts(args: &ShareArgs) -> Result<Question, Refusal> {
    counted(args.roasts.len())?;
    let region = args.ask.look.region.unwrap_or_default();
    let mut roasts = args.roasts.clone();
    for index in 1..roasts.len() {
        let same = roasts[..index].iter().filter(|other| other.name.starts_with(&roasts[index].name)).count();
        if same > 0 {
            roasts[index].name = format!("{} {}", roasts[index].name, same + 1);
        }
    }
    let oven = CavitySpec::usual(CavitySort::Oven, args.inside).cavity("oven");
    let Together { problem, forecasts } = roast::problem(&roasts, oven, region).map_err(|faults| {
        let lines: Vec<String> = faults.iter().map(|(name, fault)| format!("error: {name}: {fault}\n")).collect();
        let input = faults.iter().any(|(_, fault)| matches!(fault, RoastFault::Input(_)));
        Refusal::new(lines.concat(), if input { Exit::BadInput } else { Exit::Impossible })
    })?;
    let planner = Planner::of_problem(problem, None).map_err(|faults| refusal(&Error::Refused(faults)))?;
    let mut words = Words::of(&planner);
    words.labels.region = region;
    let dishes = roasts.into_iter().map(|roast| roast.name).collect();
    Ok(Question { planner, words, dishes, place: Some("oven".to_owned()), forecasts })
}

fn counted(dishes: usize) -> Result<(), Refusal> {
    if (2..=DISHES_AT_MOST).contains(&dishes) {
        return Ok(());
    }
    let text = format!("error: name 2 to {DISHES_AT_MOST} different dishes, not {dishes}\n");
    Err(Refusal::new(text, Exit::BadInput))
}

/// The limits that roasts break in any oven, to be said before anything else.
fn broken(args: &ShareArgs, forecasts: &[Forecast]) -> Vec<String> {
    let pairs = args.roasts.iter().zip(forecasts);
    let all = pairs.flat_map(|(wanted, forecast)| forecast.cautions.iter().map(move |caution| (wanted, caution)));
    let breaches = all.filter(|(_, caution)| caution.weight == Weight::Breach);
    breaches.map(|(wanted, caution)| format!("LIMIT BROKEN: {}: {}.", wanted.name, caution.text)).collect()
}

/// The limits that the roasts, or the dishes of the menu that are asked about, break in any case.
fn broken_by(
    args: &ShareArgs,
    problem: &Problem,
    words: &Words,
    forecasts: &[Forecast],
    dishes: &[String],
) -> Vec<String> {
    let of_menu = hazard::broken(problem, &words.said).into_iter().filter(|(_, steps)| {
        let asked = |id: &String| problem.steps.iter().any(|step| step.id == *id && dishes.contains(&step.dish));
        steps.iter().any(asked)
    });
    let mut lines = broken(args, forecasts);
    lines.extend(of_menu.map(|(caution, _)| format!("LIMIT BROKEN: {caution}")));
    lines.dedup();
    lines
}

/// How sure the minutes of the roasts are, and what to take care of.
fn roasts(
    page: &mut Page,
    args: &ShareArgs,
    words: &Words,
    dishes: &[String],
    forecasts: &[Forecast],
    answers: &[Sharing],
) {
    // Of the oven temperatures those that the roast has in some way to share; all of them if there is no way.
    let visits: Vec<&Visit> = answers.iter().flat_map(|answer| &answer.ways).flat_map(|way| &way.visits).collect();
    let ways = |index: usize| {
        let own = move |visit: &&&Visit| dishes.get(index) == Some(&visit.dish);
        let used: Vec<[i64; 2]> = visits.iter().filter(own).map(|visit| visit.air).collect();
        let all = forecasts.get(index).map_or(&[][..], |forecast| &forecast.ways);
        all.iter().filter(move |way| used.is_empty() || used.contains(&way.window_c))
    };
    page.heading("The minutes of the roasts");
    page.line("From size, oven and target, before any experience with this kitchen. The thermometer decides.");
    let mut lines: Vec<String> = Vec::new();
    for (index, wanted) in args.roasts.iter().enumerate() {
        for way in ways(index) {
            let oven = words.range(way.window_c);
            let pull = super::cook::degrees(&args.ask.look, way.pull_c).replace(' ', TIED);
            let range = super::cook::range(way.early_min, way.late_min);
            lines.push(format!(
                "{} at {oven}: {} min, nine times in ten {range}; take it out at {pull}",
                wanted.name, way.minutes
            ));
        }
    }
    // Two of a kind need one line.
    let new = |(index, line): (usize, &String)| (!lines[..index].contains(line)).then(|| line.clone());
    lines.iter().enumerate().filter_map(new).for_each(|line| page.point(&line));
    let of_ways = (0..forecasts.len()).flat_map(|index| ways(index).flat_map(|way| &way.cautions));
    let mut cautions: Vec<_> = forecasts.iter().flat_map(|forecast| &forecast.cautions).chain(of_ways).collect();
    let mut said: Vec<String> = Vec::new();
    cautions.retain(|caution| {
        let text = caution.to_string();
        let new = !said.contains(&text);
        said.push(text);
        new
    });
    super::cook::cautions(page, &cautions);
}
