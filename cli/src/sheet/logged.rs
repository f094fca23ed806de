//! What was logged, in a cook's words.

use rangewright::models::day::Event;

use crate::evening::marks::job;
use crate::words::{Words, capital, count, minutes};

/// One entry of the log, without its time.
pub(crate) fn logged(words: &Words, event: &Event) -> String {
    let of =
        |course: &Option<String>| course.as_deref().map_or(String::new(), |own| format!(", for {}", words.course(own)));
    let title = |step: &str| capital(&job(words, step));
    match event {
        Event::Started { step, .. } => format!("Started: {}", title(step)),
        Event::Finished { step } => format!("Done: {}", title(step)),
        Event::PutIn { step, place } => {
            let place = place.as_deref().map_or(String::new(), |place| format!(" ({})", words.place(place)));
            format!("Put in or on: {}{place}", title(step))
        }
        Event::TakenOut { step } => format!("Taken out: {}", title(step)),
        Event::Needs { step, minutes: more } => format!("Needs {} more: {}", minutes(*more), title(step)),
        Event::Probe { step, core, target, from } => {
            let target = target.map_or(String::new(), |at| format!(", comes out at {}", words.degrees(at)));
            let from = from.map_or(String::new(), |at| format!(", went in at {}", words.degrees(at)));
            format!("{} in the middle: {}{target}{from}", words.degrees(*core), title(step))
        }
        Event::OvenReads { place, degrees } => {
            format!("{} in it: {}", words.degrees(*degrees), capital(words.place(place)))
        }
        Event::NotHeated { place } => format!("Not turned on: {}", capital(words.place(place))),
        Event::GuestsLate { minutes: late, only, course } => {
            let who = only.map_or("Guests".to_owned(), |only| format!("{only} of the guests"));
            format!("{who} {} late{}", minutes(*late), of(course))
        }
        Event::GuestsEarly { minutes: early, course } => format!("Guests {} early{}", minutes(*early), of(course)),
        Event::Broken { place, burners } => {
            let burners = burners.and_then(|number| usize::try_from(number).ok());
            let of = burners.map_or(String::new(), |number| format!(", {}", count(number, "burner", "burners")));
            format!("Broken: {}{of}", capital(words.place(place)))
        }
        Event::Repaired { place } => format!("Works again: {}", capital(words.place(place))),
        Event::PowerOff => "The power is out".to_owned(),
        Event::PowerOn => "The power is back".to_owned(),
        Event::Gone { cook } => format!("Gone: {}", words.cook(cook)),
        Event::Back { cook } => format!("Back: {}", words.cook(cook)),
        Event::Swapped { step, cook } => format!("{} does it now: {}", capital(words.cook(cook)), title(step)),
        Event::Slower { cook, percent: 0 } => format!("As fast as usual: {}", words.cook(cook)),
        Event::Slower { cook, percent } => format!("Slower by {percent} %: {}", words.cook(cook)),
        Event::Burnt { step } => format!("Burnt, and made again: {}", words.dish_of(step)),
        Event::Again { step } => format!("Once more: {}", title(step)),
        Event::MoreGuests { more, of } => format!("{more} more guests than {of}"),
        Event::FewerGuests { fewer, of } => format!("{fewer} fewer guests than {of}"),
        Event::Undo => "The line before is taken back".to_owned(),
        Event::Dropped { dish } => format!("Dropped: {}", words.dish(dish)),
        Event::Served { course } => format!("Served: {}", capital(words.course(course))),
        Event::Mistaken { step } => format!("Not started after all: {}", title(step)),
        _ => "Something that this version has no words for".to_owned(),
    }
}
