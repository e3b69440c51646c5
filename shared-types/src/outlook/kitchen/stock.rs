//! What is in the cupboard: as last counted, less what was made since.

use crate::book::Book;
use crate::book::kitchen::Batch;
use crate::hlc::Hlc;
use crate::trade::methods::{Jar, Kind, method};
use crate::units::Grams;

use super::problem::{jar, jar_word};

/// Two-piece lids: each jar takes a new one.
pub const LID: &str = "lid";
/// Vinegar of 5 %, millilitres.
pub const VINEGAR: &str = "vinegar";
/// Bottled lemon juice, millilitres.
pub const LEMON_JUICE: &str = "lemon-juice";
/// Sugar, grams.
pub const SUGAR: &str = "sugar";
/// Canning salt, grams.
pub const SALT: &str = "salt";

/// The item of a jar size: `jar-quart`.
pub fn jar_item(jar: Jar) -> String {
    format!("jar-{}", jar_word(jar))
}

/// How many of an item there are, if anyone counted: jars and lids less those filled since. What
/// goes into the jars is not taken off; it is measured by the spoon and counted anew.
pub fn now(book: &Book, item: &str) -> Option<i64> {
    let field = book.kitchen.stock.get(item)?;
    let (have, counted) = (*field.get()?, field.written()?);
    let filled: i64 = since(book, counted)
        .flat_map(|made| &made.out)
        .filter(|out| match jar(&out.jar) {
            Some(size) => item == LID || item == jar_item(size),
            None => false,
        })
        .map(|out| out.count)
        .sum();
    Some(have - filled)
}

/// What still fits in the freezer, if anyone said: less the fruit frozen since.
pub fn freezer_free(book: &Book) -> Option<Grams> {
    let field = &book.kitchen.limits.freezer_free;
    let (free, counted) = (*field.get()?, field.written()?);
    let frozen: Grams = since(book, counted)
        .filter(|made| method(&made.method).is_some_and(|method| method.kind == Kind::Freeze))
        .flat_map(|made| &made.used)
        .map(|part| part.grams)
        .sum();
    Some((free - frozen).max(Grams::ZERO))
}

fn since(book: &Book, counted: Hlc) -> impl Iterator<Item = &crate::entry::BatchMade> {
    let after =
        move |batch: &&Batch| batch.made.as_ref().is_some_and(|made| made.stamp.hlc > counted);
    book.kitchen.batches.values().filter(after).filter_map(Batch::counted)
}
