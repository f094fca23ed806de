//! What passes through a surface: convection, radiation and evaporation.
//!
//! `q = h (Ta - Ts) + e s (Ta^4 - Ts^4) - E (p_sat(Ts) - p_v) / 65.5`, walls at air temperature. `E` is an effective wet
//! conductance in W/m2K: crust and fat limit it, so it does not grow with the fan, and it falls as the crust grows: to a half
//! when so much water has gone off as [`Surroundings::crust`] says. 65.5 Pa/K turns a vapour pressure into a temperature
//! difference (psychrometric constant with the Lewis relation). Saturation by the Magnus form. Nothing condenses: the vapour
//! about food comes from the food itself, and while that is cold there is none. The crust's form and that are our assumptions;
//! published minutes agree better with them than without (ROASTING.md).

/// Stefan-Boltzmann constant, W/m2K4.
const STEFAN_BOLTZMANN: f64 = 5.670_374e-8;
/// Psychrometric constant, Pa/K.
const PSYCHROMETRIC: f64 = 65.5;
/// Heat of vaporisation near the surface temperatures of a roast, J/kg (textbook value, from memory).
const VAPORISATION: f64 = 2.33e6;

/// Saturation vapour pressure over water, Pa, at `t` degrees C (Magnus form, coefficients from memory).
pub fn saturation(t: f64) -> f64 {
    610.94 * (17.625 * t / (t + 243.04)).exp()
}

/// The surroundings of a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    /// Air and wall temperature, degrees C.
    pub air: f64,
    /// Convective coefficient, W/m2K.
    pub convection: f64,
    /// Emissivity of the surface, 0 to 1.
    pub emissivity: f64,
    /// Effective wet conductance, W/m2K; 0 for a dry or covered surface.
    pub wet: f64,
    /// Vapour pressure of the air, Pa.
    pub vapour: f64,
    /// Water that has gone off a surface when its crust has halved the wet conductance, kg/m2; infinite where none forms.
    pub crust: f64,
}

impl Surroundings {
    /// Convection alone, as in the textbook cases.
    pub fn convective(air: f64, convection: f64) -> Self {
        Self { air, convection, emissivity: 0.0, wet: 0.0, vapour: 0.0, crust: f64::INFINITY }
    }

    /// Nothing passes.
    pub fn insulated() -> Self {
        Self::convective(0.0, 0.0)
    }

    /// The same over a surface from which so much water has gone off, kg/m2: vapour has to come through the crust that it
    /// left behind.
    pub(super) fn over_a_crust(&self, gone: f64) -> Self {
        Self { wet: self.wet / (1.0 + gone / self.crust), ..*self }
    }

    /// What passes at a surface of `t` degrees C.
    pub fn flux(&self, t: f64) -> Flux {
        let mut net = self.convection * (self.air - t);
        let (mut slope, mut evaporation) = (-self.convection, 0.0);
        if self.emissivity > 0.0 {
            let (air, surface) = (self.air + 273.15, t + 273.15);
            let strength = self.emissivity * STEFAN_BOLTZMANN;
            net += strength * (air.powi(4) - surface.powi(4));
            slope -= 4.0 * strength * surface.powi(3);
        }
        let pressure = if self.wet > 0.0 { saturation(t) } else { 0.0 };
        if pressure > self.vapour {
            let leaving = self.wet * (pressure - self.vapour) / PSYCHROMETRIC;
            net -= leaving;
            slope -= self.wet * pressure * 17.625 * 243.04 / (t + 243.04).powi(2) / PSYCHROMETRIC;
            evaporation = leaving / VAPORISATION;
        }
        Flux { net, slope, evaporation }
    }

    /// The temperature at which a surface stands over a half cell of conductance `inner` (W/m2K) and inner temperature
    /// `t`, and what passes there.
    ///
    /// The balance `inner (Ts - t) = flux(Ts)` rises and is convex in `Ts`, so Newton's method converges from any start;
    /// its error is squared by each round, so a last correction of 0.01 degrees leaves nothing.
    pub(super) fn surface(&self, inner: f64, t: f64, start: f64) -> (f64, Flux) {
        let mut surface = start;
        for _ in 0..60 {
            let flux = self.flux(surface);
            let step = (inner * (surface - t) - flux.net) / (inner - flux.slope);
            surface = (surface - step).clamp(-200.0, 1500.0);
            if step.abs() < 0.01 {
                return (surface, flux);
            }
        }
        (surface, self.flux(surface))
    }
}

/// What passes through a surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flux {
    /// Net flux into the surface, W/m2.
    pub net: f64,
    /// Its slope with the temperature of the surface, W/m2K; never positive.
    pub slope: f64,
    /// Water that goes off, kg/m2s; never negative.
    pub evaporation: f64,
}
