//! Words for a problem that comes without any.

use crate::cook::safety::{Premises, Region};
use crate::feast::{Calendar, Units};
use crate::labels::{CookLabel, CourseLabel, DishLabel, Facts, Labels, ModeLabel, PlaceLabel, StepLabel};
use crate::larder::Contents;
use crate::menu::Kind;
use crate::problem::{Problem, Step};
use crate::schedule::{Cook, Crew};

/// Labels for a bare problem: its own names where it has some, else its ids; cooks by number.
///
/// `calendar` says when its minute 0 is. Without one, day 0 is 1 January 2001 in UTC, and only the clock times mean anything.
///
/// ```
/// # let problem: rangewright_models::problem::Problem = serde_json::from_str(r#"{"name": "tea", "opening": 0, "shifts": [],
/// #     "pools": {}, "places": [], "dishes": [{"id": "d", "name": "Scones"}], "courses": [], "steps": [], "links": []}"#)?;
/// let labels = rangewright_models::compile::bare(&problem, None);
/// assert_eq!(labels.dishes["d"].name, "Scones");
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn bare(problem: &Problem, calendar: Option<Calendar>) -> Labels {
    let course_of = |dish: &str| {
        let sink = |step: &str| problem.steps.iter().any(|other| other.id == step && other.dish == dish);
        problem.courses.iter().find(|course| course.sinks.iter().any(|own| sink(&own.step))).map(|own| own.id.clone())
    };
    let dish_name = |id: &str| problem.dishes.iter().find(|dish| dish.id == id).map_or("", |dish| &dish.name);
    let step = |step: &Step| StepLabel {
        title: format!("{}: {}", capital(&step.kind), dish_name(&step.dish)),
        kind: Kind::Other(step.kind.clone()),
        dish: step.dish.clone(),
        look: None,
        note: None,
        cautions: Vec::new(),
        facts: Facts::default(),
        roasting: None,
        stands: None,
        modes: vec![ModeLabel::default(); step.modes.len()],
    };
    let dish = |id: &str, name: &str| DishLabel {
        name: name.to_owned(),
        course: course_of(id),
        allergens: Vec::new(),
        contents: Contents::default(),
        suits: Vec::new(),
        baked: false,
        scaled: None,
    };
    let place = |id: &str| PlaceLabel { name: id.to_owned(), sort: None };
    let cook = |cook: Cook| CookLabel { name: cook.name, shifts: cook.present };
    Labels {
        name: problem.name.clone(),
        kitchen: String::new(),
        guests: 0,
        diets: Vec::new(),
        region: Region::default(),
        premises: Premises::default(),
        units: Units::Metric,
        calendar: calendar.unwrap_or_else(undated),
        cooks: Crew::of(problem).cooks.into_iter().map(cook).collect(),
        places: problem.places.iter().map(|own| (own.id().to_owned(), place(own.id()))).collect(),
        pools: problem.pools.keys().map(|pool| (pool.clone(), pool.clone())).collect(),
        courses: problem.courses.iter().map(|own| (own.id.clone(), CourseLabel { name: own.id.clone() })).collect(),
        dishes: problem.dishes.iter().map(|own| (own.id.clone(), dish(&own.id, &own.name))).collect(),
        shopping: Vec::new(),
        steps: problem.steps.iter().map(|own| (own.id.clone(), step(own))).collect(),
    }
}

/// A calendar that only serves to turn minutes into clock times.
fn undated() -> Calendar {
    Calendar::new(jiff::civil::date(2001, 1, 1), jiff::tz::TimeZone::UTC, 0).expect("that day is in the calendar")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
