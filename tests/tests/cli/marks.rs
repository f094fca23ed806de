//! Every job says which dish it is for, the same on everything that is handed out.

use crate::demo::{demo, printed};

fn banquet(more: &[&str]) -> String {
    let data = "data/kitchens";
    let (problem, plan) = (format!("{data}/instances/banquet-1.json"), format!("{data}/plans/banquet-1.json"));
    printed(
        &[&["plan", &problem, "--start", &plan, "--work", "0", "--date", "2026-06-13", "--width", "160"], more]
            .concat(),
    )
}

/// A row of the table of jobs.
struct Job {
    clock: String,
    letter: String,
    dish: String,
    what: String,
}

fn jobs(table: &str) -> Vec<Job> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let head = reader.headers().expect("a head").clone();
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("rows of one length");
    let cell = |row: &csv::StringRecord, name: &str| {
        row[head.iter().position(|own| own == name).expect("a column")].to_owned()
    };
    let job = |row: &csv::StringRecord| Job {
        clock: cell(row, "start")[11..16].to_owned(),
        letter: cell(row, "letter"),
        dish: cell(row, "dish"),
        what: cell(row, "what"),
    };
    rows.iter().map(job).collect()
}

/// As a calendar reads it.
fn unfolded(calendar: &str) -> String {
    calendar.replace("\r\n ", "").replace("\\,", ",").replace("\\;", ";")
}

#[test]
fn every_job_of_a_dish_has_its_letter_and_its_name_on_every_sheet() {
    for print in [demo as fn(&[&str]) -> String, banquet] {
        let jobs = jobs(&print(&["--format", "jobs"]));
        let of_dishes: Vec<&Job> = jobs.iter().filter(|job| !job.dish.is_empty()).collect();
        assert!(of_dishes.len() > 50 && jobs.len() > of_dishes.len());
        let (sheet, note, page) = (print(&[]), print(&["--format", "markdown"]), print(&["--format", "html"]));
        let calendar = unfolded(&print(&["--format", "ical"]));
        for job in of_dishes {
            let Job { clock, letter, dish, what } = job;
            assert_eq!(letter.chars().count(), 1, "{what}");
            // Degrees have their sign where people read them.
            let beginning: String = what.chars().take_while(|letter| !letter.is_ascii_digit()).collect();
            let beginning = beginning.trim_end_matches(['(', ' ']);
            let said = |before: &str, after: &str, text: &str| {
                text.contains(&format!("{before}{letter}{after}{beginning}"))
                    || text.contains(&format!("{before}{letter}{after}{dish}: {beginning}"))
            };
            assert!(said(&format!("\n {clock} "), " ", &sheet), "{clock} {what}");
            assert!(said(&format!("**{clock}** **"), "** ", &note), "{clock} {what}");
            assert!(said(": ", " ", &calendar), "{what}");
            assert!(page.contains(&format!("<b class=\"letter\">{letter}</b> ")), "{letter}");
            assert!(sheet.contains(&format!("{letter} = {dish}")), "{letter} = {dish}");
        }
        // What does not name its dish by itself is told apart by it.
        let tells = |job: &&Job| {
            let said = job.what.to_lowercase();
            job.dish
                .to_lowercase()
                .split(' ')
                .filter(|word| word.len() > 2)
                .any(|word| said.contains(word.trim_end_matches('s')))
        };
        for job in jobs.iter().filter(|job| !job.dish.is_empty()).filter(|job| !tells(job)) {
            let beginning: String = job.what.chars().take(12).collect();
            assert!(sheet.contains(&format!("{}: {beginning}", job.dish)), "{}: {}", job.dish, job.what);
        }
    }
}

#[test]
fn sentences_read_as_cooks_speak() {
    let sheet = demo(&[]);
    for part in [
        "Take the warm plates out of the old oven",
        "Turn the old oven up to 220 °C, no fan",
        "Heat the big oven to 150 °C fan",
        "Switch the big oven off",
        "off large burner 1",
    ] {
        assert!(sheet.contains(part), "{part}");
    }
    for part in ["asks for", "still heat", " 180 C", "Take Warm", "out of old"] {
        assert!(!sheet.contains(part), "{part}");
    }
}

#[test]
fn alarms_come_in_groups_of_which_no_half_hour_has_more_than_four() {
    let calendar = unfolded(&banquet(&["--format", "ical"]));
    let mut sounds: Vec<i64> = Vec::new();
    let mut told = String::new();
    for event in calendar.split("BEGIN:VEVENT").skip(1) {
        let Some((event, alarm)) = event.split_once("BEGIN:VALARM") else { continue };
        let begin = event.split_once("DTSTART:").expect("a start").1;
        let number = |range: std::ops::Range<usize>| begin[range].parse::<i64>().expect("digits");
        let minute = (number(6..8) * 24 + number(9..11)) * 60 + number(11..13);
        let trigger = alarm.split_once("TRIGGER:").expect("a trigger").1.lines().next().unwrap_or_default();
        let lead = trigger.trim_start_matches("-PT").trim_end_matches('M').parse::<i64>().unwrap_or(0);
        sounds.push(minute - lead);
        told += alarm;
    }
    sounds.sort_unstable();
    for first in &sounds {
        let within = sounds.iter().filter(|own| (*first..=first + 30).contains(own)).count();
        assert!(within <= 4, "{within} alarms from {first} on: {sounds:?}");
    }
    // What has no alarm of its own is said by another.
    for summary in calendar.lines().filter_map(|line| line.strip_prefix("SUMMARY:")) {
        assert!(told.contains(summary.trim_end()), "{summary}");
    }
    let all = banquet(&["--format", "ical", "--all-alarms"]);
    assert_eq!(all.matches("BEGIN:VALARM").count(), all.matches("BEGIN:VEVENT").count());
    assert!(sounds.len() < all.matches("BEGIN:VALARM").count());
}

#[test]
fn the_table_of_jobs_has_a_line_for_each_event_and_the_menus_own_degrees() {
    let table = demo(&["--format", "jobs"]);
    assert_eq!(table.lines().count() - 1, demo(&["--format", "ical"]).matches("BEGIN:VEVENT").count());
    let dials: Vec<&str> = table.lines().filter(|line| line.contains(",dial,")).collect();
    assert!(dials.iter().any(|line| line.contains("old oven") && line.contains(",220,C,no fan,")), "{dials:?}");
    assert!(demo(&["--format", "jobs", "--units", "F"]).contains(",300,F,fan,"));
    let one = demo(&["--format", "jobs", "--cook", "Tom"]);
    assert!(one.lines().count() < table.lines().count() && one.lines().skip(1).all(|line| line.contains("Tom")));
    assert!(!table.starts_with('\u{feff}'));
    for format in ["csv", "jobs"] {
        assert!(demo(&["--format", format, "--byte-order-mark"]).starts_with('\u{feff}'), "{format}");
    }
}
