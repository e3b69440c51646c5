//! What a run saw.

use std::collections::BTreeMap;
use std::fmt;

use shared_types::wire::RefusalCode;

/// Counts of what happened, by name.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// Faults by kind, notices, ways back taken.
    pub counts: BTreeMap<String, u64>,
    /// Refusals of the exchange by code.
    pub refusals: BTreeMap<String, u64>,
    /// Virtual days lived by all devices together.
    pub device_days: f64,
    /// Things people were told to be kept.
    pub kept: u64,
    /// Kills of devices and of the server.
    pub kills: u64,
    /// Rows in the logs at the end.
    pub rows: u64,
    /// Pairs that may be one bin, in the books at the end.
    pub pairs: u64,
    /// A hash of everything that happened, in order.
    pub trace: u64,
}

impl Report {
    pub(super) fn refused(&mut self, code: &RefusalCode) {
        *self.refusals.entry(code_name(code)).or_default() += 1;
    }

    /// How often something was counted.
    pub fn of(&self, what: &str) -> u64 {
        self.counts.get(what).copied().unwrap_or(0)
    }

    /// Adds what another run saw.
    pub fn add(&mut self, other: &Self) {
        for (what, n) in &other.counts {
            *self.counts.entry(what.clone()).or_default() += n;
        }
        for (code, n) in &other.refusals {
            *self.refusals.entry(code.clone()).or_default() += n;
        }
        self.device_days += other.device_days;
        self.kept += other.kept;
        self.kills += other.kills;
        self.rows += other.rows;
        self.pairs += other.pairs;
        self.trace = self.trace.rotate_left(5) ^ other.trace;
    }
}

/// The code as it travels.
pub(super) fn code_name(code: &RefusalCode) -> String {
    let value = serde_json::to_value(code).expect("a code is written as JSON");
    value["code"].as_str().expect("under its name").to_owned()
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { device_days, kept, kills, rows, pairs, .. } = self;
        writeln!(
            f,
            "{device_days:.1} device-days, {kept} kept, {rows} rows, {kills} kills, {pairs} pairs"
        )?;
        for (what, n) in self.counts.iter().chain(&self.refusals) {
            writeln!(f, "{n:>9}  {what}")?;
        }
        Ok(())
    }
}
