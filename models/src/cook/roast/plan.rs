//! From a roast to one way for each oven temperature.

use super::cooking::Cooking;
use super::legal::{OVEN, check, check_roast, steps};
use super::{Finish, Forecast, Oven, Point, Probe, REGION, Roast, RoastFault, Skipped, Stage, Unreachable, Way};
use crate::cook::air::counter;
use crate::cook::calibrate::Calibration;
use crate::cook::carry_over::{CarryOver, tempered};
use crate::cook::cut::{Solid, composition};
use crate::cook::fault::{Fault, Legal};
use crate::cook::fitted::Fitted;
use crate::cook::heat::Surroundings;
use crate::cook::safety::{self, Region, carry_over_counts};
use crate::oven;

/// A roast that takes longer than this is not planned, minutes.
const DAY: f64 = 1_440.0;
/// Snapshots are kept from so far under the target on, degrees: no roast rises more after its pull.
const KEPT: f64 = 45.0;
/// Shares of the estimate at which to probe.
const PROBES: [f64; 3] = [0.6, 0.8, 0.92];
/// Spacing of the course handed out, minutes.
const SPACING: f64 = 5.0;

/// Minutes, pull, rest and peak of a roast for each accepted oven temperature, before any experience with the kitchen.
///
/// # Errors
/// Everything that is wrong with the input, or why it works at no temperature.
pub fn forecast(roast: &Roast, oven: &Oven) -> Result<Forecast, RoastFault> {
    forecast_with(roast, oven, &Calibration::default(), REGION)
}

/// As [`forecast`], with what a cook's log has taught, and the cautions of a region.
///
/// # Errors
/// Everything that is wrong with the input, or why it works at no temperature.
pub fn forecast_with(
    roast: &Roast,
    oven: &Oven,
    calibration: &Calibration,
    region: Region,
) -> Result<Forecast, RoastFault> {
    let mut faults = Vec::new();
    calibration.faults(&mut faults);
    let fitted = &Fitted::FOUND;
    let (solid, convection) = check(roast, oven, fitted, faults)?;
    let (mut ways, mut skipped) = (Vec::new(), Vec::new());
    for oven_c in steps(oven) {
        let run = Run { roast, oven, solid, convection, fitted, set: oven_c as f64, region };
        match run.way(oven_c, calibration) {
            Ok(way) => ways.push(way),
            Err(why) => skipped.push(Skipped { oven_c, why }),
        }
    }
    if ways.is_empty() {
        return Err(RoastFault::NoWay(skipped));
    }
    let cautions = safety::roast(roast, region);
    Ok(Forecast { solid, guessed: roast.thickness_mm.is_none(), ways, skipped, calibration: *calibration, cautions })
}

/// Computed minutes until the core is at `core_c` at one oven temperature, hot stage before included, none after.
///
/// # Errors
/// Everything that is wrong with the input, or that the core does not get there.
pub fn minutes_to(roast: &Roast, oven: &Oven, oven_c: f64, core_c: f64) -> Result<f64, RoastFault> {
    minutes_by(&Fitted::FOUND, roast, oven, oven_c, core_c)
}

/// As [`minutes_to`], by other constants than those that were found: for the fit.
///
/// # Errors
/// Everything that is wrong with the input, or that the core does not get there.
pub fn minutes_by(fitted: &Fitted, roast: &Roast, oven: &Oven, oven_c: f64, core_c: f64) -> Result<f64, RoastFault> {
    let mut faults: Vec<Fault> = Vec::new();
    Legal::new("oven_c", OVEN[0], OVEN[1], "C").check(oven_c, &mut faults);
    Legal::new("core_c", 30.0, 90.0, "C").check(core_c, &mut faults);
    let (solid, convection) = check(roast, oven, fitted, faults)?;
    let run = Run { roast, oven, solid, convection, fitted, set: oven_c, region: REGION };
    let reached = run
        .long_stage(core_c, core_c)
        .map_err(|why| RoastFault::NoWay(vec![Skipped { oven_c: oven_c.round() as i64, why }]))?;
    let course = &reached.last().map(|cooking| cooking.course.as_slice()).unwrap_or_default();
    Ok(minute_at(course, core_c))
}

/// The body that stands for a roast, with the thickness that was measured or guessed.
///
/// # Errors
/// Everything that is wrong with the roast.
pub fn solid(roast: &Roast) -> Result<Solid, RoastFault> {
    let mut faults = Vec::new();
    check_roast(roast, &Fitted::FOUND, &mut faults).ok_or(RoastFault::Input(faults))
}

/// One roast at one oven temperature.
struct Run<'a> {
    roast: &'a Roast,
    oven: &'a Oven,
    solid: Solid,
    convection: f64,
    fitted: &'a Fitted,
    set: f64,
    region: Region,
}

/// What follows the long stage.
struct Tail {
    cooking: Cooking,
    pull_c: f64,
    pull_minute: f64,
    rise: CarryOver,
    /// What the target is held against.
    served_c: f64,
}

impl Run<'_> {
    fn way(&self, oven_c: i64, calibration: &Calibration) -> Result<Way, Unreachable> {
        let snapshots = self.long_stage(self.roast.target_c, self.roast.target_c - KEPT)?;
        let served = |i: usize| self.tail(&snapshots[i]);
        // The first snapshot that comes out at the target or above, by halving.
        let (mut lo, mut hi) = (0, snapshots.len() - 1);
        let (mut under, mut over) = (served(lo), served(hi));
        if under.served_c > self.roast.target_c {
            return Err(Unreachable::TooHot);
        }
        while hi - lo > 1 {
            let middle = (lo + hi) / 2;
            let tail = served(middle);
            if tail.served_c < self.roast.target_c {
                (lo, under) = (middle, tail);
            } else {
                (hi, over) = (middle, tail);
            }
        }
        let span = over.served_c - under.served_c;
        let part = if span > 0.0 { ((self.roast.target_c - under.served_c) / span).clamp(0.0, 1.0) } else { 1.0 };
        let between = |a: f64, b: f64| a + part * (b - a);
        let long_end_c = between(snapshots[lo].core(), snapshots[hi].core());
        let model_minutes = between(snapshots[lo].minute, snapshots[hi].minute);
        let pull_c = between(under.pull_c, over.pull_c);
        let near = if part < 0.5 { &under } else { &over };
        Ok(self.write_up(oven_c, calibration, long_end_c, model_minutes, pull_c, near))
    }

    /// The hot start if there is one, then the long stage up to `core_c`; a snapshot of its start and of each step from
    /// `keep_c` on.
    fn long_stage(&self, core_c: f64, keep_c: f64) -> Result<Vec<Cooking>, Unreachable> {
        let food = composition(self.roast.meat, self.roast.cut);
        let first = match self.roast.finish {
            Finish::HotFirst { at_c, .. } | Finish::HotLast { at_c, .. } if at_c <= self.set => {
                return Err(Unreachable::NoCooler);
            }
            Finish::HotFirst { at_c, minutes } => Some((at_c, minutes)),
            _ => None,
        };
        let air = self.oven.start_c.unwrap_or(first.map_or(self.set, |(at, _)| at));
        let mut cooking =
            Cooking::new(self.solid, food, self.roast.start_c, (self.convection, self.fitted), self.oven, air);
        if let Some((at_c, minutes)) = first {
            cooking.in_oven(at_c, minutes.ceil());
        }
        let mut snapshots = Vec::new();
        loop {
            let core = cooking.core();
            if core >= keep_c || cooking.minute == 0.0 {
                snapshots.push(cooking.clone());
            }
            if core >= core_c {
                return Ok(snapshots);
            }
            let settled = cooking.at_rest() && (cooking.air - self.set).abs() < 0.5;
            if cooking.minute > DAY || settled && cooking.minute > 30.0 {
                return Err(Unreachable::TooCool { highest_c: core });
            }
            cooking.oven_step(self.set);
        }
    }

    /// The hot finish if there is one, and the rest.
    fn tail(&self, long: &Cooking) -> Tail {
        let mut cooking = long.clone();
        if let Finish::HotLast { at_c, gap_min, .. } = self.roast.finish {
            if gap_min > 0.0 {
                cooking.rest(gap_min, self.counter());
                cooking.air = at_c;
            }
            cooking.in_oven(at_c, self.finish_minutes());
        }
        let (pull_c, pull_minute) = (cooking.core(), cooking.minute);
        let (peak, after) = cooking.rest(self.roast.rest_min, self.counter());
        let rise = CarryOver::of_model(self.roast.cover, peak - pull_c, after);
        let counts = carry_over_counts(self.roast.meat, self.roast.handling, self.roast.stuffed);
        let served_c = if counts { pull_c + rise.rise_c } else { pull_c };
        Tail { cooking, pull_c, pull_minute, rise, served_c }
    }

    fn counter(&self) -> Surroundings {
        counter(self.roast.cover, self.roast.cold_tray)
    }

    /// Minutes of a hot finish, whole: the rise of an oven in which the roast stays, and the minutes at heat.
    fn finish_minutes(&self) -> f64 {
        match self.roast.finish {
            Finish::HotLast { at_c, minutes, gap_min } if gap_min <= 0.0 => {
                minutes.ceil() + oven::rise_minutes(self.oven.rise, self.set, at_c)
            }
            Finish::HotFirst { minutes, .. } | Finish::HotLast { minutes, .. } => minutes.ceil(),
            Finish::None => 0.0,
        }
    }

    fn write_up(
        &self,
        oven_c: i64,
        calibration: &Calibration,
        long_end_c: f64,
        model_minutes: f64,
        pull_c: f64,
        near: &Tail,
    ) -> Way {
        let [low, high] = calibration.range(self.roast);
        let (fixed, stages) = self.stages(oven_c, model_minutes * calibration.factor());
        // Less than a minute in the long stage is still a minute.
        let at_least = |minutes: f64| (minutes as i64).max(fixed + 1);
        let minutes = at_least((model_minutes * calibration.factor()).round());
        let late_min = at_least((model_minutes * high).ceil());
        let peak_c = pull_c + near.rise.rise_c;
        let course = near.cooking.course.as_slice();
        let probes =
            PROBES.iter().map(|share| (minutes as f64 * share).round()).filter(|&m| m > fixed as f64 && m >= 1.0);
        let probe = |minute: f64| Probe {
            minute: minute as i64,
            core_c: core_at(course, minute / calibration.factor()),
            band_c: [core_at(course, minute / high), core_at(course, minute / low)],
        };
        // What is credited for safety is the least that the rest may bring.
        let resting = |p: &Point| {
            if p.minute > near.pull_minute { tempered(self.roast.cover, near.pull_c, p.core_c) } else { [p.core_c; 2] }
        };
        let at =
            |p: &Point, factor: f64| p.minute.min(near.pull_minute) * factor + (p.minute - near.pull_minute).max(0.0);
        let end_c = course.last().map_or(near.pull_c, |p| resting(p)[1]);
        let read_c = |p: &Point| {
            if p.minute > near.pull_minute { near.pull_c.min(end_c) } else { p.core_c }
        };
        let core = safety::Core {
            late: course.iter().map(|p| (at(p, high), resting(p)[1])).collect(),
            proved: course.iter().map(|p| (at(p, low), read_c(p))).collect(),
        };
        let told: Vec<Point> = course.iter().map(|p| Point { core_c: resting(p)[0], ..*p }).collect();
        Way {
            oven_c,
            window_c: oven::around(oven_c),
            stages,
            minutes,
            early_min: at_least((model_minutes * low).floor()).min(minutes),
            late_min,
            margin_min: late_min - minutes,
            long_end_c,
            pull_c,
            peak_c,
            peak_band_c: near.rise.band_c.map(|rise| pull_c + rise),
            peak_after_min: near.rise.peak_after_min,
            probes: probes.map(probe).collect(),
            evaporated: near.cooking.evaporated_share(),
            credited_logs: safety::table_applies(self.roast.meat, self.roast.handling)
                .is_ok()
                .then(|| safety::credited_logs(&core.proved, safety::Reduction::Log65)),
            cautions: safety::way(self.roast, self.oven.heat, self.set, &core, near.cooking.layer_minute, self.region),
            course: thinned(&told, near.pull_minute),
        }
    }

    /// The minutes fixed before the long stage, and every stage.
    fn stages(&self, oven_c: i64, minutes: f64) -> (i64, Vec<Stage>) {
        let hot = |at_c: f64, after_gap_min| Stage {
            oven_c: at_c.round() as i64,
            minutes: self.finish_minutes() as i64,
            long: false,
            after_gap_min,
        };
        let long = |fixed: i64| Stage {
            oven_c,
            minutes: (minutes.round() as i64 - fixed).max(1),
            long: true,
            after_gap_min: None,
        };
        match self.roast.finish {
            Finish::None => (0, vec![long(0)]),
            Finish::HotFirst { at_c, .. } => {
                let fixed = self.finish_minutes() as i64;
                (fixed, vec![hot(at_c, None), long(fixed)])
            }
            Finish::HotLast { at_c, gap_min, .. } => {
                let gap = (gap_min > 0.0).then_some(gap_min.ceil() as i64);
                (0, vec![long(0), hot(at_c, gap)])
            }
        }
    }
}

/// The minute at which the core first is at `core_c`; the end of the course if never.
pub(super) fn minute_at(course: &[Point], core_c: f64) -> f64 {
    let Some(after) = course.iter().position(|point| point.core_c >= core_c) else {
        return course.last().map_or(0.0, |point| point.minute);
    };
    let (a, b) = (course[after.saturating_sub(1)], course[after]);
    if b.core_c <= a.core_c {
        return b.minute;
    }
    a.minute + (core_c - a.core_c) / (b.core_c - a.core_c) * (b.minute - a.minute)
}

/// The core at a minute, held at the ends of the course.
pub(super) fn core_at(course: &[Point], minute: f64) -> f64 {
    let after = course.partition_point(|point| point.minute < minute);
    match (after.checked_sub(1).and_then(|i| course.get(i)), course.get(after)) {
        (Some(a), Some(b)) if b.minute > a.minute => {
            a.core_c + (minute - a.minute) / (b.minute - a.minute) * (b.core_c - a.core_c)
        }
        (_, Some(point)) | (Some(point), None) => point.core_c,
        (None, None) => 0.0,
    }
}

/// The course at every fifth minute, with the moment of the pull and the end.
fn thinned(course: &[Point], pull_minute: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for (i, point) in course.iter().enumerate() {
        let due = kept.last().is_none_or(|last| point.minute - last.minute >= SPACING - 1e-6);
        let pull = (point.minute - pull_minute).abs() < 1e-9;
        if due || pull || i + 1 == course.len() {
            kept.push(*point);
        }
    }
    kept
}
