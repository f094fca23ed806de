//! What the README shows is what the command prints, and what its text names is there.
//!
//! A fenced block under `<!-- file: PATH -->` is that file; one under `<!-- plan MENU -->` (or another command) is made of
//! pieces of what `rangewright plan MENU` prints, in order, with a line `...` wherever something is left out. To bring it up to
//! date, run this test with `RANGEWRIGHT_UPDATE=1`: files and answers are then written into the blocks, answers in full if
//! their pieces are no longer so. The picture is the demo's chart, made by the command; it is brought up to date with them.

use std::fs;
use std::path::PathBuf;

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{World, rangewright};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn read(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// A marked block: what its mark says, and the lines of the text that it fills.
struct Block {
    mark: String,
    lines: std::ops::Range<usize>,
}

fn blocks(text: &str) -> Vec<Block> {
    let lines: Vec<&str> = text.lines().collect();
    let marked = |(index, line): (usize, &&str)| {
        let mark = line.strip_prefix("<!-- ")?.strip_suffix(" -->")?.to_owned();
        assert!(lines[index + 1].starts_with("```"), "no block under {mark:?}");
        let end = (index + 2..lines.len()).find(|&end| lines[end] == "```").expect("a block ends");
        Some(Block { mark, lines: index + 2..end })
    };
    lines.iter().enumerate().filter_map(marked).collect()
}

/// What a mark stands for.
fn original(mark: &str) -> String {
    if let Some(name) = mark.strip_prefix("file: ") {
        return read(name);
    }
    let args: Vec<&str> = mark.split(' ').chain(["--work", "100000"]).collect();
    let terminal = Terminal { width: Some(80), colour: false, unicode: true, watched: false };
    let answer = rangewright(&args, &World { folder: Some(&root()), terminal, ..World::default() });
    assert!(matches!(answer.exit, Exit::Planned | Exit::Impossible), "{mark}: {}", answer.err);
    answer.out
}

#[test]
fn the_readme_shows_what_the_command_prints() {
    let text = read("README.md");
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let blocks = blocks(&text);
    assert_eq!(blocks.len(), 4);
    for block in blocks.into_iter().rev() {
        let whole = original(&block.mark);
        let shown = lines[block.lines.clone()].join("\n") + "\n";
        let fresh = super::played::shown(&shown, whole);
        if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
            lines.splice(block.lines, fresh.lines().map(str::to_owned));
            continue;
        }
        assert_eq!(shown, fresh, "{}: this is no longer so", block.mark);
        assert!(shown.lines().count() > 4, "{}: next to nothing is shown", block.mark);
    }
    if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
        fs::write(root().join("README.md"), lines.join("\n") + "\n").expect("the README is written");
    }
}

#[test]
fn the_picture_is_the_chart_of_the_demo() {
    let picture = "cli/pictures/lantern.svg";
    let fresh = original("plan --format svg");
    if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
        fs::write(root().join(picture), fresh).expect("the picture is written");
        return;
    }
    assert!(read(picture) == fresh, "{picture} is no longer the demo's chart");
}

/// The example of the README, word for word.
fn library() -> Result<(), Box<dyn std::error::Error>> {
    // README: from here
    use rangewright::models::examples;
    use rangewright::{Limits, Outcome, Planner};

    let text = examples::ALL[1];
    let planner = Planner::read(text.menu, text.menu_name, |name| text.kitchen_text(name))?;
    if let Outcome::Planned(supper) = planner.plan(&Limits::default())? {
        for (id, step) in &supper.plan().steps {
            let clock = supper.labels().calendar.civil(step.start).time();
            println!("{clock} {}", supper.labels().steps[id].title);
        }
        println!("{} cautions; proved best: {}", supper.cautions().len(), supper.proof().is_best());
    }
    // README: to here
    Ok(())
}

#[test]
fn the_example_of_the_library_runs() {
    library().expect("it runs");
    let own = include_str!("blocks.rs");
    let body = own.split("// README: from here\n").nth(1).and_then(|rest| rest.split("    // README: to here").next());
    let example: Vec<&str> = body.expect("the example").lines().map(|line| line.trim_start_matches("    ")).collect();
    let text = read("README.md");
    let shown = text.split("```rust\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a block of Rust");
    let shown: Vec<&str> = shown.lines().map(|line| line.trim_start_matches("    ")).collect();
    assert_eq!(shown, example);
}

/// Targets of links to files, without anchors.
fn links(text: &str) -> Vec<String> {
    let targets = text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    let local = targets.filter(|target| !target.contains("://") && !target.starts_with('#'));
    local.map(|target| target.split('#').next().unwrap_or(target).to_owned()).collect()
}

#[test]
fn what_the_documents_link_to_is_there() {
    for document in ["README.md", "DEVELOPERS.md"] {
        let links = links(&read(document));
        assert!(links.len() > 3, "{document}: {links:?}");
        for link in links {
            assert!(root().join(&link).exists(), "{document}: {link}");
        }
    }
}

/// Paths named in backquotes in the map of modules exist.
#[test]
fn the_map_of_modules_names_modules_that_exist() {
    let text = read("DEVELOPERS.md");
    let named: Vec<&str> = text.split('`').skip(1).step_by(2).filter(|name| name.contains("/src/")).collect();
    assert!(named.len() > 15, "{named:?}");
    for name in named {
        assert!(root().join(name).exists(), "{name}");
    }
}
