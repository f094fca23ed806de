//! Conduction against the analytic series, and the balance of heat.
//!
//! Reference: tests/data/reference/conduction.csv (series of Incropera and DeWitt, table 5.1, recomputed; agrees with the
//! four-digit values of Cengel, *Heat Transfer*, table 4-2, as far as those were read).

use crate::series::Geometry;
use crate::table::{number, rows};
use rangewright::models::cook::food::Composition;
use rangewright::models::cook::heat::{Axis, Body, Exposure, Material, Surroundings};

/// Unit properties: Biot number = coefficient, Fourier number = seconds.
fn unit() -> Material {
    Material::constant(1.0, 1.0, 1.0)
}

fn axis(geometry: Geometry, cells: usize) -> Axis {
    match geometry {
        Geometry::Wall => Axis::slab(2.0, cells),
        Geometry::Cylinder => Axis::radius(2.0, cells),
        Geometry::Sphere => Axis::centre(2.0, cells),
    }
}

/// A body that starts at 1 in surroundings of 0, after Fourier number `fo`.
fn cooled(axes: Vec<Axis>, bi: f64, fo: f64, steps: usize) -> Body {
    let mut body = Body::new(axes, unit(), 1.0);
    let air = Exposure::all_round(Surroundings::convective(0.0, bi));
    for _ in 0..steps {
        body.step(fo / steps as f64, &air);
    }
    body
}

#[test]
fn eigenvalues_and_coefficients_are_those_of_the_table() {
    let mut seen = 0;
    for row in rows("conduction.csv").iter().filter(|row| row["kind"] == "eigen") {
        let geometry = Geometry::named(&row["geometry"]);
        let z = geometry.eigenvalues(number(row, "Bi"), 1)[0];
        assert!((z - number(row, "zeta1")).abs() < 2e-6, "{row:?}: {z}");
        assert!((geometry.coefficient(z) - number(row, "C1")).abs() < 2e-6, "{row:?}");
        seen += 1;
    }
    assert_eq!(seen, 99);
}

#[test]
fn one_term_and_full_series_are_those_of_the_table() {
    for row in rows("conduction.csv").iter().filter(|row| row["kind"] == "series") {
        let geometry = Geometry::named(&row["geometry"]);
        let (bi, fo) = (number(row, "Bi"), number(row, "Fo"));
        let x = match row["position"].as_str() {
            "centre" => 0.0,
            "half" => 0.5,
            "surface" => 1.0,
            other => panic!("position {other}"),
        };
        assert!((geometry.theta(bi, fo, x, 1) - number(row, "theta_one_term")).abs() < 2e-6, "{row:?}");
        assert!((geometry.theta(bi, fo, x, 12) - number(row, "theta_full_series")).abs() < 1e-5, "{row:?}");
    }
}

#[test]
fn grid_is_within_a_fifth_of_a_percent_of_the_series() {
    let mut worst: f64 = 0.0;
    for row in rows("conduction.csv").iter().filter(|row| row["kind"] == "series") {
        let geometry = Geometry::named(&row["geometry"]);
        let body = cooled(vec![axis(geometry, 40)], number(row, "Bi"), number(row, "Fo"), 400);
        let mean = (body.mean() - number(row, "theta_mean_full")).abs();
        let point = match row["position"].as_str() {
            "centre" => (body.core() - number(row, "theta_full_series")).abs(),
            // Between cells, or as of the last step: the mean alone is compared.
            _ => 0.0,
        };
        worst = worst.max(mean).max(point);
        assert!(mean < 0.002 && point < 0.002, "{row:?}: core {}, mean {}", body.core(), body.mean());
    }
    println!("worst difference {worst:.5} of the first difference of temperature");
}

#[test]
fn short_cylinders_and_bricks_are_products_of_the_series() {
    let mut seen = 0;
    for row in
        rows("conduction.csv").iter().filter(|row| row["kind"].starts_with("product") && row["position"] == "centre")
    {
        let (_, ratios) = row["geometry"].split_once(['=', ' ']).expect("a ratio");
        let ratios: Vec<f64> = ratios.trim().split(':').map(|r| r.parse().expect("a number")).collect();
        let axes = if row["kind"] == "product_brick" {
            ratios.iter().map(|ratio| Axis::slab(2.0 * ratio, 20)).collect()
        } else {
            vec![Axis::radius(2.0, 30), Axis::slab(2.0 * ratios[0], 30)]
        };
        let body = cooled(axes, number(row, "Bi"), number(row, "Fo"), 200);
        let expected = number(row, "theta_full_series");
        assert!((body.core() / expected - 1.0).abs() < 0.002, "{row:?}: {}", body.core());
        seen += 1;
    }
    assert_eq!(seen, 9);
}

/// Minutes until the core is at `target` in moving air, on a grid of so many cells.
fn minutes(axes: Vec<Axis>, density: f64, h: f64, oven: f64, target: f64) -> f64 {
    let mut body = Body::new(axes, Material::constant(0.48, density, 3500.0), 5.0);
    let air = Exposure::all_round(Surroundings::convective(oven, h));
    let seconds = body.step_seconds();
    let (mut time, mut before) = (0.0, body.core());
    loop {
        body.step(seconds, &air);
        let core = body.core();
        if core >= target {
            return (time + seconds * (target - before) / (core - before)) / 60.0;
        }
        (time, before) = (time + seconds, core);
    }
}

/// conduction.md, worked examples: EX3's cylinder with density 1060 takes 117.492 minutes, EX5's brick 125.54.
#[test]
fn worked_examples_are_met_on_the_grids_that_roasts_use() {
    let cylinder = minutes(vec![Axis::radius(0.12, 14), Axis::slab(0.24, 14)], 1060.0, 20.0, 150.0, 55.0);
    assert!((cylinder / 117.492 - 1.0).abs() < 0.003, "{cylinder}");
    let brick = minutes([0.1, 0.16, 0.2].map(|edge| Axis::slab(edge, 10)).to_vec(), 1050.0, 25.0, 160.0, 60.0);
    assert!((brick / 125.54 - 1.0).abs() < 0.003, "{brick}");
    let slab = minutes(vec![Axis::slab(0.05, 16)], 1050.0, 20.0, 200.0, 74.0);
    assert!((slab / 57.76 - 1.0).abs() < 0.003, "{slab}");
    let ball = {
        let mut body = Body::new(vec![Axis::centre(0.06, 16)], Material::constant(0.48, 1050.0, 3500.0), 10.0);
        let air = Exposure::all_round(Surroundings::convective(180.0, 12.0));
        for _ in 0..2354 {
            body.step(1.0, &air);
        }
        body.core()
    };
    assert!((ball - 74.0).abs() < 0.1, "{ball}");
    println!("cylinder {cylinder:.3}, brick {brick:.3}, slab {slab:.3} min, ball {ball:.3} C");
}

/// The step of time is kept short, so that what is left is the error of the grid.
#[test]
fn halving_the_grid_quarters_the_error() {
    let (bi, fo) = (2.0, 0.3);
    let exact = Geometry::Cylinder.theta(bi, fo, 0.0, 12) * Geometry::Wall.theta(bi, fo, 0.0, 12);
    let error = |cells| cooled(vec![Axis::radius(2.0, cells), Axis::slab(2.0, cells)], bi, fo, 2000).core() - exact;
    let errors = [8, 16, 32].map(|cells| error(cells).abs());
    let ratios = [errors[0] / errors[1], errors[1] / errors[2]];
    assert!(ratios.iter().all(|ratio| (3.5..=4.5).contains(ratio)), "{errors:?} {ratios:?}");
}

#[test]
fn heat_taken_up_is_heat_held() {
    let roast = Surroundings { air: 175.0, convection: 20.0, emissivity: 0.9, wet: 3.0, vapour: 30_000.0, crust: 2.0 };
    let counter = Surroundings { air: 21.0, convection: 6.0, emissivity: 0.9, wet: 3.0, vapour: 1_200.0, crust: 2.0 };
    for axes in [
        vec![Axis::radius(0.12, 16), Axis::slab(0.2, 16)],
        [0.1, 0.16, 0.2].map(|edge| Axis::slab(edge, 12)).to_vec(),
        vec![Axis::plate(0.05, 20)],
        vec![Axis::centre(0.12, 16)],
    ] {
        let mut body = Body::new(axes, Material::food(&Composition::BEEF_RIB, 5.0), 5.0);
        let (start, seconds) = (body.enthalpy(), body.step_seconds());
        for surroundings in [roast, counter] {
            let (held, taken) = (body.enthalpy(), body.absorbed());
            for _ in 0..(3600.0 / seconds) as usize {
                body.step(seconds, &Exposure::all_round(surroundings));
            }
            let (held, taken) = (body.enthalpy() - held, body.absorbed() - taken);
            assert!((held - taken).abs() < 0.001 * body.absorbed().abs(), "held {held} J, taken up {taken} J");
        }
        assert!(body.enthalpy() > start);
    }
}

/// However long the step, nothing leaves the span between the coldest and the hottest thing about.
#[test]
fn any_step_stays_between_cold_and_hot() {
    for seconds in [1.0, 60.0, 600.0, 36_000.0] {
        let mut body = Body::new(vec![Axis::radius(0.03, 16), Axis::slab(0.5, 16)], unit(), 5.0);
        let mut meat = Body::new(
            vec![Axis::radius(0.03, 16), Axis::slab(0.5, 16)],
            Material::food(&Composition::BEEF_LEAN, 5.0),
            5.0,
        );
        for _ in 0..20 {
            for body in [&mut body, &mut meat] {
                body.step(seconds, &Exposure::all_round(Surroundings::convective(250.0, 1000.0)));
                assert!(
                    (4.99..=250.01).contains(&body.mean()) && body.hottest() <= 250.01,
                    "{seconds}: {}",
                    body.hottest()
                );
            }
        }
    }
}
