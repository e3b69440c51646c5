//! Lines for a person: results on standard output, failures on standard error.

use std::fmt::Display;
use std::io::{self, Write as _};

/// Says one line. A reader that has gone away (`lugbook … | head`) is no failure.
pub(super) fn line(text: impl Display) -> io::Result<()> {
    match writeln!(io::stdout().lock(), "{text}") {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        said => said,
    }
}

/// Lines as columns: the first to the left, the others to the right.
pub(super) fn columns(lines: &[Vec<String>]) -> String {
    let count = lines.iter().map(Vec::len).max().unwrap_or_default();
    let width = |column: usize| {
        let cells = lines.iter().filter_map(|line| line.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or_default()
    };
    let widths: Vec<usize> = (0..count).map(width).collect();
    let line = |cells: &Vec<String>| {
        let padded = cells.iter().zip(&widths).enumerate().map(|(n, (cell, width))| match n {
            0 => format!("{cell:<width$}"),
            _ => format!("{cell:>width$}"),
        });
        padded.collect::<Vec<_>>().join("  ")
    };
    lines.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// Says why the program ends.
#[expect(clippy::print_stderr, reason = "this is where the person at the house reads it")]
pub(super) fn failed(failure: impl Display) {
    eprintln!("lugbook: {failure}");
}
