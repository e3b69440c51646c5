//! The connections that read.

use std::sync::{Arc, Mutex};

use rusqlite::Connection;
use tokio::sync::Semaphore;
use tokio::task;

use super::locked;
use crate::error::Error;

/// A few connections, each used by one request at a time.
pub(super) struct Readers {
    idle: Arc<Mutex<Vec<Connection>>>,
    free: Arc<Semaphore>,
}

/// A connection on loan; it goes back when the loan ends, by a panic too.
struct Loan {
    conn: Option<Connection>,
    idle: Arc<Mutex<Vec<Connection>>>,
}

impl Drop for Loan {
    fn drop(&mut self) {
        locked(&self.idle).extend(self.conn.take());
    }
}

impl Readers {
    pub(super) fn new(connections: Vec<Connection>) -> Self {
        let free = Arc::new(Semaphore::new(connections.len()));
        Self { idle: Arc::new(Mutex::new(connections)), free }
    }

    /// Runs `work` with a connection, off the threads that serve the network.
    pub(super) async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Connection) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        let permit = self.free.clone().acquire_owned().await.map_err(|_| Error::Closed)?;
        let conn = locked(&self.idle).pop();
        let mut loan = Loan { conn, idle: self.idle.clone() };
        let done = task::spawn_blocking(move || {
            let conn = loan.conn.as_mut().expect("as many permits as connections");
            let done = work(conn);
            // In this order: whoever gets the permit finds the connection.
            drop(loan);
            drop(permit);
            done
        });
        done.await.unwrap_or_else(|_| {
            tracing::error!("store.work_panicked");
            Err(Error::Panicked)
        })
    }
}
