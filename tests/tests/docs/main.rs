//! Documents whose examples are run.

mod blocks;
mod played;
mod rooms;
