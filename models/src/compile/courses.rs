//! Courses: which dishes they serve, when, and in which order.

use std::collections::BTreeMap;

use super::found::Found;
use super::graph::Graph;
use super::stands::Shelves;
use super::stock::duplicate;
use super::time::Time;
use super::waits::Waits;
use crate::faults::{Code, suggestion};
use crate::feast::Feast;
use crate::hazard::warms;
use crate::labels::{CourseLabel, DishLabel, Warmth};
use crate::larder::{Contents, suits};
use crate::menu::{Contains, Kind, slug};
use crate::problem::{After, Course, Sink};

/// What is served in which course; indices of jobs.
pub(super) struct Served {
    ids: Vec<String>,
    sinks: Vec<Vec<usize>>,
    dish_courses: Vec<Option<usize>>,
}

pub(super) struct Finished {
    pub(super) courses: Vec<Course>,
    pub(super) labels: BTreeMap<String, CourseLabel>,
    pub(super) dishes: BTreeMap<String, DishLabel>,
}

/// Which dish is served in which course. `None` if there are no courses at all.
pub(super) fn courses(feast: &Feast, graph: &Graph<'_>, found: &mut Found<'_>) -> Option<Served> {
    let menu = &feast.menu;
    let mut ids: Vec<String> = Vec::new();
    for course in &menu.courses {
        let id = slug(&course.name);
        if ids.contains(&id) {
            duplicate(&course.name, "course", course.origin, found);
        }
        ids.push(id);
    }
    if menu.dishes.is_empty() {
        let remedy = "add dishes: [Dish(name: \"Roast celeriac\", steps: [...])]";
        found.field(Code::NothingIn, menu.origin, "dishes", "the menu has no dishes", remedy);
    }
    if ids.is_empty() {
        let remedy = "add serve: \"19:00\", or courses: [Course(name: \"main\", serve: \"19:00\")]";
        found.field(Code::NothingIn, menu.origin, "courses", "the menu has no courses", remedy);
        return None;
    }
    let mut last = vec![true; graph.jobs.len()];
    for arc in &graph.arcs {
        last[arc.from] = false;
    }
    let mut served = Served { sinks: vec![Vec::new(); ids.len()], ids, dish_courses: Vec::new() };
    for (number, dish) in menu.dishes.iter().enumerate() {
        let ends: Vec<usize> =
            (0..graph.jobs.len()).filter(|&job| graph.jobs[job].dish == number && last[job]).collect();
        let course = match &dish.course {
            Some(named) => {
                let course = served.ids.iter().position(|id| *id == slug(&named.name));
                if course.is_none() {
                    let known = suggestion(&named.name, menu.courses.iter().map(|course| course.name.as_str()));
                    found.add(Code::UnknownName, named.origin, format!("there is no course {:?}", named.name), known);
                    served.dish_courses.push(None);
                    continue;
                }
                course
            }
            None if served.ids.len() == 1 && !ends.is_empty() => Some(0),
            None => None,
        };
        match course {
            Some(course) if ends.is_empty() && !dish.steps.is_empty() && graph.order.is_some() => {
                let name = &menu.courses[course].name;
                let cause =
                    format!("{:?} is to be served with {name:?}, but its last step goes into another dish", dish.name);
                let remedy = "leave out its course, or let the other dish follow an earlier step";
                found.field(Code::NotServed, dish.origin, "course", cause, remedy);
            }
            None if !ends.is_empty() => {
                let cause =
                    format!("{:?} is in no course, and nothing follows {:?}", dish.name, graph.jobs[ends[0]].id);
                let remedy =
                    format!("say its course: {}", suggestion("", menu.courses.iter().map(|c| c.name.as_str())));
                found.add(Code::NotServed, dish.origin, cause, remedy);
            }
            _ => {}
        }
        if let Some(course) = course {
            served.sinks[course].extend(ends);
        }
        served.dish_courses.push(course);
    }
    for (course, sinks) in menu.courses.iter().zip(&served.sinks) {
        if sinks.is_empty() && !menu.dishes.is_empty() {
            let remedy = "name it as the course of a dish, or take it out";
            found.add(Code::NothingIn, course.origin, format!("nothing is served with {:?}", course.name), remedy);
        }
    }
    Some(served)
}

impl Served {
    /// The courses of the problem and what they are called.
    pub(super) fn finish(
        self,
        feast: &Feast,
        graph: &Graph<'_>,
        waits: &Waits,
        shelves: &Shelves,
        time: &Time,
        found: &mut Found<'_>,
    ) -> Finished {
        let menu = &feast.menu;
        let mut courses: Vec<Course> = Vec::new();
        for ((course, id), sinks) in menu.courses.iter().zip(&self.ids).zip(&self.sinks) {
            let Some(serve) = time.minute(course.serve, course.origin, "serve", found) else { continue };
            if !time.shifts.iter().any(|shift| (shift.start..=shift.end).contains(&serve)) {
                let cause = format!("{:?} is served at {}, when nobody is in the kitchen", course.name, course.serve);
                let remedy = "change the hour, or a cook's shift";
                found.field(Code::ServeOffShift, course.origin, "serve", cause, remedy);
            }
            let before = courses.last().filter(|before: &&Course| course.follows.is_some() || before.serve <= serve);
            let gap = course.follows.map_or((0, None), |follows| (follows.min, follows.max));
            let after = before.map(|before| After { course: before.id.clone(), min: gap.0, max: gap.1 });
            if before.is_none() && course.follows.is_some() {
                let cause = format!("{:?} is the first course and follows none", course.name);
                found.field(Code::Contradiction, course.origin, "follows", cause, "take \"follows\" out");
            }
            courses.push(Course {
                id: id.clone(),
                serve,
                weight: course.weight,
                max_slip: course.slip,
                together: course.together,
                sinks: sinks
                    .iter()
                    .map(|&job| Sink {
                        step: graph.jobs[job].id.clone(),
                        wait: waits.after(job, None),
                        pools: shelves.taken(graph.jobs[job].step),
                    })
                    .collect(),
                after,
            });
        }
        let names = menu.courses.iter().map(|course| CourseLabel { name: course.name.clone() });
        let dishes = menu.dishes.iter().zip(&graph.dish_ids).zip(self.dish_courses.iter());
        let dishes = dishes.map(|((dish, id), course)| {
            let course = course.and_then(|course| self.ids.get(course).cloned());
            let mut allergens = dish.allergens.clone();
            // What a menu says for the sake of safety may be an allergen as well.
            for (food, name) in [(Contains::Egg, "egg"), (Contains::Fish, "fish")] {
                if dish.contains.contains(&food) && !allergens.iter().any(|own| own == name) {
                    allergens.push(name.to_owned());
                }
            }
            (
                id.clone(),
                DishLabel {
                    name: dish.name.clone(),
                    course,
                    allergens,
                    contents: Contents::of(dish),
                    suits: menu.diets.iter().map(|diet| suits(dish, &diet.name)).collect(),
                    baked: baked(dish),
                    scaled: None,
                },
            )
        });
        Finished { courses, dishes: dishes.collect(), labels: self.ids.iter().cloned().zip(names).collect() }
    }
}

/// Whether baking is all the heat a dish gets.
fn baked(dish: &crate::menu::Dish) -> bool {
    let mut hot = dish.steps.iter().filter(|step| warms(step) == Warmth::Through).peekable();
    hot.peek().is_some() && hot.all(|step| step.kind == Kind::Bake)
}
