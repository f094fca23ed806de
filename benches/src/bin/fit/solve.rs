//! Linear equations with a positive definite matrix.

/// The solution of `a x = b`, by Cholesky's decomposition.
#[allow(clippy::needless_range_loop, reason = "the indices are those of the textbook")]
pub(crate) fn solve(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Vec<f64> {
    let n = b.len();
    for j in 0..n {
        for i in j..n {
            let done: f64 = (0..j).map(|k| a[i][k] * a[j][k]).sum();
            let rest = a[i][j] - done;
            a[i][j] = if i == j { rest.sqrt() } else { rest / a[j][j] };
        }
    }
    for i in 0..n {
        let done: f64 = (0..i).map(|k| a[i][k] * b[k]).sum();
        b[i] = (b[i] - done) / a[i][i];
    }
    for i in (0..n).rev() {
        let done: f64 = (i + 1..n).map(|k| a[k][i] * b[k]).sum();
        b[i] = (b[i] - done) / a[i][i];
    }
    b
}
