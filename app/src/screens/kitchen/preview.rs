//! A book as it would be if some facts were kept: a plan is looked at before it is kept, by the same
//! code that shows it afterwards.

use shared_types::book::Book;
use shared_types::entry::{Entry, EntryId, Fact};
use shared_types::hlc::Hlc;
use shared_types::ids::DeviceId;
use shared_types::units::Millis;

/// `book` with `facts` on top, as if kept at `at`. None of it is written anywhere.
pub fn preview(book: &Book, facts: &[Fact], at: Millis) -> Book {
    let mut shown = book.clone();
    let device = DeviceId::new(Millis(0), [0; 10]);
    for (device_seq, fact) in (1..).zip(facts) {
        // Past whatever stands there, so that it shows.
        let Hlc(wall, count) = shown.written(fact).unwrap_or_default().max(Hlc(at, 0));
        let id = EntryId { device, device_seq };
        // A fact too large to keep is refused when it is kept; it is not shown here.
        if let Ok(entry) = Entry::new(id, Hlc(wall, count.saturating_add(1)), fact) {
            shown.fold(&entry);
        }
    }
    shown
}
