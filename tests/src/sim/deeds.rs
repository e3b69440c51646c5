//! What a step says, as a fact. Everything a step keeps differs from everything else by its number.

use shared_types::book::Book;
use shared_types::entry::{
    BinCorrected, BinKept, BinStruck, BinsApart, Entry, Fact, GuessMade, RoomSet,
};
use shared_types::ids::*;
use shared_types::units::{Grams, MilliCelsius, Millis, Reading};

use super::Do;

/// Names the fact an entry carries, whatever id and clock it has: what the laws count.
pub(super) fn key(entry: &Entry) -> String {
    format!("{} {}", entry.kind, entry.payload.get())
}

/// Facts of this kind may be said twice in the same words.
pub(super) fn may_repeat(key: &str) -> bool {
    key.starts_with("bins-apart ")
}

fn bytes(n: u32) -> [u8; 10] {
    let mut bytes = [7; 10];
    bytes[6..].copy_from_slice(&n.to_be_bytes());
    bytes
}

fn person(device: usize) -> PersonId {
    PersonId::new(Millis(0), [device as u8; 10])
}

/// A bin that is like others of its minute but in its number of grams, which the scale does not show.
pub(super) fn bin(device: usize, name: u32, grams: i64, at: Millis, tag: Option<String>) -> Fact {
    BinKept {
        bin: BinId::new(Millis(0), bytes(name)),
        pick: PickId::new(Millis(0), [1; 10]),
        place: PlaceId::new(Millis(0), [2; 10]),
        crop: "tomato".into(),
        class: "ripe".into(),
        gross: Reading::from_grams(Grams(grams)),
        tare: Grams(700),
        person: person(device),
        at,
        variety: None,
        stage: None,
        defect: None,
        bin_type: None,
        room: None,
        tag,
    }
    .into()
}

/// The fact of a deed on `device` that looks at `book`; none when there is nothing to do it to.
pub(super) fn fact(deed: Do, n: u32, device: usize, book: &Book, at: Millis) -> Option<Fact> {
    let some_bin = || {
        let count = book.bins.len().max(1);
        book.bins.keys().nth(n as usize % count).copied()
    };
    let weight = 1_000 + i64::from(n) * 53;
    Some(match deed {
        Do::Bin | Do::InOtherTab => bin(device, n, weight, at, None),
        Do::AlikeBin => bin(device, n, 9_000 + i64::from(n % 2), at, None),
        Do::ClaimedBin => bin(device, 1_000_000 + n % 6 / 2, weight, at, None),
        Do::HeavyBin => bin(device, n, weight, at, Some("x".repeat(12_000))),
        Do::Correct => Fact::BinCorrected(BinCorrected {
            gross: Some(Reading::from_grams(Grams(weight + 1))),
            ..BinCorrected::nothing(some_bin()?, person(device))
        }),
        Do::Strike => Fact::BinStruck(BinStruck {
            bin: some_bin()?,
            person: person(device),
            why: Some(format!("number {n}")),
        }),
        Do::Room => Fact::RoomSet(RoomSet {
            room: RoomId::new(Millis(0), [(n % 3) as u8; 10]),
            name: Some(format!("Room {n}")),
            temperature: Some(MilliCelsius::from_celsius((n % 30) as i32)),
            humidity: None,
            retired: None,
        }),
        Do::Nonsense => Fact::GuessMade(GuessMade {
            guess: GuessId::new(Millis(0), bytes(n)),
            pick: PickId::new(Millis(0), [1; 10]),
            name: format!("Guess {n}"),
            grams: Grams(0),
        }),
        Do::Apart => {
            let pair = book.pairs().into_iter().next()?;
            Fact::BinsApart(BinsApart { one: pair.first, other: pair.second })
        }
        Do::ManyBins(_) | Do::Close(_) | Do::Upgrade | Do::Revoke => return None,
    })
}
