//! A backup each night, and which of the old ones stay.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::time::Duration;

use chrono::Datelike as _;
use shared_types::units::Day;
use tokio::sync::watch;

use super::backup::backup;
use super::verify::Verified;
use super::{RecoveryError, sync};
use crate::clock;
use crate::config::DataConfig;

/// How often the running server looks whether a backup is due. A laptop that sleeps through the
/// night makes up for it within this time of waking.
const LOOK_EVERY: Duration = Duration::from_secs(30 * 60);

/// Days, weeks and months of which the latest backup is kept.
const DAYS: usize = 7;
const WEEKS: usize = 4;
const MONTHS: usize = 12;

/// Makes a backup each day into `backups/` of the data folder, until `stopping` says true. One under
/// way is finished first: while it reads, the store cannot be put away whole. A failure is logged
/// and tried again at the next look.
pub async fn nightly(config: DataConfig, mut stopping: watch::Receiver<bool>) {
    loop {
        let of_config = config.clone();
        let done = tokio::task::spawn_blocking(move || due(&of_config)).await;
        match done {
            Ok(Ok(None)) => {}
            Ok(Ok(Some(made))) => {
                tracing::info!(entries = made.entries, "backup.made");
            }
            Ok(Err(error)) => tracing::error!(why = %error, "backup.failed"),
            Err(error) => tracing::error!(why = %error, "backup.failed"),
        }
        let stop = stopping.wait_for(|stop| *stop);
        if tokio::time::timeout(LOOK_EVERY, stop).await.is_ok() {
            return;
        }
    }
}

/// Makes today's backup unless it is there, and removes those that are no longer kept.
///
/// # Errors
/// As [`backup`], and when the folder cannot be read or written.
pub fn due(config: &DataConfig) -> Result<Option<Verified>, RecoveryError> {
    let now = clock::now();
    let today = Day::at(now, clock::offset_minutes(now));
    on_day(config, today)
}

/// What [`due`] does on a given day.
///
/// # Errors
/// As [`due`].
pub fn on_day(config: &DataConfig, today: Day) -> Result<Option<Verified>, RecoveryError> {
    let folder = config.dir.join("backups");
    std::fs::create_dir_all(&folder).map_err(RecoveryError::file(&folder))?;
    let to = folder.join(name(today));
    if to.exists() {
        return Ok(None);
    }
    let made = backup(config, &to)?;
    let standing = standing(&folder)?;
    let kept = kept(&standing);
    for day in standing.iter().filter(|day| !kept.contains(day)) {
        let old = folder.join(name(*day));
        std::fs::remove_file(&old).map_err(RecoveryError::file(&old))?;
    }
    sync(&to)?;
    Ok(Some(made))
}

fn name(day: Day) -> PathBuf {
    PathBuf::from(format!("lugbook-{day}.sqlite"))
}

/// The days of which the folder holds a backup. Files of other names are not ours to touch.
fn standing(folder: &Path) -> Result<BTreeSet<Day>, RecoveryError> {
    let files = std::fs::read_dir(folder).map_err(RecoveryError::file(folder))?;
    let mut days = BTreeSet::new();
    for file in files {
        let file = file.map_err(RecoveryError::file(folder))?.file_name();
        let day = file.to_str().and_then(|file| {
            file.strip_prefix("lugbook-")?.strip_suffix(".sqlite")?.parse::<Day>().ok()
        });
        days.extend(day);
    }
    Ok(days)
}

/// Of the backups of `days`, the last of each of the last [`DAYS`] days, [`WEEKS`] weeks and
/// [`MONTHS`] months that have one. Counted over what is there and not over the calendar, so that
/// a machine that slept for a season keeps what it has.
fn kept(days: &BTreeSet<Day>) -> BTreeSet<Day> {
    let mut kept = BTreeSet::new();
    latest_of_each(days, DAYS, |day| (day.number(), 0), &mut kept);
    latest_of_each(
        days,
        WEEKS,
        |day| {
            let week = day.date().iso_week();
            (week.year(), week.week())
        },
        &mut kept,
    );
    latest_of_each(days, MONTHS, |day| (day.year(), day.date().month()), &mut kept);
    kept
}

fn latest_of_each(
    days: &BTreeSet<Day>,
    count: usize,
    span: impl Fn(Day) -> (i32, u32),
    kept: &mut BTreeSet<Day>,
) {
    let mut spans = BTreeSet::new();
    for day in days.iter().rev() {
        if spans.len() == count && !spans.contains(&span(*day)) {
            break;
        }
        if spans.insert(span(*day)) {
            kept.insert(*day);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> Day {
        text.parse().unwrap()
    }

    #[test]
    fn a_year_of_nights_keeps_a_week_a_month_and_a_year() {
        let last = day("2026-11-25");
        let mut standing = BTreeSet::new();
        // Night after night: what is let go is not there the next night.
        for back in (0..400).rev() {
            standing.insert(last.plus(-back));
            standing = kept(&standing);
        }
        let ages: Vec<i32> = standing.iter().rev().map(|day| last.since(*day)).collect();
        assert_eq!(ages[..7], [0, 1, 2, 3, 4, 5, 6]);
        assert!(standing.len() <= DAYS + WEEKS + MONTHS, "{ages:?}");
        assert!(ages.iter().any(|age| (14..=27).contains(age)), "three weeks back: {ages:?}");
        assert!(ages.iter().any(|age| *age > 300), "most of a year back: {ages:?}");
    }

    #[test]
    fn a_machine_that_slept_keeps_what_it_has() {
        let standing: BTreeSet<Day> = ["2024-05-01", "2024-09-30", "2026-11-25"].map(day).into();
        assert_eq!(kept(&standing), standing);
    }
}
