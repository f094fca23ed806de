//! Packing by trying every whole millimetre: for small numbers only.

/// Whether pans (width, depth, height) fit into a box on at most `racks` racks, the tallest of each used rack plus
/// `clearance` adding up to no more than the height. Each pan is tried on every rack, at every whole position, both ways
/// round. Whole positions are enough when all sizes are whole numbers: anything can be pushed left and to the front.
pub fn fits([width, depth, height]: [i64; 3], racks: i64, clearance: i64, pans: &[[i64; 3]]) -> bool {
    let mut put: Vec<(i64, [i64; 4], i64)> = Vec::new();
    place([width, depth, height], racks, clearance, pans, &mut put)
}

/// `put` holds the rack, the left, front, right and far side, and the height of each pan so far.
fn place(room: [i64; 3], racks: i64, clearance: i64, pans: &[[i64; 3]], put: &mut Vec<(i64, [i64; 4], i64)>) -> bool {
    let [width, depth, height] = room;
    let tallest = |rack: i64| put.iter().filter(|p| p.0 == rack).map(|p| p.2 + clearance).max().unwrap_or(0);
    if (0..racks).map(tallest).sum::<i64>() > height {
        return false;
    }
    let Some((&[w, d, h], rest)) = pans.split_first() else { return true };
    let used = put.iter().map(|p| p.0 + 1).max().unwrap_or(0);
    // Racks are alike: a fresh one is the next one.
    for rack in 0..racks.min(used + 1) {
        for [w, d] in [[w, d], [d, w]] {
            for x in 0..=(width - w) {
                for y in 0..=(depth - d) {
                    let new = [x, y, x + w, y + d];
                    let apart =
                        |old: [i64; 4]| new[2] <= old[0] || old[2] <= new[0] || new[3] <= old[1] || old[3] <= new[1];
                    if put.iter().all(|&(other, old, _)| other != rack || apart(old)) {
                        put.push((rack, new, h));
                        let done = place(room, racks, clearance, rest, put);
                        put.pop();
                        if done {
                            return true;
                        }
                    }
                }
            }
        }
    }
    false
}
