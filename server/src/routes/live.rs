//! Telling phones that the log grew.

use std::convert::Infallible;

use axum::extract::State;
use axum::response::Sse;
use axum::response::sse::{Event, KeepAlive};
use futures_util::Stream;
use futures_util::stream;
use shared_types::wire::Announcement;

use super::App;
use crate::store::Device;

/// `GET /api/v1/live`: where the log ends, at once and whenever it has grown. A phone that is slow
/// to read misses steps between, never the last.
pub(super) async fn live(
    State(app): State<App>,
    _device: Device,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let epoch = app.store.epoch();
    let mut latest = app.store.latest();
    latest.mark_changed();
    let announcements =
        stream::unfold((latest, app.stopping), move |(mut latest, mut stopping)| async move {
            tokio::select! {
                changed = latest.changed() => changed.ok()?,
                _ = stopping.wait_for(|stopping| *stopping) => return None,
            }
            let announcement = Announcement { epoch, seq: *latest.borrow_and_update() };
            let event = Event::default()
                .json_data(announcement)
                .expect("an announcement is an id and a number");
            Some((Ok(event), (latest, stopping)))
        });
    let keep_alive = KeepAlive::new().interval(app.config.http.live_keep_alive);
    Sse::new(announcements).keep_alive(keep_alive)
}
