//! One file that holds everything, made while the server runs.

use std::fs::OpenOptions;
use std::io;
use std::path::{Path, PathBuf};

use rusqlite::{Connection, OpenFlags};

use super::verify::{Verified, verify};
use super::{RecoveryError, sync};
use crate::config::DataConfig;
use crate::store;

/// Copies the database of the folder into `to` and reads the copy back. The copy holds one moment
/// of the log; phones go on writing meanwhile.
///
/// # Errors
/// When there is no database, when `to` is there already, when the disk is full, or when the copy
/// does not read back. `to` is then not made.
pub fn backup(config: &DataConfig, to: &Path) -> Result<Verified, RecoveryError> {
    if to.exists() {
        return Err(RecoveryError::Exists { path: to.to_owned() });
    }
    let part = beside(to, "part");
    let made = make(config, &part).and_then(|verified| {
        // A link never replaces: of two backups to one name, one fails.
        std::fs::hard_link(&part, to).map_err(|source| match source.kind() {
            io::ErrorKind::AlreadyExists => RecoveryError::Exists { path: to.to_owned() },
            _ => RecoveryError::File { path: to.to_owned(), source },
        })?;
        Ok(verified)
    });
    // Whatever came of it, the unfinished name goes; that it was never made is fine.
    match std::fs::remove_file(&part) {
        Err(source) if source.kind() != io::ErrorKind::NotFound => {
            return Err(RecoveryError::File { path: part, source });
        }
        _ => {}
    }
    let verified = made?;
    sync(to)?;
    Ok(verified)
}

fn make(config: &DataConfig, part: &Path) -> Result<Verified, RecoveryError> {
    let source = store::open_to_copy(config)?;
    // For its owner only: it holds people's names and hashes of tokens. `vacuum into` takes an
    // empty file.
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(part).map_err(RecoveryError::file(part))?;
    let name = part.to_string_lossy();
    source
        .execute("vacuum into ?1", [name.as_ref()])
        .map_err(RecoveryError::database(&config.file()))?;
    sync(part)?;
    read_back(part)
}

/// Opens a copy for reading only and reads it whole.
///
/// # Errors
/// When it is no database of this program, or cannot be trusted.
pub fn read_back(path: &Path) -> Result<Verified, RecoveryError> {
    if !path.is_file() {
        return Err(RecoveryError::Absent { path: path.to_owned() });
    }
    let conn = Connection::open_with_flags(path, OpenFlags::SQLITE_OPEN_READ_ONLY)
        .map_err(RecoveryError::database(path))?;
    store::examine(&conn, path)?;
    verify(&conn)
        .map_err(RecoveryError::database(path))?
        .map_err(|broken| RecoveryError::Broken { path: path.to_owned(), broken })
}

/// The same name with one more ending.
pub(super) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".");
    name.push(ending);
    PathBuf::from(name)
}
