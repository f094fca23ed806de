//! Cautions of what is done about a late course, where no region is known: the figures are those of the strictest.

use crate::cook::Meat;
use crate::cook::safety::{Handling, Region, both, minimum};

/// Food that is half done when its dish is left out.
pub fn set_aside() -> String {
    let hottest = Region::ALL.iter().map(|region| region.hot_c().value).fold(0.0, f64::max);
    format!("What is half done is cooled fast or kept at {} or hotter; never left lukewarm.", both(hottest))
}

/// A roast that is carved before its rest is over.
pub fn carved_early() -> String {
    let least = minimum(Meat::Lamb, Handling::Whole, false, Region::Us);
    format!(
        "Probe before it rests: a roast still has to reach its minimum centre, and whole cuts at {} need {:.0} minutes of rest [{}].",
        both(least.core_c),
        least.stand_min,
        least.source.cited()
    )
}
