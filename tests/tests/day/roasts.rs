//! Roasts on the day: one forecast for menu, `roast`, probe, odds and the day, whatever the oven does meanwhile.

use std::collections::BTreeMap;

use rangewright::models::compile::{Compiled, compile};
use rangewright::models::cook::roast::{Oven, Reading, Roasting, Spell, forecast_with, reforecast, state};
use rangewright::models::cook::safety::Region;
use rangewright::models::day::{Day, Entry, Event, Left, Stage, fold, fold_with};
use rangewright::models::plan::Plan;
use rangewright::models::problem::{Heat, Mode, Place, Problem};
use rangewright::models::{examples, read};
use rangewright::odds::ranges;
use rangewright::replan::{Replanned, replan};
use rangewright::{Limits, Outcome, solve};

/// A supper with a joint that was worked out from its weight, its plan, and what is known of its roasts.
struct Supper {
    problem: Problem,
    plan: Plan,
    roasts: BTreeMap<String, Roasting>,
    crew: rangewright::models::schedule::Crew,
    /// The step that roasts, its way, and when it goes in.
    step: String,
    mode: Mode,
    start: i64,
}

impl Supper {
    fn new() -> Self {
        let lantern = examples::demo();
        let feast = read::feast(lantern.menu, lantern.menu_name, |name| lantern.kitchen_text(name)).expect("a menu");
        let Compiled { problem, labels } = compile(&feast).expect("no faults");
        let limits = Limits { work: Some(6_000), ..Limits::default() };
        let Outcome::Planned(planned) = solve(&problem, &limits).expect("no faults") else { panic!("no plan") };
        let (plan, roasts) = (planned.plan, labels.roasts());
        let (step, _) = roasts.iter().next().expect("a joint");
        let own = problem.steps.iter().find(|own| own.id == *step).expect("its step");
        let (mode, start) = (own.modes[plan.steps[step].mode].clone(), plan.steps[step].start);
        let crew = rangewright::models::schedule::Crew::named(&labels);
        Self { step: step.clone(), mode, start, problem, plan, roasts, crew }
    }

    fn known(&self) -> Roasting {
        self.roasts[&self.step]
    }

    fn heat(&self) -> Heat {
        self.mode.heat.expect("an oven's heat")
    }

    fn dial(&self) -> f64 {
        let [low, high] = self.mode.t.expect("a window");
        (low + high) as f64 / 2.0
    }

    fn oven(&self) -> Oven {
        let own = |place: &Place| match place {
            Place::Cavity(cavity) if Some(&cavity.id) == self.mode.place.as_ref() => Some([cavity.rise, cavity.fall]),
            _ => None,
        };
        let [rise, fall] = self.problem.places.iter().find_map(own).expect("its oven").map(|rate| rate as f64);
        let at = self.dial().round() as i64;
        Oven { rise, fall, ..Oven::new(self.heat(), at, at) }
    }

    fn place(&self) -> String {
        self.mode.place.clone().expect("an oven")
    }

    /// The day, so many minutes after the roast went in, after these events.
    fn day(&self, events: &[(i64, Event)], minute: i64) -> Day {
        let put_in = (0, Event::PutIn { step: self.step.clone(), place: None });
        let entry = |(at, event): &(i64, Event)| Entry { at: self.start + at, event: event.clone() };
        let log: Vec<Entry> = std::iter::once(&put_in).chain(events).map(entry).collect();
        fold_with(&self.problem, &self.plan, &log, self.start + minute, &self.roasts).expect("it can be")
    }

    fn probe(&self, core: i64) -> Event {
        Event::Probe { step: self.step.clone(), core, target: None, from: None }
    }

    fn until(&self, day: &Day) -> Option<i64> {
        match day.stage(&self.step) {
            Stage::Running { until, .. } => until,
            other => panic!("{other:?}"),
        }
    }
}

/// The day, `state` and `reforecast` are asked about one reading: they give the same minutes; so does the plan of the rest, and
/// the odds take the range from it.
#[test]
fn every_door_gives_the_same_minutes_for_a_reading() {
    let supper = Supper::new();
    let (known, oven, dial) = (supper.known(), supper.oven(), supper.dial());
    let forecast = forecast_with(&known.roast, &oven, &known.calibration, Region::Us).expect("a forecast");
    let way = &forecast.ways[0];
    let probe = way.probes[0];
    for core in [probe.core_c.round() as i64, probe.core_c.round() as i64 - 5] {
        let told = supper.day(&[(probe.minute, supper.probe(core))], probe.minute).probes[&supper.step];
        let minute = probe.minute as f64;
        let history = [Spell::oven(minute, supper.heat(), dial)];
        let readings = [Reading { minute, core_c: core as f64 }];
        let then = Spell::turned(0.0, supper.heat(), dial);
        let by_state =
            state(&known.roast, &oven, &history, &readings, then, way.long_end_c, &known.calibration).expect("a state");
        let left = Left { minutes: by_state.remaining_min, early: by_state.early_min, late: by_state.late_min };
        assert_eq!(told, left);
        let again = reforecast(&known.roast, &oven, way, &known.calibration, minute, core as f64).expect("a forecast");
        assert_eq!([again.remaining_min, again.early_min, again.late_min], [left.minutes, left.early, left.late]);
    }
    let day = supper.day(&[(probe.minute, supper.probe(probe.core_c.round() as i64 - 5))], probe.minute);
    let (left, limits) = (day.probes[&supper.step], Limits { work: Some(3_000), ..Limits::default() });
    let answer = replan(&supper.problem, &supper.plan, &day, &supper.crew, &limits).expect("no faults");
    let Replanned::Planned(replan) = answer else { panic!("no plan") };
    let range = ranges(&replan.rest, &replan.rest_plan, 10)[&supper.step];
    let doubt = [range.likely - range.shortest, range.longest - range.likely];
    assert_eq!(doubt, [left.minutes - left.early, left.late - left.minutes]);
}

/// Whoever names the centre at which it comes out need not: the roast has its own.
#[test]
fn a_reading_without_a_target_moves_the_minutes_of_a_known_roast_only() {
    let supper = Supper::new();
    let log = [
        Entry { at: supper.start, event: Event::PutIn { step: supper.step.clone(), place: None } },
        Entry { at: supper.start + 60, event: supper.probe(30) },
    ];
    let now = supper.start + 60;
    let unknown = fold(&supper.problem, &supper.plan, &log, now).expect("it can be");
    assert!(unknown.mute_probes.contains(&supper.step) && unknown.probes.is_empty());
    let known = fold_with(&supper.problem, &supper.plan, &log, now, &supper.roasts).expect("it can be");
    assert!(known.mute_probes.is_empty() && known.probes.contains_key(&supper.step));
}

#[test]
fn a_power_cut_costs_more_than_its_own_minutes_of_a_hot_oven_and_less_than_a_new_start() {
    let supper = Supper::new();
    let read = (50, supper.probe(25));
    let steady = supper.until(&supper.day(std::slice::from_ref(&read), 50)).expect("it was read");
    let cut = [read, (55, Event::PowerOff), (85, Event::PowerOn)];
    let cut = supper.until(&supper.day(&cut, 85)).expect("it is forecast again");
    // The oven stays warm for a while: not all of the half hour is lost, but some of it is.
    assert!((5..=45).contains(&(cut - steady)), "{steady} {cut}");
    // The same without any reading.
    let blind = supper.day(&[(55, Event::PowerOff), (85, Event::PowerOn)], 85);
    let planned = supper.plan.steps[&supper.step].end;
    assert!(supper.until(&blind).expect("it is forecast again") > planned, "{planned}");
}

#[test]
fn an_oven_that_runs_cold_makes_it_late_and_one_that_is_put_right_less_so() {
    let supper = Supper::new();
    let read = (50, supper.probe(25));
    let cold = supper.dial() as i64 - 40;
    let reads = |at, degrees| (at, Event::OvenReads { place: supper.place(), degrees });
    let until = |events: &[(i64, Event)], at| supper.until(&supper.day(events, at)).expect("it is forecast");
    let steady = until(std::slice::from_ref(&read), 50);
    let late = until(&[read.clone(), reads(55, cold)], 55);
    let mended = until(&[read, reads(55, cold), reads(75, supper.dial() as i64)], 75);
    assert!(steady < mended && mended < late, "{steady} {mended} {late}");
}

#[test]
fn a_roast_that_is_moved_goes_on_from_where_it_was() {
    let supper = Supper::new();
    let own = supper.problem.steps.iter().find(|own| own.id == supper.step).expect("its step");
    let elsewhere = own.modes.iter().filter_map(|mode| mode.place.clone()).find(|place| *place != supper.place());
    let Some(place) = elsewhere else { panic!("it may go nowhere else") };
    let moved = (60, Event::PutIn { step: supper.step.clone(), place: Some(place) });
    let day = supper.day(&[(50, supper.probe(25)), moved], 60);
    let left = day.probes[&supper.step];
    assert!(left.minutes > 0 && left.early <= left.minutes && left.minutes <= left.late, "{left:?}");
    assert_eq!(supper.until(&day), Some(supper.start + 60 + left.minutes));
}
