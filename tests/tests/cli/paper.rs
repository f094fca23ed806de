//! Pages for one purpose each.

use crate::demo::demo;

#[test]
fn each_paper_has_what_it_is_for_and_nothing_else() {
    let parts = [
        ("wall", "class=\"poster\""),
        ("cooks", "class=\"jobs\""),
        ("overview", "id=\"glance\""),
        ("oven", "class=\"oven-door\""),
        ("shopping", "id=\"buy\""),
    ];
    for (paper, _) in parts {
        let page = demo(&["--paper", paper]);
        for (other, part) in parts {
            assert_eq!(page.contains(part), paper == other, "{paper}: {part}");
        }
        assert!(page.contains("counter(page)") && page.contains("counter(pages)") && page.contains("size: A4"));
    }
    let class = demo(&["--paper", "class"]);
    for part in ["at the table", "id=\"roles\"", "class=\"jobs\"", "id=\"dishes\"", "id=\"care\""] {
        assert!(class.contains(part), "{part}");
    }
    assert_eq!(demo(&["--paper", "everything"]), demo(&["--format", "html"]));
    for (size, name) in [("a5", "A5"), ("a3", "A3"), ("letter", "letter")] {
        assert!(demo(&["--paper", "wall", "--size", size]).contains(&format!("@page {{ size: {name};")), "{size}");
    }
}

#[test]
fn every_page_of_a_cook_says_whose_it_is_and_of_which_day() {
    let page = demo(&["--paper", "cooks"]);
    for whose in ["Ines, Friday 13 November 2026", "Ines, Saturday 14 November 2026", "Tom, Saturday 14 November 2026"]
    {
        assert!(page.contains(&format!("@top-left {{ content: \"{whose}\";")), "{whose}");
    }
    assert_eq!(page.matches("style=\"page: cook-").count(), 3);
}

#[test]
fn one_cook_gets_that_cooks_sheet_and_nothing_else() {
    let text = demo(&["--cook", "Tom"]);
    assert!(
        text.contains("TOM, SATURDAY") && text.contains("local food codes".trim_start())
            || text.contains("Local food codes")
    );
    for other in ["INES", "WHO AND WHAT", "HANDS IN", "TO BUY", "HOW GOOD"] {
        assert!(!text.contains(other), "{other}");
    }
    let page = demo(&["--cook", "Tom", "--format", "html"]);
    assert!(page.contains("class=\"jobs\""));
    for other in ["id=\"glance\"", "id=\"dishes\"", "id=\"buy\"", ">Ines<"] {
        assert!(!page.contains(other), "{other}");
    }
    let note = demo(&["--cook", "Tom", "--format", "markdown"]);
    assert!(note.contains("## Tom") && !note.contains("## Ines") && !note.contains("## To buy"));
}

#[test]
fn a_paper_has_a_file_of_its_own() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().to_string_lossy().into_owned();
    assert!(demo(&["--paper", "wall", "--out", &folder]).trim_end().ends_with("wall.html"));
    assert!(home.path().join("wall.html").is_file());
}
