//! Which device asks: `authorization: Bearer TOKEN`.

use axum::extract::FromRequestParts;
use axum::http::header::AUTHORIZATION;
use axum::http::request::Parts;
use shared_types::wire::RefusalCode;

use crate::error::Error;
use crate::join::Token;
use crate::routes::App;
use crate::store::Device;

impl FromRequestParts<App> for Device {
    type Rejection = Error;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Error> {
        let header = parts.headers.get(AUTHORIZATION).and_then(|value| value.to_str().ok());
        let token = header.and_then(bearer).ok_or(RefusalCode::TokenUnknown)?;
        app.store.device(&token).await
    }
}

/// The token of a header's value. The scheme's case does not matter (RFC 9110, 11.1).
pub(crate) fn bearer(value: &str) -> Option<Token> {
    let (scheme, token) = value.trim().split_once(' ')?;
    scheme.eq_ignore_ascii_case("bearer").then(|| Token::sent(token.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_header_as_clients_write_it() {
        let token = Some(Token::sent("lb_x"));
        for value in ["Bearer lb_x", "bearer lb_x", " BEARER  lb_x "] {
            assert_eq!(bearer(value), token, "{value}");
        }
        for value in ["", "lb_x", "Basic lb_x", "Bearer"] {
            assert_eq!(bearer(value), None, "{value}");
        }
    }
}
