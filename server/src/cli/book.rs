//! The book of a data folder, for commands that only look.

use shared_types::book::Book;
use shared_types::ids::EpochId;

use super::Failure;
use crate::config::Config;
use crate::exchange::Shelf;
use crate::{clock, random, store};

/// Folds the log in the folder, whether or not a server runs on it.
pub(super) fn read(config: &Config) -> Result<Book, Failure> {
    // The identity is not used: the database is there already.
    let epoch = EpochId::new(clock::now(), random::bytes());
    let mut conn = store::open_existing(&config.data, epoch)?;
    let tx = conn.transaction()?;
    Ok(Shelf::default().read(&tx, |folded| Ok(folded.book.clone()))?)
}
