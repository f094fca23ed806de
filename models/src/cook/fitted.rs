//! The constants that are fitted to published rows, in one place.
//!
//! The program `fit` of the package of benchmarks finds them again (`cargo run --release -p rangewright-benches --bin fit`);
//! how, from what rows, and how well they hold on sources left out is told in ROASTING.md.

use super::cut::Cut;

/// How many bodies there are.
pub const BODIES: usize = 11;

/// The body that heat finds in a roast known by its weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BodyKind {
    /// A rib on its bones.
    RibBone,
    /// A rib without bones.
    RibBoned,
    /// Round, rump, topside; and whatever else is compact.
    Round,
    /// A fillet.
    Fillet,
    /// A loin.
    Loin,
    /// A leg on its bone.
    LegBone,
    /// A leg without it.
    LegBoned,
    /// A shoulder.
    Shoulder,
    /// A hollow bird.
    Bird,
    /// A stuffed one.
    StuffedBird,
    /// Duck and goose: fat, and roasted until tender.
    Duck,
}

impl BodyKind {
    /// Every body, in the order of [`Fitted::thickness`].
    pub const ALL: [BodyKind; BODIES] = [
        BodyKind::RibBone,
        BodyKind::RibBoned,
        BodyKind::Round,
        BodyKind::Fillet,
        BodyKind::Loin,
        BodyKind::LegBone,
        BodyKind::LegBoned,
        BodyKind::Shoulder,
        BodyKind::Bird,
        BodyKind::StuffedBird,
        BodyKind::Duck,
    ];

    /// The body of a cut; `None` for a plain shape, and for an eye of round, which is a bar.
    pub fn of(cut: Cut, bone: bool, stuffed: bool) -> Option<Self> {
        Some(match (cut, bone) {
            (Cut::Rib, true) => BodyKind::RibBone,
            (Cut::Rib, false) => BodyKind::RibBoned,
            (Cut::Round, _) => BodyKind::Round,
            (Cut::Fillet, _) => BodyKind::Fillet,
            (Cut::Loin, _) => BodyKind::Loin,
            (Cut::Leg, true) => BodyKind::LegBone,
            (Cut::Leg, false) => BodyKind::LegBoned,
            (Cut::Shoulder, _) => BodyKind::Shoulder,
            (Cut::Duck, _) => BodyKind::Duck,
            (Cut::Bird, _) if stuffed => BodyKind::StuffedBird,
            (Cut::Bird, _) => BodyKind::Bird,
            (Cut::Eye | Cut::Cylinder | Cut::Slab | Cut::Ball | Cut::Brick, _) => return None,
        })
    }

    /// Whether it is a bird, whose body is a part of its weight.
    pub fn bird(self) -> bool {
        matches!(self, BodyKind::Bird | BodyKind::StuffedBird | BodyKind::Duck)
    }
}

/// What is fitted.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// Convection in a still oven about a roast of [`Fitted::THICKNESS`], W/m2K.
    pub still: f64,
    /// Convection with a fan, W/m2K.
    pub fan: f64,
    /// Effective wet conductance of a surface, W/m2K: crust and fat limit it.
    pub wet: f64,
    /// Water gone off a surface when its crust has halved that, kg/m2.
    pub crust: f64,
    /// Vapour pressure in a cavity of 150 degrees C with a roast in it, Pa.
    pub vapour: f64,
    /// What the hot tin under a flat piece adds to its convection, mean of both faces, W/m2K.
    pub tray: f64,
    /// Thickness of a body of [`Fitted::WEIGHT`], mm, in the order of [`BodyKind::ALL`].
    pub thickness: [f64; BODIES],
    /// Growth of the thickness with the weight, as an exponent: a rib on its bones, which grows mostly in length.
    pub rib_growth: f64,
    /// The same of every other body: a third is the same shape at every size.
    pub growth: f64,
    /// How much thicker a fillet or a boneless rib is when it is tied round.
    pub tied: f64,
}

impl Fitted {
    /// The thickness for which convection is stated, mm.
    pub const THICKNESS: f64 = 120.0;
    /// The weight for which thickness is stated, g (5 lb).
    pub const WEIGHT: f64 = 2_268.0;

    /// As found.
    pub const FOUND: Fitted = Fitted {
        still: 6.31,
        fan: 23.7,
        wet: 5.20,
        crust: 2.00,
        vapour: 27_100.0,
        tray: 40.6,
        thickness: [115.2, 112.2, 120.4, 82.6, 97.2, 111.7, 122.3, 129.8, 100.2, 105.1, 108.9],
        rib_growth: 0.296,
        growth: 0.323,
        tied: 1.088,
    };
}
