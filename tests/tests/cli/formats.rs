//! Every format a plan is handed over in, read back by a parser that is not ours, and as it looked before.

use std::fs;
use std::path::{Path, PathBuf};

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{Answer, World, rangewright};

const ALL: &str = "text,html,svg,markdown,ical,csv,jobs,json";

fn package() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The smallest shipped menu, planned to a proof.
fn supper(more: &[&str]) -> Answer {
    let menu = package().join("../models/examples/supper.menu.ron");
    let menu = menu.to_string_lossy();
    let mut args = vec!["plan", &menu, "--work", "100000"];
    args.extend(more);
    rangewright(&args, &World { terminal: Terminal { unicode: true, ..Terminal::default() }, ..World::default() })
}

/// Twenty-four dishes with their saved plan, on a day on which the clocks of the zone show summer time.
fn banquet(more: &[&str]) -> Answer {
    let data = "data/kitchens";
    let (problem, plan) = (format!("{data}/instances/banquet-1.json"), format!("{data}/plans/banquet-1.json"));
    let mut args =
        vec!["plan", &problem, "--start", &plan, "--work", "0", "--date", "2026-06-13", "--zone", "Europe/London"];
    args.extend(more);
    rangewright(&args, &World::default())
}

fn printed(answer: Answer) -> String {
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    answer.out
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").file_name());
    let mut names: Vec<String> = entries.map(|name| name.to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn formats_look_as_they_did() {
    let page = printed(supper(&["--format", "html"]));
    let (head, body) = page.split_once("<style>").expect("a style");
    let (_, body) = body.split_once("</style>").expect("an end of it");
    insta::assert_snapshot!("supper_page", format!("{head}{body}").replace("><", ">\n<"));
    let drawing = printed(supper(&["--format", "svg"]));
    let (head, body) = drawing.split_once("<style>").expect("a style");
    let (_, body) = body.split_once("</style>").expect("an end of it");
    insta::assert_snapshot!("supper_drawing", format!("{head}{body}").replace("><", ">\n<"));
    insta::assert_snapshot!("supper_markdown", printed(supper(&["--format", "markdown", "--clock", "12"])));
    insta::assert_snapshot!("supper_calendar", printed(supper(&["--format", "ical"])).replace("\r\n", "\n"));
    insta::assert_snapshot!("supper_steps", printed(supper(&["--format", "csv"])).replace("\r\n", "\n"));
    insta::assert_snapshot!("supper_jobs", printed(supper(&["--format", "jobs"])).replace("\r\n", "\n"));
}

#[test]
fn a_page_needs_nothing_else_and_says_what_the_sheet_says() {
    let page = printed(banquet(&["--format", "html"]));
    // Its script is its own, and it is one.
    assert!(page.matches("<script>").count() == 1 && page.matches("<script").count() == 1);
    for foreign in ["<link", "<img", "src=", "@import", "http:", "https:", "url(http"] {
        assert!(!page.contains(foreign), "{foreign}");
    }
    let sheet = printed(banquet(&["--width", "200"]));
    let jobs = sheet.lines().filter(|line| line.starts_with(' ') && line.as_bytes().get(3) == Some(&b':'));
    // Each entry of a sheet has a box to tick; the lines at the top, of courses, have none.
    assert_eq!(page.matches("type=\"checkbox\"").count(), jobs.count() - 3);
    for part in ["lang=\"en\"", "name=\"viewport\"", "prefers-color-scheme: dark", "@media print", "role=\"img\""] {
        assert!(page.contains(part), "{part}");
    }
}

#[test]
fn a_drawing_is_well_formed_and_names_every_dish() {
    for drawing in [printed(supper(&["--format", "svg"])), printed(banquet(&["--format", "svg"]))] {
        let tree = roxmltree::Document::parse(&drawing).expect("XML");
        let root = tree.root_element();
        assert_eq!((root.tag_name().name(), root.attribute("role")), ("svg", Some("img")));
        let [width, height] = ["width", "height"].map(|name| root.attribute(name).and_then(|v| v.parse::<f64>().ok()));
        assert!(width.is_some_and(|width| width > 1000.0) && height.is_some_and(|height| height > 200.0));
        let ids: Vec<&str> = tree.descendants().filter_map(|node| node.attribute("id")).collect();
        for node in tree.descendants().filter(|node| node.is_element()) {
            for name in ["x", "y", "x1", "x2", "y1", "y2", "width", "height"] {
                let value = node.attribute(name).filter(|value| !value.ends_with('%'));
                assert!(value.is_none_or(|v| v.parse::<f64>().is_ok_and(f64::is_finite)), "{node:?}");
            }
        }
        let style = tree.descendants().find(|node| node.has_tag_name(("http://www.w3.org/2000/svg", "style")));
        let style = style.and_then(|node| node.text()).expect("a style");
        assert!(!style.contains("var("), "colours are spelled out");
        for used in style.split("url(#").skip(1).filter_map(|rest| rest.split(')').next()) {
            assert!(ids.contains(&used), "{used}");
        }
    }
    let drawing = printed(banquet(&["--format", "svg"]));
    for dish in ["smoked fish broth", "quince tart", "celery-root mash"] {
        assert!(drawing.contains(dish), "{dish}");
    }
}

/// Without the folds of RFC 5545.
fn unfolded(calendar: &str) -> String {
    calendar.replace("\r\n ", "").replace("\r\n\t", "")
}

/// The properties of every event, read by a parser from elsewhere.
fn events(calendar: &str) -> Vec<Vec<(String, String)>> {
    let text = icalendar::parser::unfold(calendar);
    let read = icalendar::parser::read_calendar(&text).expect("a calendar");
    let events = read.components.iter().filter(|component| component.name == "VEVENT");
    let all = events.map(|event| {
        assert!(event.components.iter().filter(|inner| inner.name == "VALARM").count() <= 1, "{event:?}");
        event.properties.iter().map(|own| (own.name.to_string(), own.val.to_string())).collect()
    });
    all.collect()
}

fn value<'a>(event: &'a [(String, String)], name: &str) -> Option<&'a str> {
    event.iter().find(|(own, _)| own == name).map(|(_, value)| value.as_str())
}

#[test]
fn a_calendar_is_read_back_with_every_job_at_its_moment() {
    let calendar = printed(banquet(&["--format", "ical"]));
    assert!(calendar.split("\r\n").all(|line| line.len() <= 75 && !line.contains('\n')));
    let events = events(&calendar);
    let sheet = printed(banquet(&["--width", "200"]));
    assert!(events.len() > 100, "{}", events.len());
    for course in ["SERVE FIRST", "SERVE MAIN", "SERVE LAST"] {
        assert!(sheet.contains(course), "{sheet}");
    }
    let served = |name: &str| events.iter().find(|event| value(event, "SUMMARY") == Some(name)).expect("a serving");
    // 18:45 on the clock of a London summer is 17:45 UTC, on the day after day 0.
    assert_eq!(value(served("SERVE FIRST"), "DTSTART"), Some("20260614T174500Z"));
    assert_eq!(value(served("SERVE MAIN"), "DTSTART"), Some("20260614T183000Z"));
    let mut uids: Vec<&str> = events.iter().filter_map(|event| value(event, "UID")).collect();
    uids.sort_unstable();
    uids.dedup();
    assert_eq!(uids.len(), events.len(), "every event has a UID of its own");
    assert!(events.iter().all(|event| value(event, "DTSTAMP") == Some("20261101T120000Z")));
}

#[test]
fn one_cook_gets_the_same_events_as_in_the_calendar_of_all() {
    let all = events(&printed(banquet(&["--format", "ical"])));
    let uid = |event: &Vec<(String, String)>| value(event, "UID").map(str::to_owned);
    let all: Vec<_> = all.iter().filter_map(uid).collect();
    let mut count = 0;
    for cook in ["Cook 1", "cook 2", "Cook 3"] {
        let own = events(&printed(banquet(&["--format", "ical", "--cook", cook])));
        assert!(!own.is_empty() && own.len() < all.len());
        assert!(own.iter().filter_map(uid).all(|uid| all.contains(&uid)));
        count += own.len();
    }
    assert!(count >= all.len(), "what two do together is in both of theirs");
    let answer = banquet(&["--cook", "Nobody"]);
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    assert!(answer.err.contains("Cook 1, Cook 2, Cook 3"), "{}", answer.err);
}

#[test]
fn events_keep_their_uids_when_the_evening_is_planned_again() {
    let menu = fs::read_to_string(package().join("../models/examples/supper.menu.ron")).expect("a menu");
    let folder = package().join("../models/examples");
    let planned = |menu: &str| {
        let world = World { stdin: menu.as_bytes(), folder: Some(&folder), ..World::default() };
        printed(rangewright(&["plan", "-", "--work", "100000", "--format", "ical"], &world))
    };
    let uids = |calendar: &str| -> Vec<String> {
        let mut uids: Vec<String> =
            unfolded(calendar).lines().filter(|line| line.starts_with("UID:")).map(str::to_owned).collect();
        uids.sort();
        uids
    };
    let (before, later) = (planned(&menu), planned(&menu.replace("serve: \"19:00\"", "serve: \"19:30\"")));
    assert_ne!(before, later);
    assert_eq!(uids(&before), uids(&later));
    assert_ne!(uids(&before), uids(&planned(&menu.replace("2026-11-08", "2026-11-09"))), "another day, another feast");
}

#[test]
fn a_bare_problem_without_a_date_has_no_calendar() {
    let args = ["plan", "data/kitchens/instances/small-1.json", "--work", "2000", "--format", "ical"];
    let answer = rangewright(&args, &World::default());
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    assert!(answer.err.contains("--date"), "{}", answer.err);
    let wrong = banquet(&["--zone", "Mars/Olympus"]);
    assert_eq!(wrong.exit, Exit::BadInput);
}

#[test]
fn steps_are_a_table_with_a_line_for_each() {
    let text = printed(banquet(&["--format", "csv"]));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = reader.headers().expect("a head").clone();
    let at = |name: &str| head.iter().position(|own| own == name).expect("a column");
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("rows of one length");
    let json: serde_json::Value = serde_json::from_str(&printed(banquet(&["--format", "json"]))).expect("JSON");
    let steps = json["plan"]["steps"].as_object().expect("steps");
    assert_eq!(rows.len(), steps.len());
    for row in &rows {
        let step = &steps[&row[at("step")]];
        assert_eq!(row[at("start_minute")], step["start"].to_string());
        assert_eq!(row[at("end_minute")], step["end"].to_string());
        assert!(row[at("start")].ends_with("+01:00"), "{row:?}");
    }
}

#[test]
fn markdown_renders_to_headings_boxes_and_tables() {
    use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};
    let text = printed(banquet(&["--format", "markdown"]));
    let events: Vec<Event<'_>> = Parser::new_ext(&text, Options::ENABLE_TASKLISTS | Options::ENABLE_TABLES).collect();
    let count = |which: &dyn Fn(&Event<'_>) -> bool| events.iter().filter(|event| which(event)).count();
    let page = printed(banquet(&["--format", "html"]));
    assert_eq!(
        count(&|event| matches!(event, Event::TaskListMarker(false))),
        page.matches("type=\"checkbox\"").count()
    );
    assert_eq!(count(&|event| matches!(event, Event::End(TagEnd::Table))), page.matches("<table>").count());
    assert_eq!(count(&|event| matches!(event, Event::Html(_) | Event::InlineHtml(_) | Event::Code(_))), 0);
    assert_eq!(count(&|event| matches!(event, Event::Start(Tag::Link { .. } | Tag::CodeBlock(_)))), 0);
    let mut html = String::new();
    pulldown_cmark::html::push_html(&mut html, events.into_iter());
    assert!(html.contains("<h1>Banquet-1</h1>") && html.contains("stuffed goose"), "{html}");
}

#[test]
fn several_formats_go_into_a_folder_whole_or_not_at_all() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join("hung/up");
    let folder_name = folder.to_string_lossy().into_owned();
    let answer = supper(&["--format", ALL, "--format", "csv", "--out", &folder_name]);
    let files = [
        "chart.svg",
        "jobs.csv",
        "jobs.ics",
        "plan.json",
        "run-sheets.html",
        "run-sheets.md",
        "run-sheets.txt",
        "steps.csv",
    ];
    assert_eq!(names(&folder), files);
    assert_eq!(printed(answer).lines().count(), files.len());
    for (format, file) in
        [("html", "run-sheets.html"), ("ical", "jobs.ics"), ("csv", "steps.csv"), ("svg", "chart.svg")]
    {
        assert_eq!(fs::read_to_string(folder.join(file)).expect("a file"), printed(supper(&["--format", format])));
    }
    // What is there stays there unless it is to be replaced.
    fs::write(folder.join("steps.csv"), "mine").expect("a file");
    let refused = supper(&["--format", "html,csv", "--out", &folder_name]);
    assert_eq!((refused.exit, refused.out.as_str()), (Exit::Io, ""));
    assert!(refused.err.contains("--overwrite"), "{}", refused.err);
    assert_eq!(fs::read_to_string(folder.join("steps.csv")).expect("a file"), "mine");
    printed(supper(&["--format", "csv", "--out", &folder_name, "--overwrite"]));
    assert_ne!(fs::read_to_string(folder.join("steps.csv")).expect("a file"), "mine");
    assert_eq!(names(&folder), files);
    // A file where a folder should be.
    let file = folder.join("steps.csv/more");
    assert_eq!(supper(&["--format", "csv", "--out", &file.to_string_lossy()]).exit, Exit::Io);
    // Nothing is written when one of the formats cannot be.
    let empty = home.path().join("empty");
    let args = [
        "plan",
        "data/kitchens/instances/small-1.json",
        "--work",
        "2000",
        "--format",
        "html,ical",
        "--out",
        &empty.to_string_lossy(),
    ];
    assert_eq!(rangewright(&args, &World::default()).exit, Exit::BadInput);
    assert!(!empty.exists());
    assert_eq!(supper(&["--format", "html,csv"]).exit, Exit::BadInput);
}

#[test]
fn a_no_writes_no_files_and_is_read_all_the_same() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join("none");
    let no = "data/kitchens/instances/nohours-6.json";
    let args = ["plan", no, "--work", "2000", "--format", "html,ical", "--out", &folder.to_string_lossy()];
    let answer = rangewright(&args, &World::default());
    assert_eq!((answer.exit, folder.exists()), (Exit::Impossible, false));
    assert!(answer.out.contains("CANNOT BE DONE"), "{}", answer.out);
    let answer = rangewright(&["plan", no, "--work", "2000", "--format", "html"], &World::default());
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::Impossible, ""));
    assert!(answer.err.contains("CANNOT BE DONE"), "{}", answer.err);
}

#[test]
fn text_keeps_to_the_width_of_its_terminal() {
    for width in [40, 47, 64, 80, 121, 200] {
        for clock in ["12", "24"] {
            let look = ["--width", &width.to_string(), "--clock", clock];
            for text in [printed(supper(&look)), printed(banquet(&look))] {
                // No letter of these menus is wider or narrower than a column.
                let wide: Vec<&str> = text.lines().filter(|line| line.chars().count() > width).collect();
                assert_eq!(wide, Vec::<&str>::new(), "{width}");
            }
        }
    }
}

#[test]
fn clock_times_and_degrees_are_as_asked_for() {
    for format in ["text", "html", "svg", "markdown"] {
        let day = printed(supper(&["--format", format, "--clock", "12", "--units", "customary"]));
        assert!(day.contains("7:00") && day.contains("pm") && day.contains("355"), "{format}: {day}");
        for other in [" 19:00", ">19:00", "180 C", "180\u{a0}C"] {
            assert!(!day.contains(other), "{format}: {other}");
        }
    }
}

#[test]
fn completions_and_the_manual_come_from_the_arguments() {
    let plain = |args: &[&str]| rangewright(args, &World::default());
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = printed(plain(&["completions", shell]));
        assert!(script.contains("overwrite") && script.contains("portions"), "{shell}");
    }
    let page = printed(plain(&["man"]));
    assert!(page.contains(".TH rangewright") && page.contains("portions"), "{page}");
    let page = printed(plain(&["man", "plan"]));
    assert!(page.contains("\\-\\-overwrite") && page.contains("Replace files that already exist"), "{page}");
    assert_eq!(plain(&["man", "bake"]).exit, Exit::BadInput);
    assert_eq!(plain(&["completions", "abacus"]).exit, Exit::BadInput);
}

#[test]
fn a_long_search_says_so_only_to_somebody_who_watches() {
    let args = ["plan", "data/kitchens/instances/small-1.json", "--work", "2000"];
    let watched = World { terminal: Terminal { watched: true, ..Terminal::default() }, ..World::default() };
    // The clock of these tests stands still, so that no search ever is a long one.
    let (quiet, watched) = (rangewright(&args, &World::default()), rangewright(&args, &watched));
    assert_eq!(quiet, watched);
}

/// A course that stands ready before its hour goes out on the chart as well, when nothing else is left to do.
#[test]
fn the_last_course_is_on_the_chart() {
    let menu = br#"Menu(name: "Tart", kitchen: Kitchen(places: [Oven("oven", "44 x 38 x 32 cm")]), guests: 4, date: "2026-11-08",
        zone: "Europe/London", courses: [Course(name: "sweet", serve: "19:00", together: "30 min")],
        dishes: [Dish("Plum tart", [Bake(at: "180 C", takes: "40 min", pan: "28 x 4 cm", by: "18:40")])])"#;
    let world = World { stdin: menu, ..World::default() };
    let text = printed(rangewright(&["plan", "-", "--work", "2000"], &world));
    let row = text.lines().find(|line| line.starts_with(" serve ")).unwrap_or_default();
    assert!(row.trim_end().ends_with('1'), "{text}");
    let drawing = printed(rangewright(&["plan", "-", "--work", "2000", "--format", "svg"], &world));
    assert!(drawing.contains("19:00 Sweet"), "{drawing}");
}

/// What the demo's dishes buy for fourteen is on every sheet to be read, and what two of them want is one line.
#[test]
fn the_shopping_is_on_the_sheets() {
    let demo = |more: &[&str]| {
        let args = [&["plan", "--work", "20000", "--width", "100"][..], more].concat();
        printed(rangewright(&args, &World::default()))
    };
    let flour = "Seeded rye rolls, Sage and onion fritters, Pear and hazelnut tart";
    let text = demo(&[]);
    for line in [format!("- Wheat flour: 1.1 kg ({flour})"), "- Squash: 2.8 kg (Squash soup)".to_owned()] {
        assert!(text.contains(&line), "{line}: {text}");
    }
    assert!(text.contains("- Quinces: 7 (Mutton and quince stew)"), "{text}");
    // 2.8 kg are 6.17 lb, 98.8 oz; 840 ml and a litre are 62.2 fl oz, 1.94 qt.
    let text = demo(&["--units", "F"]);
    assert!(text.contains("- Squash: 6 lb 3 oz (") && text.contains("- Cream: 2 qt ("), "{text}");
    assert!(demo(&["--format", "markdown"]).contains(&format!("- [ ] Wheat flour: **1.1 kg** ({flour})")));
    let page = demo(&["--format", "html"]);
    assert!(page.contains(&format!("</span>Wheat flour</th><td>1.1 kg</td><td>{flour}</td>")), "{page}");
    let data: serde_json::Value = serde_json::from_str(&demo(&["--format", "json"])).expect("JSON");
    let own = data["to_buy"].as_array().expect("a list").iter().find(|own| own["what"] == "wheat flour");
    assert_eq!(own.map(|own| (&own["amount"], &own["unit"])), Some((&1100.0.into(), &"g".into())));
    // A menu that says nothing of it has no such part.
    assert!(!printed(supper(&["--format", "html"])).contains("To buy") && !printed(supper(&[])).contains("TO BUY"));
}
