//! Which cook does what: colouring the pieces of hands-on work, each an interval, with cooks.

use std::collections::BTreeMap;

use super::crew::Crew;
use super::data::{Job, What};
use super::running::Run;
use crate::plan::{self, Plan};
use crate::problem::{Minute, Problem};

/// How many cooks may be tried, beyond one for each piece, before the pieces are split where somebody comes or goes.
const TRIALS: usize = 20_000;

/// A piece of work that needs some hands for all of its minutes.
#[derive(Clone, Debug)]
struct Piece<'a> {
    at: Minute,
    until: Minute,
    hands: usize,
    dish: &'a str,
    what: What,
    /// It may be done beside a whole piece.
    passing: bool,
}

impl Piece<'_> {
    /// Whether one cook may do both at the same time.
    fn beside(&self, other: &Piece<'_>) -> bool {
        let whole = |piece: &Piece<'_>| matches!(piece.what, What::Work { .. });
        self.passing && whole(other) || other.passing && whole(self)
    }
}

/// The hands-on work as a plan has it that names who does what; none where it does not say so of each piece.
pub(super) fn as_planned(runs: &[Run<'_>], problem: &Problem, plan: &Plan) -> Option<Vec<Job>> {
    let index: BTreeMap<&str, usize> =
        problem.cooks.iter().enumerate().map(|(i, cook)| (cook.id.as_str(), i)).collect();
    let mut said: BTreeMap<(&str, plan::Piece), Vec<usize>> = BTreeMap::new();
    for hands in &plan.hands {
        let cooks: Option<Vec<usize>> = hands.cooks.iter().map(|cook| index.get(cook.as_str()).copied()).collect();
        said.insert((hands.step.as_str(), hands.piece), cooks?);
    }
    let job = |piece: Piece<'_>| {
        let (step, which) = match &piece.what {
            What::Work { step } => (step, plan::Piece::Whole),
            What::PutIn { step } => (step, plan::Piece::Load),
            What::TakeOut { step } => (step, plan::Piece::Unload),
            What::Touch { step, index } => (step, plan::Piece::Touch(*index)),
            _ => return None,
        };
        let mut cooks = said.get(&(step.as_str(), which))?.clone();
        cooks.sort_unstable();
        Some(Job { at: piece.at, until: piece.until, cooks, what: piece.what })
    };
    runs.iter().flat_map(pieces_of).map(job).collect()
}

/// Gives every piece of hands-on work its cooks: those who were told to do it before, where they can. A dish stays with a cook
/// where it can; a piece is handed over only if nobody is there for all of it.
///
/// A day may have broken the rule that there are hands enough. Then somebody has two things to do at that moment, so that no
/// work is left off the sheets, and the rest of the day is shared out as ever.
pub(super) fn assign(runs: &[Run<'_>], crew: &Crew) -> Vec<Job> {
    let mut pieces: Vec<Piece<'_>> = runs.iter().flat_map(pieces_of).collect();
    pieces.sort_by(|a, b| (a.at, a.until, &a.what).cmp(&(b.at, b.until, &b.what)));
    let none = vec![false; pieces.len()];
    let cooks = colour(&pieces, crew, &none).unwrap_or_else(|| {
        pieces = pieces.drain(..).flat_map(|piece| split(piece, crew)).collect();
        pieces.sort_by(|a, b| (a.at, a.until, &a.what).cmp(&(b.at, b.until, &b.what)));
        let crowded: Vec<bool> = pieces.iter().map(|piece| is_crowded(piece, &pieces, crew)).collect();
        let all = vec![true; pieces.len()];
        colour(&pieces, crew, &crowded).or_else(|| colour(&pieces, crew, &all)).unwrap_or_default()
    });
    let job =
        |(piece, cooks): (Piece<'_>, Vec<usize>)| Job { at: piece.at, until: piece.until, cooks, what: piece.what };
    pieces.into_iter().zip(cooks).map(job).collect()
}

fn pieces_of<'a>(run: &Run<'a>) -> Vec<Piece<'a>> {
    let step = || run.step.id.clone();
    let mut pieces = Vec::new();
    let mut add = |at: Minute, until: Minute, hands: i64, what: What, passing: bool| {
        if hands > 0 && at < until {
            let (hands, dish) = (usize::try_from(hands).unwrap_or(0), run.step.dish.as_str());
            pieces.push(Piece { at, until, hands, dish, what, passing });
        }
    };
    add(run.start, run.end, run.mode.hands, What::Work { step: step() }, false);
    add(run.start, run.start.saturating_add(run.mode.load), 1, What::PutIn { step: step() }, false);
    add(run.end.saturating_sub(run.mode.unload), run.end, 1, What::TakeOut { step: step() }, false);
    for (index, touch, at) in run.touches() {
        add(at, at.saturating_add(touch.minutes), 1, What::Touch { step: step(), index }, touch.passing);
    }
    pieces
}

fn split<'a>(piece: Piece<'a>, crew: &Crew) -> Vec<Piece<'a>> {
    let mut cuts = vec![piece.at];
    cuts.extend(crew.changes().into_iter().filter(|&cut| piece.at < cut && cut < piece.until));
    cuts.push(piece.until);
    cuts.windows(2).map(|pair| Piece { at: pair[0], until: pair[1], ..piece.clone() }).collect()
}

/// Whether more hands are needed than are there at some minute of a piece.
fn is_crowded(piece: &Piece<'_>, pieces: &[Piece<'_>], crew: &Crew) -> bool {
    let starts = pieces.iter().map(|other| other.at).filter(|&at| piece.at <= at && at < piece.until);
    starts.chain([piece.at]).any(|minute| {
        let alive = pieces.iter().filter(|other| !other.passing && other.at <= minute && minute < other.until);
        let there = crew.cooks.iter().filter(|cook| cook.is_present(minute, minute + 1)).count();
        alive.map(|other| other.hands).sum::<usize>() > there
    })
}

/// Depth-first over the pieces in order of start; `None` if no assignment was found. What is `crowded` may fall to cooks who
/// are busy or away, if it cannot be had otherwise.
fn colour(pieces: &[Piece<'_>], crew: &Crew, crowded: &[bool]) -> Option<Vec<Vec<usize>>> {
    let mut chosen: Vec<Vec<usize>> = Vec::with_capacity(pieces.len());
    // The choices still open for each piece on the way down, best last.
    let mut open: Vec<Vec<Vec<usize>>> = Vec::with_capacity(pieces.len());
    let mut trials = 0;
    while chosen.len() < pieces.len() {
        if open.len() == chosen.len() {
            open.push(choices(pieces, &chosen, crew, crowded[chosen.len()]));
        }
        trials += 1;
        match open.last_mut()?.pop() {
            Some(cooks) if trials <= TRIALS + pieces.len() => chosen.push(cooks),
            Some(_) => return None,
            None => {
                open.pop();
                chosen.pop()?;
            }
        }
    }
    Some(chosen)
}

/// The sets of cooks that could take the next piece, best last.
fn choices(pieces: &[Piece<'_>], chosen: &[Vec<usize>], crew: &Crew, crowded: bool) -> Vec<Vec<usize>> {
    let piece = &pieces[chosen.len()];
    // Until when each cook is busy, minutes of work so far, and when each last had the same dish in hand.
    let mut busy: BTreeMap<usize, Minute> = BTreeMap::new();
    let mut load: BTreeMap<usize, Minute> = BTreeMap::new();
    let mut same_dish: BTreeMap<usize, Minute> = BTreeMap::new();
    for (other, cooks) in pieces.iter().zip(chosen) {
        for &cook in cooks {
            if !piece.beside(other) {
                let until = busy.entry(cook).or_insert(other.until);
                *until = other.until.max(*until);
            }
            *load.entry(cook).or_default() += other.until - other.at;
            if other.dish == piece.dish {
                same_dish.insert(cook, other.at);
            }
        }
    }
    let free = |cook: usize| busy.get(&cook).is_none_or(|&until| until <= piece.at);
    let there = |cook: usize| crew.cooks[cook].is_present(piece.at, piece.until);
    let mut able: Vec<usize> = (0..crew.cooks.len()).collect();
    let told = crew.told.iter().find(|job| job.what == piece.what).map_or(&[][..], |job| &job.cooks);
    able.sort_by_key(|cook| {
        let is_new = !told.contains(cook);
        (is_new, std::cmp::Reverse(same_dish.get(cook)), load.get(cook).copied().unwrap_or(0), *cook)
    });
    let fit = able.iter().filter(|&&cook| there(cook) && free(cook)).count();
    if fit < piece.hands && crowded {
        able.sort_by_key(|&cook| (!there(cook), !free(cook)));
        able.truncate(piece.hands);
        return vec![able];
    }
    able.retain(|&cook| there(cook) && free(cook));
    if able.len() < piece.hands {
        return Vec::new();
    }
    // Each window of the preference order: enough variety for backtracking, and few.
    let mut sets: Vec<Vec<usize>> = able.windows(piece.hands).map(<[usize]>::to_vec).collect();
    for set in &mut sets {
        set.sort_unstable();
    }
    sets.reverse();
    sets
}

#[cfg(test)]
mod tests {
    use super::super::crew::Cook;
    use super::*;

    fn crew(present: &[&[[Minute; 2]]]) -> Crew {
        let cook = |present: &&[[Minute; 2]]| Cook { name: String::new(), present: present.to_vec() };
        Crew { cooks: present.iter().map(cook).collect(), told: Vec::new() }
    }

    fn piece(at: Minute, until: Minute, dish: &str) -> Piece<'_> {
        Piece { at, until, hands: 1, dish, what: What::Work { step: format!("{dish}{at}") }, passing: false }
    }

    #[test]
    fn a_dish_stays_with_its_cook() {
        let pieces = [piece(0, 10, "soup"), piece(0, 20, "pie"), piece(20, 30, "soup"), piece(20, 30, "pie")];
        let cooks = colour(&pieces, &crew(&[&[[0, 60]], &[[0, 60]]]), &[false; 4]).expect("enough cooks");
        assert_eq!((&cooks[0], &cooks[1]), (&cooks[2], &cooks[3]));
    }

    #[test]
    fn a_cook_keeps_what_was_said_before() {
        let pieces = [piece(0, 10, "soup"), piece(20, 30, "soup")];
        let mut crew = crew(&[&[[0, 60]], &[[0, 60]]]);
        crew.told = vec![Job { at: 40, until: 50, cooks: vec![1], what: pieces[1].what.clone() }];
        assert_eq!(colour(&pieces, &crew, &[false; 2]), Some(vec![vec![0], vec![1]]));
    }

    #[test]
    fn who_leaves_early_takes_the_early_work() {
        // The first choice for the soup is the first cook, who alone is still there at the end of the pie.
        let cooks = colour(&[piece(0, 10, "soup"), piece(5, 30, "pie")], &crew(&[&[[0, 60]], &[[0, 20]]]), &[false; 2]);
        assert_eq!(cooks, Some(vec![vec![1], vec![0]]));
    }

    #[test]
    fn work_across_a_change_of_cooks_is_handed_over() {
        let crew = crew(&[&[[0, 60]], &[[60, 120]]]);
        assert_eq!(colour(&[piece(50, 70, "jam")], &crew, &[false]), None);
        let cuts: Vec<_> = split(piece(50, 70, "jam"), &crew).iter().map(|piece| (piece.at, piece.until)).collect();
        assert_eq!(cuts, [(50, 60), (60, 70)]);
    }

    #[test]
    fn a_crowded_moment_leaves_nothing_undone_and_the_rest_as_ever() {
        let crew = crew(&[&[[0, 60]], &[[0, 60]]]);
        let pieces = [piece(0, 10, "soup"), piece(5, 15, "pie"), piece(8, 20, "jam"), piece(30, 40, "tea")];
        assert_eq!(colour(&pieces, &crew, &[false; 4]), None);
        let crowded: Vec<bool> = pieces.iter().map(|piece| is_crowded(piece, &pieces, &crew)).collect();
        assert_eq!(crowded, [true, true, true, false]);
        let cooks = colour(&pieces, &crew, &crowded).expect("somebody for everything");
        assert!(cooks.iter().all(|cooks| cooks.len() == 1), "{cooks:?}");
        assert_ne!(cooks[0], cooks[1]);
    }
}
