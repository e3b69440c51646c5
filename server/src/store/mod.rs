//! The store: what the server keeps, behind calls that know nothing of SQL.
//!
//! One thread writes, over one connection, so that `seq` is given and committed in one order; a
//! few connections read beside it (WAL). Each table's SQL stands beside its row in [`log`],
//! [`devices`], [`sensors`], [`codes`], [`calendar_links`] and [`meta`], as functions over a
//! connection. Another database could
//! stand behind [`Store`] without the routes noticing.

pub mod calendar_links;
pub mod codes;
pub mod devices;
pub mod log;
pub mod meta;
pub mod sensors;

mod open;
mod readers;
mod writer;

use std::fs::File;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use rusqlite::{Connection, Transaction, TransactionBehavior};
use shared_types::book::Book;
use shared_types::entry::{ReadingsTaken, Seq};
use shared_types::ids::{DeviceId, EpochId};
use shared_types::units::Millis;
use shared_types::wire::{Code, EnrolRequest, Enrolled, ExchangeRequest, RefusalCode, Role};
use tokio::sync::watch;

use crate::config::DataConfig;
use crate::error::Error;
use crate::exchange::{self, Reply, Shelf};
use crate::join::{self, Token, Tries};
use crate::random;

pub use devices::Device;
pub use open::{
    FillError, OpenError, examine, fill, lock, open_existing, open_in_memory, open_to_copy,
    renew_epoch, settle_wal,
};

use readers::Readers;
use writer::Writer;

/// The server's data. Clones share it.
#[derive(Clone)]
pub struct Store {
    inner: Arc<Inner>,
}

struct Inner {
    epoch: EpochId,
    writer: Writer,
    readers: Readers,
    latest: watch::Sender<Seq>,
    tries: Arc<Mutex<Tries>>,
    shelf: Arc<Shelf>,
    /// Held for as long as the store is open.
    _lock: File,
}

impl Store {
    /// Opens the data folder, making what is not there; `epoch` becomes the identity of a new log.
    ///
    /// # Errors
    /// See [`OpenError`].
    pub fn open(config: &DataConfig, epoch: EpochId) -> Result<Self, OpenError> {
        open::make_folder(config)?;
        let lock = open::lock_folder(config)?;
        let conn = open::open(config, epoch)?;
        let readers = (0..config.readers.max(1))
            .map(|_| open::open_reader(config))
            .collect::<Result<_, _>>()?;
        let database = |source| OpenError::Database { path: config.file(), source };
        let epoch = meta::epoch(&conn).map_err(database)?;
        let end = log::end(&conn).map_err(database)?;
        tracing::info!(%epoch, latest = end.seq, sqlite = rusqlite::version(), "store.opened");
        let inner = Inner {
            epoch,
            writer: Writer::start(conn)
                .map_err(|source| OpenError::Folder { dir: config.dir.clone(), source })?,
            readers: Readers::new(readers),
            latest: watch::Sender::new(end.seq),
            tries: Arc::default(),
            shelf: Arc::default(),
            _lock: lock,
        };
        Ok(Self { inner: Arc::new(inner) })
    }

    /// The identity of the log.
    pub fn epoch(&self) -> EpochId {
        self.inner.epoch
    }

    /// The last row of the log, as it grows.
    pub fn latest(&self) -> watch::Receiver<Seq> {
        self.inner.latest.subscribe()
    }

    /// One exchange: what the device pushed is on disk before its page is read.
    ///
    /// # Errors
    /// Any refusal of the exchange, or a failure of the database.
    pub async fn exchange(
        &self,
        device: Device,
        request: ExchangeRequest,
        now: Millis,
    ) -> Result<Reply, Error> {
        let (id, epoch, cursor) = (device.device, request.epoch, request.cursor);
        if exchange::writes(&device, &request, now) {
            self.push(device, request, now).await?;
        }
        self.read(move |conn| exchange::pull(conn, id, epoch, cursor, now)).await
    }

    async fn push(
        &self,
        device: Device,
        request: ExchangeRequest,
        now: Millis,
    ) -> Result<(), Error> {
        let latest = self.inner.latest.clone();
        let job = move |conn: &mut Connection| {
            let admitted = commit(conn, |tx| exchange::push(tx, &device, &request, now))?;
            // Told here and not by the request, which may be gone by now: the phone hung up.
            latest.send_if_modified(|seq| {
                let grew = admitted.latest > *seq;
                *seq = admitted.latest.max(*seq);
                grew
            });
            if admitted.new > 0 {
                tracing::info!(
                    device = %device.device,
                    entries = admitted.new,
                    latest = admitted.latest,
                    "exchange.admitted"
                );
            }
            Ok(())
        };
        self.inner.writer.run(job).await
    }

    /// The book of the whole log, as a [`Snapshot`](shared_types::wire::Snapshot) in JSON.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn snapshot(&self, device: DeviceId) -> Result<Vec<u8>, Error> {
        let shelf = self.inner.shelf.clone();
        let work = move |conn: &Transaction<'_>| {
            shelf.read(conn, |folded| exchange::snapshot(conn, folded, device))
        };
        self.read(work).await
    }

    /// What `look` makes of the book of the whole log.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn look<T: Send + 'static>(
        &self,
        look: impl FnOnce(&Book) -> T + Send + 'static,
    ) -> Result<T, Error> {
        let shelf = self.inner.shelf.clone();
        self.read(move |conn| shelf.read(conn, |folded| Ok(look(&folded.book)))).await
    }

    /// The device a token belongs to.
    ///
    /// # Errors
    /// `token_unknown`, `revoked`, or a failure of the database.
    pub async fn device(&self, token: &Token) -> Result<Device, Error> {
        let token_hash = token.hash();
        self.read(move |conn| {
            let device = devices::by_token(conn, &token_hash)?.ok_or(RefusalCode::TokenUnknown)?;
            match device.revoked {
                Some(_) => Err(RefusalCode::Revoked.into()),
                None => Ok(device),
            }
        })
        .await
    }

    /// The sensor a token belongs to.
    ///
    /// # Errors
    /// `token_unknown`, `revoked`, or a failure of the database.
    pub async fn sensor(&self, token: &Token) -> Result<Device, Error> {
        let token = token.clone();
        self.read(move |conn| sensors::by_token(conn, &token)).await
    }

    /// Lets a sensor in.
    ///
    /// # Errors
    /// `malformed` for a name nobody can be called by, or a failure of the database.
    pub async fn let_sensor_in(
        &self,
        sensor: DeviceId,
        name: String,
        token: Token,
        now: Millis,
    ) -> Result<(), Error> {
        let nobody = Token::new(random::bytes());
        self.write(move |tx| join::let_sensor_in(tx, sensor, &name, &token, &nobody, now)).await
    }

    /// Writes a sensor's readings, and announces them.
    ///
    /// # Errors
    /// A refusal of the admission, or a failure of the database.
    pub async fn write_readings(
        &self,
        sensor: DeviceId,
        readings: Vec<ReadingsTaken>,
        now: Millis,
    ) -> Result<(), Error> {
        let work = move |tx: &Transaction<'_>| sensors::write(tx, sensor, readings, now);
        if let Some(admitted) = self.write(work).await? {
            self.inner.latest.send_if_modified(|seq| {
                let grew = admitted.latest > *seq;
                *seq = admitted.latest.max(*seq);
                grew
            });
        }
        Ok(())
    }

    /// Lets a device in by a code. Guesses are counted in the writer's thread, so that many at
    /// once are no way around the limit.
    ///
    /// # Errors
    /// `malformed`, `code_wrong`, `slow_down`, `forbidden`, or a failure of the database.
    pub async fn enrol(
        &self,
        request: EnrolRequest,
        token: Token,
        now: Millis,
    ) -> Result<Enrolled, Error> {
        let tries = self.inner.tries.clone();
        self.write(move |tx| join::enrol(tx, &mut locked(&tries), &request, &token, now)).await
    }

    /// Gives a device another id after a fork.
    ///
    /// # Errors
    /// `malformed` when the id is taken, or a failure of the database.
    pub async fn renew(
        &self,
        from: Device,
        device: DeviceId,
        token: Token,
        now: Millis,
    ) -> Result<Enrolled, Error> {
        self.write(move |tx| join::renew(tx, &from, device, &token, now)).await
    }

    /// Makes a code from `random` that lets `uses` devices in.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn make_code(
        &self,
        role: Role,
        uses: u32,
        random: [u8; 5],
        now: Millis,
    ) -> Result<Code, Error> {
        self.write(move |tx| Ok(join::make_code(tx, role, uses, random, now)?)).await
    }

    /// Id, making and last reading of the calendar links.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn calendar_links(&self) -> Result<Vec<calendar_links::MadeLink>, Error> {
        self.read(|conn| Ok(calendar_links::all(conn)?)).await
    }

    /// Keeps a new calendar link.
    ///
    /// # Errors
    /// `malformed` when there are too many, or a failure of the database.
    pub async fn add_calendar_link(&self, link: calendar_links::LinkRow) -> Result<(), Error> {
        self.write(move |tx| {
            if calendar_links::all(tx)?.len() >= calendar_links::MOST {
                let reason = "there are too many calendar links; revoke one that is not used";
                return Err(RefusalCode::Malformed { reason: reason.into() }.into());
            }
            Ok(calendar_links::put(tx, &link)?)
        })
        .await
    }

    /// Notes that a calendar link was read; whether there is one of that secret.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn read_calendar_link(&self, hash: [u8; 32], now: Millis) -> Result<bool, Error> {
        self.write(move |tx| Ok(calendar_links::mark_read(tx, &hash, now)?)).await
    }

    /// Removes a calendar link: it answers no more.
    ///
    /// # Errors
    /// `malformed` when there is no such link, or a failure of the database.
    pub async fn remove_calendar_link(&self, id: [u8; 8]) -> Result<(), Error> {
        self.write(move |tx| match calendar_links::remove(tx, &id)? {
            true => Ok(()),
            false => Err(RefusalCode::Malformed { reason: "no such link".into() }.into()),
        })
        .await
    }

    /// All devices.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn devices(&self) -> Result<Vec<Device>, Error> {
        self.read(|conn| Ok(devices::all(conn)?)).await
    }

    /// Shuts a device out.
    ///
    /// # Errors
    /// `malformed` when there is no such device, or a failure of the database.
    pub async fn revoke(&self, device: DeviceId, now: Millis) -> Result<(), Error> {
        self.write(move |tx| match devices::revoke(tx, device, now)? {
            true => Ok(()),
            false => Err(RefusalCode::Malformed { reason: "no such device".into() }.into()),
        })
        .await
    }

    /// Sends the log row by row only from `oldest` on; see [`meta::keep_from`].
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn keep_from(&self, oldest: Seq) -> Result<(), Error> {
        self.write(move |tx| Ok(meta::keep_from(tx, oldest)?)).await
    }

    /// Finishes what is being written, moves it from the WAL into the database, and takes nothing
    /// more.
    pub async fn close(&self) {
        self.inner.writer.close().await;
        tracing::info!("store.closed");
    }

    /// Runs `work` in a reading transaction: all of it sees one moment of the log.
    async fn read<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        self.inner.readers.run(move |conn| work(&conn.transaction()?)).await
    }

    /// Runs `work` in a writing transaction, committed when it succeeds.
    async fn write<T: Send + 'static>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        self.inner.writer.run(|conn| commit(conn, work)).await
    }
}

/// Runs `work` in a transaction that takes the write lock at once, and commits what succeeded.
fn commit<T>(
    conn: &mut Connection,
    work: impl FnOnce(&Transaction<'_>) -> Result<T, Error>,
) -> Result<T, Error> {
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let done = work(&tx)?;
    tx.commit()?;
    Ok(done)
}

/// A lock whose holder panicked is taken all the same: what it guards is changed in single steps.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests;
