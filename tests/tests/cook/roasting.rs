//! Published roasting times against the model, in a table that is generated and kept in the docs.
//!
//! Reference: the tables of tests/data/reference/roasting*.csv (charts, institutions, pieces of fish; each row names its
//! source) and carryover.csv (Lowe, *Experimental Cookery*, 1932). `RANGEWRIGHT_UPDATE=1 cargo test -p rangewright-tests
//! --test cook` writes the table.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use super::published::{Published, TRADE, published};
use super::table::{number, rows};
use rangewright::models::cook::fitted::{BodyKind, Fitted};
use rangewright::models::cook::roast::{Finish, Oven, Roast, forecast, solid};
use rangewright::models::cook::{Calibration, CarryOver, Cover, Cut, Meat, Solid};
use rangewright::models::problem::Heat;

const POUND: f64 = 453.592;

/// What a row is called in a table.
type Named = fn(&Published) -> &str;
/// Which rows a table shows.
type Chosen = fn(&Compared) -> bool;

/// A published row with what the model makes of it.
struct Compared {
    row: Published,
    minutes: f64,
    /// The range that a cook is told the first time.
    range: [f64; 2],
}

impl Compared {
    fn of(row: Published, minutes: f64) -> Self {
        let range = Calibration::default().range(&row.roast).map(|factor| factor * minutes);
        Self { row, minutes, range }
    }

    fn error(&self) -> f64 {
        (self.minutes / self.row.middle()).ln()
    }

    fn trade(&self) -> bool {
        self.row.source == TRADE
    }

    fn inside(&self) -> bool {
        (self.range[0]..=self.range[1]).contains(&self.row.middle())
    }

    fn line(&self) -> String {
        let row = &self.row;
        let body = match solid(&row.roast).expect("the same roast has been cooked") {
            Solid::Cylinder { diameter_mm, length_mm } => format!("{diameter_mm:.0} x {length_mm:.0}"),
            Solid::Brick { thickness_mm, breadth_mm, .. } => format!("{thickness_mm:.0} x {breadth_mm:.0}"),
            other => panic!("no such row: {other:?}"),
        };
        let weight = if row.pounds > 0.0 { format!("{:.1}", row.pounds) } else { String::new() };
        let cold = if row.oven.start_c.is_some() { ", put in cold" } else { "" };
        let hot = if row.roast.finish == Finish::None { "" } else { ", hot first" };
        format!(
            "| {} | {} | {} | {:.0} {}{cold}{hot} | {:.0} | {body} | {:.0}-{:.0} | {:.0} | {:+.0} % | {:.0}-{:.0} | {} |",
            row.source,
            row.name,
            weight,
            row.oven_c,
            if row.oven.heat == Heat::Fan { "fan" } else { "still" },
            row.roast.target_c,
            row.minutes[0],
            row.minutes[1],
            self.minutes,
            100.0 * (self.minutes / row.middle() - 1.0),
            self.range[0],
            self.range[1],
            if self.inside() { "yes" } else { "NO" }
        )
    }
}

const HEADER: &str = "| source | row | lb | oven C | to C | thickness x length mm | published min | model | error | first-time range | middle inside |\n|---|---|---|---|---|---|---|---|---|---|---|";

fn compared() -> (Vec<Compared>, Vec<(String, &'static str)>) {
    let (rows, mut left) = published();
    let mut done = Vec::new();
    for row in rows {
        match row.modelled(&Fitted::FOUND) {
            Ok(minutes) => done.push(Compared::of(row, minutes)),
            Err(_) => left.push((row.name, "the model does not get there: its surface stays too cool")),
        }
    }
    (done, left)
}

/// The same rows as the fit forecast each of them with its whole source left out.
fn left_out() -> Vec<Compared> {
    let mut told = rows("roasting-left-out.csv").into_iter();
    let (all, _) = published();
    let fitted = all.into_iter().filter(|row| row.source != TRADE);
    let found = fitted.map(|row| {
        let told = told.next().expect("a row left out for each row fitted: run `fit` again");
        assert_eq!((&told["source"], &told["name"]), (&row.source, &row.name), "run `fit` again");
        Compared::of(row, number(&told, "left_out_min"))
    });
    let found: Vec<Compared> = found.collect();
    assert!(told.next().is_none(), "more rows left out than there are: run `fit` again");
    found
}

fn mean(errors: &[f64]) -> f64 {
    errors.iter().sum::<f64>() / errors.len() as f64
}

/// Errors by group, or by whatever else a row has.
fn by<'a>(done: &'a [Compared], what: impl Fn(&'a Published) -> &'a str) -> BTreeMap<&'a str, Vec<f64>> {
    let mut groups: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for compared in done {
        groups.entry(what(&compared.row)).or_default().push(compared.error());
    }
    groups
}

/// The share of rows whose published middle is in the printed range.
fn coverage(done: &[Compared]) -> f64 {
    done.iter().filter(|compared| compared.inside()).count() as f64 / done.len() as f64
}

fn errors(done: &[Compared]) -> Vec<f64> {
    done.iter().map(Compared::error).collect()
}

/// One published carry-over: pull, published rise, and the model's band.
struct Rise {
    item: String,
    pull: f64,
    rest_min: f64,
    published: [f64; 2],
    band: CarryOver,
}

impl Rise {
    /// Whether what was published and what is printed have a degree in common.
    fn inside(&self) -> bool {
        let [lo, hi] = self.band.band_c;
        self.published[0] <= hi + 0.05 && self.published[1] >= lo - 0.05
    }
}

/// The rise of a roast that is pulled at a centre: its target is looked for until its way says so.
fn rise_at(roast: &Roast, oven_c: i64, pull: f64) -> Option<CarryOver> {
    let (mut lo, mut hi) = (pull, (pull + 15.0).min(90.0));
    let mut found: Option<(f64, CarryOver)> = None;
    for _ in 0..12 {
        let target_c = (lo + hi) / 2.0;
        let oven = Oven::new(Heat::Static, oven_c, oven_c);
        let Ok(forecast) = forecast(&Roast { target_c, ..*roast }, &oven) else {
            hi = target_c;
            continue;
        };
        let way = &forecast.ways[0];
        let band_c = way.peak_band_c.map(|peak| peak - way.pull_c);
        let rise = CarryOver { rise_c: way.peak_c - way.pull_c, band_c, peak_after_min: way.peak_after_min };
        found = Some((way.pull_c, rise));
        if way.pull_c > pull {
            hi = target_c;
        } else {
            lo = target_c;
        }
    }
    found.filter(|(at, _)| (at - pull).abs() < 0.5).map(|(_, rise)| rise)
}

fn meat_and_cut(words: &str) -> (Meat, Cut) {
    match words.split(' ').next().expect("a word") {
        "prime" | "rib" => (Meat::Beef, Cut::Rib),
        "ham" => (Meat::Pork, Cut::Leg),
        "veal" => (Meat::Veal, Cut::Leg),
        "lamb" => (Meat::Lamb, Cut::Leg),
        "pork" => (Meat::Pork, Cut::Loin),
        "round" => (Meat::Beef, Cut::Round),
        "fillet" => (Meat::Beef, Cut::Fillet),
        other => panic!("what is {other}"),
    }
}

fn rises() -> (Vec<Rise>, Vec<String>) {
    let (mut rises, mut missed) = (Vec::new(), Vec::new());
    for row in rows("carryover.csv").into_iter().filter(|row| row["rise_C"].parse::<f64>().is_ok()) {
        let item = row["item"].clone();
        let published = [number(&row, "rise_C"); 2];
        let pounds = match item.split_once("mean ") {
            Some((_, rest)) => rest.split(' ').next().and_then(|n| n.parse().ok()).expect("pounds"),
            None if item.starts_with("rib rare") => 9.5,
            None => continue,
        };
        if item.contains("boiled") {
            missed.push(format!("{item}: boiled, not roasted"));
            continue;
        }
        let (meat, cut) = meat_and_cut(&item);
        let (pull, rest_min) = (number(&row, "pull_C"), if item.contains("30 min") { 30.0 } else { 90.0 });
        let roast = Roast { bone: true, rest_min, ..Roast::of(meat, cut, pounds * POUND, 60.0) };
        match rise_at(&roast, 150, pull) {
            Some(band) => rises.push(Rise { item, pull, rest_min, published, band }),
            None => missed.push(format!("{item}: the model does not get to a pull of {pull:.0} C in that oven")),
        }
    }
    for row in rows("carryover-more.csv") {
        let or = |column: &str, otherwise: f64| row[column].parse().unwrap_or(otherwise);
        let words = if row["meat"] == "lamb" { "lamb" } else { row["cut"].as_str() };
        let (meat, cut) = meat_and_cut(words);
        let pounds = (or("lb_lo", 4.0) + or("lb_hi", 4.0)) / 2.0;
        let (pull, rest_min) = ((or("out_f", 140.0) - 32.0) / 1.8, or("rest_min", 15.0));
        let bone = row["cut"].contains("bone-in");
        let roast = Roast { bone, rest_min, ..Roast::of(meat, cut, pounds * POUND, 60.0) };
        let oven_c = ((number(&row, "oven_f") - 32.0) / 1.8).round() as i64;
        let published = [number(&row, "rise_f_lo") / 1.8, number(&row, "rise_f_hi") / 1.8];
        let item = format!("{} {pounds:.1} lb at {} F ({})", row["cut"], row["oven_f"], row["source"]);
        match rise_at(&roast, oven_c, pull) {
            Some(band) => rises.push(Rise { item, pull, rest_min, published, band }),
            None => missed.push(format!("{item}: not reached")),
        }
    }
    (rises, missed)
}

fn rms(errors: &[f64]) -> f64 {
    mean(&errors.iter().map(|e| e * e).collect::<Vec<_>>()).sqrt()
}

const INTRODUCTION: &str = "## Against published tables

This page is generated by the test `cook` and is checked to be current. Rows and their sources:
`tests/data/reference/roasting.csv`, `roasting-more.csv` and `roasting-fish.csv`. Error is against the middle of the
published minutes, at the middle of the published weights, to the target with no rest.

### How the constants were found

`cargo run --release -p rangewright-benches --bin fit` finds them again: least squares on the logarithm of the minutes over
every row but the rules of the trade. Each constant has a prior, where physics or the shape of the cut puts it and how far
from there it may go: a cut is a bar so many times as long as it is thick, held to that within 4 %, for freer constants fit
the rows better and forecast worse what is left out. How far they may go was itself chosen by that forecast (15.1 % rms
with freer ones), so the figures below are a little kind to it; that a crust grows in this way, and that nothing condenses,
are our assumptions. A row far out pulls no harder than one at two spreads; every source has
an offset of its own, for tables of minutes per pound disagree among themselves by a fifth, and a slow table is not to drag
the model along. Then each source is left out whole, the rest fitted again, and its rows forecast: those are the figures to
trust. With the path `tests/data/reference/roasting-left-out.csv` the program writes them where this page reads them. Of small
groups (duck and goose, shoulder, veal, fish) the constant of the cut rests on its own few rows, and leaving them out leaves
its prior. An eye of round has no constant: it is a bar twice as long as it is thick, for the two published rows lie a factor
of two apart.
";

fn document() -> String {
    let (done, left) = compared();
    let (trade, done): (Vec<Compared>, Vec<Compared>) = done.into_iter().partition(Compared::trade);
    let without = left_out();
    let mut text = String::new();
    let mut say = |line: &str| writeln!(text, "{line}").expect("a string takes any line");
    let percent = |share: f64| format!("{:+.1} %", 100.0 * share);
    say(INTRODUCTION);
    say("| over | rows | rms of the logarithm | mean | middles inside the first-time range |");
    say("|---|---|---|---|---|");
    for (what, some) in [("all rows, fitted", &done), ("each row with its source left out", &without)] {
        let errors = errors(some);
        let (rms, inside) = (100.0 * rms(&errors), 100.0 * coverage(some));
        say(&format!("| {what} | {} | {rms:.1} % | {} | {inside:.0} % |", errors.len(), percent(mean(&errors))));
    }
    say("");
    let found = Fitted::FOUND;
    say(&format!(
        "Convection {:.1} W/m2K in a still oven and {:.1} with a fan about a roast of {:.0} mm, wet conductance {:.1} W/m2K at",
        found.still,
        found.fan,
        Fitted::THICKNESS,
        found.wet
    ));
    say(&format!(
        "first and half of that when {:.1} kg of water have gone off a square metre: a crust has grown.",
        found.crust
    ));
    say(&format!(
        "Vapour {:.1} kPa at 150 C, a hot tin under a flat piece {:.0} W/m2K. Thickness grows with the weight by the power {:.3}",
        found.vapour / 1_000.0,
        found.tray,
        found.growth
    ));
    say(&format!(
        "(a rib on its bones {:.3}); a tied fillet or boneless rib is {:.2} times as thick. At 5 lb:",
        found.rib_growth, found.tied
    ));
    say("");
    for (kind, mm) in BodyKind::ALL.iter().zip(found.thickness) {
        say(&format!("- {kind:?}: {mm:.0} mm"));
    }
    let kinds: [(&str, Named); 2] = [("By group", |row| &row.group), ("By source", |row| &row.source)];
    for (title, what) in kinds {
        let (fitted, others) = (by(&done, what), by(&without, what));
        say(&format!("\n### {title}\n"));
        say("| | rows | mean | rms | mean, source left out | rms, source left out | in the range, source left out |");
        say("|---|---|---|---|---|---|---|");
        for (name, own) in fitted {
            let other = &others[name];
            let (own_rms, other_rms) = (100.0 * rms(&own), 100.0 * rms(other));
            let (own_mean, other_mean) = (percent(mean(&own)), percent(mean(other)));
            let held = without.iter().filter(|row| what(&row.row) == name && row.inside()).count();
            say(&format!(
                "| {name} | {} | {own_mean} | {own_rms:.1} % | {other_mean} | {other_rms:.1} % | {held} |",
                own.len()
            ));
        }
    }
    let large: Chosen = |c| c.row.group.starts_with("rib bone-in") && c.row.pounds >= 7.0;
    let low: Chosen = |c| c.row.oven_c < 145.0;
    let tables: [(&str, Chosen); 5] = [
        ("Large ribs on their bones", large),
        ("Turkeys with a fan", |c| c.row.group == "turkey fan"),
        ("Low ovens", low),
        ("Fillets", |c| c.row.roast.cut == Cut::Fillet),
        ("Fish", |c| c.row.group == "fish"),
    ];
    let mut shown = vec![false; done.len()];
    for (title, belongs) in tables {
        say(&format!("\n### {title}\n\n{HEADER}"));
        for (compared, shown) in done.iter().zip(&mut shown).filter(|(compared, _)| belongs(compared)) {
            say(&compared.line());
            *shown = true;
        }
    }
    say(&format!("\n### All others\n\n{HEADER}"));
    for (compared, _) in done.iter().zip(&shown).filter(|(_, shown)| !**shown) {
        say(&compared.line());
    }
    say(&format!("\n### Common practice, no source: extra checks that nothing is fitted to\n\n{HEADER}"));
    trade.iter().for_each(|compared| say(&compared.line()));
    say("\n### Not reproduced: the published middle lies outside the first-time range\n");
    for c in done.iter().chain(&trade).filter(|c| !c.inside()) {
        let by = (c.range[0] - c.row.middle()).max(c.row.middle() - c.range[1]);
        say(&format!(
            "- {}, {} ({:.1} lb, {:.0} C): published {:.0} to {:.0} min, range {:.0} to {:.0} min, outside by {by:.0} min.",
            c.row.source,
            c.row.name,
            c.row.pounds,
            c.row.oven_c,
            c.row.minutes[0],
            c.row.minutes[1],
            c.range[0],
            c.range[1],
        ));
    }
    say("\nNot compared:\n");
    for (name, why) in &left {
        say(&format!("- {name}: {why}."));
    }
    carry_over(&mut say);
    text
}

fn carry_over(say: &mut dyn FnMut(&str)) {
    say("");
    say(CARRY_OVER);
    let (rises, missed) = rises();
    let inside = rises.iter().filter(|rise| rise.inside()).count();
    say(&format!("{inside} of {} published rises meet the printed band.\n", rises.len()));
    say("| roast | pull C | rest min | published rise C | planned rise C | band C | peak after min | inside |");
    say("|---|---|---|---|---|---|---|---|");
    for r in rises {
        let ([lo, hi], [least, most]) = (r.band.band_c, r.published);
        say(&format!(
            "| {} | {:.0} | {:.0} | {} | {:.1} | {lo:.1}-{hi:.1} | {:.0} | {} |",
            r.item,
            r.pull,
            r.rest_min,
            if least == most { format!("{least:.1}") } else { format!("{least:.1}-{most:.1}") },
            r.band.rise_c,
            r.band.peak_after_min,
            if r.inside() { "yes" } else { "NO" }
        ));
    }
    say("");
    for line in missed {
        say(&format!("- Not compared: {line}."));
    }
}

const CARRY_OVER: &str = "### Carry-over

Measured by Lowe, *Experimental Cookery* (1932), mean values; her oven is not known and is taken as a still one at 150 C, 90
minutes of rest. Below them rises that institutions publish, most of them a round five or ten degrees Fahrenheit; where they
leave it out, a pull of 60 C, 4 lb or a rest of 15 minutes is taken. Loosely covered throughout. A model's rise of r is
planned as r / (1 + r / 10) (wrapped: 20), the band is 0.6 to 1.3 of that and 2.5 degrees more at its top; these were read
off the same rows.
";

#[test]
fn the_table_in_the_docs_is_current() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../models/src/cook/ROASTING.md");
    let fresh = document();
    if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
        fs::write(&path, &fresh).expect("the docs are writable");
    }
    let kept = fs::read_to_string(&path).expect("ROASTING.md");
    assert!(kept == fresh, "ROASTING.md is out of date: run with RANGEWRIGHT_UPDATE=1");
}

#[test]
fn published_minutes_are_met() {
    let (done, _) = compared();
    let done: Vec<Compared> = done.into_iter().filter(|compared| !compared.trade()).collect();
    let all = rms(&errors(&done));
    assert!(done.len() > 80 && all < 0.15, "rms {all} over {} rows", done.len());
    for (group, errors) in by(&done, |row| &row.group).into_iter().filter(|(_, errors)| errors.len() >= 4) {
        assert!(mean(&errors).abs() < 0.20, "{group}: {errors:?}");
    }
}

#[test]
fn the_printed_range_holds_nine_in_ten_of_sources_left_out() {
    let without = left_out();
    let held = coverage(&without);
    assert!((0.85..=0.95).contains(&held), "{held}");
    // What the fit wrote down is of this model: it lies about what the constants of all rows give.
    let done: Vec<Compared> = compared().0.into_iter().filter(|compared| !compared.trade()).collect();
    let apart: Vec<f64> = done.iter().zip(&without).map(|(a, b)| (a.minutes / b.minutes).ln()).collect();
    assert!(rms(&apart) < 0.10 && mean(&apart).abs() < 0.03, "run `fit` again: {}", rms(&apart));
}

#[test]
fn published_rises_meet_the_band() {
    let (rises, _) = rises();
    let out: Vec<&str> = rises.iter().filter(|rise| !rise.inside()).map(|rise| rise.item.as_str()).collect();
    assert!(rises.len() >= 15 && out.len() * 5 <= rises.len(), "{out:?} of {}", rises.len());
}

#[test]
fn a_slim_roast_rises_little_unless_it_is_wrapped() {
    // carryover-more.csv: 10 F open; 18 to 21 F are published only for one that was wrapped tight.
    let roast = |cover| Roast { cover, rest_min: 20.0, ..Roast::of(Meat::Beef, Cut::Fillet, 4.5 * POUND, 60.0) };
    let [open, tented, wrapped] =
        Cover::ALL.map(|cover| rise_at(&roast(cover), 218, 43.0).expect("it is reached").rise_c);
    assert!(open <= tented && tented < wrapped, "{open} {tented} {wrapped}");
    assert!(open * 1.8 < 14.0 && (16.0..22.0).contains(&(wrapped * 1.8)), "{open} {wrapped}");
}

#[test]
fn a_hot_finish_adds_about_what_the_reference_says() {
    // roasting.md: a last 10 to 12 minutes at 204 to 260 C leave the core about 5.7 C higher (recomputed there).
    let finish = Finish::HotLast { at_c: 230.0, minutes: 11.0, gap_min: 0.0 };
    let roast = Roast {
        bone: true,
        thickness_mm: Some(125.0),
        length_mm: Some(200.0),
        finish,
        ..Roast::of(Meat::Beef, Cut::Rib, 4300.0, 60.0)
    };
    let oven = Oven { rise: 1000.0, ..Oven::new(Heat::Fan, 150, 150) };
    let way = &forecast(&roast, &oven).expect("a way").ways[0];
    let rise = way.pull_c - way.long_end_c;
    assert!((4.0..=7.0).contains(&rise), "{rise}");
}
