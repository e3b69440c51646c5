//! Tables as comma-separated text, so that every list can leave the program.
//!
//! RFC 4180: a header line, lines ended by CR LF, fields in quotes where they hold a comma, a quote
//! or a line break, quotes doubled. A spreadsheet takes a field that begins with `= + - @`, a tab or
//! a carriage return for a formula, so text that does gets an apostrophe before it; names come from
//! whoever held a phone. Numbers are written as they are: a minus there is a minus.

use shared_types::units::{Grams, WeightUnit};

use crate::words;

/// One field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    /// Words, made safe for spreadsheets.
    Text(String),
    /// Digits, with a point and a minus at most.
    Number(String),
}

impl Cell {
    /// A field of words.
    pub fn text(words: impl Into<String>) -> Self {
        Self::Text(words.into())
    }

    /// A weight to the thousandth of its unit. The minus is the plain one, which programs read.
    pub fn weight(grams: Grams, unit: WeightUnit) -> Self {
        Self::Number(words::exact(grams, unit).replace('\u{2212}', "-"))
    }

    fn write(&self, out: &mut String) {
        match self {
            Self::Number(digits) => out.push_str(digits),
            Self::Text(words) => write_text(words, out),
        }
    }
}

/// A list that leaves the program.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// The names of the columns.
    pub header: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<Cell>>,
}

impl Table {
    /// As comma-separated text.
    pub fn csv(&self) -> String {
        document(&self.header, &self.rows)
    }

    /// As JSON Lines: one object a row, its keys the names of the columns. Words are as they are,
    /// since no program takes them for a formula; numbers are numbers.
    pub fn json_lines(&self) -> String {
        let line = |row: &Vec<Cell>| {
            let mut object = serde_json::Map::new();
            for (name, cell) in self.header.iter().zip(row) {
                let value = match cell {
                    Cell::Text(words) => serde_json::Value::String(words.clone()),
                    Cell::Number(digits) => {
                        serde_json::from_str(digits).unwrap_or(serde_json::Value::Null)
                    }
                };
                object.insert(name.clone(), value);
            }
            format!("{}\n", serde_json::Value::Object(object))
        };
        self.rows.iter().map(line).collect()
    }
}

/// The whole document: a line of names, then one line for each row.
pub fn document(header: &[String], rows: &[Vec<Cell>]) -> String {
    let mut out = String::new();
    let names = header.iter().map(|name| Cell::Text(name.clone())).collect();
    for row in std::iter::once(&names).chain(rows) {
        for (i, cell) in row.iter().enumerate() {
            if i > 0 {
                out.push(',');
            }
            cell.write(&mut out);
        }
        out.push_str("\r\n");
    }
    out
}

fn write_text(words: &str, out: &mut String) {
    let formula = words.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let quoted = words.contains(['"', ',', '\r', '\n']);
    if quoted {
        out.push('"');
    }
    if formula {
        out.push('\'');
    }
    if quoted {
        out.push_str(&words.replace('"', "\"\""));
        out.push('"');
    } else {
        out.push_str(words);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_one_line_of_json() {
        let header = ["name", "kg", "note"].map(str::to_owned).to_vec();
        let row = vec![
            Cell::text("=Ida"),
            Cell::weight(Grams(-2_200), WeightUnit::Kg),
            Cell::Number(String::new()),
        ];
        let table = Table { header, rows: vec![row] };
        let value: serde_json::Value =
            serde_json::from_str(table.json_lines().trim_end()).expect("one JSON object");
        assert_eq!(value, serde_json::json!({"name": "=Ida", "kg": -2.2, "note": null}));
    }

    #[test]
    fn fields_are_quoted_where_they_must_be() {
        let one = |words: &str| document(&[words.to_owned()], &[]);
        assert_eq!(one("Bed 3"), "Bed 3\r\n");
        assert_eq!(one("Bed 3, south"), "\"Bed 3, south\"\r\n");
        assert_eq!(one("the \"low\" bed"), "\"the \"\"low\"\" bed\"\r\n");
        assert_eq!(one("two\nlines"), "\"two\nlines\"\r\n");
    }

    #[test]
    fn words_are_never_a_formula_and_numbers_stay_numbers() {
        for (words, written) in [
            ("=1+1", "'=1+1"),
            ("+49", "'+49"),
            ("-bed", "'-bed"),
            ("@here", "'@here"),
            ("\tbed", "'\tbed"),
            ("\rbed", "\"'\rbed\""),
            ("=a,b", "\"'=a,b\""),
            ("bed=3", "bed=3"),
        ] {
            assert_eq!(document(&[words.to_owned()], &[]), format!("{written}\r\n"), "{words:?}");
        }
        let row = vec![Cell::text("Ida"), Cell::weight(Grams(-2_200), WeightUnit::Kg)];
        let header = ["name".to_owned(), "off".to_owned()];
        assert_eq!(document(&header, &[row]), "name,off\r\nIda,-2.2\r\n");
    }
}
