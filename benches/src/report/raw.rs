//! What was measured, kept as CSV: a table of results and a table of moments for each family and each of the two.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::yard::{Moment, Row};

/// Whose results.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Rangewright's.
    Ours,
    /// CP-SAT's.
    Theirs,
}

impl Side {
    fn word(self) -> &'static str {
        match self {
            Side::Ours => "ours",
            Side::Theirs => "cpsat",
        }
    }
}

/// Under which circumstances a family was measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Circumstances {
    /// The day, in universal time.
    pub day: String,
    /// Wall seconds for each instance.
    pub seconds: f64,
    /// Threads of ours.
    pub threads: usize,
    /// Workers of CP-SAT; one, where the table has no such column.
    #[serde(default = "one")]
    pub workers: usize,
    /// The commit of this repository.
    pub commit: String,
    /// Version of OR-Tools; empty if it is not installed.
    pub ortools: String,
    /// Processor, number of cores, memory, system.
    pub machine: String,
}

fn one() -> usize {
    1
}

/// All that is known of one instance on one side.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The line.
    pub row: Row,
    /// Its improvements in the order of time.
    pub moments: Vec<Moment>,
}

/// A folder of measurements.
#[derive(Clone, Debug)]
pub struct Raw {
    dir: PathBuf,
}

impl Raw {
    /// Uses a folder, which is made if need be.
    ///
    /// # Errors
    /// It cannot be made.
    pub fn open(dir: &Path) -> Result<Self, io::Error> {
        fs::create_dir_all(dir)?;
        Ok(Raw { dir: dir.to_owned() })
    }

    /// The families measured so far, in order.
    ///
    /// # Errors
    /// The folder cannot be listed.
    pub fn families(&self) -> Result<Vec<String>, io::Error> {
        let mut families = Vec::new();
        for entry in fs::read_dir(&self.dir)? {
            let name = entry?.file_name();
            families.extend(name.to_str().and_then(|name| name.strip_suffix(".circumstances.csv")).map(str::to_owned));
        }
        families.sort();
        Ok(families)
    }

    /// A file or folder of a family.
    pub fn path(&self, family: &str, what: &str) -> PathBuf {
        self.dir.join(format!("{}.{what}", family.replace('/', "-")))
    }

    /// The table of results of a family.
    pub fn results(&self, family: &str, side: Side) -> PathBuf {
        self.path(family, &format!("{}.csv", side.word()))
    }

    /// The table of moments of a family.
    pub fn moments(&self, family: &str, side: Side) -> PathBuf {
        self.path(family, &format!("{}.trace.csv", side.word()))
    }

    /// The last line of the cross-check with HiGHS, if it was run.
    pub fn second_proof(&self) -> Option<String> {
        let text = fs::read_to_string(self.dir.join("highs.txt")).ok()?;
        text.lines().last().map(str::to_owned)
    }

    /// Notes how a family was measured: the last thing to be written.
    ///
    /// # Errors
    /// The file cannot be written.
    pub fn note(&self, family: &str, circumstances: &Circumstances) -> Result<(), io::Error> {
        let mut writer = csv::Writer::from_path(self.path(family, "circumstances.csv"))?;
        writer.serialize(circumstances)?;
        writer.flush()
    }

    /// How a family was measured.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn circumstances(&self, family: &str) -> Result<Circumstances, io::Error> {
        let mut reader = csv::Reader::from_path(self.path(family, "circumstances.csv"))?;
        let first = reader.deserialize().next();
        first.ok_or_else(|| io::Error::other("the table of circumstances is empty"))?.map_err(io::Error::from)
    }

    /// The results of a family by the names of its instances; empty where that side was not measured.
    ///
    /// # Errors
    /// A file is there and cannot be read.
    pub fn read(&self, family: &str, side: Side) -> Result<BTreeMap<String, Measured>, io::Error> {
        let mut all = BTreeMap::new();
        if !self.results(family, side).exists() {
            return Ok(all);
        }
        for row in csv::Reader::from_path(self.results(family, side))?.deserialize() {
            let row: Row = row?;
            all.insert(row.name.clone(), Measured { row, moments: Vec::new() });
        }
        for moment in csv::Reader::from_path(self.moments(family, side))?.deserialize() {
            let moment: Moment = moment?;
            if let Some(result) = all.get_mut(&moment.name) {
                result.moments.push(moment);
            }
        }
        Ok(all)
    }
}
