//! Forecasts hold together: more meat never takes less time, a hotter oven never more, and nothing legal fails.

use proptest::prelude::*;
use rangewright::models::cook::roast::{
    Finish, Forecast, Oven, Reading, Roast, RoastFault, Spell, Way, forecast, forecast_with, minutes_to, reforecast,
    state,
};
use rangewright::models::cook::safety::{Handling, Region};
use rangewright::models::cook::{Calibration, Cut, Meat, PastRoast, calibrate};
use rangewright::models::problem::Heat;

fn cuts() -> impl Strategy<Value = (Meat, Cut)> {
    prop::sample::select(vec![
        (Meat::Beef, Cut::Rib),
        (Meat::Beef, Cut::Round),
        (Meat::Pork, Cut::Loin),
        (Meat::Lamb, Cut::Leg),
        (Meat::Veal, Cut::Shoulder),
        (Meat::Fish, Cut::Slab),
        (Meat::Poultry, Cut::Bird),
        (Meat::Vegetable, Cut::Ball),
    ])
}

fn finishes() -> impl Strategy<Value = Finish> {
    prop_oneof![
        Just(Finish::None),
        (200.0..260.0_f64, 5.0..15.0_f64).prop_map(|(at_c, minutes)| Finish::HotFirst { at_c, minutes }),
        (200.0..260.0_f64, 5.0..12.0_f64, prop::sample::select(vec![0.0, 45.0]))
            .prop_map(|(at_c, minutes, gap_min)| Finish::HotLast { at_c, minutes, gap_min }),
    ]
}

fn roasts() -> impl Strategy<Value = Roast> {
    (cuts(), 600.0..6_000.0_f64, 50.0..140.0_f64, 2.0..18.0_f64, 50.0..68.0_f64, 0.0..60.0_f64).prop_map(
        |((meat, cut), weight, thickness, start_c, target_c, rest_min)| Roast {
            thickness_mm: Some(thickness),
            start_c,
            rest_min,
            ..Roast::of(meat, cut, weight, target_c)
        },
    )
}

fn oven(heat: Heat, c: i64) -> Oven {
    Oven::new(heat, c, c)
}

fn only(forecast: Result<Forecast, RoastFault>) -> Option<Way> {
    forecast.ok().and_then(|forecast| forecast.ways.into_iter().next())
}

fn sound(way: &Way) -> Result<(), TestCaseError> {
    prop_assert!(way.early_min <= way.minutes && way.minutes <= way.late_min && way.early_min >= 1);
    prop_assert_eq!(way.margin_min, way.late_min - way.minutes);
    let numbers = [way.pull_c, way.peak_c, way.long_end_c, way.peak_after_min, way.evaporated];
    prop_assert!(numbers.iter().chain(&way.peak_band_c).all(|n| n.is_finite()));
    prop_assert!(way.peak_band_c[0] <= way.peak_c + 1e-9 && way.peak_c <= way.peak_band_c[1] + 1e-9);
    prop_assert!(way.course.iter().all(|p| p.core_c.is_finite() && p.surface_c.is_finite()));
    let stages: i64 = way.stages.iter().filter(|stage| stage.long).map(|stage| stage.minutes).sum();
    prop_assert!(stages >= 1 && stages <= way.minutes);
    for probe in &way.probes {
        prop_assert!(probe.band_c[0] <= probe.core_c + 0.2 && probe.core_c <= probe.band_c[1] + 0.2, "{:?}", probe);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn thicker_colder_further_never_takes_less(roast in roasts(), c in 12_i64..20, by in 1.03..1.3_f64) {
        let oven = oven(Heat::Fan, 10 * c);
        let Some(base) = only(forecast(&roast, &oven)) else { return Ok(()) };
        sound(&base)?;
        let thicker = Roast { thickness_mm: roast.thickness_mm.map(|t| t * by), ..roast };
        let colder = Roast { start_c: roast.start_c / by, ..roast };
        let further = Roast { target_c: roast.target_c + 3.0 * by, ..roast };
        for (what, more) in [("thicker", thicker), ("colder", colder), ("further", further)] {
            if let Some(way) = only(forecast(&more, &oven)) {
                prop_assert!(way.minutes >= base.minutes, "{}: {} after {}", what, way.minutes, base.minutes);
            }
        }
    }

    #[test]
    fn a_hotter_oven_never_takes_more(roast in roasts(), finish in finishes(), still in any::<bool>()) {
        let heat = if still { Heat::Static } else { Heat::Fan };
        let roast = Roast { finish, ..roast };
        let Ok(forecast) = forecast(&roast, &Oven::new(heat, 130, 190)) else { return Ok(()) };
        for way in &forecast.ways {
            sound(way)?;
        }
        // A hot finish includes the rise of the oven, longer from a cooler stage: all stages count, each a rounded minute.
        let rounded = i64::from(matches!(finish, Finish::HotLast { .. }));
        let all = |way: &Way| way.stages.iter().map(|stage| stage.minutes).sum::<i64>();
        let minutes: Vec<i64> = forecast.ways.iter().map(all).collect();
        prop_assert!(minutes.windows(2).all(|pair| pair[0] + rounded >= pair[1]), "{:?}", minutes);
    }

    #[test]
    fn heavier_never_takes_less(cut in cuts(), weight in 600.0..4_000.0_f64, by in 1.05..2.0_f64) {
        let roast = |grams| Roast { bone: true, ..Roast::of(cut.0, cut.1, grams, 60.0) };
        let at = |grams| minutes_to(&roast(grams), &oven(Heat::Static, 160), 160.0, 60.0);
        if let (Ok(light), Ok(heavy)) = (at(weight), at(weight * by)) {
            prop_assert!(heavy >= light - 1e-6, "{} g {}, {} g {}", weight, light, weight * by, heavy);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// Any numbers at all: an answer or faults that name their fields, never a panic, never a number that is none.
    #[test]
    fn anything_at_all_is_answered_or_refused(
        cut in cuts(),
        numbers in prop::collection::vec(prop_oneof![any::<f64>(), -50.0..400.0_f64, Just(f64::NAN)], 8),
        finish in prop_oneof![
            Just(Finish::None),
            (any::<f64>(), any::<f64>()).prop_map(|(at_c, minutes)| Finish::HotFirst { at_c, minutes }),
            (100.0..300.0_f64, 0.0..80.0_f64, any::<f64>())
                .prop_map(|(at_c, minutes, gap_min)| Finish::HotLast { at_c, minutes, gap_min }),
        ],
        bounds in prop_oneof![any::<(i64, i64)>(), (70_i64..270, 70_i64..270)],
        flags in any::<[bool; 3]>(),
    ) {
        let roast = Roast {
            weight_g: Some(numbers[0] * 20.0),
            thickness_mm: flags[0].then_some(numbers[1]),
            start_c: numbers[2],
            target_c: numbers[3],
            rest_min: numbers[4],
            tied: flags[1],
            stuffed: flags[2],
            finish,
            ..Roast::of(cut.0, cut.1, 1_000.0, 60.0)
        };
        let oven = Oven { rise: numbers[5], start_c: Some(numbers[6]), ..Oven::new(Heat::Static, bounds.0, bounds.1) };
        match forecast(&roast, &oven) {
            Ok(forecast) => {
                for way in &forecast.ways {
                    sound(way)?;
                }
            }
            Err(fault) => prop_assert!(!fault.to_string().is_empty()),
        }
    }
}

#[test]
fn extreme_legal_roasts_are_answered() {
    for (thickness, target, heat, oven_c) in [
        (15.0, 85.0, Heat::Fan, 260),
        (400.0, 40.0, Heat::Static, 80),
        (15.0, 90.0, Heat::Static, 80),
        (400.0, 90.0, Heat::Fan, 260),
    ] {
        for cut in [Cut::Slab, Cut::Ball, Cut::Cylinder] {
            let roast = Roast {
                thickness_mm: Some(thickness),
                start_c: 0.0,
                rest_min: 240.0,
                handling: Handling::Minced,
                ..Roast::of(Meat::Beef, cut, 3_000.0, target)
            };
            match forecast(&roast, &oven(heat, oven_c)) {
                Ok(forecast) => assert!(forecast.ways[0].minutes > 0),
                Err(fault) => assert!(matches!(fault, RoastFault::NoWay(_)), "{fault}"),
            }
        }
    }
}

#[test]
fn all_faults_are_named_at_once() {
    let roast =
        Roast { start_c: -18.0, target_c: 120.0, rest_min: f64::NAN, ..Roast::of(Meat::Lamb, Cut::Leg, 2e6, 60.0) };
    let oven = Oven { rise: 0.0, ..Oven::new(Heat::Grill, 150, 400) };
    let text = forecast(&roast, &oven).expect_err("faults").to_string();
    for field in ["weight_g", "start_c", "target_c", "rest_min", "oven.hi_c", "oven.rise", "oven.heat"] {
        assert!(text.contains(field), "{field} in {text}");
    }
    assert!(text.contains("days in the refrigerator"), "{text}");
}

#[test]
fn a_log_shifts_and_narrows_the_range() {
    let roast = Roast { thickness_mm: Some(90.0), bone: true, ..Roast::of(Meat::Lamb, Cut::Leg, 2_200.0, 60.0) };
    let oven = oven(Heat::Static, 160);
    let model = minutes_to(&roast, &oven, 160.0, 55.0).expect("it gets there");
    let past = |factor: f64| PastRoast { roast, oven, oven_c: 160.0, minutes: factor * model, pull_c: 55.0 };
    let first = Calibration::default();
    let mut width = f64::INFINITY;
    for count in 0..6 {
        let calibration = calibrate(&vec![past(1.2); count]).expect("a legal log");
        let [lo, hi] = calibration.range(&roast);
        assert!((hi / lo) < width, "each entry narrows the range");
        assert!(lo < calibration.factor() && calibration.factor() < hi);
        width = hi / lo;
    }
    let calibration = calibrate(&vec![past(1.2); 6]).expect("a legal log");
    assert!((1.15..1.2).contains(&calibration.factor()), "{calibration:?}");
    let minutes = |calibration| forecast_with(&roast, &oven, calibration, Region::Us).expect("a way").ways[0].minutes;
    assert!(minutes(&calibration) > minutes(&first));
}

#[test]
fn a_probe_in_mid_roast_corrects_the_rest() {
    let roast = Roast { thickness_mm: Some(100.0), bone: true, ..Roast::of(Meat::Lamb, Cut::Leg, 2_500.0, 60.0) };
    let forecast = forecast(&roast, &oven(Heat::Static, 160)).expect("a way");
    let (way, calibration, oven) = (&forecast.ways[0], Calibration::default(), oven(Heat::Static, 160));
    let probe = way.probes[1];
    let at = |minute: f64| reforecast(&roast, &oven, way, &calibration, minute, probe.core_c).expect("late enough");
    let planned = at(probe.minute as f64);
    let left = way.minutes - probe.minute;
    assert!((planned.remaining_min - left).abs() <= 1, "as expected: {planned:?}, {left} planned");
    let late = at(probe.minute as f64 * 1.15);
    assert!(late.remaining_min > planned.remaining_min && late.factor > 1.0, "{late:?}");
    // Nearer to the end the range is narrower than it was at first.
    assert!(planned.late_min - planned.early_min < way.late_min - way.early_min, "{planned:?}");
    assert!(reforecast(&roast, &oven, way, &calibration, 10.0, 6.0).is_err(), "too early to say");
    assert_eq!(reforecast(&roast, &oven, way, &calibration, 200.0, 70.0).expect("done").remaining_min, 0);
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let roast = Roast {
        finish: Finish::HotLast { at_c: 230.0, minutes: 10.0, gap_min: 40.0 },
        ..Roast::of(Meat::Pork, Cut::Loin, 2_000.0, 63.0)
    };
    let json = || {
        serde_json::to_string(&forecast(&roast, &Oven::new(Heat::Fan, 110, 180)).expect("ways")).expect("plain data")
    };
    assert_eq!(json(), json());
}

#[test]
fn a_roast_is_followed_through_whatever_happens_to_it() {
    let roast = Roast { bone: true, ..Roast::of(Meat::Lamb, Cut::Leg, 2_500.0, 60.0) };
    let oven = oven(Heat::Static, 160);
    let (known, still) = (Calibration::default(), |minutes, air| Spell::oven(minutes, Heat::Static, air));
    let then = Spell::turned(0.0, Heat::Static, 160.0);
    let after = |history: &[Spell], readings: &[Reading]| {
        state(&roast, &oven, history, readings, then, 55.0, &known).expect("it gets there")
    };
    let way = &forecast(&roast, &oven).expect("a way").ways[0];
    let steady = after(&[still(60.0, 160.0)], &[]);
    let model = minutes_to(&roast, &oven, 160.0, 55.0).expect("it gets there");
    assert!((steady.remaining_min as f64 + 60.0 - model).abs() <= 2.0, "{steady:?} {model}");
    assert!(steady.early_min < steady.remaining_min && steady.remaining_min < steady.late_min);
    // Ten minutes in the middle without power, with an open door, on the counter, in a hotter oven.
    let middle = |spell: Spell| after(&[still(25.0, 160.0), spell, still(25.0, 160.0)], &[]).remaining_min;
    let dark = middle(Spell::turned(10.0, Heat::Static, 21.0));
    let out = middle(Spell::counter(10.0));
    let hotter = middle(still(10.0, 220.0));
    assert!(
        hotter < steady.remaining_min && steady.remaining_min < dark && dark < out,
        "{hotter} {steady:?} {dark} {out}"
    );
    // A probe that says what was expected narrows the range; one that says less makes it longer, and the two ways to ask agree.
    let read = |core_c| after(&[still(60.0, 160.0)], &[Reading { minute: 60.0, core_c }]);
    let (expected, late) = (read(steady.core_c), read(steady.core_c - 5.0));
    assert!((expected.remaining_min - steady.remaining_min).abs() <= 2, "{expected:?}");
    assert!(expected.late_min - expected.early_min < steady.late_min - steady.early_min);
    assert!(late.remaining_min > expected.remaining_min + 4 && late.factor > 1.0, "{late:?}");
    let other = reforecast(&roast, &oven, way, &known, 60.0, steady.core_c - 5.0).expect("late enough");
    let target = late.remaining_min as f64 * (way.long_end_c - late.core_c) / (55.0 - late.core_c);
    assert!((other.remaining_min as f64 / target).ln().abs() < 0.15, "{other:?} {late:?} {target}");
    let hot = Spell { air_c: f64::NAN, heat: Some(Heat::Grill), ..still(-1.0, 0.0) };
    let faults = state(&roast, &oven, &[hot], &[], then, 200.0, &known).expect_err("faults").to_string();
    assert!(["pull_c", "minutes", "air_c", "heat"].iter().all(|field| faults.contains(field)), "{faults}");
}
