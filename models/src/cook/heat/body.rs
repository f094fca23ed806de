//! A body on a grid, and one step of time.
//!
//! Finite volumes on the product of up to three [`Axis`]es; each step solves one direction after the other (locally
//! one-dimensional splitting, the order turned round every step), each implicitly along its lines. Time is weighted half
//! and half (Crank-Nicolson) as long as that cannot overshoot, and further towards the end of the step beyond. Surface
//! fluxes are linearised about the start of the step. So the scheme is second order in space, stable for any step, and
//! keeps between the coldest and the hottest thing it sees.

use super::{Axis, Material, Surroundings};

/// What each end of an axis sees: the near end of a plate, and every other surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposure {
    /// The bottom of a plate.
    pub near: Surroundings,
    /// Every other surface.
    pub far: Surroundings,
}

impl Exposure {
    /// The same all round.
    pub fn all_round(surroundings: Surroundings) -> Self {
        Self { near: surroundings, far: surroundings }
    }
}

/// A body with a temperature in every cell.
#[derive(Clone, Debug)]
pub struct Body {
    axes: Vec<Axis>,
    strides: Vec<usize>,
    material: Material,
    temperatures: Vec<f64>,
    conductivities: Vec<f64>,
    heats: Vec<f64>,
    /// The last surface temperature of each line at each end of each axis: where Newton's method starts.
    surfaces: Vec<[Vec<f64>; 2]>,
    /// Water that has gone off there, kg/m2.
    gone: Vec<[Vec<f64>; 2]>,
    reversed: bool,
    absorbed: f64,
    evaporated: f64,
    /// The greatest diffusivity, m2/s.
    diffusivity: f64,
    line: Line,
}

/// One line of cells, copied together, and the elimination along it.
#[derive(Clone, Debug, Default)]
struct Line {
    temperature: Vec<f64>,
    conductivity: Vec<f64>,
    /// Heat capacity of the cells over the step, W/K.
    inertia: Vec<f64>,
    upper: Vec<f64>,
    change: Vec<f64>,
}

/// One end of a line in one step: its surface, what flows in, how that falls as the cell warms, what evaporates.
struct Edge {
    surface: f64,
    flow: f64,
    slope: f64,
    water: f64,
    /// The same off a square metre, kg/m2s.
    evaporation: f64,
}

impl Edge {
    fn new(surroundings: &Surroundings, inner: f64, t: f64, area: f64, start: f64) -> Self {
        let (surface, flux) = surroundings.surface(inner, t, start);
        let slope = -inner * flux.slope / (inner - flux.slope);
        Self {
            surface,
            flow: inner * (surface - t) * area,
            slope: slope * area,
            water: flux.evaporation * area,
            evaporation: flux.evaporation,
        }
    }

    fn closed() -> Self {
        Self { surface: 0.0, flow: 0.0, slope: 0.0, water: 0.0, evaporation: 0.0 }
    }
}

impl Body {
    /// A body of `material` at `t` degrees C throughout; its directions are `axes` (one to three).
    pub fn new(axes: Vec<Axis>, material: Material, t: f64) -> Self {
        let mut strides = Vec::with_capacity(axes.len());
        let mut cells = 1;
        for axis in &axes {
            strides.push(cells);
            cells *= axis.cells();
        }
        let diffusivity = material.fastest_diffusivity();
        let at_every_end =
            |value: f64| axes.iter().map(|axis| [(); 2].map(|()| vec![value; cells / axis.cells()])).collect();
        let (surfaces, gone) = (at_every_end(t), at_every_end(0.0));
        let mut body = Self {
            axes,
            strides,
            material,
            temperatures: vec![t; cells],
            conductivities: vec![0.0; cells],
            heats: vec![0.0; cells],
            surfaces,
            gone,
            reversed: false,
            absorbed: 0.0,
            evaporated: 0.0,
            diffusivity,
            line: Line::default(),
        };
        body.update_properties();
        body
    }

    /// The longest step, in seconds, that Crank-Nicolson takes without any overshoot; never under one second nor over a
    /// minute.
    pub fn step_seconds(&self) -> f64 {
        let narrowest = self.axes.iter().map(|axis| axis.width).fold(f64::INFINITY, f64::min);
        (0.6 * narrowest * narrowest / self.diffusivity).clamp(1.0, 60.0)
    }

    /// Moves on by `seconds`.
    pub fn step(&mut self, seconds: f64, exposure: &Exposure) {
        self.update_properties();
        for turn in 0..self.axes.len() {
            let a = if self.reversed { self.axes.len() - 1 - turn } else { turn };
            self.sweep(a, seconds, exposure);
        }
        self.reversed = !self.reversed;
    }

    /// The temperature in the middle, degrees C.
    pub fn core(&self) -> f64 {
        let mut points = vec![(0_usize, 1.0)];
        for (axis, stride) in self.axes.iter().zip(&self.strides) {
            let ends = axis.middle();
            points = points
                .iter()
                .flat_map(|&(index, weight)| ends.map(|(i, w)| (index + i * stride, weight * w)))
                .collect();
        }
        points.iter().map(|&(index, weight)| weight * self.temperatures[index]).sum()
    }

    /// The temperature `depth` metres under the middle of the far face of the first axis, degrees C.
    pub fn below_surface(&self, depth: f64) -> f64 {
        let axis = &self.axes[0];
        let cells = axis.cells();
        let cell = (depth / axis.width) as usize;
        self.temperatures[cells - 1 - cell.min(cells - 1)]
    }

    /// The temperature of the middle of the far face of the first axis, degrees C, as of the last step.
    pub fn surface(&self) -> f64 {
        self.surfaces[0][1][0]
    }

    /// The hottest cell, degrees C.
    pub fn hottest(&self) -> f64 {
        self.temperatures.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    }

    /// The coldest cell, degrees C.
    pub fn coldest(&self) -> f64 {
        self.temperatures.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// Mean temperature by volume, degrees C.
    pub fn mean(&self) -> f64 {
        let (mut sum, mut volume) = (0.0, 0.0);
        for (index, &t) in self.temperatures.iter().enumerate() {
            let v = self.volume(index);
            sum += v * t;
            volume += v;
        }
        sum / volume
    }

    /// Heat held above 0 C, J.
    pub fn enthalpy(&self) -> f64 {
        let each = self.temperatures.iter().enumerate();
        each.map(|(index, &t)| self.volume(index) * self.material.volumetric_enthalpy(t)).sum()
    }

    /// Heat taken up through the surfaces since the start, J.
    pub fn absorbed(&self) -> f64 {
        self.absorbed
    }

    /// Water evaporated since the start, kg.
    pub fn evaporated(&self) -> f64 {
        self.evaporated
    }

    /// Mass, kg.
    pub fn mass(&self) -> f64 {
        self.axes.iter().map(|axis| axis.volumes.iter().sum::<f64>()).product::<f64>() * self.material.density()
    }

    fn volume(&self, index: usize) -> f64 {
        let each = self.axes.iter().zip(&self.strides);
        each.map(|(axis, stride)| axis.volumes[index / stride % axis.cells()]).product()
    }

    fn update_properties(&mut self) {
        for (index, &t) in self.temperatures.iter().enumerate() {
            (self.conductivities[index], self.heats[index]) = self.material.both(t);
        }
    }

    /// Solves every line along axis `a`, implicitly.
    fn sweep(&mut self, a: usize, seconds: f64, exposure: &Exposure) {
        let (cells, stride, width) = (self.axes[a].cells(), self.strides[a], self.axes[a].width);
        let fourier = seconds * self.diffusivity / (width * width);
        let late = (1.0 - 1.0 / (3.2 * fourier)).max(0.5);
        for line in 0..self.temperatures.len() / cells {
            let first = line / stride * stride * cells + line % stride;
            self.gather(a, first, seconds);
            let ends = self.ends(a, line, exposure);
            self.line.solve(&self.axes[a], late, &ends);
            let along = self.temperatures[first..].iter_mut().step_by(stride);
            along.zip(&self.line.change).for_each(|(t, change)| *t += change);

            let across: f64 = (0..self.axes.len())
                .filter(|&other| other != a)
                .map(|other| self.axes[other].volumes[first / self.strides[other] % self.axes[other].cells()])
                .product();
            for (end, cell) in [(0, 0), (1, cells - 1)] {
                let edge = &ends[end];
                self.absorbed += seconds * (edge.flow - late * edge.slope * self.line.change[cell]) * across;
                self.evaporated += seconds * edge.water * across;
                self.surfaces[a][end][line] = edge.surface;
                self.gone[a][end][line] += seconds * edge.evaporation;
            }
        }
    }

    /// Copies one line together.
    fn gather(&mut self, a: usize, first: usize, seconds: f64) {
        let stride = self.strides[a];
        let volumes = &self.axes[a].volumes;
        let line = &mut self.line;
        let along = |values: &[f64], into: &mut Vec<f64>| {
            into.clear();
            into.extend(values[first..].iter().step_by(stride).take(volumes.len()));
        };
        along(&self.temperatures, &mut line.temperature);
        along(&self.conductivities, &mut line.conductivity);
        along(&self.heats, &mut line.inertia);
        line.inertia.iter_mut().zip(volumes).for_each(|(heat, volume)| *heat *= volume / seconds);
    }

    /// What happens at both ends of the line that was gathered.
    fn ends(&self, a: usize, line: usize, exposure: &Exposure) -> [Edge; 2] {
        let (axis, last) = (&self.axes[a], self.axes[a].cells() - 1);
        let edge = |end: usize, cell: usize, surroundings: &Surroundings, area: f64| {
            let inner = 2.0 * self.line.conductivity[cell] / axis.width;
            let surroundings = surroundings.over_a_crust(self.gone[a][end][line]);
            Edge::new(&surroundings, inner, self.line.temperature[cell], area, self.surfaces[a][end][line])
        };
        let near = if axis.open_near() { edge(0, 0, &exposure.near, axis.areas[0]) } else { Edge::closed() };
        [near, edge(1, last, &exposure.far, axis.areas[last + 1])]
    }
}

impl Line {
    /// Finds the change of every cell: forward elimination and back substitution.
    fn solve(&mut self, axis: &Axis, late: f64, [near, far]: &[Edge; 2]) {
        let (t, k) = (&self.temperature, &self.conductivity);
        let last = t.len() - 1;
        self.upper.clear();
        self.change.clear();
        let (mut below, mut inflow, mut upper, mut change) = (0.0, near.flow, 0.0, 0.0);
        for i in 0..=last {
            let (above, outflow, held) = if i < last {
                let above = (k[i] + k[i + 1]) / 2.0 * axis.areas[i + 1] / axis.width;
                (above, above * (t[i] - t[i + 1]), 0.0)
            } else {
                (0.0, -far.flow, far.slope)
            };
            let held = if i == 0 { held + near.slope } else { held };
            let pivot = 1.0 / (self.inertia[i] + late * (below + above + held) - late * below * upper);
            change = (inflow - outflow + late * below * change) * pivot;
            upper = late * above * pivot;
            self.upper.push(upper);
            self.change.push(change);
            (below, inflow) = (above, outflow);
        }
        for i in (0..last).rev() {
            self.change[i] += self.upper[i] * self.change[i + 1];
        }
    }
}
