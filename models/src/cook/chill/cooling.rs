//! How long food takes to cool, and whether that is quick enough.

use serde::{Deserialize, Serialize};

use crate::cook::fault::{Fault, Legal, none_of};
use crate::cook::food::Composition;
use crate::cook::heat::{Axis, Body, Exposure, Material, Surroundings};
use crate::cook::safety::Topic;
use crate::cook::safety::{Caution, CoolingStage, Region, Weight, both_ends};
use crate::cook::{Known, Source};
use crate::units::spoken_minutes;

/// Cells through the depth.
const CELLS: usize = 24;
/// Nothing is followed for longer, minutes.
const LONGEST: f64 = 4_320.0;
/// Real over computed minutes: the range (our assumption; no trial gives more).
const RANGE: [f64; 2] = [0.8, 1.25];

/// What takes the heat away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cooler {
    /// The kitchen, 21 C.
    Kitchen,
    /// A household or upright refrigerator, 3 C.
    Refrigerator,
    /// A walk-in refrigerator with its fan, 3 C.
    WalkIn,
    /// A walk-in freezer with its fan, -20 C.
    Freezer,
    /// A refrigerator with a strong fan made for cooling, 2 C.
    Chiller,
    /// Standing in ice and water, not stirred.
    IceBath,
    /// Standing in ice and water, food and bath stirred.
    StirredIceBath,
}

impl Cooler {
    /// Temperature, degrees C, and coefficients below and above, W/m2K.
    fn constants(self) -> (f64, f64, f64) {
        match self {
            Cooler::Kitchen => (21.0, 6.5, 6.5),
            Cooler::Refrigerator => (3.0, 6.5, 6.5),
            Cooler::WalkIn => (3.0, 9.0, 9.0),
            Cooler::Freezer => (-20.0, 9.0, 9.0),
            Cooler::Chiller => (2.0, 20.0, 20.0),
            Cooler::IceBath => (0.5, 40.0, 3.0),
            Cooler::StirredIceBath => (0.5, 230.0, 3.0),
        }
    }

    pub(crate) fn in_words(self) -> &'static str {
        match self {
            Cooler::Kitchen => "in the kitchen",
            Cooler::Refrigerator => "in the refrigerator",
            Cooler::WalkIn => "in a walk-in refrigerator",
            Cooler::Freezer => "in a walk-in freezer",
            Cooler::Chiller => "in a refrigerator with a strong fan",
            Cooler::IceBath => "in an ice bath",
            Cooler::StirredIceBath => "in an ice bath, stirred",
        }
    }
}

/// How food moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Texture {
    /// Heat must be conducted: stew, chili, mash.
    #[default]
    Thick,
    /// Mixes itself: stock, thin soup.
    Thin,
}

/// A pan or a pot of hot food.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pan {
    /// Depth of the food, mm: 5 to 400.
    pub depth_mm: f64,
    /// Its temperature at the start, degrees C: 25 to 100.
    pub start_c: f64,
    /// Covered.
    #[serde(default)]
    pub covered: bool,
    /// How it moves.
    #[serde(default)]
    pub texture: Texture,
}

impl Pan {
    /// Depth, mm, of food of so many g in straight-sided pans of so much floor, mm2, all told; stew weighs 1.04 g/cm3.
    pub fn depth_of(weight_g: f64, floor_mm2: f64) -> f64 {
        weight_g * 1000.0 / 1.04 / floor_mm2
    }
}

/// Whether it is quick enough.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Even a slow one is in time.
    Meets,
    /// The estimate is in time, a slow one is not: probe it.
    Doubtful,
    /// Not in time.
    Fails,
}

/// One stage of cooling: the limit, and the minutes computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StageTime {
    /// The limit.
    pub limit: CoolingStage,
    /// Minutes from the hottest place at `from_c` to the hottest place at `to_c`; `None` if not within three days.
    pub minutes: Option<f64>,
    /// The range of those minutes.
    pub range_min: Option<[f64; 2]>,
    /// Whether it is quick enough.
    pub verdict: Verdict,
}

/// Another way that the model finds quick enough.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Remedy {
    /// What to do.
    pub text: String,
    /// Minutes from the start until it keeps cold.
    pub minutes: f64,
}

/// How a pan cools.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cooling {
    /// Each stage of the region's rule.
    pub stages: Vec<StageTime>,
    /// The worst of their verdicts.
    pub verdict: Verdict,
    /// Minutes from the start until the hottest place keeps cold; `None` if not within three days.
    pub cold_min: Option<f64>,
    /// The hottest place over time: minute, degrees C.
    pub course: Vec<(f64, f64)>,
    /// What the model finds quick enough instead, when this is not.
    pub remedies: Vec<Remedy>,
    /// What holds for it.
    pub cautions: Vec<Caution>,
}

/// How long a pan takes to cool, and the verdict of the region's rule.
///
/// # Errors
/// Every number out of its range.
///
/// ```
/// use rangewright_models::cook::chill::{Cooler, Pan, Texture, Verdict, cool};
/// use rangewright_models::cook::safety::Region;
///
/// let pot = Pan { depth_mm: 150.0, start_c: 90.0, covered: true, texture: Texture::Thick };
/// let cooling = cool(&pot, Cooler::Refrigerator, Region::Us)?;
/// assert_eq!(cooling.verdict, Verdict::Fails);
/// assert!(!cooling.remedies.is_empty());
/// # Ok::<(), Vec<rangewright_models::cook::Fault>>(())
/// ```
pub fn cool(pan: &Pan, cooler: Cooler, region: Region) -> Result<Cooling, Vec<Fault>> {
    let mut faults = Vec::new();
    Legal::new("depth_mm", 5.0, 400.0, "mm").check(pan.depth_mm, &mut faults);
    Legal::new("start_c", 25.0, 100.0, "C").check(pan.start_c, &mut faults);
    none_of(faults)?;
    let course = course(pan, cooler, region.cold_c().value.min(5.0));
    let stages: Vec<StageTime> =
        region.cooling().iter().map(|limit| stage(limit.clone(), pan.start_c, &course)).collect();
    let verdict = stages.iter().map(|stage| stage.verdict).max().unwrap_or(Verdict::Doubtful);
    let remedies = if verdict == Verdict::Meets { Vec::new() } else { remedies(pan, region) };
    let cold_min = minute_below(&course, region.cold_c().value);
    Ok(Cooling { cautions: cautions(cooler, &stages, verdict), stages, verdict, cold_min, course, remedies })
}

/// The hottest place, at most every half minute, until it is at `until_c`.
fn course(pan: &Pan, cooler: Cooler, until_c: f64) -> Vec<(f64, f64)> {
    let (air, below, above) = cooler.constants();
    let top = Surroundings {
        // An open wet surface gives off as much again by vapour as the convective part of its coefficient.
        wet: if pan.covered { 0.0 } else { above * 0.55 },
        vapour: crate::cook::heat::saturation(air.max(0.0)) * 0.7,
        ..Surroundings::convective(air, above)
    };
    let exposure = Exposure { near: Surroundings::convective(air, below), far: top };
    let (cells, material) = if pan.texture == Texture::Thin || cooler == Cooler::StirredIceBath {
        // What mixes itself has one temperature: it conducts as well as one likes.
        let stew = Composition::STEW;
        (2, Material::constant(5_000.0, stew.density(pan.start_c), stew.heat_capacity(40.0)))
    } else {
        (CELLS, Material::food(&Composition::STEW, pan.start_c))
    };
    let mut body = Body::new(vec![Axis::plate(pan.depth_mm / 1000.0, cells)], material, pan.start_c);
    let step = body.step_seconds();
    let (mut minute, mut course) = (0.0, vec![(0.0, pan.start_c)]);
    while minute < LONGEST && body.hottest() > until_c {
        body.step(step, &exposure);
        minute += step / 60.0;
        if course.last().is_none_or(|&(last, _)| minute - last >= 0.5) || body.hottest() <= until_c {
            course.push((minute, body.hottest()));
        }
    }
    course
}

/// The minute at which the course falls to `t` degrees C.
fn minute_below(course: &[(f64, f64)], t: f64) -> Option<f64> {
    let after = course.iter().position(|&(_, hottest)| hottest <= t)?;
    let ((m0, t0), (m1, t1)) = (course[after.saturating_sub(1)], course[after]);
    Some(if t0 > t1 { m0 + (t0 - t) / (t0 - t1) * (m1 - m0) } else { m1 })
}

fn stage(limit: CoolingStage, start_c: f64, course: &[(f64, f64)]) -> StageTime {
    let from = minute_below(course, limit.from_c.min(start_c));
    let minutes = from.zip(minute_below(course, limit.to_c)).map(|(from, to)| to - from);
    let range_min = minutes.map(|minutes| RANGE.map(|factor| factor * minutes));
    let verdict = match (minutes, range_min) {
        (Some(_), Some([_, late])) if late <= limit.minutes => Verdict::Meets,
        (Some(minutes), _) if minutes <= limit.minutes => Verdict::Doubtful,
        _ => Verdict::Fails,
    };
    StageTime { limit, minutes, range_min, verdict }
}

/// Ways tried by the model, in the order in which a kitchen would try them; the first three that do.
fn remedies(pan: &Pan, region: Region) -> Vec<Remedy> {
    let mut found = Vec::new();
    for cooler in [Cooler::StirredIceBath, Cooler::Refrigerator, Cooler::Chiller] {
        for share in [1.0, 0.5, 0.34, 0.25] {
            let depth_mm = (pan.depth_mm * share).max(20.0);
            let tried = Pan { depth_mm, covered: false, ..*pan };
            let course = course(&tried, cooler, region.cold_c().value.min(5.0));
            let meets = |limit: &CoolingStage| stage(limit.clone(), pan.start_c, &course).verdict == Verdict::Meets;
            if region.cooling().iter().all(meets) {
                let minutes = course.last().map_or(0.0, |&(minute, _)| minute);
                let portioned = if share < 1.0 {
                    format!("portioned {depth_mm:.0} mm ({:.1} in) deep, ", depth_mm / 25.4)
                } else {
                    String::new()
                };
                let open = if cooler == Cooler::StirredIceBath { "" } else { ", uncovered until cold" };
                found.push(Remedy { text: format!("{portioned}{}{open}", cooler.in_words()), minutes });
                break;
            }
        }
    }
    found.truncate(3);
    found
}

fn cautions(cooler: Cooler, stages: &[StageTime], verdict: Verdict) -> Vec<Caution> {
    let mut cautions = Vec::new();
    for stage in stages.iter().filter(|stage| stage.verdict != Verdict::Meets) {
        let CoolingStage { from_c, to_c, minutes: limit, source } = stage.limit.clone();
        let takes = stage
            .minutes
            .map_or("more than three days".to_owned(), |m| format!("about {}", spoken_minutes(m.round() as i64)));
        let weight = if stage.verdict == Verdict::Fails { Weight::Breach } else { Weight::Caution };
        let text = format!(
            "{} takes {takes} {}; the limit is {}",
            both_ends(from_c, to_c),
            cooler.in_words(),
            spoken_minutes(limit.round() as i64)
        );
        cautions.push(Caution::new(Topic::SlowCooling, weight, text, source));
    }
    if verdict != Verdict::Meets {
        let trial = Source::new(
            "Roberts et al. (2013), Olds et al. (2013): cooling trials in school kitchens, abstracts",
            Known::Read,
        );
        cautions.push(Caution::new(
            Topic::SlowCooling,
            Weight::Caution,
            "probe the hottest place: in trials most refrigerators failed",
            trial,
        ));
    }
    if matches!(cooler, Cooler::Refrigerator | Cooler::WalkIn) {
        let source = Source::new("hot pots warm a refrigerator", Known::CommonPractice);
        cautions.push(Caution::new(
            Topic::SlowCooling,
            Weight::Advice,
            "a large hot pot warms what stands beside it",
            source,
        ));
    }
    cautions
}
