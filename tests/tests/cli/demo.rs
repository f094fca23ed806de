//! The demo as it is handed out, planned once for all that look at it.

use std::path::PathBuf;
use std::sync::OnceLock;

use rangewright_cli::{Exit, Terminal};
use rangewright_tests::command::{World, rangewright};
use tempfile::TempDir;

/// A folder with the plan, and the plan.
static PLAN: OnceLock<(TempDir, PathBuf)> = OnceLock::new();

pub(crate) fn printed(args: &[&str]) -> String {
    let world = World { terminal: Terminal { unicode: true, ..Terminal::default() }, ..World::default() };
    let answer = rangewright(args, &world);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    answer.out
}

/// What is made of its plan.
pub(crate) fn demo(more: &[&str]) -> String {
    let (_, plan) = PLAN.get_or_init(|| {
        let folder = tempfile::tempdir().expect("a folder");
        let plan = folder.path().join("plan.json");
        std::fs::write(&plan, printed(&["plan", "--work", "20000", "--format", "json"])).expect("written");
        (folder, plan)
    });
    let plan = plan.to_string_lossy();
    printed(&[&["plan", "--start", &plan, "--work", "0", "--width", "160"][..], more].concat())
}
