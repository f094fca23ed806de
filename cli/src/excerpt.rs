//! Faults with the lines they are in.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet, renderer::DecorStyle};
use rangewright::models::faults::{Fault, Faults};

use crate::Terminal;

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
    let title = Level::ERROR.primary_title(fault.cause.as_str()).id(code.as_str());
    let help = Level::HELP.message(fault.remedy.as_str());
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
