//! A supper of three dishes, written in Rust and planned: `cargo run --example plan`.

use rangewright::models::menu::Kind::{Bake, Plate, Prep, Rest, Roast, Simmer};
use rangewright::models::write::{burners, dish, kitchen, menu, oven, step};
use rangewright::{Limits, Outcome, Planner};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let hut = kitchen("The tool hut", [oven("oven", "44 x 38 x 32 cm"), burners("burner", 2)]);
    let squash = [
        step(Roast, "Roast the squash", "55 min").with("at", "190 C").with("pan", "36 x 28 x 8 cm"),
        step(Rest, "Let it stand", "5 to 20 min"),
    ];
    let rolls = [step(Bake, "Bake the rolls", "18 min").with("at", "180 to 200 C").with("pan", "30 x 20 x 7 cm")];
    let soup =
        [step(Prep, "Slice the leeks", "12 min"), step(Simmer, "Simmer them", "40 min"), step(Plate, "Ladle", "4 min")];
    let dishes = [dish("Roast squash", squash), dish("Rye rolls", rolls), dish("Leek soup", soup)];
    let supper = menu("Lantern mending", hut, dishes).with("date", "2026-11-21").with("zone", "Europe/London");

    let planner = Planner::written(&supper.with("serve", "18:30"))?;
    let Outcome::Planned(supper) = planner.plan(&Limits::default())? else { return Err("it cannot be done".into()) };
    for (id, step) in &supper.plan().steps {
        println!("{}  {}", supper.labels().calendar.civil(step.start).time(), supper.labels().steps[id].title);
    }
    println!("Nothing better exists: {}. Cautions: {}.", supper.proof().is_best(), supper.cautions().len());
    Ok(())
}
