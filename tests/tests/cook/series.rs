//! The analytic series of transient conduction: an oracle that shares nothing with the grid.
//!
//! Transcendental equations as in Incropera and DeWitt, table 5.1 (page from memory, equations derived again).

use std::f64::consts::PI;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Geometry {
    Wall,
    Cylinder,
    Sphere,
}

impl Geometry {
    pub(crate) fn named(name: &str) -> Self {
        match name {
            "wall" => Self::Wall,
            "cylinder" => Self::Cylinder,
            "sphere" => Self::Sphere,
            _ => panic!("unknown geometry {name}"),
        }
    }

    /// The equation whose roots are the eigenvalues, free of poles.
    fn equation(self, z: f64, bi: f64) -> f64 {
        match self {
            Self::Wall => z * z.sin() - bi * z.cos(),
            Self::Cylinder => z * bessel(1, z) - bi * bessel(0, z),
            Self::Sphere => (1.0 - bi) * z.sin() - z * z.cos(),
        }
    }

    /// The first `count` eigenvalues: sign changes on a fine grid, then bisection.
    pub(crate) fn eigenvalues(self, bi: f64, count: usize) -> Vec<f64> {
        let (mut roots, mut lo) = (vec![], 1e-6);
        while roots.len() < count {
            let hi = lo + 0.05;
            let (mut a, mut b) = (lo, hi);
            if self.equation(a, bi) * self.equation(b, bi) <= 0.0 {
                for _ in 0..60 {
                    let middle = (a + b) / 2.0;
                    if self.equation(a, bi) * self.equation(middle, bi) <= 0.0 {
                        b = middle;
                    } else {
                        a = middle;
                    }
                }
                roots.push(a);
            }
            lo = hi;
        }
        roots
    }

    pub(crate) fn coefficient(self, z: f64) -> f64 {
        match self {
            Self::Wall => 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()),
            Self::Cylinder => 2.0 / z * bessel(1, z) / (bessel(0, z).powi(2) + bessel(1, z).powi(2)),
            Self::Sphere => 4.0 * (z.sin() - z * z.cos()) / (2.0 * z - (2.0 * z).sin()),
        }
    }

    /// The shape function at `x` of the half thickness or radius.
    fn shape(self, z: f64, x: f64) -> f64 {
        match self {
            Self::Wall => (z * x).cos(),
            Self::Cylinder => bessel(0, z * x),
            Self::Sphere if x == 0.0 => 1.0,
            Self::Sphere => (z * x).sin() / (z * x),
        }
    }

    /// What is left of the first difference of temperature at `x`, from the first `terms` terms.
    pub(crate) fn theta(self, bi: f64, fo: f64, x: f64, terms: usize) -> f64 {
        let each = self.eigenvalues(bi, terms);
        each.iter().map(|&z| self.coefficient(z) * (-z * z * fo).exp() * self.shape(z, x)).sum()
    }
}

/// Bessel functions of the first kind by their integral; the trapezium rule is exact to rounding here.
fn bessel(order: i32, x: f64) -> f64 {
    let points = 80 + 2 * x as usize;
    let each = (0..points).map(|i| {
        let tau = PI * (i as f64 + 0.5) / points as f64;
        (f64::from(order) * tau - x * tau.sin()).cos()
    });
    each.sum::<f64>() / points as f64
}
