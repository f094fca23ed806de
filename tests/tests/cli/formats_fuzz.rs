//! Names and notes of every kind, in every format: nothing that somebody writes in a menu breaks what is made of it.

use std::sync::LazyLock;
use std::time::SystemTime;

use proptest::prelude::*;
use rangewright::models::compile::Compiled;
use rangewright::models::examples;
use rangewright::models::labels::{Bought, Labels};
use rangewright::models::menu::Measure;
use rangewright::{FeastPlan, Limits, Outcome, Planner};

static SUPPER: LazyLock<FeastPlan> = LazyLock::new(|| {
    let supper = examples::ALL[1];
    let planner = Planner::read(supper.menu, supper.menu_name, |name| supper.kitchen_text(name)).expect("no faults");
    match planner.plan(&Limits { work: Some(100_000), ..Limits::default() }) {
        Ok(Outcome::Planned(supper)) => supper,
        other => panic!("{other:?}"),
    }
});

/// What tends to break formats.
const NASTY: &[&str] = &[
    "<i>x</i>",
    "</style><script>x</script>",
    "\"quoted\" & 'so'",
    "]]>",
    "<!--",
    "&amp;",
    "a;b,c\\d",
    "BEGIN:VEVENT",
    "x\r\nEND:VCALENDAR\r\n",
    "=SUM(A1)",
    "+1",
    "-1",
    "@x",
    "# not a heading",
    "- not an item",
    "1. not a list",
    "| a | b |",
    "`code`",
    "[x](y)",
    "![x](y)",
    "***",
    "---",
    "\\",
    "$x$",
    "حساء القرع",
    "מרק דלעת (3)",
    "かぼちゃ",
    "🍲👩‍🍳",
    "e\u{301}",
    "\u{202e}reversed",
    "\u{0}\u{7}\u{1b}[2J",
    "\u{fffe}\u{ffff}",
    "\u{2028}",
    "\t",
    " ",
    "ﷺ",
];

/// What tends to break formats, and everything else.
fn name() -> impl Strategy<Value = String> {
    prop_oneof![3 => prop::sample::select(NASTY).prop_map(str::to_owned), 2 => any::<String>(), 1 => "[a-z<>&\"'|;,*_ ]{1,300}"]
}

/// The labels with every text replaced.
fn renamed(names: &[String]) -> Labels {
    let mut labels = SUPPER.labels().clone();
    let mut names = names.iter().cycle().cloned();
    let mut next = || names.next().expect("a cycle has no end");
    labels.name = next();
    labels.kitchen = next();
    labels.cooks.iter_mut().for_each(|cook| cook.name = next());
    labels.places.values_mut().for_each(|place| place.name = next());
    labels.courses.values_mut().for_each(|course| course.name = next());
    labels.dishes.values_mut().for_each(|dish| dish.name = next());
    labels.shopping = vec![Bought {
        what: next(),
        hundredths: 250,
        measure: Measure::Pieces(next()),
        dishes: labels.dishes.keys().cloned().collect(),
    }];
    for step in labels.steps.values_mut() {
        (step.title, step.look, step.note) = (next(), Some(next()), Some(next()));
        step.modes.iter_mut().for_each(|mode| (mode.pan, mode.level) = (Some(next()), Some(next())));
    }
    labels
}

fn files(labels: Labels) -> Vec<(&'static str, String)> {
    let planner = Planner::from(Compiled { problem: SUPPER.problem().clone(), labels });
    let supper = planner.with(SUPPER.planned().clone()).expect("the same plan");
    rangewright_cli::every_form(&supper, SystemTime::UNIX_EPOCH)
}

fn file<'a>(files: &'a [(&'static str, String)], end: &str) -> &'a str {
    files.iter().find(|(name, _)| name.ends_with(end)).map(|(_, text)| text.as_str()).expect("every form is there")
}

/// The elements of a page, in order of their beginning.
fn elements(page: &str) -> Vec<&str> {
    let begins = page.split('<').skip(1).filter(|rest| !rest.starts_with('/'));
    begins.map(|rest| rest.split(|c: char| !c.is_ascii_alphanumeric() && c != '!').next().unwrap_or_default()).collect()
}

const ELEMENTS: &[&str] = &[
    "!DOCTYPE",
    "a",
    "article",
    "b",
    "body",
    "caption",
    "circle",
    "cite",
    "dd",
    "defs",
    "div",
    "dl",
    "dt",
    "figcaption",
    "figure",
    "h1",
    "h2",
    "h3",
    "head",
    "header",
    "html",
    "input",
    "label",
    "li",
    "line",
    "main",
    "meta",
    "nav",
    "ol",
    "p",
    "path",
    "pattern",
    "rect",
    "script",
    "section",
    "span",
    "strong",
    "style",
    "svg",
    "table",
    "tbody",
    "td",
    "text",
    "th",
    "thead",
    "time",
    "title",
    "tr",
    "tspan",
    "ul",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_name_breaks_a_format(names in prop::collection::vec(name(), 1..30)) {
        let plain = files(SUPPER.labels().clone());
        let files = files(renamed(&names));
        prop_assert_eq!(files.len(), 8);

        let page = file(&files, ".html");
        for element in elements(page) {
            prop_assert!(ELEMENTS.contains(&element), "<{}", element);
        }
        prop_assert_eq!((page.matches("<style").count(), page.matches("<script").count()), (1, 1));
        prop_assert_eq!(page.matches("type=\"checkbox\"").count(), file(&plain, ".html").matches("type=\"checkbox\"").count());

        let drawing = file(&files, ".svg");
        if let Err(error) = roxmltree::Document::parse(drawing) {
            prop_assert!(false, "{}: {}", error, drawing);
        }

        let calendar = file(&files, ".ics");
        prop_assert!(calendar.split("\r\n").all(|line| line.len() <= 75 && !line.contains(['\n', '\r'])), "{}", calendar);
        let text = icalendar::parser::unfold(calendar);
        let read = icalendar::parser::read_calendar(&text).map_err(TestCaseError::fail)?;
        let events = file(&plain, ".ics").matches("BEGIN:VEVENT\r\n").count();
        prop_assert_eq!(read.components.len(), events);

        let mut reader = csv::Reader::from_reader(file(&files, ".csv").as_bytes());
        let rows = reader.records().collect::<Result<Vec<_>, _>>();
        prop_assert_eq!(rows.map(|rows| rows.len()).ok(), Some(SUPPER.problem().steps.len()));

        let value: Result<serde_json::Value, _> = serde_json::from_str(file(&files, ".json"));
        prop_assert!(value.is_ok_and(|value| value["name"] == names[0].as_str()));

        let shape = |text: &str| -> Vec<String> {
            use pulldown_cmark::{Event, Options, Parser};
            let events = Parser::new_ext(text, Options::ENABLE_TASKLISTS | Options::ENABLE_TABLES);
            let marks = events.filter_map(|event| match event {
                Event::Text(_) | Event::SoftBreak => None,
                Event::Start(tag) => Some(format!("{tag:?}")),
                Event::End(_) => None,
                other => Some(format!("{other:?}")),
            });
            marks.collect()
        };
        prop_assert_eq!(shape(file(&files, ".md")).len(), shape(file(&plain_with_notes(), ".md")).len());

        let sheet = file(&files, ".txt");
        prop_assert!(!sheet.chars().any(|letter| letter.is_control() && letter != '\n'));
    }
}

/// The supper with a plain text wherever the others have theirs, so that both have the same parts.
fn plain_with_notes() -> Vec<(&'static str, String)> {
    files(renamed(&["word".to_owned()]))
}
