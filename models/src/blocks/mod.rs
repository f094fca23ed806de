//! The defaults of each kind of step: where it is done, whose hands it needs, how the food bears waiting.
