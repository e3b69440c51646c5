//! References that lead nowhere: a bin from a place that no entry describes.
//!
//! None of these is refused when it is written, since the entry that describes the place may still
//! be on another phone. One that stays is worth a look.

use std::fmt;

use super::lots::Stray;
use super::{Book, Signed};

/// A thing that is named and not described.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Orphan {
    /// What names it.
    pub by: String,
    /// What is named: `place`, `room`, `pick`, ...
    pub what: &'static str,
    /// Under which id.
    pub id: String,
}

impl fmt::Display for Orphan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { by, what, id } = self;
        write!(f, "{by} names {what} {id}, which no entry describes")
    }
}

impl Book {
    /// What is named and not described, in order.
    pub fn orphans(&self) -> Vec<Orphan> {
        let mut orphans = Vec::new();
        let mut missing = |there: bool, by: &str, what, id: &dyn fmt::Display| {
            if !there {
                orphans.push(Orphan { by: by.to_owned(), what, id: id.to_string() });
            }
        };
        for (id, bin) in self.counted() {
            let Some(bin) = bin.now() else { continue };
            let by = format!("bin {id}");
            missing(self.picks.contains_key(&bin.pick), &by, "pick", &bin.pick);
            missing(self.places.contains_key(&bin.place), &by, "place", &bin.place);
            missing(self.people.contains_key(&bin.person), &by, "person", &bin.person);
            if let Some(variety) = bin.variety {
                missing(self.varieties.contains_key(&variety), &by, "variety", &variety);
            }
            if let Some(kind) = bin.bin_type {
                missing(self.bin_types.contains_key(&kind), &by, "bin type", &kind);
            }
            if let Some(room) = bin.room {
                missing(self.rooms.contains_key(&room), &by, "room", &room);
            }
        }
        for Signed { fact, .. } in self.cold_checks.values() {
            let by = format!("cold check {}", fact.check);
            missing(self.places.contains_key(&fact.place), &by, "place", &fact.place);
        }
        for (lot, moves) in &self.moves {
            for Signed { fact, .. } in moves {
                let by = format!("a move of lot {lot}");
                missing(self.rooms.contains_key(&fact.room), &by, "room", &fact.room);
            }
        }
        for stray in self.lots().stray {
            let (by, lot) = match &stray {
                Stray::Used(fact) => (format!("taking {}", fact.taking), fact.lot),
                Stray::Moved(fact) => ("a move".to_owned(), fact.lot),
                Stray::Round(fact) => (format!("round {}", fact.round), fact.lot),
            };
            missing(false, &by, "lot", &lot);
        }
        orphans.sort();
        orphans
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::entry::{BinKept, Entry, EntryId, Fact, PlaceSet};
    use crate::hlc::Hlc;
    use crate::ids::*;
    use crate::units::{Grams, Millis, Reading};

    const NOW: Millis = Millis(1_800_000_000_000);

    fn fold(book: &mut Book, device_seq: u64, fact: impl Into<Fact>) {
        let id = EntryId { device: DeviceId::new(NOW, [1; 10]), device_seq };
        book.fold(&Entry::new(id, Hlc(NOW, 0), &fact.into()).unwrap());
    }

    #[test]
    fn a_bin_from_nowhere_is_named_until_its_place_arrives() {
        let mut book = Book::default();
        let place = PlaceId::new(NOW, [2; 10]);
        let bin = BinKept {
            bin: BinId::new(NOW, [3; 10]),
            pick: PickId::new(NOW, [4; 10]),
            place,
            crop: "tomato".into(),
            class: "ripe".into(),
            gross: Reading::from_grams(Grams(9_000)),
            tare: Grams(700),
            person: PersonId::new(NOW, [5; 10]),
            at: NOW,
            variety: None,
            stage: None,
            defect: None,
            bin_type: None,
            room: None,
            tag: None,
        };
        fold(&mut book, 1, bin);
        let whats: Vec<_> = book.orphans().iter().map(|orphan| orphan.what).collect();
        assert_eq!(whats, ["person", "pick", "place"]);
        let named = PlaceSet {
            place,
            name: Some("Bed 3".into()),
            covered: None,
            watering: None,
            plants: None,
            area_dm2: None,
            retired: None,
        };
        fold(&mut book, 2, named);
        let whats: Vec<_> = book.orphans().iter().map(|orphan| orphan.what).collect();
        assert_eq!(whats, ["person", "pick"]);
    }
}
