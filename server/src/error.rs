//! What can go wrong while answering, and the refusal each becomes.

use axum::Json;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use rusqlite::ErrorCode;
use shared_types::wire::{Refusal, RefusalCode};
use thiserror::Error;

/// Why a request is not answered as asked.
#[derive(Debug, Error)]
pub enum Error {
    /// The server says no.
    #[error("{}", .0.message)]
    Refused(Refusal),
    /// The database failed.
    #[error("the database failed: {0}")]
    Database(#[from] rusqlite::Error),
    /// The store takes nothing more: the server is stopping.
    #[error("the store is closed")]
    Closed,
    /// The work panicked; the panic itself is in the log.
    #[error("the work panicked")]
    Panicked,
    /// The request took too long.
    #[error("the request took too long")]
    TimedOut,
}

impl Error {
    /// The refusal a phone gets.
    pub fn refusal(&self) -> Refusal {
        match self {
            Self::Refused(refusal) => refusal.clone(),
            Self::Database(error) => database_refusal(error).into(),
            Self::Closed | Self::TimedOut => RefusalCode::Busy.into(),
            Self::Panicked => RefusalCode::Internal.into(),
        }
    }

    /// Trying the same again later cannot help.
    pub fn is_permanent(&self) -> bool {
        self.refusal().code.is_permanent()
    }
}

impl From<RefusalCode> for Error {
    fn from(code: RefusalCode) -> Self {
        Self::Refused(code.into())
    }
}

fn database_refusal(error: &rusqlite::Error) -> RefusalCode {
    match error.sqlite_error_code() {
        Some(
            ErrorCode::DiskFull
            | ErrorCode::SystemIoFailure
            | ErrorCode::ReadOnly
            | ErrorCode::CannotOpen,
        ) => RefusalCode::StorageFailed,
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => RefusalCode::Busy,
        _ => RefusalCode::Internal,
    }
}

/// The code's name as it travels, for the log: its data may hold what a person wrote.
fn name(code: &RefusalCode) -> String {
    serde_json::to_value(code)
        .ok()
        .and_then(|value| value.get("code")?.as_str().map(str::to_owned))
        .unwrap_or_default()
}

impl IntoResponse for Error {
    fn into_response(self) -> Response {
        let refusal = self.refusal();
        let code = name(&refusal.code);
        match &self {
            Self::Refused(_) => tracing::info!(code, "request.refused"),
            Self::Closed | Self::TimedOut => tracing::warn!(code, why = %self, "request.failed"),
            Self::Database(_) | Self::Panicked => {
                tracing::error!(code, why = %self, "request.failed");
            }
        }
        let status = StatusCode::from_u16(refusal.code.status())
            .expect("the statuses of refusals are HTTP statuses");
        (status, Json(refusal)).into_response()
    }
}

#[cfg(test)]
mod tests {
    use rusqlite::ffi;

    use super::*;

    #[test]
    fn what_each_failure_of_the_database_becomes() {
        for (code, refusal) in [
            (ffi::SQLITE_FULL, RefusalCode::StorageFailed),
            (ffi::SQLITE_IOERR_FSYNC, RefusalCode::StorageFailed),
            (ffi::SQLITE_READONLY, RefusalCode::StorageFailed),
            (ffi::SQLITE_CANTOPEN, RefusalCode::StorageFailed),
            (ffi::SQLITE_BUSY, RefusalCode::Busy),
            (ffi::SQLITE_CORRUPT, RefusalCode::Internal),
            (ffi::SQLITE_CONSTRAINT, RefusalCode::Internal),
        ] {
            let error = Error::from(rusqlite::Error::SqliteFailure(ffi::Error::new(code), None));
            assert_eq!(error.refusal().code, refusal, "{code}");
            assert!(!error.is_permanent(), "{code}");
        }
    }

    #[test]
    fn the_log_gets_the_code_without_its_data() {
        let reason = "someone's words".to_owned();
        assert_eq!(name(&RefusalCode::Malformed { reason }), "malformed");
        assert_eq!(name(&RefusalCode::Busy), "busy");
    }
}
