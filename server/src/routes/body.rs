//! Reading a request's body: its size, its version, its JSON.

use axum::body::Body;
use axum::extract::{FromRequest, Request};
use http_body_util::BodyExt as _;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use shared_types::wire::limits::BODY_MAX_BYTES;
use shared_types::wire::{
    CalendarRevoke, EnrolRequest, ExchangeRequest, RefusalCode, RenewRequest, RevokeRequest,
};

use crate::error::Error;
use crate::exchange::check_version;

/// How much of a body over the limit is still read, and thrown away, before the connection is
/// given up: a client that is still sending would otherwise never see the answer.
const DRAINED_MAX_BYTES: usize = 8 * BODY_MAX_BYTES;

/// A body that could be read in a version this server takes.
pub(super) struct Sent<T>(pub(super) T);

/// A request's body, and the version it says it is in.
pub(super) trait Message: DeserializeOwned {
    /// Its `v`; `None` for one that has only ever had one shape.
    fn version(&self) -> Option<u32>;
}

impl Message for ExchangeRequest {
    fn version(&self) -> Option<u32> {
        Some(self.v)
    }
}

impl Message for EnrolRequest {
    fn version(&self) -> Option<u32> {
        Some(self.v)
    }
}

impl Message for RenewRequest {
    fn version(&self) -> Option<u32> {
        Some(self.v)
    }
}

impl Message for CalendarRevoke {
    fn version(&self) -> Option<u32> {
        None
    }
}

impl Message for RevokeRequest {
    fn version(&self) -> Option<u32> {
        None
    }
}

impl<S: Sync, T: Message> FromRequest<S> for Sent<T> {
    type Rejection = Error;

    async fn from_request(request: Request, _: &S) -> Result<Self, Error> {
        let bytes = collect(request.into_body(), BODY_MAX_BYTES).await?;
        Ok(parse(&bytes).map(Self)?)
    }
}

/// A body as text.
pub(super) async fn text(body: Body) -> Result<String, RefusalCode> {
    let bytes = collect(body, BODY_MAX_BYTES).await?;
    String::from_utf8(bytes)
        .map_err(|_| RefusalCode::Malformed { reason: "the body is not text in UTF-8".into() })
}

/// Reads `body` whole, at most `max` bytes of it.
async fn collect(mut body: Body, max: usize) -> Result<Vec<u8>, RefusalCode> {
    let mut bytes = Vec::new();
    let mut total = 0;
    while let Some(frame) = body.frame().await {
        let frame = frame.map_err(|_| RefusalCode::Malformed {
            reason: "the body broke off before its end".into(),
        })?;
        let Some(data) = frame.data_ref() else { continue };
        total += data.len();
        if total <= max {
            bytes.extend_from_slice(data);
        } else if total <= DRAINED_MAX_BYTES {
            bytes = Vec::new();
        } else {
            break;
        }
    }
    if total <= max { Ok(bytes) } else { Err(RefusalCode::BatchTooLarge) }
}

/// Reads a message. A version this server does not take is told before anything else that is wrong
/// with it, because the cause is then most likely the version.
fn parse<T: Message>(bytes: &[u8]) -> Result<T, RefusalCode> {
    match serde_json::from_slice::<T>(bytes) {
        Ok(message) => match message.version().map_or(Ok(()), |v| check_version(v.into())) {
            Ok(()) => Ok(message),
            Err(refusal) => Err(refusal),
        },
        Err(error) => {
            if let Ok(Versioned { v }) = serde_json::from_slice(bytes) {
                check_version(v)?;
            }
            // Line and column are part of the text.
            Err(RefusalCode::Malformed { reason: error.to_string() })
        }
    }
}

/// The one field every version has.
#[derive(Deserialize)]
struct Versioned {
    v: u64,
}

#[cfg(test)]
mod tests {
    use shared_types::wire::{OLDEST, VERSION};

    use super::*;

    fn read(json: &str) -> Result<ExchangeRequest, RefusalCode> {
        parse(json.as_bytes())
    }

    #[test]
    fn the_version_is_told_before_what_else_is_wrong() {
        let newer = Err(RefusalCode::ServerTooOld { newest: VERSION });
        let older = Err(RefusalCode::AppTooOld { oldest: OLDEST });
        assert!(read(r#"{"v": 1}"#).is_ok());
        assert_eq!(read(r#"{"v": 2}"#), newer);
        assert_eq!(read(r#"{"v": 0}"#), older);
        assert_eq!(read(r#"{"entries": {"by": "phone"}, "v": 2}"#), newer);
        assert_eq!(read(r#"{"v": 0, "cursor": "none"}"#), older);
        assert_eq!(read(r#"{"v": 99999999999}"#), newer);
    }

    #[test]
    fn what_cannot_be_read_is_told_with_its_place() {
        for json in ["", "{", "[]", "{\"v\": 1,\n \"cursor\": -1}", r#"{"cursor": 0}"#] {
            let Err(RefusalCode::Malformed { reason }) = read(json) else { panic!("{json}") };
            assert!(reason.contains("line") && reason.contains("column"), "{reason}");
        }
        assert!(matches!(parse::<RevokeRequest>(b"\xff"), Err(RefusalCode::Malformed { .. })));
    }

    #[tokio::test]
    async fn a_body_is_read_up_to_its_limit() {
        assert_eq!(collect(Body::from("12345"), 5).await, Ok(b"12345".to_vec()));
        assert_eq!(collect(Body::from("123456"), 5).await, Err(RefusalCode::BatchTooLarge));
    }
}
