//! What becomes of food in a step, and while it waits for the next.

use super::{BOIL, How, Night, Spell, Stretch};
use crate::labels::Warmth;
use crate::menu::{Keeps, Start};
use crate::problem::Minute;

/// What simmers gently, degrees C (our assumption).
const SIMMER: f64 = 85.0;

impl Night<'_> {
    /// Works out the course of a spell from those before it.
    pub(super) fn live(&mut self, index: usize) {
        let own = &self.spells[index];
        let arrives = own.before.iter().filter_map(|&before| self.spells[before].course.last());
        let arrives = arrives.copied().reduce(|one, other| Stretch {
            low_c: one.low_c.min(other.low_c),
            high_c: one.high_c.max(other.high_c),
            ..one
        });
        let [low, high] = arrives.map_or_else(|| self.raw(own), |stretch| [stretch.low_c, stretch.high_c]);
        let during = self.during(own, low, high);
        let leaves = self.leaves(own);
        let after = self.after(own, &during, leaves);
        let between = |stretch: &Stretch| if self.counts(own, stretch) { stretch.until - stretch.from } else { 0 };
        let stood_before = own.before.iter().map(|&before| {
            let earlier = &self.spells[before];
            // A step that begins before this one ends takes only what had stood by then.
            let waits: Minute = earlier
                .course
                .iter()
                .skip(1)
                .map(|wait| if self.counts(earlier, wait) { (own.start.min(wait.until) - wait.from).max(0) } else { 0 })
                .sum();
            earlier.by_end + waits
        });
        let arrived = stood_before.max().unwrap_or(0);
        let renewed = self.renews(own);
        let inside = if renewed { 0 } else { arrived + between(&during) };
        let waits = after.as_ref().map_or(0, between);
        let own = &mut self.spells[index];
        own.arrived = arrived;
        own.by_end = inside;
        own.stood = inside + waits;
        own.course = std::iter::once(during).chain(after).collect();
    }

    /// How food is before anything is done to it.
    fn raw(&self, spell: &Spell<'_>) -> [f64; 2] {
        let cold = self.rules.premises.fridge_c as f64;
        match spell.facts.piece.map(|piece| piece.start) {
            Some(Start::At(degrees)) => [degrees.celsius(); 2],
            Some(Start::Frozen) => [-18.0, cold],
            _ if spell.contents().foods.is_empty() => [self.rules.premises.room_c as f64; 2],
            _ => [cold; 2],
        }
    }

    /// Its food while the step goes on.
    fn during(&self, spell: &Spell<'_>, low: f64, high: f64) -> Stretch {
        let (room, cold) = (self.rules.premises.room_c as f64, self.rules.premises.fridge_c as f64);
        let stretch =
            |low_c: f64, high_c: f64, how| Stretch { from: spell.start, until: spell.end, low_c, high_c, how };
        match spell.facts.warmth {
            Warmth::Through => {
                let top = spell.hottest();
                let floor = if spell.mode.t.is_some() { low } else { low.min(SIMMER) };
                stretch(floor, high.max(top), How::Heated)
            }
            Warmth::Holds => {
                let [from, to] = spell.mode.t.unwrap_or([room as i64; 2]);
                stretch(from as f64, to as f64, How::Held)
            }
            Warmth::Outside => stretch(low, BOIL, How::Standing),
            Warmth::None if spell.is_cold() => {
                let how = if high > self.rules.hot_c() { How::Cooling } else { How::Chilled };
                stretch(low.min(cold), high.max(cold), how)
            }
            Warmth::None => stretch(low.min(room), high.max(room), How::Standing),
        }
    }

    /// The last minute until which food waits after a step: the next step that takes it, or the table.
    fn leaves(&self, spell: &Spell<'_>) -> Option<Minute> {
        let next = self.problem.links.iter().filter(|link| link.from == spell.step.id);
        let starts = next.filter_map(|link| self.spells.iter().find(|own| own.step.id == link.to)).map(|own| own.start);
        starts.chain(spell.served).max().filter(|&until| until > spell.end)
    }

    fn after(&self, spell: &Spell<'_>, during: &Stretch, until: Option<Minute>) -> Option<Stretch> {
        let until = until?;
        let (room, cold) = (self.rules.premises.room_c as f64, self.rules.premises.fridge_c as f64);
        let stretch = |low_c: f64, high_c: f64, how| Some(Stretch { from: spell.end, until, low_c, high_c, how });
        let kept_cold = spell.facts.keeps == Keeps::Cold || spell.is_cold();
        match (kept_cold, spell.facts.warmth) {
            (true, Warmth::Through | Warmth::Outside) => stretch(cold, during.high_c, How::Cooling),
            (true, _) => stretch(
                cold.min(during.low_c),
                cold.max(if spell.is_cold() { cold } else { during.low_c }),
                How::Chilled,
            ),
            (false, _) => stretch(room.min(during.low_c), during.high_c.max(room), How::Standing),
        }
    }

    /// Whether a new count begins: it is cooked through or heated through.
    fn renews(&self, spell: &Spell<'_>) -> bool {
        spell.facts.warmth == Warmth::Through && spell.hottest() >= self.rules.hot_c()
    }

    /// Whether these minutes count as spent between the limits.
    fn counts(&self, spell: &Spell<'_>, stretch: &Stretch) -> bool {
        let lukewarm = stretch.high_c > self.rules.cold_c() && stretch.low_c < self.rules.hot_c();
        let heated = stretch.how == How::Heated && self.renews(spell);
        let cooked = spell.facts.cooked || spell.facts.warmth == Warmth::Through;
        let cold = matches!(stretch.how, How::Chilled | How::Cooling);
        lukewarm && !heated && !cold && spell.perishable(cooked).is_some()
    }
}
