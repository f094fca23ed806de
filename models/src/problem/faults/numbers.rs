//! Numbers: each in its legal range, each pair the right way up.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use crate::problem::legal::*;
use crate::problem::{Course, Link, Mode, Place, Problem, Step, Touch, Wait};

use super::{FaultKind, Faults, Spot};

pub(super) fn check(problem: &Problem, faults: &mut Faults) {
    within(faults, Spot::top("opening"), problem.opening, &MINUTES);
    for (i, shift) in problem.shifts.iter().enumerate() {
        let spot = Spot::entry("shifts", i);
        low_high(faults, spot, [shift.start, shift.end], &MINUTES);
        within(faults, spot.field("hands"), shift.hands, &COUNT);
    }
    for (i, cook) in problem.cooks.iter().enumerate() {
        for (h, hours) in cook.shifts.iter().enumerate() {
            let spot = Spot::named("cooks", i, &cook.id).inner("shifts", h);
            low_high(faults, spot, [hours.start, hours.end], &MINUTES);
        }
    }
    for (id, &amount) in &problem.pools {
        within(faults, Spot::key("pools", id), amount, &POOL);
    }
    for (i, place) in problem.places.iter().enumerate() {
        check_place(faults, Spot::named("places", i, place.id()), place);
    }
    for (i, course) in problem.courses.iter().enumerate() {
        check_course(faults, Spot::named("courses", i, &course.id), course);
    }
    for (i, step) in problem.steps.iter().enumerate() {
        check_step(faults, Spot::named("steps", i, &step.id), step);
    }
    for (i, link) in problem.links.iter().enumerate() {
        check_link(faults, Spot::entry("links", i), link);
    }
}

fn check_place(faults: &mut Faults, spot: Spot<'_>, place: &Place) {
    match place {
        Place::Cavity(cavity) => {
            for (field, value) in [("width", cavity.width), ("depth", cavity.depth), ("height", cavity.height)] {
                within(faults, spot.field(field), value, &LENGTH);
            }
            within(faults, spot.field("racks"), cavity.racks, &RACKS);
            within(faults, spot.field("clearance"), cavity.clearance, &LENGTH_OR_NONE);
            within(faults, spot.field("max_weight"), cavity.max_weight, &WEIGHT);
            low_high(faults, spot.field("t_min, t_max"), [cavity.t_min, cavity.t_max], &DEGREES);
            within(faults, spot.field("t_open"), cavity.t_open, &DEGREES);
            within(faults, spot.field("rise"), cavity.rise, &RATE_OF_HEAT);
            within(faults, spot.field("fall"), cavity.fall, &RATE_OF_HEAT);
            within(faults, spot.field("settle"), cavity.settle, &MINUTES);
            within(faults, spot.field("cool_off"), cavity.cool_off, &MINUTES);
        }
        Place::Hob(hob) => {
            within(faults, spot.field("count"), hob.count, &COUNT);
            low_high(faults, spot.field("scale"), hob.scale, &LEVEL);
            let least = within(faults, spot.field("min_diameter"), hob.min_diameter, &LENGTH_OR_NONE);
            let most = within(faults, spot.field("max_diameter"), hob.max_diameter, &LENGTH);
            if least && most {
                min_max(faults, spot.field("max_diameter"), hob.min_diameter, hob.max_diameter);
            }
        }
        Place::Top(top) => {
            within(faults, spot.field("width"), top.width, &LENGTH);
            within(faults, spot.field("depth"), top.depth, &LENGTH);
            low_high(faults, spot.field("scale"), top.scale, &LEVEL);
        }
    }
}

fn check_course(faults: &mut Faults, spot: Spot<'_>, course: &Course) {
    within(faults, spot.field("serve"), course.serve, &MINUTES);
    within(faults, spot.field("weight"), course.weight, &COST);
    within(faults, spot.field("max_slip"), course.max_slip, &MINUTES);
    within(faults, spot.field("together"), course.together, &MINUTES);
    for (i, sink) in course.sinks.iter().enumerate() {
        check_wait(faults, spot.inner("sinks", i).field("wait"), &sink.wait);
        check_pools(faults, spot.inner("sinks", i), &sink.pools);
    }
    if let Some(after) = &course.after {
        let min = within(faults, spot.field("after min"), after.min, &MINUTES);
        if let Some(max) = after.max
            && within(faults, spot.field("after max"), max, &MINUTES)
            && min
        {
            min_max(faults, spot.field("after"), after.min, max);
        }
    }
}

fn check_step(faults: &mut Faults, spot: Spot<'_>, step: &Step) {
    let earliest = step.earliest.filter(|&minute| within(faults, spot.field("earliest"), minute, &MINUTES));
    let latest = step.latest.filter(|&minute| within(faults, spot.field("latest"), minute, &MINUTES));
    if let (Some(earliest), Some(latest)) = (earliest, latest)
        && earliest > latest
    {
        faults.add(spot, FaultKind::EarliestAfterLatest { earliest, latest });
    }
    check_wait(faults, spot.field("wait"), &step.wait);
    for (i, mode) in step.modes.iter().enumerate() {
        check_mode(faults, spot.inner("modes", i), mode);
    }
}

fn check_mode(faults: &mut Faults, spot: Spot<'_>, mode: &Mode) {
    let min = within(faults, spot.field("min"), mode.min, &MINUTES);
    let max = within(faults, spot.field("max"), mode.max, &MINUTES);
    if min && max {
        min_max(faults, spot, mode.min, mode.max);
    }
    within(faults, spot.field("hands"), mode.hands, &COUNT);
    for (field, value) in [("load", mode.load), ("unload", mode.unload), ("shut", mode.shut)] {
        within(faults, spot.field(field), value, &MINUTES);
    }
    check_pools(faults, spot, &mode.pools);
    within(faults, spot.field("cost"), mode.cost, &COST);
    if let Some(wait) = &mode.wait {
        check_wait(faults, spot.field("wait"), wait);
    }
    for touch in &mode.touches {
        check_touch(faults, spot, touch, mode.min);
    }
    for minutes in mode.spread.into_iter().flatten() {
        within(faults, spot.field("spread"), minutes, &MINUTES);
    }
    if let Some(window) = mode.t {
        low_high(faults, spot.field("t"), window, &DEGREES);
    }
    for length in mode.pan.into_iter().flatten() {
        within(faults, spot.field("pan"), length, &LENGTH);
    }
    if let Some(weight) = mode.weight {
        within(faults, spot.field("weight"), weight, &WEIGHT);
    }
    if let Some(window) = mode.level {
        low_high(faults, spot.field("level"), window, &LEVEL);
    }
    if let Some(diameter) = mode.diameter {
        within(faults, spot.field("diameter"), diameter, &LENGTH);
    }
}

fn check_touch(faults: &mut Faults, spot: Spot<'_>, touch: &Touch, min: i64) {
    let at = within(faults, spot.field("touches at"), touch.at, &MINUTES);
    for (field, value) in [("touches early", touch.early), ("touches late", touch.late)] {
        within(faults, spot.field(field), value, &MINUTES);
    }
    // A plain touch of no minutes has always been one that is not done.
    let is_plain = !touch.floats() && !touch.passing;
    let least = if is_plain { 0 } else { 1 };
    let minutes = within(faults, spot.field("touches minutes"), touch.minutes, &(least..=*MINUTES.end()));
    if minutes && touch.passing && touch.minutes > Touch::LONGEST_IN_PASSING {
        let (minutes, most) = (touch.minutes, Touch::LONGEST_IN_PASSING);
        faults.add(spot.field("touches"), FaultKind::TooLongInPassing { minutes, most });
    }
    if at && minutes && !is_plain && MINUTES.contains(&min) && touch.at + touch.minutes > min {
        faults.add(spot.field("touches"), FaultKind::TouchOutsideStep { over: touch.at + touch.minutes, min });
    }
}

fn check_pools(faults: &mut Faults, spot: Spot<'_>, pools: &BTreeMap<String, i64>) {
    for (id, &amount) in pools {
        if !POOL.contains(&amount) {
            within(faults, spot.field(&format!("pools {id:?}")), amount, &POOL);
        }
    }
}

fn check_link(faults: &mut Faults, spot: Spot<'_>, link: &Link) {
    let min = within(faults, spot.field("min"), link.min, &GAP);
    if let Some(max) = link.max
        && within(faults, spot.field("max"), max, &GAP)
        && min
    {
        min_max(faults, spot, link.min, max);
    }
    check_wait(faults, spot.field("wait"), &link.wait);
    check_pools(faults, spot, &link.pools);
}

fn check_wait(faults: &mut Faults, spot: Spot<'_>, wait: &Wait) {
    let rate = within(faults, spot, wait.rate, &COST);
    let rate_after = within(faults, spot, wait.rate_after, &COST);
    if rate && rate_after && wait.rate_after < wait.rate {
        faults.add(spot, FaultKind::RateAfterBelowRate { rate: wait.rate, rate_after: wait.rate_after });
    }
    if let Some(soft) = wait.soft {
        within(faults, spot, soft, &MINUTES);
    }
}

fn within(faults: &mut Faults, spot: Spot<'_>, value: i64, range: &RangeInclusive<i64>) -> bool {
    if !range.contains(&value) {
        faults.add(spot, FaultKind::OutOfRange { value, least: *range.start(), most: *range.end() });
    }
    range.contains(&value)
}

fn low_high(faults: &mut Faults, spot: Spot<'_>, [low, high]: [i64; 2], range: &RangeInclusive<i64>) {
    let both = [low, high].map(|value| within(faults, spot, value, range));
    if both == [true, true] && low > high {
        faults.add(spot, FaultKind::UpsideDown { low, high });
    }
}

fn min_max(faults: &mut Faults, spot: Spot<'_>, min: i64, max: i64) {
    if max < min {
        faults.add(spot, FaultKind::MaxBelowMin { min, max });
    }
}
