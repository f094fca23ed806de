//! Reading, compiling and planning the demo.

fn main() {}
