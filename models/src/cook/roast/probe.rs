//! A probe in mid-roast, and what it says about the rest.

use serde::{Deserialize, Serialize};

use super::pace::MOVED;
use super::{Oven, Reading, Roast, RoastFault, Spell, Way, state};
use crate::cook::calibrate::Calibration;
use crate::cook::fault::{Fault, Legal, none_of};

/// The rest of a roast after a reading.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reforecast {
    /// Real minutes over computed minutes of this roast, as it looks now.
    pub factor: f64,
    /// Minutes from the reading to the end of the long stage; 0 means now.
    pub remaining_min: i64,
    /// As early as that may be, nine times in ten.
    pub early_min: i64,
    /// As late as that may be, nine times in ten.
    pub late_min: i64,
}

/// The rest of a roast that shows `core_c` degrees C at its middle `minute` minutes after it went in, on the way planned, in
/// the oven it was planned for: its [`state`] if everything went as planned but its pace.
///
/// # Errors
/// A minute outside 1..=1440, degrees outside 0..=100, a reading before the core has moved by 5 degrees: too early to say
/// anything; and whatever [`state`] refuses.
pub fn reforecast(
    roast: &Roast,
    oven: &Oven,
    way: &Way,
    calibration: &Calibration,
    minute: f64,
    core_c: f64,
) -> Result<Reforecast, RoastFault> {
    let mut faults = Vec::new();
    Legal::new("minute", 1.0, 1_440.0, "min").check(minute, &mut faults);
    Legal::new("core_c", 0.0, 100.0, "C").check(core_c, &mut faults);
    calibration.faults(&mut faults);
    if core_c < roast.start_c + MOVED && faults.is_empty() {
        let why = format!("the centre has moved less than {MOVED:.0} C: probe again later");
        faults.push(Fault::Unsuitable { field: "core_c", why });
    }
    none_of(faults).map_err(RoastFault::Input)?;
    if core_c >= way.long_end_c {
        return Ok(Reforecast { factor: calibration.factor(), remaining_min: 0, early_min: 0, late_min: 0 });
    }
    let history = way.until(oven, minute);
    let then = Spell::turned(0.0, oven.heat, way.oven_c as f64);
    let now = state(roast, oven, &history, &[Reading { minute, core_c }], then, way.long_end_c, calibration)?;
    Ok(Reforecast {
        factor: now.factor,
        remaining_min: now.remaining_min,
        early_min: now.early_min,
        late_min: now.late_min,
    })
}

impl Way {
    /// What a roast on this way has been through `minute` minutes after it went in, if all goes as planned: the history
    /// that [`state`] begins with. Later spells are put behind it as they come.
    pub fn until(&self, oven: &Oven, minute: f64) -> Vec<Spell> {
        let mut spells: Vec<Spell> = Vec::new();
        let mut left = minute;
        for stage in &self.stages {
            let minutes = if stage.long { left } else { left.min(stage.minutes as f64) };
            let at_once = spells.is_empty();
            spells.push(Spell { at_once, ..Spell::oven(minutes, oven.heat, stage.oven_c as f64) });
            left -= minutes;
            if left <= 0.0 {
                break;
            }
        }
        spells
    }
}
