//! The `rangewright` command.

fn main() {}
