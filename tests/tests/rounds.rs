//! A round on a phone without a network: five taps at most, kept through a load, and in the house
//! once the network is back.

use std::path::Path;

use shared_types::book::lots::TAKEN_RIPE;
use tests::browser::{Browser, Driver, PHONE};
use tests::house::{House, free_port};
use tests::phone::Phone;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_round_is_made_offline_and_reaches_the_house() {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::demo(program, free_port()).await.expect("the demo starts");
    let driver = Driver::start().await.expect("chromedriver");
    let phone = Browser::open(&driver, PHONE).await.expect("opens");
    phone.go(&format!("{}/#join={}", house.url, house.code)).await.expect("loads");
    phone.fill("Your name", "Mara").await;
    phone.press("Join").await;
    phone.sees("Last clear-out").await;
    phone.sees("all sent").await;

    let mut witness = Phone::new(1, &house.url);
    witness.join(&house.code).await.expect("joins");
    assert!(witness.exchange().await, "the house answers");
    let before = witness.engine.confirmed().rounds.len();
    assert!(before > 3, "the demo has rounds");

    phone.offline(true).await.expect("goes offline");
    phone.press("Ripening").await;
    phone.sees("What your rounds taught").await;
    // Three taps and the figures: into the first lot, what is ripe, done.
    phone.press("Start a round").await;
    phone.fill("Ripe, taken out, kg", "0.4").await;
    phone.fill("Lost, thrown, kg", "0.1").await;
    phone.press("Done").await;
    phone.sees("0.4 kg ripe, 0.1 kg thrown").await;
    phone.sees("1 kept here").await;
    phone.reload().await.expect("loads without a network");
    phone.sees("last round today").await;

    phone.offline(false).await.expect("comes back");
    phone.sees("all sent").await;
    assert!(witness.exchange().await, "the house answers");
    let book = witness.engine.confirmed();
    assert_eq!(book.rounds.len(), before + 1);
    let lots = book.lots();
    assert_eq!(lots.stray, []);
    let round = book.rounds.values().max_by_key(|round| round.fact.at).expect("is there");
    let lot = &lots.all[&round.fact.lot];
    assert!(lot.taken[TAKEN_RIPE] >= round.fact.ripe.expect("was taken"));
    assert!(
        lots.all
            .values()
            .any(|lot| lot.from_round.is_some_and(|from| from.round == round.fact.round)),
        "the ripe ones are a lot of their own"
    );
    phone.close().await.expect("closes");
}
