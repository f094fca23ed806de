//! What a body is made of, tabulated so that a time step need not mix components.

use crate::cook::food::Composition;

/// Temperatures at which the table is kept, degrees C: 0, 1, ... 150.
const LAST: usize = 150;

/// Conductivity and heat capacity by temperature, and one density: mass is conserved in a body that does not swell.
#[derive(Clone, Debug)]
pub struct Material {
    density: f64,
    conductivity: Vec<f64>,
    heat_capacity: Vec<f64>,
    /// Heat held above 0 C, J/kg.
    enthalpy: Vec<f64>,
}

impl Material {
    /// Food of a composition; its density is taken at `t` degrees C, where it goes in.
    pub fn food(composition: &Composition, t: f64) -> Self {
        Self::table(composition.density(t), |t| composition.conductivity(t), |t| composition.heat_capacity(t))
    }

    /// A material with the same properties at every temperature: W/mK, kg/m3, J/kgK.
    pub fn constant(conductivity: f64, density: f64, heat_capacity: f64) -> Self {
        Self::table(density, |_| conductivity, |_| heat_capacity)
    }

    fn table(density: f64, k: impl Fn(f64) -> f64, cp: impl Fn(f64) -> f64) -> Self {
        let degrees = || (0..=LAST).map(|t| t as f64);
        let heat_capacity: Vec<f64> = degrees().map(cp).collect();
        let mut enthalpy = vec![0.0];
        for pair in heat_capacity.windows(2) {
            enthalpy.push(enthalpy.last().copied().unwrap_or(0.0) + (pair[0] + pair[1]) / 2.0);
        }
        Self { density, conductivity: degrees().map(k).collect(), heat_capacity, enthalpy }
    }

    /// Density, kg/m3.
    pub fn density(&self) -> f64 {
        self.density
    }

    /// Conductivity, W/mK, at `t` degrees C; held at its end values outside 0..=150.
    pub fn conductivity(&self, t: f64) -> f64 {
        let (i, part) = place(t);
        self.conductivity[i] + part * (self.conductivity[i + 1] - self.conductivity[i])
    }

    /// Conductivity, W/mK, and heat capacity of a cubic metre, J/m3K, at `t` degrees C.
    pub(super) fn both(&self, t: f64) -> (f64, f64) {
        let (i, part) = place(t);
        let between = |table: &[f64]| table[i] + part * (table[i + 1] - table[i]);
        (between(&self.conductivity), self.density * between(&self.heat_capacity))
    }

    /// Heat capacity of a cubic metre, J/m3K, at `t` degrees C; held at its end values outside 0..=150.
    pub fn volumetric_heat(&self, t: f64) -> f64 {
        let (i, part) = place(t);
        self.density * (self.heat_capacity[i] + part * (self.heat_capacity[i + 1] - self.heat_capacity[i]))
    }

    /// Heat held above 0 C by a cubic metre, J/m3, consistent with [`Material::volumetric_heat`].
    pub fn volumetric_enthalpy(&self, t: f64) -> f64 {
        let (i, part) = place(t);
        let (c0, c1) = (self.heat_capacity[i], self.heat_capacity[i + 1]);
        let outside = t - (i as f64 + part);
        let beyond = outside * if outside < 0.0 { c0 } else { c1 };
        self.density * (self.enthalpy[i] + part * (c0 + part * (c1 - c0) / 2.0) + beyond)
    }

    /// The greatest diffusivity between 0 and 100 C, m2/s: it bounds the time step.
    pub fn fastest_diffusivity(&self) -> f64 {
        let at = |i: usize| self.conductivity[i] / (self.density * self.heat_capacity[i]);
        (0..=100).map(at).fold(0.0, f64::max)
    }
}

/// The table entry at or below a temperature, and how far the temperature lies towards the next.
fn place(t: f64) -> (usize, f64) {
    let t = t.clamp(0.0, LAST as f64);
    let i = (t as usize).min(LAST - 1);
    (i, t - i as f64)
}
