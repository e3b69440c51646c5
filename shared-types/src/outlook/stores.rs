//! Stores: what keeps, how long, what to look at and what to eat first.
//!
//! A store is a lot of a crop that keeps (squash, roots, heads) as it stands in its room. Ripening
//! fruit has a screen of its own.
//!
//! Not yet: chilling in the field is reckoned from noted lows alone, at `FIELD_NIGHT_DAYS` a
//! night; how often to look has no source and is common practice.

use serde::Serialize;

use super::Today;
use super::ripening::climate;
use super::season::crop_and_variety;
use crate::book::Book;
use crate::book::lots::Lot;
use crate::ids::LotId;
use crate::trade::crops::{self, Group};
use crate::trade::stores::{
    CureVerdict, Kind, Look, Ranked, StoreLot, Survival, eat_first, kind, survival,
};
use crate::units::{Day, Grams};

/// Share of a day for which a noted night below the chilling limit chills what stands outside: ten
/// hours. An assumption.
const FIELD_NIGHT_DAYS: f64 = 0.4;

/// How far back nights in the field count, days.
const FIELD_DAYS_BACK: i32 = 60;

/// Days between looks at a store; common practice.
const LOOK_EVERY: i32 = 14;

/// The same while something in it softens or was touched by frost; common practice.
const LOOK_EVERY_SUSPECT: i32 = 3;

/// All stores.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StoresBook {
    /// The day.
    pub today: Day,
    /// The stores, in the order to eat them.
    pub lots: Vec<StoreRow>,
    /// Stores to look at today or overdue.
    pub due: usize,
    /// Lots the tables know no keeping of, by name.
    pub unknown: Vec<String>,
}

/// One store.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StoreRow {
    /// The lot.
    pub lot: Lot,
    /// Crop and variety.
    pub name: String,
    /// Where it grew.
    pub place_name: String,
    /// Where it stands.
    pub room_name: Option<String>,
    /// What is left.
    pub left: Grams,
    /// Fruits left, where they were counted.
    pub fruits: Option<i64>,
    /// Curing.
    pub cure: CureState,
    /// Keep-by, chilling, suspects, reason.
    pub ranked: Ranked,
    /// The last look, if any.
    pub looked: Option<Day>,
    /// When to look next.
    pub look_by: Day,
    /// How it holds out, where fruits were counted, against the book.
    pub survival: Option<Survival>,
}

/// Whether and until when a store cures.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CureState {
    /// What the table says.
    pub verdict: CureVerdict,
    /// `cured`, `curing`, `to_cure` or `not`.
    pub state: &'static str,
    /// In words.
    pub words: String,
    /// How it is done.
    pub how: String,
    /// Until when, while it cures.
    pub until: Option<Day>,
    /// Id of the source.
    pub source: String,
}

/// All stores as they stand today.
pub fn stores(book: &Book, today: Today) -> StoresBook {
    let lots = book.lots();
    let mut unknown = Vec::new();
    let mut asked: Vec<(&Lot, &'static Kind, StoreLot)> = Vec::new();
    for lot in lots.standing().into_iter().filter(|lot| keeps(lot)) {
        let variety = lot.variety.map(|variety| book.variety_name(variety).to_owned());
        match kind(&lot.crop, variety.as_deref()) {
            Some(kind) => asked.push((lot, kind, store_lot(book, lot, kind, variety, today))),
            None => unknown.push(crop_and_variety(book, &lot.crop, lot.variety)),
        }
    }
    // A lot dated ahead of today (a phone's clock) is left out rather than spoiling the others.
    asked.retain(|(.., lot)| lot.picked <= today.day);
    let inputs: Vec<StoreLot> = asked.iter().map(|(.., lot)| lot.clone()).collect();
    let ranked = eat_first(&inputs, today.day).unwrap_or_default();
    let rows: Vec<StoreRow> = ranked
        .into_iter()
        .filter_map(|ranked| {
            let (lot, kind, _) = asked.iter().find(|(lot, ..)| lot.id.to_string() == ranked.lot)?;
            Some(row(book, lot, kind, ranked, today))
        })
        .collect();
    unknown.sort();
    unknown.dedup();
    let due = rows.iter().filter(|row| row.look_by <= today.day).count();
    StoresBook { today: today.day, lots: rows, due, unknown }
}

/// Whether a lot is one for the store.
fn keeps(lot: &Lot) -> bool {
    crops::crop(&lot.crop).is_some_and(|crop| crop.group != Group::VineFruit)
}

fn store_lot(
    book: &Book,
    lot: &Lot,
    kind: &Kind,
    variety: Option<String>,
    today: Today,
) -> StoreLot {
    StoreLot {
        lot: lot.id.to_string(),
        crop: lot.crop.clone(),
        variety,
        picked: lot.day_at(today.offset_minutes),
        room: climate(book, lot, &lot.moves, today),
        cured: book.stores.cures.get(&lot.id).and_then(|cure| cure.cured.get().copied()),
        chilled_before: chilled_before(book, lot, kind),
        frosted: frosted(lot).then_some(lot.day),
        softening: softening(lot),
    }
}

/// Touched by frost: carried in with that defect, or from where fruit was found frozen.
fn frosted(lot: &Lot) -> bool {
    lot.defect.as_deref() == Some("frost") || lot.condition.fruit.as_deref() == Some("frozen")
}

fn softening(lot: &Lot) -> bool {
    let last = lot.rounds.last();
    lot.defect.as_deref() == Some("soft")
        || last.is_some_and(|round| {
            round.soft > Grams::ZERO || round.soft_count.is_some_and(|count| count > 0)
        })
}

fn chilled_before(book: &Book, lot: &Lot, kind: &Kind) -> f64 {
    let Some(limit) = kind.chills_below_celsius else { return 0.0 };
    let back = lot.day.plus(-FIELD_DAYS_BACK)..lot.day;
    let cold = |day: Day| {
        let low = book.nights.low(day, Some(lot.place)).or_else(|| book.nights.low(day, None));
        low.is_some_and(|low| low.temperature.celsius() < limit)
    };
    let days = (0..FIELD_DAYS_BACK).map(|n| back.start.plus(n)).filter(|day| cold(*day));
    days.count() as f64 * FIELD_NIGHT_DAYS
}

fn row(book: &Book, lot: &Lot, kind: &Kind, ranked: Ranked, today: Today) -> StoreRow {
    let came = lot.day_at(today.offset_minutes);
    let looked = lot.rounds.last().map(|round| Day::at(round.at, today.offset_minutes));
    let every = if softening(lot) { LOOK_EVERY_SUSPECT } else { LOOK_EVERY };
    let usual = looked.unwrap_or(came).plus(every);
    let look_by = match ranked.suspect {
        // Not looked at since the time to look came: the suspect's own days rule.
        Some(suspect) if looked.is_none_or(|looked| looked < suspect.from) => suspect.from,
        _ => usual,
    };
    StoreRow {
        name: crop_and_variety(book, &lot.crop, lot.variety),
        place_name: book.place_name(lot.place).to_owned(),
        room_name: lot.room().map(|room| book.room_name(room).to_owned()),
        left: lot.left(),
        fruits: fruits(lot),
        cure: cure(book, lot.id, kind, came),
        looked,
        look_by,
        survival: held(lot, today),
        ranked,
        lot: lot.clone(),
    }
}

/// Fruits left: by the last round that counted them.
fn fruits(lot: &Lot) -> Option<i64> {
    let counted = lot.rounds.iter().rev().find(|round| round.sound_count.is_some())?;
    counted.sound_count
}

fn cure(book: &Book, lot: LotId, kind: &Kind, came: Day) -> CureState {
    let said = book.stores.cures.get(&lot);
    let cured = said.and_then(|cure| cure.cured.get().copied());
    let wanted = matches!(kind.cure.verdict, CureVerdict::Yes | CureVerdict::Short);
    let days = kind.cure.days.map_or(0, |[_, most]| i32::try_from(most).unwrap_or(0));
    let from = said.and_then(|cure| cure.from.get().copied());
    let until = said.and_then(|cure| cure.until.get().copied());
    let until = until.or_else(|| from.map(|from| from.plus(days)));
    let (state, words) = match (cured, from) {
        (Some(true), _) => ("cured", "cured".to_owned()),
        (Some(false) | None, Some(_)) => (
            "curing",
            until.map_or_else(|| "curing".to_owned(), |until| format!("curing until {until}")),
        ),
        (Some(false), None) => ("not", "stored without curing".to_owned()),
        (None, None) if wanted => {
            ("to_cure", format!("{}: until about {}", kind.cure.verdict.words(), came.plus(days)))
        }
        (None, None) => ("not", kind.cure.verdict.words().to_owned()),
    };
    CureState {
        verdict: kind.cure.verdict,
        state,
        words,
        how: kind.cure.how.clone(),
        until: until.filter(|_| state == "curing"),
        source: kind.cure.source.clone(),
    }
}

/// The survival of a lot whose fruits were counted in every round, from the first one on.
fn held(lot: &Lot, today: Today) -> Option<Survival> {
    let whole = |count: Option<i64>| u32::try_from(count.unwrap_or(0)).ok();
    let came = lot.day_at(today.offset_minutes);
    let mut looks = Vec::new();
    let mut left = None;
    for round in &lot.rounds {
        let (sound, soft, lost) = (
            u32::try_from(round.sound_count?).ok()?,
            whole(round.soft_count)?,
            whole(round.lost_count)?,
        );
        let seen = sound + soft + lost;
        let before: u32 = left.unwrap_or(seen);
        let day = Day::at(round.at, today.offset_minutes).since(came);
        let gone = before.saturating_sub(seen);
        looks.push(Look { day: u32::try_from(day).ok()?, lost: soft + lost, taken: gone });
        left = Some(sound);
    }
    let first = lot.rounds.first()?;
    let count = u32::try_from(first.sound_count?).ok()?
        + whole(first.soft_count)?
        + whole(first.lost_count)?;
    survival(lot.crop.as_str(), count, &looks).ok()
}
