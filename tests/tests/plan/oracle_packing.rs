//! The packer against a packer that tries everything, and against published sizes.

use proptest::prelude::*;
use rangewright::models::pack::{Fit, Packer, Spot};
use rangewright::models::problem::{Cavity, Heat, Top};
use rangewright_tests::oracle::packing;

fn cavity(width: i64, depth: i64, height: i64, racks: i64, clearance: i64) -> Cavity {
    Cavity {
        id: "oven".to_owned(),
        width,
        depth,
        height,
        racks,
        clearance,
        max_weight: 20_000,
        t_min: 40,
        t_max: 250,
        t_open: 20,
        rise: 100,
        fall: 50,
        settle: 3,
        cool_off: 20,
        heats: vec![Heat::Fan],
        attended: false,
    }
}

/// Whether an arrangement is one, worked out anew.
fn stands(cavity: &Cavity, pans: &[[i64; 3]], spots: &[Spot]) -> bool {
    let sides = |i: usize| {
        let ([w, d, _], spot) = (pans[i], spots[i]);
        let [w, d] = if spot.turned { [d, w] } else { [w, d] };
        [spot.x, spot.y, spot.x + w, spot.y + d]
    };
    let inside =
        |[left, near, right, far]: [i64; 4]| left >= 0 && near >= 0 && right <= cavity.width && far <= cavity.depth;
    let apart = |a: [i64; 4], b: [i64; 4]| a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
    let racks = spots.iter().map(|spot| spot.rack + 1).max().unwrap_or(0);
    let tallest =
        |rack| (0..pans.len()).filter(|&i| spots[i].rack == rack).map(|i| pans[i][2] + cavity.clearance).max();
    spots.len() == pans.len()
        && racks <= cavity.racks as usize
        && (0..racks).map(|rack| tallest(rack).unwrap_or(0)).sum::<i64>() <= cavity.height
        && (0..pans.len())
            .all(|i| inside(sides(i)) && (0..i).all(|j| spots[i].rack != spots[j].rack || apart(sides(i), sides(j))))
}

fn agrees(cavity: &Cavity, pans: &[[i64; 3]]) -> Result<(), TestCaseError> {
    let room = [cavity.width, cavity.depth, cavity.height];
    let expected = packing::fits(room, cavity.racks, cavity.clearance, pans);
    match Packer::new().fits_cavity(cavity, pans, &[]) {
        Fit::Yes(spots) => {
            prop_assert!(stands(cavity, pans, &spots), "{spots:?}");
            prop_assert!(expected);
        }
        Fit::No => prop_assert!(!expected),
        Fit::Unknown => prop_assert!(false, "gave up"),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1_500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn one_rack_as_by_brute_force(
        width in 3..8_i64,
        depth in 3..8_i64,
        pans in prop::collection::vec((1..5_i64, 1..6_i64), 1..6),
    ) {
        let pans: Vec<[i64; 3]> = pans.into_iter().map(|(w, d)| [w, d, 1]).collect();
        agrees(&cavity(width, depth, 1, 1, 0), &pans)?;
    }

    #[test]
    fn several_racks_as_by_brute_force(
        (width, depth, height) in (3..6_i64, 3..6_i64, 3..10_i64),
        racks in 1..4_i64,
        clearance in 0..2_i64,
        pans in prop::collection::vec((1..4_i64, 1..5_i64, 1..5_i64), 1..6),
    ) {
        let pans: Vec<[i64; 3]> = pans.into_iter().map(|(w, d, h)| [w, d, h]).collect();
        agrees(&cavity(width, depth, height, racks, clearance), &pans)?;
    }

    /// Larger sizes, where only the arrangement can be checked.
    #[test]
    fn large_arrangements_stand(
        pans in prop::collection::vec((80..300_i64, 80..400_i64, 20..150_i64), 1..10),
    ) {
        let pans: Vec<[i64; 3]> = pans.into_iter().map(|(w, d, h)| [w, d, h]).collect();
        let oven = cavity(460, 370, 330, 3, 30);
        if let Fit::Yes(spots) = Packer::new().fits_cavity(&oven, &pans, &[]) {
            prop_assert!(stands(&oven, &pans, &spots), "{spots:?}");
        }
    }

    /// What was asked before changes no answer, and neither does the order of the pans.
    #[test]
    fn memory_and_order_change_nothing(
        pans in prop::collection::vec((80..300_i64, 80..400_i64, 20..150_i64), 1..7),
    ) {
        let pans: Vec<[i64; 3]> = pans.into_iter().map(|(w, d, h)| [w, d, h]).collect();
        let oven = cavity(460, 370, 330, 3, 30);
        let mut packer = Packer::new();
        let first = packer.fits_cavity(&oven, &pans, &[]);
        prop_assert_eq!(&packer.fits_cavity(&oven, &pans, &[]), &first);
        let reversed: Vec<[i64; 3]> = pans.iter().rev().map(|&[w, d, h]| [d, w, h]).collect();
        let other = packer.fits_cavity(&oven, &reversed, &[]);
        prop_assert_eq!(other.is_yes(), first.is_yes());
        if let Fit::Yes(spots) = other {
            prop_assert!(stands(&oven, &reversed, &spots));
        }
    }
}

/// Four pans around a fifth: no straight cut from side to side divides them.
#[test]
fn a_pinwheel_fits() {
    let oven = cavity(300, 300, 100, 1, 0);
    let pans = [[200, 100, 50], [100, 200, 50], [200, 100, 50], [100, 200, 50], [100, 100, 50]];
    let Fit::Yes(spots) = Packer::new().fits_cavity(&oven, &pans, &[]) else { panic!("the pinwheel must fit") };
    assert!(stands(&oven, &pans, &spots));
    let lengthened = [[201, 100, 50], [100, 200, 50], [200, 100, 50], [100, 200, 50], [100, 100, 50]];
    assert_eq!(Packer::new().fits_cavity(&oven, &lengthened, &[]), Fit::No);
}

/// Of five bottoms only four find a place around the edge, although the area would do.
#[test]
fn area_alone_is_not_enough() {
    let top = Top { id: "plate".to_owned(), width: 610, depth: 610, scale: [1, 10] };
    assert!(Packer::new().fits_top(&top, &[305, 305, 305, 305]).is_yes());
    assert_eq!(Packer::new().fits_top(&top, &[306, 305, 305, 305]), Fit::No);
    assert_eq!(Packer::new().fits_top(&top, &[260, 260, 260, 260, 260]), Fit::No);
}

#[test]
fn weight_counts_for_all_racks_together() {
    let oven = cavity(460, 370, 330, 3, 30);
    let pans = [[200, 200, 60], [200, 200, 60]];
    assert!(Packer::new().fits_cavity(&oven, &pans, &[10_000, 10_000]).is_yes());
    assert_eq!(Packer::new().fits_cavity(&oven, &pans, &[10_000, 10_001]), Fit::No);
}

/// Outer sizes of Gastronorm pans, EN 631-1: a GN 1/1 (530 x 325 mm) holds as many parts as its name says, for which
/// those sizes were made. GN 1/4 is given as 265 x 162 mm.
#[test]
fn gastronorm_parts_fill_a_whole_one() {
    let whole = cavity(530, 325, 100, 1, 0);
    let parts = [([325, 265], 2), ([325, 176], 3), ([265, 162], 4), ([176, 162], 6), ([176, 108], 9)];
    for ([w, d], count) in parts {
        let pans = vec![[w, d, 65]; count];
        assert!(Packer::new().fits_cavity(&whole, &pans, &[]).is_yes(), "{w} x {d}");
        let pans = vec![[w, d, 65]; count + 1];
        assert_eq!(Packer::new().fits_cavity(&whole, &pans, &[]), Fit::No, "{w} x {d}");
    }
}

/// Common practice, no source: a built-in cavity of 60 cm is 440-480 mm wide, 400-420 deep and 340-360 high inside; the
/// cavity of a 30-inch range 600-640 wide, 470-490 deep and 400-430 high; a half sheet pan is 457 x 330 mm, a full one
/// 660 x 457, a Dutch oven of 5 to 6 quarts 280 across and 170 high. Sizes of GN 1/1 and 2/1 as in EN 631-1.
#[test]
fn household_cavities_hold_what_cooks_say_they_hold() {
    let largest_built_in = cavity(480, 420, 360, 5, 30);
    let smallest_built_in = cavity(440, 400, 340, 4, 30);
    let range = cavity(600, 470, 400, 5, 30);
    let largest_range = cavity(640, 490, 430, 5, 30);
    let fits = |oven: &Cavity, pans: &[[i64; 3]]| Packer::new().fits_cavity(oven, pans, &[]).is_yes();
    assert!(!fits(&largest_built_in, &[[530, 325, 65]]), "GN 1/1 is longer than the cavity is wide");
    assert!(fits(&range, &[[530, 325, 65]]));
    assert!(!fits(&largest_range, &[[650, 530, 65]]), "GN 2/1");
    let half_sheet = [457, 330, 25];
    assert!(fits(&largest_built_in, &[half_sheet]) && !fits(&smallest_built_in, &[half_sheet]));
    assert!(fits(&range, &[half_sheet; 5]), "one a level");
    assert!(!fits(&largest_range, &[half_sheet; 6]), "there are five levels, and two of them do not lie side by side");
    assert!(!fits(&largest_range, &[[660, 457, 25]]), "a full sheet is for full-size commercial ovens");
    let dutch_oven = [280, 280, 170];
    assert!(fits(&largest_range, &[dutch_oven; 2]), "one above the other: twice 170 and 30 are 400");
    assert!(!fits(&smallest_built_in, &[dutch_oven; 2]));
    assert!(fits(&smallest_built_in, &[dutch_oven, [400, 300, 60]]));
    assert!(!fits(&smallest_built_in, &[dutch_oven, [400, 300, 111]]));
}

#[test]
fn absurd_counts_are_answered_soon() {
    let oven = cavity(460, 370, 330, 3, 30);
    for (count, side) in [(40, 1), (300, 1), (40, 60), (200, 55), (5_000, 1)] {
        let pans = vec![[side, side, 20]; count];
        let fit = Packer::new().fits_cavity(&oven, &pans, &[]);
        if let Fit::Yes(spots) = &fit {
            assert!(stands(&oven, &pans, spots));
        }
        println!("{count} of {side} mm: {}", if fit.is_yes() { "yes" } else { "no or unknown" });
    }
}
