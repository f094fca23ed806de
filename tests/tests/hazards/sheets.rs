//! Cautions short enough to be read: few at the jobs, each once in a part of its own.

use std::collections::BTreeSet;

use rangewright::models::caution::JOBS_A_LINE;
use rangewright::models::examples;
use rangewright::{Limits, Outcome, Planner};
use rangewright_cli::every_form;

fn markdown(example: &examples::Example) -> Option<String> {
    let planner =
        Planner::read(example.menu, example.menu_name, |name| example.kitchen_text(name)).expect("an example");
    let limits = Limits { work: Some(3_000), ..Limits::default() };
    let Ok(Outcome::Planned(feast)) = planner.plan(&limits) else { return None };
    let forms = every_form(&feast, std::time::SystemTime::UNIX_EPOCH);
    forms.into_iter().find(|(name, _)| name.ends_with(".md")).map(|(_, text)| text)
}

#[test]
fn no_more_than_one_job_in_five_has_a_caution() {
    let mut seen = 0;
    for example in examples::ALL {
        let Some(text) = markdown(example) else { continue };
        seen += 1;
        let (mut said, mut part) = (BTreeSet::new(), String::new());
        for sheet in text.split("\n## ") {
            let jobs = sheet.lines().filter(|line| line.starts_with("- [ ] **")).count();
            let cares: Vec<&str> = sheet.lines().filter(|line| line.contains("Take care:")).collect();
            assert!(cares.len() * JOBS_A_LINE <= jobs, "{}: {} of {jobs}: {cares:#?}", example.name, cares.len());
            if sheet.starts_with("Take care") {
                part = sheet.to_owned();
            }
        }
        for line in part.lines().filter(|line| line.starts_with("- ")) {
            let text = line.split("**: ").nth(1).unwrap_or(line);
            assert!(said.insert(text.to_owned()), "{}: said twice: {line}", example.name);
        }
        assert!(text.contains("\n## The hour after"), "{}", example.name);
    }
    assert!(seen > 3, "only {seen} examples were planned");
}

/// A caution stands where it bites, and what was inferred is shown as inferred.
#[test]
fn a_caution_stands_where_it_bites() {
    let all: String = examples::ALL.iter().filter_map(markdown).collect();
    assert!(all.contains("Take care: "), "no caution at any step");
    assert!(all.contains("What is in it") && all.contains("allergens: "), "contents are shown");
}
