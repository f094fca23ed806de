use super::*;

/// Two dishes, each with a cheap and a dear timetable; the cheap ones clash.
#[test]
fn a_clash_costs_the_smaller_difference() {
    let mut simplex = Simplex::new(2, 1e6);
    let cheap_a = simplex.add_column(1.0, vec![(0, 1.0)]);
    let _dear_a = simplex.add_column(4.0, vec![(0, 1.0)]);
    let cheap_b = simplex.add_column(2.0, vec![(1, 1.0)]);
    let _dear_b = simplex.add_column(9.0, vec![(1, 1.0)]);
    assert_eq!(simplex.solve(100), Solved::Optimal);
    assert!((simplex.objective() - 3.0).abs() < 1e-9);
    let row = simplex.add_row(1.0, &[(cheap_a, 1.0), (cheap_b, 1.0)]);
    assert_eq!(simplex.solve(100), Solved::Optimal);
    assert!((simplex.objective() - 6.0).abs() < 1e-9);
    assert!((simplex.price(row) + 3.0).abs() < 1e-9);
    simplex.set_open(cheap_b, false);
    assert_eq!(simplex.solve(100), Solved::Optimal);
    assert!((simplex.objective() - 10.0).abs() < 1e-9);
    simplex.set_open(cheap_b, true);
    assert_eq!(simplex.solve(100), Solved::Optimal);
    assert!((simplex.objective() - 6.0).abs() < 1e-9);
}
