//! The engine's transactions on the disk.

use shared_types::book::FOLD_VERSION;
use shared_types::engine::{Checkpoint, Meta, Stored, Transaction, read_from};
use shared_types::entry::{Entry, Seq};
use shared_types::wire::LogRow;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{IdbCursor, IdbDatabase, IdbKeyRange, IdbObjectStore, IdbTransaction};

use super::request::{self, Mode};
use super::{OWN, ROWS, STATE, Trouble};

const META: &str = "meta";
const CHECKPOINT: &str = "checkpoint";
const FORMER: &str = "former";

/// Reads everything, as of one moment.
pub(super) async fn load(db: &IdbDatabase) -> Result<Stored, Trouble> {
    let (transaction, _ended) = request::begin(db, &[OWN, ROWS, STATE], Mode::Read)?;
    let state = transaction.object_store(STATE)?;
    let rows = transaction.object_store(ROWS)?;
    let meta: Option<Meta> = request::read(&state.get(&META.into())?).await?;
    let own: Vec<Entry> = request::read_all(&transaction.object_store(OWN)?.get_all()?).await?;
    let former: Option<Vec<Entry>> = request::read(&state.get(&FORMER.into())?).await?;
    let former = former.unwrap_or_default();
    match read_log(&state, &rows).await {
        Ok((checkpoint, rows)) => Ok(Stored { meta, own, former, checkpoint, rows }),
        // What came from the server can be had again; what this phone wrote is whole.
        Err(trouble) if trouble.name == "Unreadable" => {
            let meta = meta.map(|meta| Meta {
                generation: meta.generation,
                clock: meta.clock,
                ..Meta::new(meta.device)
            });
            Ok(Stored { meta, own, former, checkpoint: None, rows: Vec::new() })
        }
        Err(trouble) => Err(trouble),
    }
}

async fn read_log(
    state: &IdbObjectStore,
    rows: &IdbObjectStore,
) -> Result<(Option<Checkpoint>, Vec<LogRow>), Trouble> {
    let checkpoint: Option<Checkpoint> = request::read(&state.get(&CHECKPOINT.into())?).await?;
    let from = read_from(checkpoint.as_ref(), first_key(rows).await?, FOLD_VERSION);
    let range = IdbKeyRange::lower_bound(&key(from))?;
    let rows = request::read_all(&rows.get_all_with_key(&range)?).await?;
    Ok((checkpoint, rows))
}

async fn first_key(rows: &IdbObjectStore) -> Result<Option<Seq>, Trouble> {
    let found = request::answer(&rows.open_key_cursor()?).await?;
    let Some(cursor) = found.dyn_ref::<IdbCursor>() else { return Ok(None) };
    Ok(cursor.key()?.as_f64().map(|key| key as Seq))
}

/// Writes a transaction if the disk still stands where it was made from. `again` says that a first
/// try ended without word, so it may be there already.
pub(super) async fn store(
    db: &IdbDatabase,
    change: &Transaction,
    again: bool,
) -> Result<bool, Trouble> {
    let (transaction, ended) = request::begin(db, &[OWN, ROWS, STATE], Mode::Write)?;
    let meta: Option<Meta> =
        request::read(&transaction.object_store(STATE)?.get(&META.into())?).await?;
    let stands = meta.as_ref().map_or(0, |meta| meta.generation);
    if stands != change.expects {
        let is_there =
            again && meta.as_ref() == Some(&change.meta) && holds(&transaction, change).await?;
        transaction.abort()?;
        return Ok(is_there);
    }
    if let Err(trouble) = put(&transaction, change) {
        transaction.abort()?;
        return Err(trouble);
    }
    ended.wait().await?;
    Ok(true)
}

/// Whether the last own entry of `change` stands on the disk as it would be written.
async fn holds(transaction: &IdbTransaction, change: &Transaction) -> Result<bool, Trouble> {
    let Some(last) = change.own.last() else { return Ok(true) };
    let stands: Option<Entry> =
        request::read(&transaction.object_store(OWN)?.get(&key(last.device_seq))?).await?;
    Ok(stands.as_ref() == Some(last))
}

fn put(transaction: &IdbTransaction, change: &Transaction) -> Result<(), Trouble> {
    let state = transaction.object_store(STATE)?;
    let own = transaction.object_store(OWN)?;
    let rows = transaction.object_store(ROWS)?;
    if change.forget_own {
        own.clear()?;
    }
    if change.forget_log {
        rows.clear()?;
        state.delete(&CHECKPOINT.into())?;
    }
    for entry in &change.own {
        own.put_with_key(&request::text(entry)?, &key(entry.device_seq))?;
    }
    for row in &change.rows {
        rows.put_with_key(&request::text(row)?, &key(row.seq))?;
    }
    if let Some(former) = &change.former {
        state.put_with_key(&request::text(former)?, &FORMER.into())?;
    }
    if let Some(checkpoint) = &change.checkpoint {
        state.put_with_key(&request::text(checkpoint)?, &CHECKPOINT.into())?;
    }
    state.put_with_key(&request::text(&change.meta)?, &META.into())?;
    Ok(())
}

/// A sequence number as a key. Numbers are exact up to 2^53.
fn key(number: u64) -> JsValue {
    JsValue::from_f64(number as f64)
}
