//! A plan is stored as JSON and loaded again: `cargo run --example store`.

use rangewright::models::examples;
use rangewright::models::plan::Plan;
use rangewright::{Error, Limits, Outcome, Planner};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let text = examples::ALL[1];
    let planner = Planner::read(text.menu, text.menu_name, |name| text.kitchen_text(name))?;
    let Outcome::Planned(supper) = planner.plan(&Limits::default())? else { return Err("no plan".into()) };
    let stored = serde_json::to_string_pretty(supper.plan())?;
    println!("{} bytes", stored.len());

    let loaded: Plan = serde_json::from_str(&stored)?;
    let mut spoilt = loaded.clone();
    println!("the same jobs: {}", planner.with(loaded)?.schedule() == supper.schedule());

    // Whatever somebody changed by hand is checked before it is believed.
    spoilt.steps.values_mut().for_each(|step| step.start -= 1);
    if let Err(Error::Start(broken)) = planner.with(spoilt) {
        println!("{} rules would be broken, the first: {}", broken.len(), broken[0]);
    }
    Ok(())
}
