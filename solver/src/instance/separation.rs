//! What may not stand beside what in a cavity or on a top.
//!
//! Two modes of a place are *separated* when they may not run together (their air or their room clashes); between the end of
//! one and the start of the other lie the minutes of a changeover if their windows do not meet. Larger minimal forbidden
//! sets come from room alone and are asked for with [`PlaceTable::fits`].

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use rangewright_models::pack::{Fit, Packer};
use rangewright_models::problem::{self, Heat, Place};

use super::lower::changeover;
use super::{Link, Time};
use crate::limits::Halt;

/// A mode that occupies a place.
#[derive(Clone, Debug)]
pub(crate) struct Occupant {
    pub(crate) step: usize,
    /// Index into the step's (legal) modes.
    pub(crate) mode: usize,
    pub(crate) diameter: i64,
    pub(crate) pan: [i64; 3],
    pub(crate) weight: i64,
    window: [i64; 2],
    heat: Heat,
    wet: bool,
    dry: bool,
}

/// The least minutes between two occupants that may not run together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Separation {
    /// From the end of the first to the start of the second.
    pub(crate) forth: Time,
    /// From the end of the second to the start of the first.
    pub(crate) back: Time,
}

impl Separation {
    /// The least minutes between the two in whichever order.
    pub(crate) fn shorter(&self) -> Time {
        self.forth.min(self.back)
    }
}

/// What one place holds, and what clashes there.
pub(crate) struct PlaceTable {
    pub(crate) place: Place,
    pub(crate) occupants: Vec<Occupant>,
    separations: Vec<Option<Separation>>,
    /// For each occupant the first one with the same pan: pans alike are one question, whoever they belong to.
    alike: Vec<usize>,
    known: RefCell<BTreeMap<Vec<usize>, bool>>,
    packer: RefCell<Packer>,
    doubt: Cell<bool>,
}

impl PlaceTable {
    pub(super) fn new(place: &Place) -> Self {
        PlaceTable {
            place: place.clone(),
            occupants: Vec::new(),
            separations: Vec::new(),
            alike: Vec::new(),
            known: RefCell::new(BTreeMap::new()),
            packer: RefCell::new(Packer::new()),
            doubt: Cell::new(false),
        }
    }

    /// Takes in a mode; `None` for a hob, which is a resource and not a room.
    pub(super) fn add(&mut self, step: usize, mode: usize, source: &problem::Mode) -> Option<usize> {
        if matches!(self.place, Place::Hob(_)) {
            return None;
        }
        let occupant = Occupant {
            step,
            mode,
            diameter: source.diameter.unwrap_or(0),
            pan: source.pan.unwrap_or([0; 3]),
            weight: source.weight.unwrap_or(0),
            window: source.t.unwrap_or([0; 2]),
            heat: source.heat.unwrap_or(Heat::Static),
            wet: source.wet,
            dry: source.dry,
        };
        let pan = |other: &Occupant| (other.pan, other.weight, other.diameter);
        let index = self.occupants.len();
        self.alike.push(self.occupants.iter().position(|other| pan(other) == pan(&occupant)).unwrap_or(index));
        self.occupants.push(occupant);
        Some(index)
    }

    /// Works out the table once all occupants are known.
    ///
    /// Who is told to stop looks no further: what is left counts as apart, and is in doubt.
    pub(super) fn close(&mut self, links: &[Link], halt: Halt<'_>) {
        let count = self.occupants.len();
        self.separations = vec![None; count * count];
        for first in 0..count {
            if halt.said() {
                self.separations[first * count..].fill(Some(Separation { forth: 0, back: 0 }));
                self.doubt.set(true);
                return;
            }
            for second in 0..count {
                if first != second && self.occupants[first].step != self.occupants[second].step {
                    self.separations[first * count + second] = self.work_out(first, second, links);
                }
            }
        }
    }

    fn work_out(&self, first: usize, second: usize, links: &[Link]) -> Option<Separation> {
        let (a, b) = (&self.occupants[first], &self.occupants[second]);
        if let Place::Cavity(cavity) = &self.place {
            if let (Some(mut forth), Some(mut back)) =
                (changeover(cavity, a.window, b.window), changeover(cavity, b.window, a.window))
            {
                let stays = |from: usize, to: usize| links.iter().any(|l| l.stay && l.from == from && l.to == to);
                if stays(a.step, b.step) {
                    forth = 0;
                }
                if stays(b.step, a.step) {
                    back = 0;
                }
                return Some(Separation { forth, back });
            }
            let clash = a.heat != b.heat || a.wet && b.dry || a.dry && b.wet;
            if clash {
                return Some(Separation { forth: 0, back: 0 });
            }
        }
        (!self.fits(&[first, second])).then_some(Separation { forth: 0, back: 0 })
    }

    /// What keeps two occupants of different steps apart; none if they may run together.
    pub(crate) fn separation(&self, first: usize, second: usize) -> Option<Separation> {
        self.separations[first * self.occupants.len() + second]
    }

    /// Whether two occupants have the same pan.
    pub(crate) fn alike(&self, first: usize, second: usize) -> bool {
        self.alike[first] == self.alike[second]
    }

    /// Whether there is room for all these occupants (of different steps) in the same minute. Air is not looked at.
    ///
    /// What cannot be decided counts as not fitting, as it does for the checker; [`PlaceTable::is_in_doubt`] tells.
    pub(crate) fn fits(&self, occupants: &[usize]) -> bool {
        if occupants.len() < 2 {
            return true;
        }
        let mut key: Vec<usize> = occupants.iter().map(|&index| self.alike[index]).collect();
        key.sort_unstable();
        if let Some(&known) = self.known.borrow().get(&key) {
            return known;
        }
        let answer = self.pack(&key);
        self.known.borrow_mut().insert(key, answer);
        answer
    }

    fn pack(&self, occupants: &[usize]) -> bool {
        let pans = || occupants.iter().map(|&index| &self.occupants[index]);
        let mut packer = self.packer.borrow_mut();
        let fit = match &self.place {
            Place::Cavity(cavity) => {
                let sizes: Vec<[i64; 3]> = pans().map(|pan| pan.pan).collect();
                let weights: Vec<i64> = pans().map(|pan| pan.weight).collect();
                packer.fits_cavity(cavity, &sizes, &weights)
            }
            Place::Top(top) => packer.fits_top(top, &pans().map(|pan| pan.diameter).collect::<Vec<_>>()),
            Place::Hob(_) => return true,
        };
        self.doubt.set(self.doubt.get() || fit == Fit::Unknown);
        fit.is_yes()
    }

    /// Whether pans were taken not to fit because the packing gave up: what was concluded since need not hold.
    pub(crate) fn is_in_doubt(&self) -> bool {
        self.doubt.get()
    }
}
