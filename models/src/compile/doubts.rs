//! What can be planned as it is written, but is hardly meant: a slip of the pen that no rule refuses.

use std::collections::BTreeMap;

use super::Compiled;
use super::found::Found;
use super::portions;
use crate::faults::{Code, Fault, Faults};
use crate::feast::Feast;
use crate::kitchen::{ApplianceKind, PanSize};
use crate::larder::{Contents, Food, eaters};
use crate::menu::{Dish, Kind, Measure, Step};
use crate::problem::{Minute, Problem};
use crate::units::{Scale, spoken_minutes};

/// Raw meat as bought for each who eats of it, g: less is a taste, more is a mistake (common practice, no source).
const MEAT_EACH: [i64; 2] = [60, 1_500];
/// A weight in a roast and the same in its shopping may differ by this part.
const APART: f64 = 1.5;
/// No side of an oven's inside is longer, mm: the largest of bakeries roll in racks two metres high (from memory).
const OVEN_SIDE: i64 = 2_200;
/// No oven holds more, litres (our assumption: a small car).
const OVEN_LITRES: i64 = 3_000;
/// No pan is longer, mm.
const PAN_SIDE: i64 = 1_200;
/// A roast or a bake of no meat is hotter than this, degrees C; only meringues and what dries are not (common practice).
const COOL: i64 = 125;

/// Everything in a feast that is hardly meant as it is written. None of it is a fault: the feast is planned all the same.
///
/// ```
/// use rangewright_models::{compile, read};
///
/// let menu = r#"(name: "Roots", kitchen: (places: [Oven("oven", "46 x 40 x 36 cm")]), date: "2026-11-08", zone: "Europe/London",
///     serve: "19:00", dishes: [Dish("Potatoes", [Roast(at: "220 F", takes: "45 min", pan: "40 x 30 x 5 cm")])])"#;
/// let feast = read::feast(menu, "menu", |_| Err("none".to_owned()))?;
/// let doubts = compile::doubts(&feast, &compile::compile(&feast)?);
/// assert!(doubts[0].cause.contains("220 F"), "{}", doubts[0]);
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn doubts(feast: &Feast, compiled: &Compiled) -> Vec<Fault> {
    let mut found = Found::new(&feast.sources);
    portions::misfits(feast, &mut found);
    let feast = &portions::as_made(feast);
    sizes(feast, &mut found);
    hours(feast, &mut found);
    for dish in &feast.menu.dishes {
        let contents = Contents::of(dish);
        for step in &dish.steps {
            weight(feast, dish, step, &mut found);
            cool(dish, step, &contents, &mut found);
            allowed(dish, step, compiled, &mut found);
        }
    }
    too_long(feast, compiled, &mut found);
    Faults::sorted(found.faults).0
}

/// An oven bigger than a car, a pan bigger than an oven.
fn sizes(feast: &Feast, found: &mut Found<'_>) {
    for place in &feast.kitchen.places {
        let ApplianceKind::Cavity(spec) = &place.kind else { continue };
        let litres = spec.inside.iter().map(|&side| side as f64 / 100.0).product::<f64>();
        if spec.inside.iter().any(|&side| side > OVEN_SIDE) || litres > OVEN_LITRES as f64 {
            let sides = spec.inside.map(|side| feast.menu.units.length(side)).join(" x ");
            let cause = format!("{} is {sides} inside, larger than any oven of a kitchen", place.name);
            found.field(Code::LargerThanLife, place.origin, "inside", cause, "is it in mm or cm?");
        }
    }
    for pan in &feast.kitchen.pans {
        let longest = match pan.size {
            PanSize::Box([width, depth, _]) => width.max(depth),
            PanSize::Round(across, _) => across,
        };
        if longest > PAN_SIDE {
            let cause = format!("{} is {} long", pan.name, feast.menu.units.length(longest));
            found.field(Code::LargerThanLife, pan.origin, "size", cause, "is it in mm or cm?");
        }
    }
}

/// Courses that are written after others, and served before them.
fn hours(feast: &Feast, found: &mut Found<'_>) {
    for pair in feast.menu.courses.windows(2) {
        let (before, course) = (&pair[0], &pair[1]);
        if course.serve < before.serve && course.follows.is_none() {
            let cause = format!(
                "{:?} stands after {:?} in the menu, and is served before it ({}, {})",
                course.name, before.name, course.serve, before.serve
            );
            let remedy = "write the courses in the order of serving; is one of the times meant for the evening?";
            found.field(Code::Backwards, course.origin, "serve", cause, remedy);
        }
    }
}

/// A roast against those who eat it and against what is bought for it.
fn weight(feast: &Feast, dish: &Dish, step: &Step, found: &mut Found<'_>) {
    let Some(joint) = &step.joint else { return };
    let Some(weight) = joint.piece.weight.map(|each| each.saturating_mul(step.pans.unwrap_or(1))) else { return };
    let units = feast.menu.units;
    let guests = eaters(&feast.menu, dish).0.max(1);
    let each = weight / guests;
    if !(MEAT_EACH[0]..=MEAT_EACH[1]).contains(&each) {
        let cause = format!("{} for {guests} guests is {} each", units.weight(weight), units.weight(each.max(1)));
        let remedy = "correct the weight or the number of guests; without a weight the roast is sized for them";
        found.field(Code::OddPortion, step.origin, "weight", cause, remedy);
    }
    let meat = |what: &str| {
        let bought = Contents::of(&Dish::new(what, Vec::new()));
        bought.any(|food| food.is_flesh() && food != Food::Fish)
    };
    for buy in dish.buys.iter().filter(|buy| buy.amount.measure == Measure::Grams && meat(&buy.what)) {
        let (eaters, children) = eaters(&feast.menu, dish);
        let bought = buy.amount.at_table(eaters, children) / 100;
        let (less, more) = (bought.min(weight) as f64, bought.max(weight) as f64);
        if more > less * APART {
            let cause = format!(
                "{} of {} are bought, and the roast weighs {}",
                units.weight(bought),
                buy.what,
                units.weight(weight)
            );
            found.field(Code::OddPortion, step.origin, "weight", cause, "let the two agree");
        }
    }
}

/// Minutes that a cook allows for a roast, and that the model finds at no temperature: as long as its least, or as short as its
/// most. The sheet says by how much at which temperature.
fn allowed(dish: &Dish, step: &Step, compiled: &Compiled, found: &mut Found<'_>) {
    let Some(allow) = step.joint.as_ref().and_then(|joint| joint.allow) else { return };
    let own = crate::menu::slug(&dish.name);
    let stages = compiled.problem.steps.iter().filter(|stage| stage.dish == own);
    let spreads: Vec<[Minute; 2]> =
        stages.flat_map(|stage| &stage.modes).filter(|mode| mode.min == allow).filter_map(|mode| mode.spread).collect();
    let all = |side: usize| !spreads.is_empty() && spreads.iter().all(|spread| spread[side] == 0);
    let least = |side: usize| spreads.iter().map(|spread| spread[side]).min().unwrap_or(0);
    let why = if all(0) {
        let late = spoken_minutes(allow + least(1));
        format!("too little: it may take {late}, and is hardly done so soon at any temperature")
    } else if all(1) {
        let early = spoken_minutes(allow - least(0));
        format!("too much: it may be done after {early}, and is hardly ever so late at any temperature")
    } else {
        return;
    };
    let cause = format!("{} are allowed for {}, by the model {why}", spoken_minutes(allow), dish.name);
    found.field(
        Code::OddMinutes,
        step.origin,
        "allow",
        cause,
        "leave allow out, or trust the thermometer and not the clock",
    );
}

/// `at: "220 F"` for potatoes.
fn cool(dish: &Dish, step: &Step, contents: &Contents, found: &mut Found<'_>) {
    let kinds = matches!(step.kind, Kind::Roast | Kind::Bake) && step.joint.is_none();
    if !kinds || contents.any(Food::is_animal) {
        return;
    }
    for way in std::iter::once(&step.way).chain(&step.ways) {
        let Some(asked) = way.asked.filter(|asked| asked.whole() < COOL) else { continue };
        let meant = match asked.scale() {
            Scale::Fahrenheit => {
                let number = (asked.celsius() * 9.0 / 5.0 + 32.0).round();
                format!("is {number} C meant?")
            }
            _ => "nothing browns in so cool an oven: is that meant?".to_owned(),
        };
        let cause = format!("{} in an oven at {asked}, which is {} C", dish.name, asked.whole());
        found.field(Code::OddHeat, way.origin, "at", cause, meant);
    }
}

/// A dish that cannot be ready in time even if nothing else is cooked.
fn too_long(feast: &Feast, compiled: &Compiled, found: &mut Found<'_>) {
    let ends = earliest(&compiled.problem);
    let calendar = &compiled.labels.calendar;
    for course in &compiled.problem.courses {
        for sink in &course.sinks {
            let Some(&end) = ends.get(sink.step.as_str()).filter(|&&end| end > course.serve) else { continue };
            let Some(label) = compiled.labels.steps.get(&sink.step) else { continue };
            let dish = feast.menu.dishes.iter().find(|dish| crate::menu::slug(&dish.name) == label.dish);
            let (name, origin) = dish.map_or((label.dish.as_str(), Default::default()), |own| (&own.name, own.origin));
            let cause = format!(
                "{name} cannot be ready before {}, {} after it is served, even if nothing else is cooked",
                calendar.civil(end).strftime("%H:%M on %-d %B"),
                spoken_minutes(end - course.serve)
            );
            let remedy = "serve later, let a cook come earlier, or do a part of it the day before";
            found.add(Code::OutOfTime, origin, cause, remedy);
        }
    }
}

/// The first minute at which each step can be done, by the links and the least minutes alone.
fn earliest(problem: &Problem) -> BTreeMap<&str, Minute> {
    let least = |modes: &[crate::problem::Mode]| modes.iter().map(|mode| mode.min).min().unwrap_or(0);
    let mut ends: BTreeMap<&str, Minute> = BTreeMap::new();
    // Links lead forward: after as many rounds as there are steps nothing moves any more.
    for _ in 0..=problem.steps.len() {
        let mut moved = false;
        for step in &problem.steps {
            let before = problem.links.iter().filter(|link| link.to == step.id);
            let ready = before.filter_map(|link| Some(ends.get(link.from.as_str())? + link.min)).max();
            let start = ready.unwrap_or(problem.opening).max(problem.opening).max(step.earliest.unwrap_or(0));
            let end = start + least(&step.modes);
            moved |= ends.insert(&step.id, end) != Some(end);
        }
        if !moved {
            break;
        }
    }
    ends
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{compile::compile, examples, read};

    fn of(menu: &str) -> Vec<Code> {
        let head = r#"name: "Supper", guests: 8, date: "2026-11-08", zone: "Europe/London""#;
        let feast = read::feast(&format!("Menu({head}, {menu})"), "menu", |_| Err("it stands in the menu".to_owned()));
        let feast = feast.unwrap_or_else(|faults| panic!("{faults}"));
        let compiled = compile(&feast).unwrap_or_else(|faults| panic!("{faults}"));
        doubts(&feast, &compiled).into_iter().map(|doubt| doubt.code).collect()
    }

    fn supper(oven: &str, cooks: &str, dish: &str) -> Vec<Code> {
        of(&format!(
            r#"serve: "19:00", kitchen: Kitchen(places: [Oven("oven", "{oven}")]), cooks: [{cooks}], dishes: [{dish}]"#
        ))
    }

    const OVEN: &str = "46 x 40 x 36 cm";
    const ROOTS: &str = r#"Dish("Roots", [Roast(at: "200 C", takes: "40 min", pan: "36 x 28 x 6 cm")])"#;

    #[test]
    fn what_is_meant_is_not_doubted() {
        assert_eq!(supper(OVEN, "", ROOTS), []);
        for example in examples::ALL {
            let feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name)).unwrap();
            let found: Vec<String> = doubts(&feast, &compile(&feast).unwrap()).iter().map(Fault::to_string).collect();
            assert_eq!(found, [""; 0], "{}", example.name);
        }
    }

    #[test]
    fn slips_of_the_pen_are_doubted() {
        assert_eq!(supper("460 x 400 x 360 cm", "", ROOTS), [Code::LargerThanLife]);
        assert_eq!(supper(OVEN, "", &ROOTS.replace("200 C", "220 F")), [Code::OddHeat]);
        let meringue = r#"Dish("Meringue", [Bake(at: "100 C", takes: "90 min", pan: "36 x 28 x 3 cm")])"#;
        assert_eq!(supper(OVEN, "", meringue), [], "eggs are dried on purpose");
        let late = r#"Cook("Ada", ["18:40 to 22:00"])"#;
        assert_eq!(supper(OVEN, late, ROOTS), [Code::OutOfTime]);
        let joint = |weight| {
            format!(
                r#"Dish(name: "Loin", buys: {{"pork loin": "2.4 kg"}}, steps: [Joint(meat: pork, cut: loin, weight: "{weight}", to: "66 C", accepts: "160 C", pan: "40 x 30 x 12 cm")])"#
            )
        };
        assert_eq!(supper(OVEN, "", &joint("2.4 kg")), []);
        assert_eq!(supper(OVEN, "", &joint("1.2 kg")), [Code::OddPortion], "half of what is bought");
        let allowed = |minutes: &str| {
            supper(OVEN, "", &joint("2.4 kg").replace("to: \"66 C\"", &format!("to: \"66 C\", allow: \"{minutes}\"")))
        };
        assert_eq!(allowed("75 min"), []);
        assert_eq!([allowed("30 min"), allowed("4 h")], [[Code::OddMinutes], [Code::OddMinutes]]);
        let courses = r#"courses: [Course("main", "19:00"), Course("sweet", "9:00")]"#;
        let kitchen = r#"kitchen: Kitchen(places: [Oven("oven", "46 x 40 x 36 cm")]), opens: "6:00", cooks: [Cook("Ada", ["6:00 to 22:00"])]"#;
        let dishes = format!(
            r#"dishes: [{}, Dish(name: "Pears", course: "sweet", steps: [Prep("Slice", "5 min")])]"#,
            ROOTS.replace(r#"Dish("Roots", ["#, r#"Dish(name: "Roots", course: "main", steps: ["#)
        );
        assert_eq!(of(&format!("{courses}, {kitchen}, {dishes}")), [Code::Backwards]);
    }
}
