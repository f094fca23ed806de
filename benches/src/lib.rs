//! Benchmarks of Rangewright: criterion benches and the `yardstick` runner over instance folders.
