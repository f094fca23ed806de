//! What a page is to be printed for, and on what.

/// What a page is for: to hang up, to carry, to teach by, to shop with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "command", derive(clap::ValueEnum))]
pub enum Paper {
    /// Each cook's jobs in letters that are read at two metres, for the wall
    Wall,
    /// Each cook's run sheet, to carry about
    Cooks,
    /// The courses and the chart of each day, with its key
    Overview,
    /// A sheet for each oven's door: dials, what goes in and out, racks to scale
    Oven,
    /// A handout for learners: menu, who does what, run sheets, cards of the dishes, cautions
    Class,
    /// The shopping with boxes to tick
    Shopping,
    /// All of it
    Everything,
}

/// A part of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    Courses,
    Chart,
    Roles,
    Wall,
    Cooks,
    Dishes,
    Racks,
    Appliances,
    OvenDoors,
    Hands,
    Shopping,
    Care,
    Proof,
}

impl Paper {
    /// What it has on it.
    pub(crate) fn parts(self) -> &'static [Part] {
        use Part::{
            Appliances, Care, Chart, Cooks, Courses, Dishes, Hands, OvenDoors, Proof, Racks, Roles, Shopping, Wall,
        };
        match self {
            Paper::Wall => &[Wall],
            Paper::Cooks => &[Cooks],
            Paper::Overview => &[Courses, Chart],
            Paper::Oven => &[OvenDoors],
            Paper::Class => &[Courses, Roles, Cooks, Dishes, Care],
            Paper::Shopping => &[Shopping],
            Paper::Everything => &[Courses, Chart, Cooks, Dishes, Racks, Appliances, Hands, Shopping, Care, Proof],
        }
    }

    /// What its file is called.
    pub(crate) fn file_name(self) -> &'static str {
        match self {
            Paper::Wall => "wall.html",
            Paper::Cooks => "cooks.html",
            Paper::Overview => "overview.html",
            Paper::Oven => "oven.html",
            Paper::Class => "class.html",
            Paper::Shopping => "shopping.html",
            Paper::Everything => "run-sheets.html",
        }
    }
}

/// The size of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "command", derive(clap::ValueEnum))]
pub enum PaperSize {
    /// 148 x 210 mm
    A5,
    /// 210 x 297 mm
    #[default]
    A4,
    /// 297 x 420 mm
    A3,
    /// 8.5 x 11 inches
    Letter,
}

impl PaperSize {
    /// As style sheets call it (CSS Paged Media 3, 7.1).
    pub(crate) fn name(self) -> &'static str {
        match self {
            PaperSize::A5 => "A5",
            PaperSize::A4 => "A4",
            PaperSize::A3 => "A3",
            PaperSize::Letter => "letter",
        }
    }
}
