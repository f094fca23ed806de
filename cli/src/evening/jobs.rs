//! What each cook does, in order of time, in words.

use rangewright::models::larder::Food;
use rangewright::models::menu::Kind;
use rangewright::models::problem::Minute;
use rangewright::models::schedule::{Job, Setting, What};

use super::chart::WORTH_A_LINE;
use super::marks::Mark;
use super::phrases::{self, Planned, dial, place, planned, the};
use super::{View, stands};
use crate::plain::TIED;
use crate::words::{capital, minutes};

/// A cook's run sheet.
pub(crate) struct CookSheet {
    pub(crate) name: String,
    /// Index into the schedule's cooks.
    pub(crate) cook: usize,
    pub(crate) days: Vec<SheetDay>,
}

/// What a cook does on one day.
pub(crate) struct SheetDay {
    pub(crate) day: String,
    pub(crate) entries: Vec<Entry>,
}

/// A job in words.
pub(crate) struct Entry {
    pub(crate) at: Minute,
    pub(crate) until: Minute,
    pub(crate) clock: String,
    /// What is done; of which dish says the mark.
    pub(crate) head: String,
    pub(crate) mark: Option<Mark>,
    pub(crate) more: Vec<Line>,
    /// The job itself; its steps and places are ids.
    pub(crate) what: What,
    /// Who does it, as indices into the schedule's cooks.
    pub(crate) cooks: Vec<usize>,
}

impl Entry {
    pub(crate) fn serves(&self) -> bool {
        matches!(self.what, What::Serve { .. })
    }

    /// The job with its dish, where the title does not name it: `Savoy cabbage: Shred it (5 min)`.
    pub(crate) fn said(&self) -> String {
        match self.unnamed() {
            Some(dish) => format!("{dish}: {}", self.head),
            None => self.head.clone(),
        }
    }

    /// The dish, if the title does not name it.
    pub(crate) fn unnamed(&self) -> Option<&str> {
        self.mark.as_ref().filter(|mark| !mark.named).map(|mark| mark.dish.as_str())
    }

    /// The letter of the dish.
    pub(crate) fn letter(&self) -> Option<char> {
        self.mark.as_ref().map(|mark| mark.letter)
    }
}

/// More about a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    pub(crate) sort: Sort,
    pub(crate) text: String,
}

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    /// Who helps.
    With,
    /// Where and how hot.
    Where,
    /// How long.
    Until,
    /// What to look for.
    Look,
    /// Anything else to know.
    Note,
    /// A caution.
    Care,
}

impl Sort {
    pub(super) fn line(self, text: impl Into<String>) -> Line {
        Line { sort: self, text: text.into() }
    }
}

/// One sheet for each cook who does more than see courses out.
pub(super) fn sheets(view: &View<'_>) -> Vec<CookSheet> {
    let mut sheets = Vec::new();
    for (cook, name) in view.cooks().enumerate() {
        let mut days: Vec<SheetDay> = Vec::new();
        for job in view.day.jobs.iter().filter(|job| job.cooks.contains(&cook)) {
            let Some(mut entry) = entry(view, job) else { continue };
            let with: Vec<&str> =
                job.cooks.iter().filter(|&&other| other != cook).filter_map(|&other| view.cook(other)).collect();
            if job.what.busy() && !with.is_empty() {
                entry.more.insert(0, Sort::With.line(format!("Together with {}", with.join(" and "))));
            }
            let day = view.words.day(job.at);
            match days.last_mut() {
                Some(last) if last.day == day => last.entries.push(entry),
                _ => days.push(SheetDay { day, entries: vec![entry] }),
            }
        }
        if days.iter().flat_map(|day| &day.entries).any(|entry| !entry.serves()) {
            sheets.push(CookSheet { name: name.to_owned(), cook, days });
        }
    }
    sheets
}

/// Everything that is worth saying of a day, once each, in order of time.
pub(super) fn all(view: &View<'_>) -> Vec<Entry> {
    view.day.jobs.iter().filter_map(|job| entry(view, job)).collect()
}

/// A job in words; nothing for what is only noise.
fn entry(view: &View<'_>, job: &Job) -> Option<Entry> {
    let (head, more) = words(view, job)?;
    let clock = view.words.clock(job.at);
    let mark = job.what.step().and_then(|step| Mark::of(view, step, &head));
    Some(Entry {
        at: job.at,
        until: job.until,
        clock,
        head,
        mark,
        more,
        what: job.what.clone(),
        cooks: job.cooks.clone(),
    })
}

type Said = (String, Vec<Line>);

fn words(view: &View<'_>, job: &Job) -> Option<Said> {
    Some(match &job.what {
        What::Dial { place, setting } => turn(view, place, *setting)?,
        What::Serve { course } => (
            format!("SERVE {}", view.words.course(course).to_uppercase()),
            vec![Sort::Note.line(capital(&phrases::list(&phrases::dishes_of(view, course))))],
        ),
        What::Wash { after } => (
            "Wash hands, board and knife".to_owned(),
            vec![Sort::Note.line(format!("With hot water and soap: they had raw {}", flesh(view, after)?))],
        ),
        What::Shift { place, step } => shift(view, place, step, job.at)?,
        What::Work { step } => {
            let own = planned(view, step)?;
            let mut more: Vec<Line> = place(view, own).map(|place| Sort::Where.line(place)).into_iter().collect();
            more.extend(stands::fetched(view, own));
            more.extend(notes(view, own));
            more.extend(look(view, step));
            more.extend(stands::put_away(view, own));
            (timed(view.words.title(step), job), more)
        }
        What::PutIn { step } | What::Leave { step } => begin(view, job, planned(view, step)?)?,
        What::TakeOut { step } => {
            let own = planned(view, step)?;
            (
                timed(&format!("Take {} {}", the(view.words.dish_of(step)), away(view, own)), job),
                look(view, step).into_iter().chain(stands::put_away(view, own)).collect(),
            )
        }
        What::Touch { step, index } => {
            let own = planned(view, step)?;
            let words =
                view.words.step(step).and_then(|label| label.modes.get(own.index)?.touches.get(*index).cloned());
            let what = capital(words.as_deref().unwrap_or("tend"));
            let at = own.mode.place.as_deref().map(|id| {
                let on = if is_cavity(view, id) { "In" } else { "On" };
                format!("{on} {}", the(&phrases::named(view, own, id)))
            });
            (timed(&what, job), at.map(|at| Sort::Where.line(at)).into_iter().collect())
        }
    })
}

/// A title with the minutes its hands are busy.
fn timed(title: &str, job: &Job) -> String {
    format!("{} ({})", capital(title), minutes(job.until - job.at))
}

/// How long hands are busy at the beginning; by the title nobody could tell that from how long it all takes.
fn begun(view: &View<'_>, own: Planned<'_>, job: &Job) -> String {
    let what = match own.mode.place.as_deref() {
        Some(id) if is_cavity(view, id) => "put in",
        Some(_) => "put on",
        None => "set up",
    };
    if job.what.busy() { format!(" ({} to {what})", minutes(job.until - job.at)) } else { String::new() }
}

fn is_cavity(view: &View<'_>, place: &str) -> bool {
    view.day.cavities.iter().any(|day| day.place == place)
}

/// Where something is taken away from: `out of the big oven`.
fn away(view: &View<'_>, own: Planned<'_>) -> String {
    match own.mode.place.as_deref() {
        Some(id) if is_cavity(view, id) => format!("out of {}", the(&phrases::named(view, own, id))),
        Some(id) => format!("off {}", the(&phrases::named(view, own, id))),
        None if view.words.step(&own.step.id).is_some_and(|label| label.kind == Kind::Chill) => {
            "out of the cold".to_owned()
        }
        None => "up".to_owned(),
    }
}

/// Something is put in its place, or left to itself.
fn begin(view: &View<'_>, job: &Job, own: Planned<'_>) -> Option<Said> {
    let step = own.step.id.as_str();
    if own.start == own.end {
        return None;
    }
    let stays_from = view.problem.links.iter().find(|link| link.stay && link.to == step).map(|link| link.from.as_str());
    let place = place(view, own);
    let idle = !job.what.busy() && own.mode.place.is_none() && own.end - own.start < WORTH_A_LINE;
    let said = || look(view, step).is_some() || !notes(view, own).is_empty();
    if idle && !said() && view.words.cautions(step, own.index).next().is_none() {
        return None;
    }
    let mut more: Vec<Line> = stands::fetched(view, own).into_iter().collect();
    if let Some(before) = stays_from {
        more.extend(wanted(view, before).map(|look| Sort::Look.line(format!("First look for: {look}"))));
    }
    let place = place.map(|place| if stays_from.is_some() { format!("Stays in: {place}") } else { place });
    more.extend(place.map(|place| Sort::Where.line(place)));
    let length = minutes(own.end - own.start);
    let until = view.words.clock_from(own.start, own.end);
    let range = view.words.step(step).and_then(|label| label.modes.get(own.index)?.range);
    let about = range.map_or(String::new(), |range| {
        let [first, last] = [range.shortest, range.longest].map(minutes);
        let unit = format!("{TIED}min");
        let first = first.strip_suffix(&unit).filter(|_| last.ends_with(&unit)).unwrap_or(&first);
        format!(", it may take {first} to {last}")
    });
    let begun = begun(view, own, job);
    more.push(Sort::Until.line(format!("Until {until}, {length}{about}{begun}")));
    if own.mode.shut > 0 {
        let open = view.words.clock_from(own.start, own.start + own.mode.shut);
        more.push(Sort::Note.line(format!("Keep the door shut until {open}")));
    }
    more.extend(unmet(view, own));
    more.extend(notes(view, own));
    // What is looked for at the end stands where it is taken out, or where it goes on in the same oven.
    let goes_on = view.problem.links.iter().any(|link| link.stay && link.from == step);
    if own.mode.unload == 0 && !goes_on {
        more.extend(look(view, step));
    }
    if own.mode.unload == 0 {
        more.extend(stands::put_away(view, own));
    }
    let title = view.words.title(step);
    Some((capital(title), more))
}

fn turn(view: &View<'_>, place: &str, setting: usize) -> Option<Said> {
    let day = view.day.cavities.iter().find(|day| day.place == place)?;
    let new = day.settings.get(setting)?;
    let before: Option<&Setting> = setting.checked_sub(1).and_then(|index| day.settings.get(index));
    let name = the(view.words.place(place));
    let Some(degrees) = new.degrees else { return Some((format!("Switch {name} off"), Vec::new())) };
    let verb = match before.and_then(|before| before.degrees) {
        None => format!("Heat {name} to"),
        Some(old) if old < degrees => format!("Turn {name} up to"),
        Some(old) if old > degrees => format!("Turn {name} down to"),
        Some(_) => format!("Set {name} to"),
    };
    let heats = before.and_then(|before| before.degrees).is_none_or(|old| old < degrees);
    let there = view.words.clock_from(new.at, new.there);
    let mut more = if new.there > new.at {
        vec![Sort::Until.line(format!("{} by {there}", if heats { "Hot" } else { "There" }))]
    } else {
        Vec::new()
    };
    more.extend(phrases::moved(view, day, new).map(|why| Sort::Note.line(why)));
    Some((format!("{verb} {}", dial(view, day, new)), more))
}

fn shift(view: &View<'_>, place: &str, step: &str, at: Minute) -> Option<Said> {
    let day = view.day.cavities.iter().find(|day| day.place == place)?;
    let spot = day.spots.iter().find(|spot| spot.step == step && spot.from == at)?;
    let head = format!("Shift {} in {}", the(view.words.dish_of(step)), the(view.words.place(place)));
    let to = format!("To the {} rack: what comes next has no room otherwise", phrases::rack(spot.height));
    Some((head, vec![Sort::Where.line(to)]))
}

/// What meat a step has, in a word.
fn flesh(view: &View<'_>, step: &str) -> Option<String> {
    let label = view.words.step(step)?;
    Some(view.words.labels.dishes.get(&label.dish)?.contents.first(Food::is_flesh)?.to_string())
}

/// A wish for a height that is not met.
fn unmet(view: &View<'_>, own: Planned<'_>) -> Option<Line> {
    let unmet = view.day.cavities.iter().flat_map(|day| &day.unmet).find(|unmet| unmet.step == own.step.id)?;
    let wish = phrases::rack(unmet.wish);
    Some(Sort::Note.line(format!("Would rather be on the {wish} rack, but the other pans leave no room there")))
}

fn look(view: &View<'_>, step: &str) -> Option<Line> {
    wanted(view, step).map(|look| Sort::Look.line(format!("Look for: {look}")))
}

fn wanted<'a>(view: &View<'a>, step: &str) -> Option<&'a str> {
    view.words.step(step)?.look.as_deref()
}

/// Notes of the menu, and of the models.
fn notes(view: &View<'_>, own: Planned<'_>) -> Vec<Line> {
    let label = view.words.step(&own.step.id);
    let mut notes: Vec<&String> = label.and_then(|label| label.note.as_ref()).into_iter().collect();
    notes.extend(label.and_then(|label| label.modes.get(own.index)).map_or(&[][..], |words| &words.notes));
    // What the step before hands on, in the mode that was chosen.
    for link in view.problem.links.iter().filter(|link| link.to == own.step.id) {
        let before = planned(view, &link.from).filter(|before| before.step.dish == own.step.dish);
        let before = before.and_then(|before| view.words.step(&link.from)?.modes.get(before.index));
        notes.extend(before.map_or(&[][..], |words| &words.hands_on));
    }
    notes.into_iter().map(|note| Sort::Note.line(capital(note))).collect()
}
