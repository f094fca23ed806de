//! What was proved, in words.

use rangewright::StopReason;
use rangewright::margins::Margins;
use rangewright::models::plan::{Plan, Status};
use rangewright::models::problem::Minute;
use rangewright::odds::Odds;
use rangewright::spare::LAST;

use super::View;
use crate::words::{Calm, Promise, capital, minutes};

/// What a minute of a hot dish costs at the usual rate.
const HOT: i64 = 3;

/// Sentences about how good the plan is, and why the search stopped.
pub(super) fn sentences(view: &View<'_>) -> Vec<String> {
    let plan = &view.planned.plan;
    let mut sentences: Vec<String> = view.words.promise.iter().map(kept).collect();
    sentences.extend(view.words.calm.iter().map(|calm| calmed(view, calm)));
    sentences.extend(view.words.margins.iter().map(|margins| margined(view, margins)));
    let bought = view.words.calm.as_ref().map_or(0, |calm| calm.waiting);
    sentences.extend(lines(plan, bought));
    let ovens: Minute = view.day.cavities.iter().flat_map(|day| &day.spells).map(|spell| spell.end - spell.start).sum();
    if ovens > 0 {
        sentences.push(format!("Ovens are in use for {} in all.", minutes(ovens)));
    }
    let stop = match view.planned.stopped_by {
        StopReason::Proof => None,
        StopReason::Gap => Some("The search stopped at the gap you asked for."),
        StopReason::Work => Some("The search stopped at its work limit; a larger --work may find better."),
        StopReason::Stop => Some("The search stopped at its time limit; a longer --time may find better."),
        StopReason::Packing => {
            Some("The search could not work out whether some pans fit together; better plans may exist.")
        }
        _ => Some("The search stopped early; better plans may exist."),
    };
    if let (Status::Feasible, Some(stop)) = (plan.status, stop) {
        sentences.push(stop.to_owned());
    }
    sentences
}

/// What a plan with spare hands keeps, and what that costs.
fn kept(promise: &Promise) -> String {
    let price = match promise.waiting {
        0 => "that costs nothing".to_owned(),
        less if less < 0 => "no plan found without it lets food wait less".to_owned(),
        more => format!("for that, waiting costs {more} more"),
    };
    format!(
        "Each cook has {} free in one piece in the last {} before each serving; {price}.",
        minutes(promise.minutes),
        minutes(LAST)
    )
}

/// What room in the plan brings, and what it costs.
fn calmed(view: &View<'_>, calm: &Calm) -> String {
    let course = |own: &crate::words::CalmCourse| {
        format!("{} in {} (without the room: {})", view.words.course(&own.course), own.with, own.without)
    };
    let courses: Vec<String> = calm.courses.iter().map(course).collect();
    // A share of hardly any waiting says nothing.
    let share = if calm.percent <= 20 { format!(" by {} %", calm.percent) } else { String::new() };
    let price = match calm.waiting {
        more if more > 0 => {
            let hot = minutes((more + HOT - 1) / HOT);
            format!("for that, food waits longer{share}, as much as one hot dish does in {hot}")
        }
        _ => "that costs nothing".to_owned(),
    };
    format!(
        "Minutes were moved so that there is room for what takes longer; {price}. Within 5 minutes of its hour, in a hundred evenings: {}.",
        courses.join(", ")
    )
}

/// What margins bring, and what they cost.
fn margined(view: &View<'_>, margins: &Margins) -> String {
    let share = |odds: &Odds| 100 * odds.kept_within / odds.evenings.max(1);
    let (before, after) = (share(&margins.before), share(&margins.after));
    let within = margins.after.within;
    let mut room: Vec<(&str, Minute)> = Vec::new();
    for margin in &margins.margins {
        match room.iter_mut().find(|(step, _)| *step == margin.step) {
            Some((_, minutes)) => *minutes += margin.minutes,
            None => room.push((&margin.step, margin.minutes)),
        }
    }
    let room: Vec<String> =
        room.iter().map(|(step, more)| format!("{} {}", capital(view.words.title(step)), minutes(*more))).collect();
    let enough = if margins.reached {
        String::new()
    } else {
        format!(" {} were asked for; no other margin that was tried helps.", margins.wanted)
    };
    let price = match margins.waiting {
        more if more > 0 => format!("for that, waiting costs {more} more"),
        _ => "that costs nothing".to_owned(),
    };
    if room.is_empty() && after > before {
        return format!(
            "Minutes were moved so that there is room for what takes longer; {price}. With it every course is within {within} min of its hour in {after} evenings of 100, without it in {before}.{enough}"
        );
    }
    if room.is_empty() {
        return format!(
            "Without any margin every course is within {within} min of its hour in {after} evenings of 100.{enough}"
        );
    }
    format!(
        "Margins after: {}; {price}. With them every course is within {within} min of its hour in {after} evenings of 100, without them in {before}.{enough}",
        room.join("; ")
    )
}

/// What is proved; `bought` is the waiting that room in the plan costs.
fn lines(plan: &Plan, bought: i64) -> Vec<String> {
    let mut lines = Vec::new();
    let sooner = plan.lateness > plan.bounds[0];
    let on_time = plan.lateness == 0;
    if sooner {
        lines.push("It is not known yet whether everything can be served sooner.".to_owned());
        return lines;
    }
    let waits_less = plan.waiting > plan.bounds[1];
    let first = if on_time { "Every course is on time" } else { "Nothing can be served sooner" };
    match (waits_less, plan.status) {
        (false, Status::Optimal) => {
            lines.push(format!("{first}, and this plan is proved best: food cannot wait less without serving later, and ovens cannot be hot for less time without that or longer waits."));
        }
        (false, Status::Feasible) => {
            lines.push(format!("{first}, and it is proved that food cannot wait less without serving later. Ovens might be hot for less time: {} as planned, at least {} in any such plan.", minutes(plan.hot), minutes(plan.bounds[2])));
        }
        (true, _) if bought > 0 && plan.waiting - bought <= plan.bounds[1] => {
            lines.push(format!(
                "{first}, and it is proved that food cannot wait less without serving later, but for that room."
            ));
        }
        (true, _) => {
            lines.push(format!("{first}. Food might still wait less: {}.", gap(plan.waiting, plan.bounds[1])));
        }
    }
    lines
}

/// How far off the best the waiting may be.
fn gap(value: i64, bound: i64) -> String {
    if bound <= 0 || value <= 0 {
        return "how much less is not known yet".to_owned();
    }
    let percent = (100 * (value - bound) + value - 1) / value;
    format!("the most that could be saved is {percent} % of the waiting here")
}
