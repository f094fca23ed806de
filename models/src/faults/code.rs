//! The codes of faults, in one table.

use std::fmt;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

macro_rules! codes {
    ($($name:ident $id:literal $meaning:literal)*) => {
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
    Syntax          "RW101" "The text cannot be read: a bracket, comma or quotation mark is missing or out of place."
    Empty           "RW102" "The text is empty."
    TooLong         "RW103" "The text is longer than any menu."
    NoKitchen       "RW104" "The kitchen file that the menu names cannot be had."
    NoDish          "RW105" "The file of a dish that the menu names cannot be had, or is none."
    Shape           "RW111" "Something of another kind stands here: a list for a name, a number for a text."
    UnknownField    "RW112" "There is no such field here."
    MissingField    "RW113" "A field is missing that has no default."
    SaidTwice       "RW114" "A field is said twice."
    UnknownWord     "RW115" "This word is none of those that fit here."
    NotAQuantity    "RW121" "This is not a number with a unit."
    NoUnit          "RW122" "A number has no unit."
    WrongUnit       "RW123" "The unit does not fit here."
    NotWhole        "RW124" "The number is not whole."
    Absurd          "RW125" "The number is negative, not a number, or beyond what any kitchen has."
    UpsideDown      "RW126" "A range is the wrong way round."
    NotAClock       "RW131" "This is not a clock time."
    SkippedTime     "RW132" "The clocks are put forward over this time."
    RepeatedTime    "RW133" "The clocks are put back and show this time twice."
    NotADate        "RW134" "This is not a date."
    UnknownZone     "RW135" "There is no such time zone."
    Contradiction   "RW141" "Two fields contradict each other."
    UnknownName     "RW201" "Nothing has this name."
    DuplicateName   "RW202" "Two things have the same name."
    Circle          "RW203" "Steps wait for each other in a circle."
    NothingIn       "RW204" "Something that must hold at least one thing holds none."
    NotServed       "RW205" "A dish, or a part of one, never comes to the table."
    ShiftsOverlap   "RW301" "Two shifts of one cook overlap."
    ServeOffShift   "RW302" "A course is served when nobody is in the kitchen."
    NoRoomInTime    "RW303" "A step must end before it can start, or lies before the kitchen opens."
    PanTooLarge     "RW311" "The pan does not fit any place the step may use."
    NoAppliance     "RW312" "No appliance can do the step."
    NeedsPan        "RW313" "The pan must be said."
    CannotStay      "RW314" "The pan cannot stay in the oven between two steps."
    NotEnough       "RW315" "A step needs more of something than there is."
    TooShort        "RW316" "A step is shorter than what must be done in it."
    Unroastable     "RW317" "The minutes of a roast or of a bake cannot be worked out from what is said of it."
    NoThawing       "RW318" "Something frozen has no time to thaw, or nobody is there to take it out."
    DoesNotScale    "RW319" "A dish cannot be made for so many by the rules of scaling, or not with this kitchen's pans."
    Refused         "RW390" "The menu makes sense, the plan it asks for does not. This should not happen; please report it."
    LargerThanLife  "RW401" "A doubt: an oven or a pan is larger than any in a kitchen."
    Backwards       "RW402" "A doubt: a course stands after another in the menu and is served before it."
    OddPortion      "RW403" "A doubt: a roast is too heavy or too light for its guests, or for what is bought."
    OddHeat         "RW404" "A doubt: the oven is too cool for what is in it."
    OutOfTime       "RW405" "A doubt: a dish cannot be ready in time even if nothing else is cooked."
    OddMinutes      "RW406" "A doubt: the minutes that are allowed for a roast lie outside of what the model says."
    OtherPortions   "RW407" "A doubt: a dish is written for more or fewer than eat of it, and made as it is written."
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

impl<'de> Deserialize<'de> for Code {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Code, D::Error> {
        let id = String::deserialize(deserializer)?;
        let known = Code::ALL.iter().find(|code| code.id() == id);
        known.copied().ok_or_else(|| D::Error::custom(format!("there is no fault {id:?}")))
    }
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.id())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table in the documentation is the table of the enum.
    #[test]
    fn the_documented_table_is_this_table() {
        let mut table = String::from("| code | meaning |\n|---|---|\n");
        for code in Code::ALL {
            table += &format!("| {} | {} |\n", code.id(), code.meaning());
        }
        if std::env::var_os("UPDATE_DOCS").is_some() {
            std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/src/faults/codes.md"), &table).unwrap();
        } else {
            assert_eq!(include_str!("codes.md"), table, "run this test with UPDATE_DOCS=1");
        }
    }

    #[test]
    fn codes_are_in_order_and_differ() {
        assert!(Code::ALL.windows(2).all(|pair| pair[0].id() < pair[1].id()));
    }
}
