//! A piece as the roast model takes it, and the roasts of the past.

use super::super::told;
use crate::compile::found::Found;
use crate::cook::roast::{Finish, Oven, Roast};
use crate::cook::{Calibration, PastRoast, calibrate};
use crate::kitchen::{Kitchen, Past};
use crate::menu::{Piece, Start};
use crate::units::Temperature;

/// What the log of a kitchen teaches; a wrong entry is noted and left out.
pub(in crate::compile) fn calibration(kitchen: &Kitchen, found: &mut Found<'_>) -> Calibration {
    let mut log = Vec::new();
    for past in &kitchen.log {
        let entry = past_roast(past);
        match calibrate(&[entry]) {
            Ok(_) => log.push(entry),
            Err(fault) => told::refused(&fault, past.origin, found),
        }
    }
    // Each entry was accepted by itself.
    calibrate(&log).unwrap_or_default()
}

fn past_roast(past: &Past) -> PastRoast {
    let pull_c = past.pulled.celsius();
    let roast = roast_of(&past.piece, past.piece.weight, past.pulled, 0, Finish::None);
    let around = |t: i64| t.clamp(80, 260);
    let at = past.at.whole();
    let oven = Oven::new(past.heat, around(at - 10), around(at + 10));
    PastRoast { roast, oven, oven_c: past.at.celsius(), minutes: past.took as f64, pull_c }
}

pub(super) fn roast_of(piece: &Piece, weight: Option<i64>, to: Temperature, rest: i64, finish: Finish) -> Roast {
    let real = |value: Option<i64>| value.map(|value| value as f64);
    let start_c = match piece.start {
        Start::At(t) => t.celsius(),
        // It is thawed in the refrigerator first.
        Start::Fridge | Start::Frozen => 5.0,
    };
    Roast {
        weight_g: real(weight),
        thickness_mm: real(piece.thickness),
        breadth_mm: real(piece.breadth),
        length_mm: real(piece.length),
        bone: piece.bone,
        tied: piece.tied,
        stuffed: piece.stuffed,
        handling: piece.handling,
        start_c,
        rest_min: rest as f64,
        finish,
        ..Roast::of(piece.meat, piece.cut, 0.0, to.celsius())
    }
}
