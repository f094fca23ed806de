//! What the command tells whoever called it.

use std::process::ExitCode;

/// Exit codes of the command.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Exit {
    /// There is a plan; or what was asked for was done.
    Planned = 0,
    /// It is proved that there is no plan.
    Impossible = 1,
    /// A fault in a menu, a kitchen, a plan or the arguments.
    BadInput = 2,
    /// A limit was reached first.
    Undecided = 3,
    /// A defect of ours.
    Internal = 70,
    /// A file could not be read, or the answer not be written.
    Io = 74,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}
