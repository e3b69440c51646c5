//! Where and how the log is kept.

use std::path::PathBuf;
use std::time::Duration;

/// Where and how the log is kept.
#[derive(Clone, Debug)]
pub struct DataConfig {
    /// The folder of the database. Made when it is not there.
    pub dir: PathBuf,
    /// Connections for reading. A house has two cores and a handful of phones.
    pub readers: usize,
    /// Page cache of one connection in KiB. A season's log is a few MB and the operating system
    /// caches the file as well.
    pub cache_kib: i64,
    /// How long a writer waits for another program (a backup, `lugbook code`) to finish writing.
    pub busy: Duration,
}

impl DataConfig {
    /// The default folder, beside where the server was started.
    pub const DIR: &str = "lugbook-data";

    /// The database file.
    pub fn file(&self) -> PathBuf {
        self.dir.join("lugbook.sqlite")
    }

    /// The file whose lock says that a server runs on this folder.
    pub fn lock_file(&self) -> PathBuf {
        self.dir.join("lugbook.lock")
    }
}

impl Default for DataConfig {
    fn default() -> Self {
        Self {
            dir: PathBuf::from(Self::DIR),
            readers: 2,
            cache_kib: 1024,
            busy: Duration::from_secs(5),
        }
    }
}
