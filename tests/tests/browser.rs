//! Two phones in real Chromium: they join, lose the network, are loaded anew without it, log 25 bins
//! each with corrections; one is killed and opened again; both come back and agree, to the gram,
//! with a sum made here and with what the house holds.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use shared_types::book::totals::By;
use shared_types::entry::*;
use shared_types::ids::*;
use shared_types::units::{Altitude, Day, Grams, MilliCelsius, Millis};
use tests::browser::{Browser, Driver, PHONE};
use tests::house::{House, free_port};
use tests::now;
use tests::phone::Phone;

#[path = "../../shared-types/examples/vectors/check.rs"]
mod check;

/// Bins each phone logs without a network.
const BINS: usize = 25;
const TARE: i64 = 700;
const FULL: i64 = 11_000;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_phones_offline_killed_and_back_agree_to_the_gram() {
    let data = tempfile::tempdir().expect("a folder");
    let (house, mut witness) = furnished(data.path()).await;

    let driver = Driver::start().await.expect("chromedriver");
    let ana = join(&driver, &house, "Ana", "Bed 3").await;
    let ben = join(&driver, &house, "Ben", "Bed 5").await;

    for phone in [&ana, &ben] {
        phone.offline(true).await.expect("goes offline");
        phone.reload().await.expect("loads without a network");
        phone.sees("Clear-out").await;
        phone.press("place").await;
    }
    for (phone, bed) in [(&ana, "Bed 3"), (&ben, "Bed 5")] {
        phone.press(bed).await;
    }
    let mut sum = Grams::ZERO;
    for n in 0..BINS {
        sum += log_bin(&ana, n).await;
        if n < BINS / 2 {
            sum += log_bin(&ben, n + 100).await;
        }
    }
    ana.sees("25 kept here").await;
    let ben = ben.kill_and_reopen(&driver).await.expect("opens on the same disk");
    ben.offline(true).await.expect("still no network");
    ben.go(&house.url).await.expect("opens without a network");
    ben.sees(&format!("{} kept here", BINS / 2)).await;
    for n in BINS / 2..BINS {
        sum += log_bin(&ben, n + 100).await;
    }
    for phone in [&ana, &ben] {
        sum += correct_the_last(phone).await;
    }
    sum = sum - strike_the_last(&ana).await;

    for phone in [&ana, &ben] {
        phone.offline(false).await.expect("comes back");
    }
    for phone in [&ana, &ben] {
        phone.sees("all sent").await;
    }
    assert!(witness.exchange().await, "the house answers");
    let book = witness.engine.confirmed();
    assert_eq!(book.totals(None, By::Class, None).total, sum, "the house holds what was logged");
    assert_eq!(book.counted().count(), 2 * BINS - 1);
    assert!(book.set_aside.is_empty() && book.deferred.is_empty());
    let corrected = book.bins.values().filter(|bin| !bin.corrections.is_empty()).count();
    assert_eq!(corrected, 2);

    // Each phone's own digest is over what it folded; equal digests are equal logs.
    let meta = witness.engine.meta();
    let so_far = format!("{:.1} kg", sum.kg());
    for phone in [&ana, &ben] {
        until_digest(phone, &meta.digest.to_string()).await;
        phone.sees(&so_far).await;
        phone.press("Tally").await;
        phone.sees(&format!("{:.1}", sum.kg())).await;
        phone.press("Ripening").await;
        phone.sees("ready today").await;
        phone.press("Kitchen").await;
        phone.sees("Plan the fortnight").await;
    }
    vectors_in_wasm(&ana).await;
    for phone in [ana, ben] {
        phone.close().await.expect("closes");
    }
}

/// A house with a witness in it who wrote down what there is.
async fn furnished(data: &Path) -> (House, Phone) {
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::start(program, data, free_port()).await.expect("starts");
    let mut witness = Phone::new(1, &house.url);
    witness.join(&house.code).await.expect("joins");
    furnish(&mut witness);
    assert!(witness.exchange().await, "the house answers");
    (house, witness)
}

/// A pick, two places, a room, a kind of bin and a variety, written by the witness.
fn furnish(witness: &mut Phone) {
    let id = |n: u8| [n; 10];
    let room = RoomId::new(Millis(0), id(1));
    let facts: Vec<Fact> = vec![
        HoldingSet { altitude: Some(Altitude::from_metres(870)), ..HoldingSet::default() }.into(),
        PickSet {
            pick: PickId::new(Millis(0), id(2)),
            day: Some(Day::at(now(), 0)),
            name: Some("Clear-out".to_owned()),
            closed: None,
        }
        .into(),
        RoomSet {
            room,
            name: Some("Window".to_owned()),
            temperature: Some(MilliCelsius::from_celsius(20)),
            humidity: None,
            retired: None,
        }
        .into(),
        BinTypeSet {
            bin_type: BinTypeId::new(Millis(0), id(3)),
            name: Some("Lug".to_owned()),
            tare: Some(Grams(TARE)),
            full: Some(Grams(FULL)),
            retired: None,
        }
        .into(),
        VarietySet {
            variety: VarietyId::new(Millis(0), id(4)),
            crop: Some("tomato".into()),
            name: Some("Paste".to_owned()),
            retired: None,
        }
        .into(),
    ];
    for fact in facts {
        witness.keep(fact);
    }
    for (n, name) in [(5, "Bed 3"), (6, "Bed 5")] {
        witness.keep(PlaceSet {
            place: PlaceId::new(Millis(0), id(n)),
            name: Some(name.to_owned()),
            covered: None,
            watering: None,
            plants: None,
            area_dm2: None,
            retired: None,
        });
    }
    for class in ["ripe", "colouring", "green"] {
        witness.keep(StandingSet { crop: "tomato".into(), class: class.into(), room });
    }
}

async fn join(driver: &Driver, house: &House, name: &str, bed: &str) -> Browser {
    let phone = Browser::open(driver, PHONE).await.expect("opens");
    phone.go(&format!("{}/#join={}", house.url, house.code)).await.expect("loads");
    phone.fill("Your name", name).await;
    phone.press("Join").await;
    phone.sees("Clear-out").await;
    phone.press("place").await;
    phone.press(bed).await;
    phone.press("bin").await;
    phone.press("Lug").await;
    phone.sees("all sent").await;
    let ready = "return document.documentElement.dataset.offline === 'ready'";
    phone.until(ready, vec![], "the worker never had everything for offline").await;
    phone
}

/// Logs the `n`th bin by class, weight and Keep; every third by a preset. Says what is in it.
async fn log_bin(phone: &Browser, n: usize) -> Grams {
    const CLASSES: [&str; 3] = ["Ripe", "Colouring", "Green"];
    phone.press(CLASSES[n % CLASSES.len()]).await;
    let net = if n.is_multiple_of(3) {
        phone.press("Full").await;
        Grams(FULL)
    } else {
        let tenths = 23 + (n * 7) % 70;
        type_weight(phone, tenths).await;
        Grams(tenths as i64 * 100 - TARE)
    };
    phone.press("Keep").await;
    let kept = "return document.querySelector('.kept')?.innerText.startsWith('kept')
        && !document.querySelector('.class[aria-pressed=true]')";
    phone.until(kept, vec![], "it was not said to be kept").await;
    net
}

async fn type_weight(phone: &Browser, tenths: usize) {
    for key in format!("{}.{}", tenths / 10, tenths % 10).chars() {
        let key = if key == '.' { "point".to_owned() } else { key.to_string() };
        phone.press(&key).await;
    }
}

/// Changes the last bin to 8.8 kg on the scale. Says by how much the sum changes.
async fn correct_the_last(phone: &Browser) -> Grams {
    let before = net_of_the_last(phone).await;
    phone.press("Change").await;
    phone.sees("Keep change").await;
    for _ in 0..6 {
        phone.press("Delete last digit").await;
    }
    type_weight(phone, 88).await;
    phone.press("Keep change").await;
    phone.sees("changed ").await;
    Grams(8_800 - TARE) - before
}

/// Takes the last bin out. Says what was in it.
async fn strike_the_last(phone: &Browser) -> Grams {
    let net = net_of_the_last(phone).await;
    phone.press("Undo").await;
    phone.sees("taken out").await;
    net
}

/// Opens the last five and reads the first one's weight.
async fn net_of_the_last(phone: &Browser) -> Grams {
    phone.press("Last five").await;
    phone.sees("Last five bins").await;
    let title =
        phone.script("return document.querySelector('.row .title').innerText", vec![]).await;
    let title = title.expect("a row");
    let kg: f64 = title
        .as_str()
        .and_then(|title| title.split_whitespace().rev().nth(1)?.parse().ok())
        .expect("`Ripe 11.0 kg`");
    Grams((kg * 1000.0).round() as i64)
}

/// Waits until the phone's disk holds a log of this digest.
async fn until_digest(phone: &Browser, digest: &str) {
    const READ: &str = r"
        const done = arguments[arguments.length - 1];
        const open = indexedDB.open('lugbook');
        open.onsuccess = () => {
            const read = open.result.transaction('state').objectStore('state').get('meta');
            read.onsuccess = () => { open.result.close(); done(read.result ?? null); };
        };";
    let mut last = Value::Null;
    for _ in 0..200 {
        last = phone.script_async(READ, vec![]).await.expect("reads the disk");
        let meta: Value =
            last.as_str().and_then(|text| serde_json::from_str(text).ok()).unwrap_or_default();
        if meta["digest"] == json!(digest) {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    panic!("the phone's log is not the house's: {last}");
}

/// The golden vectors, and a forecast to the last bit, in a wasm build inside the browser.
async fn vectors_in_wasm(phone: &Browser) {
    const RUN: &str = r"
        const [hex, done] = arguments;
        const bytes = Uint8Array.from(hex.match(/../g), pair => parseInt(pair, 16));
        // A library brings imports along that nothing here calls; whoever calls one is told.
        const module = new WebAssembly.Module(bytes), imports = {};
        for (const { module: from, name } of WebAssembly.Module.imports(module)) {
            (imports[from] ??= {})[name] = () => { throw new Error(name + ' was called'); };
        }
        WebAssembly.instantiate(module, imports).then(({ exports }) => {
            const at = exports.report(), length = exports.report_len();
            done(new TextDecoder().decode(new Uint8Array(exports.memory.buffer, at, length)));
        }, error => done(String(error)));";
    let bytes = std::fs::read(built_vectors()).expect("was built");
    let hex: String = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
    let report = phone.script_async(RUN, vec![json!(hex)]).await.expect("runs");
    let report = report.as_str().expect("text");
    let native = check::report();
    assert!(native.lines().all(|line| line.starts_with("same ")), "{native}");
    for (wasm, native) in report.lines().zip(native.lines()) {
        assert_eq!(wasm, native);
    }
    assert_eq!(report.lines().count(), native.lines().count(), "{report}");
}

/// Builds the vectors for wasm32, where the phone's program is built, and says where they are.
fn built_vectors() -> PathBuf {
    let here = std::env::current_exe().expect("this program is a file");
    let target = here.ancestors().nth(3).expect("target/profile/deps/test").join("pwa");
    let manifest = Path::new(env!("CARGO_MANIFEST_DIR")).join("../Cargo.toml");
    let built = std::process::Command::new(env!("CARGO"))
        .args(["build", "--quiet", "-p", "shared-types", "--example", "vectors"])
        .args(["--target", "wasm32-unknown-unknown", "--profile", "pwa", "--target-dir"])
        .arg(&target)
        .arg("--manifest-path")
        .arg(manifest)
        .status()
        .expect("cargo runs");
    assert!(built.success(), "the vectors do not build for wasm32");
    target.join("wasm32-unknown-unknown/pwa/examples/vectors.wasm")
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_full_phone_says_so_and_keeps_what_was_typed() {
    let data = tempfile::tempdir().expect("a folder");
    let (house, _) = furnished(data.path()).await;
    let driver = Driver::start().await.expect("chromedriver");
    let phone = join(&driver, &house, "Ana", "Bed 3").await;
    log_bin(&phone, 1).await;

    // The browser counts room when a disk is first written to; so it is opened anew.
    let phone = phone.kill_and_reopen(&driver).await.expect("opens on the same disk");
    phone.leave_room(&house.url, 1).await.expect("the disk is full");
    phone.go(&house.url).await.expect("loads");
    phone.sees("Clear-out").await;
    phone.press("place").await;
    phone.press("Bed 3").await;
    phone.press("Ripe").await;
    type_weight(&phone, 94).await;
    phone.press("Keep").await;
    phone.sees("Not kept").await;
    phone.sees("Keep ripe, 8.7 kg").await;

    phone.leave_all_room(&house.url).await.expect("there is room again");
    phone.press("Keep").await;
    let kept = "return document.querySelector('.kept')?.innerText.startsWith('kept')";
    phone.until(kept, vec![], "it was not kept though there is room").await;
    phone.close().await.expect("closes");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_browser_without_storage_is_told_what_to_do() {
    let data = tempfile::tempdir().expect("a folder");
    let program = Path::new(env!("CARGO_BIN_EXE_house"));
    let house = House::start(program, data.path(), free_port()).await.expect("starts");
    let driver = Driver::start().await.expect("chromedriver");
    let phone = Browser::open(&driver, PHONE).await.expect("opens");
    phone
        .before_every_page(
            "delete window.indexedDB; Object.defineProperty(window, 'indexedDB', \
        { get() { throw new DOMException('The operation is insecure.', 'SecurityError'); } });",
        )
        .await
        .expect("takes the script");
    phone.go(&house.url).await.expect("loads");
    phone.sees("private").await;
    phone.close().await.expect("closes");
}
