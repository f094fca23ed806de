//! How long a search may go on, and what it starts from.

use std::fmt;

use rangewright_models::plan::Plan;

use crate::error::Error;
use crate::outcome::Progress;

/// Limits of a search, and what a caller may hand in and listen to. The default has no limit at all.
///
/// Work comes first: the same problem and the same work limit give the same bytes on every machine. The library reads no
/// clock; a time limit is a [`stop`](Limits::stop) that looks at one.
///
/// ```
/// let limits = rangewright::Limits { work: Some(10_000), ..Default::default() };
/// assert_eq!(limits.threads, 1);
/// ```
#[derive(Clone, Copy)]
pub struct Limits<'a> {
    /// The most units of work; one unit is one node of a search (a decision, a pivot, an insertion). No limit if absent.
    pub work: Option<u64>,
    /// Stop as soon as lateness is proved best and waiting is proved to be within this many per mille of its bound.
    /// 0, the default, asks for a full proof of all three goals. Legal: 0 to 1000.
    pub gap_per_mille: u32,
    /// A plan to start from. It is checked first; an invalid one is an [`Error::Start`](crate::Error::Start).
    pub start: Option<&'a Plan>,
    /// Asked often (about every millisecond); the search stops once it says true.
    pub stop: Option<&'a (dyn Fn() -> bool + Sync)>,
    /// Told whenever a better plan or a better bound is known.
    pub progress: Option<&'a (dyn Fn(&Progress) + Sync)>,
    /// How many threads may search. 1, the default, repeats to the byte under a work limit. With 2 or more, two searches run
    /// side by side and tell each other what they find; which of two equally good plans comes out may then differ.
    pub threads: usize,
}

/// Whether to stop: the one question that every loop asks, whichever engine it is in.
///
/// An instance carries it, so that whoever can see what is searched can ask. Loops ask at least once in some milliseconds of
/// work; what they then hand back is unfinished and proves nothing.
#[derive(Clone, Copy, Default)]
pub(crate) struct Halt<'l>(Option<&'l (dyn Fn() -> bool + Sync)>);

impl Halt<'_> {
    /// Whether it has been said.
    pub(crate) fn said(self) -> bool {
        self.0.is_some_and(|stop| stop())
    }
}

impl<'l> Limits<'l> {
    /// The question that these limits answer.
    pub(crate) fn halt(&self) -> Halt<'l> {
        Halt(self.stop)
    }
}

impl Limits<'_> {
    /// Names the first limit that lies outside its legal range.
    pub(crate) fn verify(&self) -> Result<(), Error> {
        let fault = |field, problem: String| Err(Error::Limit { field, problem });
        if self.gap_per_mille > 1000 {
            return fault("gap_per_mille", format!("{} is not within 0 to 1000", self.gap_per_mille));
        }
        if self.threads == 0 {
            return fault("threads", "0 threads cannot search; ask for 1 or 2".to_owned());
        }
        Ok(())
    }
}

impl Default for Limits<'_> {
    fn default() -> Self {
        Limits { work: None, gap_per_mille: 0, start: None, stop: None, progress: None, threads: 1 }
    }
}

impl fmt::Debug for Limits<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Limits")
            .field("work", &self.work)
            .field("gap_per_mille", &self.gap_per_mille)
            .field("start", &self.start.is_some())
            .field("stop", &self.stop.is_some())
            .field("progress", &self.progress.is_some())
            .field("threads", &self.threads)
            .finish()
    }
}
