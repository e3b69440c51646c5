//! The quick run of the simulation, and what it must have met; see `tests::sim`.

use std::collections::BTreeSet;

use tests::sim::{Case, Report, Sabotage, quick, run, shrink};

/// Runs spent on making a failing case smaller.
const SHRINK_TRIES: usize = 300;

fn lived(seed: u64, devices: usize) -> Report {
    let case = Case::of(seed, devices);
    run(&case, Sabotage::None).unwrap_or_else(|broken| {
        let (small, how) = shrink(&case, Sabotage::None, SHRINK_TRIES);
        let name = format!("seed_{seed}_{devices}");
        panic!("seed {seed}, {devices} devices: {broken}\n\n{}", small.as_test(&name, &how))
    })
}

#[test]
fn everyone_comes_to_one_book_under_every_fault() {
    let mut all = Report::default();
    for (seed, devices) in quick() {
        all.add(&lived(seed, devices));
    }
    println!("{all}");
    for fault in [
        "fate DropRequest",
        "fate DropReply",
        "fate Duplicate",
        "fate Reorder",
        "fate Delay",
        "fate TruncateRequest",
        "fate TruncateReply",
        "fate CrashBefore",
        "fate CrashAfter",
        "fate Stopping",
        "fate Panic",
        "calls into a partition",
        "killed before the store",
        "killed between commit and send",
        "quota full",
        "Evict",
        "evicted while open, written anew",
        "Clone",
        "Lose",
        "written again under a later id",
        "ClockJump",
        "OldApp",
        "upgraded with deferred entries",
        "upgraded with a full outbox",
        "overtaken by another tab",
        "ServerCrash",
        "ServerFull",
        "Restore",
        "CopyBack",
        "Expire",
        "snapshots taken",
        "shut out",
        "Rude",
        "told Forked",
        "told OtherServer",
        "told ClockOff",
    ] {
        assert!(all.of(fault) > 0, "`{fault}` was not met");
    }
    assert!(all.pairs > 0, "no two bins looked alike");
    let met: BTreeSet<&str> = all.refusals.keys().map(String::as_str).collect();
    // Every code of the exchange. `busy` and `internal` are the fates Stopping and Panic;
    // `not_found` is the router's.
    let codes = [
        "app_too_old",
        "batch_too_large",
        "clock_ahead",
        "code_wrong",
        "cursor_ahead",
        "cursor_expired",
        "device_forked",
        "device_mismatch",
        "entry_too_large",
        "epoch_changed",
        "forbidden",
        "gap",
        "malformed",
        "revoked",
        "server_too_old",
        "slow_down",
        "storage_failed",
        "token_unknown",
    ];
    for code in codes {
        assert!(met.contains(code), "`{code}` was not met, only {met:?}");
    }
}

#[test]
fn one_case_lives_one_life() {
    for (seed, devices) in quick().step_by(9) {
        let (first, second) = (lived(seed, devices), lived(seed, devices));
        assert_eq!(first.trace, second.trace, "seed {seed}, {devices} devices");
        assert_eq!(first.counts, second.counts, "seed {seed}, {devices} devices");
    }
    let traces: BTreeSet<u64> = (0..4).map(|seed| lived(seed, 2).trace).collect();
    assert_eq!(traces.len(), 4, "other seeds live other lives");
}

#[test]
fn each_planted_fault_is_found_by_the_quick_run() {
    for fault in Sabotage::ALL {
        let found = quick().find_map(|(seed, devices)| {
            let broken = run(&Case::of(seed, devices), fault).err()?;
            Some((seed, devices, broken))
        });
        let (seed, devices, broken) = found.unwrap_or_else(|| panic!("{fault:?} is not found"));
        println!("{fault:?}: seed {seed}, {devices} devices: {broken}");
    }
}
