//! What the help says: each command in two lines, with an example and what its exit codes mean, in plain words.

use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};

/// Every command that answers something; the others print what shells and manuals want.
const COMMANDS: [&str; 14] = [
    "plan", "show", "check", "share", "soonest", "why", "worth", "roast", "chill", "portions", "dishes", "odds", "log",
    "replan",
];

/// What makes a reader stumble: a number that nobody names, and the passive where somebody does something.
const STUMBLES: [&str; 9] = [
    "so many",
    "so long",
    "so hot",
    "so much",
    "is said",
    "as can be",
    "which the menu has not",
    "anew",
    "and not otherwise",
];

fn help(args: &[&str]) -> String {
    let answer = rangewright(args, &World::default());
    assert_eq!(answer.exit, Exit::Planned, "{args:?}");
    answer.out
}

#[test]
fn every_command_says_what_it_answers_with_an_example_and_its_exit_codes() {
    let listed = help(&["--help"]);
    for command in COMMANDS {
        assert!(listed.contains(&format!("\n  {command} ")), "{command} is not listed");
        let long = help(&[command, "--help"]);
        let about = long.split("\n\nUsage:").next().unwrap_or_default();
        assert!(about.lines().count() >= 3, "{command} says too little of itself:\n{about}");
        for part in [format!("  rangewright {command} "), "Exit codes: 0 ".to_owned(), "2 bad input".to_owned()] {
            assert!(long.contains(&part), "the help of {command} lacks {part:?}");
        }
    }
}

#[test]
fn the_help_names_its_numbers() {
    let mut pages = vec![("rangewright", help(&["--help"]))];
    pages.extend(COMMANDS.map(|command| (command, help(&[command, "--help"]))));
    for (command, page) in pages {
        let words = page.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        for stumble in STUMBLES {
            assert!(!words.contains(stumble), "the help of {command} says {stumble:?}");
        }
    }
}

/// One name means one thing: what an option takes is called the same in every command that has it.
#[test]
fn an_option_takes_the_same_in_every_command() {
    let mut meanings = std::collections::BTreeMap::new();
    for command in COMMANDS {
        for line in help(&[command, "--help"]).lines() {
            let Some((option, value)) = line.trim().strip_prefix("--").and_then(|line| line.split_once(' ')) else {
                continue;
            };
            if line.starts_with("      --") && value.starts_with('<') {
                meanings
                    .entry(option.to_owned())
                    .or_insert_with(std::collections::BTreeSet::new)
                    .insert(value.to_owned());
            }
        }
    }
    assert!(meanings.len() > 30, "options were not found: {meanings:?}");
    let several: Vec<_> = meanings.iter().filter(|(_, values)| values.len() > 1).collect();
    assert!(several.is_empty(), "options with two meanings: {several:?}");
}
