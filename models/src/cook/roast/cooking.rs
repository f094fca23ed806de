//! A roast on its way: the body, the air about it, and what it has been through.

use super::{Oven, Point};
use crate::cook::air::cavity;
use crate::cook::cut::Solid;
use crate::cook::fitted::Fitted;
use crate::cook::food::Composition;
use crate::cook::heat::{Axis, Body, Exposure, Material, Surroundings};

/// Cells across a body of one or two directions, and of three.
const CELLS: usize = 14;
const BRICK_CELLS: usize = 10;
/// The layer that must leave the cold range soon, m.
const LAYER: f64 = 0.010;
/// The temperature it must reach, degrees C.
const LAYER_C: f64 = 54.0;

/// A roast at a moment.
#[derive(Clone)]
pub(super) struct Cooking {
    body: Body,
    /// Convection about it in its oven, W/m2K.
    pub(super) convection: f64,
    fitted: Fitted,
    rise: f64,
    fall: f64,
    /// Air of the oven, degrees C.
    pub(super) air: f64,
    /// Seconds of a full step.
    step: f64,
    pub(super) minute: f64,
    /// When the outer layer got past 54 C.
    pub(super) layer_minute: Option<f64>,
    pub(super) course: Vec<Point>,
}

impl Cooking {
    pub(super) fn new(
        solid: Solid,
        food: &Composition,
        start: f64,
        (convection, fitted): (f64, &Fitted),
        oven: &Oven,
        air: f64,
    ) -> Self {
        let fitted = fitted.clone();
        let m = |mm: f64| mm / 1000.0;
        let axes = match solid {
            Solid::Cylinder { diameter_mm, length_mm } => {
                vec![Axis::radius(m(diameter_mm), CELLS), Axis::slab(m(length_mm), CELLS)]
            }
            Solid::Slab { thickness_mm } => vec![Axis::slab(m(thickness_mm), CELLS)],
            Solid::Ball { diameter_mm } => vec![Axis::centre(m(diameter_mm), CELLS)],
            Solid::Brick { thickness_mm, breadth_mm, length_mm } => {
                [thickness_mm, breadth_mm, length_mm].map(|edge| Axis::slab(m(edge), BRICK_CELLS)).to_vec()
            }
        };
        let body = Body::new(axes, Material::food(food, start), start);
        let step = body.step_seconds();
        let (rise, fall) = (oven.rise / 600.0, oven.fall / 600.0);
        let mut cooking =
            Self { body, convection, fitted, rise, fall, air, step, minute: 0.0, layer_minute: None, course: vec![] };
        cooking.note();
        cooking
    }

    pub(super) fn core(&self) -> f64 {
        self.body.core()
    }

    pub(super) fn evaporated_share(&self) -> f64 {
        self.body.evaporated() / self.body.mass()
    }

    /// Minutes of a full step.
    pub(super) fn step_minutes(&self) -> f64 {
        self.step / 60.0
    }

    /// One full step in the oven, its dial at `set` degrees C.
    pub(super) fn oven_step(&mut self, set: f64) {
        self.oven_seconds(set, self.step);
    }

    /// So many minutes in the oven, its dial at `set` degrees C.
    pub(super) fn in_oven(&mut self, set: f64, minutes: f64) {
        let (steps, seconds) = self.division(minutes);
        for _ in 0..steps {
            self.oven_seconds(set, seconds);
        }
    }

    /// So many minutes on the counter, `surroundings` about it; returns the highest core, and the minute of it counted from now.
    pub(super) fn rest(&mut self, minutes: f64, surroundings: Surroundings) -> (f64, f64) {
        let (start, mut peak) = (self.minute, (self.core(), 0.0));
        let (steps, seconds) = self.division(minutes);
        for _ in 0..steps {
            self.body.step(seconds, &Exposure::all_round(surroundings));
            self.minute += seconds / 60.0;
            let core = self.note();
            if core > peak.0 {
                peak = (core, self.minute - start);
            }
        }
        peak
    }

    /// Whether nothing more is to come: the core has all but caught up with the surface.
    pub(super) fn at_rest(&self) -> bool {
        (self.body.surface() - self.core()).abs() < 0.2
    }

    fn division(&self, minutes: f64) -> (usize, f64) {
        let seconds = minutes.max(0.0) * 60.0;
        let steps = (seconds / self.step).ceil();
        (steps as usize, if steps > 0.0 { seconds / steps } else { 0.0 })
    }

    fn oven_seconds(&mut self, set: f64, seconds: f64) {
        let middle = self.air_after(set, seconds / 2.0);
        self.body.step(seconds, &Exposure::all_round(cavity(middle, self.convection, &self.fitted)));
        self.air = self.air_after(set, seconds);
        self.minute += seconds / 60.0;
        self.note();
    }

    fn air_after(&self, set: f64, seconds: f64) -> f64 {
        if set >= self.air {
            (self.air + self.rise * seconds).min(set)
        } else {
            (self.air - self.fall * seconds).max(set)
        }
    }

    fn note(&mut self) -> f64 {
        let core_c = self.core();
        self.course.push(Point { minute: self.minute, core_c, surface_c: self.body.surface() });
        if self.layer_minute.is_none() && self.body.below_surface(LAYER) >= LAYER_C {
            self.layer_minute = Some(self.minute);
        }
        core_c
    }
}
