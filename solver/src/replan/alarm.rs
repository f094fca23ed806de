//! What has to be looked at now, whatever the new plan says.

use rangewright_models::day::Stage;
use rangewright_models::problem::{Minute, Mode, Step};
use serde::{Deserialize, Serialize};

use super::today::{COLD, Today};

/// Something that cannot wait for its turn on a sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "alarm", rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Alarm {
    /// A cavity reads far colder than what is in it needs: it may be off, and the minutes in it may not have counted.
    ColdOven {
        /// The cavity.
        place: String,
        /// What it read, degrees C.
        degrees: i64,
        /// What the coolest of what is in it needs, degrees C.
        needs: i64,
        /// The steps in it.
        steps: Vec<String>,
    },
    /// A cavity reads far hotter than what is in it can take.
    HotOven {
        /// The cavity.
        place: String,
        /// What it read, degrees C.
        degrees: i64,
        /// What the most sensitive of what is in it takes, degrees C.
        takes: i64,
        /// The steps in it.
        steps: Vec<String>,
    },
    /// A roast will not be done when the last sheet said, by more than its thermometer can be wrong.
    RoastOut {
        /// The roast.
        step: String,
        /// When the last sheet had it done.
        planned: Minute,
        /// When it may be done at the earliest and at the latest, nine times in ten.
        likely: [Minute; 2],
    },
    /// Food was in a place when that broke down: it keeps neither hot nor cold there.
    Stranded {
        /// The place.
        place: String,
        /// Since when.
        since: Minute,
        /// The steps in it.
        steps: Vec<String>,
    },
}

/// What is in a place: the step, its way, and since when.
type Inside<'a> = (&'a Step, &'a Mode, Minute);

/// Everything that has to be looked at, ovens first.
pub(super) fn alarms(today: &Today<'_>) -> Vec<Alarm> {
    let mut alarms = Vec::new();
    for place in &today.problem.places {
        let id = place.id();
        let inside = today.problem.steps.iter().zip(&today.stages).filter_map(|(step, stage)| match *stage {
            Stage::Running { mode, start, .. } if step.modes[mode].place.as_deref() == Some(id) => {
                Some((step, &step.modes[mode], start))
            }
            _ => None,
        });
        let inside: Vec<Inside<'_>> = inside.collect();
        let names = |of: &dyn Fn(&&Inside<'_>) -> bool| -> Vec<String> {
            let own = inside.iter().filter(of);
            own.map(|(step, ..)| step.id.clone()).collect()
        };
        let stranded = names(&|own: &&Inside<'_>| today.interrupted.contains(&own.0.id));
        if let Some(&since) = today.day.broken_since.get(id).filter(|_| !stranded.is_empty()) {
            alarms.push(Alarm::Stranded { place: id.to_owned(), since, steps: stranded });
            continue;
        }
        let Some(&(at, degrees)) = today.day.readings.get(id) else { continue };
        let cold = |own: &&Inside<'_>| own.2 <= at && own.1.t.is_some_and(|[low, _]| degrees < low - COLD);
        let hot = |own: &&Inside<'_>| own.2 <= at && own.1.t.is_some_and(|[_, high]| degrees > high + COLD);
        let lows = inside.iter().filter_map(|own| own.1.t.map(|[low, _]| low)).min();
        let highs = inside.iter().filter_map(|own| own.1.t.map(|[_, high]| high)).min();
        let (too_cold, too_hot) = (names(&cold), names(&hot));
        if let Some(needs) = lows.filter(|_| !too_cold.is_empty()) {
            alarms.push(Alarm::ColdOven { place: id.to_owned(), degrees, needs, steps: too_cold });
        }
        if let Some(takes) = highs.filter(|_| !too_hot.is_empty()) {
            alarms.push(Alarm::HotOven { place: id.to_owned(), degrees, takes, steps: too_hot });
        }
    }
    for (step, left) in &today.day.probes {
        let (Stage::Running { until: Some(until), .. }, Some(old)) = (today.day.stage(step), today.old.steps.get(step))
        else {
            continue;
        };
        let read = until - left.minutes;
        let likely = [read + left.early, read + left.late];
        if old.end < likely[0] || old.end > likely[1] {
            alarms.push(Alarm::RoastOut { step: step.clone(), planned: old.end, likely });
        }
    }
    alarms
}
