//! The golden vectors over real HTTP: what a phone sends and what another gets back, byte for byte.

use std::path::Path;

use reqwest::{Client, StatusCode};
use serde_json::value::RawValue;
use serde_json::{Value, json};
use shared_types::entry::{Digest, Entry};
use shared_types::ids::{DeviceId, PersonId};
use shared_types::units::Millis;
use shared_types::wire::{Enrolled, ExchangeReply, Hello, Refusal, RefusalCode, VERSION};
use tests::golden;
use tests::house::{House, free_port};

struct Call {
    http: Client,
    url: String,
}

impl Call {
    async fn enrol(&self, code: &str, device: DeviceId) -> Enrolled {
        let person = PersonId::new(Millis(0), [9; 10]);
        let body =
            json!({"v": VERSION, "code": code, "name": "Wren", "device": device, "person": person});
        let answer = self.http.post(format!("{}/api/v1/enrol", self.url)).json(&body).send().await;
        answer.expect("answers").json().await.expect("is let in")
    }

    /// Status and text of an exchange of `body` as it stands.
    async fn exchange(&self, token: &str, body: String) -> (StatusCode, String) {
        let answer = self
            .http
            .post(format!("{}/api/v1/exchange", self.url))
            .bearer_auth(token)
            .header("content-type", "application/json")
            .body(body)
            .send()
            .await
            .expect("answers");
        (answer.status(), answer.text().await.expect("is text"))
    }
}

#[tokio::test]
async fn the_vectors_go_in_and_come_out_unharmed() {
    let data = tempfile::tempdir().expect("a folder");
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::start(program, data.path(), free_port()).await.expect("starts");
    let call = Call { http: Client::new(), url: house.url.clone() };

    let hello = call.http.get(format!("{}/api/v1/hello", call.url)).send().await.expect("answers");
    let hello: Hello = hello.json().await.expect("is a hello");
    assert_eq!((hello.name.as_str(), hello.v), ("lugbook", VERSION));

    let entries = golden::entries();
    let lines: Vec<&str> = include_str!("../golden/entries.txt")
        .lines()
        .map(|line| line.split_once(' ').expect("hash and entry").1)
        .collect();
    let writer = call.enrol(&house.code, entries[0].device).await;
    let body = format!("{{\"v\":1,\"cursor\":0,\"entries\":[{}]}}", lines.join(","));
    let (status, text) = call.exchange(&writer.token, body.clone()).await;
    assert_eq!(status, StatusCode::OK, "{text}");
    let reply: ExchangeReply = serde_json::from_str(&text).expect("a reply");
    let digest = entries.iter().fold(Digest::default(), |d, entry| d.then(entry.hash()));
    let all = entries.len();
    assert_eq!((reply.acked, reply.rows.len(), reply.digest), (all as u64, all, digest));
    let (_, again) = call.exchange(&writer.token, body).await;
    let again: ExchangeReply = serde_json::from_str(&again).expect("a reply");
    assert_eq!((again.rows, again.digest), (reply.rows, digest), "sent twice, there once");

    let reader = call.enrol(&house.code, DeviceId::new(Millis(0), [77; 10])).await;
    let (_, text) = call.exchange(&reader.token, json!({"v": 1}).to_string()).await;
    #[derive(serde::Deserialize)]
    struct Row {
        entry: Box<RawValue>,
    }
    #[derive(serde::Deserialize)]
    struct Rows {
        rows: Vec<Row>,
    }
    let rows: Rows = serde_json::from_str(&text).expect("rows");
    for (row, line) in rows.rows.iter().zip(&lines) {
        let (came, sent): (Entry, Entry) = (
            serde_json::from_str(row.entry.get()).expect("an entry"),
            serde_json::from_str(line).expect("an entry"),
        );
        assert_eq!((came.hash(), &came), (sent.hash(), &sent));
        assert_eq!(row.entry.get(), *line, "not a byte differs");
    }
    assert_eq!(rows.rows.len(), lines.len());
}

#[tokio::test]
async fn a_bad_request_gets_a_code_and_a_next_step() {
    let data = tempfile::tempdir().expect("a folder");
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::start(program, data.path(), free_port()).await.expect("starts");
    let call = Call { http: Client::new(), url: house.url.clone() };
    let me = call.enrol(&house.code, DeviceId::new(Millis(0), [7; 10])).await;
    let token = me.token.as_str();
    let huge = "x".repeat(3 * 1024 * 1024);
    let cases: [(&str, String, RefusalCode); 5] = [
        ("lb_wrong", json!({"v": 1}).to_string(), RefusalCode::TokenUnknown),
        (token, json!({"v": 999}).to_string(), RefusalCode::ServerTooOld { newest: VERSION }),
        (token, json!({"v": 0}).to_string(), RefusalCode::AppTooOld { oldest: 1 }),
        (token, json!({"v": 1, "note": huge}).to_string(), RefusalCode::BatchTooLarge),
        (
            token,
            json!({"v": 1, "epoch": me.epoch, "cursor": 5}).to_string(),
            RefusalCode::CursorAhead { latest: 0 },
        ),
    ];
    for (token, body, code) in cases {
        let (status, text) = call.exchange(token, body).await;
        let refusal: Refusal = serde_json::from_str(&text).expect("a refusal in JSON");
        assert_eq!((status.as_u16(), &refusal.code), (code.status(), &code), "{text}");
        assert_eq!(refusal.message, code.message());
    }
    let (status, text) = call.exchange(token, "{\"v\":1,".to_owned()).await;
    let refusal: Value = serde_json::from_str(&text).expect("a refusal in JSON");
    assert_eq!((status.as_u16(), &refusal["code"]), (400, &json!("malformed")), "{text}");
}
