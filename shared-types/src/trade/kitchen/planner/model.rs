//! A mixed-integer model, free of any solver: columns, rows, and its text.

use std::fmt::Write as _;

/// A variable.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub(super) name: String,
    /// What one of it adds to the value.
    pub(super) worth: f64,
    pub(super) least: f64,
    pub(super) most: f64,
    /// Whole numbers only.
    pub(super) whole: bool,
}

/// How a row's sum stands to its right side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    AtMost,
    AtLeast,
    Exactly,
}

/// A constraint.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) name: String,
    pub(super) terms: Vec<(usize, f64)>,
    pub(super) sense: Sense,
    pub(super) right: f64,
}

/// Columns and rows; the value is to be as great as can be.
#[derive(Clone, Debug, Default)]
pub(super) struct Model {
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<Row>,
    /// What the value is when every column is nothing.
    pub(super) constant: f64,
}

impl Model {
    /// A column for any number in a range.
    pub(super) fn real(&mut self, name: String, worth: f64, least: f64, most: f64) -> usize {
        self.columns.push(Column { name, worth, least, most, whole: false });
        self.columns.len() - 1
    }

    /// A column for whole numbers up to a most.
    pub(super) fn whole(&mut self, name: String, worth: f64, most: f64) -> usize {
        self.columns.push(Column { name, worth, least: 0.0, most, whole: true });
        self.columns.len() - 1
    }

    /// A row; one without columns is left out when it holds.
    pub(super) fn row(
        &mut self,
        name: String,
        mut terms: Vec<(usize, f64)>,
        sense: Sense,
        right: f64,
    ) {
        terms.retain(|(_, factor)| *factor != 0.0);
        let holds = match sense {
            Sense::AtMost => right >= 0.0,
            Sense::AtLeast => right <= 0.0,
            Sense::Exactly => right == 0.0,
        };
        if !(terms.is_empty() && holds) {
            self.rows.push(Row { name, terms, sense, right });
        }
    }

    /// The model in the LP format that solvers read. Kilograms, minutes and counts.
    pub(super) fn lp(&self) -> String {
        let mut text = String::from("\\ Lugbook's plan of a kitchen: kilograms, minutes, loads\n");
        // A constant in the objective is not in every solver's LP: one column fixed at 1 is.
        let constant = self.columns.len();
        let name = |at: usize| {
            if at == constant { "constant" } else { self.columns[at].name.as_str() }
        };
        let sum = |text: &mut String, terms: &mut dyn Iterator<Item = (usize, f64)>| {
            for (n, (at, factor)) in terms.enumerate() {
                let sign = if factor < 0.0 { '-' } else { '+' };
                // Solvers cut long lines.
                let gap = if n > 0 && n % 8 == 0 { "\n   " } else { "" };
                let _ = write!(text, "{gap} {sign} {} {}", factor.abs(), name(at));
            }
        };
        text.push_str("Maximize\n value:");
        let worth = self.columns.iter().enumerate().map(|(at, column)| (at, column.worth));
        let mut worth =
            worth.chain([(constant, self.constant)]).filter(|(_, factor)| *factor != 0.0);
        sum(&mut text, &mut worth);
        text.push_str("\nSubject To\n");
        for row in &self.rows {
            let _ = write!(text, " {}:", row.name);
            sum(&mut text, &mut row.terms.iter().copied());
            let sense = match row.sense {
                Sense::AtMost => "<=",
                Sense::AtLeast => ">=",
                Sense::Exactly => "=",
            };
            let _ = writeln!(text, " {sense} {}", row.right);
        }
        text.push_str("Bounds\n constant = 1\n");
        for column in &self.columns {
            let _ = writeln!(text, " {} <= {} <= {}", column.least, column.name, column.most);
        }
        text.push_str("Generals\n");
        for column in self.columns.iter().filter(|column| column.whole) {
            let _ = writeln!(text, " {}", column.name);
        }
        text.push_str("End\n");
        text
    }
}
