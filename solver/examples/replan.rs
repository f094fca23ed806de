//! The celeriac went in a quarter of an hour late: the rest is planned again. `cargo run --example replan`.

use rangewright::models::day::{Entry, Event};
use rangewright::models::examples;
use rangewright::replan::Replanned;
use rangewright::{Limits, Outcome, Planner};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let text = examples::ALL[1];
    let planner = Planner::read(text.menu, text.menu_name, |name| text.kitchen_text(name))?;
    let Outcome::Planned(supper) = planner.plan(&Limits::default())? else { return Err("no plan".into()) };
    let roast = "baked-celeriac/roast";
    let late = supper.plan().steps[roast].start + 15;
    let log = [Entry { at: late, event: Event::Started { step: roast.to_owned(), mode: None } }];
    let clock = |minute| supper.labels().calendar.civil(minute).time();
    match supper.replan(&log, late, &Limits::default())? {
        Replanned::Planned(rest) => {
            for serving in &rest.servings {
                println!("{} at {}, {} min late", serving.course, clock(serving.at), serving.late());
            }
            for moved in &rest.moved {
                println!("{}: was to start at {}", supper.labels().steps[&moved.step].title, clock(moved.from.start));
            }
        }
        other => println!("{other:?}"),
    }
    Ok(())
}
