//! Pictures of every screen of the demo, in both themes, narrow and wide, into `tests/pictures`:
//! `cargo run -p tests --bin pictures`. README shows three of them.

#![expect(clippy::print_stdout, reason = "its output is what it is for")]

use std::path::Path;

use tests::browser::{Browser, Driver, PHONE, Screen, WIDE};
use tests::house::{House, free_port};

const SCREENS: [(&str, &str); 8] = [
    ("pick", "/"),
    ("tally", "/tally"),
    ("ripening", "/ripening"),
    ("kitchen", "/kitchen"),
    ("stores", "/stores"),
    ("tonight", "/tonight"),
    ("season", "/season"),
    ("house", "/house"),
];

/// Waits until a screen has drawn what it has to draw, fonts and frames included.
const DRAWN: &str = "const done = arguments[arguments.length - 1];
    document.fonts.ready.then(() => requestAnimationFrame(() => requestAnimationFrame(() => done(true))));";

#[tokio::main(flavor = "multi_thread", worker_threads = 2)]
async fn main() {
    let program = std::env::current_exe().expect("this program is a file").with_file_name("house");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder");
    let house = House::demo(&program, free_port()).await.expect("the demo starts");
    let driver = Driver::start().await.expect("chromedriver");
    let phone = Browser::open(&driver, PHONE).await.expect("opens");
    phone.go(&format!("{}/#join={}", house.url, house.code)).await.expect("loads");
    phone.fill("Your name", "Mara").await;
    phone.press("Join").await;
    phone.sees("Last clear-out").await;
    phone.sees("all sent").await;
    for (size, screen) in [("phone", PHONE), ("wide", WIDE)] {
        for (theme, dark) in [("light", false), ("dark", true)] {
            phone.resize(Screen { dark, ..screen }).await.expect("another size");
            for (name, path) in SCREENS {
                phone.go(&format!("{}{path}", house.url)).await.expect("loads");
                phone.sees("all sent").await;
                if name == "pick" {
                    prepare_pick(&phone).await;
                }
                phone.script_async(DRAWN, vec![]).await.expect("draws");
                let file = folder.join(format!("{size}-{name}-{theme}.png"));
                std::fs::write(&file, phone.picture().await.expect("a picture"))
                    .expect("is written");
                println!("{}", file.display());
            }
        }
    }
    phone.close().await.expect("closes");
}

/// A bin half entered, as a helper would see it.
async fn prepare_pick(phone: &Browser) {
    phone.sees("clear-out").await;
    if phone.page_text().await.contains("Keep colouring") {
        // The form keeps what was typed, also over a load.
        return;
    }
    if phone.page_text().await.contains("choose") {
        phone.press("place").await;
        phone.press("Bed 3").await;
        phone.press("bin").await;
        phone.press("Lug").await;
    }
    phone.press("Colouring").await;
    for key in ["1", "0", "point", "1"] {
        phone.press(key).await;
    }
}
