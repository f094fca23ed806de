//! Who does what, by trying everybody.

use rangewright::models::plan::{Hands, Piece};
use rangewright::models::problem::{Cook, Problem};

use super::plans::Run;

/// A piece of work of a plan.
struct Job<'a> {
    step: &'a str,
    piece: Piece,
    from: i64,
    to: i64,
    hands: i64,
    passing: bool,
    who: Option<&'a [String]>,
}

/// Somebody for each piece of work; nobody is named where hands are counted. None: there are not enough.
pub(super) fn found(problem: &Problem, runs: &[Run<'_>]) -> Option<Vec<Hands>> {
    let mut jobs: Vec<Job<'_>> = runs.iter().flat_map(|run| jobs(problem, run)).collect();
    if problem.cooks.is_empty() {
        return counted(problem, &jobs).then(Vec::new);
    }
    jobs.sort_by_key(|job| job.from);
    let mut given: Vec<Vec<usize>> = Vec::new();
    if !give(problem, &jobs, &mut given) {
        return None;
    }
    let hands = jobs.iter().zip(&given).map(|(job, cooks)| Hands {
        step: job.step.to_owned(),
        piece: job.piece,
        cooks: cooks.iter().map(|&cook| problem.cooks[cook].id.clone()).collect(),
    });
    Some(hands.collect())
}

fn jobs<'a>(problem: &'a Problem, run: &Run<'a>) -> Vec<Job<'a>> {
    let mode = run.mode;
    let job = |piece, from, to, hands, passing| Job {
        step: &problem.steps[run.step].id,
        piece,
        from,
        to,
        hands,
        passing,
        who: mode.who.as_deref(),
    };
    let mut jobs = vec![
        job(Piece::Whole, run.start, run.end, mode.hands, false),
        job(Piece::Load, run.start, run.start + mode.load, 1, false),
        job(Piece::Unload, run.end - mode.unload, run.end, 1, false),
    ];
    for (index, (touch, begun)) in mode.touches.iter().zip(&run.touches).enumerate() {
        let from = run.start + begun;
        jobs.push(job(Piece::Touch(index), from, from + touch.minutes, 1, touch.passing));
    }
    jobs.retain(|job| job.hands > 0 && job.from < job.to);
    jobs
}

/// Hands by number, minute by minute.
fn counted(problem: &Problem, jobs: &[Job<'_>]) -> bool {
    let last = jobs.iter().map(|job| job.to).max().unwrap_or(0);
    (0..last).all(|minute| {
        let shifts = problem.shifts.iter().filter(|shift| shift.start <= minute && minute < shift.end);
        let there: i64 = shifts.map(|shift| shift.hands).sum();
        let now = || jobs.iter().filter(|job| job.from <= minute && minute < job.to);
        let needed: i64 = now().filter(|job| !job.passing).map(|job| job.hands).sum();
        let short: i64 = now().filter(|job| job.piece != Piece::Whole).map(|job| job.hands).sum();
        // What is done in passing asks for a hand that is free of everything short.
        needed <= there && (short <= there || !now().any(|job| job.passing))
    })
}

/// Gives the next piece to each set of cooks in turn.
fn give(problem: &Problem, jobs: &[Job<'_>], given: &mut Vec<Vec<usize>>) -> bool {
    let Some(job) = jobs.get(given.len()) else { return true };
    let able: Vec<usize> = (0..problem.cooks.len())
        .filter(|&cook| {
            let own = &problem.cooks[cook];
            let busy = jobs.iter().zip(given.iter()).any(|(other, cooks)| {
                let beside = |a: &Job<'_>, b: &Job<'_>| a.passing && b.piece == Piece::Whole;
                let at_once = job.from < other.to && other.from < job.to;
                cooks.contains(&cook) && at_once && !beside(job, other) && !beside(other, job)
            });
            job.who.is_none_or(|who| who.contains(&own.id)) && is_there(own, job.from, job.to) && !busy
        })
        .collect();
    subsets(&able, job.hands as usize).into_iter().any(|cooks| {
        given.push(cooks);
        let done = give(problem, jobs, given);
        if !done {
            given.pop();
        }
        done
    })
}

/// Whether a cook is there at each of these minutes.
fn is_there(cook: &Cook, from: i64, to: i64) -> bool {
    (from..to).all(|minute| cook.shifts.iter().any(|hours| hours.start <= minute && minute < hours.end))
}

/// All ways to take so many of some.
fn subsets(of: &[usize], count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let Some((&first, rest)) = of.split_first() else { return Vec::new() };
    let with = subsets(rest, count - 1).into_iter().map(|subset| [vec![first], subset].concat());
    with.chain(subsets(rest, count)).collect()
}
