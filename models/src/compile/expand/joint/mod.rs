//! A roast as steps: thawing, a hot start, the long stage in one way for each oven and temperature, a hot finish, the rest.

mod long;
mod past;
mod sized;
mod thaw;

use crate::compile::found::Found;
use crate::compile::words::{self, mid_sentence};
use crate::cook::{Calibration, Cover};
use crate::feast::Feast;
use crate::menu::{Dish, Hot, Interval, Joint, Kind, Start, Step, Way};
use crate::oven::around;
use crate::units::Temperature;
use long::Long;

pub(in crate::compile) use past::calibration;

/// How long a roast rests if nothing else is said (common practice, no source).
const REST: Interval = Interval { min: 20, max: Some(60) };
/// How long it stands after a finish that came after its rest (common practice, no source).
const STAND: Interval = Interval { min: 5, max: Some(15) };
/// A roasting tin weighs so much, g (common practice, no source).
const TIN: i64 = 1_500;
/// Planned minutes are rounded up to a multiple of this where a margin covers them.
const ROUND: i64 = 5;
const DAY: i64 = 1_440;

/// The steps of a roast. If there is no forecast, which is noted, a plain roast that goes where it can.
pub(super) fn steps(
    step: &Step,
    joint: &Joint,
    dish: &Dish,
    feast: &Feast,
    calibration: &Calibration,
    found: &mut Found<'_>,
) -> Vec<Step> {
    let after = joint.hot.and_then(|hot| hot.after);
    let usual = if after.is_some() { STAND } else { REST };
    let work = Work { step, joint, dish, feast, calibration, rest: joint.rest.unwrap_or(usual), after };
    match work.long_stage(found) {
        Some(long) => work.written(long, found),
        None => {
            let way = Way {
                takes: Some(Interval { min: 60, max: Some(60) }),
                temperature: Some(joint.accepts.map(Temperature::whole)),
                touches: Vec::new(),
                ..step.way.clone()
            };
            vec![Step { joint: None, way, ..step.clone() }]
        }
    }
}

struct Work<'a> {
    step: &'a Step,
    joint: &'a Joint,
    dish: &'a Dish,
    feast: &'a Feast,
    calibration: &'a Calibration,
    /// The rest before it is served.
    rest: Interval,
    /// The one before a finish, if it comes out for it.
    after: Option<Interval>,
}

impl Work<'_> {
    /// Everything in order: thaw, hot start, long stage, finish, rest.
    fn written(&self, long: Long<'_>, found: &mut Found<'_>) -> Vec<Step> {
        let name = mid_sentence(&self.dish.name);
        let base = Way {
            places: Vec::new(),
            heats: Vec::new(),
            touches: Vec::new(),
            cost: None,
            weight: long.weight.map(|weight| weight.saturating_add(TIN)),
            ..self.step.way.clone()
        };
        let part = |kind: Kind, id: &str, title: String| Step {
            id: Some(id.to_owned()),
            title: Some(title),
            origin: self.step.origin,
            way: base.clone(),
            ..Step::new(kind, 1)
        };
        let at_once = Some(Interval { min: 0, max: Some(0) });
        let window = |at: Temperature| Some(around(at.whole()));
        let exactly = |minutes: i64| Some(Interval { min: minutes, max: Some(minutes) });
        let mut steps = Vec::new();
        if self.joint.piece.start == Start::Frozen {
            steps.extend(self.thaw(&name, long.weight, found));
        }
        let hot_first = self.joint.hot.filter(|hot| hot.first);
        let finish = self.joint.hot.filter(|hot| !hot.first);
        if let Some(hot) = hot_first {
            let ways = long.ovens.iter().map(|oven| Way {
                takes: exactly(hot.minutes),
                temperature: window(hot.at),
                asked: Some(hot.at),
                ..oven.way(&base)
            });
            steps
                .push(Step { ways: ways.collect(), ..part(Kind::Roast, "hot-start", format!("Start the {name} hot")) });
        }
        let done = hot_first
            .map_or_else(|| words::job("Roast {}", &name), |_| format!("Turn the oven down and roast the {name}"));
        let title = self.step.title.clone().unwrap_or(done);
        let mut roast = part(Kind::Roast, self.step.id.as_deref().unwrap_or("roast"), title);
        roast.note = [self.step.note.clone(), long.sized.clone()]
            .into_iter()
            .flatten()
            .reduce(|one, other| format!("{one}. {other}"));
        roast.stay = hot_first.map(|_| true);
        roast.ways = long.ways;
        roast.roasting = long.roasting;
        let look = self.step.look.clone();
        // What is early is taken up by the rest that follows the long stage.
        let resting = |id: &str, rest: Interval, [margin, soonest]: [i64; 2]| {
            let title = format!("Let the {name} rest, {}", covered(self.joint.cover));
            self.rested(rest, margin, soonest, part(Kind::Rest, id, title))
        };
        let slack = [long.margin, long.soonest];
        match finish {
            Some(hot) => {
                steps.push(roast);
                steps.extend(self.after.map(|after| resting("rest", after, slack)));
                let ways = long.ovens.iter().zip(&long.finish).map(|(oven, &minutes)| Way {
                    takes: exactly(minutes),
                    temperature: window(hot.at),
                    asked: Some(hot.at),
                    ..oven.way(&base)
                });
                let finish = match hot {
                    Hot { after: Some(_), .. } => {
                        let title = format!("Brown the {name} in a hot oven");
                        Step { stay: Some(false), ..part(Kind::Roast, "finish", title) }
                    }
                    _ => {
                        let note = Some("Begin as soon as the roast is there, not by the clock".to_owned());
                        let title = format!("Turn the oven up to finish the {name}");
                        Step { note, ..part(Kind::Finish, "finish", title) }
                    }
                };
                steps.push(Step { ways: ways.collect(), look, ..finish });
            }
            None => {
                roast.look = look;
                steps.push(roast);
            }
        }
        steps.push(match self.after {
            Some(_) => resting("stand", self.rest, [0, 0]),
            None => resting("rest", self.rest, slack),
        });
        if let Some(last) = steps.last_mut() {
            last.keeps = self.step.keeps;
            last.waits = self.step.waits;
            last.latest = self.step.latest;
        }
        if let Some(first) = steps.first_mut() {
            first.after.clone_from(&self.step.after);
            first.gap = self.step.gap;
            first.earliest = self.step.earliest;
        }
        // What stays in the oven follows at once.
        for step in steps.iter_mut().skip(1).filter(|step| step.stay == Some(true)) {
            step.gap = at_once;
        }
        steps
    }

    /// The rest takes up what is early: as planned it is so much shorter than the cook allows, if that leaves anything.
    fn rested(&self, Interval { min, max }: Interval, margin: i64, soonest: i64, mut rest: Step) -> Step {
        let most = max.unwrap_or(min + 120).max(min);
        let likes = self.step.likes.unwrap_or(min + (most - min) / 2).min(most);
        let planned_most = (most - margin).max(min + ROUND).min(most.max(min + ROUND));
        rest.way =
            Way { takes: Some(Interval { min, max: Some(planned_most) }), origin: self.step.origin, ..Way::default() };
        rest.likes = Some((likes - margin).max(min));
        if soonest > 0 {
            rest.note = Some("If the roast was early, it rests the longer: covered, in a warm place".to_owned());
        }
        rest
    }
}

/// How a roast rests, in the words of its step.
fn covered(cover: Cover) -> &'static str {
    match cover {
        Cover::Open => "uncovered",
        Cover::Tented => "loosely covered",
        Cover::Wrapped => "wrapped tight",
    }
}
