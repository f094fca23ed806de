//! Small random problems for the cross-check: short evenings in which nearly every rule of the model can bite.
//!
//! The published and the reference instances are chains without ties; these have branches, joins, ties between dishes, stay
//! links, negative gaps, touches, doors that stay shut, tops, costs, shifts that touch, and courses in turn.

use std::collections::BTreeMap;

use rangewright::models::problem::{
    After, Cavity, Course, Dish, Heat, Hob, Link, Minute, Mode, Place, Problem, Shift, Sink, Step, Top, Touch, Wait,
};

const OPENING: Minute = 600;

/// The problem with this number, of two or three dishes unless told how many; the same number and dishes give the same problem
/// for ever. It has no faults.
pub fn problem(number: u64, dishes: Option<u8>) -> Problem {
    let mut draw = Draw(number);
    let drawn = draw.within(2, 3);
    draw.problem(format!("random-{number:04}"), dishes.map_or(drawn, i64::from))
}

/// A stream of random numbers: SplitMix64 (Steele, Lea and Flood 2014).
pub(crate) struct Draw(u64);

impl Draw {
    /// The stream with this number.
    pub(crate) fn new(number: u64) -> Self {
        Draw(number)
    }

    /// A number about 0 with a deviation of about 1, never beyond 3.5: the sum of twelve even ones, less six.
    pub(crate) fn bell(&mut self) -> f64 {
        let sum: i64 = (0..12).map(|_| self.within(0, 1_000)).sum();
        (sum as f64 / 1_000.0 - 6.0).clamp(-3.5, 3.5)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number in `low..=high`.
    fn within(&mut self, low: i64, high: i64) -> i64 {
        let span = high.abs_diff(low) + 1;
        low.saturating_add_unsigned(self.next() % span)
    }

    fn pick<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[(self.next() % choices.len() as u64) as usize]
    }

    /// True so many times out of a hundred.
    fn often(&mut self, percent: i64) -> bool {
        self.within(1, 100) <= percent
    }

    fn problem(&mut self, name: String, dishes: i64) -> Problem {
        let minutes = self.within(22, 34) + 8 * (dishes - 2);
        let mut problem = Problem {
            name,
            opening: OPENING,
            shifts: self.shifts(minutes),
            cooks: Vec::new(),
            pools: BTreeMap::from([("tin".to_owned(), self.within(1, 2))]),
            places: self.places(),
            dishes: Vec::new(),
            courses: self.courses(minutes),
            steps: Vec::new(),
            links: Vec::new(),
        };
        for dish in 0..dishes {
            self.add_dish(&mut problem, dish);
        }
        self.add_ties(&mut problem);
        problem
    }

    fn shifts(&mut self, minutes: Minute) -> Vec<Shift> {
        let (middle, end) = (OPENING + self.within(8, minutes - 8), OPENING + minutes + 30);
        let resume = middle + if self.often(60) { 0 } else { self.within(1, 6) };
        let first = Shift { start: OPENING, end: middle, hands: self.within(1, 2) };
        vec![first, Shift { start: resume, end, hands: self.within(1, 2) }]
    }

    fn places(&mut self) -> Vec<Place> {
        let oven = self.cavity("oven");
        let hob =
            Hob { id: "hob".to_owned(), count: self.within(1, 2), scale: [1, 9], min_diameter: 120, max_diameter: 240 };
        let top = Top { id: "top".to_owned(), width: 400, depth: self.pick(&[200, 350]), scale: [1, 6] };
        let second = self.cavity("second oven");
        vec![Place::Cavity(oven), Place::Hob(hob), Place::Top(top), Place::Cavity(second)]
    }

    fn cavity(&mut self, id: &str) -> Cavity {
        Cavity {
            id: id.to_owned(),
            width: 400,
            depth: 300,
            height: self.pick(&[120, 200, 300]),
            racks: self.within(1, 3),
            clearance: self.pick(&[0, 20]),
            max_weight: self.pick(&[4_000, 9_000]),
            t_min: 50,
            t_max: 250,
            t_open: self.pick(&[20, 150]),
            rise: self.pick(&[500, 1_000]),
            fall: self.pick(&[250, 800]),
            settle: self.within(0, 2),
            cool_off: self.within(0, 6),
            heats: vec![Heat::Fan, Heat::Static],
            attended: false,
        }
    }

    fn courses(&mut self, minutes: Minute) -> Vec<Course> {
        let serve = OPENING + self.pick(&[0, minutes / 2, minutes - 5]);
        let course = |id: &str, serve, weight, together, after| Course {
            id: id.to_owned(),
            serve,
            weight,
            max_slip: OPENING + minutes + 8 - serve,
            together,
            sinks: Vec::new(),
            after,
        };
        let main = course("main", serve, self.within(1, 3), self.within(0, 6), None);
        if self.often(60) {
            return vec![main];
        }
        let min = self.within(0, 6);
        let max = self.often(50).then(|| min + self.within(0, 6));
        let after = After { course: "main".to_owned(), min, max };
        let last = course("last", serve, self.within(1, 3), self.within(0, 6), Some(after));
        vec![main, last]
    }

    /// One to three steps: each but the last leads to some later one, so that the last is the sink.
    fn add_dish(&mut self, problem: &mut Problem, dish: i64) {
        let dish_id = format!("d{dish}");
        let count = self.within(1, 3);
        for number in 0..count {
            let id = format!("{dish_id}.{number}");
            let later = (number + 1 < count).then(|| self.within(number + 1, count - 1));
            problem.steps.push(self.step(&id, &dish_id));
            if let Some(later) = later {
                let link = self.link(&id, &format!("{dish_id}.{later}"));
                problem.links.push(link);
            }
        }
        let course = if self.often(50) { 0 } else { problem.courses.len() - 1 };
        let sink = Sink { step: format!("{dish_id}.{}", count - 1), wait: self.wait(), pools: BTreeMap::new() };
        problem.courses[course].sinks.push(sink);
        problem.dishes.push(Dish { id: dish_id.clone(), name: dish_id });
    }

    fn step(&mut self, id: &str, dish: &str) -> Step {
        let modes = (0..self.pick(&[1, 2, 2, 3])).map(|_| self.mode()).collect();
        Step {
            id: id.to_owned(),
            dish: dish.to_owned(),
            kind: "any".to_owned(),
            earliest: self.often(15).then(|| OPENING + self.within(0, 8)),
            latest: self.often(10).then(|| OPENING + self.within(18, 30)),
            wait: self.wait(),
            modes,
        }
    }

    fn mode(&mut self) -> Mode {
        let oven = self.pick(&["oven", "oven", "oven", "second oven"]);
        let place = self.pick(&[None, None, Some(oven), Some(oven), Some(oven), Some("hob"), Some("top")]);
        let min = self.within(2, 7);
        let mut mode = Mode { place: place.map(str::to_owned), ..crate::formats::rigid(min) };
        mode.max = min + if self.often(50) { 0 } else { self.within(1, 6) };
        match self.within(0, 3) {
            0 => mode.hands = 1,
            1 => (mode.load, mode.unload) = (self.within(0, 1), self.within(0, 1)),
            2 => mode.touches = vec![Touch::fixed(self.within(0, min - 1), 1)],
            _ => {}
        }
        if self.often(30) {
            mode.pools.insert("tin".to_owned(), 1);
        }
        if self.often(30) {
            mode.cost = self.within(1, 15);
        }
        mode.wait = self.often(20).then(|| self.wait());
        match place {
            Some("oven" | "second oven") => self.put_in_oven(&mut mode),
            Some(_) => {
                let low = self.within(1, 7);
                mode.level = Some([low, low + 1]);
                mode.diameter = Some(self.pick(&[140, 180, 200, 230]));
            }
            None => {}
        }
        mode
    }

    fn put_in_oven(&mut self, mode: &mut Mode) {
        let low = self.pick(&[90, 120, 150, 180, 210]);
        mode.t = Some([low, low + self.pick(&[10, 30])]);
        mode.heat = Some(self.pick(&[Heat::Fan, Heat::Fan, Heat::Fan, Heat::Static]));
        mode.pan = Some([self.pick(&[140, 200, 280, 390]), self.pick(&[150, 240, 290]), self.pick(&[30, 60, 110])]);
        mode.weight = Some(self.pick(&[800, 2_000, 3_500]));
        mode.shut = if self.often(25) { self.within(1, mode.min) } else { 0 };
        mode.wet = self.often(15);
        mode.dry = !mode.wet && self.often(15);
    }

    fn wait(&mut self) -> Wait {
        let rate = self.pick(&[0, 0, 1, 3, 8]);
        let soft = self.often(50).then(|| self.within(0, 6));
        Wait { rate, soft, rate_after: rate + self.within(0, 6) }
    }

    fn link(&mut self, from: &str, to: &str) -> Link {
        let min = self.pick(&[0, 0, 0, 2, -2, -6]);
        let max = self.often(50).then(|| min + self.within(0, 9));
        Link {
            from: from.to_owned(),
            to: to.to_owned(),
            min,
            max,
            stay: false,
            wait: self.wait(),
            pools: BTreeMap::new(),
        }
    }

    /// Ties between dishes run from earlier to later ones, so that nothing closes a circle; some links become stays.
    fn add_ties(&mut self, problem: &mut Problem) {
        let sinks: Vec<&str> = problem.courses.iter().flat_map(|c| &c.sinks).map(|sink| sink.step.as_str()).collect();
        let inner: Vec<&Step> = problem.steps.iter().filter(|step| !sinks.contains(&step.id.as_str())).collect();
        let later = |from: &Step| problem.steps.iter().filter(|step| step.dish > from.dish).collect::<Vec<_>>();
        if let Some(from) = inner.first()
            && let others = later(from)
            && !others.is_empty()
            && self.often(40)
        {
            let to = others[self.within(0, others.len() as i64 - 1) as usize];
            let tie = self.link(&from.id, &to.id);
            problem.links.push(tie);
        }
        // Two links between the same steps both hold.
        if let Some(Link { from, to, .. }) = problem.links.last().cloned()
            && self.often(15)
        {
            let second = self.link(&from, &to);
            problem.links.push(second);
        }
        let in_oven = |id: &str| {
            let step = problem.steps.iter().find(|step| step.id == id);
            step.is_some_and(|step| step.modes.iter().any(|mode| mode.place.as_deref() == Some("oven")))
        };
        let stays: Vec<bool> =
            problem.links.iter().map(|link| in_oven(&link.from) && in_oven(&link.to) && self.often(50)).collect();
        for (link, stay) in problem.links.iter_mut().zip(stays) {
            if stay {
                (link.min, link.max, link.stay) = (0, Some(0), true);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn random_problems_have_no_faults() {
        for number in 0..500 {
            let faults = problem(number, None).faults();
            assert!(faults.is_empty(), "{number}: {faults:?}");
        }
        for dishes in 1..=6 {
            let faults = problem(7, Some(dishes)).faults();
            assert!(faults.is_empty(), "{dishes} dishes: {faults:?}");
        }
    }
}
