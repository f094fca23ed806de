//! The forms in which a plan is handed over: one name, one file name and one renderer for each.

use std::time::SystemTime;

use rangewright::FeastPlan;

use crate::evening::chart::Chart;
use crate::evening::{Evening, View};
use crate::paper::{Paper, PaperSize};
use crate::sheet::{self, Look};
use crate::words::Words;
use crate::{Terminal, calendar, chances, json, markdown, page, picture, table};

/// What a plan is handed over as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "command", derive(clap::ValueEnum))]
pub enum SheetFormat {
    /// Run sheets to read in a terminal
    Text,
    /// Run sheets, chart, cards and rack drawings as one page to print or to take on a phone
    Html,
    /// The chart alone, as a drawing
    Svg,
    /// Run sheets with boxes to tick, as Markdown
    #[cfg_attr(feature = "command", value(alias = "md"))]
    Markdown,
    /// Every job as an event with an alarm, for a calendar (iCalendar)
    #[cfg_attr(feature = "command", value(alias = "ics"))]
    Ical,
    /// The steps as comma-separated values
    Csv,
    /// The jobs of all cooks as comma-separated values
    Jobs,
    /// The plan and what follows from it, for other programs
    Json,
}

impl SheetFormat {
    /// All of them, in the order in which the command lists them.
    pub const ALL: [SheetFormat; 8] = [
        SheetFormat::Text,
        SheetFormat::Html,
        SheetFormat::Svg,
        SheetFormat::Markdown,
        SheetFormat::Ical,
        SheetFormat::Csv,
        SheetFormat::Jobs,
        SheetFormat::Json,
    ];
}

/// What some forms can do besides.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Wishes {
    /// Pages: what for, and on which paper.
    pub(crate) paper: Option<Paper>,
    pub(crate) size: PaperSize,
    /// Calendars: an alarm for each job, however close they are.
    pub(crate) all_alarms: bool,
    /// Tables: a byte order mark in front.
    pub(crate) byte_order_mark: bool,
}

/// What renderers need besides the plan.
#[derive(Clone, Copy)]
pub(crate) struct Style {
    pub(crate) look: Look,
    /// The only cook whose sheet is wanted, as an index into the schedule's cooks.
    pub(crate) only: Option<usize>,
    pub(crate) wishes: Wishes,
    /// When the answer is made; calendars say so.
    pub(crate) now: SystemTime,
}

/// A plan in every form, by the name of its file; the page and the text in their plainest look.
///
/// `now` is the moment that the calendar says it was made at.
///
/// ```
/// use rangewright::models::examples;
/// use rangewright::{Limits, Outcome, Planner};
///
/// let supper = examples::ALL[1];
/// let planner = Planner::read(supper.menu, supper.menu_name, |name| supper.kitchen_text(name))?;
/// if let Outcome::Planned(supper) = planner.plan(&Limits::default())? {
///     let files = rangewright_cli::every_form(&supper, std::time::SystemTime::now());
///     assert!(files.iter().any(|(name, text)| *name == "run-sheets.html" && text.contains("Baked celeriac")));
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn every_form(feast: &FeastPlan, now: SystemTime) -> Vec<(&'static str, String)> {
    let mut words = Words::of(feast.planner());
    words.odds = chances::of(feast);
    let view = View::new(feast, &words);
    let look = Look::new(Terminal { unicode: true, ..Terminal::default() }, None, false, false);
    let texts = render(&view, &SheetFormat::ALL, Style { look, only: None, wishes: Wishes::default(), now })
        .unwrap_or_default();
    SheetFormat::ALL.iter().map(|format| file_name(*format)).zip(texts).collect()
}

/// A plan in all the forms asked for, in their order.
///
/// # Errors
/// The form that cannot show this plan, and why.
pub(crate) fn render(view: &View<'_>, formats: &[SheetFormat], style: Style) -> Result<Vec<String>, &'static str> {
    let mut evening = Evening::new(view);
    if let Some(cook) = style.only {
        evening = evening.only(cook);
    }
    let chart = Chart::new(view);
    let marked = |table: String| {
        if style.wishes.byte_order_mark { format!("{}{table}", table::BYTE_ORDER_MARK) } else { table }
    };
    let one = |format: &SheetFormat| {
        Ok(match format {
            SheetFormat::Text => sheet::planned(view, &evening, &chart, style.look),
            SheetFormat::Html => {
                page::page(view, &evening, &chart, page::Print { paper: style.wishes.paper, size: style.wishes.size })
            }
            SheetFormat::Svg => picture::file(view, &chart, &evening.name),
            SheetFormat::Markdown => markdown::sheets(view, &evening, &chart),
            SheetFormat::Csv => marked(table::steps(view, style.only)),
            SheetFormat::Jobs => marked(table::jobs(view, &evening)),
            SheetFormat::Json => json::planned(view),
            SheetFormat::Ical => calendar::calendar(view, &evening, style.wishes.all_alarms, style.now)
                .ok_or("a bare problem has no date, and a calendar needs one: say it with --date")?,
        })
    };
    formats.iter().map(one).collect()
}

/// What a form is called in a folder.
pub(crate) fn file_name(format: SheetFormat) -> &'static str {
    match format {
        SheetFormat::Text => "run-sheets.txt",
        SheetFormat::Html => "run-sheets.html",
        SheetFormat::Svg => "chart.svg",
        SheetFormat::Markdown => "run-sheets.md",
        SheetFormat::Csv => "steps.csv",
        SheetFormat::Jobs => "jobs.csv",
        SheetFormat::Json => "plan.json",
        SheetFormat::Ical => "jobs.ics",
    }
}
