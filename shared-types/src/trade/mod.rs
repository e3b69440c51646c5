//! The trade's knowledge: inputs in, an answer out, with its reason and its source.
//!
//! # Context
//! A grower stands before a pile of fruit the night before or after a killing frost. When will it
//! ripen, what may be done with it, by which tested method, and in what order? Published figures
//! exist for most of it. They are data here, under `shared-types/data/`, each with where it was
//! read and how sure that reading is ([`provenance`]), so that a wrong figure can be found, shown
//! and mended without touching code.
//!
//! # Design
//! Every module is a pure function over tables. It knows [`crate::units`] and [`crate::ids`] and
//! nothing of the log: the same input gives the same answer on a phone and on the house server, to
//! the last bit. `exp`, `ln` and their kin come from `libm` on both sides, because the platforms'
//! own differ in the last digit.
//!
//! | module | asks | answers |
//! |---|---|---|
//! | [`crops`] | what is this crop, how is it sorted? | classes, stages, defects, whether it ripens in a room |
//! | [`ripening`] | what will be ripe when? | kilograms per day at 10, 50 and 90 % |
//! | [`fitness`] | what may this fruit be used for? | jar, freeze, dry, fresh, feed; with the reason |
//! | [`methods`] | how, safely, at this height in this jar? | minutes, acid, headspace, or a refusal |
//! | [`pantry`] | how long is what was made at its best? | months, by kind |
//! | [`kitchen`] | what shall we make in the next three days? | batches, in order of what spoils first |
//! | [`kitchen::planner`] | and in the next fortnight, within every limit? | batches and rooms, with a proven bound |
//! | [`cold`] | how low tonight, and who is at risk? | a low with its range, risks, chores, heat |
//! | [`stores`] | how long does it keep, what first? | cure or not, keep-by, order, survival |
//! | [`shares`] | what went wrong where? | shares with intervals, or "not enough to say" |
//!
//! # Not yet true
//! Rates, lags and losses are not yet learned from rounds: [`ripening::Belief`] is the seam.

pub mod cold;
pub mod crops;
pub mod fitness;
pub mod kitchen;
pub mod methods;
pub mod pantry;
pub mod provenance;
pub mod ripening;
pub mod shares;
pub mod stores;
