//! Deliberate faults, planted at the seams and nowhere in the product: what a programmer might get
//! wrong, to see that the laws notice. See `tests/tests/sim.rs`.

use shared_types::book::Book;
use shared_types::engine::Program;
use shared_types::entry::Entry;

/// The fault planted in a run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sabotage {
    /// None: the product as it is.
    #[default]
    None,
    /// The store answers before it commits; a pulled plug then takes back what was acknowledged.
    AckBeforeCommit,
    /// The admission takes a known id for a known entry and does not look at the content.
    DedupeWithoutHash,
    /// The phone's cursor runs over its own echoes without folding them.
    CursorSkipsOwn,
    /// The phone folds each page in the order of the writers' clocks.
    FoldByClock,
    /// The phone throws its outbox away when the server's epoch is another.
    OutboxClearedOnEpoch,
    /// The phone forgets what it wrote under an id it had before.
    FormerForgotten,
}

impl Sabotage {
    /// Every fault.
    pub const ALL: [Self; 6] = [
        Self::AckBeforeCommit,
        Self::DedupeWithoutHash,
        Self::CursorSkipsOwn,
        Self::FoldByClock,
        Self::OutboxClearedOnEpoch,
        Self::FormerForgotten,
    ];

    /// The program a device runs; `old` is one that does not know rooms yet.
    pub(super) fn program(self, old: bool) -> Program {
        match (old, self) {
            (true, _) => Program { fold_version: 0, fold: fold_without_rooms },
            (false, Self::FoldByClock) => Program { fold: fold_by_clock, ..Program::NEWEST },
            (false, _) => Program::NEWEST,
        }
    }
}

fn fold_without_rooms(book: &mut Book, entries: &[&Entry]) {
    for entry in entries {
        if entry.kind == "room-set" {
            book.deferred.push((*entry).clone());
        } else {
            book.fold(entry);
        }
    }
}

fn fold_by_clock(book: &mut Book, entries: &[&Entry]) {
    let mut entries = entries.to_vec();
    entries.sort_by_key(|entry| entry.stamp());
    for entry in entries {
        book.fold(entry);
    }
}
