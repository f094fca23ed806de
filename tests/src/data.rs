//! Reads the test data of this package.

use std::fs;
use std::path::{Path, PathBuf};

use serde::de::DeserializeOwned;

/// The path of a file or folder under `tests/data`.
pub fn path(below: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data").join(below)
}

/// The text of a file under `tests/data`.
///
/// # Panics
/// If it cannot be read.
pub fn text(below: &str) -> String {
    let path = path(below);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The value of a JSON file under `tests/data`.
///
/// # Panics
/// If it cannot be read.
pub fn json<T: DeserializeOwned>(below: &str) -> T {
    serde_json::from_str(&text(below)).unwrap_or_else(|error| panic!("{below}: {error}"))
}

/// The names, without their ending, of the JSON files in a folder under `tests/data`, in order.
///
/// # Panics
/// If it cannot be read.
pub fn names(folder: &str) -> Vec<String> {
    let entries = fs::read_dir(path(folder)).unwrap_or_else(|error| panic!("{folder}: {error}"));
    let files = entries.map(|entry| entry.unwrap_or_else(|error| panic!("{folder}: {error}")).path());
    let json = files.filter(|path| path.extension().is_some_and(|ending| ending == "json"));
    let mut names: Vec<String> = json.filter_map(|path| Some(path.file_stem()?.to_str()?.to_owned())).collect();
    names.sort();
    names
}

/// The rows of a CSV file under `tests/data` whose cells hold no quotes, each row as its cells; the first is the header.
///
/// # Panics
/// If it cannot be read.
pub fn csv(below: &str) -> Vec<Vec<String>> {
    text(below).lines().map(|line| line.split(',').map(str::to_owned).collect()).collect()
}
