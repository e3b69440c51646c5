//! Phones that picked alone come back and converge: what the benchmarks time.

#![expect(clippy::disallowed_methods, reason = "a benchmark measures time")]

use std::time::Instant;

use crate::house::House;
use crate::phone::Phone;

/// Devices one code lets in.
const CODE_USES: u8 = 8;

/// What was timed.
#[derive(Clone, Copy, Debug)]
pub struct Converged {
    /// Until every outbox was empty.
    pub pushed_ms: f64,
    /// Until every phone had every entry.
    pub converged_ms: f64,
    /// All books are equal.
    pub alike: bool,
}

/// Lets `phones` phones in at `url`, keeps `bins` bins on each, and lets all exchange at once.
///
/// # Panics
/// When the house does not answer.
pub async fn converge(house: &House, url: &str, phones: u8, bins: u32) -> Converged {
    let mut all: Vec<Phone> = Vec::new();
    let mut code = house.code.clone();
    for n in 1..=phones {
        if n > 1 && n % CODE_USES == 1 {
            code = all[0].another_code().await;
        }
        let mut phone = Phone::new(n, url);
        phone.join(&code).await.expect("joins");
        all.push(phone);
    }
    for phone in &mut all {
        for bin in 0..bins {
            phone.keep_bin(bin, i64::from(bin) + 100);
        }
    }
    let began = Instant::now();
    all = settle(all).await;
    let pushed_ms = began.elapsed().as_secs_f64() * 1000.0;
    // Whoever finished first has not seen the last ones' bins.
    all = settle(all).await;
    let converged_ms = began.elapsed().as_secs_f64() * 1000.0;
    let alike = all.iter().all(|phone| phone.engine.confirmed() == all[0].engine.confirmed());
    Converged { pushed_ms, converged_ms, alike }
}

async fn settle(phones: Vec<Phone>) -> Vec<Phone> {
    let exchange = |mut phone: Phone| async move {
        assert!(phone.exchange().await, "the house answers");
        phone
    };
    let running: Vec<_> = phones.into_iter().map(|phone| tokio::spawn(exchange(phone))).collect();
    let mut done = Vec::new();
    for phone in running {
        done.push(phone.await.expect("no panic"));
    }
    done
}
