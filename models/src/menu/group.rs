//! Groups that cook the same menu side by side: a class, a competition.

use super::Named;
use crate::faults::Origin;
use crate::kitchen::Stretch;

/// One of several groups, each of which makes every dish of its own, in places of its own and in those that all share.
#[derive(Clone, Debug)]
pub struct Group {
    /// What it is called.
    pub name: String,
    /// When it works, if its people are not named; absent: as the only cook of a kitchen would.
    pub shifts: Vec<Stretch>,
    /// How many pairs of hands it has, if its people are not named; one has the name of the group, several are numbered.
    pub hands: i64,
    /// Its people, by the names of cooks; empty: nobody is named.
    pub cooks: Vec<Named>,
    /// The places that are its own. Nobody else uses them.
    pub places: Vec<Own>,
    /// The pans that are its own.
    pub pans: Vec<Own>,
    /// Where it was written.
    pub origin: Origin,
}

/// Something that is a group's own.
#[derive(Clone, Debug)]
pub struct Own {
    /// What the steps call it; absent: they name none.
    pub called: Option<String>,
    /// Which one it is, by its name in the kitchen.
    pub is: Named,
}

impl Group {
    /// A group of one pair of hands that shares everything with the others.
    pub fn new(name: &str) -> Group {
        Group {
            name: name.to_owned(),
            shifts: Vec::new(),
            hands: 1,
            cooks: Vec::new(),
            places: Vec::new(),
            pans: Vec::new(),
            origin: Origin::default(),
        }
    }
}
