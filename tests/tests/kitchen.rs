//! A plan kept on one phone is on another, is ticked there, made there, and its jars are counted.

use std::path::Path;

use serde_json::{Value, json};
use tests::browser::{Browser, Driver, PHONE};
use tests::house::{House, free_port};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_plan_kept_on_one_phone_is_ticked_and_made_on_another() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::demo(program, free_port()).await.expect("the demo starts");
    let driver = Driver::start().await.expect("chromedriver");
    let ana = join(&driver, &house, "Ana").await;
    let ben = join(&driver, &house, "Ben").await;
    for phone in [&ana, &ben] {
        phone.go(&format!("{}/kitchen", house.url)).await.expect("loads");
        phone.sees("The fortnight keeps").await;
    }

    // Planned and kept without a network; it reaches the other phone afterwards.
    ana.offline(true).await.expect("goes offline");
    ana.press("Plan anew").await;
    ana.press("Keep this plan").await;
    ana.sees("Plan anew").await;
    let planned = ids_of_cards(&ana).await;
    assert!(!planned.is_empty(), "{}", ana.page_text().await);
    ana.offline(false).await.expect("comes back");
    ana.sees("all sent").await;
    let same = format!("return {CARDS} === arguments[0]");
    ben.until(&same, vec![json!(planned)], "the plan never came").await;

    // Ticked on one, seen on the other.
    let tick = "document.querySelector('.plan-step .tick input').click(); return true";
    ben.until(tick, vec![], "there is no step to tick").await;
    let ticked = "return document.querySelectorAll('.plan-step.done-with').length > 0";
    ana.until(ticked, vec![], "the tick never came").await;

    // Made on one, counted down on the other.
    let jars = "const card = [...document.querySelectorAll('.columns .card')]
        .find(card => card.innerText.includes('→') && !card.innerText.includes('evening'));
        if (card) card.click(); return !!card";
    ben.until(jars, vec![], "no batch fills jars").await;
    ben.press("Made it…").await;
    ben.press("Keep what was made").await;
    ben.sees("best by").await;
    ben.sees("all sent").await;
    ana.press("Pantry").await;
    let first = count_of_the_first(&ben).await;
    let counted = "return document.querySelector('.row .right b')?.innerText === arguments[0]";
    ana.until(counted, vec![json!(first.to_string())], "the jars never came").await;
    ana.press("Use one").await;
    let left = json!((first - 1).to_string());
    for phone in [&ana, &ben] {
        phone.until(counted, vec![left.clone()], "the jar was not counted").await;
    }
    for phone in [ana, ben] {
        phone.close().await.expect("closes");
    }
}

/// What the fortnight's cards say.
const CARDS: &str =
    "[...document.querySelectorAll('.columns .card')].map(card => card.innerText).join('|')";

async fn ids_of_cards(phone: &Browser) -> String {
    let cards = phone.script(&format!("return {CARDS}"), vec![]).await.expect("reads");
    cards.as_str().unwrap_or_default().to_owned()
}

async fn count_of_the_first(phone: &Browser) -> i64 {
    let read = "return Number(document.querySelector('.row .right b').innerText)";
    phone.script(read, vec![]).await.ok().as_ref().and_then(Value::as_i64).expect("a count")
}

async fn join(driver: &Driver, house: &House, name: &str) -> Browser {
    let phone = Browser::open(driver, PHONE).await.expect("opens");
    phone.go(&format!("{}/#join={}", house.url, house.code)).await.expect("loads");
    phone.fill("Your name", name).await;
    phone.press("Join").await;
    phone.sees("Last clear-out").await;
    phone.sees("all sent").await;
    let ready = "return document.documentElement.dataset.offline === 'ready'";
    phone.until(ready, vec![], "the worker never had everything for offline").await;
    phone
}
