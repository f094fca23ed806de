//! The air of an oven: preheating, changeovers, the window about a dial, and how the air drifts from minute to minute.
//!
//! An oven here is a [`Cavity`]: it rises and falls by so many degrees in ten minutes, and takes `settle` minutes more until
//! the air is steady. What is baked in it asks for a window of temperatures; a thermostat swings, so a dial at 180 C serves
//! the window [`around`] it.
//!
//! Everything that plans or shows an oven asks here. The checker ([`check`](crate::check), and that of schedules) works the
//! same rules out anew on purpose, so that a mistake in this file is found and not repeated.

use crate::problem::{Cavity, Minute, Problem};

/// How far the air may swing about the dial to either side, degrees C (common practice, no source).
pub const SWING: i64 = 5;

/// The air of the room, degrees C, which an oven that is off falls to (common practice, no source).
pub const ROOM: i64 = 20;

/// Tenths of a degree: rates are degrees per ten minutes, so that a minute's change is a whole number of them.
pub type Tenths = i64;

/// The window of air temperatures that a dial at so many degrees stands for.
///
/// ```
/// assert_eq!(rangewright_models::oven::around(180), [175, 185]);
/// ```
pub fn around(degrees: i64) -> [i64; 2] {
    [degrees - SWING, degrees + SWING]
}

/// The part of a window that the oven can keep.
pub fn within_reach(cavity: &Cavity, [low, high]: [i64; 2]) -> [i64; 2] {
    [low.max(cavity.t_min), high.min(cavity.t_max)]
}

/// Minutes from the opening until the oven, at `cavity.t_open` then, is steady somewhere in a window; 0 if it is already.
///
/// ```
/// use rangewright_models::kitchen::{CavitySort, CavitySpec};
/// use rangewright_models::oven::preheating;
///
/// // From 20 C by 12 degrees a minute, and 5 minutes until it is steady.
/// let oven = CavitySpec::usual(CavitySort::Oven, [440, 380, 320]).cavity("oven");
/// assert_eq!(preheating(&oven, [175, 185]), 13 + 5);
/// ```
pub fn preheating(cavity: &Cavity, window: [i64; 2]) -> Minute {
    changeover(cavity, [cavity.t_open; 2], window).unwrap_or(0)
}

/// Minutes from the end of a step in one window to the start of a step in another; none if the windows meet.
pub fn changeover(cavity: &Cavity, from: [i64; 2], to: [i64; 2]) -> Option<Minute> {
    let apart = from[1] < to[0] || to[1] < from[0];
    apart.then(|| cavity.settle + from_window_to_window(cavity, from, to))
}

/// Minutes within which one window is reached from anywhere in another, while what is in stays in and nobody waits for the
/// air to be steady.
pub fn change_inside(cavity: &Cavity, from: [i64; 2], to: [i64; 2]) -> Minute {
    let up = if to[0] > from[0] { minutes_between(cavity, 10 * from[0], 10 * to[0]) } else { 0 };
    let down = if to[1] < from[1] { minutes_between(cavity, 10 * from[1], 10 * to[1]) } else { 0 };
    up.max(down)
}

/// Minutes between the nearest ends of two windows.
fn from_window_to_window(cavity: &Cavity, from: [i64; 2], to: [i64; 2]) -> Minute {
    if from[1] < to[0] {
        minutes_between(cavity, 10 * from[1], 10 * to[0])
    } else {
        minutes_between(cavity, 10 * from[0], 10 * to[1])
    }
}

/// Minutes that the air needs from one temperature to another.
pub fn minutes_between(cavity: &Cavity, from: Tenths, to: Tenths) -> Minute {
    let rate = if to > from { cavity.rise } else { cavity.fall };
    let way = (to - from).abs();
    if rate <= 0 { 0 } else { (way + rate - 1) / rate }
}

/// The air so many minutes later, with the dial at `target` all the time.
pub fn drift(cavity: &Cavity, air: Tenths, target: Tenths, minutes: Minute) -> Tenths {
    let change = |rate: i64| rate.saturating_mul(minutes);
    if target > air {
        target.min(air.saturating_add(change(cavity.rise)))
    } else {
        target.max(air.saturating_sub(change(cavity.fall)))
    }
}

/// Minutes in which an oven that rises by so many degrees in ten minutes gets from one temperature to a hotter one, rounded up.
pub fn rise_minutes(rise: f64, from: f64, to: f64) -> f64 {
    ((to - from).max(0.0) / rise * 10.0).ceil()
}

/// From when to when nobody is there to light a cavity: before the first comes, if it is cold at the opening, and whenever all
/// are away for longer than its `cool_off`, so that it is out by then.
pub fn absences(problem: &Problem, cavity: &Cavity) -> Vec<[Minute; 2]> {
    let shifts = problem.shifts.iter().filter(|shift| shift.hands > 0).map(|shift| [shift.start, shift.end]);
    let hours = problem.cooks.iter().flat_map(|cook| &cook.shifts).map(|hours| [hours.start, hours.end]);
    let mut there: Vec<[Minute; 2]> = shifts.chain(hours).collect();
    there.sort_unstable();
    let Some(&[first, mut until]) = there.first() else { return Vec::new() };
    let mut absences = Vec::new();
    if problem.opening < first && cavity.t_open <= ROOM {
        absences.push([problem.opening - 1, first]);
    }
    for [start, end] in there {
        if start - until > cavity.cool_off {
            absences.push([until, start]);
        }
        until = until.max(end);
    }
    absences
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kitchen::{CavitySort, CavitySpec};

    fn oven() -> Cavity {
        CavitySpec::usual(CavitySort::Oven, [440, 380, 320]).cavity("oven")
    }

    #[test]
    fn a_changeover_is_the_way_between_the_nearest_ends_and_the_settling() {
        let oven = oven();
        assert_eq!(changeover(&oven, [175, 185], [185, 195]), None, "windows that touch meet");
        assert_eq!(changeover(&oven, [175, 185], [215, 225]), Some(3 + 5), "30 degrees up at 12 a minute");
        assert_eq!(changeover(&oven, [215, 225], [175, 185]), Some(10 + 5), "30 degrees down at 3 a minute");
        assert_eq!(preheating(&oven, [20, 60]), 0);
    }

    /// Minute by minute or all at once: the same air, there after the minutes that are said.
    #[test]
    fn the_air_is_there_when_it_is_said_to_be() {
        let oven = oven();
        for (from, to) in [(200, 1_800), (1_800, 200), (1_805, 1_800), (1_800, 1_800)] {
            let needed = minutes_between(&oven, from, to);
            assert_eq!(drift(&oven, from, to, needed), to);
            assert!(needed == 0 || drift(&oven, from, to, needed - 1) != to);
            let by_minutes = (0..needed).fold(from, |air, _| drift(&oven, air, to, 1));
            assert_eq!(by_minutes, to);
        }
    }

    #[test]
    fn a_change_inside_counts_from_the_far_end() {
        assert_eq!(change_inside(&oven(), [155, 165], [215, 225]), 5);
        assert_eq!(change_inside(&oven(), [215, 225], [155, 165]), 20);
    }
}
