//! What the Ripening screen shows, made from the book's outlook.

use shared_types::book::Book;
use shared_types::outlook::{Outlook, StandingLot};
use shared_types::trade::provenance::cite;
use shared_types::trade::ripening::WarningKind;
use shared_types::units::{Day, Grams, KG_PER_LB, WeightUnit};

use super::dates::{about, plain_days, weekday};
use super::lots::{self, LotRow};
use crate::parts::chart::BandPoint;
use crate::words;

/// Days the chart looks ahead, today included.
pub const DAYS: usize = 14;

/// The day named in the headline ("15 kg by Monday"): the last of the three that the kitchen's
/// simple schedule covers.
const BY_DAY: usize = 2;

/// The screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// The answer in one line.
    pub headline: String,
    /// Its range, and what comes after.
    pub likely: String,
    /// The chart in a sentence, for who cannot see it.
    pub chart_words: String,
    /// The chart.
    pub points: Vec<BandPoint>,
    /// The same figures as rows.
    pub days: Vec<DayRow>,
    /// Whether anything ripens in those days at all.
    pub ripens: bool,
    /// What to look out for, gravest first.
    pub remarks: Vec<Remark>,
    /// The lots, room by room.
    pub lots: Vec<LotRow>,
}

/// One day of the table behind the chart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayRow {
    /// The day, in words.
    pub day: String,
    /// One time in ten it is less.
    pub low: Grams,
    /// As often more as less.
    pub middle: Grams,
    /// One time in ten it is more.
    pub high: Grams,
    /// Ripe by its evening, what stands ripe today included.
    pub by_then: Grams,
}

/// A caution, with the lots it holds for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// What kind.
    pub kind: WarningKind,
    /// What is wrong and what to do.
    pub text: String,
    /// For which lots: `Paste, Salad`.
    pub lots: String,
    /// Where it was read.
    pub source: String,
}

impl Remark {
    /// Whether fruit is being spoilt, and not only used up or reckoned roughly.
    pub fn is_grave(&self) -> bool {
        matches!(self.kind, WarningKind::Chilling | WarningKind::TooHot)
    }
}

/// The screen of an outlook.
pub fn page(book: &Book, outlook: &Outlook, unit: WeightUnit) -> Page {
    let today = outlook.today;
    let ready = outlook.ready_today;
    let headline = if ready.p50 > Grams::ZERO {
        format!("{} {} ready today", about(ready.p50, unit), unit.symbol())
    } else {
        "Nothing ready today".to_owned()
    };
    Page {
        headline,
        likely: likely(outlook, unit),
        chart_words: chart_words(outlook, unit),
        points: points(outlook, unit),
        days: outlook
            .days
            .iter()
            .map(|day| DayRow {
                day: words::day_or_today(day.day, today),
                low: day.ripe.p10,
                middle: day.ripe.p50,
                high: day.ripe.p90,
                by_then: day.by_then.p50,
            })
            .collect(),
        ripens: outlook.days.iter().any(|day| day.ripe.p90 > Grams::ZERO),
        remarks: remarks(&outlook.lots),
        lots: lots::rows(book, outlook),
    }
}

fn likely(outlook: &Outlook, unit: WeightUnit) -> String {
    let ready = outlook.ready_today;
    let mut parts = Vec::new();
    if ready.p90 > ready.p10 {
        parts.push(format!("likely {} to {}", about(ready.p10, unit), about(ready.p90, unit)));
    }
    if let Some(day) = outlook.days.get(BY_DAY) {
        let by_then = about(day.by_then.p50, unit);
        parts.push(format!("{by_then} {} by {}", unit.symbol(), weekday(day.day)));
    }
    let coming = about(outlook.still_to_come.p50, unit);
    parts.push(format!("{coming} {} in all still to come", unit.symbol()));
    parts.join(" · ")
}

fn chart_words(outlook: &Outlook, unit: WeightUnit) -> String {
    let later = outlook.days.iter().skip(1).max_by_key(|day| (day.ripe.p50, -day.day.number()));
    let Some(most) = later else { return String::new() };
    format!(
        "Ripe each day from today for {} days. Today {} {}; after it the most on {}, {} {}, likely {} to {}.",
        outlook.days.len(),
        about(outlook.ready_today.p50, unit),
        unit.symbol(),
        words::day(most.day),
        about(most.ripe.p50, unit),
        unit.symbol(),
        about(most.ripe.p10, unit),
        about(most.ripe.p90, unit),
    )
}

fn points(outlook: &Outlook, unit: WeightUnit) -> Vec<BandPoint> {
    let weight = |grams: Grams| match unit {
        WeightUnit::Kg => grams.kg(),
        WeightUnit::Lb => grams.kg() / KG_PER_LB,
    };
    let tick = |i: usize, day: Day| match i {
        0 => "today".to_owned(),
        i if i % 2 == 0 => weekday(day).chars().take(3).collect(),
        _ => String::new(),
    };
    outlook
        .days
        .iter()
        .enumerate()
        .map(|(i, day)| BandPoint {
            tick: tick(i, day.day),
            low: weight(day.ripe.p10),
            middle: weight(day.ripe.p50),
            high: weight(day.ripe.p90),
        })
        .collect()
}

/// Cautions of the same words become one; that a crop does not ripen is told in its lot alone.
fn remarks(lots: &[StandingLot]) -> Vec<Remark> {
    let mut remarks: Vec<Remark> = Vec::new();
    for lot in lots {
        for warning in &lot.forecast.warnings {
            if warning.kind == WarningKind::DoesNotRipen {
                continue;
            }
            let text = plain_days(&warning.text);
            match remarks.iter_mut().find(|remark| remark.text == text) {
                Some(remark) => {
                    if !remark.lots.split(", ").any(|name| name == lot.name) {
                        remark.lots = format!("{}, {}", remark.lots, lot.name);
                    }
                }
                None => remarks.push(Remark {
                    kind: warning.kind,
                    text,
                    lots: lot.name.clone(),
                    source: cite(&warning.source),
                }),
            }
        }
    }
    remarks.sort_by(|a, b| (a.kind, &a.text).cmp(&(b.kind, &b.text)));
    remarks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::sample::{Writer, tomorrow, writer};
    use shared_types::outlook::outlook;

    const KG: WeightUnit = WeightUnit::Kg;

    fn page_of(w: &Writer) -> Page {
        page(&w.book, &outlook(&w.book, tomorrow(), DAYS), KG)
    }

    fn stocked() -> Writer {
        let mut w = writer();
        w.bin(1, 3, "ripe", 6_000);
        w.bin(2, 3, "colouring", 22_000);
        w.bin(3, 3, "green", 28_900);
        w.bin(4, 5, "colouring", 11_300);
        w
    }

    #[test]
    fn the_headline_says_what_the_chart_and_the_table_say() {
        let page = page_of(&stocked());
        assert!(page.headline.ends_with(" kg ready today"), "{}", page.headline);
        assert!(page.likely.starts_with("likely "), "{}", page.likely);
        assert!(page.likely.contains(" kg by Monday · "), "{}", page.likely);
        assert!(page.likely.ends_with(" kg in all still to come"), "{}", page.likely);
        assert_eq!((page.points.len(), page.days.len()), (DAYS, DAYS));
        assert_eq!(page.days[0].day, "today");
        let ticks: Vec<_> = page.points.iter().map(|point| point.tick.as_str()).collect();
        assert_eq!(ticks[..5], ["today", "", "Mon", "", "Wed"]);
        for (point, day) in page.points.iter().zip(&page.days) {
            assert!((point.middle - day.middle.kg()).abs() < 1e-9);
            assert!(point.low <= point.middle && point.middle <= point.high);
        }
        assert!(page.ripens);
        let ready = page.headline.trim_end_matches(" ready today");
        assert!(page.chart_words.contains(&format!("Today {ready}; ")), "{}", page.chart_words);
    }

    #[test]
    fn an_empty_house_is_said_plainly() {
        let page = page_of(&writer());
        assert_eq!(page.headline, "Nothing ready today");
        assert!(page.lots.is_empty() && page.remarks.is_empty() && !page.ripens);
    }

    #[test]
    fn green_fruit_left_in_the_cold_is_warned_of_once_and_first() {
        let mut w = stocked();
        let cold = crate::screens::sample::named(shared_types::ids::RoomId::new, 3);
        for lot in w.book.lots().all.values().filter(|lot| lot.class.as_str() == "green") {
            let at = crate::screens::sample::day().start();
            w.write(shared_types::entry::LotMoved { lot: lot.id, room: cold, at });
        }
        let page = page_of(&w);
        assert_eq!(page.remarks[0].kind, WarningKind::Chilling);
        assert!(page.remarks[0].text.contains("Oct"), "{}", page.remarks[0].text);
        assert_eq!(page.remarks[0].lots, "Paste");
        let mut texts: Vec<_> = page.remarks.iter().map(|remark| &remark.text).collect();
        texts.dedup();
        assert_eq!(texts.len(), page.remarks.len());
    }
}
