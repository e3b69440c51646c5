//! What keeps the log when the disk, the laptop or someone's hand fails.
//!
//! **Context.** An old laptop in a kitchen is the server. Its disk dies, someone deletes the folder,
//! or the machine moves. Phones hold their own entries for the season, so a lost disk loses only
//! what no phone has; a backup keeps that from being anything.
//!
//! **Design.**
//! - [`backup`] copies the running database into one file (`vacuum into`: one moment of the log,
//!   while phones go on writing), reads the copy back whole, and only then gives it its name. It
//!   never overwrites.
//! - [`rotate`] does that each night into `backups/` beside the database and lets old ones go: the
//!   last seven days, then one a week for a month, then one a month for a year.
//! - [`restore`] puts a backup in the database's place under a new epoch, so that every phone offers
//!   again what the backup lacks. What stood there before is kept aside under another name.
//! - [`check`] reads everything and says what is wrong, in words.
//! - [`verify`] is what all of them trust: each row's hash and the running digest made anew.

pub mod backup;
pub mod check;
pub mod restore;
pub mod rotate;
pub mod verify;

use std::io;
use std::path::{Path, PathBuf};

use thiserror::Error;

use crate::store::OpenError;

pub use verify::{Broken, Verified};

/// Why a copy was not made or not taken. Nothing is changed when one of these is returned.
#[derive(Debug, Error)]
pub enum RecoveryError {
    /// The data folder cannot be opened.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// A file stands where the new one should be.
    #[error("{path} is there already and is left alone; give a name that is free", path = .path.display())]
    Exists {
        /// Which file.
        path: PathBuf,
    },
    /// The file to restore is not there.
    #[error("there is no file {path}; give the backup to restore", path = .path.display())]
    Absent {
        /// Which file.
        path: PathBuf,
    },
    /// The copy does not hold what it should.
    #[error("{path} cannot be trusted: {broken}; take an older backup", path = .path.display())]
    Broken {
        /// Which file.
        path: PathBuf,
        /// What is wrong with it.
        broken: Broken,
    },
    /// The database failed.
    #[error("{path}: {source}; is the disk full or read-only?", path = .path.display())]
    Database {
        /// Which file.
        path: PathBuf,
        /// What it says.
        source: rusqlite::Error,
    },
    /// The file system failed.
    #[error("{path}: {source}; is the disk full or read-only?", path = .path.display())]
    File {
        /// Which file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

impl RecoveryError {
    fn database(path: &Path) -> impl FnOnce(rusqlite::Error) -> Self {
        move |source| Self::Database { path: path.to_owned(), source }
    }

    fn file(path: &Path) -> impl FnOnce(io::Error) -> Self {
        move |source| Self::File { path: path.to_owned(), source }
    }
}

/// Puts a file and its name on the disk.
fn sync(path: &Path) -> Result<(), RecoveryError> {
    let synced = || {
        std::fs::File::open(path)?.sync_all()?;
        match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => {
                std::fs::File::open(folder)?.sync_all()
            }
            _ => std::fs::File::open(".")?.sync_all(),
        }
    };
    synced().map_err(RecoveryError::file(path))
}
