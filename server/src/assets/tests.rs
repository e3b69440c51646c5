use std::collections::BTreeSet;

use axum::body::to_bytes;
use axum::http::Request as HttpRequest;
use tower::ServiceExt as _;

use super::*;

const ALL: usize = usize::MAX;

async fn ask(request: HttpRequest<Body>) -> Response {
    with_headers(routes()).oneshot(request).await.expect("routes are infallible")
}

async fn get(path: &str, headers: &[(HeaderName, &str)]) -> Response {
    let mut request = HttpRequest::get(path);
    for (name, value) in headers {
        request = request.header(name, *value);
    }
    ask(request.body(Body::empty()).unwrap()).await
}

fn field(response: &Response, name: HeaderName) -> Option<String> {
    response.headers().get(name).map(|value| value.to_str().unwrap().to_owned())
}

fn hashed(prefix: &str, extension: &str) -> &'static Asset {
    FILES
        .iter()
        .find(|asset| asset.path.starts_with(prefix) && asset.path.ends_with(extension))
        .expect("the build has the file")
}

/// The paths between `FILES = [` and `]` in the worker.
fn listed_by_worker() -> BTreeSet<String> {
    let worker = std::str::from_utf8(find("/sw.js").unwrap().plain).unwrap();
    let list = worker.split("FILES = [").nth(1).unwrap().split(']').next().unwrap();
    list.split(',').map(|path| path.trim().trim_matches('"').to_owned()).collect()
}

#[test]
fn worker_keeps_exactly_the_embedded_files() {
    // A file missing from the list is a blank page offline; one too many fails every install.
    let embedded: BTreeSet<String> =
        FILES.iter().map(|asset| asset.path.to_owned()).filter(|path| path != "/sw.js").collect();
    assert_eq!(listed_by_worker(), embedded);
    assert!(embedded.iter().any(|path| path.ends_with(".wasm")));
}

#[test]
fn worker_and_page_carry_the_build() {
    for path in ["/sw.js", "/index.html"] {
        let text = std::str::from_utf8(find(path).unwrap().plain).unwrap();
        assert!(text.contains(BUILD), "{path} does not name build {BUILD}");
        for mark in ["%BUILD%", "%FILES%"] {
            assert!(!text.contains(mark), "{path} has a mark that the build did not fill in");
        }
    }
}

#[test]
fn table_is_in_order_for_the_search() {
    assert!(FILES.is_sorted_by_key(|asset| asset.path));
    for asset in &FILES {
        assert_eq!(find(asset.path).map(|found| found.path), Some(asset.path));
    }
}

#[test]
fn page_has_nothing_inline_that_the_policy_forbids() {
    let page = std::str::from_utf8(find("/index.html").unwrap().plain).unwrap();
    assert!(!page.contains("style="));
    assert!(!page.contains("<style"));
    assert_eq!(
        page.matches("<script").count(),
        page.matches("<script type=\"module\" src=").count()
    );
}

#[test]
fn sizes_tell_what_travels() {
    let sizes: serde_json::Value = serde_json::from_str(SIZES).unwrap();
    let wasm = &sizes["files"]["/app.wasm"];
    let asset = hashed("/app-", ".wasm");
    assert_eq!(wasm["plain"], asset.plain.len());
    assert_eq!(wasm["brotli"], asset.brotli.unwrap().len());
    assert_eq!(sizes["build"], BUILD);
}

#[tokio::test]
async fn chooses_the_encoding_the_browser_accepts() {
    let asset = hashed("/app-", ".wasm");
    let brotli = asset.brotli.unwrap();
    let gzip = asset.gzip.unwrap();
    let cases = [
        (Some("gzip, deflate, br, zstd"), Some("br"), brotli),
        (Some("br;q=0.5, gzip"), Some("br"), brotli),
        (Some("br;q=0, GZIP"), Some("gzip"), gzip),
        (Some("gzip; q=0.0, br;q=0.000"), None, asset.plain),
        (Some("deflate"), None, asset.plain),
        (Some("brotli"), None, asset.plain),
        (None, None, asset.plain),
    ];
    for (accepted, encoding, bytes) in cases {
        let headers: Vec<_> =
            accepted.map(|value| (header::ACCEPT_ENCODING, value)).into_iter().collect();
        let response = get(asset.path, &headers).await;
        assert_eq!(response.status(), StatusCode::OK);
        assert_eq!(field(&response, header::CONTENT_ENCODING).as_deref(), encoding, "{accepted:?}");
        assert_eq!(field(&response, header::CONTENT_TYPE).unwrap(), "application/wasm");
        assert_eq!(field(&response, header::VARY).unwrap(), "Accept-Encoding");
        assert_eq!(field(&response, header::CONTENT_LENGTH).unwrap(), bytes.len().to_string());
        assert_eq!(to_bytes(response.into_body(), ALL).await.unwrap(), bytes, "{accepted:?}");
    }
}

#[tokio::test]
async fn only_names_with_a_hash_are_kept_for_ever() {
    for asset in &FILES {
        let response = get(asset.path, &[]).await;
        let cache = field(&response, header::CACHE_CONTROL).unwrap();
        assert_eq!(cache.contains("immutable"), asset.hashed, "{}", asset.path);
        assert_eq!(cache == "no-cache", !asset.hashed, "{}", asset.path);
    }
    for path in ["/index.html", "/sw.js", "/manifest.webmanifest"] {
        assert!(!find(path).unwrap().hashed, "{path} is where a phone starts from");
    }
}

#[tokio::test]
async fn unchanged_file_is_not_sent_again() {
    let tag = find("/sw.js").unwrap().etag;
    for held in [tag.to_owned(), format!("W/\"other\", {tag}")] {
        let response = get("/sw.js", &[(header::IF_NONE_MATCH, &held)]).await;
        assert_eq!(response.status(), StatusCode::NOT_MODIFIED);
        assert!(to_bytes(response.into_body(), ALL).await.unwrap().is_empty());
    }
    let response = get("/sw.js", &[(header::IF_NONE_MATCH, "W/\"other\"")]).await;
    assert_eq!(response.status(), StatusCode::OK);
}

#[tokio::test]
async fn every_screen_is_the_page() {
    let page = find("/index.html").unwrap();
    for path in ["/", "/pick", "/kitchen/method/thin-sauce", "/no-such-screen", "/apiary"] {
        let response = get(path, &[]).await;
        assert_eq!(response.status(), StatusCode::OK, "{path}");
        assert_eq!(field(&response, header::CACHE_CONTROL).unwrap(), "no-cache");
        assert_eq!(to_bytes(response.into_body(), ALL).await.unwrap(), page.plain, "{path}");
    }
}

#[tokio::test]
async fn unknown_file_and_unknown_call_are_not_found() {
    for path in
        ["/no-such-file.js", "/app-000000000000.wasm", "/../Cargo.toml", "/api", "/api/v9/x"]
    {
        let response = get(path, &[]).await;
        assert_eq!(response.status(), StatusCode::NOT_FOUND, "{path}");
        assert!(field(&response, header::CONTENT_TYPE).unwrap().starts_with("text/plain"));
    }
}

#[tokio::test]
async fn head_tells_the_length_without_the_bytes_and_nothing_can_be_posted() {
    let head = ask(HttpRequest::head("/sw.js").body(Body::empty()).unwrap()).await;
    assert_eq!(head.status(), StatusCode::OK);
    let length = find("/sw.js").unwrap().plain.len().to_string();
    assert_eq!(field(&head, header::CONTENT_LENGTH).unwrap(), length);
    assert!(to_bytes(head.into_body(), ALL).await.unwrap().is_empty());

    let post = ask(HttpRequest::post("/pick").body(Body::empty()).unwrap()).await;
    assert_eq!(post.status(), StatusCode::METHOD_NOT_ALLOWED);
    assert_eq!(field(&post, header::ALLOW).unwrap(), "GET, HEAD");
}

#[tokio::test]
async fn every_answer_carries_the_security_headers() {
    for path in ["/", "/sw.js", "/no-such-file.js"] {
        let response = get(path, &[]).await;
        for (name, value) in &HEADERS {
            assert_eq!(response.headers().get(name), Some(value), "{path}: {name}");
        }
        let policy = field(&response, header::CONTENT_SECURITY_POLICY).unwrap();
        assert!(policy.contains("script-src 'self' 'wasm-unsafe-eval';"), "{policy}");
        assert!(!policy.contains("unsafe-inline"), "{policy}");
    }
}

#[tokio::test]
async fn an_answer_may_bring_its_own_header() {
    let own = "default-src 'self'";
    let router = Router::new().fallback(move || async move {
        ([(header::CONTENT_SECURITY_POLICY, own)], "own").into_response()
    });
    let request = HttpRequest::get("/").body(Body::empty()).unwrap();
    let response = with_headers(router).oneshot(request).await.unwrap();
    assert_eq!(field(&response, header::CONTENT_SECURITY_POLICY).unwrap(), own);
}
