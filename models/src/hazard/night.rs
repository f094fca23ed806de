//! Food as time and temperature: for each step of each dish between which temperatures it may be, from raw to served.
//!
//! Bounds are honest, not likely: food that stands may be as warm as it was or as cool as the room at once, for nobody knows
//! how small the smallest portion is. Only what is chilled, held or heated is known better.

use std::collections::BTreeMap;

use super::Rules;
use crate::cook::chill::Cooler;
use crate::cook::safety::Caution;
use crate::labels::{DishLabel, Facts, Labels, ModeLabel, STAND_BY, StepLabel, Warmth};
use crate::larder::{Contents, Food, Known, tokens};
use crate::menu::{Keeps, Kind, Start, slug};
use crate::oven::SWING;
use crate::plan::Plan;
use crate::problem::{Minute, Mode, Problem, Step};

/// Boiling water, degrees C.
const BOIL: f64 = 100.0;
/// What simmers gently, degrees C (our assumption).
const SIMMER: f64 = 85.0;

/// Why food is between these temperatures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// The menu says so.
    Known,
    /// It is heated.
    Heated,
    /// It cools in the cold.
    Cooling,
    /// It stands in the room.
    Standing,
    /// It is kept hot.
    Held,
    /// It is cold.
    Chilled,
}

/// Minutes in which food is between two temperatures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// First minute.
    pub from: Minute,
    /// The minute after the last.
    pub until: Minute,
    /// Degrees C, at the least.
    pub low_c: f64,
    /// Degrees C, at the most.
    pub high_c: f64,
    /// Why.
    pub how: How,
}

/// A step of a plan, with what its food is and what becomes of it until the next step or the table.
pub struct Spell<'a> {
    /// The step.
    pub step: &'a Step,
    /// Its words.
    pub label: &'a StepLabel,
    /// What it does.
    pub facts: &'a Facts,
    /// Its dish.
    pub dish: &'a DishLabel,
    /// The way chosen.
    pub mode: &'a Mode,
    /// The words of that way.
    pub words: &'a ModeLabel,
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
    /// The steps before it, as indices.
    pub before: Vec<usize>,
    /// Its food in the step and while it waits afterwards, in order of time.
    pub course: Vec<Stretch>,
    /// Minutes between the limits when it begins, counted from the last heat.
    pub arrived: Minute,
    /// The most of these minutes that it comes to by the next step or the table.
    pub stood: Minute,
    /// The same by the end of the step.
    pub by_end: Minute,
    /// When it is eaten, if it is the last of its dish.
    pub served: Option<Minute>,
}

/// An evening as hazards see it.
pub struct Night<'a> {
    /// What is planned.
    pub problem: &'a Problem,
    /// Its words.
    pub labels: &'a Labels,
    /// What it is judged by.
    pub rules: Rules,
    /// Every step that is planned, in order of time.
    pub spells: Vec<Spell<'a>>,
}

impl<'a> Night<'a> {
    /// The evening of a plan; steps that it does not have are left out.
    pub fn new(problem: &'a Problem, labels: &'a Labels, plan: &Plan) -> Night<'a> {
        let rules = Rules { region: labels.region, premises: labels.premises };
        let mut order: Vec<_> =
            problem.steps.iter().filter_map(|step| Some((step, plan.steps.get(&step.id)?))).collect();
        order.sort_by_key(|(step, planned)| (planned.end, planned.start, &step.id));
        let mut night = Night { problem, labels, rules, spells: Vec::new() };
        let mut at: BTreeMap<&str, usize> = BTreeMap::new();
        for (step, planned) in order {
            let Some(label) = labels.steps.get(&step.id) else { continue };
            if label.kind == Kind::Other(STAND_BY.to_owned()) {
                continue;
            }
            let (Some(dish), Some(mode)) = (labels.dishes.get(&step.dish), step.modes.get(planned.mode)) else {
                continue;
            };
            let Some(words) = label.modes.get(planned.mode) else { continue };
            let before =
                problem.links.iter().filter(|link| link.to == step.id).filter_map(|link| at.get(link.from.as_str()));
            let sinks = problem.courses.iter().filter(|course| course.sinks.iter().any(|sink| sink.step == step.id));
            let spell = Spell {
                step,
                label,
                facts: &label.facts,
                dish,
                mode,
                words,
                start: planned.start,
                end: planned.end,
                before: before.copied().collect(),
                course: Vec::new(),
                arrived: 0,
                stood: 0,
                by_end: 0,
                served: sinks.filter_map(|course| plan.served.get(&course.id)).max().copied(),
            };
            at.insert(&step.id, night.spells.len());
            night.spells.push(spell);
        }
        for index in 0..night.spells.len() {
            night.live(index);
        }
        night
    }

    /// Works out the course of a spell from those before it.
    fn live(&mut self, index: usize) {
        let own = &self.spells[index];
        let arrives = own.before.iter().filter_map(|&before| self.spells[before].course.last());
        let arrives = arrives.copied().reduce(|one, other| Stretch {
            low_c: one.low_c.min(other.low_c),
            high_c: one.high_c.max(other.high_c),
            ..one
        });
        let [low, high] = arrives.map_or_else(|| self.raw(own), |stretch| [stretch.low_c, stretch.high_c]);
        let during = self.during(own, low, high);
        let leaves = self.leaves(own);
        let after = self.after(own, &during, leaves);
        let between = |stretch: &Stretch| if self.counts(own, stretch) { stretch.until - stretch.from } else { 0 };
        let stood_before = own.before.iter().map(|&before| {
            let earlier = &self.spells[before];
            // A step that begins before this one ends takes only what had stood by then.
            let waits: Minute = earlier
                .course
                .iter()
                .skip(1)
                .map(|wait| if self.counts(earlier, wait) { (own.start.min(wait.until) - wait.from).max(0) } else { 0 })
                .sum();
            earlier.by_end + waits
        });
        let arrived = stood_before.max().unwrap_or(0);
        let renewed = self.renews(own);
        let inside = if renewed { 0 } else { arrived + between(&during) };
        let waits = after.as_ref().map_or(0, between);
        let own = &mut self.spells[index];
        own.arrived = arrived;
        own.by_end = inside;
        own.stood = inside + waits;
        own.course = std::iter::once(during).chain(after).collect();
    }

    /// How food is before anything is done to it.
    fn raw(&self, spell: &Spell<'_>) -> [f64; 2] {
        let cold = self.rules.premises.fridge_c as f64;
        match spell.facts.piece.map(|piece| piece.start) {
            Some(Start::At(degrees)) => [degrees.celsius(); 2],
            Some(Start::Frozen) => [-18.0, cold],
            _ if spell.contents().foods.is_empty() => [self.rules.premises.room_c as f64; 2],
            _ => [cold; 2],
        }
    }

    /// Its food while the step goes on.
    fn during(&self, spell: &Spell<'_>, low: f64, high: f64) -> Stretch {
        let (room, cold) = (self.rules.premises.room_c as f64, self.rules.premises.fridge_c as f64);
        let stretch =
            |low_c: f64, high_c: f64, how| Stretch { from: spell.start, until: spell.end, low_c, high_c, how };
        match spell.facts.warmth {
            Warmth::Through => {
                let top = spell.hottest();
                let floor = if spell.mode.t.is_some() { low } else { low.min(SIMMER) };
                stretch(floor, high.max(top), How::Heated)
            }
            Warmth::Holds => {
                let [from, to] = spell.mode.t.unwrap_or([room as i64; 2]);
                stretch(from as f64, to as f64, How::Held)
            }
            Warmth::Outside => stretch(low, BOIL, How::Standing),
            Warmth::None if spell.is_cold() => {
                let how = if high > self.rules.hot_c() { How::Cooling } else { How::Chilled };
                stretch(low.min(cold), high.max(cold), how)
            }
            Warmth::None => stretch(low.min(room), high.max(room), How::Standing),
        }
    }

    /// The last minute until which food waits after a step: the next step that takes it, or the table.
    fn leaves(&self, spell: &Spell<'_>) -> Option<Minute> {
        let next = self.problem.links.iter().filter(|link| link.from == spell.step.id);
        let starts = next.filter_map(|link| self.spells.iter().find(|own| own.step.id == link.to)).map(|own| own.start);
        starts.chain(spell.served).max().filter(|&until| until > spell.end)
    }

    fn after(&self, spell: &Spell<'_>, during: &Stretch, until: Option<Minute>) -> Option<Stretch> {
        let until = until?;
        let (room, cold) = (self.rules.premises.room_c as f64, self.rules.premises.fridge_c as f64);
        let stretch = |low_c: f64, high_c: f64, how| Some(Stretch { from: spell.end, until, low_c, high_c, how });
        let kept_cold = spell.facts.keeps == Keeps::Cold || spell.is_cold();
        match (kept_cold, spell.facts.warmth) {
            (true, Warmth::Through | Warmth::Outside) => stretch(cold, during.high_c, How::Cooling),
            (true, _) => stretch(
                cold.min(during.low_c),
                cold.max(if spell.is_cold() { cold } else { during.low_c }),
                How::Chilled,
            ),
            (false, _) => stretch(room.min(during.low_c), during.high_c.max(room), How::Standing),
        }
    }

    /// Whether a new count begins: it is cooked through or heated through.
    fn renews(&self, spell: &Spell<'_>) -> bool {
        spell.facts.warmth == Warmth::Through && spell.hottest() >= self.rules.hot_c()
    }

    /// Whether these minutes count as spent between the limits.
    fn counts(&self, spell: &Spell<'_>, stretch: &Stretch) -> bool {
        let lukewarm = stretch.high_c > self.rules.cold_c() && stretch.low_c < self.rules.hot_c();
        let heated = stretch.how == How::Heated && self.renews(spell);
        let cooked = spell.facts.cooked || spell.facts.warmth == Warmth::Through;
        let cold = matches!(stretch.how, How::Chilled | How::Cooling);
        lukewarm && !heated && !cold && spell.perishable(cooked).is_some()
    }

    /// Every spell of a dish, in order of time.
    pub fn of_dish<'n>(&'n self, dish: &'n str) -> impl Iterator<Item = &'n Spell<'a>> {
        self.spells.iter().filter(move |spell| spell.step.dish == dish)
    }

    /// A clock time.
    pub fn clock(&self, minute: Minute) -> String {
        self.labels.calendar.moment(minute).strftime("%H:%M").to_string()
    }
}

impl<'a> Spell<'a> {
    /// What is in its dish.
    pub fn contents(&self) -> &'a Contents {
        &self.dish.contents
    }

    /// The hottest that its middle may become in the step, degrees C: the highest dial of its oven, or boiling water. The air
    /// swings above the dial for moments only.
    pub fn hottest(&self) -> f64 {
        self.mode.t.map_or(BOIL, |[low, high]| (high - SWING).max(low) as f64)
    }

    /// The temperature its oven is planned for, degrees C: the middle of a narrow window, the lower end of a wide one.
    pub fn oven(&self) -> Option<f64> {
        self.mode.t.map(|[low, high]| if high - low <= 10 { (low + high) as f64 / 2.0 } else { low as f64 })
    }

    /// The cautions that the models gave this step and its way.
    pub fn own_cautions(&self) -> impl Iterator<Item = &'a Caution> {
        self.label.cautions.iter().chain(&self.words.cautions)
    }

    /// Whether a word or a phrase is in what the menu says of the step or its dish.
    pub fn says(&self, phrases: &[&str]) -> bool {
        self.text_says(phrases) || says(&tokens(&self.dish.name), phrases)
    }

    /// Whether a word or a phrase is in what the menu says of the step.
    pub fn text_says(&self, phrases: &[&str]) -> bool {
        let note = self.label.note.as_deref().unwrap_or_default();
        says(
            &tokens(&format!("{} {note} {}", self.label.title, self.step.id.rsplit('/').next().unwrap_or_default())),
            phrases,
        )
    }

    /// Its food is in the refrigerator, or in something as cold.
    pub fn is_cold(&self) -> bool {
        let lies = match &self.label.kind {
            Kind::Chill | Kind::Soak => true,
            Kind::Other(word) if word == "stand" => self.facts.keeps == Keeps::Cold,
            Kind::Other(word) => COLD.contains(&slug(word).as_str()),
            _ => false,
        };
        lies && self.facts.cooler != Some(Cooler::Kitchen) && !self.text_says(IN_THE_ROOM)
    }

    /// The food of the dish that germs like, if it is cooked, or raw. Eggs and milk baked into a cake keep; so they do in a
    /// dough or a batter that is still to be baked.
    pub fn perishable(&self, cooked: bool) -> Option<Food> {
        let contents = self.contents();
        let keeps_baked = |food: Food| {
            let baked = self.label.kind == Kind::Bake || self.facts.cooked && self.dish.baked;
            let wet = |word: &str| WET.contains(&word);
            matches!(food, Food::Egg | Food::Dairy)
                && (baked && !matches!(contents.foods.get(&food), Some(Known::Said)))
                && !matches!(contents.foods.get(&food), Some(Known::From(word)) if wet(word))
        };
        let raw_counts = |food: Food| {
            food.is_flesh()
                || food == Food::CookedMeat
                || !self.facts.to_be_cooked && matches!(food, Food::Egg | Food::Dairy)
        };
        contents.first(|food| if cooked { !keeps_baked(food) } else { raw_counts(food) })
    }
}

/// Kinds of a cook's own that are done in the cold unless the menu says otherwise.
const COLD: &[&str] = &["thaw", "defrost", "marinate", "marinade", "brine", "cure", "cool", "set", "freeze", "chill"];

/// Words for the room, where the refrigerator would be expected.
const IN_THE_ROOM: &[&str] = &[
    "counter",
    "worktop",
    "room temperature",
    "room temp",
    "on the side",
    "windowsill",
    "window sill",
    "out of the fridge",
    "out of the refrigerator",
    "warm place",
    "warm water",
    "hot water",
    "in the sink",
    "on the table",
    "kitchen table",
    "bench",
    "ambient",
    "on the stove",
    "on the hob",
    "on the porch",
    "airing cupboard",
];

/// Words for eggs and milk that do not keep though they are baked.
const WET: &[&str] = &[
    "custard",
    "quiche",
    "frittata",
    "omelette",
    "souffle",
    "creme brulee",
    "trifle",
    "mousse",
    "tiramisu",
    "carbonara",
];

/// Whether one of these phrases is in a text.
pub(super) fn says(text: &[String], phrases: &[&str]) -> bool {
    phrases.iter().any(|phrase| {
        let words: Vec<&str> = phrase.split(' ').collect();
        text.windows(words.len())
            .any(|own| own.iter().zip(&words).all(|(own, word)| own == word || own.strip_suffix('s') == Some(*word)))
    })
}
