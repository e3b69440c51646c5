//! Suspects, and in what order to eat a store.

use serde::{Deserialize, Serialize};

use super::keep::{Asked, KeepBy, KeepError, keep_by};
use super::table::tables;
use crate::ids::CropId;
use crate::trade::provenance::Mark;
use crate::trade::ripening::RoomClimate;
use crate::units::Day;

/// A lot in store, to be ranked.
#[derive(Clone, Debug, PartialEq)]
pub struct StoreLot {
    /// Its name, handed back.
    pub lot: String,
    /// The crop.
    pub crop: CropId,
    /// A variety's name, or the key of a kind.
    pub variety: Option<String>,
    /// The day it was picked.
    pub picked: Day,
    /// Where it stood and stands.
    pub room: RoomClimate,
    /// Whether it was cured.
    pub cured: Option<bool>,
    /// Days of chilling before it came in.
    pub chilled_before: f64,
    /// The day frost touched it, if it did.
    pub frosted: Option<Day>,
    /// The last round found softening ones left in it.
    pub softening: bool,
}

/// When to look again at what frost touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Suspect {
    /// First look.
    pub from: Day,
    /// Last look: what is sound then counts as sound.
    pub to: Day,
}

/// The look again at something frost touched on a day: the second to the fourth day after it
/// (common practice: a touched squash shows soft spots after two or three days indoors).
pub fn recheck(touched: Day) -> Suspect {
    let [from, to] = tables().rules.suspect_days.value;
    Suspect { from: touched.plus(from), to: touched.plus(to) }
}

/// A lot's place in the order, with its reason.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ranked {
    /// The lot.
    pub lot: String,
    /// Its keep-by.
    pub keep_by: KeepBy,
    /// When to look again, while it is a suspect.
    pub suspect: Option<Suspect>,
    /// Why it stands where it stands.
    pub reason: String,
    /// Id of the reason's source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// The order to eat a store in: what softens, what frost touched, what was chilled, then by the
/// share of its safe life that is used up, most first. Lots that are alike stay in their order.
///
/// # Errors
/// The first lot that cannot be, with its name.
pub fn eat_first(lots: &[StoreLot], today: Day) -> Result<Vec<Ranked>, (String, KeepError)> {
    let mut ranked = Vec::with_capacity(lots.len());
    for lot in lots {
        let asked = Asked {
            crop: &lot.crop,
            variety: lot.variety.as_deref(),
            picked: lot.picked,
            room: &lot.room,
            cured: lot.cured,
            chilled_before: lot.chilled_before,
        };
        let keep = keep_by(&asked, today).map_err(|error| (lot.lot.clone(), error))?;
        ranked.push(rank(lot, keep, today));
    }
    ranked.sort_by(|(a, _), (b, _)| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)));
    Ok(ranked.into_iter().map(|(_, ranked)| ranked).collect())
}

/// Rank (lower is sooner), share used, and the told place.
fn rank(lot: &StoreLot, keep_by: KeepBy, today: Day) -> ((u8, f64), Ranked) {
    let suspect = lot.frosted.map(recheck);
    let chilled = keep_by.chill.filter(|chill| chill.days >= 1.0);
    let practice = ("common-practice".to_owned(), Mark::Practice);
    let life = keep_by.lives.first();
    let of_life = life.map(|life| (life.source.clone(), life.mark));
    let (rank, reason, (source, mark)) = if lot.softening {
        (0, "some are softening: use them now".to_owned(), practice)
    } else if let Some(suspect) = suspect {
        let reason = if today < suspect.from {
            format!("frost touched it: look at it from {} to {}", suspect.from, suspect.to)
        } else if today <= suspect.to {
            format!("frost touched it: look at it now, and again on {}", suspect.to)
        } else {
            "frost touched it: eat what is sound before the rest".to_owned()
        };
        (1, reason, practice)
    } else if let Some(chill) = chilled {
        let reason = format!("chilled for {:.1} days: it keeps less long", chill.days);
        let source = ("ucd-squash".to_owned(), Mark::V);
        (2, reason, source)
    } else {
        let left = keep_by.from.since(today);
        let reason = if left > 0 {
            format!("safe for about {left} more days, until {}", keep_by.from)
        } else if today <= keep_by.to {
            format!("past its safe day ({}): look at it each week", keep_by.from)
        } else {
            format!("past its longest life ({})", keep_by.to)
        };
        (3, reason, of_life.unwrap_or(practice))
    };
    let used = keep_by.used;
    let ranked = Ranked { lot: lot.lot.clone(), keep_by, suspect, reason, source, mark };
    ((rank, used), ranked)
}
