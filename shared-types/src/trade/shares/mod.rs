//! Shares: how much of a crop had a defect, how sure that is, and whether two shares differ.
//!
//! # Context
//! "The bed watered by hand has rot at the blossom end, the drip bed has none" is a finding when
//! many plants say so, and an anecdote when two fruits do. A share without its interval cannot tell
//! the two apart.
//!
//! # Design
//! **What is counted.** Fruits: counted ones, or a weight divided by the mass of one fruit, or bins
//! as they are ([`Basis`] says which, and the screen does too).
//!
//! **Clusters.** Fruits of one bed share their water, their soil and their picker, so they are no
//! independent witnesses. With `m` fruits to a cluster and a correlation ρ between them
//!
//! ```text
//! deff  = 1 + (m − 1)·ρ          design effect (Kish 1965, from memory); ρ = 0.1, an assumption
//! n_eff = n / deff
//! ```
//!
//! **Interval.** Clopper and Pearson's exact one on the effective counts (Korn and Graubard's
//! proposal for clustered counts), 95 %, by the Beta distribution of `statrs`. It errs on the wide
//! side.
//!
//! **Difference.** Two shares differ when their intervals do not overlap; otherwise the answer is
//! "not enough to say". Fisher's exact test on the rounded effective counts stands beside it.
//!
//! # Not yet true
//! ρ is one number for every crop and defect; it is not estimated from many beds.

mod compare;
mod interval;

pub use compare::{Compared, Verdict, compare, fisher_exact, standing_out};
pub use interval::{Basis, CORRELATION, LEVEL, Share, Tally, clopper_pearson, fruits_of, share};
