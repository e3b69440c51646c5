//! Opening the database: whose it is, which version, and the settings every connection has.

use std::fs::{DirBuilder, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use rusqlite::{Connection, TransactionBehavior};
use shared_types::ids::EpochId;
use thiserror::Error;

use super::meta;
use crate::config::DataConfig;

/// `application_id` of a Lugbook database: `LUGB`.
const APPLICATION_ID: i32 = i32::from_be_bytes(*b"LUGB");

/// Each is applied once, in order; `user_version` counts them. Only ever appended to: a changed
/// one would leave the databases that have it already behind for ever.
const MIGRATIONS: [&str; 3] = [
    include_str!("../../migrations/0001_log.sql"),
    include_str!("../../migrations/0002_calendar.sql"),
    include_str!("../../migrations/0003_sensors.sql"),
];

/// The first SQLite without the WAL-reset bug of 3.7.0 to 3.51.2, which could lose committed
/// transactions when a checkpoint met a writer (fixed in 3.51.3).
const SQLITE_OLDEST: i32 = 3_051_003;

/// Why a database is not opened, in words for the person who starts the server.
#[derive(Debug, Error)]
pub enum OpenError {
    /// The folder cannot be made or written.
    #[error(
        "cannot keep data in {dir}: {source}; give a folder that can be written with --data",
        dir = .dir.display()
    )]
    Folder {
        /// Which.
        dir: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// Another server runs on this folder.
    #[error(
        "another lugbook is running on {dir}; stop it first, or give another folder with --data",
        dir = .dir.display()
    )]
    Running {
        /// Which folder.
        dir: PathBuf,
    },
    /// There is no database, and this call does not make one.
    #[error(
        "there is no lugbook database at {path}; start `lugbook serve` first, or give its folder \
         with --data",
        path = .path.display()
    )]
    Absent {
        /// Where it would be.
        path: PathBuf,
    },
    /// The file belongs to another program, or is no database.
    #[error(
        "{path} is not a lugbook database; nothing was changed; move it away, or give another \
         folder with --data",
        path = .path.display()
    )]
    Foreign {
        /// Which file.
        path: PathBuf,
    },
    /// A newer program has written it.
    #[error(
        "{path} was written by a newer lugbook (data version {found}, this program knows \
         {known}); update this program; nothing was changed",
        path = .path.display()
    )]
    Newer {
        /// Which file.
        path: PathBuf,
        /// Its version.
        found: i64,
        /// The newest this program knows.
        known: usize,
    },
    /// The program was built with a SQLite that can lose data.
    #[error("this program was built with SQLite {found}, which can lose data; use 3.51.3 or newer")]
    OldSqlite {
        /// Its version.
        found: &'static str,
    },
    /// Anything else the database says.
    #[error("cannot open {path}: {source}; is the disk full or read-only?", path = .path.display())]
    Database {
        /// Which file.
        path: PathBuf,
        /// What it says.
        source: rusqlite::Error,
    },
}

/// Makes the folder, for its owner only: it holds hashes of tokens and people's names.
pub(super) fn make_folder(config: &DataConfig) -> Result<(), OpenError> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder
        .create(&config.dir)
        .map_err(|source| OpenError::Folder { dir: config.dir.clone(), source })
}

/// Takes the folder's lock. It is free again when the file is dropped, or the process is killed.
pub(super) fn lock_folder(config: &DataConfig) -> Result<File, OpenError> {
    let folder = |source| OpenError::Folder { dir: config.dir.clone(), source };
    let file = OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .open(config.lock_file())
        .map_err(folder)?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(OpenError::Running { dir: config.dir.clone() }),
        Err(TryLockError::Error(source)) => Err(folder(source)),
    }
}

/// Opens the database for writing, making it with `epoch` when there is none, and brings it up to
/// date.
pub(super) fn open(config: &DataConfig, epoch: EpochId) -> Result<Connection, OpenError> {
    let path = config.file();
    if rusqlite::version_number() < SQLITE_OLDEST {
        return Err(OpenError::OldSqlite { found: rusqlite::version() });
    }
    let mut conn = Connection::open(&path).map_err(|source| database(&path, source))?;
    conn.busy_timeout(config.busy).map_err(|source| database(&path, source))?;
    examine(&conn, &path)?;
    let prepared = settle(&conn, config).and_then(|()| migrate(&mut conn, epoch));
    prepared.map_err(|source| database(&path, source))?;
    Ok(conn)
}

/// Opens the database a server made, for writing beside it. Makes nothing.
pub fn open_existing(config: &DataConfig, epoch: EpochId) -> Result<Connection, OpenError> {
    let path = config.file();
    if !path.is_file() {
        return Err(OpenError::Absent { path });
    }
    open(config, epoch)
}

/// Opens the database a server made, to be copied while that server writes. Makes and changes
/// nothing.
pub fn open_to_copy(config: &DataConfig) -> Result<Connection, OpenError> {
    let path = config.file();
    if !path.is_file() {
        return Err(OpenError::Absent { path });
    }
    let open = || {
        let conn = Connection::open(&path)?;
        conn.busy_timeout(config.busy)?;
        Ok(conn)
    };
    let conn = open().map_err(|source| database(&path, source))?;
    examine(&conn, &path)?;
    Ok(conn)
}

/// Makes the folder if need be and takes its lock, for work that no server may run beside.
pub fn lock(config: &DataConfig) -> Result<File, OpenError> {
    make_folder(config)?;
    lock_folder(config)
}

/// Makes the database at `path` the beginning of another log, whose identity is `epoch`.
pub fn renew_epoch(path: &Path, epoch: EpochId) -> Result<(), OpenError> {
    let renew = || {
        let mut conn = Connection::open(path)?;
        migrate(&mut conn, epoch)?;
        meta::renew_epoch(&conn, epoch)
    };
    renew().map_err(|source| database(path, source))
}

/// Moves what is in the write-ahead log into the database file. Only a closed database is settled
/// so; what a damaged one says is told and not more: its files are kept together.
pub fn settle_wal(config: &DataConfig) {
    let path = config.file();
    let checkpoint = Connection::open(&path)
        .and_then(|conn| conn.query_row("pragma wal_checkpoint(truncate)", [], |_| Ok(())));
    if let Err(error) = checkpoint {
        tracing::warn!(why = %error, "store.checkpoint_failed");
    }
}

/// Makes the database of an empty folder and lets `write` fill it in one transaction.
///
/// # Errors
/// When it cannot be opened, or with what `write` fails with.
pub fn fill(
    config: &DataConfig,
    epoch: EpochId,
    write: impl FnOnce(&Connection) -> Result<(), crate::error::Error>,
) -> Result<(), FillError> {
    make_folder(config)?;
    let mut conn = open(config, epoch)?;
    let tx = conn.transaction().map_err(crate::error::Error::from)?;
    write(&tx)?;
    tx.commit().map_err(crate::error::Error::from)?;
    Ok(())
}

/// Why a new database could not be filled.
#[derive(Debug, Error)]
pub enum FillError {
    /// It could not be opened.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// It could not be written.
    #[error(transparent)]
    Write(#[from] crate::error::Error),
}

/// Opens one more connection to a database already brought up to date, for reading.
pub(super) fn open_reader(config: &DataConfig) -> Result<Connection, OpenError> {
    let path = config.file();
    let open = || {
        let conn = Connection::open(&path)?;
        conn.busy_timeout(config.busy)?;
        settle(&conn, config)?;
        conn.pragma_update(None, "query_only", true)?;
        Ok(conn)
    };
    open().map_err(|source| database(&path, source))
}

/// A database in memory, for tests and the simulation: the same tables and rules, no disk.
pub fn open_in_memory(epoch: EpochId) -> rusqlite::Result<Connection> {
    let mut conn = Connection::open_in_memory()?;
    conn.pragma_update(None, "foreign_keys", true)?;
    conn.pragma_update(None, "trusted_schema", false)?;
    migrate(&mut conn, epoch)?;
    Ok(conn)
}

fn database(path: &Path, source: rusqlite::Error) -> OpenError {
    use rusqlite::ErrorCode::NotADatabase;
    let path = path.to_owned();
    match source.sqlite_error_code() {
        Some(NotADatabase) => OpenError::Foreign { path },
        _ => OpenError::Database { path, source },
    }
}

/// Refuses a database of another program or of a newer one, before anything is changed.
pub fn examine(conn: &Connection, path: &Path) -> Result<(), OpenError> {
    let look = || {
        let application_id: i32 = number(conn, "application_id")?;
        let user_version: i64 = number(conn, "user_version")?;
        let empty =
            conn.query_row("select count(*) = 0 from sqlite_schema", [], |row| row.get(0))?;
        Ok((application_id, user_version, empty))
    };
    let (application_id, user_version, empty): (_, _, bool) =
        look().map_err(|source| database(path, source))?;
    let fresh = empty && application_id == 0 && user_version == 0;
    if application_id != APPLICATION_ID && !fresh {
        return Err(OpenError::Foreign { path: path.to_owned() });
    }
    if usize::try_from(user_version).map_or(true, |found| found > MIGRATIONS.len()) {
        return Err(OpenError::Newer {
            path: path.to_owned(),
            found: user_version,
            known: MIGRATIONS.len(),
        });
    }
    Ok(())
}

/// The settings of every connection.
fn settle(conn: &Connection, config: &DataConfig) -> rusqlite::Result<()> {
    conn.pragma_update_and_check(None, "journal_mode", "wal", |_| Ok(()))?;
    // An acknowledgement says that the entry is on disk: NORMAL may lose the last commits when
    // the power goes, and a phone may have forgotten them by then.
    conn.pragma_update(None, "synchronous", "full")?;
    conn.pragma_update(None, "foreign_keys", true)?;
    conn.pragma_update(None, "trusted_schema", false)?;
    // Negative means KiB.
    conn.pragma_update(None, "cache_size", -config.cache_kib)
}

/// Applies what is missing, all in one transaction: two programs may start at once.
fn migrate(conn: &mut Connection, epoch: EpochId) -> rusqlite::Result<()> {
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let done: usize = number(&tx, "user_version")?;
    for migration in MIGRATIONS.iter().skip(done) {
        tx.execute_batch(migration)?;
    }
    if done == 0 {
        tx.pragma_update(None, "application_id", APPLICATION_ID)?;
        meta::begin(&tx, epoch)?;
    }
    if done < MIGRATIONS.len() {
        tx.pragma_update(None, "user_version", MIGRATIONS.len())?;
        tracing::info!(from = done, to = MIGRATIONS.len(), "store.migrated");
    }
    tx.commit()
}

fn number<T: rusqlite::types::FromSql>(conn: &Connection, pragma: &str) -> rusqlite::Result<T> {
    conn.pragma_query_value(None, pragma, |row| row.get(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> (tempfile::TempDir, DataConfig) {
        let dir = tempfile::tempdir().unwrap();
        let config = DataConfig { dir: dir.path().to_owned(), ..DataConfig::default() };
        (dir, config)
    }

    fn epoch() -> EpochId {
        EpochId::new(shared_types::units::Millis(1), [7; 10])
    }

    #[test]
    fn a_database_is_made_once_and_found_again() {
        let (_dir, config) = folder();
        let made = open(&config, epoch()).unwrap();
        assert_eq!(meta::epoch(&made).unwrap(), epoch());
        let other = EpochId::new(shared_types::units::Millis(2), [8; 10]);
        assert_eq!(meta::epoch(&open(&config, other).unwrap()).unwrap(), epoch());
        let synchronous: i64 = number(&made, "synchronous").unwrap();
        assert_eq!(synchronous, 2, "FULL");
        let journal: String = number(&made, "journal_mode").unwrap();
        assert_eq!(journal, "wal");
        let reader = open_reader(&config).unwrap();
        assert!(reader.execute("delete from log", []).is_err(), "a reader only reads");
    }

    #[test]
    fn another_programs_database_is_left_alone() {
        let (_dir, config) = folder();
        let theirs = Connection::open(config.file()).unwrap();
        theirs.execute_batch("create table recipes (name text)").unwrap();
        drop(theirs);
        let before = std::fs::read(config.file()).unwrap();
        assert!(matches!(open(&config, epoch()), Err(OpenError::Foreign { .. })));
        assert_eq!(std::fs::read(config.file()).unwrap(), before);
    }

    #[test]
    fn a_file_that_is_no_database_is_left_alone() {
        let (_dir, config) = folder();
        std::fs::write(config.file(), "a shopping list, long enough to be looked at".repeat(9))
            .unwrap();
        assert!(matches!(open(&config, epoch()), Err(OpenError::Foreign { .. })));
    }

    #[test]
    fn a_newer_programs_database_is_left_alone() {
        let (_dir, config) = folder();
        let newer = open(&config, epoch()).unwrap();
        newer.pragma_update(None, "user_version", 99).unwrap();
        drop(newer);
        let error = open(&config, epoch()).unwrap_err();
        assert!(matches!(error, OpenError::Newer { found: 99, .. }), "{error}");
    }

    #[test]
    fn a_file_in_the_folders_place_is_named() {
        let (dir, mut config) = folder();
        config.dir = dir.path().join("taken");
        std::fs::write(&config.dir, "").unwrap();
        assert!(matches!(make_folder(&config), Err(OpenError::Folder { .. })));
    }

    #[test]
    fn one_server_runs_on_a_folder() {
        let (_dir, config) = folder();
        let first = lock_folder(&config).unwrap();
        assert!(matches!(lock_folder(&config), Err(OpenError::Running { .. })));
        drop(first);
        lock_folder(&config).unwrap();
    }

    #[test]
    fn nothing_is_made_beside_a_server_that_never_ran() {
        let (_dir, config) = folder();
        assert!(matches!(open_existing(&config, epoch()), Err(OpenError::Absent { .. })));
        assert!(!config.file().exists());
    }
}
