//! The one thread that writes.

use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::thread;

use rusqlite::Connection;
use tokio::sync::{mpsc, oneshot};

use crate::error::Error;

type Work = Box<dyn FnOnce(&mut Connection) + Send>;

enum Job {
    Work(Work),
    Close(oneshot::Sender<()>),
}

/// Jobs waiting for the writer before requests wait to hand theirs in.
const WAITING_MAX: usize = 64;

/// A handle to the thread.
pub(super) struct Writer {
    jobs: mpsc::Sender<Job>,
}

impl Writer {
    /// Starts the thread, which owns `conn` from now on.
    pub(super) fn start(conn: Connection) -> io::Result<Self> {
        let (jobs, waiting) = mpsc::channel(WAITING_MAX);
        thread::Builder::new().name("store-writer".into()).spawn(move || run(conn, waiting))?;
        Ok(Self { jobs })
    }

    /// Runs `work` on the thread and hands back what it came to. Once begun it runs to its end,
    /// even when nobody waits for it any more.
    pub(super) async fn run<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Connection) -> Result<T, Error> + Send + 'static,
    ) -> Result<T, Error> {
        let (reply, answer) = oneshot::channel();
        let work = move |conn: &mut Connection| {
            let done = work(conn);
            // Nobody may be waiting: the phone hung up. What is committed is committed.
            drop(reply.send(done));
        };
        self.jobs.send(Job::Work(Box::new(work))).await.map_err(|_| Error::Closed)?;
        answer.await.unwrap_or(Err(Error::Panicked))
    }

    /// Ends the thread after what was handed in before; returns when it is done.
    pub(super) async fn close(&self) {
        let (done, ended) = oneshot::channel();
        if self.jobs.send(Job::Close(done)).await.is_ok() {
            // An error means that the thread is gone, which is what was asked for.
            drop(ended.await);
        }
    }
}

fn run(mut conn: Connection, mut waiting: mpsc::Receiver<Job>) {
    let mut closed = None;
    while let Some(job) = waiting.blocking_recv() {
        match job {
            Job::Work(work) => {
                // A panic has rolled its transaction back; the next request must not suffer.
                if catch_unwind(AssertUnwindSafe(|| work(&mut conn))).is_err() {
                    tracing::error!("store.work_panicked");
                }
            }
            Job::Close(done) => {
                closed = Some(done);
                break;
            }
        }
    }
    drop(waiting);
    if let Err(error) = conn.query_row("pragma wal_checkpoint(truncate)", [], |_| Ok(())) {
        tracing::warn!(why = %error, "store.checkpoint_failed");
    }
    drop(conn);
    if let Some(done) = closed {
        // Whoever asked may have stopped waiting.
        let _ = done.send(());
    }
}
