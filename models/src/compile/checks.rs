//! Checks of what the parts of a feast mean together.

use super::Modes;
use super::found::Found;
use super::graph::{Graph, Job};
use super::stock::Stock;
use super::time::Time;
use crate::faults::{Code, suggestion};
use crate::menu::{Menu, slug};
use crate::oven::{minutes_between, within_reach};
use crate::problem::{Minute, Place, Step};
use crate::units::spoken_minutes;

/// A step in the cook's words, as far as the menu has any.
fn called<'a>(job: &'a Job<'_>) -> &'a str {
    job.step.title.as_deref().unwrap_or(&job.id)
}

/// A pan that stays in the oven needs an oven that does both steps, and no gap.
pub(super) fn stays(graph: &Graph<'_>, stays: &[bool], modes: &[Modes], stock: &Stock<'_>, found: &mut Found<'_>) {
    for (arc, _) in graph.arcs.iter().zip(stays).filter(|(_, stay)| **stay) {
        let (from, to) = (&graph.jobs[arc.from], &graph.jobs[arc.to]);
        if arc.gap.min != 0 || arc.gap.max != Some(0) {
            let cause = format!("the pan stays in the oven between {:?} and {:?}, so there is no gap", from.id, to.id);
            found.field(Code::CannotStay, arc.origin, "gap", cause, "leave out gap, or say stay: false");
        }
        let oven = |job: usize| modes[job].iter().filter_map(|(mode, _)| mode.t.and(mode.place.as_deref()));
        let both = !modes[arc.from].is_empty() && !modes[arc.to].is_empty();
        if both && !oven(arc.from).any(|id| oven(arc.to).any(|other| other == id)) {
            let cause = format!("the pan stays in between {:?} and {:?}, but no oven can do both", from.id, to.id);
            found.field(Code::CannotStay, arc.origin, "stay", cause, "let one oven do both, or say stay: false");
        }
        if let Some((takes, needed, degrees)) = too_short_to_heat(&modes[arc.from], &modes[arc.to], stock) {
            let cause = format!(
                "{:?} takes {}, but the oven needs {} to get hotter by {degrees} C with the pan in it",
                called(to),
                spoken_minutes(takes),
                spoken_minutes(needed)
            );
            let remedy = "give it at least those minutes and what it needs at the heat, or say stay: false";
            found.field(Code::TooShort, to.step.origin, "takes", cause, remedy);
        }
    }
}

/// If every oven in which a pan could stay is too slow for the second of its steps: its minutes, those that the quickest
/// oven needs, and the degrees in question. An oven that cools too slowly is no fault: the food only stays hotter.
fn too_short_to_heat(from: &Modes, to: &Modes, stock: &Stock<'_>) -> Option<(Minute, Minute, i64)> {
    let mut quickest: Option<(Minute, Minute, i64)> = None;
    for (mode, _) in to {
        let cavity = stock.sites.iter().find_map(|site| match &site.place {
            Place::Cavity(cavity) if Some(cavity.id.as_str()) == mode.place.as_deref() => Some(cavity),
            _ => None,
        });
        let (Some(cavity), Some(window)) = (cavity, mode.t) else { continue };
        for (earlier, _) in from.iter().filter(|(earlier, _)| earlier.place == mode.place) {
            let Some(before) = earlier.t else { continue };
            let [before, after] = [before, window].map(|window| within_reach(cavity, window)[0]);
            let needed = if after > before { minutes_between(cavity, 10 * before, 10 * after) } else { 0 };
            if mode.min >= needed {
                return None;
            }
            if quickest.is_none_or(|known| needed < known.1) {
                quickest = Some((mode.min, needed, after - before));
            }
        }
    }
    quickest
}

/// Diets of more guests than there are, and dishes for diets that nobody has.
pub(super) fn diets(menu: &Menu, found: &mut Found<'_>) {
    for diet in menu.diets.iter().filter(|diet| diet.guests > menu.guests) {
        let cause = format!("{} guests are {:?}, and there are {} in all", diet.guests, diet.name, menu.guests);
        found.add(Code::Contradiction, diet.origin, cause, "correct one of the two numbers");
    }
    for (number, diet) in menu.diets.iter().enumerate() {
        if menu.diets[..number].iter().any(|other| slug(&other.name) == slug(&diet.name)) {
            super::stock::duplicate(&diet.name, "diet", diet.origin, found);
        }
    }
    for named in menu.dishes.iter().flat_map(|dish| &dish.diets) {
        if !menu.diets.iter().any(|diet| slug(&diet.name) == slug(&named.name)) {
            let known = match &menu.diets[..] {
                [] => format!("add diets: {{{:?}: 1}} to the menu", named.name),
                diets => suggestion(&named.name, diets.iter().map(|diet| diet.name.as_str())),
            };
            found.add(Code::UnknownName, named.origin, format!("no guest has the diet {:?}", named.name), known);
        }
    }
}

/// A step that needs more hands, or more of a pool, than there ever are.
pub(super) fn not_enough(
    graph: &Graph<'_>,
    modes: &[Modes],
    stock: &Stock<'_>,
    time: Option<&Time>,
    found: &mut Found<'_>,
) {
    let most_hands = time.and_then(|time| time.shifts.iter().map(|shift| shift.hands).max());
    for (job, modes) in graph.jobs.iter().zip(modes) {
        let origin = job.step.origin;
        let least_hands = modes.iter().map(|(mode, _)| mode.hands).min().unwrap_or(0);
        if let Some(most) = most_hands.filter(|&most| least_hands > most) {
            let cause =
                format!("{:?} needs {least_hands} pairs of hands, there are never more than {most}", called(job));
            found.field(Code::NotEnough, origin, "hands", cause, "ask for fewer, or call in another cook");
        }
        let Some((first, _)) = modes.first() else { continue };
        for pool in first.pools.keys() {
            let taken = modes.iter().map(|(mode, _)| mode.pools.get(pool).copied().unwrap_or(0)).min().unwrap_or(0);
            let there = stock.pools.get(pool).copied().unwrap_or(0);
            if taken > there {
                let name = stock.pool_names.get(pool).map_or(pool.as_str(), String::as_str);
                let cause = format!("{:?} takes {taken} of {name:?}, the kitchen has {there}", called(job));
                found.field(Code::NotEnough, origin, "uses", cause, "take less, or add to the kitchen");
            }
        }
    }
}

/// A step that is held between times that leave it no room.
pub(super) fn room_in_time(graph: &Graph<'_>, steps: &[Step], time: &Time, found: &mut Found<'_>) {
    for (job, step) in graph.jobs.iter().zip(steps) {
        let (Some(latest), Some(least)) = (step.latest, step.modes.iter().map(|mode| mode.min).min()) else { continue };
        let start = step.earliest.unwrap_or(time.opening).max(time.opening);
        if start + least > latest {
            let at = |minute| time.calendar.civil(minute).strftime("%H:%M on %-d %B");
            let (from, until) = (at(start), at(latest.max(0)));
            let takes = spoken_minutes(least);
            let cause = format!("{:?} takes {takes}, but has only from {from} to {until}", called(job));
            let field = if job.step.earliest.is_some() && step.earliest == Some(start) { "from" } else { "by" };
            let remedy =
                "give it more time, or let a cook come earlier; what may go on past midnight has from and no on";
            found.field(Code::NoRoomInTime, job.step.origin, field, cause, remedy);
        }
    }
}
