//! Thermal properties against tests/data/reference/foodprops.csv: Choi and Okos (1986) as in ASHRAE Handbook,
//! Refrigeration (2006), chapter 9, tables 1 and 2, and compositions of the USDA nutrient tables.

use crate::table::{number, rows};
use rangewright::models::cook::food::{Component, Composition};

/// Equal to the digits that the table prints.
fn to_its_digits(value: f64, printed: &str) -> bool {
    let decimals = printed.split_once('.').map_or(0, |(_, after)| after.len() as i32);
    (value - printed.parse::<f64>().expect("a number")).abs() <= 0.5001 * 10_f64.powi(-decimals)
}

const DEGREES: [(&str, f64); 3] = [("value_5C", 5.0), ("value_20C", 20.0), ("value_60C", 60.0)];

#[test]
fn components_have_the_printed_values() {
    let mut seen = 0;
    for row in rows("foodprops.csv").iter().filter(|row| row["kind"] == "component" && row["property"] != "alpha") {
        let component = match row["item"].as_str() {
            "water" => Component::Water,
            "protein" => Component::Protein,
            "fat" => Component::Fat,
            "carbohydrate" => Component::Carbohydrate,
            "fibre" => Component::Fibre,
            "ash" => Component::Ash,
            // Frozen food is not modelled.
            "ice" => continue,
            other => panic!("component {other}"),
        };
        for (column, t) in DEGREES {
            let value = match row["property"].as_str() {
                "k" => component.conductivity(t),
                "rho" => component.density(t),
                _ => component.heat_capacity(t),
            };
            assert!(to_its_digits(value, &row[column]), "{component:?} {} {column}: {value}", row["property"]);
            seen += 1;
        }
    }
    assert_eq!(seen, 54);
}

/// One public copy of the coefficients has a slip in the first one of water.
#[test]
fn water_conducts_as_it_should() {
    assert!((Component::Water.conductivity(20.0) - 0.60366).abs() < 5e-6);
}

#[test]
fn foods_have_the_printed_values() {
    let foods = [
        ("13824", Composition::BEEF_RIB),
        ("23336", Composition::BEEF_FILLET),
        ("13877", Composition::BEEF_ROUND),
        ("23360", Composition::BEEF_LEAN),
        ("10020", Composition::PORK_LOIN),
        ("05191", Composition::TURKEY_BREAST),
        ("05183", Composition::TURKEY_DARK),
        ("17011", Composition::LAMB_LEG),
        ("15236", Composition::SALMON),
        ("11373", Composition::GRATIN),
        ("11352", Composition::POTATO),
        ("22905", Composition::STEW),
        ("18082", Composition::STUFFING),
    ];
    let mut seen = 0;
    for row in rows("foodprops.csv").iter().filter(|row| row["kind"] == "food") {
        let Some((_, food)) = foods.iter().find(|(number, _)| row["source"].contains(&format!("NDB {number};"))) else {
            continue;
        };
        for (column, t) in DEGREES {
            let value = match row["property"].as_str() {
                "rho" => food.density(t),
                "cp" => food.heat_capacity(t),
                "k_parallel" => food.conductivity(t),
                _ => food.conductivity_perpendicular(t),
            };
            assert!(to_its_digits(value, &row[column]), "{} {} {column}: {value}", row["item"], row["property"]);
            seen += 1;
        }
    }
    assert_eq!(seen, 13 * 4 * 3);
}

/// Published heat capacities: Geankoplis, app. A.4-1 (lean beef, 72 % water, 3.43 kJ/kgK).
#[test]
fn lean_beef_is_near_a_published_heat_capacity() {
    let row = rows("foodprops.csv").into_iter().find(|row| row["item"] == "beef, lean 72% water").expect("the row");
    let published = 1000.0 * number(&row, "value_5C");
    assert!((Composition::BEEF_LEAN.heat_capacity(20.0) / published - 1.0).abs() < 0.04);
}
