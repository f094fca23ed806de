//! Files into a folder: all of them or none.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, NamedTempFile, TempDir};

/// Writes files into a folder, which is made if it is missing.
///
/// They are written under other names first and put in place together; whatever goes wrong, what was there before is
/// there again and nothing else is left behind.
///
/// # Errors
/// What went wrong, in words, with the path.
pub(crate) fn deliver(folder: &Path, files: &[(&str, String)], overwrite: bool) -> Result<Vec<PathBuf>, String> {
    let made = made(folder).map_err(|error| format!("the folder {} cannot be made: {error}", folder.display()))?;
    let result = into(folder, files, overwrite);
    if result.is_err() {
        // Only what was made here, and only while it is empty.
        for folder in made {
            let _ = fs::remove_dir(folder);
        }
    }
    result
}

/// Makes a folder and those it lies in; gives those that were missing, the innermost first.
fn made(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let missing: Vec<PathBuf> =
        folder.ancestors().take_while(|own| !own.as_os_str().is_empty() && !own.exists()).map(Path::to_owned).collect();
    fs::create_dir_all(folder)?;
    Ok(missing)
}

fn into(folder: &Path, files: &[(&str, String)], overwrite: bool) -> Result<Vec<PathBuf>, String> {
    let targets: Vec<PathBuf> = files.iter().map(|(name, _)| folder.join(name)).collect();
    if let Some(there) =
        targets.iter().find(|target| target.symlink_metadata().is_ok() && (!overwrite || target.is_dir()))
    {
        return Err(format!("{} is there already; --overwrite replaces files", there.display()));
    }
    let fault = |path: &Path, error: &dyn std::fmt::Display| format!("{} cannot be written: {error}", path.display());
    let mut waiting = Vec::new();
    for (target, (_, text)) in targets.iter().zip(files) {
        waiting.push(write(folder, text).map_err(|error| fault(target, &error))?);
    }
    let aside = Builder::new().prefix(".rangewright-").tempdir_in(folder).map_err(|error| fault(folder, &error))?;
    let mut placed = Placed { aside: &aside, done: Vec::new(), kept: false };
    for (target, file) in targets.iter().zip(waiting) {
        placed.put(file, target).map_err(|error| fault(target, &error))?;
    }
    placed.kept = true;
    drop(placed);
    Ok(targets)
}

fn write(folder: &Path, text: &str) -> io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(".rangewright-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // As other programs make their files: the user's mask takes away from it.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    Ok(file)
}

/// Files that are in place already. Dropped before all are, it takes them away again and puts back what was there.
struct Placed<'a> {
    aside: &'a TempDir,
    done: Vec<(PathBuf, Option<PathBuf>)>,
    kept: bool,
}

impl Placed<'_> {
    fn put(&mut self, file: NamedTempFile, target: &Path) -> io::Result<()> {
        let mut before = None;
        if target.symlink_metadata().is_ok() {
            let old = self.aside.path().join(self.done.len().to_string());
            fs::rename(target, &old)?;
            before = Some(old);
        }
        self.done.push((target.to_owned(), before));
        file.persist_noclobber(target).map_err(|error| error.error)?;
        Ok(())
    }
}

impl Drop for Placed<'_> {
    fn drop(&mut self) {
        if self.kept {
            return;
        }
        for (target, before) in self.done.iter().rev() {
            let _ = match before {
                Some(old) => fs::rename(old, target),
                None => fs::remove_file(target),
            };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("a folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn all_or_nothing() {
        let home = tempfile::tempdir().expect("a folder");
        let folder = home.path().join("a/b");
        let files = [("one.txt", "1".to_owned()), ("two.txt", "2".to_owned())];
        assert_eq!(deliver(&folder, &files, false).expect("written").len(), 2);
        assert_eq!(names(&folder), ["one.txt", "two.txt"]);
        let newer = [("one.txt", "new".to_owned()), ("three.txt", "3".to_owned())];
        assert!(deliver(&folder, &newer, false).expect_err("refused").contains("--overwrite"));
        assert_eq!(names(&folder), ["one.txt", "two.txt"]);
        deliver(&folder, &newer, true).expect("overwritten");
        assert_eq!(names(&folder), ["one.txt", "three.txt", "two.txt"]);
        assert_eq!(fs::read_to_string(folder.join("one.txt")).expect("a file"), "new");
    }

    #[test]
    fn a_failure_leaves_what_was_there() {
        let home = tempfile::tempdir().expect("a folder");
        fs::write(home.path().join("one.txt"), "old").expect("a file");
        // The second file cannot be put in place: its folder is not there.
        let files = [("one.txt", "new".to_owned()), ("missing/two.txt", "2".to_owned())];
        deliver(home.path(), &files, true).expect_err("no such folder");
        assert_eq!(names(home.path()), ["one.txt"]);
        assert_eq!(fs::read_to_string(home.path().join("one.txt")).expect("a file"), "old");
        let folder = home.path().join("new");
        deliver(&folder, &files[1..], false).expect_err("no such folder");
        assert!(!folder.exists());
        // A folder in the way of a file stays.
        fs::create_dir(home.path().join("two.txt")).expect("a folder");
        deliver(home.path(), &[("two.txt", String::new())], true).expect_err("a folder is in the way");
        assert_eq!(names(home.path()), ["one.txt", "two.txt"]);
    }
}
