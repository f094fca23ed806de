//! One valid evening, broken in each single way: the checker names the rule that is broken, and no other.

use rangewright::models::check::{AirClash, Goal, Illegal, Opening, Violation, check, cost};
use rangewright::models::plan::{Plan, Status};
use rangewright::models::problem::{Cavity, Heat, Hob, Link, Mode, Place, Problem, Shift, Top, Touch, Wait};
use rangewright_tests::data;

struct Evening {
    problem: Problem,
    plan: Plan,
}

/// The evening as it should be.
fn evening() -> Evening {
    Evening { problem: data::json("checker/evening.json"), plan: data::json("checker/plan.json") }
}

impl Evening {
    /// What the checker says once the plan states its costs as they are.
    fn violations(mut self) -> Vec<Violation> {
        if let Ok(cost) = cost(&self.problem, &self.plan) {
            [self.plan.lateness, self.plan.waiting, self.plan.hot] = cost.goals();
        }
        check(&self.problem, &self.plan).err().unwrap_or_default()
    }

    fn set(&mut self, step: &str, mode: usize, start: i64, end: i64) {
        let planned = self.plan.steps.get_mut(step).expect("the evening has it");
        (planned.mode, planned.start, planned.end) = (mode, start, end);
    }

    fn mode(&mut self, step: &str, mode: usize) -> &mut Mode {
        &mut self.problem.steps.iter_mut().find(|known| known.id == step).expect("the evening has it").modes[mode]
    }

    fn link(&mut self, from: &str, to: &str) -> &mut Link {
        self.problem.links.iter_mut().find(|link| link.from == from && link.to == to).expect("the evening has it")
    }

    fn oven(&mut self) -> &mut Cavity {
        let Place::Cavity(oven) = &mut self.problem.places[0] else { panic!("the oven comes first") };
        oven
    }

    fn ring(&mut self) -> &mut Hob {
        let Place::Hob(ring) = &mut self.problem.places[2] else { panic!("the ring comes third") };
        ring
    }

    fn plate(&mut self) -> &mut Top {
        let Place::Top(plate) = &mut self.problem.places[3] else { panic!("the plate comes last") };
        plate
    }
}

/// The violations after one change.
fn after(change: impl FnOnce(&mut Evening)) -> Vec<Violation> {
    let mut evening = evening();
    change(&mut evening);
    evening.violations()
}

fn s(text: &str) -> String {
    text.to_owned()
}

fn all(ids: &[&str]) -> Vec<String> {
    ids.iter().map(|&id| s(id)).collect()
}

#[test]
fn the_evening_itself_is_valid() {
    assert_eq!(after(|_| ()), []);
}

#[test]
fn a_problem_that_makes_no_sense() {
    let found = after(|e| e.mode("bake", 0).shut = 41);
    assert!(matches!(&found[..], [Violation::Refused { .. }]), "{found:?}");
}

#[test]
fn plans_that_are_not_complete() {
    let found = after(|e| {
        e.plan.steps.remove("bake");
    });
    assert_eq!(found, [Violation::MissingStep { step: s("bake") }]);
    let found = after(|e| {
        e.plan.steps.insert(s("fold"), e.plan.steps["bake"].clone());
    });
    assert_eq!(found, [Violation::UnknownStep { step: s("fold") }]);
    let found = after(|e| {
        e.plan.served.insert(s("tea"), 900);
    });
    assert_eq!(found, [Violation::UnknownCourse { course: s("tea") }]);
    let found = after(|e| e.set("bake", 1, 640, 680));
    assert_eq!(found, [Violation::NoSuchMode { step: s("bake"), mode: 1, modes: 1 }]);
    for minute in [43_201, -1, i64::MAX, i64::MIN] {
        let found = after(|e| e.set("bake", 0, minute, 680));
        assert_eq!(found, [Violation::AbsurdMinute { id: s("bake"), minute }]);
        let found = after(|e| {
            e.plan.served.insert(s("supper"), minute);
        });
        assert_eq!(found, [Violation::AbsurdMinute { id: s("supper"), minute }]);
    }
    let found = after(|e| e.set("bake", 0, 680, 640));
    assert_eq!(found, [Violation::EndBeforeStart { step: s("bake"), start: 680, end: 640 }]);
}

#[test]
fn modes_that_the_place_cannot_do() {
    let illegal = |step, place, why| Violation::IllegalMode { step: s(step), place: s(place), why };
    assert_eq!(after(|e| e.oven().t_min = 140), [illegal("set", "oven", Illegal::Temperature)]);
    assert_eq!(after(|e| e.oven().t_max = 219), [illegal("crust", "oven", Illegal::Temperature)]);
    assert_eq!(after(|e| e.oven().heats = vec![Heat::Fan]), [illegal("set", "oven", Illegal::Heat)]);
    assert_eq!(after(|e| e.ring().scale = [5, 9]), [illegal("simmer", "ring", Illegal::Level)]);
    assert_eq!(after(|e| e.plate().scale = [4, 9]), [illegal("reduce", "plate", Illegal::Level)]);
    assert_eq!(after(|e| e.ring().min_diameter = 241), [illegal("simmer", "ring", Illegal::Diameter)]);
    assert_eq!(after(|e| e.ring().max_diameter = 239), [illegal("simmer", "ring", Illegal::Diameter)]);
    let room = |place, minute, step| Violation::Room { place: s(place), minute, steps: all(&[step]) };
    let wide = [illegal("bake", "oven", Illegal::Pan), room("oven", 640, "bake")];
    assert_eq!(after(|e| e.mode("bake", 0).pan = Some([461, 100, 100])), wide);
    assert_eq!(after(|e| e.mode("bake", 0).pan = Some([380, 371, 100])), wide, "turned it would be too wide");
    assert_eq!(after(|e| e.mode("bake", 0).pan = Some([370, 460, 300])), [], "it may be turned");
    assert_eq!(after(|e| e.mode("bake", 0).pan = Some([300, 200, 301])), wide, "no clearance");
    let heavy =
        Violation::Weight { place: s("oven"), minute: 640, weight: 12_001, max_weight: 12_000, steps: all(&["bake"]) };
    assert_eq!(after(|e| e.mode("bake", 0).weight = Some(12_001)), [illegal("bake", "oven", Illegal::Weight), heavy]);
    let top = Violation::Top { place: s("plate"), minute: 865, steps: all(&["reduce"]) };
    assert_eq!(after(|e| e.mode("reduce", 0).diameter = Some(301)), [illegal("reduce", "plate", Illegal::Pan), top]);
}

#[test]
fn steps_outside_their_times() {
    let short = Violation::Duration { step: s("bake"), minutes: 39, min: 40, max: 50 };
    assert_eq!(after(|e| e.set("bake", 0, 640, 679)), [short]);
    let long = Violation::Duration { step: s("bake"), minutes: 51, min: 40, max: 50 };
    assert_eq!(after(|e| e.set("bake", 0, 640, 691)), [long]);
    let early = Violation::BeforeOpening { step: s("knead"), start: 600, opening: 601 };
    assert_eq!(after(|e| e.problem.opening = 601), [early]);
    let early = Violation::TooEarly { step: s("knead"), start: 600, earliest: 601 };
    assert_eq!(after(|e| e.problem.steps[0].earliest = Some(601)), [early]);
    let late = Violation::TooLate { step: s("knead"), end: 610, latest: 609 };
    assert_eq!(after(|e| e.problem.steps[0].latest = Some(609)), [late]);
}

#[test]
fn gaps_that_links_do_not_allow() {
    let gap = |min, max| Violation::Gap { from: s("knead"), to: s("bake"), gap: 30, min, max };
    assert_eq!(after(|e| e.link("knead", "bake").min = 31), [gap(31, Some(60))]);
    assert_eq!(after(|e| e.link("knead", "bake").max = Some(29)), [gap(0, Some(29))]);
    assert_eq!(after(|e| e.link("knead", "bake").min = -20), [], "a gap below zero allows more");
    let overlap = Violation::Gap { from: s("set"), to: s("chill"), gap: -1, min: 0, max: Some(10) };
    assert_eq!(after(|e| e.set("chill", 0, 839, 935)), [overlap]);
}

#[test]
fn a_pan_that_stays_in_stays_in_its_cavity() {
    let apart = Violation::StayApart { from: s("low"), to: s("crust") };
    assert_eq!(after(|e| e.set("crust", 1, 760, 775)), [apart]);
}

#[test]
fn courses_at_other_times() {
    let slip = |served, max_slip| Violation::Slip { course: s("supper"), served, serve: 900, max_slip };
    assert_eq!(
        after(|e| {
            e.plan.served.insert(s("supper"), 899);
        }),
        [slip(899, 30)]
    );
    let late = after(|e| {
        e.plan.served.insert(s("supper"), 902);
        e.problem.courses[0].max_slip = 1;
        e.problem.courses[0].together = 20;
    });
    assert_eq!(late, [slip(902, 1)]);
    let together =
        |step, end, served| Violation::Together { course: s("supper"), step: s(step), end, served, together: 10 };
    assert_eq!(after(|e| e.set("portion", 0, 884, 889)), [together("portion", 889, 900)]);
    assert_eq!(after(|e| e.set("slice", 0, 896, 901)), [together("slice", 901, 900)]);
    let gap = |min, max| Violation::After { course: s("sweet"), after: s("supper"), gap: 40, min, max };
    assert_eq!(after(|e| e.problem.courses[1].after.as_mut().unwrap().min = 41), [gap(41, Some(60))]);
    assert_eq!(after(|e| e.problem.courses[1].after.as_mut().unwrap().max = Some(39)), [gap(20, Some(39))]);
}

#[test]
fn servings_that_are_not_stated() {
    let served = |change: fn(&mut Evening)| {
        let mut e = evening();
        e.plan.served.clear();
        change(&mut e);
        let cost = cost(&e.problem, &e.plan).unwrap();
        assert_eq!(e.violations(), []);
        (cost.served["supper"], cost.served["sweet"], cost.lateness)
    };
    assert_eq!(served(|_| ()), (900, 940, 0));
    assert_eq!(served(|e| e.problem.courses[0].serve = 880), (895, 940, 2 * 15), "as soon as the last sink ends");
    let pushed = served(|e| {
        e.problem.courses[1].after.as_mut().unwrap().min = 45;
    });
    assert_eq!(pushed, (900, 945, 5), "as soon after the first as it may be");
    let pulled = served(|e| {
        e.problem.courses[0].together = 30;
        e.problem.courses[1].after.as_mut().unwrap().max = Some(30);
    });
    assert_eq!(pulled, (910, 940, 2 * 10), "the first waits so that the second does not come too long after it");
}

#[test]
fn hands_that_are_not_there() {
    let hands = |minute, needed, there, steps: &[&str]| Violation::Hands { minute, needed, there, steps: all(steps) };
    assert_eq!(after(|e| e.set("portion", 0, 886, 891)), [hands(890, 2, 1, &["slice", "portion"])]);
    let two = |e: &mut Evening| e.problem.shifts[0].hands = 2;
    let both = |e: &mut Evening| {
        two(e);
        e.set("portion", 0, 886, 891);
    };
    assert_eq!(after(both), []);
    assert_eq!(after(|e| e.problem.shifts[0].end = 893), [hands(893, 1, 0, &["slice"])], "a whole step");
    assert_eq!(after(|e| e.problem.shifts[0].start = 605), [hands(600, 1, 0, &["knead"])]);
    let gap = |from, to| {
        move |e: &mut Evening| {
            let shift = |start, end| Shift { start, end, hands: 1 };
            e.problem.shifts = vec![shift(600, from), shift(to, 1_000)];
        }
    };
    assert_eq!(after(gap(640, 642)), [hands(640, 1, 0, &["bake"])], "a load");
    assert_eq!(after(gap(679, 690)), [hands(679, 1, 0, &["bake"])], "an unload");
    assert_eq!(after(gap(810, 811)), [hands(810, 1, 0, &["simmer"])], "a touch");
    assert_eq!(after(gap(642, 679)), [], "load and unload may lie in different shifts");
    assert_eq!(after(gap(605, 605)), [], "touching shifts are one run");
    let past_the_end = |e: &mut Evening| e.mode("simmer", 0).touches = vec![Touch::fixed(90, 2)];
    assert_eq!(after(past_the_end), [hands(890, 2, 1, &["slice", "simmer"])], "a touch past the end is one, too");
}

#[test]
fn pools_that_are_overdrawn() {
    let pool = |pool, minute, needed, steps: &[&str]| Violation::Pool {
        pool: s(pool),
        minute,
        needed,
        there: 1,
        steps: all(steps),
    };
    let found = after(|e| *e.mode("knead", 0).pools.get_mut("mixer").unwrap() = 2);
    assert_eq!(found, [pool("mixer", 600, 2, &["knead"])]);
    let found = after(|e| {
        e.mode("reduce", 0).pools.insert(s("shelf"), 1);
    });
    assert_eq!(found, [pool("shelf", 865, 2, &["reduce", "chill"])]);
}

#[test]
fn burners_and_tops_that_are_full() {
    let hob = Violation::Hob { place: s("ring"), minute: 865, count: 1, steps: all(&["simmer", "reduce"]) };
    assert_eq!(after(|e| e.set("reduce", 1, 865, 890)), [hob]);
    let top = Violation::Top { place: s("plate"), minute: 865, steps: all(&["simmer", "reduce"]) };
    assert_eq!(after(|e| e.set("simmer", 1, 800, 890)), [top]);
    let smaller = |e: &mut Evening| {
        e.set("simmer", 1, 800, 890);
        e.set("reduce", 2, 865, 890);
    };
    assert_eq!(after(smaller), [], "240 and 160 are 400");
}

/// The roots go into the oven while the custard is in.
fn roots_in(e: &mut Evening) {
    e.set("roots", 1, 810, 830);
}

#[test]
fn cavities_that_are_full() {
    assert_eq!(after(roots_in), []);
    let room = Violation::Room { place: s("oven"), minute: 810, steps: all(&["set", "roots"]) };
    let one_rack = |e: &mut Evening| {
        roots_in(e);
        e.oven().racks = 1;
    };
    assert_eq!(after(one_rack), std::slice::from_ref(&room));
    let low = |height| {
        move |e: &mut Evening| {
            roots_in(e);
            e.oven().height = height;
        }
    };
    assert_eq!(after(low(220)), [], "60 and 100 and twice 30");
    assert_eq!(after(low(219)), [room]);
    let weak = |e: &mut Evening| {
        roots_in(e);
        e.oven().max_weight = 3_999;
    };
    let (weight, steps) = (4_000, all(&["set", "roots"]));
    let weight = Violation::Weight { place: s("oven"), minute: 810, weight, max_weight: 3_999, steps };
    assert_eq!(after(weak), [weight]);
}

#[test]
fn air_that_does_not_suit_both() {
    let air = |clash| Violation::Air { place: s("oven"), minute: 810, first: s("set"), second: s("roots"), clash };
    let with = |change: fn(&mut Mode)| {
        after(|e| {
            roots_in(e);
            change(e.mode("roots", 1));
        })
    };
    assert_eq!(with(|mode| mode.t = Some([130, 160])), [], "130 suits both");
    assert_eq!(with(|mode| mode.t = Some([131, 160])), [air(AirClash::Temperature)]);
    assert_eq!(with(|mode| mode.heat = Some(Heat::Fan)), [air(AirClash::Heat)]);
    assert_eq!(with(|mode| mode.dry = true), [air(AirClash::Moisture)]);
    assert_eq!(with(|mode| mode.wet = true), [], "moist and moist go together");
}

/// Windows count as they are, also where the cavity reaches only part of them.
#[test]
fn windows_are_not_clipped_to_the_cavity() {
    let found = after(|e| {
        roots_in(e);
        e.oven().t_min = 128;
        e.mode("roots", 1).t = Some([100, 129]);
        e.mode("set", 0).t = Some([90, 128]);
    });
    assert_eq!(found, []);
    let apart = after(|e| {
        e.oven().t_max = 200;
        e.mode("crust", 0).t = Some([200, 240]);
        e.mode("low", 0).t = Some([150, 300]);
    });
    assert_eq!(apart, []);
}

#[test]
fn changes_of_temperature_take_their_time() {
    let change = |from: Option<&str>, to, minutes, needed| Violation::Changeover {
        place: s("oven"),
        from: from.map(s),
        to: s(to),
        minutes,
        needed,
    };
    assert_eq!(after(|e| e.set("bake", 0, 651, 691)), [], "20 degrees down at 50, and 5 to settle");
    assert_eq!(after(|e| e.set("bake", 0, 652, 692)), [change(Some("bake"), "low", 8, 9)]);
    assert_eq!(after(|e| e.set("bake", 0, 622, 662)), [], "from 20 to 190 at 100, and 5 to settle");
    assert_eq!(after(|e| e.set("bake", 0, 621, 661)), [change(None, "bake", 21, 22)]);
    let not_staying = |e: &mut Evening| e.link("low", "crust").stay = false;
    assert_eq!(after(not_staying), [change(Some("low"), "crust", 0, 10)], "50 degrees up at 100, and 5 to settle");
    let another = after(|e| {
        e.set("roots", 1, 730, 760);
        e.mode("roots", 1).heat = Some(Heat::Fan);
    });
    assert_eq!(another, [change(Some("roots"), "crust", 0, 11)], "the stay frees no other step");
    assert_eq!(after(|e| e.oven().t_open = 300), [], "200 degrees down at 50 are in time, too");
}

#[test]
fn doors_that_must_stay_shut() {
    let door =
        |what, minute| Violation::DoorOpened { place: s("oven"), shut: s("set"), opened: s("roots"), what, minute };
    let roots = |start, end| move |e: &mut Evening| e.set("roots", 1, start, end);
    assert_eq!(after(roots(809, 829)), [door(Opening::Start, 809)]);
    assert_eq!(after(roots(800, 830)), [], "at the same minute");
    assert_eq!(after(roots(810, 830)), [], "at the minute at which it may open again");
    assert_eq!(after(roots(793, 808)), [door(Opening::End, 808)]);
    let touched = |touch: [i64; 2]| {
        move |e: &mut Evening| {
            e.set("roots", 1, 793, 813);
            e.mode("roots", 1).touches = vec![Touch::fixed(touch[0], touch[1])];
            e.mode("simmer", 0).touches.clear();
        }
    };
    assert_eq!(after(touched([12, 1])), [door(Opening::Touch, 805)]);
    assert_eq!(after(touched([17, 3])), [], "810 is open again");
    assert_eq!(after(touched([12, 0])), [], "no minutes, no opening");
    assert_eq!(
        after(|e| e.mode("set", 0).touches = vec![Touch::fixed(5, 1)]),
        [],
        "only other steps are kept from the door"
    );
}

#[test]
fn what_a_plan_states_of_itself() {
    let evening = evening();
    let cost = cost(&evening.problem, &evening.plan).unwrap();
    let [lateness, waiting, hot] = cost.goals();
    assert_eq!(lateness, 0);
    // Links: 30 + 210 + 175 + 110 minutes at rate 1. Steps: simmer 30 and chill 65 beyond their least, 10 of them at 1 and
    // the others at 3; reduce 5. Sinks: slice 5 and three times 10, 5 of them at 2 and the others at 4.
    let links = 30 + 210 + 175 + 110;
    let steps = (10 + 20 * 3) + (10 + 55 * 3) + 5;
    let sinks = 5 * 2 + 3 * (5 * 2 + 5 * 4);
    assert_eq!(waiting, links + steps + sinks);
    // Bread 40, pie 75, custard 40; 20 of the 20 minutes between the first two and 20 of the next 25.
    assert_eq!(hot, 40 + 75 + 40 + 20 + 20);

    let state = |change: fn(&mut Plan)| {
        let (mut plan, problem) = (evening.plan.clone(), &evening.problem);
        [plan.lateness, plan.waiting, plan.hot] = [lateness, waiting, hot];
        change(&mut plan);
        check(problem, &plan).err().unwrap_or_default()
    };
    let stated = |goal, stated, value| Violation::Stated { goal, stated, value };
    assert_eq!(state(|plan| plan.lateness += 1), [stated(Goal::Lateness, 1, 0)]);
    assert_eq!(state(|plan| plan.waiting -= 1), [stated(Goal::Waiting, waiting - 1, waiting)]);
    assert_eq!(state(|plan| plan.hot = i64::MIN), [stated(Goal::Hot, i64::MIN, hot)]);
    let bound = Violation::BoundAboveValue { goal: Goal::Hot, bound: hot + 1, value: hot };
    assert_eq!(state(|plan| plan.bounds[2] = plan.hot + 1), [bound]);
    let open = Violation::NotProved { goal: Goal::Waiting, bound: waiting - 1, value: waiting };
    let claims = |plan: &mut Plan| {
        plan.status = Status::Optimal;
        plan.bounds = [plan.lateness, plan.waiting - 1, plan.hot];
    };
    assert_eq!(state(claims), [open]);
}

#[test]
fn a_mode_may_cost_and_wait_in_its_own_way() {
    let waiting = |change: fn(&mut Mode)| {
        let mut e = evening();
        change(e.mode("simmer", 0));
        cost(&e.problem, &e.plan).unwrap().waiting
    };
    let plain = waiting(|_| ());
    assert_eq!(waiting(|mode| mode.cost = 7), plain + 7);
    let change = |mode: &mut Mode| {
        mode.wait = Some(Wait { rate: 2, soft: None, rate_after: 9 });
    };
    assert_eq!(waiting(change), plain - (10 + 20 * 3) + 30 * 2, "without a soft limit there is no later rate");
}

#[test]
fn every_violation_reads_as_a_sentence() {
    let found = after(|e| {
        e.set("portion", 0, 886, 891);
        e.set("bake", 0, 652, 692);
        e.oven().t_min = 140;
    });
    let read: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(
        read,
        [
            r#""set" cannot be done in "oven": it does not reach the temperature"#,
            r#"from minute 890 2 hands are needed and 1 are there: "slice", "portion""#,
            r#""oven" has 8 minutes between "bake" and "low" for a change of temperature that takes 9"#,
        ]
    );
}
