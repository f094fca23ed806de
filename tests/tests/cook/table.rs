//! Reads the comma-separated reference tables of tests/data/reference.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// One row: column name to text.
pub(crate) type Row = BTreeMap<String, String>;

/// Every row of a reference table.
pub(crate) fn rows(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/data/reference").join(name);
    let text = fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    let mut records = records(&text).into_iter();
    let header = records.next().expect("a header");
    records.map(|fields| header.iter().cloned().zip(fields).collect()).collect()
}

/// The number in a column.
pub(crate) fn number(row: &Row, column: &str) -> f64 {
    row[column].trim().parse().unwrap_or_else(|_| panic!("`{column}` of {row:?} is not a number"))
}

fn records(text: &str) -> Vec<Vec<String>> {
    let (mut records, mut record, mut field, mut quoted) = (vec![], vec![], String::new(), false);
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match (c, quoted) {
            ('"', true) if chars.peek() == Some(&'"') => {
                chars.next();
                field.push('"');
            }
            ('"', _) => quoted = !quoted,
            (',', false) => record.push(std::mem::take(&mut field)),
            ('\n', false) => {
                record.push(std::mem::take(&mut field));
                records.push(std::mem::take(&mut record));
            }
            ('\r', false) => {}
            _ => field.push(c),
        }
    }
    records
}
