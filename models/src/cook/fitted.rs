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
    /// The same of a bird under [`Fitted::SMALL_BIRD`]: chickens are fuller than turkeys are.
    pub small_bird_growth: f64,
    /// How much thicker a fillet or a boneless rib is when it is tied round.
    pub tied: f64,
}

impl Fitted {
    /// The thickness for which convection is stated, mm.
    pub const THICKNESS: f64 = 120.0;
    /// The weight for which thickness is stated, g (5 lb).
    pub const WEIGHT: f64 = 2_268.0;
    /// A bird is small under this, g (10 lb).
    pub const SMALL_BIRD: f64 = 4_536.0;

    /// As found.
    pub const FOUND: Fitted = Fitted {
        still: 5.91,
        fan: 26.7,
        wet: 2.40,
        vapour: 26_300.0,
        tray: 35.9,
        thickness: [118.2, 112.9, 122.9, 85.0, 99.9, 114.2, 125.3, 141.3, 102.7, 108.1, 109.8],
        rib_growth: 0.295,
        growth: 0.315,
        small_bird_growth: 0.292,
        tied: 1.088,
    };
}
