//! The reading half: one page of the log, written as JSON straight from the rows.
//!
//! A page is the largest thing the server makes, so it is made once: the payload's bytes go from
//! the database into the answer without being parsed.

use std::io::Write as _;

use rusqlite::Connection;
use shared_types::entry::{DeviceSeq, Digest, Seq};
use shared_types::ids::{DeviceId, EpochId};
use shared_types::units::Millis;
use shared_types::wire::VERSION;
use shared_types::wire::limits::{PAGE_MAX_BYTES, PAGE_MAX_ENTRIES};

use super::check_place;
use crate::error::Error;
use crate::store::log::{self, LogRow};
use crate::store::meta;

/// An [`ExchangeReply`](shared_types::wire::ExchangeReply) as its bytes, and what the log says of
/// it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reply {
    /// The JSON.
    pub body: Vec<u8>,
    /// Rows in it.
    pub rows: usize,
    /// There is more after them.
    pub more: bool,
}

/// Reads the page after `cursor` for `device`. `conn` should be inside a transaction, so that
/// everything in the answer is of one moment.
///
/// # Errors
/// `epoch_changed`, `cursor_ahead`, `cursor_expired`, or a failure of the database.
pub fn pull(
    conn: &Connection,
    device: DeviceId,
    epoch: Option<EpochId>,
    cursor: Seq,
    now: Millis,
) -> Result<Reply, Error> {
    check_place(conn, epoch, cursor)?;
    let head = Head { epoch: meta::epoch(conn)?, acked: log::stored_through(conn, device)? };
    let mut body = begin(&head);
    let mut page = Page { rows: 0, cursor, more: false };
    let start = body.len();
    log::after(conn, cursor, |row| {
        let before = body.len();
        if page.rows > 0 {
            body.push(b',');
        }
        write_row(&mut body, &row, device);
        let is_over = page.rows == PAGE_MAX_ENTRIES || body.len() - start > PAGE_MAX_BYTES;
        if is_over {
            body.truncate(before);
            page.more = true;
        } else {
            page.rows += 1;
            page.cursor = row.seq;
        }
        Ok::<_, Error>(!is_over)
    })?;
    finish(&mut body, &page, log::digest_at(conn, page.cursor)?, now);
    Ok(Reply { body, rows: page.rows, more: page.more })
}

struct Head {
    epoch: EpochId,
    acked: DeviceSeq,
}

struct Page {
    rows: usize,
    cursor: Seq,
    more: bool,
}

/// Writing into memory cannot fail.
const INTO_MEMORY: &str = "a vector takes every write";

fn begin(head: &Head) -> Vec<u8> {
    let Head { epoch, acked } = head;
    format!(r#"{{"v":{VERSION},"epoch":"{epoch}","acked":{acked},"rows":["#).into_bytes()
}

fn write_row(body: &mut Vec<u8>, row: &LogRow<'_>, reader: DeviceId) {
    let LogRow { seq, device, device_seq, hlc, kind, kind_version, payload } = row;
    if *device == reader {
        write!(body, r#"{{"seq":{seq},"own":{device_seq}}}"#).expect(INTO_MEMORY);
        return;
    }
    write!(
        body,
        r#"{{"seq":{seq},"entry":{{"device":"{device}","device_seq":{device_seq},"hlc":[{},{}],"kind":"#,
        hlc.0.0, hlc.1,
    )
    .expect(INTO_MEMORY);
    serde_json::to_writer(&mut *body, kind).expect(INTO_MEMORY);
    write!(body, r#","kind_version":{kind_version},"payload":{payload}}}}}"#).expect(INTO_MEMORY);
}

fn finish(body: &mut Vec<u8>, page: &Page, digest: Digest, now: Millis) {
    let Page { cursor, more, .. } = page;
    write!(
        body,
        r#"],"cursor":{cursor},"more":{more},"digest":"{digest}","server_time":{}}}"#,
        now.0,
    )
    .expect(INTO_MEMORY);
}
