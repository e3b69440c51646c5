//! One evening on two phones in real Chromium: the form on one, chores come of it, ticked off on the
//! other, also without a network.

use std::path::Path;

use tests::browser::{Browser, Driver, PHONE};
use tests::house::{House, free_port};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_evening_noted_on_one_phone_is_chores_on_another_and_ticked_there() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::demo(program, free_port()).await.expect("the demo starts");
    let driver = Driver::start().await.expect("chromedriver");
    let mara = join(&driver, &house, "Mara").await;
    let wren = join(&driver, &house, "Wren").await;

    open_tonight(&mara, &house).await;
    mara.offline(true).await.expect("goes offline");
    mara.press("Note this evening").await;
    mara.fill("Air now", "1.5").await;
    mara.fill("Humidity", "60").await;
    mara.press("clear").await;
    mara.press("calm").await;
    mara.press("Keep this evening").await;
    mara.sees("expected").await;
    mara.sees("Close The tunnel").await;
    mara.sees("At risk").await;
    mara.offline(false).await.expect("comes back");
    mara.sees("all sent").await;

    open_tonight(&wren, &house).await;
    wren.sees("Close The tunnel").await;
    tick(&wren, "done: Close The tunnel").await;
    wren.sees("done by Wren").await;
    wren.sees("all sent").await;
    mara.sees("done by Wren").await;

    for phone in [mara, wren] {
        phone.close().await.expect("closes");
    }
}

async fn join(driver: &Driver, house: &House, name: &str) -> Browser {
    let phone = Browser::open(driver, PHONE).await.expect("opens");
    phone.go(&format!("{}/#join={}", house.url, house.code)).await.expect("loads");
    phone.fill("Your name", name).await;
    phone.press("Join").await;
    phone.sees("Last clear-out").await;
    phone.sees("all sent").await;
    phone
}

/// The way a phone goes there: More, then Tonight.
async fn open_tonight(phone: &Browser, house: &House) {
    phone.go(&house.url).await.expect("loads");
    phone.press("More").await;
    phone.press("Tonight").await;
    phone.sees("the night after").await;
}

/// Ticks the box whose label begins with `label`.
async fn tick(phone: &Browser, label: &str) {
    const TICK: &str = r"
        const label = [...document.querySelectorAll('label')]
            .find(l => l.textContent.trim().startsWith(arguments[0]));
        const box = label && label.querySelector('input');
        if (!box) return false;
        box.click();
        return true;";
    let script = vec![serde_json::json!(label)];
    phone.until(TICK, script, "there is no such chore to tick").await;
}
