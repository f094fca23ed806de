//! `rangewright chill`: how long a pan takes to cool.

use rangewright::models::cook::chill::{Cooling, Pan, Texture, Verdict, cool};
use rangewright::models::cook::safety::Caution;

use super::cook::{self, degrees};
use crate::args::{AskFormat, ChillArgs};
use crate::input::Refusal;
use crate::json::{self, Asked};
use crate::sheet::Page;
use crate::words::minutes;
use crate::{Exit, Io};

pub(super) fn run(args: &ChillArgs, io: &mut Io<'_>) -> Exit {
    let answer = answer(args, io);
    cook::print(answer, Asked::Chill, &args.answer, io)
}

fn answer(args: &ChillArgs, io: &Io<'_>) -> Result<String, Refusal> {
    let pan = Pan {
        depth_mm: args.depth as f64,
        start_c: args.from as f64,
        covered: args.covered,
        texture: if args.thin { Texture::Thin } else { Texture::Thick },
    };
    let cooling = cool(&pan, args.cooler, args.answer.look.region.unwrap_or_default())
        .map_err(|faults| cook::refuse_input(&faults))?;
    if args.answer.format == AskFormat::Json {
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
    for stage in &cooling.stages {
        let (from, to) = (degrees(look, stage.limit.from_c), degrees(look, stage.limit.to_c));
        let own = |value: f64| minutes(value.round() as i64);
        let takes = match (stage.minutes, stage.range_min) {
            (Some(about), Some([early, late])) => format!("about {} ({} to {})", own(about), own(early), own(late)),
            _ => "more than three days".to_owned(),
        };
        let broken = stage.minutes.is_none_or(|minutes| minutes > stage.limit.minutes);
        let mark = if broken { "LIMIT BROKEN: " } else { "" };
        page.point(&format!("{mark}{from} to {to} takes {takes}; the limit is {}.", own(stage.limit.minutes)));
    }
    if let Some(cold) = cooling.cold_min {
        page.line(&format!(
            "Cold after about {} from now. The hottest place counts; the thermometer decides.",
            minutes(cold.round() as i64)
        ));
    }
    if !cooling.remedies.is_empty() {
        page.heading("Quick enough instead");
        for remedy in &cooling.remedies {
            page.point(&format!("{}: cold after about {}.", remedy.text, minutes(remedy.minutes.round() as i64)));
        }
    }
    let cautions: Vec<&Caution> = cooling.cautions.iter().collect();
    cook::cautions(page, &cautions);
}
