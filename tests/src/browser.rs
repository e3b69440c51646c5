//! Phones as real Chromium, driven over the WebDriver protocol (chromedriver).
//!
//! Each phone is a browser of its own with a profile folder of its own, so that it can be killed
//! and opened again with what it had on its disk.

use std::io;
use std::process::Stdio;
use std::time::Duration;

use serde_json::{Value, json};
use thirtyfour::prelude::*;
use tokio::process::{Child, Command};

use crate::house::free_port;

/// How long a page may take to show something before the test gives up: generous, since two
/// browsers and a server share two cores. Nothing is asserted about how long it takes.
const PATIENCE: Duration = Duration::from_secs(30);
const GLANCE: Duration = Duration::from_millis(50);

/// Keeps what a page tells its console, for the message of a failure.
const LISTEN: &str = "window.toldConsole = []; const told = console.error; console.error = (...all) => \
    { window.toldConsole.push(all.join(' ')); told(...all); };";

/// A running chromedriver.
#[derive(Debug)]
pub struct Driver {
    _child: Child,
    url: String,
}

impl Driver {
    /// Starts chromedriver on a free port.
    ///
    /// # Errors
    /// When it is not installed or does not answer.
    pub async fn start() -> io::Result<Self> {
        let port = free_port();
        let child = Command::new("chromedriver")
            .arg(format!("--port={port}"))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .kill_on_drop(true)
            .spawn()
            .map_err(|e| {
                io::Error::other(format!("chromedriver: {e}; `bash tests/run` installs it"))
            })?;
        let url = format!("http://127.0.0.1:{port}");
        let until = tokio::time::Instant::now() + PATIENCE;
        while reqwest::get(format!("{url}/status")).await.is_err() {
            if tokio::time::Instant::now() > until {
                return Err(io::Error::other("chromedriver does not answer"));
            }
            tokio::time::sleep(GLANCE).await;
        }
        Ok(Self { _child: child, url })
    }
}

/// How a phone's screen is.
#[derive(Clone, Copy, Debug)]
pub struct Screen {
    /// CSS pixels across.
    pub width: u32,
    /// CSS pixels down.
    pub height: u32,
    /// Dark theme.
    pub dark: bool,
}

/// The phone the screens are drawn for.
pub const PHONE: Screen = Screen { width: 390, height: 844, dark: false };
/// A laptop on the kitchen counter.
pub const WIDE: Screen = Screen { width: 1280, height: 800, dark: false };

/// A phone: one browser on one profile folder.
#[derive(Debug)]
pub struct Browser {
    driver: WebDriver,
    profile: tempfile::TempDir,
    screen: Screen,
}

impl Browser {
    /// Opens a new phone.
    ///
    /// # Errors
    /// When the browser does not start.
    pub async fn open(driver: &Driver, screen: Screen) -> WebDriverResult<Self> {
        let profile = tempfile::tempdir().expect("a folder");
        Self::on(driver, profile, screen).await
    }

    async fn on(
        driver: &Driver,
        profile: tempfile::TempDir,
        screen: Screen,
    ) -> WebDriverResult<Self> {
        let mut caps = DesiredCapabilities::chrome();
        for arg in [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-dev-shm-usage",
            "--hide-scrollbars",
            &format!("--user-data-dir={}", profile.path().display()),
        ] {
            caps.add_arg(arg)?;
        }
        let web = WebDriver::new(&driver.url, caps).await?;
        let browser = Self { driver: web, profile, screen };
        browser.resize(screen).await?;
        browser.before_every_page(LISTEN).await?;
        Ok(browser)
    }

    /// Gives the page another size or theme.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn resize(&self, screen: Screen) -> WebDriverResult<()> {
        let Screen { width, height, dark } = screen;
        self.devtools(
            "Emulation.setDeviceMetricsOverride",
            json!({"width": width, "height": height, "deviceScaleFactor": 2, "mobile": width < 900}),
        )
        .await?;
        let scheme = if dark { "dark" } else { "light" };
        let features = json!([{"name": "prefers-color-scheme", "value": scheme}]);
        self.devtools("Emulation.setEmulatedMedia", json!({"features": features})).await
    }

    /// Kills the browser, all its processes, without a word; and opens it on the same disk.
    ///
    /// # Errors
    /// When it does not start again.
    pub async fn kill_and_reopen(self, driver: &Driver) -> WebDriverResult<Self> {
        let Self { driver: web, profile, screen } = self;
        kill_all_with(&profile.path().display().to_string()).await;
        // The session is dead; telling the driver so frees its side. Its error says just that.
        drop(web.quit().await);
        Self::on(driver, profile, screen).await
    }

    /// Closes it.
    ///
    /// # Errors
    /// When the driver is gone.
    pub async fn close(self) -> WebDriverResult<()> {
        self.driver.quit().await
    }

    /// Opens an address.
    ///
    /// # Errors
    /// When it cannot be loaded.
    pub async fn go(&self, url: &str) -> WebDriverResult<()> {
        self.driver.goto(url).await
    }

    /// Loads the page anew.
    ///
    /// # Errors
    /// When it cannot be loaded.
    pub async fn reload(&self) -> WebDriverResult<()> {
        self.driver.refresh().await
    }

    /// Takes the network away, or gives it back.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn offline(&self, offline: bool) -> WebDriverResult<()> {
        self.devtools("Network.enable", json!({})).await?;
        let conditions = json!({
            "offline": offline, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1,
        });
        self.devtools("Network.emulateNetworkConditions", conditions).await
    }

    /// Slows the processor down by a factor.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn slow_down(&self, factor: u32) -> WebDriverResult<()> {
        self.devtools("Emulation.setCPUThrottlingRate", json!({"rate": factor})).await
    }

    /// Leaves the page's origin so many bytes of disk, as a full phone would.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn leave_room(&self, origin: &str, bytes: u64) -> WebDriverResult<()> {
        let quota = json!({"origin": origin, "quotaSize": bytes});
        self.devtools("Storage.overrideQuotaForOrigin", quota).await
    }

    /// Takes the limit away again.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn leave_all_room(&self, origin: &str) -> WebDriverResult<()> {
        self.devtools("Storage.overrideQuotaForOrigin", json!({"origin": origin})).await
    }

    /// Runs a script in every page before anything of its own.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn before_every_page(&self, script: &str) -> WebDriverResult<()> {
        self.devtools("Page.addScriptToEvaluateOnNewDocument", json!({"source": script})).await
    }

    async fn devtools(&self, method: &str, parameters: Value) -> WebDriverResult<()> {
        self.driver.cdp().send_raw(method, parameters).await.map(drop)
    }

    /// Runs a script in the page; its value comes back.
    ///
    /// # Errors
    /// When the script throws.
    pub async fn script(&self, script: &str, arguments: Vec<Value>) -> WebDriverResult<Value> {
        Ok(self.driver.execute(script, arguments).await?.json().clone())
    }

    /// As [`Browser::script`], for a script that calls its last argument when it is done.
    ///
    /// # Errors
    /// When the script throws or never calls back.
    pub async fn script_async(
        &self,
        script: &str,
        arguments: Vec<Value>,
    ) -> WebDriverResult<Value> {
        Ok(self.driver.execute_async(script, arguments).await?.json().clone())
    }

    /// Presses the button or link whose name begins with `name`, as a finger would: it must be
    /// there, visible, and not covered.
    ///
    /// # Panics
    /// When it does not appear.
    pub async fn press(&self, name: &str) {
        const FIND: &str = r"
            const clean = text => text.replace(/\s+/g, ' ').trim();
            const named = e => clean(e.getAttribute('aria-label') || e.innerText || '');
            const all = [...document.querySelectorAll('button, a[href], [role=button], summary')]
                .filter(e => e.checkVisibility());
            const name = arguments[0];
            const found = all.find(e => named(e) === name)
                || all.find(e => named(e).startsWith(name + ' '))
                || all.find(e => named(e).startsWith(name)) || null;
            // As a finger scrolls what lies under the tabs.
            const { top, bottom } = found?.getBoundingClientRect() ?? {};
            if (top < 100 || bottom > innerHeight - 100) found.scrollIntoView({ block: 'center' });
            return found;";
        let mut last = String::from("it is not there");
        let until = tokio::time::Instant::now() + PATIENCE;
        while tokio::time::Instant::now() < until {
            let found = self.driver.execute(FIND, vec![json!(name)]).await;
            if let Ok(element) = found.and_then(ScriptRet::element) {
                match element.click().await {
                    Ok(()) => return,
                    Err(error) => last = error.to_string(),
                }
            }
            tokio::time::sleep(GLANCE).await;
        }
        panic!("cannot press `{name}`: {last}\n{}", self.page_text().await);
    }

    /// Types into the field with this label.
    ///
    /// # Panics
    /// When there is no such field.
    pub async fn fill(&self, label: &str, text: &str) {
        const FIND: &str = r"
            const label = [...document.querySelectorAll('label')]
                .find(l => l.checkVisibility() && l.innerText.trim().startsWith(arguments[0]));
            return label ? (label.control || label.querySelector('input')) : null;";
        let until = tokio::time::Instant::now() + PATIENCE;
        while tokio::time::Instant::now() < until {
            let found = self.driver.execute(FIND, vec![json!(label)]).await;
            if let Ok(field) = found.and_then(ScriptRet::element) {
                field.clear().await.expect("can be cleared");
                field.send_keys(text).await.expect("can be typed into");
                return;
            }
            tokio::time::sleep(GLANCE).await;
        }
        panic!("no field `{label}`\n{}", self.page_text().await);
    }

    /// Waits until the page shows `text`.
    ///
    /// # Panics
    /// When it does not.
    pub async fn sees(&self, text: &str) {
        const SHOWN: &str =
            r"return document.body.innerText.replace(/\s+/g, ' ').includes(arguments[0])";
        self.until(SHOWN, vec![json!(text)], &format!("the page does not show `{text}`")).await;
    }

    /// Waits until a script returns true.
    ///
    /// # Panics
    /// With `otherwise` and the page's text when it does not.
    pub async fn until(&self, script: &str, arguments: Vec<Value>, otherwise: &str) {
        let until = tokio::time::Instant::now() + PATIENCE;
        while tokio::time::Instant::now() < until {
            // While a page is being replaced a script may fail; that is not yet a finding.
            if let Ok(Value::Bool(true)) = self.script(script, arguments.clone()).await {
                return;
            }
            tokio::time::sleep(GLANCE).await;
        }
        panic!("{otherwise}\n{}", self.page_text().await);
    }

    /// What the page shows and told its console, for a failure's message.
    pub async fn page_text(&self) -> String {
        const SHOWN: &str =
            "return [document.body.innerText, ...(window.toldConsole ?? [])].join('\\n')";
        let text = self.script(SHOWN, vec![]).await;
        text.ok().and_then(|text| text.as_str().map(str::to_owned)).unwrap_or_default()
    }

    /// A picture of the page, PNG.
    ///
    /// # Errors
    /// When the browser refuses.
    pub async fn picture(&self) -> WebDriverResult<Vec<u8>> {
        self.driver.screenshot_as_png().await
    }

    /// Its screen.
    pub const fn screen(&self) -> Screen {
        self.screen
    }
}

/// Sends SIGKILL to every process that has `word` on its command line.
async fn kill_all_with(word: &str) {
    let mut processes = tokio::fs::read_dir("/proc").await.expect("Linux");
    let own = std::process::id().to_string();
    while let Ok(Some(process)) = processes.next_entry().await {
        let pid = process.file_name().to_string_lossy().into_owned();
        if pid == own || !pid.bytes().all(|b| b.is_ascii_digit()) {
            continue;
        }
        // Processes end while we look; then there is nothing left to read or kill.
        let Ok(line) = tokio::fs::read(process.path().join("cmdline")).await else { continue };
        if String::from_utf8_lossy(&line).contains(word) {
            let kill =
                Command::new("sh").arg("-c").arg(format!("kill -9 {pid} 2>/dev/null")).status();
            kill.await.expect("a shell");
        }
    }
}
