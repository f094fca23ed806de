//! Faults with the lines they are in.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet, renderer::DecorStyle};
use rangewright::models::faults::{Fault, Faults};

use crate::{Terminal, plain};

/// Shows every fault with an excerpt of the text it was found in; `sources` are names and texts.
pub(crate) fn faults(faults: &Faults, sources: &[(String, String)], terminal: Terminal) -> String {
    let renderer = if terminal.colour { Renderer::styled() } else { Renderer::plain() };
    let style = if terminal.unicode { DecorStyle::Unicode } else { DecorStyle::Ascii };
    let renderer = renderer.decor_style(style).term_width(terminal.width.unwrap_or(80).max(40));
    let mut text = String::new();
    for fault in faults.iter() {
        text.push_str(&one(fault, sources, &renderer));
        text.push_str("\n\n");
    }
    let count = faults.iter().count();
    text.push_str(&format!("{count} {}\n", if count == 1 { "fault" } else { "faults" }));
    text
}

fn one(fault: &Fault, sources: &[(String, String)], renderer: &Renderer) -> String {
    let code = fault.code.to_string();
    let (cause, remedy) = (plain::literal(&fault.cause), plain::literal(&fault.remedy));
    let title = Level::ERROR.primary_title(cause.as_str()).id(code.as_str());
    let help = Level::HELP.message(remedy.as_str());
    let source = fault.at.as_ref().and_then(|at| {
        let (_, text) = sources.iter().find(|(name, _)| *name == at.file)?;
        let start = floor(text, at.start);
        Some((at, text, start..floor(text, at.end).max(start)))
    });
    match source {
        Some((at, text, span)) => {
            let snippet =
                Snippet::source(text.as_str()).path(at.file.as_str()).annotation(AnnotationKind::Primary.span(span));
            renderer.render(&[title.element(snippet).element(help)])
        }
        None => {
            let place = fault.at.as_ref().map(|at| format!("in {}, line {}", at.file, at.line));
            let group = title.elements(place.as_deref().map(|place| Level::NOTE.message(place)));
            renderer.render(&[group.element(help)])
        }
    }
}

/// The nearest character boundary at or before a byte.
fn floor(text: &str, byte: usize) -> usize {
    let mut byte = byte.min(text.len());
    while !text.is_char_boundary(byte) {
        byte -= 1;
    }
    byte
}

#[cfg(test)]
mod tests {
    use rangewright::models::faults::{Code, Location};

    use super::*;

    fn fault(file: &str, start: usize, end: usize) -> Fault {
        let at = Location { file: file.to_owned(), start, end, line: 2, column: 5 };
        let (cause, remedy) = ("no pan is this large".to_owned(), "name a pan of the kitchen".to_owned());
        Fault { code: Code::ALL[0], at: Some(at), cause, remedy }
    }

    fn shown(fault: Fault, terminal: Terminal) -> String {
        let sources = [("menu.ron".to_owned(), "name: \"Käse\",\n    pan: \"vat\",\n".to_owned())];
        faults(&Faults(vec![fault]), &sources, terminal)
    }

    #[test]
    fn a_fault_shows_its_line_its_cause_and_a_remedy() {
        let text = shown(fault("menu.ron", 24, 29), Terminal::default());
        for part in ["menu.ron:2:10", "pan: \"vat\"", "^^^^^", "no pan is this large", "name a pan of the kitchen"] {
            assert!(text.contains(part), "{part}: {text}");
        }
        assert!(!text.contains('\x1b') && text.is_ascii(), "{text}");
        assert!(shown(fault("menu.ron", 24, 29), Terminal { colour: true, ..Terminal::default() }).contains('\x1b'));
    }

    #[test]
    fn a_span_that_fits_nothing_does_no_harm() {
        for (file, start, end) in
            [("menu.ron", 8, 9), ("menu.ron", 400, 4), ("menu.ron", 0, usize::MAX), ("other", 1, 2)]
        {
            assert!(shown(fault(file, start, end), Terminal::default()).contains("no pan is this large"));
        }
    }
}
