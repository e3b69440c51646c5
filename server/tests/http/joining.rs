//! Who comes in, and what they may do.

use reqwest::Method;
use serde_json::{Value, json};
use shared_types::ids::DeviceId;
use shared_types::units::Millis;
use shared_types::wire::limits::{CODE_TRIES_MAX, CODE_WINDOW_MS};
use shared_types::wire::{
    Code, DeviceInfo, Enrolled, Hello, OLDEST, RefusalCode, RenewRequest, RevokeRequest, Role,
    VERSION,
};

use crate::support::{House, Phone, answer, refused};

#[tokio::test]
async fn anyone_may_say_hello() {
    let house = House::new().await;
    let hello: Hello = answer(house.request(Method::GET, "/api/v1/hello")).await.unwrap();
    assert_eq!((hello.name.as_str(), hello.v, hello.oldest), ("lugbook", VERSION, OLDEST));
    assert_eq!(hello.epoch, house.store.epoch());
    let health = house.request(Method::GET, "/healthz").send().await.unwrap();
    assert_eq!(health.text().await.unwrap(), "ok");
}

#[tokio::test]
async fn the_first_phone_owns_and_lets_others_in() {
    let house = House::new().await;
    let owner = house.phone(1).await;
    assert_eq!(owner.role, Role::Owner);
    assert!(owner.token.starts_with("lb_"));
    let code: Code = owner.post(&house, "/api/v1/codes", &json!({})).await.unwrap();
    let typed = code.code.to_lowercase().replace('-', " ");
    let helper = house.enrol(DeviceId::new(Millis(0), [2; 10]), &typed).await.unwrap();
    let helper = Phone::of(helper);
    assert_eq!(helper.role, Role::Helper);
    let again: Result<Code, _> = helper.post(&house, "/api/v1/codes", &json!({})).await;
    assert_eq!(refused(again), RefusalCode::Forbidden);
    let out = RevokeRequest { device: owner.device };
    let out: Result<(), _> = helper.post(&house, "/api/v1/devices/revoke", &out).await;
    assert_eq!(refused(out), RefusalCode::Forbidden);

    let devices: Vec<DeviceInfo> = helper.get(&house, "/api/v1/devices").await.unwrap();
    let roles: Vec<_> = devices.iter().map(|device| (device.device, device.role)).collect();
    assert_eq!(roles, [(owner.device, Role::Owner), (helper.device, Role::Helper)]);
}

#[tokio::test]
async fn guessing_codes_is_slowed_down_for_right_ones_too() {
    let house = House::new().await;
    let device = DeviceId::new(Millis(0), [1; 10]);
    for _ in 0..CODE_TRIES_MAX {
        assert_eq!(refused(house.enrol(device, "0000-0000").await), RefusalCode::CodeWrong);
    }
    let right = house.enrol(device, &house.code(Role::Helper)).await;
    let RefusalCode::SlowDown { retry_ms } = refused(right) else { panic!("let in") };
    assert!((1..=CODE_WINDOW_MS).contains(&retry_ms), "{retry_ms}");
}

#[tokio::test]
async fn a_wrong_token_is_told_from_a_revoked_one() {
    let house = House::new().await;
    let owner = house.phone(1).await;
    let mut helper = house.phone(2).await;
    helper.exchange(&house, helper.entries(1..=2)).await.unwrap();

    let mut stranger = Phone { token: "lb_wrong".into(), ..helper.clone() };
    assert_eq!(refused(stranger.exchange(&house, vec![]).await), RefusalCode::TokenUnknown);
    let without: Result<Value, _> = answer(house.request(Method::GET, "/api/v1/devices")).await;
    assert_eq!(refused(without), RefusalCode::TokenUnknown);

    let out = RevokeRequest { device: helper.device };
    owner.post::<()>(&house, "/api/v1/devices/revoke", &out).await.unwrap();
    let push = helper.exchange(&house, helper.entries(3..=3)).await;
    assert_eq!(refused(push), RefusalCode::Revoked);

    // With a new code the same phone comes back, and what it still had to send is taken.
    let code = house.code(Role::Helper);
    helper.token = house.enrol(helper.device, &code).await.unwrap().token;
    let reply = helper.exchange(&house, helper.entries(3..=3)).await.unwrap();
    assert_eq!(reply.acked, 3);
}

#[tokio::test]
async fn a_viewer_reads_and_does_not_write() {
    let house = House::new().await;
    let mut owner = house.phone(1).await;
    owner.exchange(&house, owner.entries(1..=3)).await.unwrap();
    let mut viewer = house.phone_as(2, Role::Viewer).await;
    let push = viewer.exchange(&house, viewer.entries(1..=1)).await;
    assert_eq!(refused(push), RefusalCode::Forbidden);
    viewer.read_all(&house).await;
    assert_eq!(viewer.read.len(), 3);
}

#[tokio::test]
async fn a_forked_phone_takes_another_id() {
    let house = House::new().await;
    let mut phone = house.phone(1).await;
    phone.exchange(&house, phone.entries(1..=2)).await.unwrap();
    let mut other = phone.entry(2);
    other.hlc.1 = 9;
    let forked = phone.exchange(&house, vec![other]).await;
    assert_eq!(refused(forked), RefusalCode::DeviceForked { device_seq: 2 });

    let ask = RenewRequest { v: VERSION, device: DeviceId::new(Millis(0), [9; 10]) };
    let renewed: Enrolled = phone.post(&house, "/api/v1/renew", &ask).await.unwrap();
    let mut renewed = Phone::of(renewed);
    assert_eq!((renewed.device, renewed.role), (ask.device, Role::Owner));
    let reply = renewed.exchange(&house, renewed.entries(1..=1)).await.unwrap();
    assert_eq!(reply.acked, 1);
    assert_eq!(reply.rows.len(), 3, "what it wrote under its earlier id comes whole");
    phone.exchange(&house, vec![]).await.unwrap();
    let taken: Result<Enrolled, _> = phone.post(&house, "/api/v1/renew", &ask).await;
    assert!(matches!(refused(taken), RefusalCode::Malformed { .. }));
}
