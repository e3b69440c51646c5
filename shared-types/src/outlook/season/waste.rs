//! What was thrown away: how much, why, and where it had stood.

use std::collections::BTreeMap;

use serde::Serialize;

use super::names::crop_name;
use crate::book::Book;
use crate::book::lots::Lot;
use crate::units::Grams;

/// What was lost of a year's picking, once it had been carried in.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Waste {
    /// In all.
    pub total: Grams,
    /// Thousandths of what was picked.
    pub permille: i64,
    /// By the room it stood in, most first.
    pub by_room: Vec<WasteLine>,
    /// By crop, most first.
    pub by_crop: Vec<WasteLine>,
    /// By the defect it was carried in with, most first.
    pub by_defect: Vec<WasteLine>,
    /// Fed to animals, which is a use and not counted above.
    pub fed: Grams,
}

/// One line of waste.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WasteLine {
    /// What or where, in words.
    pub name: String,
    /// How much.
    pub grams: Grams,
    /// Of how much that came there.
    pub of: Grams,
}

/// Words of takings that are waste. Compost feeds only the soil.
const LOST: [&str; 2] = ["lost", "compost"];

pub(super) fn waste(book: &Book, year: i32) -> Waste {
    let lots = book.lots();
    let of_year: Vec<&Lot> = lots.all.values().filter(|lot| lot.day.year() == year).collect();
    let lost = |lot: &Lot| -> Grams {
        LOST.iter().map(|what| lot.taken.get(*what).copied().unwrap_or_default()).sum()
    };
    let by = |name: &dyn Fn(&Lot) -> String| -> Vec<WasteLine> {
        let mut lines: BTreeMap<String, (Grams, Grams)> = BTreeMap::new();
        for lot in &of_year {
            let (grams, of) = lines.entry(name(lot)).or_default();
            *grams += lost(lot);
            *of += lot.came;
        }
        let mut lines: Vec<WasteLine> = lines
            .into_iter()
            .filter(|(_, (grams, _))| *grams > Grams::ZERO)
            .map(|(name, (grams, of))| WasteLine { name, grams, of })
            .collect();
        lines.sort_by(|a, b| b.grams.cmp(&a.grams).then_with(|| a.name.cmp(&b.name)));
        lines
    };
    let total: Grams = of_year.iter().map(|lot| lost(lot)).sum();
    let came: Grams = of_year.iter().map(|lot| lot.came).sum();
    let room = |lot: &Lot| {
        lot.room().map_or_else(|| "no room said".to_owned(), |room| book.room_name(room).to_owned())
    };
    let defect = |lot: &Lot| lot.defect.clone().unwrap_or_else(|| "carried in sound".to_owned());
    Waste {
        total,
        permille: if came.0 > 0 { (total.0 * 2000 + came.0) / (came.0 * 2) } else { 0 },
        by_room: by(&room),
        by_crop: by(&|lot| crop_name(&lot.crop)),
        by_defect: by(&defect),
        fed: of_year.iter().map(|lot| lot.taken.get("feed").copied().unwrap_or_default()).sum(),
    }
}
