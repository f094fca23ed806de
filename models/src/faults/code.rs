//! The codes of faults, in one table.

use std::fmt;

use serde::{Serialize, Serializer};

macro_rules! codes {
    ($($name:ident $id:literal $meaning:literal;)*) => {
        /// What sort of fault.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum Code {
            $(#[doc = $meaning] $name,)*
        }

        impl Code {
            /// Every code, in order.
            pub const ALL: &[Code] = &[$(Code::$name,)*];

            /// The code as it is printed, for example `RW101`.
            pub fn id(self) -> &'static str {
                match self { $(Code::$name => $id,)* }
            }

            /// What it means, in a sentence.
            pub fn meaning(self) -> &'static str {
                match self { $(Code::$name => $meaning,)* }
            }
        }
    };
}

codes! {
    Syntax "RW101" "The text cannot be read: a bracket, comma or quotation mark is missing or out of place.";
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.id())
    }
}
