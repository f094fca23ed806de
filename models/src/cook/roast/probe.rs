//! A probe in mid-roast, and what it says about the rest.

use serde::Serialize;

use super::plan::{core_at, minute_at};
use super::{Roast, Way};
use crate::cook::calibrate::{Calibration, update};
use crate::cook::fault::{Fault, Legal, none_of};

/// What a probe may be out by, with where it is stuck, degrees C (our assumption).
const PROBE_ERROR: f64 = 1.5;
/// A reading says nothing about the pace before the core has moved this far, degrees C.
const MOVED: f64 = 5.0;

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
    let slope = ((core_at(&way.course, here + 2.0) - core_at(&way.course, here - 2.0)) / 4.0).max(0.02);
    // The reading is a pace with its own spread: the probe's error in minutes, over the minutes so far.
    let noise = PROBE_ERROR / slope / here;
    let seen = (minute / here).ln().clamp(-1.0, 1.0);
    let (mean, sd) = update(calibration.log_mean, calibration.spread(roast), seen, noise);
    let probe_minutes = PROBE_ERROR / slope;
    let left = total - here;
    let half = 1.645 * ((left * sd).powi(2) + probe_minutes.powi(2)).sqrt();
    let remaining = left * mean.exp();
    Ok(Reforecast {
        factor: mean.exp(),
        remaining_min: remaining.round() as i64,
        early_min: (remaining - half).max(0.0).floor() as i64,
        late_min: (remaining + half).ceil() as i64,
    })
}
