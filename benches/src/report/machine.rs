//! The machine and the versions, for the head of the page.

use std::fs;
use std::process::Command;
use std::thread;

/// Processor, cores, memory and system; nothing that says whose machine it is.
pub(super) fn machine() -> String {
    let processor = field("/proc/cpuinfo", "model name").unwrap_or_else(|| "unknown processor".to_owned());
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let memory = field("/proc/meminfo", "MemTotal").and_then(|total| total.strip_suffix(" kB")?.parse::<u64>().ok());
    let memory = memory.map_or(String::new(), |kilobytes| format!(", {:.0} GB", kilobytes as f64 / 1e6));
    format!("{processor}, {cores} cores{memory}, {}", std::env::consts::OS)
}

fn field(path: &str, name: &str) -> Option<String> {
    let text = fs::read_to_string(path).ok()?;
    let line = text.lines().find(|line| line.starts_with(name))?;
    Some(line.split_once(':')?.1.trim().to_owned())
}

/// The first line a command prints; empty if it fails.
pub(super) fn first_line(program: &str, arguments: &[&str]) -> String {
    let output = Command::new(program).args(arguments).output();
    let text = output.ok().filter(|output| output.status.success()).map(|output| output.stdout).unwrap_or_default();
    String::from_utf8_lossy(&text).lines().next().unwrap_or_default().to_owned()
}

/// The commit of this repository, with a mark if it is not as committed.
pub(super) fn commit() -> String {
    let commit = first_line("git", &["describe", "--always", "--dirty", "--exclude=*"]);
    if commit.is_empty() { "unknown".to_owned() } else { commit }
}
