//! How a problem is read: somebody has to say who works, either as shifts or as cooks.

use std::collections::BTreeMap;

use serde::{Deserialize, Deserializer};

use super::{Cook, Course, Dish, Link, Minute, Place, Problem, Shift, Step};

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Problem")]
pub(super) struct Form {
    name: String,
    opening: Minute,
    #[serde(default, deserialize_with = "given")]
    shifts: Option<Vec<Shift>>,
    #[serde(default, deserialize_with = "given")]
    cooks: Option<Vec<Cook>>,
    pools: BTreeMap<String, i64>,
    places: Vec<Place>,
    dishes: Vec<Dish>,
    courses: Vec<Course>,
    steps: Vec<Step>,
    links: Vec<Link>,
}

/// A list that is there is written as a list, not as an option of one.
fn given<'de, D: Deserializer<'de>, T: Deserialize<'de>>(from: D) -> Result<Option<Vec<T>>, D::Error> {
    Vec::deserialize(from).map(Some)
}

impl TryFrom<Form> for Problem {
    type Error = &'static str;

    fn try_from(form: Form) -> Result<Self, Self::Error> {
        if form.shifts.is_none() && form.cooks.is_none() {
            return Err("missing field `shifts`: give either `shifts` or `cooks`");
        }
        let Form { name, opening, shifts, cooks, pools, places, dishes, courses, steps, links } = form;
        let (shifts, cooks) = (shifts.unwrap_or_default(), cooks.unwrap_or_default());
        Ok(Problem { name, opening, shifts, cooks, pools, places, dishes, courses, steps, links })
    }
}
