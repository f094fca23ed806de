//! A menu that breaks a limit: refused where that is asked for, said also where it is impossible, and mended by what was tried.

use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};

const COOL: &str = r#"(name: "Late", kitchen: (places: [Oven("oven", "44 x 38 x 34 cm"), Burners("burner", 2)]), date: "2026-11-14",
    zone: "Europe/London", serve: "19:00", dishes: [Dish("Duck legs", [Roast(at: "120 C", takes: "2 h", pan: "30 x 25 x 10 cm")])])"#;

fn world(menu: &str) -> World<'_> {
    World { stdin: menu.as_bytes(), ..World::default() }
}

#[test]
fn strict_refuses_and_says_what_mends_it() {
    let answer = rangewright(&["plan", "-", "--strict"], &world(COOL));
    assert_eq!(answer.exit, Exit::Impossible, "{}{}", answer.out, answer.err);
    assert!(answer.out.contains("LIMIT BROKEN") && !answer.out.contains("SERVE"), "{}", answer.out);
    let words: Vec<&str> = answer.out.split_whitespace().collect();
    assert!(words.join(" ").contains("at 165 C"), "{}", answer.out);
    let plain = rangewright(&["plan", "-"], &world(COOL));
    assert_eq!(plain.exit, Exit::Planned, "{}", plain.err);
    let hot = COOL.replace("120 C", "170 C");
    let kept = rangewright(&["plan", "-", "--strict"], &world(&hot));
    assert_eq!(kept.exit, Exit::Planned, "{}{}", kept.out, kept.err);
}

#[test]
fn a_menu_that_stands_too_long_is_mended_by_a_later_step() {
    let menu = COOL.replace(
        r#"Roast(at: "120 C", takes: "2 h", pan: "30 x 25 x 10 cm")"#,
        r#"Simmer(takes: "1 h", keeps: free, by: "13:00"), Plate(takes: "5 min")"#,
    );
    let answer = rangewright(&["check", "-"], &world(&menu));
    assert_eq!(answer.exit, Exit::Impossible, "{}{}", answer.out, answer.err);
    let words: Vec<&str> = answer.out.split_whitespace().collect();
    assert!(words.join(" ").contains("later than the menu says"), "{}", answer.out);
}

#[test]
fn an_impossible_menu_says_its_broken_limit_too() {
    // Both fill the oven, want it at clashing temperatures, and must be ready together.
    let menu = r#"(name: "Clash", kitchen: (places: [Oven("oven", "44 x 38 x 34 cm")]), date: "2026-11-14", zone: "Europe/London",
        courses: [Course(name: "all at once", serve: "19:00", slip: "0 min", together: "5 min")],
        dishes: [Dish("Duck legs", [Roast(at: "120 C", takes: "2 h", pan: "40 x 34 x 5 cm")]),
                 Dish("Roots", [Roast(at: "220 C", takes: "45 min", pan: "40 x 34 x 5 cm")])])"#;
    let answer = rangewright(&["plan", "-"], &world(menu));
    assert_eq!(answer.exit, Exit::Impossible, "{}{}", answer.out, answer.err);
    assert!(answer.out.contains("LIMIT BROKEN"), "{}", answer.out);
    let json = rangewright(&["plan", "-", "--format", "json"], &world(menu));
    assert!(json.out.contains("\"breach\""), "{}", json.out);
}
