//! Whether two shares differ.

use serde::{Deserialize, Serialize};
use statrs::distribution::{Discrete as _, Hypergeometric};

use super::interval::{Share, rounded};

/// What two shares say of each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The intervals do not overlap.
    Differ,
    /// They do.
    NotEnoughToSay,
}

/// Two shares beside each other.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Compared {
    /// The group with the larger share.
    pub more: String,
    /// The other.
    pub less: String,
    /// What can be said.
    pub verdict: Verdict,
    /// Fisher's exact test, two-sided, on the rounded effective counts.
    pub p: f64,
    /// In a sentence.
    pub words: String,
}

/// Compares two shares.
pub fn compare(a: &Share, b: &Share) -> Compared {
    let (more, less) = if a.share >= b.share { (a, b) } else { (b, a) };
    let whole = |share: &Share| {
        let count = |value: f64| libm::round(value).max(0.0) as u64;
        let all = count(share.effective);
        (count(share.effective_with).min(all), all)
    };
    let p = fisher_exact(whole(more), whole(less));
    let apart = more.from > less.to;
    let verdict = if apart { Verdict::Differ } else { Verdict::NotEnoughToSay };
    let percent = |share: f64| share * 100.0;
    let words = match verdict {
        Verdict::Differ => format!(
            "{} had more: {:.0} % against {:.0} % in {}",
            more.label,
            percent(more.share),
            percent(less.share),
            less.label
        ),
        Verdict::NotEnoughToSay => format!(
            "not enough to say: {} lies between {:.0} and {:.0} %, {} between {:.0} and {:.0} %",
            more.label,
            percent(more.from),
            percent(more.to),
            less.label,
            percent(less.from),
            percent(less.to)
        ),
    };
    Compared { more: more.label.clone(), less: less.label.clone(), verdict, p: rounded(p), words }
}

/// All pairs that differ, widest apart first. Of many groups some pairs stand out by chance alone:
/// intervals of 95 % that must not overlap are a stricter rule than a test at 5 %.
pub fn standing_out(shares: &[Share]) -> Vec<Compared> {
    let mut pairs = Vec::new();
    for (i, a) in shares.iter().enumerate() {
        for b in &shares[i + 1..] {
            let compared = compare(a, b);
            if compared.verdict == Verdict::Differ {
                pairs.push(((a.share - b.share).abs(), compared));
            }
        }
    }
    pairs.sort_by(|a, b| b.0.total_cmp(&a.0));
    pairs.into_iter().map(|(_, compared)| compared).collect()
}

/// Fisher's exact test, two-sided: the probability, with both margins fixed, of a table as unlikely
/// as this one or more so. Each side is (with, all); 1 when a side is empty.
pub fn fisher_exact(a: (u64, u64), b: (u64, u64)) -> f64 {
    let (with, all) = (a.0 + b.0, a.1 + b.1);
    if a.0 > a.1 || b.0 > b.1 {
        return 1.0;
    }
    let Ok(by_chance) = Hypergeometric::new(all, with, a.1) else { return 1.0 };
    let seen = by_chance.pmf(a.0);
    let least = with.saturating_sub(b.1);
    let most = with.min(a.1);
    // Tables as likely as the one seen count; the factor takes up rounding.
    let as_unlikely = |p: &f64| *p <= seen * (1.0 + 1e-7);
    (least..=most).map(|k| by_chance.pmf(k)).filter(as_unlikely).sum::<f64>().min(1.0)
}
