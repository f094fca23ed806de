//! The instances below a folder.

use std::fmt;
use std::fs;
use std::path::{Path, PathBuf};

use rangewright::models::problem::Problem;
use serde::{Deserialize, Serialize};
use walkdir::WalkDir;

use crate::formats;

/// What kind of instance a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A problem in the project's own JSON form.
    Problem,
    /// `.jss`: a job shop.
    JobShop,
    /// `.fjs`: a flexible job shop.
    Flexible,
    /// `.sm`: a project with scarce resources.
    Rcpsp,
    /// `.sch`: the same with minimal and maximal time lags.
    RcpspMax,
}

impl Kind {
    fn of_ending(ending: &str) -> Option<Self> {
        match ending {
            "json" => Some(Kind::Problem),
            "jss" => Some(Kind::JobShop),
            "fjs" => Some(Kind::Flexible),
            "sm" => Some(Kind::Rcpsp),
            "sch" => Some(Kind::RcpspMax),
            _ => None,
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Kind::Problem => "problem",
            Kind::JobShop => "job-shop",
            Kind::Flexible => "flexible",
            Kind::Rcpsp => "rcpsp",
            Kind::RcpspMax => "rcpsp-max",
        })
    }
}

/// A file that may hold an instance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// The path below the folder without its ending, with `/` between its parts.
    pub name: String,
    /// What its ending says it is.
    pub kind: Kind,
    /// Where it is.
    pub path: PathBuf,
}

/// What a file turned out to hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// A problem, with or without faults.
    Problem(Box<Problem>),
    /// It claims to be an instance and cannot be read as one; why.
    Unreadable(String),
    /// It is something else; what speaks against it.
    Foreign(String),
}

/// All candidates below a folder in the order of their names. Endings count in any case; `*.plan.json` are plans.
///
/// # Errors
/// The folder, or something in it, cannot be listed.
pub fn find(dir: &Path) -> Result<Vec<Candidate>, walkdir::Error> {
    let mut found = Vec::new();
    for entry in WalkDir::new(dir).follow_links(true) {
        match entry {
            Ok(entry) if entry.file_type().is_file() => found.extend(candidate(dir, entry.path())),
            Ok(_) => {}
            // A link to nowhere: reading it will say so.
            Err(error) => match error.path().and_then(|path| candidate(dir, path)) {
                Some(broken) if error.depth() > 0 => found.push(broken),
                _ => return Err(error),
            },
        }
    }
    found.sort_by(|a, b| (&a.name, &a.path).cmp(&(&b.name, &b.path)));
    Ok(found)
}

fn candidate(dir: &Path, path: &Path) -> Option<Candidate> {
    let kind = Kind::of_ending(&path.extension()?.to_str()?.to_ascii_lowercase())?;
    let bare = path.strip_prefix(dir).unwrap_or(path).with_extension("");
    if kind == Kind::Problem && bare.extension().is_some_and(|inner| inner.eq_ignore_ascii_case("plan")) {
        return None;
    }
    let parts: Vec<_> = bare.components().map(|part| part.as_os_str().to_string_lossy()).collect();
    Some(Candidate { name: parts.join("/"), kind, path: path.to_owned() })
}

impl Candidate {
    /// Reads the file.
    pub fn read(&self) -> Content {
        let text = match fs::read(&self.path) {
            Ok(bytes) => String::from_utf8_lossy(&bytes).into_owned(),
            Err(error) => return Content::Unreadable(error.to_string()),
        };
        let read = match self.kind {
            Kind::Problem => return read_json(&text),
            Kind::JobShop => formats::read_job_shop(&self.name, &text),
            Kind::Flexible => formats::read_flexible_job_shop(&self.name, &text),
            Kind::Rcpsp => formats::read_psplib(&self.name, &text),
            Kind::RcpspMax => formats::read_progen(&self.name, &text),
        };
        match read {
            Ok(problem) => Content::Problem(Box::new(problem)),
            Err(error) => Content::Unreadable(error.to_string()),
        }
    }
}

fn read_json(text: &str) -> Content {
    let error = match serde_json::from_str(text) {
        Ok(problem) => return Content::Problem(problem),
        Err(error) => error.to_string(),
    };
    // What has an opening time and courses means to be an instance: it must not go missing without a word.
    let claims = serde_json::from_str::<serde_json::Value>(text)
        .is_ok_and(|value| value.get("opening").is_some() && value.get("courses").is_some());
    if claims { Content::Unreadable(error) } else { Content::Foreign(error) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_paths_without_their_ending() {
        let dir = Path::new("data");
        let found = candidate(dir, Path::new("data/set.a/PSP1.SCH")).expect("an ending in capitals");
        assert_eq!((found.name.as_str(), found.kind), ("set.a/PSP1", Kind::RcpspMax));
        assert_eq!(candidate(dir, Path::new("data/x.plan.json")), None);
        assert_eq!(candidate(dir, Path::new("data/x.PLAN.JSON")), None);
        assert_eq!(candidate(dir, Path::new("data/optimum.csv")), None);
        assert_eq!(candidate(dir, Path::new("data/plan.json")).map(|c| c.kind), Some(Kind::Problem));
    }

    #[test]
    fn json_that_is_no_instance_is_foreign() {
        assert!(matches!(read_json("[1, 2]"), Content::Foreign(_)));
        assert!(matches!(read_json("not json"), Content::Foreign(_)));
        assert!(matches!(read_json(r#"{"steps": {}, "served": {}}"#), Content::Foreign(_)));
        assert!(matches!(read_json(r#"{"opening": 1.5, "courses": []}"#), Content::Unreadable(_)));
    }
}
