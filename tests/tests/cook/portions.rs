//! Portions against tests/data/reference/portions.csv (each row names its source), pans and batches, and bakes.

use crate::table::{number, rows};
use rangewright::models::cook::bake::{Bake, Baking, minutes};
use rangewright::models::cook::portions::{
    Appetite, Guests, MainDish, Shelves, Side, Vessel, main_dish, raw_for_served, side, split,
};
use rangewright::models::problem::Heat;

const TABLE: Guests =
    Guests { adults: 14, children: 0, appetite: Appetite::Usual, mains: 1, sides: 3, leftovers: false };

/// Butchers' guidance (two pages) for feasts is the generous end, USDA ARS servings per pound the modest one.
#[test]
fn raw_weights_lie_between_the_modest_and_the_generous_sources() {
    let row = |item: &str| rows("portions.csv").into_iter().find(|row| row["item"] == item).expect("a row");
    assert!(row("bone-in prime rib, holiday")["value"].starts_with("450-570"));
    let lamb = number(&row("lamb leg"), "value") / 100.0;
    assert!((0.7..0.8).contains(&lamb), "cooked over raw, Lowe 1932");
    assert!(row("whole turkey")["value"].starts_with("450-570"));
    let each = |dish| main_dish(&TABLE, dish).expect("legal").grams / 14.0;
    assert!((450.0..=570.0).contains(&each(MainDish::RibOnBone)));
    assert!((450.0..=570.0).contains(&each(MainDish::Turkey)));
    // 4 to 5 modest servings a pound of boneless meat are 91 to 113 g; feasts take more, at most the holiday pound.
    assert!((113.0..=450.0).contains(&each(MainDish::BonelessRoast)));
    // Two mains of boneless roast: 225 g each is the butchers' figure, ours is 60 to 65 % of a full portion.
    let two = main_dish(&Guests { mains: 2, ..TABLE }, MainDish::BonelessRoast).expect("legal").grams / 14.0;
    assert!((0.60..=0.65).contains(&(two / each(MainDish::BonelessRoast))), "{two}");
}

/// portions.md: 200 g carved rib is 295 g as bought (recomputed).
#[test]
fn served_weight_goes_back_to_raw_weight() {
    let raw = raw_for_served(200.0, 0.18, 0.14, 0.04).expect("legal");
    assert!((raw - 295.4).abs() < 0.1, "{raw}");
    let faults = raw_for_served(-1.0, 0.95, 0.0, f64::NAN).expect_err("three faults");
    assert_eq!(faults.len(), 3, "{faults:?}");
}

#[test]
fn more_guests_and_more_hunger_never_need_less() {
    let grams = |guests: Guests| main_dish(&guests, MainDish::Braise).expect("legal").grams;
    assert!(grams(Guests { adults: 15, ..TABLE }) > grams(TABLE));
    assert!(grams(Guests { children: 2, ..TABLE }) == grams(Guests { adults: 15, ..TABLE }));
    assert!(grams(Guests { appetite: Appetite::Hearty, ..TABLE }) > grams(TABLE));
    assert!((grams(Guests { leftovers: true, ..TABLE }) / grams(TABLE) - 1.25).abs() < 1e-9);
    let starch = |sides| side(&Guests { sides, ..TABLE }, Side::Starch).expect("legal").grams;
    assert!(starch(3) > starch(4) && starch(5) > starch(6));
    assert!(main_dish(&Guests { adults: 0, ..TABLE }, MainDish::Braise).is_err());
}

/// Pan and cavity sizes: kitchen.csv (EN 631 GN 1/2; a 60 cm built-in oven is common practice).
#[test]
fn a_dish_is_split_over_pans_and_loads() {
    let half = Vessel { width_mm: 325.0, depth_mm: 265.0, height_mm: 65.0, fill_mm: 45.0 };
    let oven = Shelves { width_mm: 460.0, depth_mm: 410.0, height_mm: 350.0, racks: 2, clearance_mm: 50.0 };
    let gratin = split(9_000.0, 1.05, &half, &oven).expect("legal");
    assert_eq!((gratin.pans, gratin.at_once), (3, 2));
    assert_eq!(gratin.loads, [2, 1]);
    let gastro = Vessel { width_mm: 530.0, depth_mm: 325.0, ..half };
    let none = split(9_000.0, 1.05, &gastro, &oven).expect("legal");
    assert!(none.at_once == 0 && none.loads.is_empty(), "a GN 1/1 does not fit a 60 cm oven");
}

#[test]
fn bakes_take_longer_in_cooler_ovens_and_refuse_to_guess_far() {
    let known = Bake { minutes: 45.0, oven_c: 190.0, heat: Heat::Static, done_c: 85.0 };
    let at = |oven_c| minutes(&known, &Baking { oven_c, heat: Heat::Static, trays: 1, heating_min: 0.0 });
    let times: Vec<i64> =
        [160.0, 170.0, 180.0, 190.0, 200.0, 220.0].map(|oven_c| at(oven_c).expect("near enough").minutes).to_vec();
    assert!(times.windows(2).all(|pair| pair[0] > pair[1]), "{times:?}");
    assert_eq!(times[3], 45);
    assert!(at(130.0).is_err() && at(225.0).is_err());
    let now = Baking { oven_c: 190.0, heat: Heat::Fan, trays: 3, heating_min: 0.0 };
    let fan = minutes(&known, &now).expect("near enough");
    assert!(fan.minutes < 45 && fan.early_min <= fan.minutes && fan.minutes <= fan.late_min);
    assert!(minutes(&known, &Baking { heating_min: 10.0, ..now }).expect("legal").minutes > fan.minutes);
}
