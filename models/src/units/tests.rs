use super::*;
use crate::calendar::Clock;

/// Exact definitions: international yard and pound agreement (1959).
#[test]
fn inches_and_pounds_follow_their_definitions() {
    assert_eq!(length("1 in"), Ok(25)); // 25.4
    assert_eq!(length("10 in"), Ok(254));
    assert_eq!(length("100 in"), Ok(2540));
    assert_eq!(length("1 ft"), Ok(305)); // 304.8
    assert_eq!(length("5 ft"), Ok(1524));
    assert_eq!(weight("1 lb"), Ok(454)); // 453.59237
    assert_eq!(weight("100 lb"), Ok(45_359)); // 45,359.237
    assert_eq!(weight("2000 lb"), Ok(907_185)); // 907,184.74
    assert_eq!(weight("16 oz"), weight("1 lb"));
    assert_eq!(weight("3 lb 4 oz"), Ok(1474)); // 1,474.175
}

/// Exact definition: 5/9 of a degree, 32 F at 0 C; -40 is the same on both scales.
#[test]
fn fahrenheit_follows_its_definition() {
    let pairs =
        [("32 F", 0), ("212 F", 100), ("-40 F", -40), ("350 F", 177), ("325 F", 163), ("145 F", 63), ("0 F", -18)];
    for (text, celsius) in pairs {
        assert_eq!(temperature(text), Ok(celsius), "{text}");
    }
}

#[test]
fn halves_are_rounded_away_from_zero() {
    assert_eq!(length("2.5 mm"), Ok(3));
    assert_eq!(length("0.05 cm"), Ok(1));
    assert_eq!(temperature("-2.5 C"), Ok(-3));
    assert_eq!(temperature("2.4999 C"), Ok(2));
}

#[test]
fn lengths_of_time_add_up() {
    assert_eq!(minutes("95 min"), Ok(95));
    assert_eq!(minutes("1 h 30 min"), Ok(90));
    assert_eq!(minutes("1 h 55"), Ok(115), "as sheets say it");
    assert_eq!(interval("1 h 30 to 2 h").map(|own| (own.min, own.max)), Ok((90, Some(120))));
    assert_eq!(interval("1 h 05 to 1 h 55").map(|own| (own.min, own.max)), Ok((65, Some(115))));
    assert!(minutes("1 h 5").is_err() && minutes("55").is_err());
    assert_eq!(minutes("1h30min"), Ok(90));
    assert_eq!(minutes("1 1/2 hours"), Ok(90));
    assert_eq!(minutes("40 h"), Ok(2400));
    assert_eq!(minutes("90 s"), Err(UnitError::TooFine));
    assert_eq!(minutes("120 s"), Ok(2));
    assert_eq!(minutes("95"), Err(UnitError::NoUnit { number: "95".to_owned() }));
    assert_eq!(minutes("95 kg"), Err(UnitError::WrongUnit { found: "kg".to_owned() }));
    assert_eq!(minutes("1,5 h"), Err(UnitError::NotAQuantity { found: "1,5 h".to_owned() }));
    assert!(minutes("").is_err());
    assert!(minutes("99999999999999999999 min").is_err());
}

#[test]
fn intervals_take_the_unit_of_their_second_number() {
    assert_eq!(interval("20 to 40 min"), Ok(Interval { min: 20, max: Some(40) }));
    assert_eq!(interval("-10 to 5 min"), Ok(Interval { min: -10, max: Some(5) }));
    assert_eq!(interval("30 min to 2 h"), Ok(Interval { min: 30, max: Some(120) }));
    assert_eq!(interval("8 to 24 h"), Ok(Interval { min: 480, max: Some(1440) }));
    assert_eq!(interval("up to 5 min"), Ok(Interval { min: 0, max: Some(5) }));
    assert_eq!(interval("5 min or more"), Ok(Interval { min: 5, max: None }));
    assert_eq!(interval("40 to 20 min"), Err(UnitError::UpsideDown));
    assert_eq!(temperatures("150 to 160 C"), Ok([150, 160]));
    assert_eq!(temperatures("325 to 350 F"), Ok([163, 177]));
    assert_eq!(rate_of_heat("110 C in 10 min"), Ok(110));
    assert_eq!(rate_of_heat("18 F in 1 min"), Ok(100));
}

#[test]
fn pans_are_boxes_or_round() {
    assert_eq!(pan("40 x 30 x 12 cm"), Ok(PanSize::Box([400, 300, 120])));
    assert_eq!(pan("13 x 9 x 2 in"), Ok(PanSize::Box([330, 229, 51])));
    assert_eq!(pan("28 x 14 cm"), Ok(PanSize::Round(280, Some(140))));
    assert_eq!(pan("11 in"), Ok(PanSize::Round(279, None)));
    assert!(pan("1 x 2 x 3 x 4 cm").is_err());
    assert!(pan("x").is_err());
}

#[test]
fn clocks_know_days_and_halves_of_the_day() {
    assert_eq!(clock("18:40"), Ok(Clock { day: 0, minute: 1120 }));
    assert_eq!(clock("6:40 pm"), Ok(Clock { day: 0, minute: 1120 }));
    assert_eq!(clock("18.40"), clock("18:40"));
    assert_eq!(clock("7.15pm"), clock("19:15"));
    assert_eq!(clock("12 am"), Ok(Clock { day: 0, minute: 0 }));
    assert_eq!(clock("12:30pm"), Ok(Clock { day: 0, minute: 750 }));
    assert_eq!(clock("day before 15:00"), Ok(Clock { day: -1, minute: 900 }));
    assert_eq!(clock("2 days before 24:00"), Ok(Clock { day: -1, minute: 0 }));
    assert_eq!(clock("day after 0:30"), Ok(Clock { day: 1, minute: 30 }));
    for wrong in ["", "25:00", "18:60", "13 pm", "18", "1840", "18:4", "99999 days before 3:00", "ü:30"] {
        assert!(clock(wrong).is_err(), "{wrong}");
    }
    let at = |day, minute| Clock { day, minute };
    assert_eq!(stretch("day before 15:00 to 18:00"), Ok([at(-1, 900), at(-1, 1080)]));
    assert_eq!(stretch("18:00 to 1:00"), Ok([at(0, 1080), at(1, 60)]));
    assert_eq!(stretch("day before 22:00 to day after 1:00"), Ok([at(-1, 1320), at(1, 60)]));
}

#[test]
fn dates_and_zones_are_checked() {
    assert!(date("2026-11-14").is_ok());
    assert!(date("2026-02-29").is_err());
    assert!(date("14.11.2026").is_err());
    assert!(zone("Europe/London").is_ok());
    assert!(zone("Europe/Lindon").is_err());
}

proptest::proptest! {
    #[test]
    fn no_text_makes_the_readers_panic(text in ".{0,40}") {
        let _ = (minutes(&text), interval(&text), temperatures(&text), pan(&text), weight(&text), rate_of_heat(&text));
        let _ = (clock(&text), stretch(&text), date(&text), zone(&text));
    }

    #[test]
    fn no_quantity_makes_the_readers_panic(text in "-?[0-9]{1,12}([./][0-9]{1,9})? ?(min|h|d|s|C|F|kg|in|x|to| ){0,4}") {
        let _ = (minutes(&text), interval(&text), temperatures(&text), pan(&text), weight(&text), rate_of_heat(&text));
    }
}
