//! Whether dishes can share a cavity, in a cook's words.

use rangewright::ask::{Clash, Hindrance, Manner, Obstacle, Sharing, Visit, Way, sharing_problem};
use rangewright::models::labels::Labels;
use rangewright::models::pack::Spot;
use rangewright::models::problem::{Cavity, Minute, Mode, Place, Problem};

use super::WAITING;
use super::limits::broken_but;
use super::page::Page;
use super::racks;
use crate::evening::{care, phrases};
use crate::plain::TIED;
use crate::words::{Words, capital, count, minutes};

/// Letters of the dishes in drawings.
const LETTERS: [char; 4] = ['A', 'B', 'C', 'D'];

/// The answer for each cavity, the best first; before them the limits that are `broken` by the roasts themselves, and those
/// that the best way breaks.
pub(crate) fn share(
    page: &mut Page,
    problem: &Problem,
    words: &Words,
    dishes: &[String],
    answers: &[Sharing],
    broken: &[String],
) {
    let names: Vec<&str> = dishes.iter().map(|dish| words.dish(dish)).collect();
    page.title(&format!("Can they share? {}", listed(&names)));
    // The cautions of the best way: what a plan does decides which of them apply.
    let best = answers.iter().find_map(|answer| Some((&answer.place, answer.ways.first()?)));
    let cares = best.map_or_else(Vec::new, |(place, way)| {
        care::of(&shared(problem, dishes, place, way), words, &labels(problem, words, place), &way.plan)
    });
    let own = cares.iter().filter(|care| care.broken()).map(|care| format!("{}: {}", care.head(), care.caution.text));
    for line in broken.iter().cloned().chain(own) {
        page.line(&line);
    }
    // What the way at hand breaks is said of it; what any way would, if it is about these dishes and not said yet.
    broken_but(page, problem, words, |caution, steps| {
        let asked = |id: &String| problem.steps.iter().any(|step| step.id == *id && dishes.contains(&step.dish));
        let said = |care: &care::Care| {
            care.broken() && care.caution.topic == caution.topic && steps.iter().any(|step| care.steps.contains(step))
        };
        !steps.iter().any(asked) || cares.iter().any(said)
    });
    let sheet = Sheet { problem, words, dishes };
    for answer in answers {
        sheet.cavity(page, answer);
    }
    if answers.is_empty() {
        page.line("This kitchen has no oven, drawer, grill or spit to share.");
    }
    if answers.iter().any(|answer| !answer.ways.is_empty()) {
        page.gap();
        page.line(
            "Each way is planned for these dishes alone, started at once. \"Later\" compares with the slowest of them made alone.",
        );
        if answers.iter().flat_map(|answer| &answer.ways).any(|way| way.extra_waiting != 0) {
            page.line(WAITING);
        }
    }
    page.cares(&cares);
}

/// The problem of a way.
fn shared(problem: &Problem, dishes: &[String], place: &str, way: &Way) -> Problem {
    let dishes: Vec<&str> = dishes.iter().map(String::as_str).collect();
    sharing_problem(problem, &dishes, place, way.manner)
}

/// The labels, without those of the modes that are elsewhere.
fn labels(problem: &Problem, words: &Words, place: &str) -> Labels {
    let mut labels = words.labels.clone();
    for step in &problem.steps {
        let here = |mode: &Mode| mode.place.as_deref() == Some(place);
        if step.modes.iter().any(here)
            && let Some(label) = labels.steps.get_mut(&step.id)
        {
            let mut modes = step.modes.iter();
            label.modes.retain(|_| modes.next().is_some_and(here));
        }
    }
    labels
}

struct Sheet<'a> {
    problem: &'a Problem,
    words: &'a Words,
    dishes: &'a [String],
}

impl Sheet<'_> {
    fn cavity(&self, page: &mut Page, answer: &Sharing) {
        let name = capital(self.words.place(&answer.place));
        let verdict = match (answer.ways.first(), answer.complete) {
            (Some(way), _) => format!("yes, {}", manner(way.manner)),
            (None, true) => "no".to_owned(),
            (None, false) => "not known".to_owned(),
        };
        page.heading(&format!("{name}: {verdict}"));
        for way in &answer.ways {
            self.way(page, answer, way);
        }
        if !answer.ways.is_empty() {
            page.gap();
        }
        let mut said = Vec::new();
        for not in &answer.not {
            let text = self.not(answer, not.manner, &not.because);
            if !said.contains(&text) {
                page.point(&text);
                said.push(text);
            }
        }
        if answer.not.iter().any(|not| not.because == Hindrance::Clash) {
            self.crowds(page, answer);
        }
        if !answer.complete {
            page.gap();
            page.line(
                "The search reached its limit: there may be more ways, or cheaper ones. Give it longer with --work or --time.",
            );
        }
    }

    fn way(&self, page: &mut Page, answer: &Sharing, way: &Way) {
        page.gap();
        let place = self.words.place(&answer.place);
        let air = way.air.map_or(String::new(), |air| format!(", {place} at {}", self.words.range(air)));
        let room = match (way.racks, self.cavity_of(&answer.place)) {
            (0, _) | (_, None) => String::new(),
            (used, Some(cavity)) => format!("; {used} of {}", count(cavity.racks.max(1) as usize, "rack", "racks")),
        };
        let waits = match way.extra_waiting {
            0 => String::new(),
            more if more > 0 => format!("; waiting costs {more} more"),
            less => format!("; waiting costs {} less", -less),
        };
        page.line(&format!("{}{air}: {}{waits}{room}.", capital(manner(way.manner)), later(way)));
        let first = way.visits.iter().map(|visit| visit.start).min().unwrap_or(0);
        for visit in &way.visits {
            let from = visit.start - first;
            page.entry(&clock(from), &self.visit(way, visit));
        }
        if !way.spots.is_empty()
            && let Some(cavity) = self.cavity_of(&answer.place)
        {
            page.gap();
            racks::draw(page, cavity, &self.pans(&answer.place, way), self.words.labels.units);
        }
    }

    fn visit(&self, way: &Way, visit: &Visit) -> String {
        let spends = visit.end - visit.start;
        let instead =
            if spends == visit.alone { String::new() } else { format!(" instead of {} alone", minutes(visit.alone)) };
        let first = way.visits.iter().map(|visit| visit.start).min().unwrap_or(0);
        format!(
            "{}{}: {}, {}{instead}, out at {}",
            self.letter(&visit.dish),
            self.words.title(&visit.step),
            self.words.range(visit.air),
            minutes(spends),
            clock(visit.end - first)
        )
    }

    /// The letter of a dish in the drawing, with a space.
    fn letter(&self, dish: &str) -> String {
        let at = self.dishes.iter().position(|own| own == dish).and_then(|at| LETTERS.get(at));
        at.map_or(String::new(), |letter| format!("{letter}{TIED}"))
    }

    fn pans(&self, place: &str, way: &Way) -> Vec<racks::Pan> {
        let problem = shared(self.problem, self.dishes, place, way);
        let pan = |step: &String, spot: &Spot| {
            let own = problem.steps.iter().find(|own| own.id == *step)?;
            let size = own.modes.get(way.plan.steps.get(step)?.mode)?.pan?;
            let at = self.dishes.iter().position(|dish| *dish == own.dish)?;
            Some(racks::Pan { letter: *LETTERS.get(at)?, size, spot: *spot })
        };
        way.spots.iter().filter_map(|(step, spot)| pan(step, spot)).collect()
    }

    fn not(&self, answer: &Sharing, way: Manner, because: &Hindrance) -> String {
        let no = format!("Not {}", manner(way));
        match because {
            Hindrance::Alone { dishes } => {
                let names: Vec<&str> = dishes.iter().map(|dish| self.words.dish(dish)).collect();
                format!("{} cannot be made here, not even alone", listed(&names))
            }
            Hindrance::Clash => {
                let reasons: Vec<String> = answer.clashes.iter().map(|clash| self.clash(clash)).collect();
                format!("{no}: {}", reasons.join("; "))
            }
            Hindrance::Minutes { minutes: more, .. } => format!(
                "{no}: the minutes do not fit: the dishes would reach the table {} further apart than the menu allows",
                minutes(*more)
            ),
            Hindrance::NoPlan | Hindrance::DoesNotKeep if way == Manner::AcrossDays => {
                format!("{no}: a dish that is ready the evening before does not keep until it is served")
            }
            Hindrance::Undecided => format!("{no}, as far as the search got before its limit"),
            _ => format!("{no}: the times of their courses, and how long each may wait, leave no time for it"),
        }
    }

    fn clash(&self, clash: &Clash) -> String {
        let dishes: Vec<&str> = clash.steps.iter().map(|step| self.words.dish_of(step)).collect();
        let reasons: Vec<String> = clash.obstacles.iter().map(|obstacle| self.obstacle(obstacle, &dishes)).collect();
        let who = if self.dishes.len() > 2 { format!("{}: ", listed(&dishes)) } else { String::new() };
        format!("{who}{}", reasons.join(", and "))
    }

    fn obstacle(&self, obstacle: &Obstacle, dishes: &[&str]) -> String {
        match obstacle {
            Obstacle::Windows { degrees } => {
                format!("their temperatures are {} apart", self.words.difference(*degrees))
            }
            Obstacle::Heat { first, second } => {
                format!("one needs {}, the other {}", phrases::heat(*first), phrases::heat(*second))
            }
            Obstacle::Moist => "one gives off moist air that would spoil the other".to_owned(),
            Obstacle::Weight { grams } => {
                format!("together they are {} too heavy for the racks", self.words.weight(*grams))
            }
            Obstacle::Room(_) if dishes.len() > 2 => "any two of them fit, but not all of them together".to_owned(),
            Obstacle::Room(_) => "their pans do not fit together".to_owned(),
            Obstacle::NoMode { step } => format!("{} cannot be done here", self.words.title(step)),
            other => other.to_string(),
        }
    }

    /// The pans that do not fit, rack by rack.
    fn crowds(&self, page: &mut Page, answer: &Sharing) {
        let Some(cavity) = self.cavity_of(&answer.place) else { return };
        for clash in &answer.clashes {
            for obstacle in &clash.obstacles {
                let Obstacle::Room(crowd) = obstacle else { continue };
                let letter = |step: &String| {
                    let own = self.problem.steps.iter().find(|own| own.id == *step)?;
                    LETTERS.get(self.dishes.iter().position(|dish| *dish == own.dish)?).copied()
                };
                let letters: Vec<char> = clash.steps.iter().filter_map(letter).collect();
                let legend: Vec<String> = letters
                    .iter()
                    .zip(&clash.steps)
                    .map(|(letter, step)| format!("{letter} = {}", self.words.dish_of(step)))
                    .collect();
                page.gap();
                page.line(&legend.join(", "));
                racks::refuse(page, cavity, &letters, crowd, self.words.labels.units);
            }
        }
    }

    fn cavity_of(&self, id: &str) -> Option<&Cavity> {
        self.problem.places.iter().find_map(|place| match place {
            Place::Cavity(cavity) if cavity.id == id => Some(cavity),
            _ => None,
        })
    }
}

/// `a, b and c`.
fn listed(names: &[&str]) -> String {
    match names {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => names.concat(),
    }
}

fn manner(manner: Manner) -> &'static str {
    match manner {
        Manner::SideBySide => "side by side",
        Manner::WhileResting => "one while the other rests",
        Manner::InTurn => "in turn",
        Manner::AcrossDays => "one the day before",
    }
}

fn later(way: &Way) -> String {
    let text = match way.later {
        0 => "nothing is later".to_owned(),
        more if more > 0 => format!("{} later", minutes(more)),
        less => format!("{} sooner", minutes(-less)),
    };
    if way.manner == Manner::AcrossDays { format!("on the day itself {text}") } else { text }
}

/// Hours and minutes after the first of them goes in.
fn clock(minute: Minute) -> String {
    format!("{}:{:02}", minute.div_euclid(60), minute.rem_euclid(60))
}
