//! Stores: cure or not, how long it keeps in its room, what to eat first.
//!
//! # Context
//! Squash are cured, or not, by kind; onions dried; roots packed; each keeps so long at such a
//! temperature. A squash that frost touched looks fine for two days and then softens at one spot.
//! Leaflets disagree on nearly every figure.
//!
//! # Design
//! **Table.** One row per kind that keeps alike (`stores.json`): its best room, its lives by source,
//! whether to cure. A variety's name tells its kind ([`kind`]). Where sources conflict all are kept
//! and shown, and the cautious end of each range counts ([`Kind::life`]).
//!
//! **Keep-by** is a range of days ([`keep_by`]): the life in the best room is used up day by day, faster
//! in warmth. What is not published (how much chilling, damp or a missed cure takes off) shortens the
//! early end only, by factors that are marked as assumptions in the table.
//!
//! **Chilling clock.** Days below 10 °C for squash and pumpkin, field and store together; it only ever
//! adds up.
//!
//! **Eat first** ([`eat_first`]): what softens, what frost touched, what was chilled, then by the share
//! of the safe life that is used up. Suspects are looked at again on day two to four ([`recheck`]).
//!
//! **Own rounds** give a survival curve with its range, held against the one published trial
//! ([`survival`]); few fruits are "not enough to say".
//!
//! **Outside** ([`waits`]): which crops sweeten, which may freeze in the ground, which must come in.
//!
//! [`bounds`] asks about yields that can hardly be. A whole question as JSON is a [`case::Case`].
//!
//! # Not yet true
//! - How life falls with warmth is one rule for every crop; nothing of it is learned from rounds.
//! - The chilling limit of squash is a temperature; no source here says after how many days it shows.
//! - Large single fruits that are guessed, not weighed, are the log's matter, not this table's.

pub mod bounds;
pub mod case;
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
