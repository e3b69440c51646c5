//! The phone's program, packed into the server by the build, and how it is served.
//!
//! Every path is one of three things: a file of the build, a screen of the program (no dot in
//! its last part, answered with `index.html`, which then shows the screen), or nothing. Files
//! whose name carries their hash are kept by browsers for ever; the few that keep their name are
//! asked for again each time and answered with 304 while unchanged.

use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::Request;
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware;
use axum::response::{IntoResponse, Response};

/// One file of the build.
pub struct Asset {
    /// Absolute path in the URL.
    pub path: &'static str,
    /// Value of `Content-Type`.
    pub content_type: &'static str,
    /// Whether the name changes with the content.
    pub hashed: bool,
    /// Value of `ETag`, the same for each encoding and therefore weak.
    pub etag: &'static str,
    /// The bytes as they are.
    pub plain: &'static [u8],
    /// The bytes for `Content-Encoding: gzip`, if that makes them fewer.
    pub gzip: Option<&'static [u8]>,
    /// The bytes for `Content-Encoding: br`, if that makes them fewer.
    pub brotli: Option<&'static [u8]>,
}

include!(concat!(env!("OUT_DIR"), "/assets.rs"));

/// Bytes per file and in all, plain and compressed, as JSON:
/// `{"build": id, "files": {"/app.wasm": {"plain", "gzip", "brotli"}, …}, "total": {…}}`.
/// Files go by their name without hash.
pub const SIZES: &str = include_str!(concat!(env!("OUT_DIR"), "/sizes.json"));

/// Nothing runs or loads but the server's own files; wasm needs its own word, and the camera's
/// and the charts' pictures are made in the page (`data:`, `blob:`).
const CONTENT_SECURITY_POLICY: &str = "default-src 'none'; \
    script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; \
    connect-src 'self'; manifest-src 'self'; worker-src 'self'; \
    base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

/// Set on every answer unless the answer brought its own.
const HEADERS: [(HeaderName, HeaderValue); 6] = [
    (header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(CONTENT_SECURITY_POLICY)),
    (header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff")),
    // A path may hold a feed's secret.
    (header::REFERRER_POLICY, HeaderValue::from_static("no-referrer")),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        HeaderValue::from_static("same-origin"),
    ),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        HeaderValue::from_static("same-origin"),
    ),
    // The camera reads tags; a scale may come by cable. Bluetooth is for the page alone without
    // a word here, and browsers complain about the word.
    (
        HeaderName::from_static("permissions-policy"),
        HeaderValue::from_static(
            "camera=(self), serial=(self), microphone=(), geolocation=(), payment=(), usb=()",
        ),
    ),
];

/// Serves the build. Merge it with the routes of the API; it answers what they leave over.
pub fn routes() -> Router {
    Router::new().fallback(|request: Request| async move {
        respond(request.method(), request.uri().path(), request.headers())
    })
}

/// Adds the security headers to every answer of `router`, those of the API included.
pub fn with_headers(router: Router) -> Router {
    router.layer(middleware::map_response(|mut response: Response| async move {
        for (name, value) in HEADERS {
            response.headers_mut().entry(name).or_insert(value);
        }
        response
    }))
}

/// The file at `path`, which begins with a slash.
pub fn find(path: &str) -> Option<&'static Asset> {
    FILES.binary_search_by(|asset| asset.path.cmp(path)).ok().map(|at| &FILES[at])
}

/// The answer to one request, without its body for `HEAD`.
fn respond(method: &Method, path: &str, headers: &HeaderMap) -> Response {
    if method != Method::GET && method != Method::HEAD {
        let allow = [(header::ALLOW, "GET, HEAD")];
        return (StatusCode::METHOD_NOT_ALLOWED, allow, "This address can only be read.\n")
            .into_response();
    }
    let found = if is_screen(path) { find("/index.html") } else { find(path) };
    found.map_or_else(
        || (StatusCode::NOT_FOUND, "There is nothing at this address.\n").into_response(),
        |asset| deliver(asset, method, headers),
    )
}

/// Whether `path` names a screen of the program rather than a file or a place of the API.
/// The service worker tells them apart in the same way.
fn is_screen(path: &str) -> bool {
    let is_api = path == "/api" || path.starts_with("/api/");
    let last = path.rsplit('/').next().unwrap_or_default();
    !is_api && !last.contains('.')
}

fn deliver(asset: &'static Asset, method: &Method, headers: &HeaderMap) -> Response {
    let mut response = Response::new(Body::empty());
    let cache_control =
        if asset.hashed { "public, max-age=31536000, immutable" } else { "no-cache" };
    let fields = response.headers_mut();
    fields.insert(header::CACHE_CONTROL, HeaderValue::from_static(cache_control));
    fields.insert(header::ETAG, HeaderValue::from_static(asset.etag));
    fields.insert(header::VARY, HeaderValue::from_static("Accept-Encoding"));
    if has_already(asset, headers) {
        *response.status_mut() = StatusCode::NOT_MODIFIED;
        return response;
    }
    let (bytes, encoding) = encoded(asset, headers);
    let fields = response.headers_mut();
    fields.insert(header::CONTENT_TYPE, HeaderValue::from_static(asset.content_type));
    fields.insert(header::CONTENT_LENGTH, HeaderValue::from(bytes.len()));
    if let Some(encoding) = encoding {
        fields.insert(header::CONTENT_ENCODING, HeaderValue::from_static(encoding));
    }
    if method == Method::GET {
        *response.body_mut() = Body::from(Bytes::from_static(bytes));
    }
    response
}

/// Whether the browser named the file's tag among those it holds.
fn has_already(asset: &Asset, headers: &HeaderMap) -> bool {
    headers
        .get_all(header::IF_NONE_MATCH)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .any(|tag| tag.trim() == asset.etag)
}

/// The smallest form of the file that the browser accepts, with the encoding's name.
fn encoded(asset: &Asset, headers: &HeaderMap) -> (&'static [u8], Option<&'static str>) {
    let choices = [("br", asset.brotli), ("gzip", asset.gzip)];
    choices
        .into_iter()
        .filter_map(|(name, bytes)| bytes.map(|bytes| (bytes, Some(name))))
        .find(|(_, name)| name.is_some_and(|name| accepts(headers, name)))
        .unwrap_or((asset.plain, None))
}

/// Whether `Accept-Encoding` names `encoding` with a weight other than zero (RFC 9110, 12.5.3).
fn accepts(headers: &HeaderMap, encoding: &str) -> bool {
    headers
        .get_all(header::ACCEPT_ENCODING)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(','))
        .any(|choice| {
            let mut parts = choice.split(';').map(str::trim);
            let is_named = parts.next().is_some_and(|name| name.eq_ignore_ascii_case(encoding));
            let is_refused = parts.any(|part| {
                part.strip_prefix("q=").is_some_and(|weight| weight.parse() == Ok(0.0_f32))
            });
            is_named && !is_refused
        })
}

#[cfg(test)]
mod tests;
