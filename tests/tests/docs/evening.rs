//! An evening played through, as a document: what stands in it is what the command prints.
//!
//! In `evening.md`, blocks of ```` ```console ```` are lines `$ rangewright ...`, each with what it prints beneath it. They
//! are run in order, in one folder, which begins empty; `> FILE` at the end of a command writes what it prints there
//! instead. To bring the document up to date, run this test with `RANGEWRIGHT_UPDATE=1`.

use std::fs;
use std::path::{Path, PathBuf};

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{World, rangewright};

fn document() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("evening.md")
}

/// The words of a command: at spaces, but for those within double quotes.
fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (index, part) in command.split('"').enumerate() {
        if index % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}

/// What a line `$ rangewright ...` prints.
fn run(line: &str, folder: &Path) -> String {
    let command = line.strip_prefix("$ rangewright ").unwrap_or_else(|| panic!("{line}"));
    let (command, file) = command.split_once(" > ").map_or((command, None), |(command, file)| (command, Some(file)));
    let words = words(command);
    let args: Vec<&str> = words.iter().map(String::as_str).collect();
    let terminal = Terminal { width: Some(80), colour: false, unicode: true, watched: false };
    let answer = rangewright(&args, &World { folder: Some(folder), terminal, ..World::default() });
    assert!(matches!(answer.exit, Exit::Planned), "{line}: {}{}", answer.out, answer.err);
    match file {
        Some(file) => {
            fs::write(folder.join(file), answer.out).expect("a file in a folder of our own");
            String::new()
        }
        None => answer.out,
    }
}

/// The document, with everything in its blocks printed anew.
fn anew(text: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let mut fresh = String::new();
    let mut within = false;
    for line in text.lines() {
        match (within, line) {
            (true, "```") => within = false,
            (false, "```console") => within = true,
            _ => {}
        }
        if !within || line == "```console" || line.starts_with("$ ") {
            fresh.push_str(line);
            fresh.push('\n');
        }
        if within && line.starts_with("$ ") {
            fresh.push_str(&run(line, folder.path()));
        }
    }
    fresh
}

#[test]
fn the_evening_goes_as_it_is_told() {
    let told = fs::read_to_string(document()).expect("the document");
    let fresh = anew(&told);
    if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
        fs::write(document(), &fresh).expect("the document is written");
        return;
    }
    assert!(told.matches("$ rangewright").count() > 6, "next to nothing is played");
    let first = told.lines().zip(fresh.lines()).find(|(told, fresh)| told != fresh);
    assert_eq!(told, fresh, "the first difference: {first:?}");
}
