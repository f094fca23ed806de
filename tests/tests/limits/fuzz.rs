//! Every public door, with what nobody would hand in: menus, problems, plans and logs with parts left out, doubled, and put
//! to extremes. A fixed seed, so that what it finds is found again; `RANGEWRIGHT_FUZZ=100000` goes on for longer. Overflow is
//! checked in tests, so that a number that wraps is a panic here.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicUsize, Ordering};

use rangewright::ask::{can_share_anywhere, how_soon, why_this_way};
use rangewright::change::{changed, usual_changes};
use rangewright::models::check::{check, cost, form};
use rangewright::models::compile::compile;
use rangewright::models::day;
use rangewright::models::examples;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::read;
use rangewright::models::schedule::{Crew, schedule};
use rangewright::odds::{Dice as Evenings, odds, ranges};
use rangewright::why::why_not;
use rangewright::{Limits, Outcome, calm::calm, slack::slack, solve};
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};
use rangewright_tests::data;
use serde_json::Value;

use super::menus::{Dice, menu};

fn calls(short: u64) -> u64 {
    let long = std::env::var("RANGEWRIGHT_FUZZ").ok().and_then(|calls| calls.parse().ok());
    long.unwrap_or(short)
}

const NUMBERS: [i64; 14] =
    [i64::MIN, i64::MIN + 1, -43_201, -1, 0, 1, 2, 59, 1_440, 43_199, 43_200, 43_201, i64::MAX - 1, i64::MAX];

const WORDS: [&str; 9] = ["", "d0", "oven", "\u{1b}[31m", "\u{202e}gpj", "a\rb\n", "0", "fan", "\u{0}"];

/// One small change of a value, anywhere in it.
fn change(value: &mut Value, dice: &mut Dice) {
    match value {
        Value::Array(items) if !items.is_empty() => {
            let at = dice.below(items.len());
            match dice.below(10) {
                0 => drop(items.remove(at)),
                1 => items.push(items[at].clone()),
                2 => {
                    let other = dice.below(items.len());
                    items.swap(at, other);
                }
                _ => change(&mut items[at], dice),
            }
        }
        Value::Object(fields) if !fields.is_empty() => {
            let names: Vec<String> = fields.keys().cloned().collect();
            let name = &names[dice.below(names.len())];
            match dice.below(14) {
                0 => drop(fields.remove(name)),
                1 => {
                    let taken = fields.remove(name).unwrap_or_default();
                    fields.insert(names[dice.below(names.len())].clone(), taken);
                }
                _ => change(&mut fields[name], dice),
            }
        }
        Value::Number(number) if dice.one_in(2) => {
            let near = number.as_i64().unwrap_or(0).saturating_add(dice.below(5) as i64 - 2);
            *value = near.into();
        }
        Value::Number(_) => *value = NUMBERS[dice.below(NUMBERS.len())].into(),
        Value::String(_) => *value = dice.pick(&WORDS).into(),
        other => {
            *other = match dice.below(4) {
                0 => Value::Null,
                1 => true.into(),
                2 => NUMBERS[dice.below(NUMBERS.len())].into(),
                _ => Value::Array(Vec::new()),
            }
        }
    }
}

fn mangled(value: &Value, dice: &mut Dice) -> Value {
    let mut value = value.clone();
    for _ in 0..1 + dice.below(4) {
        change(&mut value, dice);
    }
    value
}

/// A text with parts cut out, doubled or replaced.
fn scribbled(text: &str, dice: &mut Dice) -> String {
    let mut chars: Vec<char> = text.chars().collect();
    for _ in 0..1 + dice.below(4) {
        let (at, length) = (dice.below(chars.len()), dice.below(30));
        let until = (at + length).min(chars.len());
        match dice.below(4) {
            0 => drop(chars.drain(at..until)),
            1 => {
                let part: Vec<char> = chars[at..until].to_vec();
                chars.splice(at..at, part);
            }
            2 => {
                let number = NUMBERS[dice.below(NUMBERS.len())].to_string();
                chars.splice(at..at, number.chars());
            }
            _ => {
                let word =
                    dice.pick(&["\"", "(", ")", "[", "]", "-", "\u{202e}", "min", "99999999999", "{", ": ", "kg"]);
                chars.splice(at..until.min(at + 2), word.chars());
            }
        }
        if chars.is_empty() {
            break;
        }
    }
    chars.into_iter().collect()
}

/// A morning of that evening.
const LOG: &str = r#"{"at":605,"event":"started","step":"knead"}
{"at":612,"event":"finished","step":"knead"}
{"at":700,"event":"started","step":"roots"}
{"at":712,"event":"needs","step":"simmer","minutes":60}
{"at":720,"event":"probe","step":"low","core":40}
"#;

/// All that the library can be asked about a problem and a plan.
fn ask_everything(problem: &Problem, plan: &Plan, log: &[u8]) {
    let asked = AtomicUsize::new(0);
    // A hang would be a search that asks no more; whoever asks is told to stop after a while.
    let stop = || asked.fetch_add(1, Ordering::Relaxed) > 3_000;
    let limits = Limits { work: Some(60), stop: Some(&stop), ..Limits::default() };
    problem.faults();
    problem.fingerprint();
    let _ = (form(problem, plan), check(problem, plan), cost(problem, plan));
    let sound = form(problem, plan).is_ok();
    let crew = Crew::of(problem);
    schedule(problem, plan);
    slack(problem, plan, &crew);
    let spread = ranges(problem, plan, 50);
    let _ = odds(problem, plan, &crew, &spread, Evenings { evenings: 3, ..Evenings::default() });
    let _ = calm(problem, plan, &crew, &spread, 10, None);
    if let Ok(log) = day::read(log) {
        let _ = day::fold(problem, plan, &log.entries, 1_000);
    }
    if let Some(step) = problem.steps.first() {
        let _ = why_this_way(problem, plan, &step.id, &limits);
    }
    if let Ok(Outcome::Planned(planned)) = solve(problem, &limits) {
        assert!(check(problem, &planned.plan).is_ok());
        schedule(problem, &planned.plan);
    }
    let _ = (how_soon(problem, Some(600), &limits), why_not(problem, &limits));
    let dishes: Vec<&str> = problem.dishes.iter().take(2).map(|dish| dish.id.as_str()).collect();
    let _ = can_share_anywhere(problem, &dishes, &limits);
    if sound && problem.faults().is_empty() {
        for change in usual_changes(problem).iter().take(3) {
            changed(problem, std::slice::from_ref(change));
        }
    }
}

fn unharmed(what: &str, input: &dyn Fn() -> String, call: impl FnOnce()) {
    let result = catch_unwind(AssertUnwindSafe(call));
    assert!(result.is_ok(), "{what} panics on:\n{}", input());
}

#[test]
fn no_problem_and_no_plan_harms_the_library() {
    let problem: Value = data::json("checker/evening.json");
    let plan: Value = data::json("checker/plan.json");
    let mut dice = Dice::new(20_261_129);
    for call in 0..calls(240) {
        let own = if call % 3 == 0 { problem.clone() } else { mangled(&problem, &mut dice) };
        let other = if call % 3 == 1 { plan.clone() } else { mangled(&plan, &mut dice) };
        let written = scribbled(LOG, &mut dice);
        let (Ok(one), Ok(two)) =
            (serde_json::from_value::<Problem>(own.clone()), serde_json::from_value::<Plan>(other.clone()))
        else {
            continue;
        };
        unharmed("the library", &|| format!("{own}\n{other}\n{written}"), || {
            ask_everything(&one, &two, written.as_bytes());
        });
    }
}

#[test]
fn no_text_harms_the_readers_and_every_fault_has_a_place() {
    let mut dice = Dice::new(7);
    for call in 0..calls(300) {
        let example = examples::ALL[dice.below(examples::ALL.len())];
        let text = if call % 2 == 0 { menu(call) } else { example.menu.to_owned() };
        let text = scribbled(&text, &mut dice);
        unharmed("reading", &|| text.clone(), || {
            match read::feast(&text, "a menu", |name| example.kitchen_text(name)) {
                Err(faults) => {
                    assert!(!faults.0.is_empty());
                    assert!(faults.0.iter().all(|fault| fault.at.is_some()), "a fault without a place: {faults}");
                }
                Ok(feast) => {
                    if let Err(faults) = compile(&feast) {
                        assert!(faults.0.iter().all(|fault| fault.at.is_some()), "a fault without a place: {faults}");
                    }
                }
            }
        });
    }
}

/// Commands that read a menu, each with what it needs besides.
const COMMANDS: [&[&str]; 10] = [
    &["plan", "-", "--work", "60"],
    &["plan", "-", "--work", "60", "--format", "json"],
    &["plan", "-", "--work", "60", "--format", "markdown"],
    &["plan", "-", "--work", "60", "--format", "csv"],
    &["plan", "-", "--work", "60", "--format", "ical"],
    &["plan", "-", "--work", "60", "--format", "html"],
    &["check", "-"],
    &["soonest", "-", "--work", "60"],
    &["worth", "-", "--work", "20"],
    &["odds", "-", "--work", "60", "--evenings", "5"],
];

#[test]
fn no_input_harms_the_command() {
    let problem: Value = data::json("checker/evening.json");
    let folder = tempfile::tempdir().expect("a folder");
    for example in examples::ALL {
        fs::write(folder.path().join(example.kitchen_name), example.kitchen).expect("a file");
    }
    let mut dice = Dice::new(99);
    for call in 0..calls(60) {
        let input = match call % 3 {
            0 => mangled(&problem, &mut dice).to_string(),
            1 => scribbled(&menu(call), &mut dice),
            _ => scribbled(examples::ALL[dice.below(examples::ALL.len())].menu, &mut dice),
        };
        let args = COMMANDS[dice.below(COMMANDS.len())];
        let world = World { stdin: input.as_bytes(), folder: Some(folder.path()), ..World::default() };
        unharmed(&args.join(" "), &|| input.clone(), || {
            let answer = rangewright(args, &world);
            assert!(answer.exit != Exit::Internal, "{}", answer.err);
            // Who asks for JSON gets the faults in it.
            let told = ["faults", "error"].map(|own| answer.out.contains(&format!("\"outcome\": \"{own}\"")));
            let said = answer.err.contains("error") || told.contains(&true);
            assert!(answer.exit != Exit::BadInput || said, "{} {}", answer.out, answer.err);
            for text in [&answer.out, &answer.err] {
                let steers =
                    |own: char| matches!(own, '\u{1b}' | '\u{0}' | '\u{7}' | '\u{8}' | '\u{202e}' | '\u{202d}');
                assert!(!text.contains(steers), "a name steers the terminal: {text:?}");
            }
        });
    }
}
