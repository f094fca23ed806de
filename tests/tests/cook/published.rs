//! Published roasting times as roasts of the model: what is fitted to, and what is checked against.
//!
//! roasting.csv holds charts and household tables by the names of their cuts, roasting-more.csv rows of institutions by our
//! own columns, roasting-fish.csv pieces of fish by their thickness. A row is told at the middle of its weights.

use super::table::{Row, number, rows};
use rangewright::models::cook::fitted::Fitted;
use rangewright::models::cook::roast::{Finish, Oven, Roast, RoastFault, minutes_by};
use rangewright::models::cook::{Cut, Meat};
use rangewright::models::problem::Heat;

const POUND: f64 = 453.592;

/// One published row.
#[derive(Clone)]
pub(crate) struct Published {
    /// What it says.
    pub(crate) name: String,
    /// Whose table it is: rows of one source err together.
    pub(crate) source: String,
    /// What it is of.
    pub(crate) group: String,
    pub(crate) pounds: f64,
    pub(crate) roast: Roast,
    pub(crate) oven: Oven,
    pub(crate) oven_c: f64,
    /// Published minutes, least and most.
    pub(crate) minutes: [f64; 2],
}

impl Published {
    /// The middle of the published minutes.
    pub(crate) fn middle(&self) -> f64 {
        (self.minutes[0] + self.minutes[1]) / 2.0
    }

    /// What the model makes of it.
    pub(crate) fn modelled(&self, fitted: &Fitted) -> Result<f64, RoastFault> {
        minutes_by(fitted, &self.roast, &self.oven, self.oven_c, self.roast.target_c)
    }
}

/// Every row with a body that we model, and what is left out and why. Rules of the trade come last, marked by their source.
pub(crate) fn published() -> (Vec<Published>, Vec<(String, &'static str)>) {
    let (mut kept, mut left) = (Vec::new(), Vec::new());
    for row in rows("roasting.csv") {
        match charted(&row) {
            Ok(published) => kept.push(published),
            Err(why) => left.push((format!("{} ({} C)", row["cut"], row["target_C"]), why)),
        }
    }
    kept.extend(rows("roasting-more.csv").iter().map(listed));
    kept.extend(rows("roasting-fish.csv").iter().map(fish));
    (kept, left)
}

/// The source of a rule of the trade, which nothing is fitted to.
pub(crate) const TRADE: &str = "common practice";

/// A source by the first two words of its name.
fn source(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().take(2).collect();
    if words[0] == "UK" { "UK".to_owned() } else { words.join(" ") }
}

fn heat(text: &str) -> Heat {
    if text == "fan" { Heat::Fan } else { Heat::Static }
}

/// A row of roasting.csv.
fn charted(row: &Row) -> Result<Published, &'static str> {
    if row["lb_lo"].is_empty() {
        return Err("no weight");
    }
    let pounds = (number(row, "lb_lo") + number(row, "lb_hi")) / 2.0;
    let target: f64 = row["target_C"].parse().map_err(|_| "no target")?;
    let cut = row["cut"].split(',').next().unwrap_or_default();
    let of = |meat, cut| Roast::of(meat, cut, pounds * POUND, target);
    let (group, roast) = match cut {
        "beef rib bone-in"
        | "beef standing rib rare"
        | "beef standing rib medium"
        | "beef standing rib well"
        | "beef rib roast" => ("rib bone-in", Roast { bone: true, ..of(Meat::Beef, Cut::Rib) }),
        "beef rib boneless rolled" => ("rib boneless", Roast { tied: true, ..of(Meat::Beef, Cut::Rib) }),
        "beef round or rump" => ("round", of(Meat::Beef, Cut::Round)),
        "beef tenderloin whole" | "beef fillet whole" => ("fillet", of(Meat::Beef, Cut::Fillet)),
        "pork tenderloin" => ("fillet", of(Meat::Pork, Cut::Fillet)),
        "pork loin bone-in or boneless" => ("pork", Roast { bone: true, ..of(Meat::Pork, Cut::Loin) }),
        "lamb leg bone-in" | "lamb leg whole medium" => ("lamb leg", Roast { bone: true, ..of(Meat::Lamb, Cut::Leg) }),
        "lamb leg boneless rolled" => ("lamb leg", Roast { tied: true, ..of(Meat::Lamb, Cut::Leg) }),
        "ham fresh bone-in whole"
        | "ham fresh bone-in half"
        | "ham fully cooked bone-in whole"
        | "ham fully cooked half" => ("ham", Roast { bone: true, ..of(Meat::Pork, Cut::Leg) }),
        "veal shoulder boneless" => ("veal", Roast { tied: true, ..of(Meat::Veal, Cut::Shoulder) }),
        "chicken roasting hen whole" => ("chicken", Roast { bone: true, ..of(Meat::Poultry, Cut::Bird) }),
        "turkey unstuffed" => ("turkey", Roast { bone: true, ..of(Meat::Poultry, Cut::Bird) }),
        "turkey stuffed" => ("turkey stuffed", Roast { bone: true, stuffed: true, ..of(Meat::Poultry, Cut::Bird) }),
        "pork crown roast" => return Err("a ring, not a bar"),
        cut if cut.contains("spiral") => return Err("slices: no such shape"),
        _ => return Err("no such cut"),
    };
    let trade = row["mark"].contains("common practice");
    let fan = heat(&row["oven_type"]);
    Ok(Published {
        name: row["cut"].clone(),
        source: if trade { TRADE.to_owned() } else { source(&row["source"]) },
        group: if group == "turkey" && fan == Heat::Fan { "turkey fan" } else { group }.to_owned(),
        pounds,
        roast,
        oven: Oven::new(fan, 100, 200),
        oven_c: number(row, "oven_C"),
        minutes: [number(row, "total_min_lo_at_mid_weight"), number(row, "total_min_hi_at_mid_weight")],
    })
}

fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

/// A row of roasting-more.csv.
fn listed(row: &Row) -> Published {
    let meat = match row["meat"].as_str() {
        "beef" => Meat::Beef,
        "lamb" => Meat::Lamb,
        "pork" => Meat::Pork,
        "poultry" => Meat::Poultry,
        other => panic!("what is {other}"),
    };
    let cut = match row["cut"].as_str() {
        "rib" => Cut::Rib,
        "round" if row["note"].contains("eye round") || row["source"].contains("eye round") => Cut::Eye,
        "round" => Cut::Round,
        "fillet" => Cut::Fillet,
        "loin" => Cut::Loin,
        "leg" => Cut::Leg,
        "shoulder" => Cut::Shoulder,
        "bird" if row["group"] == "duck/goose" => Cut::Duck,
        "bird" => Cut::Bird,
        other => panic!("what is {other}"),
    };
    let yes = |column: &str| row[column] == "1";
    let pounds = (number(row, "lb_lo") + number(row, "lb_hi")) / 2.0;
    let finish = match row["hot_first"].split_once(" F ") {
        Some((at, minutes)) => Finish::HotFirst {
            at_c: celsius(at.parse().expect("degrees")),
            minutes: minutes.trim_end_matches(" min").parse().expect("minutes"),
        },
        None => Finish::None,
    };
    let roast = Roast {
        bone: yes("bone"),
        tied: yes("tied"),
        stuffed: yes("stuffed"),
        start_c: number(row, "start_c"),
        finish,
        ..Roast::of(meat, cut, pounds * POUND, celsius(number(row, "target_f")))
    };
    let cold = yes("cold_oven").then_some(20.0);
    Published {
        name: format!("{} {} {}", row["meat"], row["cut"], row["note"]).trim_end().to_owned(),
        source: source(&row["source"]),
        group: row["group"].clone(),
        pounds,
        roast,
        oven: Oven { start_c: cold, ..Oven::new(heat(&row["heat"]), 100, 200) },
        oven_c: celsius(number(row, "oven_f")),
        minutes: [number(row, "min_lo"), number(row, "min_hi")],
    }
}

/// A row of roasting-fish.csv.
fn fish(row: &Row) -> Published {
    let slab = row["cut"] == "slab";
    let pounds = if slab { 0.0 } else { number(row, "lb") };
    let target_c = celsius(number(row, "target_f"));
    let roast = if slab {
        Roast {
            weight_g: None,
            thickness_mm: Some(number(row, "thickness_mm")),
            ..Roast::of(Meat::Fish, Cut::Slab, 1_000.0, target_c)
        }
    } else {
        Roast::of(Meat::Fish, Cut::Cylinder, pounds * POUND, target_c)
    };
    Published {
        name: row["note"].clone(),
        source: source(&row["source"]),
        group: "fish".to_owned(),
        pounds,
        roast,
        oven: Oven::new(Heat::Static, 100, 200),
        oven_c: celsius(number(row, "oven_f")),
        minutes: [number(row, "min_lo"), number(row, "min_hi")],
    }
}
