//! The lots of an outlook as rows of a list.

use shared_types::book::Book;
use shared_types::ids::{ClassId, CropId, LotId, RoomId};
use shared_types::outlook::{Outlook, StandingLot};
use shared_types::trade::crops;
use shared_types::trade::fitness::Use;
use shared_types::trade::methods::{self, Kind};
use shared_types::trade::provenance::cite;
use shared_types::units::{Day, Grams, MilliCelsius, WeightUnit};

use super::dates::{plain_days, share, window};
use super::found::{Found, words_of};
use crate::csv::{Cell, document};
use crate::words;

/// One lot of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotRow {
    /// Which.
    pub id: LotId,
    /// Its crop, for the mark.
    pub crop: CropId,
    /// Its class, for the mark.
    pub class: ClassId,
    /// What it is and where it stands.
    pub title: String,
    /// Where it came from, and what is to be known of it; one line each.
    pub subs: Vec<String>,
    /// When it is ripe.
    pub dates: String,
    /// Where it stands, when known.
    pub room: Option<RoomId>,
    /// What is left of it.
    pub left: Grams,
    /// What of it is expected to be ripe today.
    pub expected: Grams,
    /// Whether it ripens where it stands: a round takes ripe ones out.
    pub ripens: bool,
    /// When a round last went through it, in words.
    pub last_round: Option<String>,
    /// Why those dates.
    pub why: String,
    /// What to look out for: text and where it was read.
    pub cautions: Vec<(String, String)>,
    /// What it may be used for, best first.
    pub uses: Vec<Use>,
    /// Why only that.
    pub reason: String,
    /// Where that was read, and how sure it is.
    pub source: String,
}

/// The rows, room by room, soonest first.
pub fn rows(book: &Book, outlook: &Outlook, offset_minutes: i32) -> Vec<LotRow> {
    let today = outlook.today;
    let mut lots: Vec<&StandingLot> = outlook.lots.iter().collect();
    // Lots without a room last; what is never ripe after what is; the id settles the rest.
    lots.sort_by_key(|lot| {
        let from = lot.forecast.from.map_or(i32::MAX, |from| from.max(today).number());
        (lot.room_name.is_none(), lot.room_name.clone(), from, lot.name.clone(), lot.lot.id)
    });
    lots.into_iter().map(|lot| row(book, lot, today, offset_minutes)).collect()
}

fn some(grams: Grams) -> Option<Grams> {
    (grams > Grams::ZERO).then_some(grams)
}

fn row(book: &Book, lot: &StandingLot, today: Day, offset_minutes: i32) -> LotRow {
    let fitness = &lot.fitness;
    LotRow {
        id: lot.lot.id,
        crop: lot.lot.crop.clone(),
        class: lot.lot.class.clone(),
        title: format!("{} · {}", lot.name, room_words(lot)),
        subs: subs(book, lot),
        dates: window(&lot.forecast, today),
        room: lot.lot.room(),
        left: lot.left,
        expected: lot.forecast.ready_today.p50.min(lot.left),
        ripens: crops::class(&lot.lot.crop, &lot.lot.class).is_some_and(|class| class.ripens),
        last_round: lot.lot.rounds.last().map(|round| {
            let found = Found {
                ripe: some(round.ripe),
                lost: some(round.lost),
                soft: some(round.soft),
                left: round.weighed.then_some(round.left),
            };
            let unit = book.holding.unit();
            let day = words::day(Day::at(round.at, offset_minutes));
            format!("Last round {day}: {}.", words_of(&found, unit))
        }),
        why: plain_days(&lot.forecast.why),
        cautions: lot
            .forecast
            .warnings
            .iter()
            .map(|warning| (plain_days(&warning.text), cite(&warning.source)))
            .collect(),
        uses: fitness.uses.iter().collect(),
        reason: fitness.reason.clone(),
        source: format!("{}; {}", cite(&fitness.source), fitness.mark.words()),
    }
}

pub(super) fn room_words(lot: &StandingLot) -> String {
    match &lot.room_name {
        Some(room) if lot.room_assumed => room.clone(),
        Some(room) => format!("{room}, {}", words::celsius(lot.room_temperature)),
        None => "no room set".to_owned(),
    }
}

fn subs(book: &Book, lot: &StandingLot) -> Vec<String> {
    let class = words::class_name(&lot.lot.crop, &lot.lot.class).to_lowercase();
    let mut of = class;
    if let Some(stage) = &lot.lot.stage {
        of.push_str(&format!(", {}", words::stage_words(stage)));
    }
    if let Some(defect) = &lot.lot.defect {
        of.push_str(&format!(", {}", words::defect_words(defect)));
    }
    let origin = format!("from {}, {}", lot.place_name, book.pick_name(lot.lot.pick));
    let mut subs = vec![match lot.lot.from_round {
        Some(from) if from.soft => format!("{of}, set apart at a round, {origin}: use it first"),
        Some(_) => format!("{of}, taken out at a round, {origin}"),
        None => format!("{of}, {origin}"),
    }];
    if lot.lot.overdrawn() > book.holding.division() {
        let over = words::weight(lot.lot.overdrawn(), book.holding.unit());
        subs.push(format!("{over} more was taken or weighed than came in: look at its figures"));
    }
    if lot.room_assumed {
        subs.push(assumed(lot.room_name.is_some(), lot.room_temperature));
    }
    subs.extend(withheld(lot));
    let never = lot.forecast.never.0 as f64 / lot.left.0.max(1) as f64;
    let ripens = crops::class(&lot.lot.crop, &lot.lot.class).is_some_and(|class| class.ripens);
    if let Some(share) = share(never).filter(|_| ripens && lot.forecast.from.is_some()) {
        subs.push(format!("about {share} will not ripen"));
    }
    subs
}

fn assumed(room: bool, temperature: MilliCelsius) -> String {
    let at = words::celsius(temperature);
    if room { format!("no temperature set: reckoned at {at}") } else { format!("reckoned at {at}") }
}

/// That a lot which would do for a jar must not go into one, and why, up to the reason's first
/// colon. Nothing for a crop that no tested jar takes anyhow, nor for culls.
fn withheld(lot: &StandingLot) -> Option<String> {
    let jars = methods::all().iter().any(|method| {
        method.kind == Kind::Jar && method.takes.iter().any(|takes| takes.crop == lot.lot.crop)
    });
    let sound = crops::class(&lot.lot.crop, &lot.lot.class).is_some_and(|class| class.fit_to_weigh);
    if lot.fitness.uses.allows(Use::Jar) || !(jars && sound) {
        return None;
    }
    if !lot.fitness.settled {
        return Some("not for jars until the cold check is done".to_owned());
    }
    let reason = lot.fitness.reason.split([':', '.']).next().unwrap_or_default();
    let mut letters = reason.chars();
    let first = letters.next().map(char::to_lowercase);
    let reason: String = first.into_iter().flatten().chain(letters).collect();
    Some(format!("not for jars: {reason}"))
}

/// The lots as comma-separated text.
pub fn csv(outlook: &Outlook, unit: WeightUnit) -> String {
    let left = format!("left {}", unit.symbol());
    let names = ["what", "crop", "class", "place", "picked", "room", "from", "to"];
    let mut header: Vec<String> = names.map(str::to_owned).to_vec();
    header.extend([left, "may be used for".to_owned(), "why".to_owned()]);
    let day = |day: Option<Day>| Cell::text(day.map_or_else(String::new, |day| day.to_string()));
    let rows: Vec<_> = outlook
        .lots
        .iter()
        .map(|lot| {
            let uses: Vec<_> = lot.fitness.uses.iter().map(Use::word).collect();
            vec![
                Cell::text(lot.name.clone()),
                Cell::text(words::crop_name(&lot.lot.crop)),
                Cell::text(words::class_name(&lot.lot.crop, &lot.lot.class)),
                Cell::text(lot.place_name.clone()),
                day(Some(lot.lot.day)),
                Cell::text(lot.room_name.clone().unwrap_or_default()),
                day(lot.forecast.from),
                day(lot.forecast.to),
                Cell::weight(lot.left, unit),
                Cell::text(uses.join(" ")),
                Cell::text(lot.fitness.reason.clone()),
            ]
        })
        .collect();
    document(&header, &rows)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::sample::{tomorrow, writer};
    use shared_types::outlook::outlook;

    #[test]
    fn lots_stand_room_by_room_with_what_a_person_must_know() {
        let mut w = writer();
        w.bin(1, 3, "ripe", 6_000);
        w.bin(2, 3, "colouring", 22_000);
        w.bin(3, 3, "green", 28_900);
        w.bin(4, 5, "colouring", 11_300);
        w.bin(5, 3, "hurt", 3_900);
        let told = outlook(&w.book, tomorrow(), 14);
        let rows = rows(&w.book, &told, 0);
        let titles: Vec<_> = rows.iter().map(|row| row.title.as_str()).collect();
        assert_eq!(
            titles,
            [
                "Paste · back room, 14°",
                "Paste · kitchen window, 20°",
                "Paste · kitchen window, 20°",
                "Paste · kitchen window, 20°",
                "Paste · no room set",
            ]
        );
        assert!(rows[0].dates.contains(" – "), "{}", rows[0].dates);
        assert!(
            rows[0].subs.iter().any(|sub| sub.ends_with("will not ripen")),
            "{:?}",
            rows[0].subs
        );
        assert!(rows.iter().any(|row| row.dates == "ready"));
        let dead = rows.iter().find(|row| row.left == Grams(11_300)).expect("the lot of bed 5");
        assert_eq!(
            dead.subs,
            ["colouring, from bed 5, clear-out", "not for jars: from a dead or frost-killed vine"]
        );
        assert!(!dead.uses.contains(&Use::Jar) && dead.uses.contains(&Use::Freeze));
        let hurt = &rows[4];
        assert_eq!((hurt.dates.as_str(), hurt.subs.len()), ("sort by eye", 2));
        assert_eq!(hurt.subs[1], "reckoned at 18°");
        let sound = rows.iter().find(|row| row.left == Grams(22_000)).expect("the lot of bed 3");
        assert_eq!(sound.subs, ["colouring, from bed 3, clear-out"]);
    }

    #[test]
    fn what_was_taken_out_is_not_left_and_the_file_says_so() {
        let mut w = writer();
        w.bin(1, 3, "ripe", 6_000);
        w.take(1, "ripe", 2_500);
        let told = outlook(&w.book, tomorrow(), 14);
        assert_eq!(rows(&w.book, &told, 0)[0].left, Grams(3_500));
        let file = csv(&told, WeightUnit::Kg);
        assert!(file.contains("Paste,Tomato,Ripe,bed 3,2026-10-09,kitchen window"), "{file}");
        assert!(file.contains(",3.5,jar freeze dry fresh feed,"), "{file}");
    }
}
