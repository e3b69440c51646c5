//! What carrying a lot to another room would do to its dates.

use shared_types::book::Book;
use shared_types::ids::RoomId;
use shared_types::outlook::{StandingLot, Today, moves_of};

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
pub fn choices(
    book: &Book,
    lot: Option<&StandingLot>,
    stands: Option<RoomId>,
    today: Today,
) -> Vec<Choice> {
    let Some(lot) = lot else { return Vec::new() };
    let mut rooms: Vec<_> = book
        .rooms
        .iter()
        .filter(|(id, room)| Some(**id) != stands && !room.retired.get().copied().unwrap_or(false))
        .collect();
    rooms.sort_by_key(|(id, _)| (book.room_name(**id), **id));
    let ids: Vec<RoomId> = rooms.iter().map(|(id, _)| **id).collect();
    let moved = moves_of(book, &lot.lot, &lot.belief, &ids, today, DAYS);
    rooms
        .into_iter()
        .zip(moved)
        .map(|((id, room), (_, moved))| {
            let name = book.room_name(*id);
            let new = |text: &String| !moved.before.warnings.iter().any(|w| w.text == *text);
            Choice {
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
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::sample::{tomorrow, writer};
    use shared_types::outlook::outlook;

    #[test]
    fn each_other_room_says_what_it_would_change() {
        let mut w = writer();
        w.bin(1, 3, "colouring", 22_000);
        let told = outlook(&w.book, tomorrow(), 1);
        let lot = &told.lots[0];
        let choices = choices(&w.book, Some(lot), lot.lot.room(), tomorrow());
        let titles: Vec<_> = choices.iter().map(|choice| choice.title.as_str()).collect();
        assert_eq!(titles, ["back room, 14°", "cold porch, 4°"]);
        assert_eq!(choices[0].before, choices[1].before);
        assert_ne!(choices[0].before, choices[0].after);
        assert!(!choices[1].cautions.is_empty(), "4 °C is outside the table");
        assert!(super::choices(&w.book, None, None, tomorrow()).is_empty());
    }
}
