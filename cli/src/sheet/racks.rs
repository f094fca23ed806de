//! Pans on the racks of a cavity, drawn.

use rangewright::ask::Crowd;
use rangewright::models::pack::Spot;
use rangewright::models::problem::Cavity;
use rangewright::models::units::Units;

use super::page::Page;
use crate::plain::TIED;

/// A pan in a drawing.
pub(super) struct Pan {
    pub(super) letter: char,
    /// Width, depth and height, mm.
    pub(super) size: [i64; 3],
    pub(super) spot: Spot,
}

/// Millimetres to a column and to a line: letters are about twice as high as wide.
const COLUMN: i64 = 20;
const LINE: i64 = 50;

/// Each rack in use, seen from above, the front at the bottom; beside each other as far as the page is wide.
pub(super) fn draw(page: &mut Page, cavity: &Cavity, pans: &[Pan], units: Units) {
    let mut racks: Vec<usize> = pans.iter().map(|pan| pan.spot.rack).collect();
    racks.sort_unstable();
    racks.dedup();
    let (columns, lines) = (cells(cavity.width, COLUMN), cells(cavity.depth, LINE));
    let side_by_side = (page.look().width / (columns + 5)).max(1);
    for group in racks.chunks(side_by_side) {
        let drawings: Vec<Vec<String>> =
            group.iter().map(|rack| one(cavity, pans, *rack, [columns, lines], units)).collect();
        for line in 0..lines + 3 {
            let parts: Vec<&str> = drawings.iter().map(|drawing| drawing[line].as_str()).collect();
            page.raw(&format!("  {}", parts.join("   ")));
        }
    }
}

fn one(cavity: &Cavity, pans: &[Pan], rack: usize, [columns, lines]: [usize; 2], units: Units) -> Vec<String> {
    let mut cells = vec![vec![' '; columns]; lines];
    let mut tallest = 0;
    for pan in pans.iter().filter(|pan| pan.spot.rack == rack) {
        let [width, depth] = if pan.spot.turned { [pan.size[1], pan.size[0]] } else { [pan.size[0], pan.size[1]] };
        tallest = tallest.max(pan.size[2]);
        let (left, right) = (pan.spot.x, pan.spot.x + width);
        let (near, far) = (pan.spot.y, pan.spot.y + depth);
        for (line, row) in cells.iter_mut().enumerate() {
            // The middle of the cell; lines count from the back.
            let y = cavity.depth - (line as i64 * cavity.depth + cavity.depth / 2) / lines as i64;
            for (column, cell) in row.iter_mut().enumerate() {
                let x = (column as i64 * cavity.width + cavity.width / 2) / columns as i64;
                if (left..right).contains(&x) && (near..far).contains(&y) {
                    *cell = pan.letter;
                }
            }
        }
    }
    let wall = format!("+{}+", "-".repeat(columns));
    let mut drawing = vec![wall.clone()];
    drawing.extend(cells.into_iter().map(|row| format!("|{}|", row.into_iter().collect::<String>())));
    drawing.push(wall);
    let needs = format!("{} high with air", length(tallest + cavity.clearance, units));
    drawing.push(format!("{needs:<width$}", width = columns + 2));
    drawing
}

/// Why they do not fit: on one rack, and each on its own.
pub(super) fn refuse(page: &mut Page, cavity: &Cavity, letters: &[char], crowd: &Crowd, units: Units) {
    let cm = |mm| length(mm, units);
    if let (Some(beside), [a, b], [first, second]) = (crowd.beside, &crowd.pans[..], letters) {
        // Along the side at which the least is missing.
        let along = [[a[0], b[0]], [a[0], b[1]], [a[1], b[0]], [a[1], b[1]]];
        let extents = [cavity.width, cavity.depth];
        let fits = along.iter().flat_map(|sides| extents.map(|extent| (sides, extent)));
        let found = fits.into_iter().find(|(sides, extent)| sides[0] + sides[1] - extent == beside);
        if let Some(([one, other], extent)) = found {
            let bar = |letter: &char, length: i64| letter.to_string().repeat(cells(length, COLUMN));
            let mut row = bar(first, *one) + &bar(second, *other);
            row.insert(cells(extent, COLUMN).min(row.len()), '|');
            page.raw(&format!("  on one rack  |{row}  {} too long for {}", cm(beside), cm(extent)));
        }
    }
    match crowd.above {
        None => page.raw(&format!("  and no rack for each: there {}", racks(cavity.racks))),
        Some(above) => {
            let verdict = if above > 0 {
                format!("{} too high for {}", cm(above), cm(cavity.height))
            } else {
                "the height would do, but not the rest".to_owned()
            };
            page.raw("  on a rack each, with air above:");
            let racks = letters.iter().zip(&crowd.pans);
            let heights = racks.map(|(letter, pan)| format!("  {letter}  {} + {}", cm(pan[2]), cm(cavity.clearance)));
            let mut heights: Vec<String> = heights.collect();
            if let Some(last) = heights.last_mut() {
                last.push_str(&format!("  {verdict}"));
            }
            heights.iter().for_each(|line| page.raw(line));
        }
    }
}

fn racks(count: i64) -> String {
    if count == 1 { "is one rack".to_owned() } else { format!("are {count} racks") }
}

fn cells(length: i64, cell: i64) -> usize {
    usize::try_from((length + cell / 2) / cell).unwrap_or(0).clamp(1, 100)
}

fn length(mm: i64, units: Units) -> String {
    units.length(mm).replace(' ', TIED)
}
