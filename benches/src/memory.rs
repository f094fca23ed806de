//! The most memory this process has held, as Linux counts it.
//!
//! The peak of the resident set is reset before each instance and read after it. What the allocator keeps from earlier
//! instances still counts, so a later figure may be too high, never too low. Elsewhere than on Linux there is none.

use std::fs;

/// Forgets the peak so far. False if the system does not let us.
pub fn reset_peak() -> bool {
    fs::write("/proc/self/clear_refs", "5").is_ok()
}

/// The peak since the last [`reset_peak`], in megabytes of 2^20 bytes.
pub fn peak_mb() -> Option<f64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kilobytes: u32 = line.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(f64::from(kilobytes) / 1024.0)
}
