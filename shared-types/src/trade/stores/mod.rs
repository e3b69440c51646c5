//! Stores: cure or not, how long it keeps in its room, what to eat first.
mod eat_first;
mod keep;
mod survival;
mod table;
mod waits;

pub use eat_first::{Ranked, StoreLot, Suspect, eat_first, recheck};
pub use keep::{Asked, Chill, KeepBy, KeepError, MAX_KEEP_DAYS, keep_by};
pub use survival::{
    Against, BookCurve, Look, Point, Survival, SurvivalError, book_curve, survival,
};
pub use table::{Cure, CureVerdict, FreezingClass, Kind, Life, kind, kinds};
pub use waits::{Waits, Way, waits, waits_all};
