//! From a feast to a problem: defaults, places that can do each step, waits, and the words for the sheets.

mod bare;
mod bounds;
mod checks;
mod courses;
mod doubts;
mod expand;
mod found;
mod graph;
mod groups;
mod minded;
mod people;
mod placing;
mod portions;
mod shopping;
mod stands;
mod stock;
mod time;
mod waits;
mod ways;
mod words;
mod written;

use std::collections::BTreeMap;

use found::Found;
use graph::{Arc, Graph};
use people::People;
use stands::Shelves;
use stock::Stock;
use time::Time;
use waits::Waits;
use ways::{Mould, Stays};

use crate::blocks::{Defaults, Setting};
use crate::caution;
use crate::faults::{Code, Faults, Origin};
use crate::feast::Feast;
use crate::hazard::{self, Rules};
use crate::labels::{DietLabel, Facts, Labels, ModeLabel, StepLabel, Warmth};
use crate::larder::{Contents, Food};
use crate::menu::{Interval, Keeps, Kind};
use crate::problem::{Dish, Link, Mode, Problem, Step, Wait, legal};

pub use bare::bare;
pub use doubts::doubts;
pub use written::{calibration, draft, feast};

/// A problem, and the words its ids stand for.
#[derive(Clone, Debug)]
pub struct Compiled {
    /// What is to be planned.
    pub problem: Problem,
    /// What people call its parts.
    pub labels: Labels,
}

/// Compiles a feast.
///
/// The same feast gives the same problem, in the order in which the menu and the kitchen are written.
///
/// # Errors
/// Everything that is wrong with its meaning, at once.
pub fn compile(feast: &Feast) -> Result<Compiled, Faults> {
    let mut found = Found::new(&feast.sources);
    bounds::check(feast, &mut found);
    if !found.faults.is_empty() {
        return Err(Faults::sorted(found.faults));
    }
    let grouped = groups::expand(feast, &mut found);
    let (made, scaled) = portions::scaled(&grouped, &mut found);
    let expanded = expand::expand(&made, &mut found);
    let feast = &*expanded;
    let stock = Stock::new(&feast.kitchen, feast.menu.units, &mut found);
    let graph = Graph::new(feast, &mut found);
    let time = Time::new(feast, &mut found);
    let moulds: Vec<Vec<Mould<'_>>> =
        graph.jobs.iter().map(|job| ways::moulds(job.step, &job.defaults, &stock, &mut found)).collect();
    let stays = staying(&graph.arcs, &moulds);
    let mut modes = Vec::with_capacity(graph.jobs.len());
    for (job, of_job) in graph.jobs.iter().enumerate() {
        let around = Stays {
            before: (0..graph.arcs.len()).any(|arc| stays[arc] && graph.arcs[arc].to == job),
            after: (0..graph.arcs.len()).any(|arc| stays[arc] && graph.arcs[arc].from == job),
        };
        modes.push(modes_of(&moulds[job], &of_job.defaults, around, &stock, &mut found));
    }
    checks::stays(&graph, &stays, &modes, &stock, &mut found);
    checks::diets(&feast.menu, &mut found);
    checks::not_enough(&graph, &modes, &stock, time.as_ref(), &mut found);
    let courses = courses::courses(feast, &graph, &mut found);
    let (Some(time), Some(order), Some(courses)) = (time, graph.order.as_ref(), courses) else {
        return Err(Faults::sorted(found.faults));
    };
    let elastic: Vec<(i64, i64)> = modes.iter().map(elasticity).collect();
    let waits = Waits::new(&graph, order, &elastic);
    let mut draft = Draft { steps: Vec::new(), links: Vec::new(), labels: BTreeMap::new() };
    draft.add_steps(feast, &graph, modes, &waits, &time, &mut found);
    let shelves = Shelves::of(&stock.pools);
    draft.add_links(feast, &graph, &moulds, &stays, &waits, &shelves);
    let mut courses = courses.finish(feast, &graph, &waits, &shelves, &time, &mut found);
    for (id, scaled) in graph.dish_ids.iter().zip(scaled) {
        if let Some(label) = courses.dishes.get_mut(id) {
            label.scaled = scaled;
        }
    }
    checks::room_in_time(&graph, &draft.steps, &time, &mut found);
    let (shifts, cooks) = match People::of(feast) {
        Some(people) => {
            people.assign(feast, &graph, &moulds, &mut draft, &mut found);
            (Vec::new(), people.named(&time.cooks, &mut found))
        }
        None => (time.shifts, Vec::new()),
    };
    let mut problem = Problem {
        name: feast.menu.name.clone(),
        opening: time.opening,
        shifts,
        cooks,
        pools: stock.pools,
        places: stock.sites.iter().map(|site| site.place.clone()).collect(),
        dishes: (feast.menu.dishes.iter().zip(&graph.dish_ids))
            .map(|(dish, id)| Dish { id: id.clone(), name: dish.name.clone() })
            .collect(),
        courses: courses.courses,
        steps: draft.steps,
        links: draft.links,
    };
    minded::mind(&mut problem);
    if found.faults.is_empty() {
        for fault in problem.faults() {
            found.add(Code::Refused, Origin::default(), fault.to_string(), "write the menu in another way");
        }
    }
    if !found.faults.is_empty() {
        return Err(Faults::sorted(found.faults));
    }
    let labels = Labels {
        name: feast.menu.name.clone(),
        kitchen: feast.kitchen.name.clone(),
        guests: feast.menu.guests,
        diets: (feast.menu.diets.iter())
            .map(|diet| DietLabel { name: diet.name.clone(), guests: diet.guests })
            .collect(),
        region: feast.kitchen.region,
        premises: feast.kitchen.premises,
        units: feast.menu.units,
        calendar: time.calendar,
        cooks: time.cooks,
        places: stock.sites.into_iter().map(|site| (site.place.id().to_owned(), site.label)).collect(),
        pools: stock.pool_names,
        courses: courses.labels,
        dishes: courses.dishes,
        shopping: shopping::shopping(&feast.menu, &graph.dish_ids),
        steps: draft.labels,
    };
    Ok(Compiled { problem, labels })
}

type Modes = Vec<(Mode, ModeLabel)>;

/// The modes of a step's ways. A way that was worked out may fall away without a fault, as long as another remains.
fn modes_of(
    moulds: &[Mould<'_>],
    defaults: &Defaults,
    around: Stays,
    stock: &Stock<'_>,
    found: &mut Found<'_>,
) -> Modes {
    let mut modes = Modes::new();
    let mut fallen = Vec::new();
    for mould in moulds {
        let before = found.faults.len();
        let own = mould.modes(defaults, around, stock, found);
        if own.is_empty() && mould.way.one_of {
            fallen.extend(found.faults.drain(before..));
        }
        modes.extend(own);
    }
    if modes.is_empty() {
        found.faults.extend(fallen);
    }
    modes
}

/// Which links leave the pan in the oven: those that say so, and those to a step that usually does so, if both are in an oven.
fn staying(arcs: &[Arc], moulds: &[Vec<Mould<'_>>]) -> Vec<bool> {
    let in_oven = |job: usize| moulds[job].iter().any(|mould| mould.setting == Setting::Cavity);
    arcs.iter().map(|arc| arc.stay && (arc.stay_said || (in_oven(arc.from) && in_oven(arc.to)))).collect()
}

/// The least minutes of a step, and by how many it may be stretched.
fn elasticity(modes: &Modes) -> (i64, i64) {
    let least = modes.iter().map(|(mode, _)| mode.min).min().unwrap_or(0);
    let room = modes.iter().map(|(mode, _)| mode.max - mode.min).max().unwrap_or(0);
    (least, room)
}

/// The parts of a problem that come from the dishes.
struct Draft {
    steps: Vec<Step>,
    links: Vec<Link>,
    labels: BTreeMap<String, StepLabel>,
}

impl Draft {
    fn add_steps(
        &mut self,
        feast: &Feast,
        graph: &Graph<'_>,
        modes: Vec<Modes>,
        waits: &Waits,
        time: &Time,
        found: &mut Found<'_>,
    ) {
        let natures = graph.natures();
        for (number, (job, modes)) in graph.jobs.iter().zip(modes).enumerate() {
            let (step, dish) = (job.step, &feast.menu.dishes[job.dish]);
            let (modes, words): (Vec<Mode>, Vec<ModeLabel>) = modes.into_iter().unzip();
            let nature = natures[number];
            let contents = Contents::of(dish);
            let keeps = stands::keeps(step.waits, waits.keeps(number));
            let facts = hazard::facts(step, nature.cooked, nature.to_be_cooked, keeps);
            let rules = Rules { region: feast.kitchen.region, premises: feast.kitchen.premises };
            let (modes, mut words) = unbroken(modes, words, &facts, &contents, &rules);
            let (cautions, by_mode) = caution::of(&step.kind, &contents, nature, &modes, feast.kitchen.region);
            for (words, more) in words.iter_mut().zip(by_mode) {
                // A roast that was worked out says more exactly what is wrong with a low oven.
                let new = |own: &caution::Caution| !words.cautions.iter().any(|known| known.topic == own.topic);
                let more: Vec<_> = more.into_iter().filter(new).collect();
                words.cautions.extend(more);
            }
            let clock = |clock: Option<_>, field, found: &mut Found<'_>| {
                clock.and_then(|clock| time.minute(clock, step.origin, field, found))
            };
            let label = StepLabel {
                title: words::title(step, dish, &job.defaults),
                kind: step.kind.clone(),
                dish: graph.dish_ids[job.dish].clone(),
                look: step.look.clone(),
                note: step.note.clone(),
                cautions,
                stands: stands::stands(step, &job.defaults, &facts, &contents),
                facts,
                roasting: step.roasting.clone(),
                modes: words,
            };
            self.labels.insert(job.id.clone(), label);
            self.steps.push(Step {
                id: job.id.clone(),
                dish: graph.dish_ids[job.dish].clone(),
                kind: step.kind.word().to_owned(),
                earliest: clock(step.earliest, "from", found),
                latest: clock(step.latest, "by", found),
                wait: waits.stretch(number),
                modes,
            });
        }
    }

    fn add_links(
        &mut self,
        feast: &Feast,
        graph: &Graph<'_>,
        moulds: &[Vec<Mould<'_>>],
        stays: &[bool],
        waits: &Waits,
        shelves: &Shelves,
    ) {
        for (arc, &stay) in graph.arcs.iter().zip(stays) {
            let [from, to] = [arc.from, arc.to].map(|job| graph.jobs[job].id.clone());
            let mut gap = arc.gap;
            if arc.stay && !stay {
                gap = graph.jobs[arc.to].step.gap.unwrap_or(Interval { min: 0, max: None });
            }
            let said = graph.jobs[arc.from].step.waits;
            let keeps = stands::keeps(said, arc.keeps.unwrap_or(waits.keeps(arc.from)));
            let contents = Contents::of(&feast.menu.dishes[graph.jobs[arc.from].dish]);
            let spoiling = self.labels.get(&from).is_some_and(|label| spoils(&label.facts, &contents));
            if gap.max.is_none() && spoiling && !matches!(keeps, Keeps::Cold | Keeps::Free) {
                // Nobody who leaves the gap open means food to stand longer than it may be eaten.
                let rules = Rules { region: feast.kitchen.region, premises: feast.kitchen.premises };
                let limit = rules.standing().value as i64;
                gap.max = Some(limit.max(gap.min));
            }
            let wait = waits.after(arc.from, arc.keeps);
            let pools = if stay { BTreeMap::new() } else { shelves.taken(graph.jobs[arc.from].step) };
            match tin_between(arc, stay, gap, graph, moulds) {
                Some((tin, name)) => self.stand(feast, graph, arc, gap, wait, pools, &tin, &name),
                None => self.links.push(Link { from, to, min: gap.min, max: gap.max, stay, wait, pools }),
            }
        }
    }

    /// A step between two others in which the food stands in a tin of which there are only so many, so that nobody else takes it.
    /// It lasts a minute at least.
    #[allow(clippy::too_many_arguments)] // One link, taken apart.
    fn stand(
        &mut self,
        feast: &Feast,
        graph: &Graph<'_>,
        arc: &Arc,
        gap: Interval,
        wait: Wait,
        mut pools: BTreeMap<String, i64>,
        tin: &str,
        name: &str,
    ) {
        let [from, to] = [arc.from, arc.to].map(|job| graph.jobs[job].id.clone());
        let id = format!("{to}.stand");
        let job = &graph.jobs[arc.from];
        let min = gap.min.max(1);
        let max = gap.max.unwrap_or(*legal::MINUTES.end()).max(min);
        pools.insert(tin.to_owned(), 1);
        let mode = Mode { pools, ..Mode::at_counter(min, max) };
        let dish = graph.dish_ids[job.dish].clone();
        let label = StepLabel {
            title: format!("Leave {} in the {name}", words::mid_sentence(&feast.menu.dishes[job.dish].name)),
            kind: Kind::Other("stand".to_owned()),
            dish: dish.clone(),
            look: None,
            note: None,
            cautions: Vec::new(),
            stands: self.labels.get(&from).and_then(|label| label.stands),
            facts: self.labels.get(&from).map_or_else(Facts::default, |label| Facts {
                cooked: label.facts.cooked || label.facts.warmth == Warmth::Through,
                warmth: Warmth::None,
                ..label.facts.clone()
            }),
            roasting: None,
            modes: vec![ModeLabel { pan: Some(name.to_owned()), ..ModeLabel::default() }],
        };
        self.labels.insert(id.clone(), label);
        let step = Step {
            id: id.clone(),
            dish,
            kind: "stand".to_owned(),
            earliest: None,
            latest: None,
            wait,
            modes: vec![mode],
        };
        self.steps.push(step);
        let at_once = |from, to| Link {
            from,
            to,
            min: 0,
            max: Some(0),
            stay: false,
            wait: Wait::default(),
            pools: BTreeMap::new(),
        };
        self.links.push(at_once(from, id.clone()));
        self.links.push(at_once(id, to));
    }
}

/// The ways of a step that break no limit of food safety; all of them if each does, and the plan then says so.
fn unbroken(
    modes: Vec<Mode>,
    words: Vec<ModeLabel>,
    facts: &Facts,
    contents: &Contents,
    rules: &Rules,
) -> (Vec<Mode>, Vec<ModeLabel>) {
    let broken = |(mode, words): (&Mode, &ModeLabel)| {
        words.cautions.iter().any(|caution| caution.weight == caution::Weight::Breach)
            || hazard::too_cool(mode, facts, contents, rules)
    };
    let keep: Vec<bool> = modes.iter().zip(&words).map(|both| !broken(both)).collect();
    if keep.iter().all(|keep| !keep) {
        return (modes, words);
    }
    modes.into_iter().zip(words).zip(keep).filter(|(_, keep)| *keep).map(|(both, _)| both).unzip()
}

/// Whether food that waits after such a step stands where germs like it.
fn spoils(facts: &Facts, contents: &Contents) -> bool {
    let cooked = facts.cooked || facts.warmth == Warmth::Through;
    let said = contents.said();
    contents.any(|food| food.is_flesh() || cooked && (said || !matches!(food, Food::Egg | Food::Dairy)))
}

/// The tin in which a dish stays from one step to the next, if there are only so many of it and there may be a wait in between.
fn tin_between(
    arc: &Arc,
    stay: bool,
    gap: Interval,
    graph: &Graph<'_>,
    moulds: &[Vec<Mould<'_>>],
) -> Option<(String, String)> {
    let only_tin = |job: usize| {
        let first = moulds[job].first()?;
        let tin = first.tin.clone()?;
        moulds[job]
            .iter()
            .all(|mould| mould.tin.as_ref() == Some(&tin))
            .then(|| (tin, first.pan_name.unwrap_or_default()))
    };
    let (tin, name) = only_tin(arc.from)?;
    let same = only_tin(arc.to).is_some_and(|(other, _)| other == tin);
    let one_dish = graph.jobs[arc.from].dish == graph.jobs[arc.to].dish;
    (same && one_dish && !stay && gap.min >= 0 && gap.max != Some(0)).then(|| (tin, name.to_owned()))
}
