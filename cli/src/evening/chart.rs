//! What every appliance and every cook does over time, as lanes of bars: what charts are drawn from.

use std::collections::BTreeMap;

use rangewright::models::problem::{Minute, Rack};
use rangewright::models::schedule::CavityDay;

use super::View;
use super::marks::letters;
use super::phrases::{self, planned};

/// A step at the counter that needs no hand is drawn from this many minutes on.
pub(crate) const WORTH_A_LINE: Minute = 5;

/// The chart of a whole plan.
pub(crate) struct Chart<'a> {
    /// One for each day on which something is done.
    pub(crate) days: Vec<ChartDay<'a>>,
    /// A letter and the name of each dish, in the order of the menu.
    pub(crate) key: Vec<(char, &'a str)>,
}

/// The chart of a day. What begins on it and runs past midnight is drawn to its end.
pub(crate) struct ChartDay<'a> {
    pub(crate) day: String,
    pub(crate) from: Minute,
    pub(crate) to: Minute,
    pub(crate) blocks: Vec<Block<'a>>,
    pub(crate) flags: Vec<Flag<'a>>,
}

/// A course going out.
pub(crate) struct Flag<'a> {
    pub(crate) at: Minute,
    /// Counted from 1 over the whole plan.
    pub(crate) number: usize,
    pub(crate) course: &'a str,
}

/// The lanes of one appliance, of the cooks, or of the counter.
pub(crate) struct Block<'a> {
    pub(crate) sort: BlockSort,
    pub(crate) name: &'a str,
    /// The dial and the door, if it is an oven.
    pub(crate) cavity: Option<&'a CavityDay>,
    pub(crate) lanes: Vec<Lane<'a>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BlockSort {
    Hands,
    Appliance,
    Counter,
    /// A row for each dish: where it is in every minute.
    Dishes,
}

/// Bars that do not overlap. Further lanes of the same name have an empty one.
pub(crate) struct Lane<'a> {
    pub(crate) name: String,
    pub(crate) bars: Vec<Bar<'a>>,
    /// When the cook whose lane it is is not in the kitchen.
    pub(crate) away: Vec<[Minute; 2]>,
}

/// Something that takes its time.
#[derive(Clone)]
pub(crate) struct Bar<'a> {
    pub(crate) from: Minute,
    pub(crate) to: Minute,
    pub(crate) letter: char,
    pub(crate) dish: &'a str,
    pub(crate) title: &'a str,
    /// What is written on it: the dish, or in the row of a dish where it is and how hot.
    pub(crate) label: String,
    /// What else the cook should know of it: how long it may take, when it is most likely done.
    pub(crate) note: String,
    pub(crate) fill: Fill,
}

/// What a bar stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fill {
    Hands,
    Cooking,
    Resting,
    Holding,
    Chilling,
    /// Done, and nothing happens to it until it goes on.
    Waiting,
}

impl<'a> Chart<'a> {
    pub(crate) fn new(view: &View<'a>) -> Self {
        let letters = letters(view);
        let pencil = Pencil { view: *view, letters };
        let days = days(view).into_values().map(|(day, from, to)| ChartDay {
            day,
            from,
            to,
            blocks: pencil.blocks(from, to),
            flags: pencil.flags(from, to),
        });
        let days = days.collect();
        let key = pencil.letters.iter().map(|(dish, letter)| (*letter, view.words.dish(dish))).collect();
        Chart { days, key }
    }
}

/// The stretch of each day in which something is done, by its first minute.
fn days(view: &View<'_>) -> BTreeMap<Minute, (String, Minute, Minute)> {
    let mut days: BTreeMap<Minute, (String, Minute, Minute)> = BTreeMap::new();
    for (start, end) in stretches(view) {
        let day = view.words.day(start);
        let first = days.iter().find(|(_, (name, ..))| *name == day).map(|(first, _)| *first);
        let (_, from, to) = days.entry(first.unwrap_or(start)).or_insert((day, start, end));
        (*from, *to) = ((*from).min(start), (*to).max(end));
    }
    // A course that stands ready before its hour is on the chart as well.
    for serving in &view.day.servings {
        let day = view.words.day(serving.at);
        for (_, _, to) in days.values_mut().filter(|(name, ..)| *name == day) {
            *to = (*to).max(serving.at);
        }
    }
    days
}

/// When anything is done that needs a hand or an appliance: waiting at the counter makes no evening longer.
fn stretches(view: &View<'_>) -> Vec<(Minute, Minute)> {
    let placed = view.problem.steps.iter().filter_map(|step| {
        let own = planned(view, &step.id)?;
        own.mode.place.as_ref()?;
        Some((own.start, own.end))
    });
    let hands = view.day.jobs.iter().filter(|job| job.what.busy()).map(|job| (job.at, job.until));
    let dials = view.day.cavities.iter().flat_map(|day| &day.settings).map(|setting| (setting.at, setting.at));
    let mut all: Vec<_> = placed.chain(hands).chain(dials).collect();
    all.sort_unstable();
    all
}

struct Pencil<'a> {
    view: View<'a>,
    letters: Vec<(&'a str, char)>,
}

impl<'a> Pencil<'a> {
    fn blocks(&self, from: Minute, to: Minute) -> Vec<Block<'a>> {
        let day = self.view.day;
        let shown = |bars: Vec<(String, Bar<'a>)>| {
            lanes(bars.into_iter().filter(|(_, bar)| bar.from < to && from < bar.to).collect())
        };
        let block =
            |sort, place: &'a str, cavity, lanes| Block { sort, name: self.view.words.place(place), cavity, lanes };
        let mut hands = shown(self.hands());
        for lane in &mut hands {
            lane.away = self.away(&lane.name, from, to);
        }
        let mut blocks = vec![Block { name: "", ..block(BlockSort::Hands, "", None, hands) }];
        for own in &day.cavities {
            let racks = [Rack::Upper, Rack::Middle, Rack::Lower].into_iter();
            let spots = racks.flat_map(|height| own.spots.iter().filter(move |spot| spot.height == height));
            let bars =
                spots.filter_map(|s| Some((phrases::rack(s.height).to_owned(), self.bar(&s.step, s.from, s.until)?)));
            let lanes = shown(bars.collect());
            if !lanes.is_empty() || own.settings.iter().any(|setting| (from..=to).contains(&setting.at)) {
                blocks.push(block(BlockSort::Appliance, &own.place, Some(own), lanes));
            }
        }
        for own in &day.hobs {
            let mut spots: Vec<_> = own.spots.iter().collect();
            spots.sort_by_key(|spot| spot.burner);
            let bars = spots.into_iter();
            let bars = bars.filter_map(|s| Some((format!("burner {}", s.burner), self.bar(&s.step, s.from, s.until)?)));
            blocks.push(block(BlockSort::Appliance, &own.place, None, shown(bars.collect())));
        }
        for own in &day.tops {
            let bars = own.spots.iter().filter_map(|s| Some(("pans".to_owned(), self.bar(&s.step, s.from, s.until)?)));
            blocks.push(block(BlockSort::Appliance, &own.place, None, shown(bars.collect())));
        }
        let counter = Block { name: "Counter and cold", ..block(BlockSort::Counter, "", None, shown(self.counter())) };
        blocks.push(counter);
        let dishes = shown(self.dishes());
        blocks.push(Block { name: "Where each dish is", ..block(BlockSort::Dishes, "", None, dishes) });
        blocks.retain(|block| block.cavity.is_some() || !block.lanes.is_empty());
        blocks
    }

    fn flags(&self, from: Minute, to: Minute) -> Vec<Flag<'a>> {
        let servings = self.view.day.servings.iter().enumerate();
        let flags = servings.map(|(index, own)| Flag {
            at: own.at,
            number: index + 1,
            course: self.view.words.course(&own.course),
        });
        flags.filter(|flag| (from..=to).contains(&flag.at)).collect()
    }

    /// Whose hands are on what.
    fn hands(&self) -> Vec<(String, Bar<'a>)> {
        let mut bars = Vec::new();
        for (cook, name) in self.view.cooks().enumerate() {
            for job in self.view.day.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&cook)) {
                let bar = job.what.step().and_then(|step| self.bar(step, job.at, job.until));
                bars.extend(bar.map(|bar| (name.to_owned(), Bar { label: name.to_owned(), fill: Fill::Hands, ..bar })));
            }
        }
        bars
    }

    /// What rests, rises, chills or stands by itself.
    fn counter(&self) -> Vec<(String, Bar<'a>)> {
        let waits = self.view.problem.steps.iter().filter_map(|step| {
            let own = planned(&self.view, &step.id)?;
            let idle = own.mode.place.is_none() && own.mode.hands == 0 && own.end - own.start >= WORTH_A_LINE;
            let kind = &self.view.words.step(&step.id)?.kind;
            let bar = self.bar(&step.id, own.start, own.end)?;
            // Whatever it is called, nothing is cooked where there is no heat.
            let fill = if bar.fill == Fill::Cooking { Fill::Resting } else { bar.fill };
            idle.then(|| (kind.word().to_owned(), Bar { fill, ..bar }))
        });
        let mut waits: Vec<_> = waits.collect();
        waits.sort_by_key(|(_, bar)| bar.fill);
        waits
    }

    /// When a cook who has hours is away between two minutes of a day.
    fn away(&self, cook: &str, from: Minute, to: Minute) -> Vec<[Minute; 2]> {
        let own = self.view.words.labels.cooks.iter().find(|own| own.name == cook);
        let Some(own) = own.filter(|own| !own.shifts.is_empty()) else { return Vec::new() };
        let (mut away, mut gone) = (Vec::new(), from);
        for &[come, go] in &own.shifts {
            if gone < come.min(to) {
                away.push([gone, come.min(to)]);
            }
            gone = gone.max(go);
        }
        if gone < to {
            away.push([gone, to]);
        }
        away
    }

    /// Where each dish is, from its first step until it is served: no minute without a place.
    fn dishes(&self) -> Vec<(String, Bar<'a>)> {
        let mut bars = Vec::new();
        for (dish, letter) in &self.letters {
            let name = format!("{letter} {}", self.view.words.dish(dish));
            let steps = self.view.problem.steps.iter().filter(|step| step.dish == *dish);
            let mut steps: Vec<_> = steps.filter_map(|step| planned(&self.view, &step.id)).collect();
            steps.retain(|own| own.start < own.end);
            steps.sort_by_key(|own| (own.start, own.end));
            let mut before: Option<phrases::Planned<'a>> = None;
            for own in steps {
                bars.extend(before.and_then(|before| self.waiting(before, own.start)).map(|bar| (name.clone(), bar)));
                bars.extend(self.whereabouts(own).map(|bar| (name.clone(), bar)));
                before = before.filter(|before| before.end >= own.end).or(Some(own));
            }
            let course = self.view.words.labels.dishes.get(*dish).and_then(|label| label.course.as_deref());
            let serving = self.view.day.servings.iter().find(|serving| Some(serving.course.as_str()) == course);
            let served = before.zip(serving).and_then(|(before, serving)| self.waiting(before, serving.at));
            bars.extend(served.map(|bar| (name.clone(), bar)));
        }
        bars
    }

    /// A dish in one of its steps.
    fn whereabouts(&self, own: phrases::Planned<'a>) -> Option<Bar<'a>> {
        let bar = self.bar(&own.step.id, own.start, own.end)?;
        let (label, fill) = match own.mode.place.as_deref() {
            Some(id) => {
                let name = phrases::named(&self.view, own, id);
                let day = self.view.day.cavities.iter().find(|day| day.place == id);
                let setting = day.and_then(|day| Some((day, phrases::setting_at(day, own.start)?)));
                let hot = setting.map(|(day, setting)| phrases::dial(&self.view, day, setting));
                (hot.map_or(name.clone(), |hot| format!("{name}, {hot}")), bar.fill)
            }
            None if own.mode.hands > 0 => ("in hand".to_owned(), Fill::Hands),
            None => {
                let word = self.view.words.step(&own.step.id).map_or("stand", |label| label.kind.word());
                (word.to_owned(), if bar.fill == Fill::Cooking { Fill::Resting } else { bar.fill })
            }
        };
        let words = self.view.words.step(&own.step.id).and_then(|label| label.modes.get(own.index));
        let range = words.and_then(|words| words.range).map(|range| {
            format!("it may take {} to {}", crate::words::minutes(range.shortest), crate::words::minutes(range.longest))
        });
        let notes = words.into_iter().flat_map(|words| words.notes.iter().cloned());
        let note = range.into_iter().chain(notes).collect::<Vec<_>>().join("; ");
        Some(Bar { label, note, fill, ..bar })
    }

    /// A dish between two of its steps, or until it is served.
    fn waiting(&self, before: phrases::Planned<'a>, until: Minute) -> Option<Bar<'a>> {
        let bar = self.bar(&before.step.id, before.end, until).filter(|bar| bar.from < bar.to)?;
        Some(Bar { label: "waits".to_owned(), title: "waits where it was", fill: Fill::Waiting, ..bar })
    }

    fn bar(&self, step: &str, from: Minute, to: Minute) -> Option<Bar<'a>> {
        let own = self.view.problem.steps.iter().find(|own| own.id == step)?;
        let letter = self.letters.iter().find(|(dish, _)| *dish == own.dish).map_or('?', |(_, letter)| *letter);
        let word = self.view.words.step(&own.id).map_or("", |label| label.kind.word());
        let fill = match word {
            "rest" | "prove" | "soak" | "stand" => Fill::Resting,
            "hold" | "warm" => Fill::Holding,
            "chill" => Fill::Chilling,
            _ => Fill::Cooking,
        };
        let (dish, title) = (self.view.words.dish_of(&own.id), self.view.words.title(&own.id));
        Some(Bar { from, to, letter, dish, title, label: dish.to_owned(), note: String::new(), fill })
    }
}

/// Bars in lanes of their name, in the order in which names come up.
fn lanes<'a>(bars: Vec<(String, Bar<'a>)>) -> Vec<Lane<'a>> {
    let mut order: Vec<String> = Vec::new();
    let mut lanes: Vec<Lane<'a>> = Vec::new();
    for (name, bar) in bars {
        if !order.contains(&name) {
            order.push(name.clone());
        }
        let free = |lane: &&mut Lane<'a>| {
            lane.name == name && lane.bars.iter().all(|other| other.to <= bar.from || bar.to <= other.from)
        };
        match lanes.iter_mut().find(free) {
            Some(lane) => lane.bars.push(bar),
            None => lanes.push(Lane { name, bars: vec![bar], away: Vec::new() }),
        }
    }
    lanes.sort_by_key(|lane| order.iter().position(|own| *own == lane.name));
    let mut named = String::new();
    for lane in &mut lanes {
        lane.bars.sort_by_key(|bar| bar.from);
        if lane.name == named {
            lane.name.clear();
        } else {
            named.clone_from(&lane.name);
        }
    }
    lanes
}

/// Where the dial stands and where the air is, as it is turned within a day: what a temperature line is drawn from.
pub(crate) struct Reading {
    /// The minute.
    pub(crate) at: Minute,
    /// The temperature of the air, degrees C.
    pub(crate) air: f64,
}

/// The air of a cavity from one minute to another, as corners of a line: straight from each to the next.
///
/// Once switched off it is drawn as falling to what it was before the first heat.
pub(crate) fn air(view: &View<'_>, day: &CavityDay, to: Minute) -> Vec<Reading> {
    use rangewright::models::problem::Place;
    let cavity = view.problem.places.iter().find_map(|place| match place {
        Place::Cavity(cavity) if cavity.id == day.place => Some(cavity),
        _ => None,
    });
    let Some(cavity) = cavity else { return Vec::new() };
    let mut line: Vec<Reading> = Vec::new();
    let mut air = cavity.t_open as f64;
    for (index, setting) in day.settings.iter().enumerate() {
        let end = day.settings.get(index + 1).map_or(to.max(setting.at), |next| next.at);
        let target = setting.degrees.unwrap_or(cavity.t_open) as f64;
        let rate = if target > air { cavity.rise } else { -cavity.fall } as f64 / 10.0;
        line.push(Reading { at: setting.at, air });
        let reached = if rate == 0.0 { 0.0 } else { (target - air) / rate };
        // The schedule knows when the air gets there; only a line that is cut short follows the rate.
        let there = setting.at + reached.ceil() as Minute;
        if there < end {
            line.push(Reading { at: there, air: target });
            air = target;
        } else {
            air += rate * (end - setting.at) as f64;
            if (rate > 0.0) == (air > target) {
                air = target;
            }
        }
        line.push(Reading { at: end, air });
    }
    line
}
