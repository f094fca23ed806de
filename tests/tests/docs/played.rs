//! Documents that are played: what stands in them is what the command prints.
//!
//! Blocks of ```` ```console ```` are lines `$ rangewright ...`, each with what it prints beneath it. They are run in order,
//! in one folder, which begins empty; `> FILE` at the end of a command writes what it prints there instead, and a block under
//! `<!-- write: FILE -->` is written there as it stands. Of a long answer a document may show pieces, with a line `...`
//! wherever something is left out. To bring the documents up to date, run this test with `RANGEWRIGHT_UPDATE=1`; an answer
//! whose pieces are no longer so is then written in full.

use std::fs;
use std::path::{Path, PathBuf};

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{World, rangewright};

fn document(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..").join(name)
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

/// What a line `$ rangewright ...` prints; of a refusal, the complaint.
fn run(line: &str, folder: &Path) -> String {
    let command = line.strip_prefix("$ rangewright ").unwrap_or_else(|| panic!("{line}"));
    let (command, file) = command.split_once(" > ").map_or((command, None), |(command, file)| (command, Some(file)));
    let words = words(command);
    let args: Vec<&str> = words.iter().map(String::as_str).collect();
    let terminal = Terminal { width: Some(80), colour: false, unicode: true, watched: false };
    let answer = rangewright(&args, &World { folder: Some(folder), terminal, ..World::default() });
    assert!(!matches!(answer.exit, Exit::Internal | Exit::Io), "{line}: {}{}", answer.out, answer.err);
    match file {
        Some(file) => {
            assert_eq!(answer.exit, Exit::Planned, "{line}: {}", answer.err);
            fs::write(folder.join(file), answer.out).expect("a file in a folder of our own");
            String::new()
        }
        None => answer.out + &answer.err,
    }
}

/// What to show of an answer: the pieces that were shown before if they are still so, else all of it.
pub(crate) fn shown(before: &str, answer: String) -> String {
    let mut pieces = before.split("...\n").map(str::trim_end);
    let mut rest = answer.as_str();
    let still = before.contains("...\n")
        && pieces.all(|piece| match rest.find(piece) {
            Some(at) => {
                rest = &rest[at + piece.len()..];
                true
            }
            None => false,
        });
    if still { before.to_owned() } else { answer }
}

/// The document, with everything in its blocks printed again.
fn again(text: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let mut fresh = String::new();
    let mut lines = text.lines().peekable();
    let mut within = false;
    while let Some(line) = lines.next() {
        fresh += &format!("{line}\n");
        match line {
            "```" => within = false,
            "```console" => within = true,
            _ => {}
        }
        if let Some(file) = line.strip_prefix("<!-- write: ").and_then(|mark| mark.strip_suffix(" -->")) {
            let block = text.split(line).nth(1).and_then(|rest| rest.split("```").nth(1)).expect("a block to write");
            let body = block.split_once('\n').map_or("", |(_, body)| body);
            fs::write(folder.path().join(file), body).expect("a file in a folder of our own");
        }
        if within && line.starts_with("$ ") {
            let mut before = String::new();
            while let Some(line) = lines.next_if(|line| *line != "```" && !line.starts_with("$ ")) {
                before += &format!("{line}\n");
            }
            fresh += &shown(&before, run(line, folder.path()));
        }
    }
    fresh
}

fn is_as_told(name: &str) {
    let told = fs::read_to_string(document(name)).expect("the document");
    let fresh = again(&told);
    if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
        fs::write(document(name), &fresh).expect("the document is written");
        return;
    }
    assert!(told.matches("$ rangewright").count() > 6, "next to nothing is played");
    let first = told.lines().zip(fresh.lines()).find(|(told, fresh)| told != fresh);
    assert_eq!(told, fresh, "the first difference: {first:?}");
}

#[test]
fn the_evening_goes_as_it_is_told() {
    is_as_told("tests/evening.md");
}

#[test]
fn the_guide_for_cooks_does_what_it_says() {
    is_as_told("models/guide.md");
}

#[test]
fn pieces_of_an_answer_stay_while_they_are_so() {
    let answer = || "a\nb\nc\nd\n".to_owned();
    assert_eq!(shown("b\n...\nd\n", answer()), "b\n...\nd\n");
    assert_eq!(shown("b\n...\ne\n", answer()), answer());
    assert_eq!(shown("a\n", answer()), answer());
}
