//! Cooling against the layers computed for the reference and against published trials; reheating.
//!
//! Reference: tests/data/reference/cooling_model.csv (recomputed, start 90 C, clock from 57 C) and the cooling studies of
//! safety.csv: Roberts et al., Food Protection Trends 33(1):27-31 (2013) and Olds et al., Food and Nutrition Sciences
//! 4(7):735-740 (2013), both read as abstracts.

use crate::table::{number, rows};
use proptest::prelude::*;
use rangewright::models::cook::chill::{Cooler, Cooling, Pan, Reheat, Texture, Verdict, cool, reheat};
use rangewright::models::cook::safety::{Region, Weight};
use rangewright::models::problem::Heat;

fn cooled(depth_mm: f64, covered: bool, texture: Texture, cooler: Cooler) -> Cooling {
    cool(&Pan { depth_mm, start_c: 90.0, covered, texture }, cooler, Region::Us).expect("a legal pan")
}

/// The unstirred ice bath is left out: the table says of itself that it is too optimistic there.
#[test]
fn layers_cool_as_in_the_computed_table() {
    let (mut seen, mut worst) = (0, 0.0_f64);
    for row in rows("cooling_model.csv") {
        let condition = row["condition"].as_str();
        let cooler = if condition.starts_with("fridge") {
            Cooler::Refrigerator
        } else if condition.starts_with("fan chiller") {
            Cooler::Chiller
        } else if condition.ends_with("stirred / thin") {
            Cooler::StirredIceBath
        } else {
            assert!(condition.ends_with("unstirred"), "{condition}");
            continue;
        };
        let texture = if row["mode"] == "mixed" { Texture::Thin } else { Texture::Thick };
        let covered = !condition.contains("uncovered");
        let cooling = cooled(number(&row, "depth_mm"), covered, texture, cooler);
        for (stage, column) in [(0, "h_57_to_21"), (1, "h_57_to_5")] {
            let hours = cooling.stages[stage].minutes.expect("it cools") / 60.0;
            let expected = number(&row, column);
            println!(
                "{:4} {condition:55} {column:10} {hours:6.2} {expected:6.2} {:+.0} %",
                row["depth_mm"],
                100.0 * (hours / expected - 1.0)
            );
            worst = worst.max((hours / expected).ln().abs());
            seen += 1;
        }
    }
    assert_eq!(seen, 60);
    assert!(worst < 0.06, "{worst}");
}

#[test]
fn verdicts_are_those_of_the_published_trials() {
    let thick = |depth, cooler| cooled(depth, false, Texture::Thick, cooler).verdict;
    // Chili, 51 and 76 mm, uncovered: only the walk-in freezer at 51 mm met both limits.
    assert_ne!(thick(51.0, Cooler::Freezer), Verdict::Fails);
    for (depth, cooler) in [
        (51.0, Cooler::WalkIn),
        (76.0, Cooler::WalkIn),
        (76.0, Cooler::Freezer),
        (51.0, Cooler::IceBath),
        (51.0, Cooler::Refrigerator),
    ] {
        assert_eq!(thick(depth, cooler), Verdict::Fails, "{depth} mm, {cooler:?}");
    }
    // A stockpot in a refrigerator was the slowest of all.
    let pot = cooled(200.0, true, Texture::Thick, Cooler::WalkIn);
    assert!(pot.stages[0].minutes.expect("it cools") > 600.0);
    assert!(pot.cautions.iter().any(|caution| caution.weight == Weight::Breach));
}

#[test]
fn what_is_advised_meets_the_limits() {
    let pot = cooled(120.0, true, Texture::Thick, Cooler::Refrigerator);
    assert_eq!(pot.verdict, Verdict::Fails);
    assert!(pot.remedies.iter().any(|remedy| remedy.text.contains("ice bath, stirred")), "{:?}", pot.remedies);
}

#[test]
fn regions_have_their_own_limits() {
    let pan = Pan { depth_mm: 40.0, start_c: 90.0, covered: false, texture: Texture::Thin };
    let stages = |region| cool(&pan, Cooler::Chiller, region).expect("legal").stages.len();
    assert_eq!((stages(Region::Us), stages(Region::Uk), stages(Region::Au)), (2, 1, 2));
}

#[test]
fn faults_name_the_field() {
    let pan = Pan { depth_mm: f64::NAN, start_c: 150.0, covered: false, texture: Texture::Thin };
    let faults = cool(&pan, Cooler::Kitchen, Region::Us).expect_err("two faults");
    let text: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert!(text[0].contains("depth_mm") && text[1].contains("start_c") && text.len() == 2, "{text:?}");
}

#[test]
fn reheating_has_a_limit() {
    let pan = |depth_mm| Reheat { depth_mm, start_c: 5.0, oven_c: 160.0, heat: Heat::Fan, covered: true };
    let shallow = reheat(&pan(40.0), Region::Us).expect("legal");
    assert!((20.0..=90.0).contains(&shallow.minutes.expect("it heats")), "{shallow:?}");
    assert!(shallow.cautions.iter().all(|caution| caution.weight != Weight::Breach));
    let deep = reheat(&pan(150.0), Region::Us).expect("legal");
    assert!(deep.cautions.iter().any(|caution| caution.weight == Weight::Breach), "{deep:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn deeper_or_hotter_never_cools_sooner(depth in 10.0..150.0_f64, more in 1.02..1.5_f64, start in 60.0..95.0_f64) {
        let at = |depth_mm, start_c| {
            let pan = Pan { depth_mm, start_c, covered: true, texture: Texture::Thick };
            cool(&pan, Cooler::Chiller, Region::Us).expect("legal").cold_min.expect("it cools")
        };
        let base = at(depth, start);
        prop_assert!(base.is_finite() && at(depth * more, start) >= base && at(depth, start + 3.0) >= base);
    }
}
