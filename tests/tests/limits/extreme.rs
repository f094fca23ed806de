//! Numbers beyond any kitchen, and schedules that cannot happen.

use rangewright::models::compile::compile;
use rangewright::models::faults::Code;
use rangewright::models::feast::{Clock, Feast};
use rangewright::models::kitchen::{Appliance, ApplianceKind, BurnersSpec};
use rangewright::models::menu::{Course, Dish, Kind, Step};
use rangewright::models::schedule::{Schedule, check, schedule};
use rangewright::models::{problem::Problem, read};
use rangewright::{Limits, Outcome, solve};

/// Barley on a camp stove, built in code.
fn barley() -> Feast {
    let mut feast = Feast::default();
    feast.kitchen.places.push(Appliance {
        name: "camp stove".to_owned(),
        kind: ApplianceKind::Burners(BurnersSpec { count: 1, dial: [1, 6], pans: [120, 260] }),
        draws: Default::default(),
        origin: Default::default(),
    });
    feast.menu.date = "2026-11-08".parse().expect("a date");
    feast.menu.zone = "Europe/London".to_owned();
    feast.menu.courses.push(Course::new("supper", Clock { day: 0, minute: 19 * 60 }));
    feast.menu.dishes.push(Dish::new("Barley", vec![Step::new(Kind::Simmer, 40), Step::new(Kind::Plate, 5)]));
    feast
}

#[test]
fn a_feast_built_in_code_is_held_to_the_ranges_of_text() {
    compile(&barley()).expect("nothing is wrong with barley");
    let changes: [fn(&mut Feast); 9] = [
        |feast| feast.menu.guests = -5,
        |feast| feast.menu.children = 1,
        |feast| feast.menu.courses[0].serve.minute = i64::MAX,
        |feast| feast.menu.courses[0].serve.day = i64::MIN,
        |feast| feast.menu.courses[0].slip = i64::MAX,
        |feast| feast.menu.opens = Some(Clock { day: 0, minute: i64::MIN }),
        |feast| feast.menu.dishes[0].steps[0].pans = Some(1_000_000),
        |feast| feast.menu.dishes[0].steps[0].batches = Some(0),
        |feast| feast.menu.dishes[0].steps[0].way.takes = Step::new(Kind::Boil, i64::MAX).way.takes,
    ];
    for (number, change) in changes.iter().enumerate() {
        let mut feast = barley();
        change(&mut feast);
        let faults = compile(&feast).expect_err("beyond any kitchen");
        assert!(faults.0.iter().all(|fault| fault.code == Code::Absurd), "{number}: {faults}");
    }
    let mut feast = barley();
    feast.menu.guests = -5;
    feast.menu.dishes[0].steps[0].pans = Some(1_000_000);
    feast.menu.courses[0].serve.minute = i64::MAX;
    assert_eq!(compile(&feast).expect_err("three faults").0.len(), 3, "all at once");
}

const KITCHEN: &str = r#"Kitchen(name: "Shed", places: [Oven(name: "Oven", inside: "45 x 38 x 33 cm"OVEN),
    Burners(name: "Burner", count: 2, dial: "1 to 9")], cooks: [Cook(name: "Ines", shifts: ["9:00 to 20:00"])])"#;

fn menu(oven: &str, dishes: &str) -> String {
    format!(
        r#"Menu(name: "Supper", kitchen: {}, guests: 4, date: "2026-11-08", zone: "Europe/London", serve: "19:00",
    dishes: [{dishes}])"#,
        KITCHEN.replace("OVEN", oven)
    )
}

fn problem(oven: &str, dishes: &str) -> Problem {
    let feast = read::feast(&menu(oven, dishes), "supper", |_| Err("none".to_owned())).expect("a menu");
    compile(&feast).expect("a problem").problem
}

/// What the cooks do by the best plan, found sound by the check of schedules.
fn day(problem: &Problem) -> Schedule {
    let limits = Limits { work: Some(20_000), ..Limits::default() };
    let Ok(Outcome::Planned(planned)) = solve(problem, &limits) else { panic!("a plan") };
    let day = schedule(problem, &planned.plan);
    assert_eq!(check(problem, &planned.plan, &day), []);
    day
}

/// The usual oven rises by 12 degrees a minute: from 120 to 240 C takes it 10 minutes.
#[test]
fn a_finish_too_short_for_its_oven_is_a_fault_with_the_minutes_it_would_take() {
    let gratin = |minutes: &str| {
        format!(
            r#"Dish("Gratin", [Bake(at: "120 C", takes: "60 min", pan: "30 x 25 x 10 cm"),
                Finish(do: "Brown the top", at: "240 C", takes: "{minutes} min", pan: "30 x 25 x 10 cm", stay: true),
                Carve("Cut", "4 min")])"#
        )
    };
    let text = menu("", &gratin("9"));
    let feast = read::feast(&text, "supper", |_| Err("none".to_owned())).expect("a menu");
    let faults = compile(&feast).expect_err("the oven cannot get there");
    assert_eq!(faults.0.iter().map(|fault| fault.code).collect::<Vec<_>>(), [Code::TooShort], "{faults}");
    let said = faults.to_string();
    assert!(said.contains("takes 9 min") && said.contains("needs 10 min") && said.contains("120 C"), "{said}");
    assert!(faults.0[0].at.is_some(), "{said}");
    day(&problem("", &gratin("10")));
}

#[test]
fn a_sheet_asks_for_no_heat_that_the_dial_lacks() {
    let day = day(&problem("", r#"Dish("Peas", [Boil(do: "Boil peas", at: "7 to 12", takes: "5 min")])"#));
    let levels: Vec<[i64; 2]> = day.hobs.iter().flat_map(|hob| &hob.spots).map(|spot| spot.level).collect();
    assert_eq!(levels, [[7, 9]]);
}

/// At 180 C at nine in the morning and off since then, it is as cold as the room in the afternoon: 15 minutes to 200 C.
#[test]
fn an_oven_that_is_off_cools() {
    let celeriac = r#"Dish("Celeriac", [Roast(at: "200 C", takes: "112 min", pan: "30 x 25 x 14 cm"),
        Carve("Cut", "4 min")])"#;
    let day = day(&problem(r#", at_opening: "180 C""#, celeriac));
    let first = day.cavities[0].settings.first().expect("it is heated");
    assert_eq!((first.degrees, first.there - first.at), (Some(200), 15));
}
