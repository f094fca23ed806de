//! Short jobs inside a step: baste, turn, stir, probe.

use serde::{Deserialize, Serialize};

use super::Minute;

/// One hand for some minutes while a step runs.
///
/// In JSON `[at, minutes]`, or an object where there is more to say. It is begun `at` minutes after the start of its step, or
/// up to `early` minutes before and `late` minutes after that, as far as it lies inside the step; the plan says when.
///
/// ```
/// use rangewright_models::problem::Touch;
/// let touch: Touch = serde_json::from_str("[20, 2]")?;
/// assert_eq!(touch, Touch::fixed(20, 2));
/// let stir: Touch = serde_json::from_str(r#"{"at": 20, "minutes": 1, "early": 5, "late": 5, "passing": true}"#)?;
/// assert!(stir.floats() && stir.passing);
/// assert_eq!(stir.offsets(60), 15..=25);
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(from = "Form", into = "Form")]
pub struct Touch {
    /// Minutes after the start of the step.
    pub at: Minute,
    /// How long it takes.
    pub minutes: Minute,
    /// By how many minutes it may be begun before `at`; not before the start of the step.
    pub early: Minute,
    /// By how many minutes it may be begun after `at`.
    pub late: Minute,
    /// Done in passing, beside something that keeps the same cook busy throughout. At most 3 minutes.
    pub passing: bool,
}

impl Touch {
    /// The longest that can be done in passing, minutes.
    pub const LONGEST_IN_PASSING: Minute = 3;

    /// A touch at a fixed minute.
    pub const fn fixed(at: Minute, minutes: Minute) -> Self {
        Touch { at, minutes, early: 0, late: 0, passing: false }
    }

    /// Whether it may be begun at other minutes than `at`.
    pub fn floats(&self) -> bool {
        self.early > 0 || self.late > 0
    }

    /// The minutes after the start at which it may be begun in a step that takes so long. A touch that does not float stays
    /// where it is.
    pub fn offsets(&self, length: Minute) -> std::ops::RangeInclusive<Minute> {
        let first = self.at.saturating_sub(self.early).max(0);
        match self.floats() {
            true => first..=self.at.saturating_add(self.late).min(length.saturating_sub(self.minutes).max(self.at)),
            false => self.at..=self.at,
        }
    }
}

/// How a touch is written.
#[derive(Serialize, Deserialize)]
#[serde(untagged, expecting = "a touch is [at, minutes] or {at, minutes, early, late, passing}")]
enum Form {
    Short([Minute; 2]),
    Long(Long),
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Long {
    at: Minute,
    minutes: Minute,
    #[serde(default)]
    early: Minute,
    #[serde(default)]
    late: Minute,
    #[serde(default)]
    passing: bool,
}

impl From<Form> for Touch {
    fn from(form: Form) -> Self {
        match form {
            Form::Short([at, minutes]) => Touch::fixed(at, minutes),
            Form::Long(Long { at, minutes, early, late, passing }) => Touch { at, minutes, early, late, passing },
        }
    }
}

impl From<Touch> for Form {
    fn from(touch: Touch) -> Self {
        let Touch { at, minutes, early, late, passing } = touch;
        match touch == Touch::fixed(at, minutes) {
            true => Form::Short([at, minutes]),
            false => Form::Long(Long { at, minutes, early, late, passing }),
        }
    }
}
