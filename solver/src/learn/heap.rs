//! Which variable to look at next: those that took part in recent conflicts.

/// Activities of variables in a binary heap.
#[derive(Default)]
pub(super) struct Heap {
    activity: Vec<f64>,
    heap: Vec<u32>,
    place: Vec<u32>,
    step: f64,
}

const OUT: u32 = u32::MAX;
const TOO_LARGE: f64 = 1e100;

impl Heap {
    pub(super) fn new() -> Self {
        Heap { step: 1.0, ..Heap::default() }
    }

    /// Makes room for variables up to `count`.
    pub(super) fn grow(&mut self, count: usize) {
        self.activity.resize(count, 0.0);
        self.place.resize(count, OUT);
    }

    pub(super) fn insert(&mut self, variable: u32) {
        if self.place[variable as usize] == OUT {
            self.place[variable as usize] = self.heap.len() as u32;
            self.heap.push(variable);
            self.up(self.heap.len() - 1);
        }
    }

    pub(super) fn pop(&mut self) -> Option<u32> {
        let top = *self.heap.first()?;
        self.place[top as usize] = OUT;
        let last = self.heap.pop()?;
        if last != top {
            self.heap[0] = last;
            self.place[last as usize] = 0;
            self.down(0);
        }
        Some(top)
    }

    pub(super) fn bump(&mut self, variable: u32) {
        let activity = &mut self.activity[variable as usize];
        *activity += self.step;
        if *activity > TOO_LARGE {
            for activity in &mut self.activity {
                *activity /= TOO_LARGE;
            }
            self.step /= TOO_LARGE;
        }
        if self.place[variable as usize] != OUT {
            self.up(self.place[variable as usize] as usize);
        }
    }

    pub(super) fn decay(&mut self, factor: f64) {
        self.step /= factor;
    }

    /// More active first; then the smaller index, so that runs repeat.
    fn before(&self, a: u32, b: u32) -> bool {
        let (x, y) = (self.activity[a as usize], self.activity[b as usize]);
        x > y || x == y && a < b
    }

    fn up(&mut self, mut at: usize) {
        while at > 0 {
            let parent = (at - 1) / 2;
            if !self.before(self.heap[at], self.heap[parent]) {
                break;
            }
            self.swap(at, parent);
            at = parent;
        }
    }

    fn down(&mut self, mut at: usize) {
        loop {
            let mut best = at;
            for child in [2 * at + 1, 2 * at + 2] {
                if child < self.heap.len() && self.before(self.heap[child], self.heap[best]) {
                    best = child;
                }
            }
            if best == at {
                return;
            }
            self.swap(at, best);
            at = best;
        }
    }

    fn swap(&mut self, a: usize, b: usize) {
        self.heap.swap(a, b);
        self.place[self.heap[a] as usize] = a as u32;
        self.place[self.heap[b] as usize] = b as u32;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_most_active_comes_first() {
        let mut heap = Heap::new();
        heap.grow(5);
        (0..5).for_each(|variable| heap.insert(variable));
        heap.bump(3);
        heap.decay(0.5);
        heap.bump(1);
        let order: Vec<_> = std::iter::from_fn(|| heap.pop()).collect();
        assert_eq!(order, [1, 3, 0, 2, 4]);
    }
}
