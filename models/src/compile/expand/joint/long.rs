//! The long stage of a roast: one way for each oven and temperature.

use super::super::chambers::{Chamber, chambers, temperatures, window_about};
use super::super::{dear, told};
use super::past::roast_of;
use super::{ROUND, Work};
use crate::compile::found::Found;
use crate::cook::bake::beside;
use crate::cook::roast::{self, Finish, Oven, Roast, RoastFault, Roasting, Skipped, forecast_with};
use crate::faults::Code;
use crate::feast::Units;
use crate::menu::{Hot, Interval, Margin, Touch, Way};
use crate::oven::rise_minutes;
use crate::units::{Temperature, spoken_minutes};

/// Probing takes a minute, and the last check before the planned end stands at least so many minutes ahead of it.
const PROBING: i64 = 1;
const BEFORE_THE_END: i64 = 4;
/// A check closer than this to the one for being done tells nothing new, minutes.
const TOO_CLOSE: i64 = 10;
/// A centre at which the cook ends the long stage is met as nearly as this, degrees, in so many rounds.
const NEAR: f64 = 0.3;
const ROUNDS: usize = 4;
/// Oven temperatures for which there is a model, degrees C.
const MODELLED: [Temperature; 2] = [Temperature::of_celsius(80), Temperature::of_celsius(260)];

/// The long stage in all its ways, and what the stages around it need to know.
pub(super) struct Long<'a> {
    pub(super) weight: Option<i64>,
    pub(super) sized: Option<String>,
    pub(super) ovens: Vec<Chamber<'a>>,
    pub(super) ways: Vec<Way>,
    /// The most minutes by which it may be done before the planned end.
    pub(super) soonest: i64,
    /// The most minutes set aside.
    pub(super) margin: i64,
    /// For each oven, the minutes of the finish.
    pub(super) finish: Vec<i64>,
    /// What it is followed by on the day.
    pub(super) roasting: Option<Box<Roasting>>,
    /// For each way, the least and the most minutes of the model.
    ranges: Vec<[i64; 2]>,
}

impl<'a> Work<'a> {
    fn units(&self) -> Units {
        self.feast.menu.units
    }

    pub(super) fn long_stage(&self, found: &mut Found<'_>) -> Option<Long<'a>> {
        let (weight, sized) = self.weight();
        let ovens = chambers(&self.step.way, &self.feast.kitchen);
        if ovens.is_empty() {
            let cause = "no oven it may use has fan or still heat, for which its minutes can be worked out";
            let remedy = "name another place or another heat, or write it as Roast(at: ..., takes: ...)";
            found.field(Code::Unroastable, self.step.origin, "place", cause, remedy);
            return None;
        }
        let (finish, ranges) = (Vec::new(), Vec::new());
        let (ways, roasting) = (Vec::new(), None);
        let mut long = Long { weight, sized, ways, soonest: 0, margin: 0, finish, roasting, ranges, ovens };
        let mut skipped: Vec<Skipped> = Vec::new();
        let [low, high] = self.joint.accepts;
        let window = [low.max(MODELLED[0].on(low.scale())), high.min(MODELLED[1].on(high.scale()))];
        for index in 0..long.ovens.len() {
            let chamber = long.ovens[index];
            let temperatures = temperatures(window, self.joint.best, &chamber, long.ovens.len());
            let coolest = temperatures.first().map_or(0, |t| t.whole());
            long.finish.push(
                self.joint.hot.filter(|hot| !hot.first).map_or(0, |hot| hot.minutes + ramp(&chamber, coolest, hot)),
            );
            for t in temperatures {
                match self.at(&chamber, t.whole(), long.finish[index], weight) {
                    Ok((forecast, way)) => {
                        let own = || Box::new(self.roasting(&chamber, t.whole(), long.finish[index], weight));
                        long.roasting.get_or_insert_with(own);
                        self.add(&mut long, &chamber, t, &forecast, &way);
                    }
                    Err(RoastFault::NoWay(why)) => skipped.extend(why),
                    Err(fault @ RoastFault::Input(_)) => {
                        told::refused(&fault, self.step.origin, found);
                        return None;
                    }
                }
            }
        }
        if long.ways.is_empty() {
            if skipped.is_empty() {
                let cause = "no oven it may use has a temperature that is accepted";
                found.field(Code::Unroastable, self.step.origin, "accepts", cause, "accept other oven temperatures");
            } else {
                told::refused(&RoastFault::NoWay(skipped), self.step.origin, found);
            }
            return None;
        }
        self.allowed(&mut long);
        Some(long)
    }

    /// Where the cook has minutes of his own, the temperatures at which the model can agree, if there are any.
    fn allowed(&self, long: &mut Long<'_>) {
        let Some(allow) = self.joint.allow else { return };
        let agrees: Vec<bool> = long.ranges.iter().map(|[early, late]| (*early..=*late).contains(&allow)).collect();
        if agrees.contains(&true) {
            let mut agree = agrees.into_iter();
            long.ways.retain(|_| agree.next().unwrap_or(true));
        }
    }

    /// What the model says of one oven at one temperature.
    fn at(
        &self,
        chamber: &Chamber<'_>,
        t: i64,
        finish: i64,
        weight: Option<i64>,
    ) -> Result<(roast::Forecast, roast::Way), RoastFault> {
        let mut roast = self.roast(chamber, t, finish, weight);
        let spec = chamber.spec;
        // Steps of ten degrees begin at full tens for the model; one temperature is asked for at a time.
        let oven = Oven {
            heat: chamber.heat,
            lo_c: t,
            hi_c: t,
            rise: spec.rise as f64,
            fall: spec.fall as f64,
            start_c: None,
        };
        let model = |roast: &Roast| {
            let mut forecast = forecast_with(roast, &oven, self.calibration, self.feast.kitchen.region)?;
            match forecast.ways.pop() {
                Some(way) => Ok((forecast, way)),
                None => Err(RoastFault::NoWay(forecast.skipped)),
            }
        };
        let Some(until) = self.joint.until else { return model(&roast) };
        // What it comes to is looked for along the secant: the end of the long stage rises by one or two degrees with each.
        roast.target_c = until.celsius();
        let mut found = model(&roast)?;
        let mut slope = 1.0_f64;
        for _ in 0..ROUNDS {
            let (at, end) = (roast.target_c, found.1.long_end_c);
            if (until.celsius() - end).abs() < NEAR {
                break;
            }
            roast.target_c += (until.celsius() - end) / slope;
            found = model(&roast)?;
            slope = ((found.1.long_end_c - end) / (roast.target_c - at)).clamp(0.5, 3.0);
        }
        Ok(found)
    }

    /// The roast as the model takes it, for one oven at one temperature.
    fn roast(&self, chamber: &Chamber<'_>, t: i64, finish: i64, weight: Option<i64>) -> Roast {
        let hot = match self.joint.hot {
            None => Finish::None,
            Some(Hot { first: true, at, minutes, .. }) => {
                Finish::HotFirst { at_c: at.celsius(), minutes: minutes as f64 }
            }
            // The whole finish takes the same minutes after every temperature: less of them is the rise of a warmer oven.
            Some(hot) => Finish::HotLast {
                at_c: hot.at.celsius(),
                minutes: (finish - ramp(chamber, t, hot)) as f64,
                gap_min: hot.after.map_or(0.0, |after| after.min as f64),
            },
        };
        let piece = roast_of(&self.joint.piece, weight, self.joint.to, self.rest.min, hot);
        Roast { cover: self.joint.cover, ..piece }
    }

    /// What it is followed by on the day.
    fn roasting(&self, chamber: &Chamber<'_>, t: i64, finish: i64, weight: Option<i64>) -> Roasting {
        let calibration = self.calibration.slower(beside(chamber.heat, self.joint.beside));
        let until_c = self.joint.until.map(Temperature::celsius);
        Roasting { roast: self.roast(chamber, t, finish, weight), calibration, until_c }.to_a_millionth()
    }

    fn add(
        &self,
        long: &mut Long<'_>,
        chamber: &Chamber<'_>,
        t: Temperature,
        forecast: &roast::Forecast,
        way: &roast::Way,
    ) {
        let before = self.joint.hot.filter(|hot| hot.first).map_or(0, |hot| hot.minutes);
        let slower = beside(chamber.heat, self.joint.beside);
        let longer = |minutes: i64| (minutes as f64 * slower).round() as i64;
        let [estimate, early, late] = [way.minutes, way.early_min, way.late_min].map(|own| (own - before).max(1));
        let [estimate, late] = [estimate, late].map(longer);
        let planned = match (self.joint.allow, self.joint.margin) {
            (Some(allow), _) => allow,
            (None, Margin::Range) => (late + ROUND - 1) / ROUND * ROUND,
            (None, Margin::Minutes(margin)) => estimate.saturating_add(margin),
        };
        let units = self.units();
        let guess = forecast.guessed.then(|| {
            let (thick, worth) = (forecast.solid.thickness_mm() / 10.0, way.a_centimetre_min(&forecast.solid));
            format!("; {thick:.0} cm thick by its weight: measure it, a centimetre moves {}", spoken_minutes(worth))
        });
        let done = way.long_end_c;
        let finishes = self.joint.hot.is_some_and(|hot| !hot.first);
        let act = if finishes && self.after.is_none() { "turn the oven up" } else { "take it out" };
        let mut touches: Vec<Touch> = Vec::new();
        let last = planned - BEFORE_THE_END;
        for own in &self.step.way.touches {
            let mut at = own.at;
            while at + own.takes <= estimate.min(last) {
                touches.push(Touch { at, every: None, ..own.clone() });
                let Some(every) = own.every.filter(|&every| every > 0) else { break };
                at += every;
            }
        }
        for probe in &way.probes {
            let at = longer(probe.minute - before);
            if at >= 1 && at + TOO_CLOSE <= estimate && at + PROBING <= last {
                let (about, band) = (told::centre(units, probe.core_c), told::centres(units, probe.band_c));
                let what = format!("Probe the middle, about {about} expected ({band})");
                touches.push(Touch { what, at, takes: PROBING, every: None, cooks: Vec::new() });
            }
        }
        if estimate + PROBING <= last {
            let what = format!("Probe the middle, and {act} as soon as it shows {}", told::centre(units, done));
            touches.push(Touch { what, at: estimate, takes: PROBING, every: None, cooks: Vec::new() });
        }
        let learned = match self.calibration.roasts {
            0 => "a first time in this kitchen".to_owned(),
            1 => "after one roast in the log".to_owned(),
            more => format!("after {more} roasts in the log"),
        };
        let (about, others) = (spoken_minutes(estimate), told::beside(self.joint.beside));
        let mut notes = vec![format!(
            "Most likely done after {about} ({learned}{others}{}): {act} at {}",
            guess.unwrap_or_default(),
            told::centre(units, done)
        )];
        if let Some(allow) = self.joint.allow {
            notes.push(differing(allow, [early, estimate, late]));
        }
        if let Some(until) = self.joint.until {
            let to = self.joint.to;
            let wanted = match to {
                _ if to == until => String::new(),
                _ => format!(", where {} is wanted", told::centre(units, to.celsius())),
            };
            let [said, comes] = [until.celsius(), way.peak_c].map(|t| told::centre(units, t));
            notes.push(format!("{act} at {said}, as the cook says: by the model it then comes to {comes}{wanted}"));
        }
        if planned > estimate && self.joint.allow.is_none() {
            let (margin, sooner) = (spoken_minutes(planned - estimate), spoken_minutes(planned - early));
            notes.push(format!(
                "A margin of {margin} is set aside for a late one; an early one rests the longer, by up to {sooner}"
            ));
        }
        let comes_to = format!("{} ({})", told::centre(units, way.peak_c), told::centres(units, way.peak_band_c));
        let pull = told::centre(units, way.pull_c);
        let served = format!("Take it out at {pull} in the middle: the rest brings it to {comes_to}");
        long.ways.push(Way {
            takes: Some(Interval { min: planned, max: Some(planned) }),
            temperature: Some(window_about(t, self.joint.accepts)),
            asked: Some(t),
            between: Some([early.min(planned), late.max(planned)]),
            cost: Some(self.joint.best.map_or(0, |best| dear(self.step.way.cost, best.apart(t)))),
            touches,
            notes,
            hands_on: vec![if finishes {
                served
            } else {
                format!("Out of the oven at {pull}, the middle comes to {comes_to} in the rest")
            }],
            cautions: forecast.cautions.iter().chain(&way.cautions).cloned().collect(),
            ..chamber.way(&self.step.way)
        });
        long.ranges.push([early, late]);
        long.soonest = long.soonest.max(planned - early);
        long.margin = long.margin.max(planned - estimate);
    }
}

/// Minutes in which an oven rises from one temperature to the heat of the finish.
fn ramp(chamber: &Chamber<'_>, from: i64, hot: Hot) -> i64 {
    if hot.after.is_some() {
        // It goes into an oven that is hot already.
        return 0;
    }
    rise_minutes(chamber.spec.rise.max(1) as f64, from as f64, hot.at.whole() as f64) as i64
}

/// How the minutes that a cook allows stand to the model's: least, likeliest and most.
fn differing(allow: i64, [early, estimate, late]: [i64; 3]) -> String {
    let [own, least, likely, most] = [allow, early, estimate, late].map(spoken_minutes);
    let apart = spoken_minutes((allow - estimate).abs());
    let model = format!("the model has it done after {likely}, {least} to {most} nine times in ten");
    match allow {
        _ if allow < early => format!("CHECK: {own} are allowed and {apart} are missing: {model}"),
        _ if allow > late => format!("CHECK: {own} are allowed, {apart} too many: {model}"),
        _ if allow < estimate => format!("{own} are allowed, {apart} less than is likely: {model}"),
        _ => format!("{own} are allowed: {model}"),
    }
}
