//! Rows of methods that the owner has compared with a printed guide.

use crate::book::Book;
use crate::trade::methods::Confirmed;

/// The confirmations that stand, by method and row; what was withdrawn is not among them.
pub fn confirmed(book: &Book) -> Vec<Confirmed> {
    let rows = book.kitchen.confirmed.values().flat_map(|rows| rows.values());
    rows.filter_map(|row| row.get())
        .filter(|fact| fact.withdrawn != Some(true))
        .map(|fact| Confirmed {
            method: fact.method.clone(),
            row: fact.row.clone(),
            edition: fact.edition.clone(),
            page: fact.page.clone(),
            day: fact.day,
        })
        .collect()
}
