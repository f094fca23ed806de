//! What the sheets call the parts of a problem.

use rangewright::Planner;
use rangewright::margins::Margins;
use rangewright::models::caution::Caution;
use rangewright::models::feast::Units;
use rangewright::models::labels::{Labels, StepLabel};
use rangewright::models::problem::Minute;
use rangewright::models::units::{Scale, Temperature, spoken_minutes};
use rangewright::odds::Odds;
use serde::{Deserialize, Serialize};

use crate::plain::TIED;
use crate::scales;

/// The labels of a feast, or makeshift ones for a bare problem.
pub(crate) struct Words {
    /// For sentences: names written from right to left are set apart.
    pub(crate) labels: Labels,
    /// For programs: as the menu has them.
    pub(crate) said: Labels,
    /// Whether days have dates; a bare problem has none.
    pub(crate) dated: bool,
    /// Whether clock times run to twelve and begin again.
    pub(crate) twelve: bool,
    /// What was asked of the plan beside the menu, and is kept.
    pub(crate) promise: Option<Promise>,
    /// What room in the plan brings and costs, if it was asked for.
    pub(crate) calm: Option<Calm>,
    /// The margins in the plan, if they were asked for.
    pub(crate) margins: Option<Margins>,
    /// How likely each course of the plan is to keep its hour.
    pub(crate) odds: Option<Odds>,
}

/// Room for what takes longer.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Calm {
    /// By how much waiting costs more than without.
    pub(crate) waiting: i64,
    /// The same in percent, rounded up.
    pub(crate) percent: i64,
    /// The courses.
    pub(crate) courses: Vec<CalmCourse>,
}

/// How often a course is served within five minutes of its hour, in a hundred evenings.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct CalmCourse {
    pub(crate) course: String,
    pub(crate) without: usize,
    pub(crate) with: usize,
}

/// Each cook has spare hands in the last half hour before each serving.
#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
pub(crate) struct Promise {
    /// Minutes in one piece.
    pub(crate) minutes: Minute,
    /// By how much waiting costs more than without.
    pub(crate) waiting: i64,
}

impl Words {
    pub(crate) fn of(planner: &Planner) -> Self {
        let said = planner.labels().clone();
        let mut labels = said.clone();
        crate::isolate::isolate(&mut labels);
        Words {
            labels,
            said,
            dated: planner.is_dated(),
            twelve: false,
            promise: None,
            calm: None,
            margins: None,
            odds: None,
        }
    }

    pub(crate) fn step(&self, step: &str) -> Option<&StepLabel> {
        self.labels.steps.get(step)
    }

    pub(crate) fn title<'a>(&'a self, step: &'a str) -> &'a str {
        self.step(step).map_or(step, |label| &label.title)
    }

    /// The name of a step's dish.
    pub(crate) fn dish_of<'a>(&'a self, step: &'a str) -> &'a str {
        self.step(step).map_or(step, |label| self.dish(&label.dish))
    }

    pub(crate) fn dish<'a>(&'a self, dish: &'a str) -> &'a str {
        self.labels.dishes.get(dish).map_or(dish, |label| &label.name)
    }

    pub(crate) fn place<'a>(&'a self, place: &'a str) -> &'a str {
        self.labels.places.get(place).map_or(place, |label| &label.name)
    }

    pub(crate) fn pool<'a>(&'a self, pool: &'a str) -> &'a str {
        self.labels.pools.get(pool).map_or(pool, String::as_str)
    }

    pub(crate) fn course<'a>(&'a self, course: &'a str) -> &'a str {
        self.labels.courses.get(course).map_or(course, |label| &label.name)
    }

    /// A cook whom the schedule calls so.
    pub(crate) fn cook<'a>(&'a self, name: &'a str) -> &'a str {
        let same = self.said.cooks.iter().zip(&self.labels.cooks).find(|(said, _)| said.name == name);
        same.map_or(name, |(_, label)| &label.name)
    }

    /// The cautions that bite at a step in one of its modes.
    pub(crate) fn cautions(&self, step: &str, mode: usize) -> impl Iterator<Item = &Caution> {
        let label = self.step(step);
        let own = label.and_then(|label| label.modes.get(mode)).map_or(&[][..], |words| &words.cautions);
        label.map_or(&[][..], |label| &label.cautions).iter().chain(own)
    }

    /// The time on the wall clock.
    pub(crate) fn clock(&self, minute: Minute) -> String {
        self.labels.calendar.civil(minute).strftime(self.habit()).to_string()
    }

    /// A full hour on the wall clock, for the axis of a chart.
    pub(crate) fn hour(&self, minute: Minute) -> String {
        let habit = if self.twelve { "%-I\u{a0}%P" } else { "%H:%M" };
        self.labels.calendar.civil(minute).strftime(habit).to_string()
    }

    fn habit(&self) -> &'static str {
        if self.twelve { "%-I:%M\u{a0}%P" } else { "%H:%M" }
    }

    /// The day a minute lies in; days with the same text are the same day.
    pub(crate) fn day(&self, minute: Minute) -> String {
        if self.dated {
            self.labels.calendar.civil(minute).strftime("%A %-d %B %Y").to_string()
        } else {
            format!("Day {}", minute.div_euclid(24 * 60))
        }
    }

    /// The clock time, with the weekday where the day differs from that of `from`.
    pub(crate) fn clock_from(&self, from: Minute, minute: Minute) -> String {
        if self.day(from) == self.day(minute) {
            self.clock(minute)
        } else if self.dated {
            format!("{} {}", self.labels.calendar.civil(minute).strftime("%A"), self.clock(minute))
        } else {
            format!("{} {}", self.day(minute).to_lowercase(), self.clock(minute))
        }
    }

    pub(crate) fn degrees(&self, celsius: i64) -> String {
        self.labels.units.temperature(celsius).replace(' ', TIED)
    }

    /// The temperature of an oven, to be set on its dial.
    pub(crate) fn dial(&self, temperature: Temperature) -> String {
        let said = match (self.labels.units, temperature.scale()) {
            // What nobody wrote is rounded to the marks of a dial.
            (Units::Customary, Scale::Celsius) => self.labels.units.temperature(temperature.whole()),
            (units, _) => units.exactly(temperature),
        };
        said.replace(' ', TIED)
    }

    /// A sentence that gives temperatures on both scales: the menu's own first.
    pub(crate) fn scaled(&self, text: &str) -> String {
        match self.labels.units {
            Units::Customary => scales::fahrenheit_first(text),
            _ => text.to_owned(),
        }
    }

    /// A length, given in mm.
    pub(crate) fn length(&self, mm: i64) -> String {
        self.labels.units.length(mm).replace(' ', TIED)
    }

    /// A weight, given in g.
    pub(crate) fn weight(&self, grams: i64) -> String {
        self.labels.units.weight(grams).replace(' ', TIED)
    }

    /// A range of temperatures; a single one where both ends are the same.
    pub(crate) fn range(&self, [lo, hi]: [i64; 2]) -> String {
        let (lo, hi) = (self.degrees(lo), self.degrees(hi));
        let number = lo.split(TIED).next().unwrap_or(&lo);
        if lo == hi { hi } else { format!("{number}{TIED}to{TIED}{hi}") }
    }

    /// So many degrees more or less.
    pub(crate) fn difference(&self, celsius: i64) -> String {
        match self.labels.units {
            Units::Customary => format!("{:.0}{TIED}F", celsius as f64 * 1.8),
            _ => format!("{celsius}{TIED}C"),
        }
    }
}

/// With a capital first letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

/// Minutes in words: `45 min`, `2 h`, `3 h 20`.
pub(crate) fn minutes(minutes: Minute) -> String {
    spoken_minutes(minutes).replace(' ', TIED)
}

/// One thing or several: `1 plan`, `2 plans`.
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
