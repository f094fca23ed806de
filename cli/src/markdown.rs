//! The run sheets as Markdown (CommonMark, with task lists and tables): for a shared note or a repository.

use rangewright::models::caution::DEFERENCE;

use crate::evening::chart::Chart;
use crate::evening::places::{Table, tables};
use crate::evening::{CookSheet, Evening, SCALED, Sort, View, phrases};
use crate::plain;
use crate::sheet::INFERRED;

/// The whole answer.
pub(crate) fn sheets(view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>) -> String {
    let mut text = format!("# {}\n", inline(&evening.name));
    if !evening.facts.is_empty() {
        text += &format!("\n{}\n", begin(&evening.facts.join(", ")));
    }
    let mut day = "";
    for serving in &evening.servings {
        if serving.day != day {
            text += &format!("\n**{}, at the table**\n\n", inline(&serving.day));
            day = &serving.day;
        }
        let dishes = inline(&phrases::list(&serving.dishes));
        text += &format!("- **{}** {}: {dishes}\n", inline(&serving.clock), inline(&serving.name));
        text += &serving.chance.as_ref().map_or(String::new(), |chance| format!("  - {}\n", inline(chance)));
    }
    for care in evening.cares.iter().filter(|care| care.broken()) {
        text += &format!("\n> **{}**: {}\n", inline(&care.head()), inline(&care.caution.text));
    }
    for sheet in &evening.sheets {
        text += &cook(sheet);
    }
    if evening.only.is_some() {
        // Whose sheet it is has asked for nothing else.
        return text + &cares(evening);
    }
    text += &appliances(view, &tables(view, chart));
    text += &hands(evening);
    if !evening.to_buy.is_empty() {
        text += "\n## To buy\n\n";
        for own in &evening.to_buy {
            let dishes = inline(&phrases::list(&own.dishes));
            text += &format!("- [ ] {}: **{}** ({dishes})\n", begin(&own.what), inline(&own.amount));
        }
    }
    text += &scaled(evening);
    text += "\n## How good this plan is\n\n";
    for sentence in &evening.proof {
        text += &format!("{}\n", begin(sentence));
    }
    text += &cares(evening);
    for (head, first, lines) in
        [("What is in it", Some(INFERRED), &evening.contents), ("The hour after", None, &evening.after)]
    {
        if !lines.is_empty() {
            text += &format!("\n## {head}\n\n");
            text += &first.map_or(String::new(), |first| format!("{}\n\n", inline(first)));
            lines.iter().for_each(|line| text += &format!("- {}\n", begin(line)));
        }
    }
    text
}

fn scaled(evening: &Evening<'_>) -> String {
    let mut text = String::new();
    if !evening.scaled.is_empty() {
        text += &format!("\n## Made for more or fewer\n\n{}\n", begin(SCALED));
    }
    for own in &evening.scaled {
        text += &format!("\n**{}**\n\n", inline(&own.head));
        own.lines.iter().for_each(|line| text += &format!("- {}\n", begin(line)));
    }
    text
}

fn cares(evening: &Evening<'_>) -> String {
    let mut text = String::new();
    text += "\n## Take care\n\n";
    for care in &evening.cares {
        let (caution, source) = (inline(&care.caution.text), inline(&care.caution.source.cited()));
        text += &format!("- **{}**: {caution} *{source}*\n", inline(&care.head()));
    }
    text += &format!("- {}\n", inline(DEFERENCE));
    text
}

fn cook(sheet: &CookSheet) -> String {
    let mut text = format!("\n## {}\n", inline(&sheet.name));
    for day in &sheet.days {
        text += &format!("\n### {}\n\n", inline(&day.day));
        for entry in &day.entries {
            let letter = entry.letter().map_or(String::new(), |letter| format!("**{letter}** "));
            text += &format!("- [ ] **{}** {letter}{}\n", inline(&entry.clock), inline(&entry.said()));
            for line in &entry.more {
                let own = begin(&line.text);
                text += &if line.sort == Sort::Care { format!("  - **{own}**\n") } else { format!("  - {own}\n") };
            }
        }
    }
    text
}

fn appliances(view: &View<'_>, tables: &[Table]) -> String {
    let mut text = String::new();
    for table in tables {
        text += &format!(
            "\n## {}, {}\n\n| From | To | Where | What |\n|---|---|---|---|\n",
            inline(&table.name),
            inline(&table.day)
        );
        for row in &table.rows {
            let until = row.until.map(|until| view.words.clock_from(row.at, until)).unwrap_or_default();
            let cells = [&view.words.clock(row.at), &until, &row.spot, &row.what].map(|cell| inline(cell));
            text += &format!("| {} |\n", cells.join(" | "));
        }
    }
    text
}

fn hands(evening: &Evening<'_>) -> String {
    let mut text = String::new();
    for (index, hour) in evening.last_hours.iter().enumerate() {
        if index == 0 {
            text += "\n## Hands in the last hour\n\nMinutes of work in each quarter of an hour before serving.\n";
        }
        let quarters = hour.quarters.clone().map(|clock| inline(&clock)).join(" | ");
        text += &format!("\n### {}\n\n| Cook | {quarters} | all |\n|---|---|---|---|---|---|\n", inline(&hour.head));
        for load in &hour.cooks {
            let busy = load.busy.map(|minutes| minutes.to_string()).join(" | ");
            text += &format!("| {} | {busy} | {} |\n", inline(&load.name), load.sum());
        }
    }
    text
}

/// Text within a line, with every letter that could be read as a mark made harmless.
fn inline(text: &str) -> String {
    let text: Vec<String> = plain::line(text).split(' ').filter(|word| !word.is_empty()).map(str::to_owned).collect();
    let mut safe = String::new();
    for letter in text.join(" ").chars() {
        if matches!(letter, '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '~' | '&' | '#' | '$') {
            safe.push('\\');
        }
        safe.push(letter);
    }
    safe
}

/// Text at the beginning of a line, which must not be read as an item of a list or a rule.
fn begin(text: &str) -> String {
    let safe = inline(text);
    if safe.is_empty() {
        // A hyphen with nothing behind it would make a heading of the line above.
        return "\u{2013}".to_owned();
    }
    let digits = safe.chars().take_while(char::is_ascii_digit).count();
    let after = safe[digits..].chars().next();
    if digits > 0 && matches!(after, Some('.' | ')')) {
        return format!("{}\\{}", &safe[..digits], &safe[digits..]);
    }
    if safe.starts_with(['-', '+', '=', ':']) { format!("\\{safe}") } else { safe }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_name_is_read_as_a_mark() {
        assert_eq!(inline("<b> *a* [x](y) | `c`\n# d"), "\\<b\\> \\*a\\* \\[x\\](y) \\| \\`c\\` \\# d");
        assert_eq!(begin("1. first"), "1\\. first");
        assert_eq!(begin("- item"), "\\- item");
        assert_eq!(begin("12 rolls"), "12 rolls");
        assert_eq!(begin("\t"), "\u{2013}");
    }
}
