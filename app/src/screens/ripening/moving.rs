//! What carrying a lot to another room would do to its dates.

use shared_types::book::Book;
use shared_types::ids::{LotId, RoomId};
use shared_types::outlook::{Today, move_lot};

use super::dates::window;
use super::page::DAYS;
use crate::words;

/// One room a lot could go to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Which room.
    pub room: RoomId,
    /// Its name and temperature.
    pub title: String,
    /// The lot's dates where it stands.
    pub before: String,
    /// Its dates there.
    pub after: String,
    /// What to look out for there and not here.
    pub cautions: Vec<String>,
}

/// The rooms in use that a lot does not stand in, by name.
pub fn choices(book: &Book, lot: LotId, stands: Option<RoomId>, today: Today) -> Vec<Choice> {
    let mut rooms: Vec<_> = book
        .rooms
        .iter()
        .filter(|(id, room)| Some(**id) != stands && !room.retired.get().copied().unwrap_or(false))
        .collect();
    rooms.sort_by_key(|(id, _)| (book.room_name(**id), **id));
    rooms
        .into_iter()
        .filter_map(|(id, room)| {
            let moved = move_lot(book, lot, *id, today, DAYS)?;
            let name = book.room_name(*id);
            let new = |text: &String| !moved.before.warnings.iter().any(|w| w.text == *text);
            Some(Choice {
                room: *id,
                title: room.temperature.get().map_or_else(
                    || format!("{name}, no temperature set"),
                    |at| format!("{name}, {}", words::celsius(*at)),
                ),
                before: window(&moved.before, today.day),
                after: window(&moved.after, today.day),
                cautions: moved
                    .after
                    .warnings
                    .iter()
                    .map(|warning| warning.text.clone())
                    .filter(new)
                    .map(|text| super::dates::plain_days(&text))
                    .collect(),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::sample::{named, tomorrow, writer};

    #[test]
    fn each_other_room_says_what_it_would_change() {
        let mut w = writer();
        w.bin(1, 3, "colouring", 22_000);
        let lots = w.book.lots();
        let lot = lots.all.values().next().expect("one lot");
        let choices = choices(&w.book, lot.id, lot.room(), tomorrow());
        let titles: Vec<_> = choices.iter().map(|choice| choice.title.as_str()).collect();
        assert_eq!(titles, ["back room, 14°", "cold porch, 4°"]);
        assert_eq!(choices[0].before, choices[1].before);
        assert_ne!(choices[0].before, choices[0].after);
        assert!(!choices[1].cautions.is_empty(), "4 °C is outside the table");
        assert!(super::choices(&w.book, named(LotId::new, 9), None, tomorrow()).is_empty());
    }
}
