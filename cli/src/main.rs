//! The `rangewright` command.

use std::collections::BTreeMap;
use std::env;
use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, OnceLock};
use std::time::{Instant, SystemTime};

use rangewright_cli::{Io, Terminal, run};

fn main() -> ExitCode {
    let began = Instant::now();
    let clock = move || began.elapsed();
    // Listened to only once a search asks: until then an interrupt ends the process as it always does.
    let asked_to_end = OnceLock::new();
    let interrupted = || asked_to_end.get_or_init(on_interrupt).load(Ordering::Relaxed);
    let mut io = Io {
        stdin: &mut stdin().lock(),
        stdout: &mut stdout().lock(),
        stderr: &mut stderr().lock(),
        folder: env::current_dir().unwrap_or_default(),
        held: BTreeMap::new(),
        disk: true,
        clock: &clock,
        interrupted: &interrupted,
        now: SystemTime::now(),
        terminal: Terminal {
            watched: stderr().is_terminal(),
            ..Terminal::from_environment(stdout().is_terminal(), |name| env::var_os(name))
        },
    };
    run(env::args_os(), &mut io).into()
}

/// Set by the first interrupt (Ctrl-C) or request to end, after which a search hands out the best plan it has. The second
/// ends the process at once, as it would without us: with 128 and the number of the signal.
fn on_interrupt() -> Arc<AtomicBool> {
    let flag = Arc::new(AtomicBool::new(false));
    #[cfg(not(target_family = "wasm"))]
    for signal in [signal_hook::consts::SIGINT, signal_hook::consts::SIGTERM] {
        // In this order: the first signal finds the flag unset. Where signals cannot be listened to, they do what they did.
        let _ = signal_hook::flag::register_conditional_shutdown(signal, 128 + signal, Arc::clone(&flag));
        let _ = signal_hook::flag::register(signal, Arc::clone(&flag));
    }
    flag
}
