//! What other programs rely on: faults as data, news of a search as data, and an interrupt that hands out the best plan.

use std::path::PathBuf;

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{Answer, World, rangewright};
use serde_json::Value;

fn asked(args: &str, world: &World<'_>) -> Answer {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../models/examples");
    rangewright(&args.split('|').collect::<Vec<_>>(), &World { folder: Some(&folder), ..world.clone() })
}

fn data(answer: &Answer) -> Value {
    serde_json::from_str(&answer.out).unwrap_or_else(|error| panic!("{error}: {}{}", answer.out, answer.err))
}

/// Whoever asks for data gets data, also where there is no answer; and nothing else on the standard error, unless watched.
#[test]
fn what_is_wrong_is_data_where_data_is_asked_for() {
    let faulty = "../../tests/browser/faulty.menu.ron";
    for command in
        ["plan|MENU", "soonest|MENU", "worth|MENU", "why|MENU|roast", "odds|MENU", "share|MENU|a|b", "check|MENU"]
    {
        let args = format!("{}|--format|json", command.replace("MENU", faulty));
        let answer = asked(&args, &World::default());
        let told = data(&answer);
        let name = command.split('|').next().expect("a command");
        assert_eq!((answer.exit, answer.err.as_str()), (Exit::BadInput, ""), "{args}");
        assert_eq!((&told["command"], &told["outcome"]), (&name.into(), &"faults".into()), "{args}");
        assert!(told["faults"][0]["code"].as_str().is_some_and(|code| code.starts_with("RW")), "{told}");
    }
    let other = [
        ("plan|none.menu.ron", Exit::Io, "none.menu.ron"),
        ("plan|supper.menu.ron|--cook|Nobody", Exit::BadInput, "Nobody"),
        ("why|supper.menu.ron|turnip", Exit::BadInput, "turnip"),
        ("replan|supper.menu.ron|--plan|none.json", Exit::Io, "none.json"),
        ("pass|supper.menu.ron|--plan|supper.menu.ron", Exit::BadInput, "no saved plan"),
        ("roast|lamb|leg|--to|60 C|--weight|900 kg", Exit::BadInput, "--weight"),
        ("chill|9 m", Exit::BadInput, "depth"),
    ];
    for (args, exit, part) in other {
        let answer = asked(&format!("{args}|--format|json"), &World::default());
        let told = data(&answer);
        assert_eq!((answer.exit, answer.err.as_str()), (exit, ""), "{args}");
        assert_eq!(told["outcome"], "error", "{args}");
        assert!(told["error"].as_str().is_some_and(|text| text.contains(part)), "{args}: {told}");
        assert_eq!(super::schema::faults(&super::schema::validator(), &told), Vec::<String>::new());
    }
    let watched = World { terminal: Terminal { watched: true, ..Terminal::default() }, ..World::default() };
    let answer = asked("plan|none.menu.ron|--format|json", &watched);
    assert!(answer.err.contains("none.menu.ron") && data(&answer)["outcome"] == "error", "{}", answer.err);
}

/// An interrupt is no failure: what is known then is the answer, and says why it is not better.
#[test]
fn an_interrupt_hands_out_what_there_is() {
    let interrupted = World { interrupted: true, ..World::default() };
    let answer = asked("plan|lantern.menu.ron|--time|600|--format|json", &interrupted);
    let told = data(&answer);
    match told["outcome"].as_str() {
        Some("planned") => assert_eq!((answer.exit, &told["stopped_by"]), (Exit::Planned, &"stop".into())),
        Some("undecided") => assert_eq!((answer.exit, &told["stopped_by"]), (Exit::Undecided, &"stop".into())),
        other => panic!("{other:?}"),
    }
}

/// Each line is an object of its own; bounds never fall and plans never get worse, and the last is what the plan says.
#[test]
fn news_of_a_search_are_lines_of_data() {
    let answer = asked("plan|porch.menu.ron|--work|20000|--progress|jsonl|--format|json", &World::default());
    let news: Vec<Value> = answer.err.lines().map(|line| serde_json::from_str(line).expect("an object")).collect();
    // What is hardly meant comes first.
    let news: Vec<Value> = news.into_iter().filter(|line| line.get("doubt").is_none()).collect();
    assert!(!news.is_empty());
    let goals = |value: &Value| -> Option<Vec<i64>> {
        value.as_array().map(|all| all.iter().filter_map(Value::as_i64).collect())
    };
    let best: Vec<Vec<i64>> = news.iter().filter_map(|line| goals(&line["best"])).collect();
    assert!(best.windows(2).all(|pair| pair[1] <= pair[0]), "{best:?}");
    let plan = &data(&answer)["plan"];
    let last: Vec<i64> = ["lateness", "waiting", "hot"].iter().filter_map(|goal| plan[goal].as_i64()).collect();
    assert!(best.last().is_some_and(|told| *told >= last), "{best:?} {last:?}");
    assert!(
        news.iter().all(|line| line["schema"] == 1 && line["seconds"].is_number() && line["work"].is_u64()),
        "{news:?}"
    );
    // The plan is the one that is made without being told of it.
    let silent = asked("plan|porch.menu.ron|--work|20000|--format|json", &World::default());
    assert_eq!(silent.out, answer.out);
}
