//! Against an unrelated simplex on random programs that grow, shrink and close columns as a master program does.

use good_lp::{Expression, Solution, SolverModel, constraint, microlp, variable, variables};
use proptest::prelude::*;

use super::{Simplex, Solved};

/// What happens to a program, one after the other.
#[derive(Clone, Debug)]
enum Event {
    Row(u8, Vec<u8>),
    Column(i8, Vec<u8>, u8),
    Close(usize, bool),
    Solve,
    Purge,
    Try(usize),
}

fn event() -> impl Strategy<Value = Event> {
    let bytes = || prop::collection::vec(0..255_u8, 24);
    prop_oneof![
        3 => (0..9_u8, bytes()).prop_map(|(bound, entries)| Event::Row(bound, entries)),
        6 => (-9..30_i8, bytes(), 0..3_u8).prop_map(|(cost, entries, group)| Event::Column(cost, entries, group)),
        1 => (0..60_usize, any::<bool>()).prop_map(|(column, closed)| Event::Close(column, closed)),
        3 => Just(Event::Solve),
        1 => Just(Event::Purge),
        1 => (0..60_usize).prop_map(Event::Try),
    ]
}

/// A mirror of the program in plain lists.
#[derive(Clone, Default)]
struct Mirror {
    costs: Vec<f64>,
    closed: Vec<bool>,
    rows: Vec<(f64, bool, Vec<f64>)>,
}

impl Mirror {
    fn optimum(&self) -> Option<f64> {
        let mut vars = variables!();
        let columns: Vec<_> =
            self.closed.iter().map(|&closed| vars.add(variable().min(0).max(if closed { 0 } else { 1000 }))).collect();
        let sum = |entries: &[f64]| -> Expression {
            columns.iter().zip(entries).map(|(&column, &entry)| entry * column).sum()
        };
        let mut model = vars.minimise(sum(&self.costs)).using(microlp);
        for (bound, equal, entries) in &self.rows {
            if entries.iter().all(|&entry| entry == 0.0) {
                continue;
            }
            model.add_constraint(match equal {
                true => constraint!(sum(entries) == *bound),
                false => constraint!(sum(entries) <= *bound),
            });
        }
        let solution = model.solve().ok()?;
        Some(self.costs.iter().zip(&columns).map(|(cost, &column)| cost * solution.value(column)).sum())
    }
}

fn entry(byte: u8) -> f64 {
    if byte < 60 { f64::from(byte % 3) + 1.0 } else { 0.0 }
}

fn nonzero(entries: &[f64]) -> Vec<(usize, f32)> {
    entries.iter().map(|&entry| entry as f32).enumerate().filter(|entry| entry.1 != 0.0).collect()
}

fn compare(simplex: &mut Simplex, mirror: &Mirror) -> Result<(), TestCaseError> {
    let status = simplex.solve(20_000);
    prop_assert_eq!(status, Solved::Optimal);
    let expected = mirror.optimum().expect("columns of the first rows make it solvable");
    prop_assert!((simplex.objective() - expected).abs() < 1e-5, "{} against {}", simplex.objective(), expected);
    // The prices prove the optimum.
    let mut proved: f64 = mirror.rows.iter().enumerate().map(|(row, line)| simplex.price(row) * line.0).sum();
    for (column, &cost) in mirror.costs.iter().enumerate() {
        let paid: f64 = mirror.rows.iter().enumerate().map(|(row, line)| simplex.price(row) * line.2[column]).sum();
        prop_assert!((simplex.reduced(column) - (cost - paid)).abs() < 1e-5);
        prop_assert!(mirror.closed[column] || cost - paid > -1e-5);
    }
    for (row, line) in mirror.rows.iter().enumerate() {
        prop_assert!(line.1 || simplex.price(row) < 1e-5);
        let used: f64 = line.2.iter().enumerate().map(|(column, entry)| entry * simplex.value(column)).sum();
        prop_assert!(used < line.0 + 1e-5 && (!line.1 || used > line.0 - 1e-5));
    }
    proved += 0.0;
    prop_assert!((proved - expected).abs() < 1e-5);
    Ok(())
}

fn play(events: &[Event]) -> Result<(), TestCaseError> {
    // Three groups of which one each must be taken, with a dear way out.
    let mut simplex = Simplex::new(3, 100.0);
    let mut mirror = Mirror { costs: vec![100.0; 3], closed: vec![false; 3], rows: Vec::new() };
    for group in 0..3 {
        mirror.rows.push((1.0, true, (0..3).map(|column| f64::from(u8::from(column == group))).collect()));
    }
    for event in events {
        match event {
            Event::Row(bound, entries) => {
                let entries: Vec<f64> = (0..mirror.costs.len())
                    .map(|column| if column < 3 { 0.0 } else { entry(entries[column % 24]) })
                    .collect();
                simplex.add_row(f64::from(*bound), false, &nonzero(&entries));
                mirror.rows.push((f64::from(*bound), false, entries));
            }
            Event::Column(cost, entries, group) => {
                let entries: Vec<f64> = (0..mirror.rows.len())
                    .map(|row| {
                        if row < 3 { f64::from(u8::from(row == usize::from(*group))) } else { entry(entries[row % 24]) }
                    })
                    .collect();
                simplex.add_column(f64::from(*cost), &nonzero(&entries));
                mirror.costs.push(f64::from(*cost));
                mirror.closed.push(false);
                for (row, entry) in mirror.rows.iter_mut().zip(entries) {
                    row.2.push(entry);
                }
            }
            Event::Close(column, closed) => {
                if *column >= 3 && *column < mirror.costs.len() {
                    simplex.close(*column, *closed);
                    mirror.closed[*column] = *closed;
                }
            }
            Event::Solve => compare(&mut simplex, &mirror)?,
            Event::Try(column) => {
                compare(&mut simplex, &mirror)?;
                let saved = simplex.save();
                if *column >= 3 && *column < mirror.costs.len() {
                    simplex.close(*column, true);
                    simplex.solve(5);
                    simplex.close(*column, mirror.closed[*column]);
                }
                simplex.load(&saved);
                compare(&mut simplex, &mirror)?;
            }
            Event::Purge => {
                compare(&mut simplex, &mirror)?;
                let rows: Vec<bool> = (0..mirror.rows.len()).map(|row| row < 3 || !simplex.is_slack(row)).collect();
                let columns: Vec<bool> = (0..mirror.costs.len())
                    .map(|column| column < 3 || simplex.is_basic(column) || column % 2 == 0)
                    .collect();
                simplex.purge(|column| columns[column], |row| rows[row]);
                let keep = |kept: &[bool], list: &mut dyn FnMut(usize)| {
                    (0..kept.len()).filter(|&index| kept[index]).for_each(list);
                };
                let mut next = Mirror::default();
                keep(&columns, &mut |column| {
                    next.costs.push(mirror.costs[column]);
                    next.closed.push(mirror.closed[column]);
                });
                keep(&rows, &mut |row| {
                    let line = &mirror.rows[row];
                    let entries = (0..columns.len()).filter(|&column| columns[column]).map(|column| line.2[column]);
                    next.rows.push((line.0, line.1, entries.collect()));
                });
                mirror = next;
                compare(&mut simplex, &mirror)?;
            }
        }
    }
    compare(&mut simplex, &mirror)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn agrees_with_another_simplex(events in prop::collection::vec(event(), 5..80)) {
        play(&events)?;
    }
}
