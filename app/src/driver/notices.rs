//! What the engine and the disk report, in words for a person.

use shared_types::engine::Notice;

use crate::shell::idb::Trouble;
use crate::shell::persist::Room;
use crate::words;

/// A notice of the engine: what is so, and what to do, if anything.
pub(super) fn notice_words(notice: &Notice) -> String {
    match notice {
        Notice::ClockOff { by_ms } => {
            let which = if *by_ms > 0 { "ahead of" } else { "behind" };
            format!(
                "This phone's clock is {} {which} the house's. Bins keep; set the phone's clock \
                 right when you can.",
                words::span(*by_ms)
            )
        }
        Notice::Diverged => "This phone's copy of the book did not match the house's; it is read \
             anew. Nothing kept here is lost."
            .to_owned(),
        Notice::Forked => "Another phone was writing under this one's name, perhaps a copy of it. \
             This phone has a new name now; nothing kept is lost."
            .to_owned(),
        Notice::OtherServer => "The house's server was restored or is another one. This phone \
             offers everything it kept again."
            .to_owned(),
        Notice::Evicted => {
            "The browser emptied this phone's storage, most likely because the phone \
             is full. What was kept is written down again. Make room on the phone, and stay near \
             the house until all is sent."
                .to_owned()
        }
        Notice::StorageFailed { reason } => {
            format!("What came from the house could not be stored. {reason}")
        }
    }
}

/// Trouble with the phone's disk: what is wrong, with the numbers, and what to do next.
pub fn trouble_words(trouble: &Trouble, room: Option<Room>) -> String {
    let room = room.map_or_else(String::new, |room| format!(" ({})", room.words()));
    if trouble.is_full() {
        format!(
            "The phone's storage is full{room}. Delete photos or apps you do not need, then try \
             again."
        )
    } else if trouble.is_shut() {
        format!(
            "The phone cannot open its storage{room}, most likely because it is full. Delete photos \
             or apps you do not need, then try again."
        )
    } else if trouble.is_lost() {
        format!(
            "The phone closed its storage{room}, and opening it again did not help. Load the page \
             again, then try again. [{trouble}]"
        )
    } else {
        format!(
            "The phone could not store it{room}. Try again; if it stays so, load the page again. \
             [{trouble}]"
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_phone_is_told_with_its_numbers() {
        let trouble = Trouble { name: "QuotaExceededError".to_owned(), message: String::new() };
        let room = Room { used: 59_900_000, quota: 60_000_000 };
        let words = trouble_words(&trouble, Some(room));
        assert!(words.contains("59.9 MB of 60.0 MB used"), "{words}");
    }

    #[test]
    fn only_a_lost_connection_asks_for_a_new_page() {
        // The second text is Chromium's for a full disk, the third for every opening after that.
        for (message, lost, words) in [
            ("The database connection is closing.", true, "Load the page"),
            ("Connection is closing because of: FILE_ERROR_NO_SPACE", false, "storage is full"),
            ("Internal error opening backing store for indexedDB.open.", false, "cannot open"),
        ] {
            let trouble = Trouble { name: "UnknownError".to_owned(), message: message.to_owned() };
            assert_eq!(trouble.is_lost(), lost, "{message}");
            let said = trouble_words(&trouble, None);
            assert!(said.contains(words), "{said}");
        }
    }

    #[test]
    fn the_clock_is_told_which_way_it_is_off() {
        let ahead = notice_words(&Notice::ClockOff { by_ms: 3 * 3_600_000 });
        assert!(ahead.contains("3 hours ahead of"), "{ahead}");
        let behind = notice_words(&Notice::ClockOff { by_ms: -180_000 });
        assert!(behind.contains("3 minutes behind"), "{behind}");
    }
}
