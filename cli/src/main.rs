//! The `rangewright` command.

use std::env;
use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::ExitCode;
use std::time::{Instant, SystemTime};

use rangewright_cli::{Io, Terminal, run};

fn main() -> ExitCode {
    let began = Instant::now();
    let clock = move || began.elapsed();
    let mut io = Io {
        stdin: &mut stdin().lock(),
        stdout: &mut stdout().lock(),
        stderr: &mut stderr().lock(),
        folder: env::current_dir().unwrap_or_default(),
        clock: &clock,
        now: SystemTime::now(),
        terminal: Terminal {
            watched: stderr().is_terminal(),
            ..Terminal::from_environment(stdout().is_terminal(), |name| env::var_os(name))
        },
    };
    run(env::args_os(), &mut io).into()
}
