//! Each piece of work is done by as many different cooks as it needs hands, who may do it, are there throughout, and do
//! nothing else at the time. What is done in passing may be done beside a whole piece.

use std::collections::{BTreeMap, BTreeSet};

use crate::check::facts::Facts;
use crate::check::violation::{BadHands, Violation};
use crate::plan::Piece;
use crate::problem::{Cook, Minute};

use super::pieces::{Job, pieces};

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let jobs: Vec<Job<'_>> = facts.runs.iter().flat_map(pieces).collect();
    let stated = stated(facts, &jobs, violations);
    let there: BTreeMap<&str, Vec<[Minute; 2]>> =
        facts.problem.cooks.iter().map(|cook| (cook.id.as_str(), spells(cook))).collect();
    let mut busy: BTreeMap<&str, Vec<&Job<'_>>> = BTreeMap::new();
    for (job, cooks) in jobs.iter().zip(stated) {
        let Some(cooks) = cooks else { continue };
        let mut bad = |why| violations.push(Violation::PieceDone { step: job.run.id(), piece: job.piece, why });
        let different: BTreeSet<&String> = cooks.iter().collect();
        if different.len() as i64 != job.hands || different.len() != cooks.len() {
            bad(BadHands::Number { cooks: cooks.len(), needed: job.hands });
        }
        for cook in different {
            let Some(spells) = there.get(cook.as_str()) else {
                bad(BadHands::Unknown { cook: cook.clone() });
                continue;
            };
            if job.run.mode.who.as_ref().is_some_and(|who| !who.contains(cook)) {
                bad(BadHands::MayNot { cook: cook.clone() });
            }
            if !spells.iter().any(|spell| spell[0] <= job.span[0] && job.span[1] <= spell[1]) {
                bad(BadHands::NotThere { cook: cook.clone() });
            }
            busy.entry(cook).or_default().push(job);
        }
    }
    for (cook, jobs) in busy {
        at_once(cook, &jobs, violations);
    }
}

/// The cooks stated for each piece; names what is stated twice, not at all, or of nothing.
fn stated<'a>(facts: &Facts<'a>, jobs: &[Job<'_>], violations: &mut Vec<Violation>) -> Vec<Option<&'a [String]>> {
    let index: BTreeMap<(&str, Piece), usize> =
        jobs.iter().enumerate().map(|(i, job)| ((job.run.step.id.as_str(), job.piece), i)).collect();
    let mut stated: Vec<Option<&[String]>> = vec![None; jobs.len()];
    for hands in facts.hands {
        let mut bad = |why| violations.push(Violation::PieceDone { step: hands.step.clone(), piece: hands.piece, why });
        match index.get(&(hands.step.as_str(), hands.piece)) {
            None => bad(BadHands::NoSuchPiece),
            Some(&job) if stated[job].is_some() => bad(BadHands::Twice),
            Some(&job) => stated[job] = Some(&hands.cooks),
        }
    }
    for (job, _) in jobs.iter().zip(&stated).filter(|(_, stated)| stated.is_none()) {
        violations.push(Violation::PieceDone { step: job.run.id(), piece: job.piece, why: BadHands::Nobody });
    }
    stated
}

/// When a cook is there; shifts that touch are one.
fn spells(cook: &Cook) -> Vec<[Minute; 2]> {
    let mut shifts: Vec<[Minute; 2]> = cook.shifts.iter().map(|hours| [hours.start, hours.end]).collect();
    shifts.retain(|[start, end]| start < end);
    shifts.sort_unstable();
    let mut spells: Vec<[Minute; 2]> = Vec::new();
    for shift in shifts {
        match spells.last_mut() {
            Some(last) if last[1] >= shift[0] => last[1] = last[1].max(shift[1]),
            _ => spells.push(shift),
        }
    }
    spells
}

/// Names the pairs of pieces that one cook would have to do at once.
fn at_once(cook: &str, jobs: &[&Job<'_>], violations: &mut Vec<Violation>) {
    for (i, job) in jobs.iter().enumerate() {
        for other in &jobs[..i] {
            let minute = job.span[0].max(other.span[0]);
            let beside = |a: &Job<'_>, b: &Job<'_>| a.passing && b.piece == Piece::Whole;
            if minute < job.span[1].min(other.span[1]) && !beside(job, other) && !beside(other, job) {
                violations.push(Violation::CookBusy {
                    cook: cook.to_owned(),
                    minute,
                    first: (other.run.id(), other.piece),
                    second: (job.run.id(), job.piece),
                });
            }
        }
    }
}
