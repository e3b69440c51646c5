//! The plan's sentences.

use super::desk::{Decided, Made};
use super::ledger::Ledger;
use super::plan::Batch;
use super::table::Table;
use crate::trade::methods::Kind;
use crate::units::Day;

/// `Mon 12 Oct`
pub(super) fn day_words(day: Day) -> String {
    day.date().format("%a %-d %b").to_string()
}

/// Why a batch is made, in a sentence or two.
pub(super) fn why(
    table: &Table<'_>,
    decided: &Decided,
    ledgers: &[Ledger],
    made: &Made,
    batch: &Batch,
) -> String {
    let mut text = if batch.pinned { "Pinned by you. ".to_owned() } else { String::new() };
    // The part that presses most: what would be lost first, and of that the most.
    let slot = &table.slots[made.slot];
    let pressing = made.parts.iter().map(|(at, grams)| {
        let pool = &table.pools[*at];
        let flow = pool.flow(decided.rooms[pool.lot]);
        (ledgers[*at].at_hand(flow, slot.taken).1, *at, *grams)
    });
    let pressing = pressing
        .min_by_key(|(lost, _, grams)| (lost.unwrap_or(usize::MAX), std::cmp::Reverse(*grams)));
    if let Some((lost, at, _)) = pressing {
        let name = table.lot(&table.pools[at]).name();
        let others = made.parts.len() - 1;
        let others = match others {
            0 => String::new(),
            1 => " and one more lot".to_owned(),
            n => format!(" and {n} more lots"),
        };
        let until = match lost {
            Some(day) if day == slot.taken => "keeps no longer than that day".to_owned(),
            Some(day) => format!("keeps until {}", day_words(table.problem.day(day))),
            None => "would keep, and is better used early".to_owned(),
        };
        text += &format!("Takes {:.1} kg of {name}{others}, which {until}", batch.grams.kg());
    }
    text += &as_what(batch);
    if let Some(evening) = batch.evening_before {
        text += &format!(" Begun on the evening of {}.", day_words(evening));
    }
    text
}

/// A batch that was already begun.
pub(super) fn begun(batch: &Batch) -> String {
    format!("Already begun with {:.1} kg{}", batch.grams.kg(), as_what(batch))
}

fn as_what(batch: &Batch) -> String {
    if let Some(jars) = batch.jars {
        let loads = match jars.loads {
            1 => "one canner load".to_owned(),
            n => format!("{n} canner loads"),
        };
        let plural = if jars.full == 1 { "" } else { "s" };
        return format!(": {} {} jar{plural} in {loads}.", jars.full, jars.size.words());
    }
    match batch.kind {
        Kind::Jar => ", for jars.",
        Kind::Freeze => ", for the freezer.",
        Kind::Dry => ", for the dryer.",
        Kind::Fresh => ", for the table.",
        Kind::Feed => ", for the animals.",
        Kind::Compost => ", for the soil.",
    }
    .to_owned()
}
