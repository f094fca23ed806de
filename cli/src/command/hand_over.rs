//! A plan handed over as somebody asked for it: what `plan` and `show` share.

use std::path::Path;

use rangewright::models::feast::Calendar;

use crate::args::{LookArgs, SheetArgs};
use crate::deliver::deliver;
use crate::evening::View;
use crate::formats::{self, SheetFormat, Style, Wishes};
use crate::input::{self, Input, Refusal};
use crate::words::Words;
use crate::{Exit, Io};

impl SheetArgs {
    /// Whether the answer is data, and so is a refusal.
    pub(super) fn as_data(&self) -> bool {
        self.format == [SheetFormat::Json]
    }
}

/// What is planned, with its words as they are wanted; a bare problem gets the date that is said.
pub(super) fn read(menu: Option<&Path>, args: &SheetArgs, look: &LookArgs, io: &mut Io<'_>) -> Result<Input, Refusal> {
    let bad = |text: String| Refusal::new(text, Exit::BadInput);
    if args.format.len() > 1 && args.out.is_none() {
        return Err(bad("error: several formats need a folder to go into: add --out FOLDER\n".to_owned()));
    }
    let mut input = input::read(menu, super::wish(look), io)?;
    if let Some(date) = args.date.filter(|_| !input.planner.is_dated()) {
        let zone = jiff::tz::TimeZone::get(&args.zone);
        let calendar = zone.ok().and_then(|zone| Calendar::new(date, zone, 0).ok()).ok_or_else(|| {
            bad(format!("error: {:?} is no time zone; write one such as \"Europe/London\"\n", args.zone))
        })?;
        input.planner = input.planner.dated(calendar);
        input.words = Words::of(&input.planner);
    }
    super::adapt(&mut input.words, look);
    Ok(input)
}

/// What the renderers are told besides the plan.
pub(super) fn style(args: &SheetArgs, look: &LookArgs, words: &Words, io: &Io<'_>) -> Result<Style, Refusal> {
    let only = args.cook.as_deref().map(|name| super::cook_called(name, words)).transpose()?;
    let SheetArgs { paper, size, all_alarms, byte_order_mark, .. } = *args;
    let wishes = Wishes { paper, size, all_alarms, byte_order_mark };
    Ok(Style { look: super::look(look, io), only, wishes, now: io.now })
}

/// Prints a plan, or writes it into a folder.
pub(super) fn hand_over(args: &SheetArgs, view: &View<'_>, style: Style, io: &mut Io<'_>) -> Result<Exit, Refusal> {
    let mut formats: Vec<SheetFormat> = Vec::new();
    for &format in &args.format {
        if !formats.contains(&format) {
            formats.push(format);
        }
    }
    let texts = formats::render(view, &formats, style)
        .map_err(|why| Refusal::new(format!("error: {why}\n"), Exit::BadInput))?;
    let Some(out) = &args.out else {
        let mut text = texts.concat();
        if args.format == [SheetFormat::Text] && view.day.servings.iter().any(|serving| serving.slip > 0) {
            text += "\nWhat would help: rangewright worth\n";
        }
        return Ok(io.print(&text, Exit::Planned));
    };
    let name = |format: &SheetFormat| match (format, args.paper) {
        (SheetFormat::Html, Some(paper)) => paper.file_name(),
        _ => formats::file_name(*format),
    };
    let files: Vec<(&str, String)> = formats.iter().map(name).zip(texts).collect();
    match deliver(&io.folder.join(out), &files, args.overwrite) {
        Ok(_) => {
            let names: Vec<String> = files.iter().map(|(name, _)| format!("{}\n", out.join(name).display())).collect();
            Ok(io.print(&names.concat(), Exit::Planned))
        }
        Err(why) => Err(Refusal::new(format!("error: {why}\n"), Exit::Io)),
    }
}
