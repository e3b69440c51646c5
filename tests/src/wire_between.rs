//! A wire between phones and house, for benchmarks: counts bytes, and is as slow and lossy as asked.
//!
//! TCP hides a lost segment behind a wait until it is sent again. So loss shows here as what an
//! application sees of it: the stream stands still for 200 ms and a round trip, in the order of
//! the bytes. (RFC 6298 allows no less than 1 s; Linux waits 200 ms at least, which is taken.)

use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Duration;

use oorandom::Rand64;
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::tcp::{OwnedReadHalf, OwnedWriteHalf};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::mpsc;
use tokio::time::{Instant, sleep_until};

/// How long Linux waits at least before it sends a segment again.
const RESEND: Duration = Duration::from_millis(200);

/// Bytes of a segment on Ethernet.
const SEGMENT: usize = 1448;

/// How the wire is.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wire {
    /// From one end to the other.
    pub one_way: Duration,
    /// Segments in a hundred that are lost.
    pub loss_percent: u64,
}

/// Bytes that passed.
#[derive(Debug, Default)]
pub struct Passed {
    /// From phones to the house.
    pub up: AtomicU64,
    /// From the house to phones.
    pub down: AtomicU64,
}

impl Passed {
    /// Up and down since the last call.
    pub fn take(&self) -> (u64, u64) {
        (self.up.swap(0, Ordering::Relaxed), self.down.swap(0, Ordering::Relaxed))
    }
}

/// Lays a wire to the house at `house` (such as `http://127.0.0.1:4000`). Returns where its other
/// end answers.
///
/// # Panics
/// When the machine has no free port, or `house` is no such address.
pub async fn lay(house: &str, wire: Wire) -> (String, Arc<Passed>) {
    let house: SocketAddr =
        house.trim_start_matches("http://").parse().expect("an address of this machine");
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).await.expect("a free port");
    let url = format!("http://{}", listener.local_addr().expect("it is bound"));
    let passed = Arc::<Passed>::default();
    let counted = Arc::clone(&passed);
    tokio::spawn(async move {
        let mut seed = 0;
        while let Ok((phone, _)) = listener.accept().await {
            let Ok(house) = TcpStream::connect(house).await else { continue };
            // Small writes must not wait for each other: the delay is the wire's.
            if phone.set_nodelay(true).is_err() || house.set_nodelay(true).is_err() {
                continue;
            }
            let (from_phone, to_phone) = phone.into_split();
            let (from_house, to_house) = house.into_split();
            seed += 2;
            let up = Arc::clone(&counted);
            carry(from_phone, to_house, wire, seed, move |bytes| {
                up.up.fetch_add(bytes, Ordering::Relaxed);
            });
            let down = Arc::clone(&counted);
            carry(from_house, to_phone, wire, seed + 1, move |bytes| {
                down.down.fetch_add(bytes, Ordering::Relaxed);
            });
        }
    });
    (url, passed)
}

/// Carries one direction: what is read leaves in order, each piece at its time.
fn carry(
    mut from: OwnedReadHalf,
    mut to: OwnedWriteHalf,
    wire: Wire,
    seed: u128,
    count: impl Fn(u64) + Send + 'static,
) {
    let (send, mut receive) = mpsc::channel::<(Instant, Vec<u8>)>(1024);
    tokio::spawn(async move {
        let mut chance = Rand64::new(seed);
        let mut buffer = vec![0; 16 * SEGMENT];
        let mut free_at = Instant::now();
        while let Ok(read @ 1..) = from.read(&mut buffer).await {
            count(read as u64);
            let lost =
                (0..read.div_ceil(SEGMENT)).any(|_| chance.rand_range(0..100) < wire.loss_percent);
            let stall = if lost { RESEND + wire.one_way * 2 } else { Duration::ZERO };
            free_at = free_at.max(Instant::now()) + stall;
            if send.send((free_at + wire.one_way, buffer[..read].to_vec())).await.is_err() {
                break;
            }
        }
    });
    tokio::spawn(async move {
        while let Some((at, bytes)) = receive.recv().await {
            sleep_until(at).await;
            if to.write_all(&bytes).await.is_err() {
                break;
            }
        }
        // The other end may be gone already.
        drop(to.shutdown().await);
    });
}
