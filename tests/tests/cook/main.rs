//! Cooking models and food safety, against published values.

mod cautions;
mod chill;
mod commands;
mod food;
mod forecast;
mod heat;
mod menu;
mod portions;
mod published;
mod roasting;
mod safety;
mod series;
mod table;
