//! Why rectangles cannot fit, without any search.

use super::sheet::Sheet;

/// Whether some size of square shows that the rectangles do not fit, however they are turned.
///
/// A rectangle holds `floor(w/s) * floor(d/s)` squares of side `s` that do not overlap, and a sheet can take no more such
/// squares than the same formula says of itself. With `s` = 1 this compares areas.
pub(super) fn too_many(sheet: Sheet, rects: &[[i64; 2]]) -> bool {
    let squares = |[w, d]: [i64; 2], side: i64| i128::from(w / side) * i128::from(d / side);
    let clashes = |side: i64| {
        let needed: i128 = rects.iter().map(|&rect| squares(rect, side)).sum();
        needed > squares([sheet.width, sheet.depth], side)
    };
    // Just above a half, a third or a quarter of the sheet, one fewer square fits.
    let parts = (2..=5).flat_map(|part| [sheet.width / part + 1, sheet.depth / part + 1]);
    let mut sides: Vec<i64> = rects.iter().flatten().copied().chain(parts).chain([1]).collect();
    sides.sort_unstable();
    sides.dedup();
    sides.into_iter().any(clashes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seven_squares_do_not_fit_where_six_do() {
        let sheet = Sheet { width: 460, depth: 370 };
        assert!(!too_many(sheet, &[[150, 150]; 6]));
        assert!(too_many(sheet, &[[150, 150]; 7]));
    }
}
