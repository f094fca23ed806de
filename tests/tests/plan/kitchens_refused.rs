//! The refused reference problems are refused, with exactly the faults that the reference names.

use rangewright::models::problem::{FaultKind, Named, Problem};
use rangewright_tests::data;

/// What is wrong with each file, after `faults.csv` beside the files, in the typed form.
fn expected(name: &str) -> Vec<(&'static str, FaultKind)> {
    let strings = |ids: &[&str]| ids.iter().map(|&id| id.to_owned()).collect::<Vec<_>>();
    let unknown = |named, id: &str| FaultKind::UnknownId { named, id: id.to_owned() };
    let overlap = ("shifts[1]", FaultKind::ShiftsOverlap { other: 0 });
    let dish = (r#"steps[0] "d00.0.season" dish"#, unknown(Named::Dish, "d99"));
    let shut = (r#"steps[1] "d00.1.low" modes[0]"#, FaultKind::ShutLongerThanStep { shut: 288, min: 287 });
    let season = r#"steps[0] "d00.0.season" modes[0]"#;
    match name {
        "cyclic" => {
            let steps = strings(&["d03.0.whisk", "d03.1.set", "d03.2.cool"]);
            vec![(r#"steps[14] "d03.0.whisk""#, FaultKind::CyclicLinks { steps })]
        }
        "no-sink" => vec![(r#"steps[18] "loose""#, FaultKind::ReachesNoSink)],
        "sink-successor" => {
            vec![(r#"steps[5] "d00.5.plate""#, FaultKind::SinkWithSuccessor { successor: "d01.3.dish-up".to_owned() })]
        }
        "sink-no-course" => vec![(r#"steps[13] "d02.3.dish-up""#, FaultKind::ReachesNoSink)],
        "sink-two-courses" => {
            vec![(r#"steps[5] "d00.5.plate""#, FaultKind::SinkTwice { first: "main".to_owned() })]
        }
        "zero-min-place" => vec![(r#"steps[1] "d00.1.low" modes[0]"#, FaultKind::ZeroMinutes)],
        "zero-min-hands" => vec![(season, FaultKind::ZeroMinutes)],
        "zero-min-pools" => vec![(r#"steps[3] "d00.3.rest" modes[0]"#, FaultKind::ZeroMinutes)],
        "load-too-long" => {
            let fault = FaultKind::LoadLongerThanStep { minutes: 166, min: 165 };
            vec![(r#"steps[7] "d01.1.braise" modes[0]"#, fault)]
        }
        "hands-and-load" => vec![(season, FaultKind::HandsAndLoad)],
        "shut-too-long" => vec![shut],
        "shifts-overlap" => vec![overlap],
        "stay-gap" => vec![("links[1]", FaultKind::StayWithGap)],
        "stay-no-cavity" => vec![("links[1]", FaultKind::StayWithoutCavity)],
        "unknown-place" => {
            vec![(r#"steps[1] "d00.1.low" modes[0] place"#, unknown(Named::Place, "nowhere"))]
        }
        "unknown-step" => vec![
            ("links[0] to", unknown(Named::Step, "nothing")),
            (r#"steps[0] "d00.0.season""#, FaultKind::ReachesNoSink),
        ],
        "unknown-pool" => vec![(r#"steps[0] "d00.0.season" modes[0] pools"#, unknown(Named::Pool, "anvil"))],
        "unknown-dish" => vec![dish],
        "unknown-course" => vec![(r#"courses[0] "main" after"#, unknown(Named::Course, "tea"))],
        "negative-min" => vec![(
            r#"steps[0] "d00.0.season" modes[0] min"#,
            FaultKind::OutOfRange { value: -5, least: 0, most: 43_200 },
        )],
        "max-below-min" => vec![(season, FaultKind::MaxBelowMin { min: 14, max: 13 })],
        "rate-after-below-rate" => {
            vec![(r#"steps[0] "d00.0.season" wait"#, FaultKind::RateAfterBelowRate { rate: 5, rate_after: 4 })]
        }
        "no-rise" => vec![(r#"places[0] "ovenA" rise"#, FaultKind::OutOfRange { value: 0, least: 1, most: 10_000 })],
        "cooks-and-shifts" => vec![("cooks", FaultKind::CooksAndShifts)],
        "unknown-cook" => vec![(r#"steps[0] "s0" modes[0] who"#, unknown(Named::Cook, "Z"))],
        "empty-who" => vec![(r#"steps[0] "s0" modes[0] who"#, FaultKind::NobodyAllowed)],
        "cook-shifts-overlap" => vec![(r#"cooks[0] "A" shifts[1]"#, FaultKind::ShiftsOverlap { other: 0 })],
        "more-hands-than-who" => {
            vec![(r#"steps[0] "s0" modes[0]"#, FaultKind::MoreHandsThanCooks { hands: 2, cooks: 1 })]
        }
        "passing-too-long" => {
            vec![(r#"steps[0] "s0" modes[0] touches"#, FaultKind::TooLongInPassing { minutes: 4, most: 3 })]
        }
        "three-faults" => vec![overlap, dish, shut],
        other => panic!("{other} has no expected faults: add them from faults.csv"),
    }
}

#[test]
fn every_refused_problem_is_refused_with_all_its_faults() {
    let names = data::names("kitchens/refused");
    assert_eq!(names.len(), 30);
    for name in names {
        let problem: Problem = data::json(&format!("kitchens/refused/{name}.json"));
        let mut found: Vec<_> = problem.faults().into_iter().map(|fault| (fault.at, fault.what)).collect();
        let mut expected: Vec<_> = expected(&name).into_iter().map(|(at, what)| (at.to_owned(), what)).collect();
        found.sort_by(|a, b| a.0.cmp(&b.0));
        expected.sort_by(|a, b| a.0.cmp(&b.0));
        assert_eq!(found, expected, "{name}");
    }
}

#[test]
fn no_reference_problem_is_refused() {
    for name in data::names("kitchens/instances") {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        assert_eq!(problem.faults(), [], "{name}");
    }
}
