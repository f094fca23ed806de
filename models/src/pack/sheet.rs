//! Rectangles on one rectangle: an exact search over the order in which they are put down.

use std::collections::{HashMap, HashSet};

use super::bounds;
use super::stairs::Stairs;

/// The rectangle to be filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Sheet {
    pub(super) width: i64,
    pub(super) depth: i64,
}

/// Where a rectangle lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Lie {
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) turned: bool,
}

/// What became of a question, and the work it took.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub(super) lies: Option<Vec<Lie>>,
    /// Without lies: whether there are none, or the work ran out.
    pub(super) proved: bool,
    pub(super) work: u64,
}

/// The most outlines one question may look at.
const WORK: u64 = 50_000;
/// More rectangles than this are put down greedily, and that is all.
const MOST_SEARCHED: usize = 64;

/// Answers are remembered with the work they took, which is charged again: a budget must not depend on what was asked before.
pub(super) type Memory = HashMap<(Sheet, Vec<[i64; 2]>), Answer>;

/// Whether rectangles, long side first and in descending order, fit on a sheet.
pub(super) fn fit(sheet: Sheet, rects: Vec<[i64; 2]>, memory: &mut Memory) -> Answer {
    let key = (sheet, rects);
    if let Some(answer) = memory.get(&key) {
        return answer.clone();
    }
    let answer = search(sheet, &key.1);
    memory.insert(key, answer.clone());
    answer
}

fn search(sheet: Sheet, rects: &[[i64; 2]]) -> Answer {
    let fits_alone = |&[w, d]: &[i64; 2]| {
        d >= 1 && ((w <= sheet.width && d <= sheet.depth) || (d <= sheet.width && w <= sheet.depth))
    };
    if !rects.iter().all(fits_alone) || bounds::too_many(sheet, rects) {
        return Answer { lies: None, proved: true, work: 1 };
    }
    let mut kinds: Vec<Kind> = Vec::new();
    for &size in rects {
        match kinds.last_mut() {
            Some(kind) if kind.size == size => kind.count += 1,
            _ => kinds.push(Kind { size, count: 1 }),
        }
    }
    let area = rects.iter().map(|&[w, d]| i128::from(w) * i128::from(d)).sum();
    let mut search = Search { sheet, kinds, left: rects.len(), area, put: Vec::new(), failed: HashSet::new(), work: 0 };
    let found = search.greedy() || (rects.len() <= MOST_SEARCHED && search.exact(&Stairs::new()));
    let proved = found || (rects.len() <= MOST_SEARCHED && search.work < WORK);
    Answer { lies: found.then(|| search.lies(rects)), proved, work: search.work + 1 }
}

/// Equal rectangles that are still to be put down.
struct Kind {
    size: [i64; 2],
    count: usize,
}

/// One way to put the next rectangle down.
#[derive(Clone, Copy)]
struct Put {
    kind: usize,
    lie: Lie,
}

struct Search {
    sheet: Sheet,
    kinds: Vec<Kind>,
    left: usize,
    /// Of what is left.
    area: i128,
    put: Vec<Put>,
    failed: HashSet<(Stairs, Vec<usize>)>,
    work: u64,
}

impl Search {
    /// Largest first, each where the outline grows least. No way back.
    fn greedy(&mut self) -> bool {
        let mut stairs = Stairs::new();
        while self.left > 0 {
            let Some(kind) = self.kinds.iter().position(|kind| kind.count > 0) else { break };
            let ways: Vec<_> = self.puts(&stairs, kind).map(|put| (self.outline(&stairs, put), put)).collect();
            self.work += ways.len() as u64;
            let best = ways.into_iter().min_by_key(|(outline, _)| outline.area(self.sheet.width));
            let Some((outline, put)) = best.filter(|_| self.work < WORK) else { break };
            stairs = outline;
            self.down(put);
        }
        let found = self.left == 0;
        while !found && let Some(put) = self.put.last().copied() {
            self.up(put);
        }
        found
    }

    /// Every order, every corner, both ways round.
    fn exact(&mut self, stairs: &Stairs) -> bool {
        if self.left == 0 {
            return true;
        }
        self.work += 1;
        if self.work >= WORK || self.stuck(stairs) {
            return false;
        }
        let stairs = &self.raised(stairs);
        let whole = i128::from(self.sheet.width) * i128::from(self.sheet.depth);
        if whole - stairs.area(self.sheet.width) < self.area {
            return false;
        }
        let state = (stairs.clone(), self.kinds.iter().map(|kind| kind.count).collect::<Vec<_>>());
        if self.failed.contains(&state) {
            return false;
        }
        for kind in 0..self.kinds.len() {
            let puts: Vec<Put> = self.puts(stairs, kind).collect();
            for put in puts {
                let outline = self.outline(stairs, put);
                self.down(put);
                if self.exact(&outline) {
                    return true;
                }
                self.up(put);
            }
        }
        self.failed.insert(state);
        false
    }

    /// Whether some rectangle fits in no corner any more.
    fn stuck(&self, stairs: &Stairs) -> bool {
        (0..self.kinds.len()).any(|kind| self.kinds[kind].count > 0 && self.puts(stairs, kind).next().is_none())
    }

    /// The outline without the corners in which nothing that is left fits.
    fn raised(&self, stairs: &Stairs) -> Stairs {
        stairs.without(self.sheet.depth, |(x, y)| {
            let fits = |w: i64, d: i64| w <= self.sheet.width - x && d <= self.sheet.depth - y;
            let left = self.kinds.iter().filter(|kind| kind.count > 0);
            left.map(|kind| kind.size).any(|[w, d]| fits(w, d) || fits(d, w))
        })
    }

    fn puts<'a>(&'a self, stairs: &'a Stairs, kind: usize) -> impl Iterator<Item = Put> + 'a {
        let Kind { size: [w, d], count } = self.kinds[kind];
        let ways = if count == 0 { 0 } else { 1 + usize::from(w != d) };
        let turns = [false, true].into_iter().take(ways);
        turns.flat_map(move |turned| {
            let [w, d] = if turned { [d, w] } else { [w, d] };
            let free = move |&&(x, y): &&(i64, i64)| w <= self.sheet.width - x && d <= self.sheet.depth - y;
            stairs.corners().iter().filter(free).map(move |&(x, y)| Put { kind, lie: Lie { x, y, turned } })
        })
    }

    fn outline(&self, stairs: &Stairs, Put { kind, lie: Lie { x, y, turned } }: Put) -> Stairs {
        let [w, d] = self.kinds[kind].size;
        let [w, d] = if turned { [d, w] } else { [w, d] };
        stairs.with(x + w, y + d)
    }

    fn down(&mut self, put: Put) {
        let Kind { size: [w, d], count } = &mut self.kinds[put.kind];
        *count -= 1;
        self.left -= 1;
        self.area -= i128::from(*w) * i128::from(*d);
        self.put.push(put);
    }

    fn up(&mut self, put: Put) {
        let Kind { size: [w, d], count } = &mut self.kinds[put.kind];
        *count += 1;
        self.left += 1;
        self.area += i128::from(*w) * i128::from(*d);
        self.put.pop();
    }

    /// The lies in the order of the rectangles, which is the order of their kinds.
    fn lies(&self, rects: &[[i64; 2]]) -> Vec<Lie> {
        let mut put = self.put.clone();
        put.sort_by_key(|put| put.kind);
        debug_assert_eq!(put.len(), rects.len());
        put.into_iter().map(|put| put.lie).collect()
    }
}
