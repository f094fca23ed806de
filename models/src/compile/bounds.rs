//! Numbers of a feast that no kitchen has.
//!
//! Text is held to the same ranges while it is read; a feast may as well be built in code, and everything after this counts
//! with its numbers without asking again.

use std::fmt::Display;
use std::ops::RangeInclusive;

use super::found::Found;
use crate::faults::{Code, Origin};
use crate::feast::{Clock, Feast};
use crate::kitchen::Cook;
use crate::menu::{Step, Way};
use crate::problem::legal;
use crate::units::Interval;

/// As many as text may say; 0 where nobody has said it.
const GUESTS: RangeInclusive<i64> = 0..=100_000;
const PANS: RangeInclusive<i64> = 1..=100;
const BATCHES: RangeInclusive<i64> = 1..=50;
/// A clock time lies within 30 days of the feast; a stretch may end on the day after.
const DAYS: RangeInclusive<i64> = -31..=32;
/// What an oven can be at, and a little more: a window reaches to either side of what is asked for.
const TEMPERATURES: RangeInclusive<i64> = -50..=610;
const MINUTES_OF_A_DAY: RangeInclusive<i64> = 0..=1_440;

/// Notes every number that lies beyond what a plan can count with.
pub(super) fn check(feast: &Feast, found: &mut Found<'_>) {
    let menu = &feast.menu;
    within(found, menu.origin, "guests", menu.guests, GUESTS);
    within(found, menu.origin, "children", menu.children, 0..=menu.guests.max(0));
    clock(found, menu.origin, "opens", menu.opens);
    for course in &menu.courses {
        clock(found, course.origin, "serve", Some(course.serve));
        within(found, course.origin, "weight", course.weight, legal::COST);
        within(found, course.origin, "slip", course.slip, legal::MINUTES);
        within(found, course.origin, "together", course.together, legal::MINUTES);
        interval(found, course.origin, "follows", course.follows);
    }
    for group in &menu.groups {
        within(found, group.origin, "hands", group.hands, 1..=20);
    }
    menu.cooks.iter().chain(&feast.kitchen.cooks).for_each(|cook| shifts(found, cook));
    menu.dishes.iter().for_each(|dish| maybe(found, dish.origin, "portions", dish.portions, 1..=100_000));
    menu.dishes.iter().flat_map(|dish| &dish.steps).for_each(|step| of_step(found, step));
}

fn shifts(found: &mut Found<'_>, cook: &Cook) {
    for stretch in cook.shifts.iter().chain(&cook.away) {
        clock(found, stretch.origin, "", Some(stretch.from));
        clock(found, stretch.origin, "", Some(stretch.to));
    }
}

fn of_step(found: &mut Found<'_>, step: &Step) {
    clock(found, step.origin, "from", step.earliest);
    clock(found, step.origin, "by", step.latest);
    interval(found, step.origin, "gap", step.gap);
    maybe(found, step.origin, "pans", step.pans, PANS);
    maybe(found, step.origin, "batches", step.batches, BATCHES);
    maybe(found, step.origin, "likes", step.likes, legal::MINUTES);
    std::iter::once(&step.way).chain(&step.ways).for_each(|way| of_way(found, way));
}

fn of_way(found: &mut Found<'_>, way: &Way) {
    let origin = way.origin;
    if let Some(takes) = way.takes {
        within(found, origin, "takes", takes.min, legal::MINUTES);
        maybe(found, origin, "takes", takes.max, legal::MINUTES);
    }
    for degrees in way.temperature.into_iter().flatten() {
        within(found, origin, "at", degrees, TEMPERATURES);
    }
    maybe(found, origin, "weight", way.weight, legal::WEIGHT);
    maybe(found, origin, "hands", way.hands, legal::COUNT);
    for (field, minutes) in [
        ("load", way.load),
        ("unload", way.unload),
        ("shut", way.shut),
        ("early", way.early),
        ("late", way.late),
        ("between", way.between.map(|between| between[0])),
        ("between", way.between.map(|between| between[1])),
    ] {
        maybe(found, origin, field, minutes, legal::MINUTES);
    }
    maybe(found, origin, "cost", way.cost, legal::COST);
}

fn interval(found: &mut Found<'_>, part: Origin, field: &'static str, interval: Option<Interval>) {
    let Some(Interval { min, max }) = interval else { return };
    within(found, part, field, min, legal::GAP);
    maybe(found, part, field, max, legal::GAP);
}

fn clock(found: &mut Found<'_>, part: Origin, field: &'static str, clock: Option<Clock>) {
    let Some(clock) = clock else { return };
    if !DAYS.contains(&clock.day) || !MINUTES_OF_A_DAY.contains(&clock.minute) {
        let cause = format!("day {}, minute {} is no clock time within 30 days of the feast", clock.day, clock.minute);
        found.field(
            Code::Absurd,
            part,
            field,
            cause,
            "count minutes from midnight, 0 to 1440, and days from the feast",
        );
    }
}

fn maybe(found: &mut Found<'_>, part: Origin, field: &'static str, value: Option<i64>, legal: RangeInclusive<i64>) {
    if let Some(value) = value {
        within(found, part, field, value, legal);
    }
}

fn within<T: PartialOrd + Display>(
    found: &mut Found<'_>,
    part: Origin,
    field: &'static str,
    value: T,
    legal: RangeInclusive<T>,
) {
    if !legal.contains(&value) {
        let remedy = format!("say {} to {}", legal.start(), legal.end());
        found.field(Code::Absurd, part, field, format!("{field} {value} is beyond what can be planned"), remedy);
    }
}
