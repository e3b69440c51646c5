//! The pantry: what was made, from where, what is left of it, and how long it is at its best.

use std::collections::BTreeMap;

use chrono::{Datelike as _, Months};

use crate::book::Book;
use crate::book::lots::Lot;
use crate::entry::{BatchMade, JarsOut, SealsChecked};
use crate::ids::{BatchId, MethodId};
use crate::outlook::{Today, asked};
use crate::trade::crops;
use crate::trade::fitness::fitness;
use crate::trade::methods::{Kind, method};
use crate::trade::pantry::{Keeps, keeps};
use crate::trade::provenance::Said;
use crate::units::{Day, Grams, HOUR_MS, Millis};

/// Lids are pressed when the jars are cold: "12-24 hours, undisturbed" (National Center reprints).
const SEALS_FROM_MS: i64 = 12 * HOUR_MS;
/// "Reprocess within 24 hours" (UNL, K-State and MSU on unsealed jars).
const SEALS_UNTIL_MS: i64 = 24 * HOUR_MS;
/// What became of unsealed jars when they went back in the canner.
pub const REPROCESSED: &str = "reprocessed";

/// One batch on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Shelf {
    /// Which batch.
    pub batch: BatchId,
    /// Its method.
    pub method: MethodId,
    /// The method's name.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// The day it was made.
    pub made: Day,
    /// When.
    pub at: Millis,
    /// Jars and packs by size.
    pub jars: Vec<Jars>,
    /// Where it stands, in words.
    pub place: Option<String>,
    /// The remark on the label.
    pub note: Option<String>,
    /// Where its fruit grew, heaviest first: `Paste, Bed 3`.
    pub origins: Vec<(String, Grams)>,
    /// Until when it is at its best.
    pub best_by: Option<Day>,
    /// How old it is.
    pub age: Age,
    /// What is known of its keeping.
    pub keeps: Option<&'static Keeps>,
    /// How its seals stand.
    pub seals: Seals,
    /// It was made of fruit that is not for it: shown wherever it is named, and on its label.
    pub caution: Option<Said>,
}

impl Shelf {
    /// How many are left of all sizes.
    pub fn left(&self) -> i64 {
        self.jars.iter().map(|jars| jars.left).sum()
    }
}

/// Jars of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Jars {
    /// The size, as the log writes it.
    pub jar: String,
    /// How many came out.
    pub made: i64,
    /// How many had not sealed and left the shelf.
    pub unsealed: i64,
    /// How many were taken.
    pub used: i64,
    /// How many are left; never less than none.
    pub left: i64,
}

/// How old something on the shelf is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Age {
    /// At its best.
    Fresh,
    /// Past its best: use it first.
    PastBest,
    /// Long past: look at it before it is used.
    Stale,
}

/// How the seals of a batch stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seals {
    /// No jars.
    NotNeeded,
    /// The jars are still warm.
    Wait {
        /// From when to look.
        from: Millis,
        /// Until when unsealed ones may be reprocessed.
        until: Millis,
    },
    /// To be looked at now.
    Due {
        /// Since when.
        from: Millis,
        /// Until when unsealed ones may be reprocessed.
        until: Millis,
    },
    /// Nobody looked in time; what has not sealed may not be reprocessed any more.
    Late {
        /// Since when it was due.
        from: Millis,
        /// Until when unsealed ones could be reprocessed.
        until: Millis,
    },
    /// Some had not sealed, and nobody has said what became of them.
    Unsealed {
        /// How many.
        count: i64,
        /// Until when they may be reprocessed.
        until: Millis,
    },
    /// Looked at, and dealt with.
    Checked,
}

/// What stands in the pantry, latest made first; what is all used too, and what keeps nothing
/// (eaten fresh, fed) not.
pub fn pantry(book: &Book, today: Today, now: Millis) -> Vec<Shelf> {
    let lots = book.lots();
    let made = book.made();
    made.into_iter()
        .filter_map(|(id, made)| shelf(book, &lots.all, id, made, (today, now)))
        .collect()
}

fn shelf(
    book: &Book,
    lots: &BTreeMap<crate::ids::LotId, Lot>,
    id: BatchId,
    made: &BatchMade,
    (today, now): (Today, Millis),
) -> Option<Shelf> {
    let known = method(&made.method);
    let kind = known.map_or_else(|| kind_of(&made.what), |method| method.kind);
    if matches!(kind, Kind::Fresh | Kind::Feed | Kind::Compost) {
        return None;
    }
    let day = Day::at(made.at, today.offset_minutes);
    let keeps = keeps(kind);
    let best_by = keeps.map(|keeps| months_after(day, keeps.best_months));
    let stale = keeps.map(|keeps| months_after(day, keeps.stale_months));
    let past = |end: Option<Day>| end.is_some_and(|end| end < today.day);
    let age = match (past(stale), past(best_by)) {
        (true, _) => Age::Stale,
        (_, true) => Age::PastBest,
        _ => Age::Fresh,
    };
    let checks = || book.kitchen.seals.values().map(|c| &c.fact).filter(|c| c.batch == id);
    let mut origins: BTreeMap<String, Grams> = BTreeMap::new();
    for part in &made.used {
        if let Some(lot) = lots.get(&part.lot) {
            *origins.entry(lot_label(book, lot)).or_default() += part.grams;
        }
    }
    let mut origins: Vec<_> = origins.into_iter().collect();
    origins.sort_by_key(|(label, grams)| (std::cmp::Reverse(*grams), label.clone()));
    let unfit = || {
        made.used.iter().filter_map(|part| lots.get(&part.lot)).find_map(|lot| caution(kind, lot))
    };
    Some(Shelf {
        batch: id,
        method: made.method.clone(),
        name: known.map_or_else(|| made.method.to_string(), |method| method.name.clone()),
        kind,
        made: day,
        at: made.at,
        jars: by_size(book, id, made, checks()),
        place: made.place.clone().filter(|place| !place.is_empty()),
        note: made.note.clone().filter(|note| !note.is_empty()),
        origins,
        best_by,
        age,
        keeps,
        seals: if kind == Kind::Jar { seals(made, checks(), now) } else { Seals::NotNeeded },
        caution: unfit(),
    })
}

/// What a person calls a lot: `Paste, Bed 3`.
pub fn lot_label(book: &Book, lot: &Lot) -> String {
    let name = match lot.variety {
        Some(variety) => book.variety_name(variety).to_owned(),
        None => crops::crop(&lot.crop).map_or_else(|| lot.crop.to_string(), |c| c.name.clone()),
    };
    format!("{name}, {}", book.place_name(lot.place))
}

/// The caution for a batch made of a lot that is not fit for it.
pub fn caution(kind: Kind, lot: &Lot) -> Option<Said> {
    let fitness = fitness(&asked(lot));
    let fit = kind.needs().is_none_or(|needed| fitness.uses.allows(needed));
    (!fit).then(|| Said {
        text: format!(
            "Made of fruit that is not for {}: {}",
            match kind {
                Kind::Jar => "a jar on the shelf, and added acid does not mend it",
                Kind::Freeze => "the freezer",
                Kind::Dry => "drying",
                Kind::Fresh => "the table",
                Kind::Feed | Kind::Compost => "animals",
            },
            fitness.reason
        ),
        source: fitness.source.clone(),
        mark: fitness.mark,
    })
}

/// The kind of a batch whose method this program does not know.
fn kind_of(what: &str) -> Kind {
    super::fitness::word(what).unwrap_or(Kind::Jar)
}

fn by_size<'a>(
    book: &Book,
    id: BatchId,
    made: &BatchMade,
    checks: impl Iterator<Item = &'a SealsChecked>,
) -> Vec<Jars> {
    let mut sizes: BTreeMap<&str, Jars> = BTreeMap::new();
    for JarsOut { jar, count } in &made.out {
        let empty = || Jars { jar: jar.clone(), made: 0, unsealed: 0, used: 0, left: 0 };
        sizes.entry(jar).or_insert_with(empty).made += count;
    }
    let first = made.out.first().map(|out| out.jar.as_str());
    for check in checks.filter(|check| check.became.as_deref() != Some(REPROCESSED)) {
        // A check that names no size, or none of this batch, is of the first.
        let named = check.jar.as_deref().filter(|jar| sizes.contains_key(jar)).or(first);
        if let Some(jars) = named.and_then(|jar| sizes.get_mut(jar)) {
            jars.unsealed += check.failed;
        }
    }
    for taken in book.kitchen.jars_used.values().map(|t| &t.fact).filter(|t| t.batch == id) {
        if let Some(jars) = sizes.get_mut(taken.jar.as_str()) {
            jars.used += taken.count;
        }
    }
    let left = |jars: Jars| Jars { left: (jars.made - jars.unsealed - jars.used).max(0), ..jars };
    sizes.into_values().map(left).collect()
}

fn seals<'a>(
    made: &BatchMade,
    checks: impl Iterator<Item = &'a SealsChecked>,
    now: Millis,
) -> Seals {
    let (from, until) = (made.at.plus(SEALS_FROM_MS), made.at.plus(SEALS_UNTIL_MS));
    let mut looked = false;
    let mut open = 0;
    for check in checks {
        looked = true;
        if check.became.as_deref().is_none_or(str::is_empty) {
            open += check.failed;
        }
    }
    match (looked, open) {
        (true, 0) => Seals::Checked,
        (true, count) => Seals::Unsealed { count, until },
        (false, _) if now < from => Seals::Wait { from, until },
        (false, _) if now <= until => Seals::Due { from, until },
        (false, _) => Seals::Late { from, until },
    }
}

/// The same day so many months on; the last of the month where there is none such.
fn months_after(day: Day, months: u32) -> Day {
    let later = day.date().checked_add_months(Months::new(months));
    later.and_then(|date| Day::from_ymd(date.year(), date.month(), date.day())).unwrap_or(day)
}
