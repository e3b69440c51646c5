//! A backup in the database's place.
//!
//! The restored log gets a new epoch. Phones that know the old one drop their cursors, take the
//! restored log, and offer again every entry of theirs that it lacks: see
//! [`shared_types::wire`] on epochs. So a backup of last week and the phones of this week make the
//! whole season again.
//!
//! The order of steps matters, since the power may go between any two: the file that stood there
//! gets a second name first, and the new one then takes the old name in one step. There is no moment
//! without a database.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use shared_types::ids::EpochId;
use shared_types::units::Millis;

use super::backup::{beside, read_back};
use super::verify::Verified;
use super::{RecoveryError, sync};
use crate::config::DataConfig;
use crate::store;

/// What was put in place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restored {
    /// What the backup holds.
    pub verified: Verified,
    /// Where the database that stood there before is now; `None` when there was none.
    pub aside: Option<PathBuf>,
}

/// Puts the backup `from` in the place of the folder's database, under `epoch`.
///
/// # Errors
/// When a server runs on the folder, when `from` cannot be trusted, or when the disk fails. The
/// folder then holds what it held.
pub fn restore(
    config: &DataConfig,
    from: &Path,
    epoch: EpochId,
    now: Millis,
) -> Result<Restored, RecoveryError> {
    let verified = read_back(from)?;
    let _lock = store::lock(config)?;
    let place = config.file();
    let coming = beside(&place, "restoring");
    fs::copy(from, &coming).map_err(RecoveryError::file(&coming))?;
    store::renew_epoch(&coming, epoch)?;
    sync(&coming)?;
    let aside = set_aside(config, now)?;
    fs::rename(&coming, &place).map_err(RecoveryError::file(&place))?;
    sync(&place)?;
    Ok(Restored { verified, aside })
}

/// Gives the database that stands there, and what belongs to it, a second name.
fn set_aside(config: &DataConfig, now: Millis) -> Result<Option<PathBuf>, RecoveryError> {
    let place = config.file();
    if !place.exists() {
        return Ok(None);
    }
    // Moves the last commits from the WAL into the file. A damaged one may refuse; then the WAL is
    // kept beside it under the same name.
    store::settle_wal(config);
    let aside = beside(&place, &format!("replaced-{}", now.0));
    fs::hard_link(&place, &aside).map_err(RecoveryError::file(&aside))?;
    for ending in ["-wal", "-shm"] {
        let of = |path: &Path| {
            let mut name = path.as_os_str().to_owned();
            name.push(ending);
            PathBuf::from(name)
        };
        match fs::rename(of(&place), of(&aside)) {
            Err(source) if source.kind() != io::ErrorKind::NotFound => {
                return Err(RecoveryError::File { path: of(&place), source });
            }
            _ => {}
        }
    }
    Ok(Some(aside))
}
