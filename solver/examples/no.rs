//! A menu that is impossible: why, and what would make it possible. `cargo run --example no`.

use rangewright::change::remedies;
use rangewright::models::examples;
use rangewright::why::{Verdict, why_not};
use rangewright::{Limits, Outcome, Planner};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let menu = examples::ALL[2];
    let planner = Planner::read(menu.menu, menu.menu_name, |name| menu.kitchen_text(name))?;
    let limits = Limits { work: Some(50_000), ..Limits::default() };
    let Outcome::Impossible(conflict) = planner.plan(&limits)? else { return Err("it was to be impossible".into()) };
    for reason in &conflict.reasons {
        println!("No: {reason}.");
    }
    if let Verdict::Because(explanation) = why_not(planner.problem(), &limits)? {
        for fact in &explanation.facts {
            println!("These cannot all hold: {fact}");
        }
        for remedy in remedies(planner.problem(), &explanation, &limits)? {
            println!("Any of these would do: {:?}", remedy.changes);
        }
    }
    Ok(())
}
