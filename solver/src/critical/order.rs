//! Who comes when on each machine, and what follows from that: the least heads and tails.

use super::shop::Shop;
use crate::instance::Time;

/// A way for each job and an order on each machine, with its longest paths.
#[derive(Clone, Default)]
pub(super) struct Order {
    /// The way of each job, and what that says.
    pub(super) ways: Vec<usize>,
    pub(super) minutes: Vec<Time>,
    pub(super) ready: Vec<Time>,
    /// Jobs on each machine, in order.
    pub(super) lines: Vec<Vec<usize>>,
    /// The place of each job in its line.
    pub(super) place: Vec<usize>,
    /// The jobs before and after each on its machine; [`NOBODY`] at the ends of a line.
    pub(super) left: Vec<usize>,
    pub(super) right: Vec<usize>,
    /// All jobs, none before one it waits for.
    pub(super) sorted: Vec<usize>,
    /// The place of each job in that.
    pub(super) rank: Vec<usize>,
    /// The least minute in which each job can start.
    pub(super) heads: Vec<Time>,
    /// The least minutes from its end to the end of all.
    pub(super) tails: Vec<Time>,
    /// The end of all.
    pub(super) end: Time,
}

/// No job.
pub(super) const NOBODY: usize = usize::MAX;

impl Order {
    /// From ways and starts. None if those contradict what the jobs wait for.
    pub(super) fn new(shop: &Shop, ways: Vec<usize>, starts: &[Time]) -> Option<Self> {
        let count = shop.jobs.len();
        let mut by_start: Vec<usize> = (0..count).collect();
        by_start.sort_by_key(|&job| starts[job]);
        let mut lines = vec![Vec::new(); shop.machines];
        for job in by_start {
            if let Some(machine) = shop.jobs[job].ways[ways[job]].machine {
                lines[machine].push(job);
            }
        }
        let mut order = Order {
            lines,
            place: vec![0; count],
            left: vec![NOBODY; count],
            right: vec![NOBODY; count],
            rank: vec![0; count],
            heads: vec![0; count],
            tails: vec![0; count],
            minutes: vec![0; count],
            ready: vec![0; count],
            ways: vec![0; count],
            ..Order::default()
        };
        for (job, way) in ways.into_iter().enumerate() {
            order.choose(shop, job, way);
        }
        for machine in 0..shop.machines {
            order.line_up(machine);
        }
        order.work_out(shop).then_some(order)
    }

    /// The machine of a job.
    pub(super) fn machine(&self, shop: &Shop, job: usize) -> Option<usize> {
        shop.jobs[job].ways[self.ways[job]].machine
    }

    fn choose(&mut self, shop: &Shop, job: usize, way: usize) {
        self.ways[job] = way;
        let way = &shop.jobs[job].ways[way];
        (self.minutes[job], self.ready[job]) = (way.minutes, way.ready);
    }

    /// Takes note of who stands where in a line.
    fn line_up(&mut self, machine: usize) {
        let line = &self.lines[machine];
        for (place, &job) in line.iter().enumerate() {
            self.place[job] = place;
            self.left[job] = if place > 0 { line[place - 1] } else { NOBODY };
            self.right[job] = line.get(place + 1).copied().unwrap_or(NOBODY);
        }
    }

    /// Puts a job elsewhere: its way, and its place in the line without it. False if that closes a circle.
    pub(super) fn put(&mut self, shop: &Shop, job: usize, way: usize, place: usize) -> bool {
        if let Some(machine) = self.machine(shop, job) {
            self.lines[machine].remove(self.place[job]);
            self.line_up(machine);
        }
        self.choose(shop, job, way);
        (self.left[job], self.right[job]) = (NOBODY, NOBODY);
        if let Some(machine) = self.machine(shop, job) {
            self.lines[machine].insert(place, job);
            self.line_up(machine);
        }
        self.work_out(shop)
    }

    /// Heads and tails anew. False if the jobs wait for each other in a circle.
    fn work_out(&mut self, shop: &Shop) -> bool {
        // `rank` counts what each job still waits for, until its place is known.
        self.sorted.clear();
        for (job, source) in shop.jobs.iter().enumerate() {
            self.rank[job] = source.before.len() + usize::from(self.left[job] != NOBODY);
            if self.rank[job] == 0 {
                self.sorted.push(job);
            }
        }
        let mut next = 0;
        self.end = Time::MIN;
        while let Some(&job) = self.sorted.get(next) {
            self.rank[job] = next;
            next += 1;
            let mut head = self.ready[job];
            if let Some(&end) = self.heads.get(self.left[job]) {
                head = head.max(end + self.minutes[self.left[job]]);
            }
            for &(before, gap) in &shop.jobs[job].before {
                head = head.max(self.heads[before] + self.minutes[before] + gap);
            }
            self.heads[job] = head;
            self.end = self.end.max(head + self.minutes[job]);
            let right = (self.right[job] != NOBODY).then_some(self.right[job]);
            for other in shop.jobs[job].after.iter().map(|&(other, _)| other).chain(right) {
                self.rank[other] -= 1;
                if self.rank[other] == 0 {
                    self.sorted.push(other);
                }
            }
        }
        for &job in self.sorted.iter().rev() {
            let mut tail = 0;
            if let Some(&after) = self.tails.get(self.right[job]) {
                tail = after + self.minutes[self.right[job]];
            }
            for &(after, gap) in &shop.jobs[job].after {
                tail = tail.max(gap + self.minutes[after] + self.tails[after]);
            }
            self.tails[job] = tail;
        }
        self.sorted.len() == shop.jobs.len()
    }

    /// Jobs of which each can only start when the one before it ends, from the beginning to the end. Where there are
    /// several such paths, `pick` chooses among so many ways on.
    pub(super) fn critical(&self, shop: &Shop, mut pick: impl FnMut(usize) -> usize, path: &mut Vec<usize>) {
        path.clear();
        let ends: Vec<usize> =
            (0..shop.jobs.len()).filter(|&job| self.heads[job] + self.minutes[job] == self.end).collect();
        let mut at = ends.get(pick(ends.len())).copied();
        let mut earlier: Vec<usize> = Vec::new();
        while let Some(job) = at {
            path.push(job);
            earlier.clear();
            let left = (self.left[job] != NOBODY).then_some((self.left[job], 0));
            for (other, gap) in shop.jobs[job].before.iter().copied().chain(left) {
                if self.heads[other] + self.minutes[other] + gap == self.heads[job] {
                    earlier.push(other);
                }
            }
            at = earlier.get(pick(earlier.len())).copied();
        }
    }
}
