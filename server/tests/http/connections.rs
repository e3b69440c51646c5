//! Clients that are slow, silent or gone.

use std::time::Duration;

use server::config::{Config, HttpConfig};
use server::serve;
use shared_types::wire::{Refusal, RefusalCode};
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::oneshot;

use crate::support::House;

fn config(http: HttpConfig) -> Config {
    Config { http, ..Config::default() }
}

/// Long enough that reaching it means a hang, not a slow machine.
const HANG: Duration = Duration::from_secs(60);

/// Everything the server sends until it closes the connection.
async fn until_closed(socket: &mut TcpStream) -> String {
    let mut answer = Vec::new();
    let read = tokio::time::timeout(HANG, socket.read_to_end(&mut answer)).await;
    // A reset closes as well.
    let _ = read.expect("the server closes the connection");
    String::from_utf8(answer).unwrap()
}

#[tokio::test]
async fn a_socket_that_says_nothing_is_closed() {
    let http = HttpConfig { header_timeout: Duration::from_millis(50), ..HttpConfig::default() };
    let house = House::with(config(http)).await;
    for said in ["", "G", "GET / HTTP/1.1\r\nhost: house\r\n"] {
        let mut socket = TcpStream::connect(house.address).await.unwrap();
        socket.write_all(said.as_bytes()).await.unwrap();
        let answer = until_closed(&mut socket).await;
        assert!(!answer.contains("200"), "{said:?} got {answer}");
    }
}

#[tokio::test]
async fn a_body_that_never_comes_is_given_up() {
    let http = HttpConfig { request_timeout: Duration::from_millis(50), ..HttpConfig::default() };
    let house = House::with(config(http)).await;
    let mut socket = TcpStream::connect(house.address).await.unwrap();
    let head = "POST /api/v1/enrol HTTP/1.1\r\nhost: house\r\ncontent-length: 100\r\n\r\n{";
    socket.write_all(head.as_bytes()).await.unwrap();
    let answer = until_closed(&mut socket).await;
    assert!(answer.starts_with("HTTP/1.1 503"), "{answer}");
    let (_, body) = answer.split_once("\r\n\r\n").unwrap();
    let refusal: Refusal = serde_json::from_str(body).unwrap();
    assert_eq!(refusal.code, RefusalCode::Busy);
}

#[tokio::test]
async fn connections_beyond_the_bound_wait_for_a_place() {
    let http = HttpConfig {
        connections_max: 1,
        header_timeout: Duration::from_millis(200),
        ..HttpConfig::default()
    };
    let house = House::with(config(http)).await;
    let mut silent = TcpStream::connect(house.address).await.unwrap();
    let mut waiting = TcpStream::connect(house.address).await.unwrap();
    let request = "GET /healthz HTTP/1.1\r\nhost: house\r\nconnection: close\r\n\r\n";
    waiting.write_all(request.as_bytes()).await.unwrap();
    let answer = until_closed(&mut waiting).await;
    assert!(answer.ends_with("ok"), "{answer}");
    assert_eq!(until_closed(&mut silent).await, "", "its place was given on");
}

#[tokio::test]
async fn a_stopping_server_gives_up_on_what_does_not_end() {
    let http = HttpConfig { drain: Duration::from_millis(50), ..HttpConfig::default() };
    let house = House::with(config(http)).await;
    let mut half = TcpStream::connect(house.address).await.unwrap();
    let head = "POST /api/v1/enrol HTTP/1.1\r\nhost: house\r\ncontent-length: 100\r\n\r\n{";
    half.write_all(head.as_bytes()).await.unwrap();
    let mut whole = TcpStream::connect(house.address).await.unwrap();
    whole.write_all(b"GET /healthz HTTP/1.1\r\nhost: house\r\n\r\n").await.unwrap();
    let mut first = [0; 12];
    whole.read_exact(&mut first).await.unwrap();
    assert_eq!(&first, b"HTTP/1.1 200");
    let stopped = tokio::time::timeout(HANG, house.stop());
    stopped.await.expect("the server stops");
}

#[tokio::test]
async fn serve_opens_and_closes_by_itself() {
    let dir = tempfile::tempdir().unwrap();
    let mut config = Config::default();
    config.data.dir = dir.path().join("made").join("for it");
    let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let address = listener.local_addr().unwrap();
    let (stop, stopped) = oneshot::channel::<()>();
    let shutdown = async { stopped.await.unwrap() };
    let served = tokio::spawn(serve::serve(config.clone(), listener, shutdown));
    let health = reqwest::get(format!("http://{address}/healthz")).await.unwrap();
    assert_eq!(health.text().await.unwrap(), "ok");
    stop.send(()).unwrap();
    served.await.unwrap().unwrap();
    assert!(config.data.file().is_file());
    let wal = config.data.dir.join("lugbook.sqlite-wal");
    assert!(!wal.exists(), "everything is in the database itself");
}
