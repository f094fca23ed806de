//! Menus and kitchens written in Rust, word for word as in their files.
//!
//! What is built here is the text of a menu, so that every field of [the language](crate::read), every default and every
//! fault is the same: [`with`](Record::with) takes any field by its name, and what is wrong is said by the reader.
//!
//! ```
//! use rangewright_models::compile;
//! use rangewright_models::menu::Kind::{Prep, Rest, Roast};
//! use rangewright_models::write::{burners, dish, kitchen, menu, oven, step};
//!
//! let shed = kitchen("The shed", [oven("oven", "44 x 38 x 32 cm"), burners("burner", 2)]);
//! let celeriac = dish("Baked celeriac", [
//!     step(Prep, "Scrub the celeriac", "10 min"),
//!     step(Roast, "Roast it", "90 min").with("at", "180 C").with("pan", "30 x 25 x 14 cm"),
//!     step(Rest, "Let it stand, covered", "5 to 25 min"),
//! ]);
//! let supper = menu("Supper", shed, [celeriac]).with("date", "2026-11-08").with("zone", "Europe/London").with("serve", "19:00");
//! let compiled = compile::feast(&supper.to_string(), "supper", |_| Err("it stands in the menu".to_owned()))?;
//! assert_eq!(compiled.labels.steps["baked-celeriac/prep"].title, "Scrub the celeriac");
//! # Ok::<(), rangewright_models::faults::Faults>(())
//! ```
//!
//! The other way, [`of_feast`] makes such a record of a [`Feast`](crate::feast::Feast), so that a menu that was read, changed or
//! built in code can be kept as a file. What is read of it is the same feast, wherever it is written.

mod feast;
mod said;
mod step;
mod text;

use crate::menu::Kind;

pub use feast::{of_dish, of_feast, of_kitchen, of_menu};

/// A record of the language: `Roast(do: "Roast it", takes: "90 min")`. Shown, it is that text on one line; with the form `{:#}`
/// long ones are broken over lines, and [`json`](Record::json) is the same as JSON.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    name: String,
    /// Its name says which of several it is: an oven or a hob, a roast or a rest.
    is_one_of: bool,
    fields: Vec<(String, Value)>,
}

/// What stands in a field: made [from](From) a text, a number, a truth, a record, a list, or pairs of names and amounts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Value(Form);

#[derive(Clone, Debug, PartialEq, Eq)]
enum Form {
    Text(String),
    Number(i64),
    Truth(bool),
    Record(Box<Record>),
    List(Vec<Value>),
    Pairs(Vec<(String, Value)>),
}

impl Record {
    /// A record without fields: `Grill`, `Way`, `Touch` and whatever else has no function here.
    pub fn new(name: &str) -> Record {
        Record { name: name.to_owned(), is_one_of: !ONLY.contains(&name), fields: Vec::new() }
    }

    /// The same with one field more. A field that is said twice is a fault, as in a file.
    #[must_use]
    pub fn with(mut self, field: &str, value: impl Into<Value>) -> Record {
        self.fields.push((field.to_owned(), value.into()));
        self
    }

    /// The same with one field more, if there is something to say.
    fn and(self, field: &str, value: Option<impl Into<Value>>) -> Record {
        match value {
            Some(value) => self.with(field, value),
            None => self,
        }
    }

    /// The same with one field more, if the list has anything in it.
    fn and_all<V: Into<Value>>(self, field: &str, values: Vec<V>) -> Record {
        if values.is_empty() { self } else { self.with(field, values) }
    }

    /// The same with one field more that is true, if it is.
    fn and_if(self, field: &str, truth: bool) -> Record {
        if truth { self.with(field, true) } else { self }
    }
}

/// Records that stand only where no other can: in JSON their names need not be said.
const ONLY: [&str; 13] =
    ["Menu", "Kitchen", "Dish", "Course", "Pan", "Cook", "Tie", "Past", "Touch", "Hot", "Part", "Way", "Group"];

/// A menu of dishes. It still needs `date`, `zone` and `serve` (or `courses`).
pub fn menu(name: &str, kitchen: Record, dishes: impl IntoIterator<Item = Record>) -> Record {
    Record::new("Menu").with("name", name).with("kitchen", kitchen).with("dishes", list(dishes))
}

/// A kitchen of ovens, burners and their like.
pub fn kitchen(name: &str, places: impl IntoIterator<Item = Record>) -> Record {
    Record::new("Kitchen").with("name", name).with("places", list(places))
}

/// An oven, by its usable inside: `"46 x 40 x 36 cm"`.
pub fn oven(name: &str, inside: &str) -> Record {
    Record::new("Oven").with("name", name).with("inside", inside)
}

/// So many equal burners.
pub fn burners(name: &str, count: i64) -> Record {
    Record::new("Burners").with("name", name).with("count", count)
}

/// A course, by its hour: `"19:30"`.
pub fn course(name: &str, serve: &str) -> Record {
    Record::new("Course").with("name", name).with("serve", serve)
}

/// A dish, by its steps in their order.
pub fn dish(name: &str, steps: impl IntoIterator<Item = Record>) -> Record {
    Record::new("Dish").with("name", name).with("steps", list(steps))
}

/// A step: what is done, in a cook's words, and how long it takes: `"90 min"`, `"5 to 25 min"`.
pub fn step(kind: Kind, what: &str, takes: &str) -> Record {
    let step = Record::new(&name_of(&kind)).with("do", what).with("takes", takes);
    if let Kind::Other(word) = kind { step.with("kind", word.as_str()) } else { step }
}

/// What a record of a kind of step is called: `StirFry`.
fn name_of(kind: &Kind) -> String {
    let word = match kind {
        Kind::Other(_) => "step",
        named => named.word(),
    };
    let capital = |part: &str| {
        let mut letters = part.chars();
        letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect::<String>()
    };
    word.split('-').map(capital).collect()
}

fn list(items: impl IntoIterator<Item = Record>) -> Vec<Record> {
    items.into_iter().collect()
}

impl From<&str> for Value {
    fn from(text: &str) -> Value {
        Value(Form::Text(text.to_owned()))
    }
}

impl From<String> for Value {
    fn from(text: String) -> Value {
        Value(Form::Text(text))
    }
}

impl From<i64> for Value {
    fn from(number: i64) -> Value {
        Value(Form::Number(number))
    }
}

impl From<bool> for Value {
    fn from(truth: bool) -> Value {
        Value(Form::Truth(truth))
    }
}

impl From<Record> for Value {
    fn from(record: Record) -> Value {
        Value(Form::Record(Box::new(record)))
    }
}

impl<T: Into<Value>> From<Vec<T>> for Value {
    fn from(items: Vec<T>) -> Value {
        Value(Form::List(items.into_iter().map(Into::into).collect()))
    }
}

impl<T: Into<Value>, const N: usize> From<[T; N]> for Value {
    fn from(items: [T; N]) -> Value {
        Value::from(Vec::from(items))
    }
}

impl<T: Into<Value>, const N: usize> From<[(&str, T); N]> for Value {
    fn from(pairs: [(&str, T); N]) -> Value {
        Value(Form::Pairs(pairs.into_iter().map(|(name, value)| (name.to_owned(), value.into())).collect()))
    }
}

#[cfg(test)]
mod tests;

#[cfg(test)]
mod built {
    use super::*;
    use crate::menu::Kind::{Carve, Prep, Rest, Roast, Simmer};
    use crate::{compile, examples};

    /// The smallest menu, built in Rust, is the problem of its file.
    #[test]
    fn what_is_built_is_what_the_file_says() {
        let shed = kitchen("The shed", [oven("oven", "44 x 38 x 32 cm"), burners("burner", 2)]);
        let celeriac = [
            step(Prep, "Scrub the celeriac, rub it with oil and salt", "10 min"),
            step(Roast, "Roast the baked celeriac", "90 min")
                .with("at", "180 C")
                .with("pan", "30 x 25 x 14 cm")
                .with("look", "a skewer slides in"),
            step(Rest, "Let it stand, covered", "5 to 25 min"),
            step(Carve, "Cut it in wedges", "4 min"),
        ];
        let lentils = [step(Prep, "Slice the leeks", "10 min"), step(Simmer, "Simmer lentils and leeks", "35 min")];
        let built =
            menu("Supper in the shed", shed, [dish("Baked celeriac", celeriac), dish("Lentils with leeks", lentils)])
                .with("guests", 4)
                .with("date", "2026-11-08")
                .with("zone", "Europe/London")
                .with("serve", "19:00");
        let built = compile::feast(&built.to_string(), "built", |_| Err("none".to_owned())).unwrap();
        let file = examples::ALL[1];
        let written = compile::feast(file.menu, file.menu_name, |name| file.kitchen_text(name)).unwrap();
        assert_eq!(built.problem, written.problem);
        assert_eq!(built.labels, written.labels);
    }

    /// Whatever is in a text, it comes back as it was; pairs, truths and lists are what the language has.
    #[test]
    fn texts_and_pairs_are_read_back() {
        let odd = "a \"quoted\" \\ back\nslash (Roast): {x}, [y] // 香";
        let record = step(Kind::Other("smoke".to_owned()), odd, "1 h")
            .with("uses", [("smoker", 1)])
            .with("after", Vec::<&str>::new());
        let kitchen = kitchen("Yard", [burners("ring", 1)]).with("pools", [("smoker", 1)]);
        let menu = menu("Smoke", kitchen, [dish("Trout", [record])])
            .with("date", "2026-11-08")
            .with("zone", "UTC")
            .with("serve", "19:00");
        let compiled = compile::feast(&menu.to_string(), "built", |_| Err("none".to_owned())).unwrap();
        assert_eq!(compiled.labels.steps["trout/smoke"].title, odd);
        assert_eq!(compiled.problem.steps[0].modes[0].pools["smoker"], 1);
    }

    /// What is wrong is said as in a file, all of it.
    #[test]
    fn faults_are_those_of_the_reader() {
        let menu = menu("Odd", kitchen("Yard", [burners("ring", 1).with("dials", 3)]), [])
            .with("date", "8 November")
            .with("zone", "UTC")
            .with("serve", "19:00");
        let faults = compile::feast(&menu.to_string(), "built", |_| Err("none".to_owned())).unwrap_err();
        assert!(faults.to_string().contains("dials") && faults.to_string().contains("8 November"), "{faults}");
    }
}
