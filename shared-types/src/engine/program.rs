//! Which fold a device runs: the seam through which the simulation plays old programs.

use crate::book::{Book, FOLD_VERSION};
use crate::entry::Entry;

/// A program's fold. An app runs [`Program::NEWEST`]. The simulation also runs one that does not
/// know a kind yet, which is how a phone that missed an update looks from inside, and ones with a
/// fault planted, to see that it notices.
#[derive(Clone, Copy, Debug)]
pub struct Program {
    /// Stands in checkpoints: a state of another version is folded anew or brought up.
    pub fold_version: u32,
    /// Folds entries, which follow each other in the log, into the book.
    pub fold: fn(&mut Book, &[&Entry]),
}

impl Program {
    /// The fold of this build.
    pub const NEWEST: Self = Self { fold_version: FOLD_VERSION, fold: fold_each };

    pub(super) fn fold<'a>(self, book: &mut Book, entries: impl IntoIterator<Item = &'a Entry>) {
        let entries: Vec<&Entry> = entries.into_iter().collect();
        (self.fold)(book, &entries);
    }

    /// Brings up a state whose log is not at hand: folds what an older program had to defer.
    pub(super) fn upgrade(self, book: &mut Book) {
        let waiting = std::mem::take(&mut book.deferred);
        self.fold(book, &waiting);
    }
}

fn fold_each(book: &mut Book, entries: &[&Entry]) {
    for entry in entries {
        book.fold(entry);
    }
}
