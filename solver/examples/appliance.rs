//! An appliance of one's own: a water bath with room for two bags. `cargo run --example appliance`.

use rangewright::models::menu::Kind::{Other, Plate};
use rangewright::models::write::{burners, dish, kitchen, menu, step};
use rangewright::{Limits, Outcome, Planner};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let hut = kitchen("The potting shed", [burners("ring", 1)]).with("pools", [("water bath", 2)]);
    let bag = |name: &str, takes: &str, bags: i64| {
        let bathe = step(Other("bathe".to_owned()), &format!("Bathe the {name}"), takes);
        let bathe = bathe.with("uses", [("water bath", bags)]).with("load", "2 min").with("keeps", "hot");
        dish(name, [bathe, step(Plate, "Open the bags and plate", "5 min")])
    };
    let dishes = [bag("carrots", "60 min", 1), bag("beetroot", "90 min", 1), bag("parsnips", "50 min", 2)];
    let menu = menu("Roots in bags", hut, dishes).with("date", "2026-11-21").with("zone", "Europe/London");
    let course = rangewright::models::write::course("supper", "19:00").with("together", "2 h");
    let planner = Planner::written(&menu.with("courses", [course]))?;
    let Outcome::Planned(supper) = planner.plan(&Limits::default())? else {
        return Err("the bath is too small".into());
    };
    for (id, step) in &supper.plan().steps {
        println!("{:>4} to {:>4}  {}", step.start, step.end, supper.labels().steps[id].title);
    }
    Ok(())
}
