//! The rooms of each package stand in an order: none uses one that uses it, directly or by way of others.
//!
//! A room is a module at the top of a package. What it uses is read from its source: every path from `crate::` on, and every
//! path by way of `super::` that leaves it. Comments and unit tests do not count.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;

const PACKAGES: [&str; 3] = ["models", "solver", "cli"];

/// Which room uses which, and one file that shows it.
type Uses = BTreeMap<(String, String), PathBuf>;

#[test]
fn no_room_uses_one_that_uses_it() {
    let mut wrong = Vec::new();
    for package in PACKAGES {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(package).join("src");
        let uses = uses(&source);
        assert!(uses.len() > 20, "{package} has few rooms, or they are not found: {uses:?}");
        let circles = circles(&uses);
        for circle in &circles {
            for ((from, to), file) in &uses {
                if circle.contains(from) && circle.contains(to) {
                    wrong.push(format!("{package}: {from} uses {to} in {}", file.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "rooms that use each other in a circle:\n{}", wrong.join("\n"));
}

#[test]
fn circles_are_found() {
    let uses = |pairs: &[(&str, &str)]| -> Uses {
        pairs.iter().map(|(from, to)| (((*from).to_owned(), (*to).to_owned()), PathBuf::new())).collect()
    };
    assert_eq!(circles(&uses(&[("a", "b"), ("b", "c"), ("a", "c")])), [] as [Vec<String>; 0]);
    assert_eq!(circles(&uses(&[("a", "b"), ("b", "c"), ("c", "a"), ("c", "d")])), [["a", "b", "c"]]);
    let rooms = ["a", "b", "c", "d", "e"].map(str::to_owned);
    let root = BTreeMap::from([("Thing".to_owned(), "d".to_owned())]);
    let text = "use crate::{Thing, b::{X, Y}};\n// crate::a\nuse super::super::c::Z;\nuse super::e;\n#[cfg(test)]\nmod tests { use crate::a; }";
    let mut found = rooms_in(&without_comments_and_tests(text), 2, &rooms, &root);
    found.sort();
    assert_eq!(found, ["b", "c", "d"]);
}

/// The groups of rooms that use each other in a circle, each in the order of the alphabet.
fn circles(uses: &Uses) -> Vec<Vec<String>> {
    let graph: DiGraphMap<&str, ()> = uses.keys().map(|(from, to)| (from.as_str(), to.as_str())).collect();
    let groups = tarjan_scc(&graph).into_iter().filter(|group| group.len() > 1);
    let mut circles: Vec<Vec<String>> = groups.map(|group| group.into_iter().map(str::to_owned).collect()).collect();
    circles.iter_mut().for_each(|circle| circle.sort());
    circles.sort();
    circles
}

/// Which rooms of a package use which others.
fn uses(source: &Path) -> Uses {
    let mut rooms = Vec::new();
    for entry in fs::read_dir(source).expect("the package has a folder src") {
        let path = entry.expect("an entry").path();
        let name = path.file_stem().and_then(|stem| stem.to_str()).expect("a name").to_owned();
        if path.is_dir() && path.join("mod.rs").exists() || path.extension().is_some_and(|end| end == "rs") {
            rooms.push(name);
        }
    }
    rooms.retain(|room| !["lib", "main"].contains(&room.as_str()));
    rooms.sort();
    rooms.dedup();
    let root = at_the_root(&source.join("lib.rs"));
    let mut uses = Uses::new();
    for room in &rooms {
        for file in files(source, room) {
            let inside = file.strip_prefix(source).expect("a file of the package");
            let parts = inside.with_extension("").components().count();
            let depth = if file.file_name().is_some_and(|name| name == "mod.rs") { parts - 1 } else { parts };
            let text = without_comments_and_tests(&fs::read_to_string(&file).expect("a readable file"));
            for other in rooms_in(&text, depth, &rooms, &root) {
                if other != *room {
                    uses.entry((room.clone(), other)).or_insert_with(|| inside.to_owned());
                }
            }
        }
    }
    uses
}

/// The source files of a room, unit tests left out.
fn files(source: &Path, room: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut open = vec![source.join(room)];
    found.extend(Some(source.join(room).with_extension("rs")).filter(|file| file.exists()));
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).into_iter().flatten() {
            let path = entry.expect("an entry").path();
            let test = path.file_stem().is_some_and(|stem| stem == "tests");
            if path.is_dir() && !test {
                open.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") && !test {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// What the root of a package names that comes from a room: the item, and the room.
fn at_the_root(lib: &Path) -> BTreeMap<String, String> {
    let text = without_comments_and_tests(&fs::read_to_string(lib).expect("the package has a root"));
    let mut items = BTreeMap::new();
    for line in text.split(';').filter_map(|line| line.split_once("use ").map(|(_, path)| path)) {
        if let Some((room, names)) = line.trim().split_once("::") {
            for name in names.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|name| !name.is_empty()) {
                items.insert(name.to_owned(), room.to_owned());
            }
        }
    }
    items
}

fn without_comments_and_tests(text: &str) -> String {
    let code = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    code.lines().map(|line| line.split("//").next().unwrap_or_default()).collect::<Vec<_>>().join("\n")
}

/// The rooms that a file so deep in its package names, by `crate::` or by as many `super::` as lead to the root.
fn rooms_in(text: &str, depth: usize, rooms: &[String], root: &BTreeMap<String, String>) -> Vec<String> {
    let mut found = Vec::new();
    let up = "super::".repeat(depth);
    for (at, way) in text.match_indices("crate::").chain(text.match_indices(&up)) {
        if text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':') {
            continue;
        }
        for name in heads(&text[at + way.len()..]) {
            match root.get(name) {
                _ if rooms.iter().any(|room| room == name) => found.push(name.to_owned()),
                Some(room) => found.push(room.clone()),
                None => {}
            }
        }
    }
    found
}

/// The first names of a path, or of each path in braces.
fn heads(path: &str) -> Vec<&str> {
    let name = |text: &'_ str| text.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(text.len());
    let Some(list) = path.strip_prefix('{') else { return vec![&path[..name(path)]] };
    let (mut depth, mut start, mut found) = (0_usize, 0, Vec::new());
    for (at, c) in list.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth > 0 => depth -= 1,
            ',' | '}' if depth == 0 => {
                let item = list[start..at].trim();
                found.push(&item[..name(item)]);
                start = at + 1;
                if c == '}' {
                    break;
                }
            }
            _ => {}
        }
    }
    found
}
