//! One instance on both sides: what each reached and when, what we lost, and what cannot be true.

use super::raw::Measured;
use super::reference::Reference;
use crate::yard::{Moment, Verdict};

/// An instance with what was measured of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a> {
    pub(super) name: &'a str,
    pub(super) reference: Option<&'a Reference>,
    pub(super) ours: &'a Measured,
    pub(super) theirs: Option<&'a Measured>,
}

/// Differences in time below this are noise.
const NOISE_SECONDS: f64 = 0.05;

impl Measured {
    /// The values of the plan.
    pub(super) fn values(&self) -> Option<[i64; 3]> {
        Some([self.row.lateness?, self.row.waiting?, self.row.hot?])
    }

    fn bounds(&self) -> [Option<i64>; 3] {
        [self.row.lateness_bound, self.row.waiting_bound, self.row.hot_bound]
    }

    /// Seconds until all was known.
    pub(super) fn proof(&self) -> Option<f64> {
        let proved = matches!(self.row.status, Verdict::Optimal | Verdict::Impossible);
        self.row.seconds.parse().ok().filter(|_| proved)
    }

    /// Seconds until the first plan.
    pub(super) fn first_plan(&self) -> Option<f64> {
        self.until(|moment| moment.lateness.is_some())
    }

    /// Seconds until a plan as good as this in lateness and waiting.
    pub(super) fn reaches(&self, [lateness, waiting]: [i64; 2]) -> Option<f64> {
        self.until(|moment| moment.lateness.zip(moment.waiting).is_some_and(|found| found <= (lateness, waiting)))
    }

    fn until(&self, enough: impl Fn(&Moment) -> bool) -> Option<f64> {
        self.moments.iter().find(|moment| enough(moment)).map(|moment| moment.seconds)
    }

    /// The gap of the first of lateness and waiting that is not yet proved; 1 while there is no plan.
    pub(super) fn gap_at(&self, seconds: f64) -> f64 {
        if self.row.status == Verdict::Impossible && self.proof().is_some_and(|proof| proof <= seconds) {
            return 0.0;
        }
        let Some(moment) = self.moments.iter().take_while(|moment| moment.seconds <= seconds).last() else {
            return 1.0;
        };
        let (Some(lateness), Some(waiting)) = (moment.lateness, moment.waiting) else { return 1.0 };
        let gap = |value: i64, bound: i64| if value > bound { (value - bound) as f64 / value as f64 } else { 0.0 };
        let late = gap(lateness, moment.lateness_bound);
        if late > 0.0 { late } else { gap(waiting, moment.waiting_bound) }
    }
}

impl Pair<'_> {
    /// Lateness and waiting of the reference, the better plans found later included.
    pub(super) fn target(&self) -> Option<[i64; 2]> {
        let reference = self.reference?;
        let [lateness, waiting] = *reference.values.first_chunk::<2>()?;
        Some([lateness, reference.best_waiting.map_or(waiting, |best| best.min(waiting))])
    }

    /// Statements that cannot all be true: one of the proofs or plans is wrong.
    pub(super) fn contradictions(&self) -> Vec<String> {
        let mut found = Vec::new();
        let reference_values = self.reference.map(|reference| reference.values.as_slice()).unwrap_or_default();
        contradiction("ours", self.ours, "the reference", reference_values, &mut found);
        if let Some(theirs) = self.theirs {
            let values = |side: &Measured| side.values().map(Vec::from).unwrap_or_default();
            contradiction("ours", self.ours, "CP-SAT", &values(theirs), &mut found);
            contradiction("CP-SAT", theirs, "ours", &values(self.ours), &mut found);
        }
        if let (Some(reference), Some(values)) = (self.reference, self.ours.values()) {
            if reference.impossible {
                found.push("ours has a plan, the reference a proof that there is none".to_owned());
            }
            if values[..reference.proved] < reference.values[..reference.proved] {
                found.push(format!("ours {values:?} beats the proved optimum {:?} of the reference", reference.values));
            }
        }
        found
    }

    /// In what others were better, with the worst first.
    pub(super) fn losses(&self) -> Vec<Loss> {
        let mut losses = Vec::new();
        let ours = self.ours.values();
        let mut against = |who: &'static str, values: &[i64]| match ours {
            None if !values.is_empty() => {
                losses.push(Loss { weight: f64::INFINITY, text: format!("no plan; {who} has {values:?}") });
            }
            Some(ours) if ours[..values.len()] > *values => {
                let excess = excess(&ours, values);
                let text = format!("plan {ours:?}; {who} has {values:?} ({:+.1} %)", 100.0 * excess);
                losses.push(Loss { weight: 1e6 * (1.0 + excess), text });
            }
            _ => {}
        };
        if let Some(reference) = self.reference {
            match reference.best_waiting {
                Some(best) => against("the best known plan", &[reference.values[0], best]),
                None => against("the reference", &reference.values),
            }
        }
        if let Some(values) = self.theirs.and_then(Measured::values) {
            against("CP-SAT", &values);
        }
        let proved_elsewhere = self.reference.is_some_and(|reference| reference.proved == 3 || reference.impossible);
        let theirs = self.theirs.and_then(Measured::proof);
        match (self.ours.proof(), theirs) {
            (None, Some(theirs)) => {
                losses.push(Loss { weight: 1e5, text: format!("not proved; CP-SAT proves it in {theirs:.2} s") });
            }
            (None, None) if proved_elsewhere => {
                losses.push(Loss { weight: 1e4, text: "not proved; the reference is".to_owned() });
            }
            (Some(ours), Some(theirs)) if ours > theirs + NOISE_SECONDS => {
                let text = format!("proved after {ours:.2} s; CP-SAT after {theirs:.2} s");
                losses.push(Loss { weight: ours / theirs, text });
            }
            _ => {}
        }
        losses
    }
}

/// Something in which we were worse.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Loss {
    /// Greater is worse.
    pub(super) weight: f64,
    pub(super) text: String,
}

/// By how much the first goal that differs is exceeded.
fn excess(ours: &[i64], theirs: &[i64]) -> f64 {
    let differing = ours.iter().zip(theirs).find(|(ours, theirs)| ours != theirs);
    differing.map_or(0.0, |(ours, theirs)| (ours - theirs) as f64 / (*theirs).max(1) as f64)
}

/// What a plan of someone else with these values proves wrong.
fn contradiction(who: &str, side: &Measured, other: &str, plan: &[i64], found: &mut Vec<String>) {
    if plan.is_empty() {
        return;
    }
    match (side.row.status, side.values()) {
        (Verdict::Impossible, _) => found.push(format!("{who} proves it impossible, {other} has a plan {plan:?}")),
        (Verdict::Optimal, Some(values)) if *plan < values[..plan.len()] => {
            found.push(format!("{who} proves {values:?} best, {other} has {plan:?}"));
        }
        (_, values) => {
            // A bound on a later goal holds at this side's values of the goals before it.
            for (goal, bound) in side.bounds().into_iter().enumerate().take(plan.len()) {
                let same_before = values.map_or(goal == 0, |values| values[..goal] == plan[..goal]);
                if same_before && bound.is_some_and(|bound| bound > plan[goal]) {
                    found.push(format!("{who} proves goal {} at least {bound:?}, {other} has {plan:?}", goal + 1));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instances::Kind;
    use crate::yard::Row;

    fn measured(status: Verdict, values: Option<[i64; 3]>, bounds: [i64; 3], seconds: f64) -> Measured {
        let row = Row {
            name: "x".to_owned(),
            kind: Kind::Problem,
            status,
            lateness: values.map(|values| values[0]),
            lateness_bound: Some(bounds[0]),
            waiting: values.map(|values| values[1]),
            waiting_bound: Some(bounds[1]),
            hot: values.map(|values| values[2]),
            hot_bound: Some(bounds[2]),
            seconds: seconds.to_string(),
            peak_mb: None,
            stopped_by: None,
        };
        let moment = |seconds, share: i64| Moment {
            name: "x".to_owned(),
            seconds,
            lateness: values.map(|values| values[0]),
            waiting: values.map(|values| values[1] * share),
            hot: Some(0),
            lateness_bound: bounds[0],
            waiting_bound: bounds[1] / share,
            hot_bound: 0,
        };
        Measured { row, moments: vec![moment(0.5, 2), moment(seconds, 1)] }
    }

    fn pair<'a>(reference: Option<&'a Reference>, ours: &'a Measured, theirs: &'a Measured) -> Pair<'a> {
        Pair { name: "x", reference, ours, theirs: Some(theirs) }
    }

    #[test]
    fn gaps_shrink_with_time() {
        let side = measured(Verdict::Feasible, Some([0, 100, 9]), [0, 80, 0], 4.0);
        assert_eq!(side.gap_at(0.1), 1.0);
        assert_eq!(side.gap_at(1.0), 0.8);
        assert_eq!(side.gap_at(5.0), 0.2);
        assert_eq!(side.first_plan(), Some(0.5));
        assert_eq!(side.reaches([0, 150]), Some(4.0));
        assert_eq!(side.reaches([0, 99]), None);
        assert_eq!(side.proof(), None);
    }

    #[test]
    fn a_better_plan_refutes_a_proof() {
        let ours = measured(Verdict::Optimal, Some([0, 100, 9]), [0, 100, 9], 1.0);
        let theirs = measured(Verdict::Feasible, Some([0, 99, 20]), [0, 50, 0], 1.0);
        assert_eq!(pair(None, &ours, &theirs).contradictions().len(), 1);
        let equal = measured(Verdict::Optimal, Some([0, 100, 9]), [0, 100, 9], 1.0);
        assert_eq!(pair(None, &ours, &equal).contradictions(), Vec::<String>::new());
        let bound = measured(Verdict::Feasible, Some([0, 120, 9]), [0, 101, 0], 1.0);
        assert_eq!(pair(None, &ours, &bound).contradictions().len(), 1, "their bound is above our plan");
        let none = measured(Verdict::Impossible, None, [0; 3], 1.0);
        assert_eq!(pair(None, &none, &theirs).contradictions().len(), 1);
    }

    #[test]
    fn a_reference_is_believed_only_where_it_is_proved() {
        let ours = measured(Verdict::Feasible, Some([0, 90, 9]), [0, 80, 0], 1.0);
        let mut reference = Reference { values: vec![0, 100, 5], proved: 1, ..Reference::default() };
        assert!(pair(Some(&reference), &ours, &ours).contradictions().is_empty());
        reference.proved = 2;
        assert_eq!(pair(Some(&reference), &ours, &ours).contradictions().len(), 1);
    }

    #[test]
    fn losses_are_found() {
        let ours = measured(Verdict::Feasible, Some([0, 110, 9]), [0, 80, 0], 20.0);
        let theirs = measured(Verdict::Optimal, Some([0, 100, 9]), [0, 100, 9], 2.0);
        let losses = pair(None, &ours, &theirs).losses();
        assert_eq!(losses.len(), 2, "{losses:?}");
        assert!(losses[0].text.contains("+10.0 %"), "{losses:?}");
        assert!(pair(None, &theirs, &ours).losses().is_empty());
    }
}
