//! What is to be planned: a menu with its kitchen, a bare problem, or the built-in demo.

use std::cell::Cell;
use std::fs::File;
use std::path::Path;

use jiff::civil::Date;
use rangewright::Planner;
use rangewright::models::check::{Violation, form};
use rangewright::models::compile;
use rangewright::models::cook::safety::Region;
use rangewright::models::faults::{Fault, Faults};
use rangewright::models::feast::Units;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::Schedule;
use rangewright::models::{examples, read};

use crate::json::{self, Asked, Beside};
use crate::words::Words;
use crate::{Exit, Io, excerpt, io, plain};

/// What the command line says of a menu, before what the menu and its kitchen say.
#[derive(Clone, Copy, Default)]
pub(crate) struct Wish {
    /// The units of the words.
    pub(crate) units: Option<Units>,
    /// Whose limits of food safety.
    pub(crate) region: Option<Region>,
    /// A menu may name a kitchen outside its own folder.
    pub(crate) kitchen_anywhere: bool,
    /// The day of the feast.
    pub(crate) date: Option<Date>,
}

/// Saved plans and logs longer than this are not read, bytes: an answer is several times as long as its menu.
pub(crate) const LONGEST: usize = 4 * read::LONGEST;

/// What is to be planned, compiled, and what the sheets call its parts.
pub(crate) struct Input {
    pub(crate) planner: Planner,
    pub(crate) words: Words,
    /// What is hardly meant as it is written.
    pub(crate) doubts: Vec<Fault>,
}

impl Input {
    fn new(planner: Planner) -> Self {
        Input { words: Words::of(&planner), planner, doubts: Vec::new() }
    }

    pub(crate) fn problem(&self) -> &Problem {
        self.planner.problem()
    }
}

/// Why there is nothing to plan: what to say, and the exit code.
pub(crate) struct Refusal {
    pub(crate) text: String,
    pub(crate) exit: Exit,
    /// What is wrong with the menu or its kitchen, if that is why.
    pub(crate) faults: Option<Faults>,
}

impl Refusal {
    pub(crate) fn new(text: impl Into<String>, exit: Exit) -> Self {
        Refusal { text: plain::lines(&text.into()), exit, faults: None }
    }

    /// In words that are safe to show already, and may have colours.
    pub(crate) fn shown(text: String, exit: Exit) -> Self {
        Refusal { text, exit, faults: None }
    }

    /// Says it in the form that was asked for: words are a complaint, data an answer. Who asks for data and watches the
    /// standard error reads the words there all the same.
    pub(crate) fn tell(&self, asked: Asked, as_data: bool, io: &mut Io<'_>) -> Exit {
        if !as_data || io.terminal.watched {
            io.complain(&self.text, self.exit);
        }
        if !as_data {
            return self.exit;
        }
        let text = match &self.faults {
            Some(faults) => json::faults(asked, faults),
            None => json::error(asked, &plain::lines(&self.text)),
        };
        io.print(&text, self.exit)
    }
}

/// Reads what is to be planned as `wish` has it; without a path, the demo.
pub(crate) fn read(path: Option<&Path>, wish: Wish, io: &mut Io<'_>) -> Result<Input, Refusal> {
    let Some(path) = path else {
        let demo = examples::demo();
        return menu(demo.menu, demo.menu_name, |name| demo.kitchen_text(name), wish, io);
    };
    let shown = if path == Path::new("-") { "standard input".to_owned() } else { path.display().to_string() };
    let text = match io.read(path, read::LONGEST) {
        Ok(text) => text,
        Err(error) => return Err(Refusal::new(format!("error: cannot read {shown}: {}\n", error.why), error.exit)),
    };
    if is_problem(&text) {
        return problem(&text, &shown, wish);
    }
    if let Some(command) = answer_of(&text) {
        let text = format!(
            "error: {shown} is an answer of `rangewright {command}` and no menu: name the menu that it is about, and give a \
             saved plan with --plan or --start; `rangewright show {shown}` prints it\n"
        );
        return Err(Refusal::new(text, Exit::BadInput));
    }
    let folder = match path.parent() {
        Some(parent) if path != Path::new("-") => io.folder.join(parent),
        _ => io.folder.clone(),
    };
    let unreadable = Cell::new(false);
    let file = |name: &str| match io.held.get(Path::new(name)) {
        Some(held) => String::from_utf8(held.clone()).map_err(|_| "it is no text in UTF-8".to_owned()),
        None if !io.disk => Err(io::NO_DISK.to_owned()),
        None => beside(&folder, name, wish, &unreadable),
    };
    let mut refused = match menu(&text, &shown, file, wish, io) {
        Err(refused) => refused,
        read => return read,
    };
    if unreadable.get() {
        refused.exit = Exit::Io;
    }
    Err(refused)
}

/// The text of a kitchen or a dish that a menu names: below the menu's folder, unless the command line says otherwise, so that
/// a menu of somebody else's cannot have any file of this machine read.
fn beside(folder: &Path, name: &str, wish: Wish, unreadable: &Cell<bool>) -> Result<String, String> {
    let failed = |error: std::io::Error| {
        unreadable.set(true);
        match error.kind() {
            std::io::ErrorKind::NotFound => format!("there is no such file in {}", folder.display()),
            _ => error.to_string(),
        }
    };
    // Where there are no links (WASI), whoever lent the files has drawn the line, and a path is what it says.
    let real = |path: &Path| match path.canonicalize() {
        Err(error) if error.kind() == std::io::ErrorKind::Unsupported => Ok(path.to_owned()),
        real => real,
    };
    let file = real(&folder.join(name)).map_err(failed)?;
    let home = real(folder).map_err(failed)?;
    if !wish.kitchen_anywhere && !file.starts_with(&home) {
        return Err("it is not below the menu's folder; --kitchen-anywhere reads it all the same".to_owned());
    }
    if file.is_dir() {
        return Err("it is a folder".to_owned());
    }
    let read = || io::at_most(&mut File::open(&file)?, read::LONGEST);
    let bytes = read().map_err(failed)?.map_err(|unreadable| unreadable.why)?;
    String::from_utf8(bytes).map_err(|_| "it is no text in UTF-8".to_owned())
}

fn menu(
    text: &str,
    shown: &str,
    mut file: impl FnMut(&str) -> Result<String, String>,
    wish: Wish,
    io: &Io<'_>,
) -> Result<Input, Refusal> {
    // The excerpts of faults need the texts of the other files as well.
    let mut sources = vec![(shown.to_owned(), text.to_owned())];
    let remembered = |name: &str| {
        let text = file(name)?;
        sources.push((name.to_owned(), text.clone()));
        Ok(text)
    };
    let mut draft = read::draft(text, shown, remembered);
    draft.feast.menu.units = wish.units.unwrap_or(draft.feast.menu.units);
    draft.feast.menu.date = wish.date.unwrap_or(draft.feast.menu.date);
    draft.feast.kitchen.region = wish.region.unwrap_or(draft.feast.kitchen.region);
    let feast = draft.feast.clone();
    match compile::draft(draft) {
        Ok(compiled) => {
            let doubts = compile::doubts(&feast, &compiled);
            Ok(Input { doubts, ..Input::new(Planner::from(compiled)) })
        }
        Err(faults) => {
            let text = excerpt::faults(&faults, &sources, io.terminal);
            Err(Refusal { faults: Some(faults), ..Refusal::shown(text, Exit::BadInput) })
        }
    }
}

/// A JSON object with steps and links is a problem; a menu has dishes with steps in them.
fn is_problem(text: &str) -> bool {
    text.trim_start().starts_with('{')
        && serde_json::from_str::<serde_json::Value>(text)
            .is_ok_and(|value| ["places", "steps", "links"].iter().all(|key| value.get(key).is_some()))
}

/// Which command gave this answer, if it is one of ours.
fn answer_of(text: &str) -> Option<String> {
    let text = text.trim_start();
    let value = text.starts_with('{').then(|| serde_json::from_str::<serde_json::Value>(text).ok()).flatten()?;
    value.get("schema")?;
    value.get("command")?.as_str().map(crate::plain::literal)
}

fn problem(text: &str, shown: &str, wish: Wish) -> Result<Input, Refusal> {
    let problem: Problem = serde_json::from_str(text)
        .map_err(|error| Refusal::new(format!("error: {shown} is no problem: {error}\n"), Exit::BadInput))?;
    let planner = Planner::of_problem(problem, None).map_err(|faults| {
        let lines: Vec<String> = faults.iter().map(|fault| format!("error: {shown}: {fault}\n")).collect();
        Refusal::new(lines.concat(), Exit::BadInput)
    })?;
    let mut input = Input::new(planner);
    input.words.labels.region = wish.region.unwrap_or_default();
    Ok(input)
}

/// A plan of the problem, by itself or in the answer of `plan --format json`.
pub(crate) fn saved_plan(path: &Path, problem: &Problem, io: &mut Io<'_>) -> Result<Plan, Refusal> {
    let plan = saved_evening(path, problem, io)?.plan;
    is_of_changed_menu(path, &plan, problem, io);
    Ok(plan)
}

/// Whether the menu was changed after the plan was made, which is then told.
pub(crate) fn is_of_changed_menu(path: &Path, plan: &Plan, problem: &Problem, io: &mut Io<'_>) -> bool {
    let changed = plan.is_of_another(problem);
    if changed {
        let shown = path.display();
        let text = format!("warning: the menu or its kitchen has been changed since {shown} was made\n");
        io.complain(&text, Exit::Planned);
    }
    changed
}

/// What a file says of an evening.
pub(crate) struct Saved {
    pub(crate) plan: Plan,
    /// Who does what, if the file says so.
    pub(crate) schedule: Option<Schedule>,
    /// What else was told with the plan; only an answer of `plan` has it.
    pub(crate) beside: Option<Beside>,
    /// It is an answer of `plan`, which names every step of its menu; a plan of the rest of a day may leave some out.
    pub(crate) whole: bool,
}

/// A plan as [`saved_plan`] reads it, with what stands beside it.
pub(crate) fn saved_evening(path: &Path, problem: &Problem, io: &mut Io<'_>) -> Result<Saved, Refusal> {
    let shown = path.display();
    let text = io
        .read(path, LONGEST)
        .map_err(|error| Refusal::new(format!("error: cannot read {shown}: {}\n", error.why), error.exit))?;
    let bad = |_| {
        let text = format!(
            "error: {shown} is no saved plan: make one with `rangewright plan MENU --format json > {shown}`, and do not change it\n"
        );
        Refusal::new(text, Exit::BadInput)
    };
    let own = |plan: Plan| {
        let Err(not) = form(problem, &plan) else { return Ok(plan) };
        let stranger = |one: &Violation| matches!(one, Violation::UnknownStep { .. } | Violation::MissingStep { .. });
        let known = plan.steps.keys().any(|id| problem.steps.iter().any(|step| step.id == *id));
        let text = if !known && !plan.steps.is_empty() && not.iter().any(stranger) {
            format!("error: {shown} is a plan of another menu: it has none of the steps of this one\n")
        } else {
            let lines: Vec<String> = not.iter().map(|one| format!("error: {shown}: {one}\n")).collect();
            let remedy = "It is no plan of this menu as it stands: plan anew, and do not change what is saved.\n";
            lines.concat() + remedy
        };
        Err(Refusal::new(text, Exit::BadInput))
    };
    let mut value: serde_json::Value = serde_json::from_str(&text).map_err(&bad)?;
    let Some(inner) = value.get_mut("plan").map(serde_json::Value::take) else {
        let plan = own(serde_json::from_value(value).map_err(&bad)?)?;
        return Ok(Saved { plan, schedule: None, beside: None, whole: false });
    };
    let plan = own(serde_json::from_value(inner).map_err(&bad)?)?;
    let schedule = value.get_mut("schedule").map(serde_json::Value::take).map(serde_json::from_value);
    let whole = value.get("command").is_some_and(|command| command == "plan");
    let beside = whole.then(|| serde_json::from_value(value).ok()).flatten();
    Ok(Saved { plan, schedule: schedule.transpose().map_err(bad)?, beside, whole })
}
