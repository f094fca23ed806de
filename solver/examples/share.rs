//! Can the roast and the gratin of the demo share the big oven? `cargo run --example share`.

use rangewright::ask::can_share_anywhere;
use rangewright::models::examples;
use rangewright::{Limits, Planner};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let demo = examples::demo();
    let planner = Planner::read(demo.menu, demo.menu_name, |name| demo.kitchen_text(name))?;
    let names = ["Stuffed pork shoulder", "Potato and celeriac gratin"];
    let dishes = planner.labels().dishes.iter().filter(|(_, dish)| names.contains(&dish.name.as_str()));
    let dishes: Vec<&str> = dishes.map(|(id, _)| id.as_str()).collect();
    let limits = Limits { work: Some(20_000), ..Limits::default() };
    for answer in can_share_anywhere(planner.problem(), &dishes, &limits)? {
        println!("{}: {} ways", planner.labels().places[&answer.place].name, answer.ways.len());
        for way in &answer.ways {
            println!("  {:?}: {} min later, waiting costs {} more", way.manner, way.later, way.extra_waiting);
        }
        for not in &answer.not {
            println!("  not {:?}: {:?}", not.manner, not.because);
        }
    }
    Ok(())
}
