//! Mixed-integer programs through good_lp and microlp: the only file that names them.
//!
//! microlp is trusted where it was found to be right: every variable has finite bounds and occurs somewhere, coefficients are
//! small, integer bounds fit 32 bits. Its limit is one on nodes, so that runs repeat. What it answers is only ever a
//! suggestion (checked in integers by the caller) or a bound (rounded down with a margin by [`Answer::bound`]).

use good_lp::{Expression, SolverModel, Variable, constraint, variable, variables};

/// A column: bounds, cost, and whether it takes whole values only.
#[derive(Clone, Copy, Debug)]
struct Column {
    lo: f64,
    hi: f64,
    cost: f64,
    integer: bool,
}

/// `sum of terms >= rhs`, or `= rhs`.
#[derive(Clone, Debug)]
struct Row {
    terms: Vec<(usize, f64)>,
    rhs: f64,
    equal: bool,
}

/// A program to be minimised.
#[derive(Clone, Debug, Default)]
pub(crate) struct Milp {
    columns: Vec<Column>,
    rows: Vec<Row>,
    /// A row without variables that cannot hold.
    broken: bool,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Answer {
    /// The best values found, the bound, and whether the search was complete.
    Found { values: Vec<f64>, bound: f64, complete: bool, nodes: u64 },
    /// There are no values (as far as floating point can tell).
    Infeasible,
    /// The node limit came first, or the solver failed.
    Unknown { bound: Option<f64> },
}

impl Answer {
    /// Nodes that were looked at, as far as it is known.
    pub(crate) fn nodes(&self) -> u64 {
        if let Answer::Found { nodes, .. } = self { *nodes } else { 1 }
    }

    /// A whole number that no whole-valued objective lies below.
    ///
    /// The solver's own tolerances (1e-7 and the like, times coefficients of a few thousand) are far below the margin of a
    /// hundredth plus one in ten thousand; so a bound of 17.0001 gives 17 and not 18, and one of 16.995 gives 17.
    pub(crate) fn bound(&self, constant: i64) -> Option<i64> {
        let bound = match self {
            Answer::Found { bound, .. } => Some(*bound),
            Answer::Infeasible => None,
            Answer::Unknown { bound } => *bound,
        };
        let bound = bound.filter(|bound| bound.is_finite() && bound.abs() < 1e12)?;
        Some((bound - 0.01 - bound.abs() * 1e-4).ceil() as i64 + constant)
    }
}

impl Milp {
    /// A variable over a finite range. It has to occur in some row.
    pub(crate) fn column(&mut self, lo: i64, hi: i64, cost: i64, integer: bool) -> usize {
        self.columns.push(Column { lo: lo as f64, hi: hi as f64, cost: cost as f64, integer });
        self.columns.len() - 1
    }

    /// Adds to the cost of a variable.
    pub(crate) fn charge(&mut self, column: usize, cost: i64) {
        self.columns[column].cost += cost as f64;
    }

    pub(crate) fn cost(&self, column: usize) -> i64 {
        self.columns[column].cost as i64
    }

    /// `sum of terms >= rhs`.
    pub(crate) fn at_least(&mut self, terms: &[(usize, i64)], rhs: i64) {
        self.row(terms, rhs, false);
    }

    /// `sum of terms <= rhs`.
    pub(crate) fn at_most(&mut self, terms: &[(usize, i64)], rhs: i64) {
        let turned: Vec<(usize, i64)> = terms.iter().map(|&(column, factor)| (column, -factor)).collect();
        self.row(&turned, -rhs, false);
    }

    /// `sum of terms = rhs`.
    pub(crate) fn equal(&mut self, terms: &[(usize, i64)], rhs: i64) {
        self.row(terms, rhs, true);
    }

    fn row(&mut self, terms: &[(usize, i64)], rhs: i64, equal: bool) {
        let mut sums: std::collections::BTreeMap<usize, i64> = std::collections::BTreeMap::new();
        for &(column, factor) in terms {
            *sums.entry(column).or_default() += factor;
        }
        let terms: Vec<(usize, f64)> =
            sums.into_iter().filter(|term| term.1 != 0).map(|(column, factor)| (column, factor as f64)).collect();
        if terms.is_empty() {
            self.broken |= rhs > 0 || equal && rhs != 0;
        } else {
            self.rows.push(Row { terms, rhs: rhs as f64, equal });
        }
    }

    /// No more than this, where the objective has whole costs: what is dearer is of no use.
    pub(crate) fn cut_off(&mut self, most: i64) {
        let terms: Vec<(usize, i64)> = (0..self.columns.len()).map(|column| (column, self.cost(column))).collect();
        self.at_most(&terms, most);
    }

    /// Minimises, with at most this many nodes.
    pub(crate) fn solve(&self, nodes: u64) -> Answer {
        if self.broken {
            return Answer::Infeasible;
        }
        let legal = |column: &Column| {
            let whole = f64::from(i32::MIN)..=f64::from(i32::MAX);
            column.lo <= column.hi && whole.contains(&column.lo) && whole.contains(&column.hi)
        };
        // An unused variable is a trap of microlp's: it gets a row that says nothing.
        let used = |index: usize| self.rows.iter().any(|row| row.terms.iter().any(|term| term.0 == index));
        if !self.columns.iter().all(legal) {
            return Answer::Unknown { bound: None };
        }
        let mut vars = variables!();
        let handles: Vec<Variable> = self
            .columns
            .iter()
            .map(|column| {
                let definition = variable().bounds(column.lo..=column.hi);
                vars.add(if column.integer { definition.integer() } else { definition })
            })
            .collect();
        let sum = |terms: &mut dyn Iterator<Item = (usize, f64)>| -> Expression {
            terms.map(|(column, factor)| factor * handles[column]).sum()
        };
        let costs = sum(&mut self.columns.iter().map(|column| column.cost).enumerate());
        let mut model = vars.minimise(costs).using(good_lp::microlp);
        for row in &self.rows {
            let terms = sum(&mut row.terms.iter().copied());
            let rhs = row.rhs;
            model.add_constraint(if row.equal { constraint!(terms == rhs) } else { constraint!(terms >= rhs) });
        }
        for (index, column) in self.columns.iter().enumerate().filter(|(index, _)| !used(*index)) {
            let (handle, lo) = (handles[index], column.lo);
            model.add_constraint(constraint!(handle >= lo));
        }
        let mut options = microlp::SolveOptions::default();
        options.node_limit = Some(nodes.max(1));
        match model.as_inner().solve_with(options) {
            Ok(outcome) => {
                let bound = outcome.stats().best_bound;
                let complete = outcome.is_optimal();
                let nodes = outcome.stats().nodes_solved;
                match outcome.into_solution() {
                    Ok(solution) => {
                        let bound = if complete { solution.objective() } else { bound.unwrap_or(f64::NEG_INFINITY) };
                        Answer::Found {
                            values: solution.iter().map(|(_, value)| value).collect(),
                            bound,
                            complete,
                            nodes,
                        }
                    }
                    Err(_) => Answer::Unknown { bound },
                }
            }
            Err(microlp::Error::Infeasible) => Answer::Infeasible,
            Err(_) => Answer::Unknown { bound: None },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_knapsack() {
        // Least cost of at least 11 units from packs of 7 at 5, of 5 at 4 and of 3 at 3: 5 + 3 + ... = 7 and 5 at 9.
        let mut milp = Milp::default();
        let packs: Vec<usize> = [5, 4, 3].iter().map(|&cost| milp.column(0, 3, cost, true)).collect();
        milp.at_least(&[(packs[0], 7), (packs[1], 5), (packs[2], 3)], 11);
        let answer = milp.solve(1000);
        assert_eq!(answer.bound(100), Some(109));
        assert!(matches!(answer, Answer::Found { complete: true, .. }));
    }

    #[test]
    fn contradictions_and_traps_are_told_apart() {
        let mut milp = Milp::default();
        let x = milp.column(0, 5, 1, false);
        milp.at_least(&[(x, 1)], 6);
        assert_eq!(milp.solve(10), Answer::Infeasible);
        let mut unused = Milp::default();
        unused.column(2, 3, 1, true);
        assert_eq!(unused.solve(10).bound(0), Some(2));
        let mut broken = Milp::default();
        broken.at_least(&[], 1);
        assert_eq!(broken.solve(10), Answer::Infeasible);
    }

    #[test]
    fn bounds_are_rounded_with_a_margin() {
        let bound = |bound: f64| Answer::Unknown { bound: Some(bound) }.bound(0);
        assert_eq!(bound(17.0001), Some(17));
        assert_eq!(bound(17.0), Some(17));
        assert_eq!(bound(16.995), Some(17));
        assert_eq!(bound(17.2), Some(18));
        assert_eq!(bound(f64::NEG_INFINITY), None);
    }
}
