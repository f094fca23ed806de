//! What a cook has to know of a new plan: when courses go out, what moved, what can be done about lateness.

use rangewright::models::caution::{Topic, usual};
use rangewright::models::day::Day;
use rangewright::models::plan::Plan;
use rangewright::models::problem::{Mode, Place, Problem};
use rangewright::replan::{Alarm, Moved, Replan, Rescue, WORTH_MENDING, Way};

use super::{Page, broken};
use crate::evening::marks::job;
use crate::words::{Words, capital, minutes};

/// Dishes that are named as ones to leave out.
const LEFT_OUT: usize = 4;

/// What has to be looked at now: before everything else.
pub(crate) fn alarms(replan: &Replan, words: &Words, page: &mut Page) {
    let names = |steps: &[String]| steps.iter().map(|step| job(words, step)).collect::<Vec<_>>().join(", ");
    let mut said: Vec<Topic> = Vec::new();
    for alarm in &replan.alarms {
        let (text, topics): (String, &[Topic]) = match alarm {
            Alarm::ColdOven { place, degrees, needs, steps } => (
                format!(
                    "{} reads {} and ought to have {}: {}. Is it on, and its door shut? Minutes in a cold oven do not count: \
                     probe before you trust the times below.",
                    capital(words.place(place)),
                    words.degrees(*degrees),
                    words.degrees(*needs),
                    names(steps)
                ),
                &[Topic::Undercooked, Topic::Holding],
            ),
            Alarm::HotOven { place, degrees, takes, steps } => (
                format!(
                    "{} reads {} and ought to have no more than {}: {}. Turn it down, and look at what is in it.",
                    capital(words.place(place)),
                    words.degrees(*degrees),
                    words.degrees(*takes),
                    names(steps)
                ),
                &[],
            ),
            Alarm::RoastOut { step, planned, likely: [early, late] } => (
                format!(
                    "{}: done between {} and {} by its thermometer; the last sheet said {}.",
                    capital(&job(words, step)),
                    words.clock_from(replan.now, *early),
                    words.clock_from(replan.now, *late),
                    words.clock_from(replan.now, *planned)
                ),
                &[],
            ),
            Alarm::Stranded { place, since, steps } => (
                format!(
                    "{} has not worked since {}, with this in it: {}. Move it, finish it elsewhere, or cool it fast.",
                    capital(words.place(place)),
                    words.clock_from(replan.now, *since),
                    names(steps)
                ),
                &[Topic::Holding, Topic::SlowCooling],
            ),
            _ => continue,
        };
        page.line(&format!("! {text}"));
        cautioned(words, topics, &mut said, page);
    }
}

/// The usual cautions, each once.
fn cautioned(words: &Words, topics: &[Topic], said: &mut Vec<Topic>, page: &mut Page) {
    for &topic in topics {
        if !said.contains(&topic) {
            let caution = usual(topic, words.labels.region);
            page.more(&format!("! {} [{}]", caution.text, caution.source.cited()));
            said.push(topic);
        }
    }
}

/// What people have in their hands: the last plan, and the menu.
pub(crate) struct Told<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) problem: &'a Problem,
}

impl Told<'_> {
    /// Whether the last plan still has a dish.
    fn has(&self, dish: &str) -> bool {
        self.problem.steps.iter().any(|step| step.dish == dish && self.plan.steps.contains_key(&step.id))
    }
}

/// Portions that are kept for who comes later than their course goes out.
fn kept_back(replan: &Replan, day: &Day, words: &Words, page: &mut Page) {
    let mut said = Vec::new();
    for served in &replan.servings {
        let Some(late) = day.latecomers.get(&served.course) else { continue };
        let come = served.wanted + late.minutes;
        if served.at < come {
            page.line(&format!(
                "{}: {} of the guests come at {}; keep as many portions back.",
                capital(words.course(&served.course)),
                late.guests,
                words.clock_from(replan.now, come)
            ));
            cautioned(words, &[Topic::Holding], &mut said, page);
        }
    }
}

/// Writes the news.
pub(crate) fn news(replan: &Replan, day: &Day, told_before: &Told<'_>, words: &Words, page: &mut Page) {
    page.title(&format!("New plan at {}", words.clock(replan.now)));
    for served in &replan.servings {
        let name = capital(words.course(&served.course));
        let late = match served.late() {
            0 => "on time".to_owned(),
            late => format!("{} late", minutes(late)),
        };
        let before = match served.before {
            Some(before) if before != served.at => format!("; the last plan said {}", words.clock(before)),
            _ => String::new(),
        };
        page.entry(&words.clock(served.at), &format!("{name}: {late}{before}"));
    }
    page.heading("What is new");
    for dish in day.dropped.iter().filter(|dish| told_before.has(dish)) {
        page.line(&format!("Dropped, for everybody: {}.", words.dish(dish)));
    }
    for (cook, spells) in &day.away {
        if spells.last().is_some_and(|spell| spell[0] <= replan.now && replan.now < spell[1]) {
            page.line(&format!("{} is away: somebody else has those jobs.", words.cook(cook)));
        }
    }
    for (cook, percent) in &day.slower {
        page.line(&format!(
            "{} is slower by {percent} %: jobs at the counter take that much longer.",
            capital(words.cook(cook))
        ));
    }
    if let Some([guests, expected]) = day.guests.filter(|[guests, expected]| guests != expected) {
        let what = if guests > expected {
            "preparing and plating take longer in proportion; what cooks, cooks as long if the pans hold it"
        } else {
            "portion for them; what cooks, cooks as long, and no job is taken to be shorter"
        };
        page.line(&format!("{guests} guests, not {expected}: {what}."));
    }
    kept_back(replan, day, words, page);
    if replan.moved.is_empty() {
        page.line("Nothing: go on as the last sheet says.");
    } else {
        page.line("Everything else stays as the last sheet says.");
    }
    let (only_when, other): (Vec<&Moved>, Vec<&Moved>) = replan.moved.iter().partition(|moved| is_only_when(moved));
    for moved in &other {
        let (margin, text) = told(replan, words, moved);
        page.entry(&margin, &text);
    }
    if !only_when.is_empty() && !other.is_empty() {
        page.gap();
        page.line("Only at another time:");
    }
    for moved in &only_when {
        let (margin, text) = told(replan, words, moved);
        page.entry(&margin, &text);
    }
    if !replan.broken.is_empty() {
        page.heading("What the menu asks for and the day breaks");
        for violation in &replan.broken {
            page.point(&broken(words, violation));
        }
    }
    if replan.servings.iter().any(|served| served.late() >= WORTH_MENDING) {
        page.heading("What could be done about it");
        page.line(if replan.proved {
            "With all of the menu nothing is sooner: that is proved."
        } else {
            "Whether anything is sooner with all of the menu is not known."
        });
        if replan.rescues.is_empty() {
            page.line("Nothing else that was tried makes it less late.");
        }
        let mut said: Vec<&str> = Vec::new();
        let left_out = |rescue: &&Rescue| matches!(rescue.way, Way::Without { .. });
        let others = replan.rescues.iter().filter(|rescue| !left_out(rescue));
        for rescue in others.chain(replan.rescues.iter().filter(left_out).take(LEFT_OUT)) {
            rescued(words, rescue, page);
            // What goes for two ways is said once.
            for caution in rescue.cautions.iter().filter(|caution| !said.contains(&caution.as_str())) {
                page.more(&format!("! {caution}"));
            }
            said.extend(rescue.cautions.iter().map(String::as_str));
        }
    }
}

/// Whether the same cook does it in the same place, and only the minute is new: nothing to think about, only to look up.
fn is_only_when(moved: &Moved) -> bool {
    moved.to.is_some() && !moved.running && !moved.place && moved.cooks.is_none()
}

/// A change: when, and what of it is new.
fn told(replan: &Replan, words: &Words, moved: &Moved) -> (String, String) {
    let title = capital(&job(words, &moved.step));
    let Some(to) = &moved.to else { return (String::new(), format!("{title}: not needed any more")) };
    let step = replan.problem.steps.iter().find(|step| step.id == moved.step);
    let mode = step.and_then(|step| step.modes.get(to.mode));
    let clock = |minute| words.clock_from(replan.now, minute);
    let mut parts: Vec<String> = Vec::new();
    if moved.running && moved.from.end != to.end {
        parts.push(format!("done at {}, not {}", clock(to.end), clock(moved.from.end)));
    } else if !moved.running {
        let takes = to.end - to.start;
        let longer = takes != moved.from.end - moved.from.start;
        let until = if longer { format!("until {}, {}", clock(to.end), minutes(takes)) } else { String::new() };
        let was = if moved.from.start == to.start { String::new() } else { format!("was {}", clock(moved.from.start)) };
        parts.extend([was, until].into_iter().filter(|part| !part.is_empty()));
    }
    if let Some(mode) = mode.filter(|_| moved.place) {
        parts.push(format!("now {}", place(&replan.problem, words, mode)));
    }
    if let Some([before, after]) = &moved.cooks {
        let named = |cooks: &[String]| cooks.iter().map(|name| words.cook(name)).collect::<Vec<_>>().join(" and ");
        let (own, other) = (named(after), named(before));
        match (after.as_slice(), before.as_slice()) {
            ([], _) => parts.push("nobody has to be there".to_owned()),
            (_, []) => parts.push(own),
            _ => parts.push(format!("{own}, not {other}")),
        }
    }
    let margin = if moved.running { words.clock(to.end) } else { words.clock(to.start) };
    (margin, format!("{title} ({})", parts.join("; ")))
}

/// Where something is done: in an oven at some degrees, on a burner, or on the counter.
fn place(problem: &Problem, words: &Words, mode: &Mode) -> String {
    let Some(id) = mode.place.as_deref() else { return "on the counter".to_owned() };
    let cavity = problem.places.iter().any(|own| own.id() == id && matches!(own, Place::Cavity(_)));
    let degrees = mode.t.map_or(String::new(), |[low, high]| format!(" at {}", words.degrees((low + high) / 2)));
    format!("{} {}{degrees}", if cavity { "in" } else { "on" }, words.place(id))
}

fn rescued(words: &Words, rescue: &Rescue, page: &mut Page) {
    let title = |step: &str| capital(&job(words, step));
    let what = match &rescue.way {
        Way::Hotter { step, degrees, left } => {
            format!("{}: turn up to {}; about {} left then", title(step), words.degrees(*degrees), minutes(*left))
        }
        Way::SliceEarlier { step, minutes: least } => format!("{}: only {}", title(step), minutes(*least)),
        Way::OtherOven { step, place } => format!("{}: go on in {}", title(step), words.place(place)),
        Way::InParts { dish, at } => {
            format!("Do not wait for {}, which follows at {}", words.dish(dish), words.clock(*at))
        }
        Way::Without { dish } => format!("Leave out {}", words.dish(dish)),
        Way::MoreHands => "One more pair of hands from now on".to_owned(),
        other => format!("{other:?}"),
    };
    let served = |served: &rangewright::replan::Served| {
        let late = served.late();
        let late = if late == 0 { "on time".to_owned() } else { format!("{} late", minutes(late)) };
        format!("{} at {}, {late}", words.course(&served.course), words.clock(served.at))
    };
    let servings: Vec<String> = rescue.servings.iter().map(served).collect();
    page.point(&format!("{what}: {}", servings.join("; ")));
}
