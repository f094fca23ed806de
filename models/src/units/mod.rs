//! Quantities as a cook writes them.
