//! Documents whose examples are run.

mod blocks;
mod evening;
mod rooms;
