//! `rangewright roast`: one roast, no menu.

use rangewright::models::compile;
use rangewright::models::cook::air::KITCHEN_C;
use rangewright::models::cook::roast::{
    Finish, Forecast, Oven, Reforecast, Roast, RoastFault, Way, forecast_with, reforecast,
};
use rangewright::models::cook::safety::{Caution, Weight};
use rangewright::models::cook::{Calibration, PastRoast, Solid, calibrate};
use rangewright::models::read::LONGEST;
use rangewright::models::units::{Scale, Temperature};

use super::cook::{self, degrees, dial, named, range, refuse};
use crate::args::{AskFormat, LookArgs, RoastArgs, UnitsArg};
use crate::input::Refusal;
use crate::json::{self, Asked};
use crate::sheet::Page;
use crate::words::count;
use crate::{Exit, Io, excerpt};

pub(super) fn run(args: &RoastArgs, io: &mut Io<'_>) -> Exit {
    let answer = answer(args, io);
    cook::print(answer, Asked::Roast, &args.answer, io)
}

fn answer(args: &RoastArgs, io: &mut Io<'_>) -> Result<String, Refusal> {
    let roast = roast(args);
    let calibration = calibration(args, io)?;
    let forecast = forecast(args, &roast, &calibration).map_err(refusal)?;
    let way = match args.dial {
        None => &forecast.ways[forecast.ways.len() / 2],
        Some(at) => forecast.ways.iter().min_by_key(|way| (way.oven_c - at.whole()).abs()).unwrap_or(&forecast.ways[0]),
    };
    let left = match args.probe {
        None => None,
        Some((minute, core)) => {
            let start_c = args.cold_oven.then_some(KITCHEN_C);
            let oven = Oven { start_c, ..Oven::new(args.heat, way.oven_c, way.oven_c) };
            let left = reforecast(&roast, &oven, way, &calibration, minute as f64, core as f64);
            Some(left.map_err(refusal)?)
        }
    };
    if args.answer.format == AskFormat::Json {
        return Ok(match left {
            Some(left) => json::of_dish(Asked::Roast, &left),
            None => json::of_dish(Asked::Roast, &forecast),
        });
    }
    let look = as_written(args);
    let mut page = Page::new(super::look(&look, io));
    write(&mut page, args, &look, &forecast, way, left);
    Ok(page.finish())
}

/// The forecast for every oven temperature that a cook would set between the two ends that are accepted.
fn forecast(args: &RoastArgs, roast: &Roast, calibration: &Calibration) -> Result<Forecast, RoastFault> {
    let region = args.answer.look.region.unwrap_or_default();
    let at = |[low, high]: [Temperature; 2]| {
        let start_c = args.cold_oven.then_some(KITCHEN_C);
        let oven = Oven { start_c, ..Oven::new(args.heat, low.whole(), high.whole()) };
        forecast_with(roast, &oven, calibration, region)
    };
    let [low, high] = args.oven;
    if low.scale() == Scale::Celsius || low == high {
        return at([low, high]);
    }
    let mut whole: Option<Forecast> = None;
    let mut skipped = Vec::new();
    for t in Temperature::between(low, high, 1) {
        match (at([t, t]), &mut whole) {
            (Ok(one), Some(whole)) => whole.ways.extend(one.ways),
            (Ok(one), None) => whole = Some(one),
            (Err(RoastFault::NoWay(why)), _) => skipped.extend(why),
            (Err(fault @ RoastFault::Input(_)), _) => return Err(fault),
        }
    }
    match whole {
        Some(whole) => Ok(Forecast { skipped, ..whole }),
        None => Err(RoastFault::NoWay(skipped)),
    }
}

fn roast(args: &RoastArgs) -> Roast {
    let number = |value: Option<i64>| value.map(|value| value as f64);
    let minutes = f64::from(args.hot_minutes);
    let finish = match (args.hot_first, args.hot_last) {
        (Some(at), _) => Finish::HotFirst { at_c: at.celsius(), minutes },
        (None, Some(at)) => Finish::HotLast { at_c: at.celsius(), minutes, gap_min: f64::from(args.stand) },
        (None, None) => Finish::None,
    };
    Roast {
        meat: args.meat,
        cut: args.cut,
        weight_g: number(args.weight),
        thickness_mm: number(args.thickness),
        breadth_mm: number(args.breadth),
        length_mm: number(args.length),
        bone: args.bone,
        tied: args.tied,
        stuffed: args.stuffed,
        handling: args.handling,
        start_c: args.from.celsius(),
        target_c: args.to.celsius(),
        rest_min: args.rest as f64,
        cover: args.cover,
        cold_tray: args.cold_tray,
        finish,
    }
}

fn calibration(args: &RoastArgs, io: &mut Io<'_>) -> Result<Calibration, Refusal> {
    let Some(path) = &args.past else { return Ok(Calibration::default()) };
    let text = io
        .read(path, LONGEST)
        .map_err(|error| Refusal::new(format!("error: cannot read {}: {}\n", path.display(), error.why), error.exit))?;
    let bad = |text: String| Refusal::new(text, Exit::BadInput);
    let shown = path.display().to_string();
    if text.trim_start().starts_with('[') {
        let log: Vec<PastRoast> =
            serde_json::from_str(&text).map_err(|error| bad(format!("error: {shown}: {error}\n")))?;
        return calibrate(&log).map_err(|fault| bad(format!("error: {shown}: {fault}\n")));
    }
    compile::calibration(&text, &shown).map_err(|faults| {
        Refusal::shown(excerpt::faults(&faults, &[(shown, text.clone())], io.terminal), Exit::BadInput)
    })
}

/// Bad input is one thing, a roast that comes out in no oven another.
fn refusal(fault: RoastFault) -> Refusal {
    match fault {
        RoastFault::Input(faults) => cook::refuse_input(&faults),
        RoastFault::NoWay(_) => refuse(&[fault], Exit::Impossible),
    }
}

/// In the units of the target, unless others are asked for.
fn as_written(args: &RoastArgs) -> LookArgs {
    let written = (args.to.scale() == Scale::Fahrenheit).then_some(UnitsArg::Customary);
    LookArgs { units: args.answer.look.units.or(written), ..args.answer.look.clone() }
}

fn write(page: &mut Page, args: &RoastArgs, look: &LookArgs, forecast: &Forecast, way: &Way, left: Option<Reforecast>) {
    let cautions: Vec<&Caution> = forecast.cautions.iter().chain(&way.cautions).collect();
    page.title(&format!("{}, {}, to {}", named(&args.meat), named(&args.cut), degrees(look, args.to.celsius())));
    for caution in cautions.iter().filter(|c| c.weight == Weight::Breach) {
        page.line(&format!("LIMIT BROKEN: {}.", caution.text));
    }
    let guessed = if forecast.guessed {
        format!(", guessed by weight: measure it, a centimetre moves {} min", way.a_centimetre_min(&forecast.solid))
    } else {
        String::new()
    };
    page.line(&format!("Taken as {}{guessed}.", solid(&forecast.solid)));
    let from = match forecast.calibration.roasts {
        0 => "a first time in this kitchen".to_owned(),
        n => format!("{} in this kitchen", count(n, "past roast", "past roasts")),
    };
    let sure = (100.0 * (way.late_min - way.minutes) as f64 / way.minutes.max(1) as f64).round();
    page.line(&format!(
        "Minutes from conduction fitted to published tables, {from}: late by up to {sure:.0} % nine times in ten. The thermometer decides."
    ));
    page.gap();
    page.raw(" oven  minutes  nine in ten   pull   peak   between  after the pull");
    for way in &forecast.ways {
        page.raw(&format!(
            "{:>5}  {:>7}  {:>11}  {:>5}  {:>5}  {:>8}  {:+.0} min",
            dial(look, way.oven_c),
            way.minutes,
            range(way.early_min, way.late_min),
            degrees(look, way.pull_c),
            degrees(look, way.peak_c),
            format!("{} to {}", bare(look, way.peak_band_c[0]), bare(look, way.peak_band_c[1])),
            way.peak_after_min,
        ));
    }
    for skipped in &forecast.skipped {
        page.line(&format!("Not at {}: {}.", dial(look, skipped.oven_c), skipped.why));
    }
    page.heading(&format!("At {}, minute by minute", dial(look, way.oven_c)));
    stages(page, args, look, way);
    for probe in &way.probes {
        page.entry(
            &probe.minute.to_string(),
            &format!(
                "probe: {} expected, {} if late, {} if early",
                degrees(look, probe.core_c),
                degrees(look, probe.band_c[0]),
                degrees(look, probe.band_c[1])
            ),
        );
    }
    if let Some(left) = left {
        page.line(&format!(
            "After this reading: {} min left, {} nine times in ten.",
            left.remaining_min,
            range(left.early_min, left.late_min)
        ));
    }
    curve(page, look, way);
    cook::cautions(page, &cautions);
}

fn bare(look: &LookArgs, celsius: f64) -> String {
    degrees(look, celsius).trim_end_matches([' ', 'C', 'F']).to_owned()
}

fn solid(solid: &Solid) -> String {
    match solid {
        Solid::Cylinder { diameter_mm, length_mm } => {
            format!("a bar {diameter_mm:.0} mm thick and {length_mm:.0} mm long")
        }
        Solid::Slab { thickness_mm } => format!("a slab {thickness_mm:.0} mm thick"),
        Solid::Ball { diameter_mm } => format!("a ball {diameter_mm:.0} mm thick"),
        Solid::Brick { thickness_mm, breadth_mm, length_mm } => {
            format!("a block of {thickness_mm:.0} x {breadth_mm:.0} x {length_mm:.0} mm")
        }
    }
}

fn stages(page: &mut Page, args: &RoastArgs, look: &LookArgs, way: &Way) {
    let mut minute = 0;
    for stage in &way.stages {
        if let Some(gap) = stage.after_gap_min {
            page.entry(&minute.to_string(), &format!("take it out, rest {gap} min"));
            minute += gap;
        }
        let till = if stage.long { format!(", until {}", degrees(look, way.long_end_c)) } else { String::new() };
        page.entry(&minute.to_string(), &format!("{} for {} min{till}", dial(look, stage.oven_c), stage.minutes));
        minute += stage.minutes;
    }
    let text = format!(
        "pull at {}, rest {} min; peak about {}",
        degrees(look, way.pull_c),
        args.rest,
        degrees(look, way.peak_c)
    );
    page.entry(&minute.to_string(), &text);
    page.line(&format!("Plan {} min more than the estimate; the rest takes up what is early.", way.margin_min));
}

/// The core over time, a bar for each quarter of an hour or so.
fn curve(page: &mut Page, look: &LookArgs, way: &Way) {
    page.heading("Centre over time, rest included");
    let every = (way.course.len() / 16).max(1);
    let width = page.look().width.saturating_sub(18).min(60);
    let mark = if page.look().unicode { "\u{2588}" } else { "#" };
    for point in way.course.iter().step_by(every) {
        let bar = mark.repeat((point.core_c.clamp(0.0, 100.0) / 100.0 * width as f64).round() as usize);
        page.raw(&format!("{:>5.0} min {:>5} {bar}", point.minute, degrees(look, point.core_c)));
    }
}
