//! A case: what people do, what goes wrong, and the fate of every call. All of it is data, so that a
//! failing one can be made smaller and written out.

use std::fmt::Write as _;

use oorandom::Rand64;

/// One life of a farm's devices.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Case {
    /// Devices at the beginning; copies come on top.
    pub devices: usize,
    /// What people do, in order of time.
    pub steps: Vec<Step>,
    /// What goes wrong with devices and server, in order of time.
    pub troubles: Vec<Trouble>,
    /// What becomes of the first call, the second, and so on; calls beyond these go well.
    pub fates: Vec<Fate>,
}

/// At a second, on a device (counted round when there are fewer), a deed. The last number makes
/// what is kept unlike anything else.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step(pub i64, pub usize, pub Do, pub u32);

/// What a person does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Do {
    /// Keeps a bin of its own.
    Bin,
    /// Keeps a bin that looks like the one another device keeps at that minute.
    AlikeBin,
    /// Keeps a bin under a name that others use too, which no honest app does.
    ClaimedBin,
    /// Keeps a bin with a long tag.
    HeavyBin,
    /// Keeps as many bins as a day offline brings, thirty times the number.
    ManyBins(u8),
    /// Puts right the weight of some bin in sight.
    Correct,
    /// Strikes some bin in sight.
    Strike,
    /// Names a room anew and sets its temperature: the kind an old app does not know.
    Room,
    /// Keeps what makes no sense and is set aside.
    Nonsense,
    /// Says of the first pair in sight that it is two bins.
    Apart,
    /// Keeps a bin in a second tab of the same browser.
    InOtherTab,
    /// Closes the app for some minutes.
    Close(u16),
    /// Starts the newest program.
    Upgrade,
    /// Shuts the device out; its person asks for a new code.
    Revoke,
}

/// At a second, on a device where it concerns one, a misfortune.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trouble(pub i64, pub usize, pub What);

/// What goes wrong besides single calls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// The device has no network for so many minutes.
    Partition(u16),
    /// Killed before the next transaction is on its disk.
    KillBeforeStore,
    /// Killed when the next transaction is on its disk, before anything is said or sent.
    KillAfterStore,
    /// The device's disk is full for one transaction.
    QuotaFull,
    /// The browser empties the device's storage.
    Evict,
    /// The device is lost for good, with all that is on it.
    Lose,
    /// A copy of the device's storage is opened on another device.
    Clone,
    /// The device's clock is off by so many hours from now on.
    ClockJump(i16),
    /// An app that was never updated: it defers a kind.
    OldApp,
    /// The server's plug is pulled; it is back after so many seconds.
    ServerCrash(u16),
    /// The server's disk has no room for so many minutes.
    ServerFull(u16),
    /// A copy of the server's database is put away.
    Backup,
    /// The server is restored from an older copy, with another epoch.
    Restore(u8),
    /// Someone copies an older database file back by hand: the epoch stays.
    CopyBack(u8),
    /// The server keeps only the later half of its log row by row.
    Expire,
    /// A client that breaks the rules in the manner of this number.
    Rude(u8),
}

/// What becomes of one call.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fate {
    /// It goes well.
    #[default]
    Fine,
    /// The request never arrives.
    DropRequest,
    /// It is answered, committed, and the answer never arrives.
    DropReply,
    /// The request arrives twice.
    Duplicate,
    /// The request arrives after the phone has given up and perhaps asked anew.
    Reorder,
    /// The answer takes so many seconds.
    Delay(u8),
    /// The request breaks off.
    TruncateRequest,
    /// The answer breaks off.
    TruncateReply,
    /// The server dies with the request admitted and not committed.
    CrashBefore,
    /// The server dies when it has committed and not answered.
    CrashAfter,
    /// The server is stopping and says so.
    Stopping,
    /// A fault of the server's own.
    Panic,
}

/// How long people are at it, seconds.
pub const SPAN_S: i64 = 12 * 3600;

impl Case {
    /// The case of `seed`. The plan and the misfortunes come from two streams, so that a change of
    /// one leaves the other as it was.
    pub fn of(seed: u64, devices: usize) -> Self {
        let wide = u128::from(seed) << 8 | devices as u128;
        let mut plan = Rand64::new(wide);
        let mut faults = Rand64::new_inc(wide, 0x5bd1_e995_9d1b_58d5);
        let mut steps = Vec::new();
        for n in 0..devices as u32 * 24 {
            let at = plan.rand_range(0..SPAN_S as u64) as i64;
            let device = plan.rand_range(0..devices as u64 + 2) as usize;
            let what = some_deed(&mut plan);
            steps.push(Step(at, device, what, n * 2));
            if what == Do::AlikeBin {
                steps.push(Step(at + 40, device + 1, what, n * 2 + 1));
            }
        }
        if plan.rand_range(0..8) == 0 {
            let many = plan.rand_range(5..25) as u8;
            steps.push(Step(
                plan.rand_range(0..SPAN_S as u64) as i64,
                0,
                Do::ManyBins(many),
                9_999,
            ));
        }
        steps.sort_by_key(|step| step.0);
        let troubles = some_troubles(&mut faults, devices);
        let fates = (0..devices * 160).map(|_| some_fate(&mut faults)).collect();
        Self { devices, steps, troubles, fates }
    }

    /// The case as Rust, ready to be pasted below `tests/tests/regressions`.
    pub fn as_test(&self, name: &str, broken: &str) -> String {
        let mut text = format!(
            "//! {broken}\n\nuse tests::sim::{{Case, Do, Fate, Sabotage, Step, Trouble, What, run}};\n\n#[test]\nfn {name}() {{\n    let case = Case {{\n        devices: {},\n        steps: vec![\n",
            self.devices
        );
        for Step(at, device, what, n) in &self.steps {
            writeln!(text, "            Step({at}, {device}, Do::{what:?}, {n}),").expect("memory");
        }
        text.push_str("        ],\n        troubles: vec![\n");
        for Trouble(at, device, what) in &self.troubles {
            writeln!(text, "            Trouble({at}, {device}, What::{what:?}),").expect("memory");
        }
        text.push_str("        ],\n        fates: vec![\n");
        for fate in &self.fates {
            writeln!(text, "            Fate::{fate:?},").expect("memory");
        }
        text.push_str("        ],\n    };\n    run(&case, Sabotage::None).unwrap();\n}\n");
        text
    }
}

fn some_deed(plan: &mut Rand64) -> Do {
    match plan.rand_range(0..100) {
        0..40 => Do::Bin,
        40..52 => Do::AlikeBin,
        52..56 => Do::ClaimedBin,
        56..58 => Do::HeavyBin,
        58..68 => Do::Correct,
        68..72 => Do::Strike,
        72..82 => Do::Room,
        82..86 => Do::Nonsense,
        86..88 => Do::Apart,
        88..92 => Do::InOtherTab,
        92..97 => Do::Close(plan.rand_range(1..120) as u16),
        97..99 => Do::Upgrade,
        _ => Do::Revoke,
    }
}

fn some_troubles(faults: &mut Rand64, devices: usize) -> Vec<Trouble> {
    let mut troubles = Vec::new();
    for _ in 0..6 + devices * 3 {
        let at = faults.rand_range(0..SPAN_S as u64) as i64;
        let device = faults.rand_range(0..devices as u64 + 1) as usize;
        let small = faults.rand_range(0..250) as u16;
        let what = match faults.rand_range(0..100) {
            0..14 => What::Partition(small),
            14..22 => What::KillBeforeStore,
            22..32 => What::KillAfterStore,
            32..36 => What::QuotaFull,
            36..40 => What::Evict,
            40..46 => What::Clone,
            46..54 => What::ClockJump(small as i16 - 100),
            54..59 => What::OldApp,
            59..65 => What::ServerCrash(small),
            65..69 => What::ServerFull(small),
            69..78 => What::Backup,
            78..83 => What::Restore(small as u8),
            83..86 => What::CopyBack(small as u8),
            86..90 => What::Expire,
            _ => What::Rude(small as u8),
        };
        troubles.push(Trouble(at, device, what));
    }
    if faults.rand_range(0..3) == 0 {
        troubles.extend(parted_twins(faults, devices));
    }
    troubles.sort_by_key(|trouble| trouble.0);
    troubles
}

/// A run of misfortunes that chance alone brings together too seldom: a phone and its copy part, one
/// of them is lost, and then the server is put back to a time before.
fn parted_twins(faults: &mut Rand64, devices: usize) -> [Trouble; 4] {
    let device = faults.rand_range(0..devices as u64) as usize;
    let lost = if faults.rand_range(0..2) == 0 { device } else { devices };
    let mut at = [0; 4].map(|_: i64| faults.rand_range(0..SPAN_S as u64) as i64);
    at.sort_unstable();
    [
        Trouble(at[0], device, What::Backup),
        Trouble(at[1], device, What::Clone),
        Trouble(at[2], lost, What::Lose),
        Trouble(at[3], device, What::Restore(faults.rand_range(0..250) as u8)),
    ]
}

fn some_fate(faults: &mut Rand64) -> Fate {
    match faults.rand_range(0..100) {
        0..66 => Fate::Fine,
        66..71 => Fate::DropRequest,
        71..77 => Fate::DropReply,
        77..81 => Fate::Duplicate,
        81..85 => Fate::Reorder,
        85..89 => Fate::Delay(faults.rand_range(1..120) as u8),
        89..91 => Fate::TruncateRequest,
        91..94 => Fate::TruncateReply,
        94..96 => Fate::CrashBefore,
        96..98 => Fate::CrashAfter,
        98 => Fate::Stopping,
        _ => Fate::Panic,
    }
}
