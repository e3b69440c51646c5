//! How connections are held.

use std::time::Duration;

/// How connections are held. Tests use shorter times.
#[derive(Clone, Debug)]
pub struct HttpConfig {
    /// How long a connection may stay silent before its next request's headers are complete.
    pub header_timeout: Duration,
    /// How long one request may take, its body included: a full push at 40 kB/s, doubled.
    pub request_timeout: Duration,
    /// Connections held at once: a few for each of a dozen phones, and room for the ones that
    /// walked out of range without saying so.
    pub connections_max: usize,
    /// How long sent bytes may stay unacknowledged before a connection counts as gone. Without it
    /// Linux keeps a phone that left for about fifteen minutes.
    pub unacknowledged_max: Duration,
    /// How often a live stream says that it is there.
    pub live_keep_alive: Duration,
    /// How long requests under way may still take when the server stops.
    pub drain: Duration,
}

impl HttpConfig {
    /// The default address to listen on.
    pub const LISTEN: &str = "127.0.0.1:7117";
}

impl Default for HttpConfig {
    fn default() -> Self {
        Self {
            header_timeout: Duration::from_secs(10),
            request_timeout: Duration::from_secs(60),
            connections_max: 128,
            unacknowledged_max: Duration::from_secs(60),
            live_keep_alive: Duration::from_secs(15),
            drain: Duration::from_secs(5),
        }
    }
}
