//! A sensor sends readings, and nothing else can be done with its token.

use reqwest::Method;
use serde_json::{Value, json};
use shared_types::entry::{Entry, EntryId, Fact, RoomSet};
use shared_types::hlc::Hlc;
use shared_types::ids::RoomId;
use shared_types::units::Millis;
use shared_types::wire::{RefusalCode, RevokeRequest};

use crate::support::{House, Refused, answer, refused};

async fn post(house: &House, token: &str, body: &Value) -> Result<Value, Refused> {
    let request = house.request(Method::POST, "/api/v1/readings").bearer_auth(token).json(body);
    answer(request).await
}

#[tokio::test]
async fn a_sensor_comes_in_writes_what_it_read_and_is_shut_out() {
    let house = House::new().await;
    let owner = house.phone(1).await;
    let room = RoomId::new(Millis(0), [7; 10]);
    let set: Fact = RoomSet {
        room,
        name: Some("Back room".into()),
        temperature: None,
        humidity: None,
        retired: None,
    }
    .into();
    let id = EntryId { device: owner.device, device_seq: 1 };
    let entry = Entry::new(id, Hlc(Millis(1_700_000_000_000), 0), &set).unwrap();
    let sent: Result<Value, _> =
        owner.post(&house, "/api/v1/exchange", &owner.request(vec![entry])).await;
    sent.unwrap();
    let sensor: Value =
        owner.post(&house, "/api/v1/sensors", &json!({"name": "Back room shelf"})).await.unwrap();
    let token = sensor["token"].as_str().unwrap();
    let one = json!({"room": "back ROOM", "celsius": 14.2, "humidity": 61});
    assert_eq!(post(&house, token, &one).await.unwrap(), json!({"kept": 1}));
    let at = "2026-10-10T07:05:00+02:00";
    let more = json!([
        {"room": room.to_string(), "celsius": 13.5, "at": at},
        {"room": room.to_string(), "celsius": 13.6, "at": at},
    ]);
    assert_eq!(post(&house, token, &more).await.unwrap(), json!({"kept": 2}));
    let read = house
        .store
        .look(move |book| (book.readings[&room].len(), book.set_aside.len()))
        .await
        .unwrap();
    assert_eq!(read, (2, 0), "two of one moment are one");

    let nowhere = json!({"room": "attic", "celsius": 14.2});
    let RefusalCode::Malformed { reason } = refused(post(&house, token, &nowhere).await) else {
        panic!("kept");
    };
    assert!(reason.contains("Back room"), "{reason}");
    let get = house.request(Method::GET, "/api/v1/devices").bearer_auth(token);
    assert_eq!(refused(answer::<Value>(get).await), RefusalCode::TokenUnknown);
    let refusal = refused(post(&house, &owner.token, &one).await);
    assert_eq!(refusal, RefusalCode::TokenUnknown, "a phone numbers its own entries");

    let device = serde_json::from_value(sensor["device"].clone()).unwrap();
    let out = RevokeRequest { device };
    owner.post::<()>(&house, "/api/v1/devices/revoke", &out).await.unwrap();
    assert_eq!(refused(post(&house, token, &one).await), RefusalCode::Revoked);
}
