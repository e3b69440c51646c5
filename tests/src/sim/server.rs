//! The house: the server's own admission, joining and reading over its own tables in memory. What
//! the real one does with threads around these calls is done here in one call after the other.

use rusqlite::types::Value;
use rusqlite::{Connection, TransactionBehavior, params_from_iter};
use server::error::Error;
use server::exchange::{self, Shelf};
use server::join::{self, Token, Tries};
use server::store::{Device, devices, log, meta, open_in_memory};
use shared_types::entry::{Digest, Entry, Seq};
use shared_types::ids::{DeviceId, EpochId, PersonId};
use shared_types::units::Millis;
use shared_types::wire::{
    EnrolRequest, Enrolled, ExchangeRequest, Refusal, RefusalCode, Role, VERSION,
};

use super::Sabotage;

/// When the plug is pulled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Plug {
    In,
    OutBeforeCommit,
    OutAfterCommit,
}

/// What came of a call.
pub(super) enum Answer {
    Bytes(Vec<u8>),
    Refused(Refusal),
    /// The server died over it.
    Died,
}

/// A table of a copy: its name and rows.
type Table = (String, Vec<Vec<Value>>);

pub(super) struct Server {
    pub conn: Connection,
    shelf: Shelf,
    tries: Tries,
    sabotage: Sabotage,
    /// Sabotage only: a transaction was answered and is not committed.
    open: bool,
    copies: Vec<Vec<Table>>,
    /// Random enough: tokens and codes only have to differ.
    secrets: u64,
}

fn refused(error: &Error) -> Answer {
    Answer::Refused(error.refusal())
}

impl Server {
    pub fn new(epoch: EpochId, sabotage: Sabotage) -> Self {
        Self {
            conn: open_in_memory(epoch).expect("memory holds an empty database"),
            shelf: Shelf::default(),
            tries: Tries::default(),
            sabotage,
            open: false,
            copies: Vec::new(),
            secrets: 0,
        }
    }

    pub fn device(&self, token: &str) -> Result<Device, Error> {
        let hash = Token::sent(token).hash();
        let device = devices::by_token(&self.conn, &hash)?.ok_or(RefusalCode::TokenUnknown)?;
        match device.revoked {
            Some(_) => Err(RefusalCode::Revoked.into()),
            None => Ok(device),
        }
    }

    pub fn exchange(&mut self, token: &str, body: &[u8], now: Millis, plug: Plug) -> Answer {
        match self.try_exchange(token, body, now, plug) {
            Ok(Some(bytes)) => Answer::Bytes(bytes),
            Ok(None) => Answer::Died,
            Err(error) => refused(&error),
        }
    }

    fn try_exchange(
        &mut self,
        token: &str,
        body: &[u8],
        now: Millis,
        plug: Plug,
    ) -> Result<Option<Vec<u8>>, Error> {
        if plug == Plug::OutBeforeCommit {
            self.roll_back();
        }
        self.settle()?;
        let mut request: ExchangeRequest = serde_json::from_slice(body)
            .map_err(|error| RefusalCode::Malformed { reason: error.to_string() })?;
        exchange::check_version(request.v.into())?;
        let device = self.device(token)?;
        if self.sabotage == Sabotage::DedupeWithoutHash {
            let held = log::stored_through(&self.conn, device.device)?;
            let is_known = 1..=held;
            request.entries.retain(|entry| !is_known.contains(&entry.device_seq));
        }
        let (epoch, cursor) = (request.epoch, request.cursor);
        if self.sabotage == Sabotage::AckBeforeCommit {
            self.conn.execute_batch("begin immediate")?;
            self.open = true;
            let answer = exchange::push(&self.conn, &device, &request, now)
                .and_then(|_| exchange::pull(&self.conn, device.device, epoch, cursor, now));
            if answer.is_err() || plug == Plug::OutBeforeCommit {
                self.roll_back();
            }
            return Ok((plug == Plug::In).then_some(answer?.body));
        }
        if exchange::writes(&device, &request, now) {
            let tx = self.conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
            exchange::push(&tx, &device, &request, now)?;
            if plug == Plug::OutBeforeCommit {
                return Ok(None);
            }
            tx.commit()?;
        }
        if plug != Plug::In {
            return Ok(None);
        }
        let tx = self.conn.transaction()?;
        Ok(Some(exchange::pull(&tx, device.device, epoch, cursor, now)?.body))
    }

    pub fn snapshot(&mut self, token: &str) -> Answer {
        let take = |server: &mut Self| {
            server.settle()?;
            let device = server.device(token)?;
            let tx = server.conn.unchecked_transaction()?;
            server.shelf.read(&tx, |folded| exchange::snapshot(&tx, folded, device.device))
        };
        match take(self) {
            Ok(bytes) => Answer::Bytes(bytes),
            Err(error) => refused(&error),
        }
    }

    pub fn renew(&mut self, token: &str, to: DeviceId, now: Millis) -> Answer {
        let secret = self.secret();
        let ask = |server: &mut Self| {
            server.settle()?;
            let from = server.device(token)?;
            let tx = server.conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let enrolled = join::renew(&tx, &from, to, &secret, now)?;
            tx.commit()?;
            Ok::<_, Error>(enrolled)
        };
        match ask(self) {
            Ok(enrolled) => Answer::Bytes(serde_json::to_vec(&enrolled).expect("plain fields")),
            Err(error) => refused(&error),
        }
    }

    /// Lets a device in with a code made at the house.
    pub fn let_in(&mut self, device: DeviceId, role: Role, now: Millis) -> Result<Enrolled, Error> {
        let secret = self.secret();
        let number = self.secrets.to_be_bytes();
        self.settle()?;
        let tx = self.conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let random = number[3..].try_into().expect("five of eight");
        let code = join::make_code(&tx, role, 1, random, now)?.code;
        let request = EnrolRequest {
            v: VERSION,
            code,
            name: "Ida".into(),
            device,
            person: PersonId(device.0),
        };
        let enrolled = join::enrol(&tx, &mut self.tries, &request, &secret, now)?;
        tx.commit()?;
        Ok(enrolled)
    }

    /// Tries a code that was never made.
    pub fn guess_code(&mut self, device: DeviceId, now: Millis) -> Result<Enrolled, Error> {
        let secret = self.secret();
        let request = EnrolRequest {
            v: VERSION,
            code: "0000-0000".into(),
            name: "Ida".into(),
            device,
            person: PersonId(device.0),
        };
        self.settle()?;
        join::enrol(&self.conn, &mut self.tries, &request, &secret, now)
    }

    pub fn revoke(&mut self, device: DeviceId, now: Millis) -> rusqlite::Result<bool> {
        self.settle()?;
        devices::revoke(&self.conn, device, now)
    }

    fn secret(&mut self) -> Token {
        self.secrets += 1;
        let mut random = [0; 32];
        random[..8].copy_from_slice(&self.secrets.to_be_bytes());
        Token::new(random)
    }

    /// The plug: what was not committed is gone.
    pub fn roll_back(&mut self) {
        if std::mem::take(&mut self.open) {
            self.conn.execute_batch("rollback").expect("a transaction is open");
        }
    }

    fn settle(&mut self) -> rusqlite::Result<()> {
        if std::mem::take(&mut self.open) { self.conn.execute_batch("commit") } else { Ok(()) }
    }

    /// No room beyond what the database takes now, or room again.
    pub fn set_full(&mut self, full: bool) {
        let pages: i64 = self
            .conn
            .pragma_query_value(None, "page_count", |row| row.get(0))
            .expect("a database counts its pages");
        let most = if full { pages } else { 1 << 30 };
        self.conn
            .pragma_update_and_check(None, "max_page_count", most, |_| Ok(()))
            .expect("a database can be limited");
    }

    pub fn expire(&mut self) {
        let latest = self.latest();
        meta::keep_from(&self.conn, latest / 2 + 1).expect("the meta table is writable");
    }

    pub fn latest(&self) -> Seq {
        log::end(&self.conn).expect("the log has an end").seq
    }

    /// The digest of the log up to `seq`, if it is so long.
    pub fn digest_at(&self, seq: Seq) -> Option<Digest> {
        (seq <= self.latest())
            .then(|| log::digest_at(&self.conn, seq).expect("the log can be asked"))
    }

    pub fn epoch(&self) -> EpochId {
        meta::epoch(&self.conn).expect("a log has an epoch")
    }

    pub fn held(&self, device: DeviceId) -> u64 {
        log::stored_through(&self.conn, device).expect("the log can be asked")
    }

    pub fn log(&self) -> Vec<Entry> {
        let mut entries = Vec::new();
        log::after::<rusqlite::Error>(&self.conn, 0, |row| {
            entries.push(row.to_entry()?);
            Ok(true)
        })
        .expect("the log can be read");
        entries
    }

    /// Puts a copy of every table away.
    pub fn back_up(&mut self) {
        if self.settle().is_ok() {
            self.copies.push(tables(&self.conn).expect("tables can be read"));
        }
    }

    /// Puts the copy of this number (counted round) in the place of what is there; with another
    /// epoch when it is a proper restore. Says whether there was one.
    pub fn put_back(&mut self, number: u8, epoch: Option<EpochId>) -> bool {
        if self.copies.is_empty() {
            return false;
        }
        let copy = &self.copies[usize::from(number) % self.copies.len()];
        let conn = open_in_memory(EpochId(uuid::Uuid::nil())).expect("memory");
        refill(&conn, copy).expect("a copy fits the tables it was taken from");
        if let Some(epoch) = epoch {
            conn.execute("update meta set value = ?1 where name = 'epoch'", [epoch.0.as_bytes()])
                .expect("the meta table is writable");
        }
        self.open = false;
        self.conn = conn;
        self.shelf = Shelf::default();
        true
    }
}

fn tables(conn: &Connection) -> rusqlite::Result<Vec<Table>> {
    let mut names = conn.prepare(
        "select name from sqlite_schema where type = 'table' and name not like 'sqlite_%'",
    )?;
    let names: Vec<String> = names.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    let mut all = Vec::new();
    for name in names {
        let mut rows = conn.prepare(&format!("select * from {name}"))?;
        let columns = rows.column_count();
        let rows = rows
            .query_map([], |row| (0..columns).map(|i| row.get(i)).collect())?
            .collect::<Result<_, _>>()?;
        all.push((name, rows));
    }
    Ok(all)
}

fn refill(conn: &Connection, copy: &[Table]) -> rusqlite::Result<()> {
    conn.pragma_update(None, "foreign_keys", false)?;
    for (name, rows) in copy {
        conn.execute(&format!("delete from {name}"), [])?;
        for row in rows {
            let marks = vec!["?"; row.len()].join(", ");
            conn.execute(&format!("insert into {name} values ({marks})"), params_from_iter(row))?;
        }
    }
    conn.pragma_update(None, "foreign_keys", true)
}
