//! `rangewright chill`: how long a pan takes to cool.

use rangewright::models::cook::chill::{Cooling, Pan, Texture, Verdict, cool};
use rangewright::models::cook::safety::{Caution, Weight};

use super::cook::{self, degrees, refuse};
use crate::args::{ChillArgs, Format};
use crate::input::Refusal;
use crate::json::{self, Asked};
use crate::sheet::Page;
use crate::{Exit, Io};

pub(super) fn run(args: &ChillArgs, io: &mut Io<'_>) -> Exit {
    let answer = answer(args, io);
    cook::print(answer, io)
}

fn answer(args: &ChillArgs, io: &Io<'_>) -> Result<String, Refusal> {
    let pan = Pan {
        depth_mm: args.depth as f64,
        start_c: args.from as f64,
        covered: args.covered,
        texture: if args.thin { Texture::Thin } else { Texture::Thick },
    };
    let cooling = cool(&pan, args.cooler, args.answer.region).map_err(|faults| refuse(&faults, Exit::BadInput))?;
    if args.answer.format == Format::Json {
        return Ok(json::of_dish(Asked::Chill, &cooling));
    }
    let mut page = Page::new(super::look(&args.answer.look, io));
    write(&mut page, args, &cooling);
    Ok(page.finish())
}

fn write(page: &mut Page, args: &ChillArgs, cooling: &Cooling) {
    let look = &args.answer.look;
    page.title(match cooling.verdict {
        Verdict::Meets => "Quick enough",
        Verdict::Doubtful => "Perhaps quick enough: probe it",
        Verdict::Fails => "Too slow",
    });
    for caution in cooling.cautions.iter().filter(|caution| caution.weight == Weight::Breach) {
        page.line(&format!("LIMIT BROKEN: {}.", caution.text));
    }
    for stage in &cooling.stages {
        let (from, to) = (degrees(look, stage.limit.from_c), degrees(look, stage.limit.to_c));
        let takes = match (stage.minutes, stage.range_min) {
            (Some(minutes), Some([early, late])) => format!("about {minutes:.0} min ({early:.0} to {late:.0})"),
            _ => "more than three days".to_owned(),
        };
        page.point(&format!("{from} to {to}: {takes}; the limit is {:.0} min.", stage.limit.minutes));
    }
    if let Some(minutes) = cooling.cold_min {
        page.line(&format!(
            "Cold after about {minutes:.0} min from now. The hottest place counts; the thermometer decides."
        ));
    }
    if !cooling.remedies.is_empty() {
        page.heading("Quick enough instead");
        for remedy in &cooling.remedies {
            page.point(&format!("{}: cold after about {:.0} min.", remedy.text, remedy.minutes));
        }
    }
    let cautions: Vec<&Caution> = cooling.cautions.iter().collect();
    cook::cautions(page, &cautions);
}
