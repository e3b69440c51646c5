//! The calendar feed and the links to it: see `shared_types::wire` for the shapes.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::IntoResponse;
use data_encoding::{BASE64URL_NOPAD, HEXLOWER};
use sha2::{Digest as _, Sha256};
use shared_types::wire::{CalendarLink, CalendarRevoke, NewCalendarLink, RefusalCode};

use super::App;
use super::body::Sent;
use crate::calendar;
use crate::error::Error;
use crate::random;
use crate::store::Device;
use crate::store::calendar_links::LinkRow;

/// `GET /api/v1/calendar`
pub(super) async fn list(
    State(app): State<App>,
    _device: Device,
) -> Result<Json<Vec<CalendarLink>>, Error> {
    let links = app.store.calendar_links().await?;
    let link = |(id, created, read): ([u8; 8], _, _)| CalendarLink {
        id: HEXLOWER.encode(&id),
        created,
        read,
    };
    Ok(Json(links.into_iter().map(link).collect()))
}

/// `POST /api/v1/calendar`: a new link. Its secret is 256 random bits, stored only as a hash.
pub(super) async fn make(
    State(app): State<App>,
    device: Device,
) -> Result<Json<NewCalendarLink>, Error> {
    let (secret, id): ([u8; 32], [u8; 8]) = (random::bytes(), random::bytes());
    let secret = BASE64URL_NOPAD.encode(&secret);
    let row = LinkRow {
        id,
        secret_hash: hash(&secret),
        person: device.person,
        created: (app.clock)(),
        read: None,
    };
    app.store.add_calendar_link(row).await?;
    tracing::info!(device = %device.device, "calendar.link_made");
    let path = format!("/api/v1/calendar/{secret}.ics");
    Ok(Json(NewCalendarLink { id: HEXLOWER.encode(&id), path }))
}

/// `POST /api/v1/calendar/revoke`
pub(super) async fn revoke(
    State(app): State<App>,
    device: Device,
    Sent(request): Sent<CalendarRevoke>,
) -> Result<StatusCode, Error> {
    let id = HEXLOWER.decode(request.id.as_bytes()).ok().and_then(|id| id.try_into().ok());
    let Some(id) = id else {
        let reason = "that is not the id of a calendar link; list them and take it from there";
        return Err(RefusalCode::Malformed { reason: reason.to_owned() }.into());
    };
    app.store.remove_calendar_link(id).await?;
    tracing::info!(device = %device.device, "calendar.link_revoked");
    Ok(StatusCode::NO_CONTENT)
}

/// `GET /api/v1/calendar/SECRET.ics`
pub(super) async fn feed(
    State(app): State<App>,
    Path(file): Path<String>,
) -> Result<impl IntoResponse, Error> {
    let secret = file.strip_suffix(".ics").ok_or(RefusalCode::NotFound)?;
    let now = (app.clock)();
    if !app.store.read_calendar_link(hash(secret), now).await? {
        return Err(RefusalCode::NotFound.into());
    }
    let text = app.store.look(move |book| calendar::feed(book, now)).await?;
    Ok(([(CONTENT_TYPE, "text/calendar; charset=utf-8")], text))
}

fn hash(secret: &str) -> [u8; 32] {
    Sha256::digest(secret.as_bytes()).into()
}
