//! Thermal properties of unfrozen food by composition and temperature.
//!
//! Component polynomials of Choi and Okos (1986) as printed in ASHRAE Handbook, Refrigeration (2006), chapter 9, tables 1
//! and 2; the coefficients were read in a public property library that cites that edition, not in the handbook itself.
//! Mixing: heat capacity by mass, density by specific volume, conductivity by volume fraction in parallel. Real meat lies
//! between the parallel and the perpendicular bound, nearer to parallel for lean meat (from memory, same chapter).
//! Compositions: USDA National Nutrient Database for Standard Reference, by NDB number; carbohydrate is by difference and
//! includes fibre there, so fibre is subtracted. Freezing is not modelled: properties hold from 0 to 150 C.

use serde::{Deserialize, Serialize};

/// A polynomial `c[0] + c[1] T + c[2] T^2`, T in degrees C.
type Quadratic = [f64; 3];

fn at(c: Quadratic, t: f64) -> f64 {
    c[0] + t * (c[1] + t * c[2])
}

/// What food is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Component {
    /// Water above freezing.
    Water,
    /// Protein.
    Protein,
    /// Fat.
    Fat,
    /// Carbohydrate without fibre.
    Carbohydrate,
    /// Fibre.
    Fibre,
    /// Minerals.
    Ash,
}

impl Component {
    /// Every component, in the order of [`Composition::shares`].
    pub const ALL: [Component; 6] = [
        Component::Water,
        Component::Protein,
        Component::Fat,
        Component::Carbohydrate,
        Component::Fibre,
        Component::Ash,
    ];

    /// Coefficients of conductivity, density and heat capacity. A public copy has 0.457109 for the first of water's
    /// conductivity, which is a slip: with 0.57109 water at 20 C has 0.60366 W/mK.
    fn table(self) -> [Quadratic; 3] {
        match self {
            Component::Water => {
                [[0.57109, 1.7625e-3, -6.7036e-6], [997.18, 3.1439e-3, -3.7574e-3], [4128.9, -9.0864e-2, 5.4731e-3]]
            }
            Component::Protein => {
                [[0.17881, 1.1958e-3, -2.7178e-6], [1329.9, -0.5184, 0.0], [2008.2, 1.2089, -1.3129e-3]]
            }
            Component::Fat => {
                [[0.18071, -2.7604e-4, -1.7749e-7], [925.59, -0.41757, 0.0], [1984.2, 1.4733, -4.8008e-3]]
            }
            Component::Carbohydrate => {
                [[0.20141, 1.3874e-3, -4.3312e-6], [1599.1, -0.31046, 0.0], [1548.8, 1.9625, -5.9399e-3]]
            }
            Component::Fibre => {
                [[0.18331, 1.2497e-3, -3.1683e-6], [1311.5, -0.36589, 0.0], [1845.9, 1.8306, -4.6509e-3]]
            }
            Component::Ash => [[0.32962, 1.4011e-3, -2.9069e-6], [2423.8, -0.28063, 0.0], [1092.6, 1.8896, -3.6817e-3]],
        }
    }

    /// Thermal conductivity, W/mK, at `t` degrees C (-40 to 150).
    pub fn conductivity(self, t: f64) -> f64 {
        at(self.table()[0], t)
    }

    /// Density, kg/m3, at `t` degrees C (-40 to 150).
    pub fn density(self, t: f64) -> f64 {
        at(self.table()[1], t)
    }

    /// Heat capacity, J/kgK, at `t` degrees C (0 to 150; below freezing water has another polynomial).
    pub fn heat_capacity(self, t: f64) -> f64 {
        at(self.table()[2], t)
    }
}

/// Mass shares of the components, g per 100 g in the order of [`Component::ALL`]; they need not add up to 100.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Composition {
    /// Water, protein, fat, carbohydrate without fibre, fibre, ash.
    pub shares: [f64; 6],
}

impl Composition {
    const fn new(water: f64, protein: f64, fat: f64, ash: f64, by_difference: f64, fibre: f64) -> Self {
        Self { shares: [water, protein, fat, by_difference - fibre, fibre, ash] }
    }

    /// Beef rib, ribs 6 to 12, lean and fat, all grades, raw (NDB 13824).
    pub const BEEF_RIB: Self = Self::new(55.24, 16.53, 26.1, 0.78, 0.0, 0.0);
    /// Beef tenderloin, no outer fat, all grades, raw (NDB 23336).
    pub const BEEF_FILLET: Self = Self::new(71.5, 21.67, 6.93, 1.09, 0.0, 0.0);
    /// Beef eye of round, 1/8 in fat, all grades, raw (NDB 13877).
    pub const BEEF_ROUND: Self = Self::new(69.31, 21.49, 8.24, 1.01, 0.0, 0.0);
    /// Beef eye of round, lean, no fat, raw (NDB 23360).
    pub const BEEF_LEAN: Self = Self::new(73.43, 23.37, 3.04, 1.1, 0.0, 0.0);
    /// Pork loin, whole, lean and fat, raw (NDB 10020).
    pub const PORK_LOIN: Self = Self::new(66.92, 19.74, 12.58, 0.96, 0.0, 0.0);
    /// Turkey breast, meat and skin, raw (NDB 05191).
    pub const TURKEY_BREAST: Self = Self::new(70.05, 21.89, 7.02, 0.91, 0.0, 0.0);
    /// Turkey, dark meat and skin, raw (NDB 05183).
    pub const TURKEY_DARK: Self = Self::new(71.1, 19.81, 8.97, 0.94, 0.15, 0.0);
    /// Lamb leg, whole, lean and fat, choice, raw (NDB 17011).
    pub const LAMB_LEG: Self = Self::new(64.32, 17.91, 17.07, 0.94, 0.0, 0.0);
    /// Salmon, Atlantic, farmed, raw (NDB 15236).
    pub const SALMON: Self = Self::new(64.89, 20.42, 13.42, 1.13, 0.0, 0.0);
    /// Potato gratin, home-prepared with butter (NDB 11373).
    pub const GRATIN: Self = Self::new(74.0, 5.06, 7.59, 2.09, 11.27, 1.8);
    /// Potatoes, flesh and skin, raw (NDB 11352).
    pub const POTATO: Self = Self::new(79.25, 2.05, 0.09, 1.11, 17.49, 2.1);
    /// Beef stew, standing in for a braise (NDB 22905).
    pub const STEW: Self = Self::new(80.78, 4.41, 5.53, 1.43, 7.85, 0.9);
    /// Bread stuffing, prepared (NDB 18082).
    pub const STUFFING: Self = Self::new(64.77, 2.73, 12.05, 1.61, 18.84, 0.8);

    fn sum(&self, value: impl Fn(Component) -> f64) -> f64 {
        let total: f64 = self.shares.iter().sum();
        Component::ALL.iter().zip(self.shares).map(|(&c, share)| share * value(c)).sum::<f64>() / total
    }

    /// Heat capacity, J/kgK, at `t` degrees C.
    pub fn heat_capacity(&self, t: f64) -> f64 {
        self.sum(|c| c.heat_capacity(t))
    }

    /// Density, kg/m3, at `t` degrees C.
    pub fn density(&self, t: f64) -> f64 {
        1.0 / self.sum(|c| 1.0 / c.density(t))
    }

    /// Conductivity, W/mK, at `t` degrees C: components side by side, the upper bound.
    pub fn conductivity(&self, t: f64) -> f64 {
        self.density(t) * self.sum(|c| c.conductivity(t) / c.density(t))
    }

    /// Conductivity, W/mK, at `t` degrees C: components one behind the other, the lower bound.
    pub fn conductivity_perpendicular(&self, t: f64) -> f64 {
        1.0 / (self.density(t) * self.sum(|c| 1.0 / (c.conductivity(t) * c.density(t))))
    }
}
