//! A probe in mid-roast, and what it says about the rest.

use serde::Serialize;

use super::pace::MOVED;
use super::plan::{core_at, minute_at};
use super::{Roast, Way};
use crate::cook::calibrate::Calibration;
use crate::cook::fault::{Fault, Legal, none_of};

/// The rest of a roast after a reading.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
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

/// The rest of a roast that shows `core_c` degrees C at its middle `minute` minutes after it went in, on the way planned.
///
/// # Errors
/// A minute outside 1..=2880, degrees outside 0..=100, or a reading before the core has moved by 5 degrees: too early to
/// say anything.
pub fn reforecast(
    roast: &Roast,
    way: &Way,
    calibration: &Calibration,
    minute: f64,
    core_c: f64,
) -> Result<Reforecast, Vec<Fault>> {
    let mut faults = Vec::new();
    Legal::new("minute", 1.0, 2_880.0, "min").check(minute, &mut faults);
    Legal::new("core_c", 0.0, 100.0, "C").check(core_c, &mut faults);
    calibration.faults(&mut faults);
    if core_c < roast.start_c + MOVED && faults.is_empty() {
        let why = format!("the centre has moved less than {MOVED:.0} C: probe again later");
        faults.push(Fault::Unsuitable { field: "core_c", why });
    }
    none_of(faults)?;
    if core_c >= way.long_end_c {
        return Ok(Reforecast { factor: calibration.factor(), remaining_min: 0, early_min: 0, late_min: 0 });
    }
    let total = minute_at(&way.course, way.long_end_c).max(1.0);
    let here = minute_at(&way.course, core_c).clamp(0.5, total);
    let slope = (core_at(&way.course, here + 2.0) - core_at(&way.course, here - 2.0)) / 4.0;
    let pace = calibration.pace(roast).read_at(minute, here, slope);
    let [early, likely, late] = pace.left(total - here, slope);
    Ok(Reforecast {
        factor: pace.factor(),
        remaining_min: likely.round() as i64,
        early_min: early.floor() as i64,
        late_min: late.ceil() as i64,
    })
}
