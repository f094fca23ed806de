//! The faces of Rangewright: commands, source excerpts and renderers. It decides nothing about a plan.
