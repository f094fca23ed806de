//! Values known from elsewhere, as they lie beside the instances.
//!
//! `reference.csv` and `best_known.csv` stand beside a folder `instances`; an `optimum.csv` stands among its instances.

use std::collections::BTreeMap;
use std::io;
use std::path::Path;

use walkdir::WalkDir;

/// What is known of one instance.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reference {
    /// The family it belongs to.
    pub family: String,
    /// Lateness, waiting and hot minutes of a plan; those of the goals that are stated.
    pub values: Vec<i64>,
    /// How many goals, from the first on, are proved to be best at these values.
    pub proved: usize,
    /// It is proved that there is no plan.
    pub impossible: bool,
    /// Waiting of a better plan with the same lateness, found later.
    pub best_waiting: Option<i64>,
}

/// What is known, by the names of the instances.
#[derive(Clone, Debug, Default)]
pub struct References {
    known: BTreeMap<String, Reference>,
}

impl References {
    /// Gathers all that lies below a folder.
    ///
    /// # Errors
    /// The folder cannot be listed, or a table in it cannot be read.
    pub fn below(dir: &Path) -> Result<Self, io::Error> {
        let mut references = References::default();
        let mut better = Vec::new();
        for entry in WalkDir::new(dir).sort_by_file_name() {
            let entry = entry?;
            let folder = entry.path().parent().and_then(|path| path.strip_prefix(dir).ok()).unwrap_or(Path::new(""));
            let prefix = folder.components().map(|part| part.as_os_str().to_string_lossy() + "/").collect::<String>();
            match entry.file_name().to_str() {
                Some("reference.csv") => references.read_reference(entry.path(), &prefix)?,
                Some("best_known.csv") => better.push((entry.path().to_owned(), prefix)),
                Some("optimum.csv") => references.read_optimum(entry.path(), &prefix)?,
                _ => {}
            }
        }
        for (path, prefix) in better {
            references.read_best_known(&path, &prefix)?;
        }
        Ok(references)
    }

    /// What is known of an instance.
    pub fn of(&self, name: &str) -> Option<&Reference> {
        self.known.get(name)
    }

    /// The family of an instance: what the reference says, or else its folder.
    pub fn family(&self, name: &str) -> String {
        let folder = || name.rsplit_once('/').map_or("instances", |(folder, _)| folder).to_owned();
        self.of(name).map_or_else(folder, |reference| reference.family.clone())
    }

    fn read_reference(&mut self, path: &Path, prefix: &str) -> Result<(), io::Error> {
        for record in rows(path)? {
            let field = |name: &str| record.get(name).map(String::as_str).unwrap_or_default();
            let goals = ["lateness", "waiting", "hot"];
            let values: Vec<i64> = goals.iter().map_while(|goal| field(goal).parse().ok()).collect();
            let proved = goals.iter().take_while(|goal| field(&format!("{goal}_status")) == "OPTIMAL").count();
            let reference = Reference {
                family: field("family").to_owned(),
                proved: proved.min(values.len()),
                values,
                impossible: field("verdict") == "infeasible",
                best_waiting: None,
            };
            self.known.insert(format!("{prefix}instances/{}", field("name")), reference);
        }
        Ok(())
    }

    fn read_best_known(&mut self, path: &Path, prefix: &str) -> Result<(), io::Error> {
        for record in rows(path)? {
            let name = record.get("name").map(String::as_str).unwrap_or_default();
            if let Some(reference) = self.known.get_mut(&format!("{prefix}instances/{name}")) {
                reference.best_waiting = record.get("waiting_best_known").and_then(|value| value.parse().ok());
            }
        }
        Ok(())
    }

    fn read_optimum(&mut self, path: &Path, prefix: &str) -> Result<(), io::Error> {
        let family = prefix.trim_end_matches('/').rsplit('/').next().unwrap_or_default();
        for record in rows(path)? {
            let field = |name: &str| record.get(name).map(String::as_str).unwrap_or_default();
            let stem = field("problem").rsplit_once('.').map_or(field("problem"), |(stem, _)| stem);
            let optimum = field("optimum");
            let (open, value) = match optimum.split_once("..") {
                Some((_, high)) => (true, high.parse().ok()),
                None => (false, optimum.parse().ok()),
            };
            let reference = Reference {
                family: family.to_owned(),
                // Nothing waits at a cost and nothing is kept hot in these.
                proved: if value.is_some() && !open { 3 } else { 0 },
                values: value.map_or(Vec::new(), |makespan| vec![makespan, 0, 0]),
                impossible: optimum == "unsat",
                best_waiting: None,
            };
            self.known.insert(format!("{prefix}{stem}"), reference);
        }
        Ok(())
    }
}

fn rows(path: &Path) -> Result<Vec<BTreeMap<String, String>>, io::Error> {
    let mut reader = csv::Reader::from_path(path)?;
    reader.deserialize().map(|row| row.map_err(io::Error::from)).collect()
}
