//! Demands and changes of a problem in a cook's words.

use rangewright::change::Change;
use rangewright::models::kitchen::PanSize;
use rangewright::models::problem::{Place, Problem};
use rangewright::models::units::Units;
use rangewright::why::Fact;

use crate::evening::marks::job;
use crate::plain::TIED;
use crate::words::{Words, capital, count, minutes};

/// The demands that take part in a "no", the dishes in one sentence.
pub(super) fn sentences(problem: &Problem, words: &Words, facts: &[Fact]) -> Vec<String> {
    let dish = |fact: &Fact| match fact {
        Fact::Dish { dish } => Some(words.dish(dish).to_owned()),
        _ => None,
    };
    let dishes: Vec<String> = facts.iter().filter_map(dish).collect();
    let menu = (!dishes.is_empty()).then(|| format!("On the menu: {}", dishes.join(", ")));
    let others = facts.iter().filter(|fact| dish(fact).is_none());
    let wishes = |own: &Fact| wishes(problem, words, facts, own);
    menu.into_iter().chain(others.map(|own| fact(problem, words, own) + &wishes(own))).collect()
}

/// What the dishes that take part want of a place: `: Roast roots 215 to 225 C, Meringue shell 95 to 105 C`.
fn wishes(problem: &Problem, words: &Words, facts: &[Fact], own: &Fact) -> String {
    let (Fact::Temperature { place } | Fact::Room { place }) = own else { return String::new() };
    let mut wishes: Vec<String> = Vec::new();
    for step in &problem.steps {
        let there = || step.modes.iter().filter(|mode| mode.place.as_deref() == Some(place));
        if !facts.contains(&Fact::Dish { dish: step.dish.clone() }) {
            continue;
        }
        let wish = match own {
            Fact::Temperature { .. } => {
                let windows = there().filter_map(|mode| mode.t);
                windows.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]).map(|window| words.range(window))
            }
            _ => there()
                .find_map(|mode| mode.pan)
                .map(|pan| PanSize::Box(pan).said(words.labels.units).replace(' ', TIED)),
        };
        wishes.extend(wish.map(|wish| format!("{} {wish}", words.dish(&step.dish))));
    }
    if wishes.is_empty() { String::new() } else { format!(": {}", wishes.join(", ")) }
}

fn fact(problem: &Problem, words: &Words, fact: &Fact) -> String {
    let step = |step: &str| format!("\"{}\"", job(words, step));
    let place = |place: &str| words.place(place).to_owned();
    let course_named = |course: &str| format!("\"{}\"", words.course(course));
    let text = match fact {
        Fact::Dish { dish } => format!("{} is on the menu", words.dish(dish)),
        Fact::Serving { course } => {
            let last = problem.courses.iter().find(|own| own.id == *course).map(|own| own.serve + own.max_slip);
            let by = last.map_or(String::new(), |last| format!(" by {}", words.clock(last)));
            format!("{} must be served{by}", course_named(course))
        }
        Fact::Together { course } => {
            let together = problem.courses.iter().find(|own| own.id == *course).map_or(0, |own| own.together);
            format!("the dishes of {} must be done within {} of each other", course_named(course), minutes(together))
        }
        Fact::Following { course } => {
            format!("{} must follow the course before it within the time the menu allows", course_named(course))
        }
        Fact::Opening => format!("nothing can start before {}", words.clock(problem.opening)),
        Fact::Earliest { step: id } => format!("{} cannot start before its earliest time", step(id)),
        Fact::Latest { step: id } => format!("{} must be done by its latest time", step(id)),
        Fact::Keeping { step: id } => format!("{} cannot go on longer than the menu allows", step(id)),
        Fact::Gap { from, to } => format!("after {}, {} cannot wait longer than the menu allows", step(from), step(to)),
        Fact::Hands { from, to } => {
            let shifts = || problem.shifts.iter().filter(|shift| shift.start < *to && *from < shift.end);
            let hands = shifts().map(|shift| shift.hands).max().unwrap_or(0);
            let named = problem.cooks.len();
            let who = match hands {
                0 if named > 0 => {
                    format!("are only {}, each with work of their own", self::count(named, "cook", "cooks"))
                }
                0 => "are no hands".to_owned(),
                1 => "is only one pair of hands".to_owned(),
                _ => format!("are only {hands} pairs of hands"),
            };
            // The whole day needs no times.
            let whole = shifts().count() == problem.shifts.len();
            let when =
                if whole { String::new() } else { format!(" from {} to {}", words.clock(*from), words.clock(*to)) };
            format!("there {who}{when}")
        }
        Fact::Pool { pool } => {
            let amount = problem.pools.get(pool).copied().unwrap_or(0);
            format!("there is only this much: {} ({amount})", words.pool(pool))
        }
        Fact::Burners { place: id } => {
            let count = problem.places.iter().find_map(|own| match own {
                Place::Hob(hob) if hob.id == *id => Some(hob.count),
                _ => None,
            });
            let count = usize::try_from(count.unwrap_or(0)).unwrap_or(0);
            format!("{} has only {}", place(id), self::count(count, "burner", "burners"))
        }
        Fact::Room { place: id } => format!("{} has limited room", place(id)),
        Fact::Weight { place: id } => format!("{} carries a limited weight", place(id)),
        Fact::Temperature { place: id } => format!("{} has one temperature at a time", place(id)),
        Fact::Changeover { place: id } => format!("{} takes time to change its temperature", place(id)),
        Fact::Heat { place: id } => {
            format!("{} heats in one way at a time, and only in the ways it has", place(id))
        }
        Fact::Moisture { place: id } => {
            format!("in {} moist air from one dish would spoil another that must stay dry", place(id))
        }
        Fact::Shut { step: id } => format!("the door must stay shut after {} goes in", step(id)),
        other => other.to_string(),
    };
    capital(&text)
}

/// A change that would turn a "no" into a "yes".
pub(super) fn change(words: &Words, change: &Change) -> String {
    let step = |step: &str| format!("\"{}\"", job(words, step));
    let place = |place: &str| words.place(place).to_owned();
    let course_named = |course: &str| format!("\"{}\"", words.course(course));
    match change {
        Change::KeepLonger { step: id, minutes: more } => format!("let {} go on {} longer", step(id), minutes(*more)),
        Change::WaitLonger { from, to, minutes: more } => {
            format!("let {} wait {} longer after {}", step(to), minutes(*more), step(from))
        }
        Change::ServeLater { course, minutes: more } => {
            format!("serve {} up to {} later", course_named(course), minutes(*more))
        }
        Change::SpreadOut { course, minutes: more } => {
            format!("let the dishes of {} be done {} further apart", course_named(course), minutes(*more))
        }
        Change::PauseLonger { course, minutes: more } => {
            format!("let the pause before {} be {} longer", course_named(course), minutes(*more))
        }
        Change::AcceptDegrees { step: id, degrees } => {
            format!("accept {} more or less for {}", words.difference(*degrees), step(id))
        }
        Change::StartEarlier { step: id, minutes: more } => {
            format!("let {} start {} earlier", step(id), minutes(*more))
        }
        Change::EndLater { step: id, minutes: more } => format!("let {} end {} later", step(id), minutes(*more)),
        Change::SmallerPan { step: id, millimetres } => {
            let smaller = match words.labels.units {
                Units::Customary => words.length(*millimetres),
                Units::Metric | Units::Gas => format!("{millimetres} mm"),
            };
            format!("use a pan {smaller} smaller on every side for {}", step(id))
        }
        Change::Cover { step: id } => format!("cover the pan of {}, so that it gives off no moist air", step(id)),
        Change::OpenEarlier { minutes: more } => format!("begin {} earlier", minutes(*more)),
        Change::DayBefore { minutes: more } => format!("work {} the day before", minutes(*more)),
        Change::MoreOf { pool, amount } => {
            format!("find {amount} more of this: {}", words.pool(pool))
        }
        Change::MoreBurners { place: id, count: more } => {
            format!("use {} like those of {}", number(*more, "one more burner", "more burners"), place(id))
        }
        Change::MoreRacks { place: id, count: more } => {
            format!("put {} into {}", number(*more, "one more rack", "more racks"), place(id))
        }
        Change::MoreHands { hands: 1 } => "find one more pair of hands".to_owned(),
        Change::MoreHands { hands } => format!("find {hands} more pairs of hands"),
        Change::Second { place: id } => format!("use a second {}", place(id)),
        Change::Drawer => "use a warming drawer".to_owned(),
        Change::Ahead { dish, .. } => format!("do the cold work of {} the day before", words.dish(dish)),
        Change::DropDish { dish } => {
            format!("leave {} off the menu, or make something else in its place", words.dish(dish))
        }
        other => other.to_string(),
    }
}

fn number(more: i64, one: &str, several: &str) -> String {
    if more == 1 { one.to_owned() } else { format!("{more} {several}") }
}
