//! The published schema of each kind of file says what the reader reads: every field, no other, and the same of every example.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use jsonschema::{Resource, Validator};
use rangewright::models::faults::Code;
use rangewright::models::{compile, day, examples, read};
use serde_json::{Map, Value, json};

fn schema(name: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../models/schema").join(format!("{name}.schema.json"));
    serde_json::from_str(&fs::read_to_string(path).expect("a schema")).expect("JSON")
}

fn validator(name: &str) -> Validator {
    let mut options = jsonschema::options();
    for other in ["menu", "kitchen", "dish", "log"] {
        let other = schema(other);
        jsonschema::meta::validate(&other).expect("a schema of its draft");
        let id = other["$id"].as_str().expect("an id").to_owned();
        options = options.with_resource(id, Resource::from_contents(other));
    }
    options.build(&schema(name)).expect("a schema that compiles")
}

/// A menu in which a record of this sort has these fields and no other.
fn holding(sort: &str, fields: Value) -> Value {
    let mut menu = json!({
        "name": "Test", "kitchen": {"places": []}, "date": "2026-11-08", "zone": "UTC", "serve": "19:00", "dishes": []
    });
    let step = |step: Value| json!([{"Dish": {"name": "Dish", "steps": [step]}}]);
    let prep = |field: &str, value: Value| json!({"Prep": {"do": "x", "takes": "1 min", field: value}});
    match sort {
        "menu" => return fields,
        "kitchen" => menu["kitchen"] = json!({"Kitchen": fields}),
        "cavity" => menu["kitchen"]["places"] = json!([{"Oven": fields}]),
        "burners" => menu["kitchen"]["places"] = json!([{"Burners": fields}]),
        "top" => menu["kitchen"]["places"] = json!([{"Top": fields}]),
        "part" => menu["kitchen"]["places"] = json!([{"Top": {"name": "t", "parts": [{"Part": fields}]}}]),
        "pan" => menu["kitchen"]["pans"] = json!([{"Pan": fields}]),
        "past" => menu["kitchen"]["log"] = json!([{"Past": fields}]),
        "cook" => menu["cooks"] = json!([{"Cook": fields}]),
        "group" => menu["groups"] = json!([{"Group": fields}]),
        "course" => menu["courses"] = json!([{"Course": fields}]),
        "tie" => menu["ties"] = json!([{"Tie": fields}]),
        "dish" | "book" => menu["dishes"] = json!([{"Dish": fields}]),
        "step" => menu["dishes"] = step(json!({"Prep": fields})),
        "other" => menu["dishes"] = step(json!({"Step": fields})),
        "joint" => menu["dishes"] = step(json!({"Joint": fields})),
        "way" => menu["dishes"] = step(prep("ways", json!([{"Way": fields}]))),
        "touch" => menu["dishes"] = step(prep("touches", json!([{"Touch": fields}]))),
        "with" => menu["dishes"] = step(prep("with", json!([{"With": fields}]))),
        "wait" => menu["dishes"] = step(prep("keeps", json!({"Wait": fields}))),
        "hot" => menu["dishes"] = step(json!({"Joint": {"last": {"Hot": fields}}})),
        other => panic!("no menu holds a {other}"),
    }
    menu
}

/// The fields that the reader does not know in such a record, each with what it would know.
fn unknown(sort: &str, fields: Value) -> Vec<String> {
    let faults = read::feast(&holding(sort, fields).to_string(), "menu", |_| Err("none".to_owned())).err();
    let faults = faults.map_or_else(Vec::new, |faults| faults.0);
    faults.into_iter().filter(|fault| fault.code == Code::UnknownField).map(|fault| fault.remedy).collect()
}

/// Each record has the fields that the reader asks for, and no other.
#[test]
fn the_schema_has_the_fields_that_the_reader_reads() {
    let menu = schema("menu");
    let mut records = 0;
    for (key, def) in menu["$defs"].as_object().expect("definitions") {
        let Some(sort) = key.strip_suffix("_fields") else { continue };
        records += 1;
        let fields: BTreeSet<&str> =
            def["properties"].as_object().expect("fields").keys().map(String::as_str).collect();
        let named = |field: &str| {
            // Without these, reading ends before it comes to the rest.
            let mut record = match sort {
                "book" => json!({"dish": "x.dish.ron"}),
                "cavity" => json!({"name": "oven", "inside": "46 x 40 x 36 cm"}),
                "burners" => json!({"name": "ring"}),
                "top" => json!({"name": "top", "size": "60 x 40 cm"}),
                _ => json!({}),
            };
            record[field] = Value::Null;
            record
        };
        for field in fields.iter().filter(|field| (sort, **field) != ("book", "dish")) {
            assert_eq!(unknown(sort, named(field)), [""; 0], "{sort} has no field {field}");
        }
        let remedies = unknown(sort, named("qqqqqqqq"));
        let [remedy] = &remedies[..] else { panic!("{sort}: {remedies:?}") };
        let known: BTreeSet<&str> = remedy.split('"').skip(1).step_by(2).collect();
        assert!(known.is_subset(&fields), "{sort}: {:?}", known.difference(&fields));
        // No more than forty are told.
        assert!(known.len() >= 40 || known == fields, "{sort}: {:?}", fields.difference(&known));
    }
    assert!(records > 20, "{records}");
}

/// RON as our files have it, as the same data in JSON.
struct Ron<'t>(&'t str);

impl Ron<'_> {
    fn skip(&mut self) {
        loop {
            self.0 = self.0.trim_start();
            let Some(comment) = self.0.strip_prefix("//") else { return };
            self.0 = comment.split_once('\n').map_or("", |(_, rest)| rest);
        }
    }

    fn eat(&mut self, sign: char) -> bool {
        self.skip();
        let rest = self.0.strip_prefix(sign);
        self.0 = rest.unwrap_or(self.0);
        rest.is_some()
    }

    fn word(&mut self) -> String {
        self.skip();
        let end = self.0.find(|c: char| !(c.is_alphanumeric() || "_.-".contains(c))).unwrap_or(self.0.len());
        let (word, rest) = self.0.split_at(end);
        self.0 = rest;
        word.to_owned()
    }

    fn value(&mut self) -> Value {
        self.skip();
        if self.eat('"') {
            let (text, rest) = self.0.split_once('"').expect("the end of a text");
            self.0 = rest;
            return text.into();
        }
        if self.eat('[') {
            return self.many(']', |own| own.value()).into();
        }
        if self.eat('{') {
            return self.fields('}');
        }
        if self.0.starts_with('(') {
            return self.body();
        }
        let word = self.word();
        if self.0.starts_with('(') {
            return json!({word: self.body()});
        }
        // Bare words are those of the language, which are read in capitals or not.
        let word = if word.len() > 2 { word.to_lowercase() } else { word };
        word.parse::<i64>().map(Value::from).or_else(|_| word.parse::<bool>().map(Value::from)).unwrap_or(word.into())
    }

    /// What stands in round brackets: fields with names, or values without.
    fn body(&mut self) -> Value {
        self.eat('(');
        let before = self.0;
        self.skip();
        let named = !self.0.starts_with(['"', '[', '(', '{']) && {
            self.word();
            self.eat(':')
        };
        self.0 = before;
        if named { self.fields(')') } else { self.many(')', |own| own.value()).into() }
    }

    fn fields(&mut self, end: char) -> Value {
        let pairs = self.many(end, |own| {
            let key =
                if own.0.starts_with('"') { own.value().as_str().expect("a name").to_owned() } else { own.word() };
            assert!(own.eat(':'), "{key}");
            (key, own.value())
        });
        pairs.into_iter().collect::<Map<String, Value>>().into()
    }

    fn many<T>(&mut self, end: char, mut one: impl FnMut(&mut Self) -> T) -> Vec<T> {
        let mut all = Vec::new();
        while !self.eat(end) {
            all.push(one(self));
            self.eat(',');
        }
        all
    }
}

fn as_json(ron: &str) -> Value {
    Ron(ron).value()
}

/// Every value but one key of one object, which is called otherwise.
fn renamed(value: &Value) -> Vec<Value> {
    match value {
        Value::Object(fields) => fields
            .iter()
            .flat_map(|(key, inner)| {
                let mut rest = fields.clone();
                rest.remove(key);
                let put = |key: &str, new: Value| {
                    let mut fields = rest.clone();
                    fields.insert(key.to_owned(), new);
                    Value::Object(fields)
                };
                let mut all = vec![put("xq", inner.clone())];
                all.extend(renamed(inner).into_iter().map(|new| put(key, new)));
                all
            })
            .collect(),
        Value::Array(items) => {
            let put = |at: usize, new: Value| {
                let mut items = items.clone();
                items[at] = new;
                Value::Array(items)
            };
            items
                .iter()
                .enumerate()
                .flat_map(|(at, item)| renamed(item).into_iter().map(move |new| put(at, new)))
                .collect()
        }
        _ => Vec::new(),
    }
}

/// Every example as JSON is the same feast, and as the schema has it.
#[test]
fn every_example_keeps_to_the_schema_of_its_kind() {
    let [menus, kitchens, dishes] = ["menu", "kitchen", "dish"].map(validator);
    let holds = |validator: &Validator, value: &Value, name: &str| {
        let faults: Vec<String> =
            validator.iter_errors(value).map(|error| format!("{}: {error}", error.instance_path())).collect();
        assert_eq!(faults, [""; 0], "{name}");
    };
    for example in examples::ALL {
        let [menu, kitchen] = [example.menu, example.kitchen].map(as_json);
        holds(&menus, &menu, example.menu_name);
        holds(&kitchens, &kitchen, example.kitchen_name);
        for (name, text) in example.dishes {
            holds(&dishes, &as_json(text), name);
        }
        let compiled = |menu: &str, json: bool| {
            let file = |name: &str| {
                example.kitchen_text(name).map(|text| if json { as_json(&text).to_string() } else { text })
            };
            compile::feast(menu, example.menu_name, file).unwrap_or_else(|faults| panic!("{}: {faults}", example.name))
        };
        assert_eq!(
            compiled(&menu.to_string(), true).problem,
            compiled(example.menu, false).problem,
            "{}",
            example.name
        );
    }
}

/// Whatever single name in a file is another one, reader and schema agree whether it may be.
#[test]
fn reader_and_schema_refuse_the_same_names() {
    let menus = validator("menu");
    for name in ["porch", "thirty", "class"] {
        let example = examples::ALL.iter().find(|own| own.name == name).expect("it is shipped");
        let menu = as_json(example.menu);
        let all = renamed(&menu);
        assert!(all.len() > 20);
        for other in all {
            let read = read::feast(&other.to_string(), "menu", |name| example.kitchen_text(name));
            assert_eq!(read.is_ok(), menus.is_valid(&other), "{other}");
        }
    }
}

/// Every event, with all that it may say, is a line of the log; with anything else it is none.
#[test]
fn the_schema_of_the_log_is_that_of_its_lines() {
    let lines = validator("log");
    let log = schema("log");
    let mut events = Vec::new();
    for one in log["oneOf"].as_array().expect("events") {
        let fields = one["properties"].as_object().expect("fields");
        let needed: Vec<&str> = one["required"].as_array().expect("names").iter().filter_map(Value::as_str).collect();
        let value = |field: &Value| match (&field["const"], field["type"].to_string().contains("integer")) {
            (Value::String(event), _) => json!(event),
            (_, true) => json!(3),
            _ => json!("x"),
        };
        let whole: Map<String, Value> = fields.iter().map(|(key, field)| (key.clone(), value(field))).collect();
        events.push(whole["event"].as_str().unwrap_or_default().to_owned());
        let reads = |line: &Map<String, Value>| {
            let line = Value::Object(line.clone());
            let read = day::read(line.to_string().as_bytes()).is_ok();
            assert_eq!(read, lines.is_valid(&line), "{line}");
            read
        };
        assert!(reads(&whole));
        for field in fields.keys() {
            let mut less = whole.clone();
            less.remove(field);
            assert_eq!(reads(&less), !needed.contains(&field.as_str()), "{field}");
        }
        let mut more = whole.clone();
        more.insert("xq".to_owned(), json!(1));
        assert!(!reads(&more) || fields.len() == 2, "{more:?}");
    }
    let why = day::read(br#"{"at": 1, "event": "toppled"}"#).expect_err("no event").remove(0).why;
    let known: Vec<&str> = why.split_once("one of ").expect("a list").1.split(", ").collect();
    assert_eq!(events, known);
}
