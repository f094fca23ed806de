//! The usual caution of each topic, with the figures of a region.

use super::{Caution, Topic, Weight};
use crate::cook::safety::Region;
use crate::cook::{Known, Source};

const CHART: Source = Source::new("USDA FSIS Safe Minimum Internal Temperature Chart (14 April 2025)", Known::Read);
const UK_CORE: Source = Source::new(
    "UK practice, a secondary page quoting FSA and FSS; other figures USDA FSIS chart (14 April 2025)",
    Known::Read,
);
const NZ_CORE: Source =
    Source::new("a training provider's page quoting MPI; pork and fish USDA FSIS chart (14 April 2025)", Known::Read);
const NO_TABLE: Source =
    Source::new("no table for Australia was read: USDA FSIS chart (14 April 2025) stands in", Known::Read);
const THAW: Source = Source::new("USDA Turkey Basics: Safe Thawing (a page that quotes it)", Known::Read);

/// The usual caution about something.
pub fn usual(topic: Topic, region: Region) -> Caution {
    let trade = |text| Source::new(text, Known::CommonPractice);
    let (text, source) = match topic {
        Topic::Undercooked => undercooked(region),
        Topic::RawPoultry => (
            "Keep raw poultry from what is eaten raw: another board and knife, and wash hands and surfaces in between.".to_owned(),
            trade("raw poultry is kept from what is eaten raw"),
        ),
        Topic::SlowCooling => slow_cooling(region),
        Topic::Holding => {
            let hot = region.hot_c();
            let text = format!("Keep hot food at {} or hotter, and do not warm it up slowly.", both(hot.value));
            (text, hot.source)
        }
        Topic::Reheating => {
            let (to, within) = (region.reheat_c(), region.reheat_minutes());
            let text = format!(
                "Heat cooked and cooled food to {} throughout, within {:.0} hours, and only once.",
                both(to.value),
                within.value / 60.0
            );
            (text, to.source)
        }
        Topic::LowOven => (
            "Home cooks are advised to roast meat at 163 C (325 F) or hotter; a cooler oven needs the rules and the thermometer of licensed practice.".to_owned(),
            Source::new("USDA FSIS consumer guidance", Known::Read),
        ),
        Topic::Thawing => (
            "Thaw in the refrigerator, in a dish that catches the juice, below what is eaten raw.".to_owned(),
            THAW,
        ),
        Topic::RawEgg => (
            "Raw or lightly cooked eggs are not for the very young, the old, the pregnant or the ill; 71 C (160 F) makes them safe.".to_owned(),
            CHART,
        ),
        Topic::Allergen => (
            "Tools that are shared carry allergens from one dish to the next: wash them in between, and tell your guests.".to_owned(),
            trade("allergens are shown wherever tools are shared"),
        ),
        Topic::Diet => (
            "Whether a dish suits a diet is known by its words alone: ask your guests, and read what is on the packets.".to_owned(),
            trade("who can eat what is shown as far as it is known"),
        ),
        Topic::HotFat => (
            "Hot fat burns: dry the food, leave room in the pan, stay with it, lid at hand, never water.".to_owned(),
            trade("kitchen safety"),
        ),
        Topic::Steam => (
            "Steam and boiling liquid burn: open lids and oven doors away from you.".to_owned(),
            trade("kitchen safety"),
        ),
    };
    Caution::new(topic, Weight::Caution, text, source)
}

fn undercooked(region: Region) -> (String, Source) {
    let figures = "In the middle, at least: whole cuts of meat and fish 63 C (145 F), meat then rests 3 minutes or more; minced meat and \
                   eggs 71 C (160 F); poultry, stuffing and casseroles 74 C (165 F).";
    let start = "Minutes are an estimate, the thermometer decides.";
    match region {
        Region::Us => (format!("{start} {figures}"), CHART),
        Region::Au => (format!("{start} {figures}"), NO_TABLE),
        Region::Nz => (
            format!(
                "{start} Poultry, minced and stuffed meat: in the middle 75 C (167 F), or 70 C (158 F) for 3 minutes; fish and pork at least 63 C (145 F); whole \
                 cuts may be rare if they are seared all over."
            ),
            NZ_CORE,
        ),
        Region::Uk => (
            format!(
                "{start} In the middle 75 C (167 F), or 70 C (158 F) for 2 minutes; fish and whole cuts that are meant to be pink at least 63 C (145 F), and \
                 meat then rests 3 minutes or more."
            ),
            UK_CORE,
        ),
    }
}

fn slow_cooling(region: Region) -> (String, Source) {
    let stages = region.cooling();
    let hours = |minutes: f64| {
        if minutes < 120.0 { format!("{minutes:.0} minutes") } else { format!("{:.0} hours", minutes / 60.0) }
    };
    let way = |(number, stage): (usize, &crate::cook::safety::CoolingStage)| {
        let all = if number > 0 { " in all" } else { "" };
        format!("to {} within {}{all}", both(stage.to_c), hours(stage.minutes))
    };
    let ways: Vec<String> = stages.iter().enumerate().map(way).collect();
    let from = stages.first().map_or(String::new(), |stage| format!("from {} ", both(stage.from_c)));
    let text = format!(
        "Cool cooked food {from}{}. Shallow, uncovered, small portions, or a stirred bath of ice: a full pot in a refrigerator is \
         too slow.",
        ways.join(" and ")
    );
    let source = stages.first().map_or(CHART, |stage| stage.source.clone());
    (text, source)
}

/// Degrees on both scales: `74 C (165 F)`. Sources round their own conversions; 57 C is 135 F in the Food Code.
pub(super) fn both(celsius: f64) -> String {
    let fahrenheit = celsius * 9.0 / 5.0 + 32.0;
    format!("{celsius:.0} C ({fahrenheit:.0} F)")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The figures are those of the sources: 145 F + 3 min, 160 F, 165 F (USDA FSIS chart); 57, 21, 5 C in 2 and 6 h, 57 C,
    /// 74 C in 2 h (FDA Food Code); 63 C and 8 C (UK); 60 C (FSANZ); 325 F (USDA).
    #[test]
    fn every_caution_has_words_and_a_source() {
        for &region in Region::ALL {
            for &topic in Topic::ALL {
                let caution = usual(topic, region);
                assert!(caution.text.len() > 40 && !caution.source.text.is_empty(), "{topic:?}");
                assert_eq!((caution.topic, caution.weight), (topic, Weight::Caution));
            }
        }
        let text = |topic, region| usual(topic, region).text;
        assert!(text(Topic::Holding, Region::Us).contains("57 C (135 F)"));
        assert!(text(Topic::Holding, Region::Uk).contains("63 C"));
        assert!(text(Topic::Holding, Region::Au).contains("60 C"));
        assert!(text(Topic::Reheating, Region::Us).contains("74 C (165 F) throughout, within 2 hours"));
        assert!(
            text(Topic::SlowCooling, Region::Us)
                .contains("21 C (70 F) within 2 hours and to 5 C (41 F) within 6 hours in all")
        );
        assert!(text(Topic::SlowCooling, Region::Uk).contains("8 C (46 F) within 90 minutes"));
        assert!(text(Topic::Undercooked, Region::Uk).contains("75 C"));
    }
}
