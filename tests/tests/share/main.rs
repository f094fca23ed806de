//! Can dishes share an oven, and the other questions.

mod ask;
mod pairs;
