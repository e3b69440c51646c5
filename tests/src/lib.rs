//! What proves the whole: golden vectors, the browser test, kills, and the benchmarks.

pub mod golden;
