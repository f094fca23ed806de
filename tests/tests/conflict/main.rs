//! Why a menu cannot be done, and what would help.

mod reasons;
