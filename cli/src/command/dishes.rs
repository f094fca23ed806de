//! `rangewright dishes`: a book of dishes, looked through.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use rangewright::models::larder::Contents;
use rangewright::models::menu::Dish;
use rangewright::models::read;
use serde::Serialize;

use crate::args::{AskFormat, DishesArgs};
use crate::input::Refusal;
use crate::json::{self, Asked};
use crate::sheet::Page;
use crate::words::count;
use crate::{Exit, Io, excerpt, io, plain};

/// How the files of dishes end.
const ENDS: [&str; 2] = [".dish.ron", ".dish.json"];
/// Folders in folders are looked into so deep, and so many files are read at most.
const DEEPEST: usize = 8;
const MOST: usize = 10_000;

/// A dish of the book.
#[derive(Serialize)]
struct Found {
    /// From the folder that was asked for.
    file: String,
    name: String,
    portions: i64,
    /// What is done, in order, each kind once.
    kinds: Vec<String>,
    /// Food that calls for care, said or inferred.
    contains: Vec<String>,
    /// Allergens, said or inferred.
    allergens: Vec<String>,
    /// What is bought for it.
    buys: Vec<String>,
}

#[derive(Serialize)]
struct Book {
    dishes: Vec<Found>,
    /// How many files of dishes there are in all.
    files: usize,
    /// Those that cannot be read, each with why.
    unread: Vec<String>,
}

pub(super) fn run(args: &DishesArgs, io: &mut Io<'_>) -> Exit {
    let folder = io.folder.join(&args.book);
    let mut files = Vec::new();
    if let Err(error) = gather(&folder, DEEPEST, &mut files) {
        let text = format!("error: cannot look into {}: {}\n", args.book.display(), io::reason(&error));
        return Refusal::new(text, Exit::Io).tell(Asked::Dishes, args.format == AskFormat::Json, io);
    }
    let mut book = Book { dishes: Vec::new(), files: files.len(), unread: Vec::new() };
    let mut complaints = String::new();
    for file in files {
        let shown = file.strip_prefix(&folder).unwrap_or(&file).display().to_string();
        match dish(&file, &shown, io) {
            Ok(dish) => book.dishes.extend(Some(found(&dish, shown)).filter(|own| has(own, &args.words))),
            Err((why, text)) => {
                book.unread.push(why);
                complaints += &text;
            }
        }
    }
    let exit = if book.unread.is_empty() { Exit::Planned } else { Exit::BadInput };
    if args.format == AskFormat::Json {
        return io.print(&json::unnamed(Asked::Dishes, &book), exit);
    }
    let mut page = Page::new(super::look(&args.look, io));
    for own in &book.dishes {
        page.line(&format!(
            "{}, for {}",
            own.name,
            count(usize::try_from(own.portions).unwrap_or(0), "portion", "portions")
        ));
        let with = [&own.contains[..], &own.allergens].concat();
        let unique: BTreeSet<&String> = with.iter().collect();
        let with: Vec<&str> = unique.into_iter().map(String::as_str).collect();
        let contains = if with.is_empty() { String::new() } else { format!("; with {}", with.join(", ")) };
        page.more_at(2, &format!("{}: {}{contains}", own.file, own.kinds.join(", ")));
    }
    page.gap();
    let of = count(book.files, "dish", "dishes");
    page.line(&match args.words.is_empty() {
        true => format!("{of} in {}.", args.book.display()),
        false => format!("{} of {of} in {} with {}.", book.dishes.len(), args.book.display(), args.words.join(" and ")),
    });
    let printed = io.print(&page.finish(), exit);
    if complaints.is_empty() { printed } else { io.complain(&complaints, exit) }
}

/// The files of dishes in a folder, in the order of their names.
fn gather(folder: &Path, deep: usize, files: &mut Vec<PathBuf>) -> std::io::Result<()> {
    let mut entries = std::fs::read_dir(folder)?.collect::<std::io::Result<Vec<_>>>()?;
    entries.sort_by_key(std::fs::DirEntry::file_name);
    for entry in entries {
        let name = entry.file_name().to_string_lossy().into_owned();
        let sort = entry.file_type()?;
        if sort.is_dir() && deep > 0 && !name.starts_with('.') {
            gather(&entry.path(), deep - 1, files)?;
        } else if !sort.is_dir() && ENDS.iter().any(|end| name.ends_with(end)) && files.len() < MOST {
            files.push(entry.path());
        }
    }
    Ok(())
}

/// A dish, or why not: in a line, and with the lines that are wrong.
fn dish(file: &Path, shown: &str, io: &mut Io<'_>) -> Result<Dish, (String, String)> {
    let text = io.read(file, read::LONGEST).map_err(|error| {
        let why = plain::lines(&format!("{shown}: {}", error.why));
        (why.clone(), format!("error: cannot read {why}\n"))
    })?;
    read::dish(&text, shown).map_err(|faults| {
        let first = faults.iter().next().map_or_else(|| shown.to_owned(), ToString::to_string);
        (first, excerpt::faults(&faults, &[(shown.to_owned(), text)], io.terminal))
    })
}

fn found(dish: &Dish, file: String) -> Found {
    let contents = Contents::of(dish);
    let mut kinds: Vec<String> = Vec::new();
    for step in &dish.steps {
        let kind = step.kind.word().to_owned();
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    let mut allergens: Vec<String> = contents.allergens.keys().map(ToString::to_string).collect();
    allergens.extend(
        dish.allergens.iter().filter(|own| !contents.allergens.keys().any(|known| known.to_string() == **own)).cloned(),
    );
    Found {
        file,
        name: dish.name.clone(),
        portions: dish.portions.unwrap_or(0),
        kinds,
        contains: contents.foods.keys().map(ToString::to_string).collect(),
        allergens,
        buys: dish.buys.iter().map(|buy| buy.what.clone()).collect(),
    }
}

/// Whether a dish has every one of some words.
fn has(dish: &Found, words: &[String]) -> bool {
    let all = [&dish.contains, &dish.allergens, &dish.buys].into_iter().flatten().map(String::as_str);
    let text: String = all.chain([dish.name.as_str(), &dish.file]).collect::<Vec<_>>().join("\n").to_lowercase();
    words.iter().all(|word| text.contains(&word.to_lowercase()))
}
