//! Rounds of the first clear-out's colouring fruit, and the thermometer on the window sill. All
//! invented: the paste is slow, the salad waits in the cool.

use shared_types::entry::{LotPart, ReadingsTaken, RoomReading, RoundMade};
use shared_types::ids::{LotId, ReadingsId, RoundId};
use shared_types::units::{Grams, HOUR_MS, MilliCelsius};

use super::holding::{BED_1, BED_2, BED_5, WINDOW, place, room};
use super::kitchen;
use super::story::take;
use super::writer::{Writer, person};

/// Days and hours ago, who, ripe, lost, left; what became of the ripe ones.
type Row = (i64, i64, usize, i64, i64, Option<i64>, &'static str);

/// Kept for the juice of fifteen hours ago.
const JUICE: &str = "juice";

const PASTE: [Row; 3] = [
    (4, 2, 0, 2_900, 0, Some(16_600), "fresh"),
    (2, 2, 1, 3_700, 200, Some(12_400), JUICE),
    (0, 20, 0, 2_400, 100, Some(9_700), JUICE),
];
const SALAD: [Row; 1] = [(1, 1, 2, 1_900, 300, None, "fresh")];
const CHERRY: [Row; 2] =
    [(3, 20, 2, 1_000, 0, None, "fresh"), (1, 20, 2, 1_100, 100, Some(1_700), "fresh")];

/// How the sill differs from 18.5 °C through the day, every three hours from midnight.
const SILL: [i32; 8] = [-1_400, -1_900, -1_600, 300, 2_100, 2_600, 900, -600];

pub(super) fn write(to: &mut Writer) {
    sill(to);
    let lots = to.book.lots();
    let colouring = |bed: usize| {
        let lot = lots.all.values().find(|lot| {
            let of_week = to.today.since(lot.day) == 6;
            of_week && lot.place == place(bed) && lot.class.as_str() == "colouring"
        });
        lot.map(|lot| lot.id)
    };
    let mut for_juice = Vec::new();
    let of_beds = [(BED_1, &PASTE[..]), (BED_2, &SALAD[..]), (BED_5, &CHERRY[..])];
    for (lot, rows) in of_beds.map(|(bed, rows)| (colouring(bed), rows)) {
        for row in rows {
            for_juice.extend(round(to, lot.expect("the first clear-out has these lots"), row));
        }
    }
    kitchen::juice(to, for_juice);
}

/// Makes a round and uses what it took out; gives it back when it is kept for the juice.
fn round(to: &mut Writer, lot: LotId, row: &Row) -> Option<LotPart> {
    let (days, hours, who, ripe, lost, left, what) = *row;
    let at = to.ago(days, hours, 0);
    let round = RoundId::new(at, to.random());
    let made = RoundMade {
        ripe: Some(Grams(ripe)),
        lost: (lost > 0).then_some(Grams(lost)),
        left: left.map(Grams),
        defect: (lost > 0).then(|| "disease".to_owned()),
        ..RoundMade::nothing(round, lot, at, person(who))
    };
    to.write(who, at, made);
    let lots = to.book.lots();
    let out = lots.all.values().find(|lot| lot.from_round.is_some_and(|from| from.round == round));
    let out = out.map(|out| LotPart { lot: out.id, grams: out.came })?;
    if what == JUICE {
        return Some(out);
    }
    take(to, out.lot, out.grams, what, at.plus(2 * HOUR_MS));
    None
}

/// A logger on the window sill, with a night in which it had no battery.
fn sill(to: &mut Writer) {
    let begin = to.ago(6, 0, 0);
    let gap = 24..29;
    let reading = |n: i64| {
        let at = begin.plus(n * 3 * HOUR_MS);
        let hour = at.0.div_euclid(3 * HOUR_MS).rem_euclid(8) as usize;
        RoomReading {
            at,
            millidegrees: MilliCelsius(18_500 + SILL[hour]),
            humidity_permille: Some(520 - i64::from(SILL[hour]) / 50),
        }
    };
    let taken = (0..48).filter(|n| !gap.contains(n)).map(reading).collect();
    let readings = ReadingsId::new(begin, to.random());
    let source = "window logger".to_owned();
    let at = to.ago(0, 1, 0);
    to.write(0, at, ReadingsTaken { readings, room: room(WINDOW), source, taken });
}
