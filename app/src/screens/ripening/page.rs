//! What the Ripening screen shows, made from the book's outlook.

use shared_types::book::Book;
use shared_types::book::lots::Stray;
use shared_types::ids::RoundId;
use shared_types::outlook::{Outlook, StandingLot};
use shared_types::trade::provenance::cite;
use shared_types::trade::ripening::WarningKind;
use shared_types::units::{Day, Grams, KG_PER_LB, MilliCelsius, WeightUnit};

use super::dates::{about, plain_days, weekday};
use super::lots::{self, LotRow};
use crate::parts::chart::{BandPoint, Lane, LaneBar};
use crate::parts::class_tone;
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
    /// When ripening is expected, room by room, warmest first.
    pub lanes: Vec<Lane>,
    /// When a round was last made, in words.
    pub last_round: Option<String>,
    /// What was said of lots that cannot be found, in plain lines.
    pub stray: Vec<String>,
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
pub fn page(book: &Book, outlook: &Outlook, offset_minutes: i32) -> Page {
    let unit = book.holding.unit();
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
        lanes: lanes(outlook),
        last_round: last_round(book, today, offset_minutes),
        stray: stray(book, offset_minutes),
        lots: lots::rows(book, outlook, offset_minutes),
    }
}

/// The last round of any lot: `by last round yesterday`.
fn last_round(book: &Book, today: Day, offset_minutes: i32) -> Option<String> {
    let counts = |id: &&RoundId| !book.rounds_struck.contains(id);
    let made = book.rounds.iter().filter(|(id, _)| counts(id));
    let day = Day::at(made.map(|(_, round)| round.fact.at).max()?, offset_minutes);
    Some(match today.since(day) {
        ..=0 => "last round today".to_owned(),
        1 => "last round yesterday".to_owned(),
        _ => format!("last round {}", words::day(day)),
    })
}

/// Each room's lots by the days they turn ripe in, as far as the chart goes.
fn lanes(outlook: &Outlook) -> Vec<Lane> {
    let awaited = |lot: &&StandingLot| lot.ripens && lot.forecast.from.is_some();
    let lots: Vec<&StandingLot> = outlook.lots.iter().filter(awaited).collect();
    let most = lots.iter().map(|lot| lot.left.0).max().unwrap_or(1).max(1) as f64;
    let mut rooms: Vec<(MilliCelsius, Lane)> = Vec::new();
    for lot in lots {
        let Some(from) = lot.forecast.from else { continue };
        let from = from.since(outlook.today);
        if from >= DAYS as i32 {
            continue;
        }
        let to = lot.forecast.to.map_or(DAYS as i32 - 1, |to| to.since(outlook.today));
        let bar = LaneBar {
            from: f64::from(from.max(0)),
            to: f64::from(to.max(0)),
            tone: class_tone(&lot.lot.crop, &lot.lot.class),
            weight: lot.left.0 as f64 / most,
        };
        let name = lots::room_words(lot);
        match rooms.iter_mut().find(|(_, lane)| lane.name == name) {
            Some((_, lane)) => lane.bars.push(bar),
            None => rooms.push((lot.room_temperature, Lane { name, bars: vec![bar] })),
        }
    }
    rooms.sort_by(|a, b| (b.0, &a.1.name).cmp(&(a.0, &b.1.name)));
    rooms.into_iter().map(|(_, lane)| lane).collect()
}

/// What was said of lots whose bins were all struck, or that this phone has not heard of.
fn stray(book: &Book, offset_minutes: i32) -> Vec<String> {
    let line = |stray: &Stray| {
        let what = match stray {
            Stray::Used(fact) => {
                format!("{} taken out", words::weight(fact.grams, book.holding.unit()))
            }
            Stray::Moved(fact) => format!("A move to {}", book.room_name(fact.room)),
            Stray::Round(_) => "A round".to_owned(),
        };
        let day = words::day(Day::at(stray.at(), offset_minutes));
        format!(
            "{what} on {day}: of a lot whose bins are not in the book. If a bin was struck by \
             mistake, keep it again on Pick and say there what was taken."
        )
    };
    book.lots().stray.iter().map(line).collect()
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

    fn page_of(w: &Writer) -> Page {
        page(&w.book, &outlook(&w.book, tomorrow(), DAYS), 0)
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
