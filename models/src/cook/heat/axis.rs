//! One direction of a body, cut into cells of equal width.

use std::f64::consts::PI;

/// What the coordinate measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Measure {
    /// From the middle of a slab; the other half is the mirror image.
    Half,
    /// From the bottom of a plate to its top, whose surroundings differ.
    Plate,
    /// From the axis of a cylinder.
    Radius,
    /// From the centre of a ball.
    Centre,
}

/// One direction of a body: face areas and cell volumes per unit of the other directions.
#[derive(Clone, Debug)]
pub struct Axis {
    measure: Measure,
    pub(super) width: f64,
    pub(super) areas: Vec<f64>,
    pub(super) volumes: Vec<f64>,
}

impl Axis {
    /// Across a slab `thickness` metres thick, both faces alike.
    pub fn slab(thickness: f64, cells: usize) -> Self {
        Self::new(Measure::Half, thickness / 2.0, cells)
    }

    /// From the bottom to the top of a plate `thickness` metres thick; the near face is the bottom.
    pub fn plate(thickness: f64, cells: usize) -> Self {
        Self::new(Measure::Plate, thickness, cells)
    }

    /// From the axis of a cylinder `diameter` metres thick.
    pub fn radius(diameter: f64, cells: usize) -> Self {
        Self::new(Measure::Radius, diameter / 2.0, cells)
    }

    /// From the centre of a ball `diameter` metres thick.
    pub fn centre(diameter: f64, cells: usize) -> Self {
        Self::new(Measure::Centre, diameter / 2.0, cells)
    }

    fn new(measure: Measure, length: f64, cells: usize) -> Self {
        let cells = cells.max(2);
        let width = length / cells as f64;
        let area = |x: f64| match measure {
            Measure::Half => 2.0,
            Measure::Plate => 1.0,
            Measure::Radius => 2.0 * PI * x,
            Measure::Centre => 4.0 * PI * x * x,
        };
        let within = |x: f64| match measure {
            Measure::Half => 2.0 * x,
            Measure::Plate => x,
            Measure::Radius => PI * x * x,
            Measure::Centre => 4.0 / 3.0 * PI * x * x * x,
        };
        let edge = |i: usize| i as f64 * width;
        Self {
            measure,
            width,
            areas: (0..=cells).map(|i| area(edge(i))).collect(),
            volumes: (0..cells).map(|i| within(edge(i + 1)) - within(edge(i))).collect(),
        }
    }

    /// How many cells.
    pub fn cells(&self) -> usize {
        self.volumes.len()
    }

    /// Whether the near end is a surface too, and not a plane or point of symmetry.
    pub(super) fn open_near(&self) -> bool {
        self.measure == Measure::Plate
    }

    /// Which cells, with which weights, give the value at the middle: a parabola through the first two cells about a
    /// point of symmetry, the mean of the two middle cells of a plate.
    pub(super) fn middle(&self) -> [(usize, f64); 2] {
        match self.measure {
            Measure::Plate => [((self.cells() - 1) / 2, 0.5), (self.cells() / 2, 0.5)],
            _ => [(0, 9.0 / 8.0), (1, -1.0 / 8.0)],
        }
    }
}
