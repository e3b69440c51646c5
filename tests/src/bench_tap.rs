//! From the tap on Keep to the word that the bin is on the disk, in Chromium with its processor
//! slowed down fourfold.

use std::path::Path;

use serde_json::{Value, json};

use crate::browser::{Browser, Driver, PHONE};
use crate::house::{House, free_port};

const BINS: usize = 120;
const SLOWER: u32 = 4;

/// Presses a class, a preset and Keep, `BINS` times, and notes in the page the time between the
/// press on Keep and the frame in which the kept line changed.
const RUN: &str = r"
    const [bins, done] = arguments;
    const button = name => [...document.querySelectorAll('main button')]
        .find(b => b.innerText.replace(/\s+/g, ' ').trim().startsWith(name));
    const kept = () => document.querySelectorAll('.class[aria-pressed=true]').length === 0;
    const frame = () => new Promise(requestAnimationFrame);
    const settle = () => new Promise(resolve => setTimeout(resolve, 60));
    (async () => {
        const times = [];
        for (let n = 0; n < bins; n++) {
            button(['Ripe', 'Colouring', 'Green'][n % 3]).click();
            button('Full').click();
            await settle();
            const began = performance.now();
            document.querySelector('.keep').click();
            while (!kept()) await frame();
            times.push(performance.now() - began);
        }
        done(times);
    })();";

/// Runs it on the demo and returns the times in milliseconds, in order of size.
///
/// # Panics
/// When the demo or the browser does not start.
pub async fn run(program: &Path) -> Vec<f64> {
    let house = House::demo(program, free_port()).await.expect("the demo starts");
    let driver = Driver::start().await.expect("chromedriver");
    let phone = Browser::open(&driver, PHONE).await.expect("opens");
    phone.go(&format!("{}/#join={}", house.url, house.code)).await.expect("loads");
    phone.fill("Your name", "Mara").await;
    phone.press("Join").await;
    phone.sees("all sent").await;
    for (chip, choice) in [("place", "Bed 3"), ("bin", "Lug")] {
        phone.press(chip).await;
        phone.press(choice).await;
    }
    phone.slow_down(SLOWER).await.expect("slows down");
    let times = phone.script_async(RUN, vec![json!(BINS)]).await.expect("runs");
    phone.close().await.expect("closes");
    let times = times.as_array().map(Vec::as_slice).unwrap_or_default();
    let mut times: Vec<f64> = times.iter().filter_map(Value::as_f64).collect();
    times.sort_by(f64::total_cmp);
    times
}
