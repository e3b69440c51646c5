//! What happened at Kestrel Terrace, from a year ago until a minute ago.

use shared_types::entry::{
    BinCorrected, BinKept, BinStruck, ColdChecked, Entry, GuessMade, LotMoved, LotUsed, PickSet,
};
use shared_types::ids::{BinId, ColdCheckId, DeviceId, GuessId, PersonId, PickId, UseId};
use shared_types::units::{Day, Grams, MINUTE_MS, MilliCelsius, Millis, Reading};

use super::harvest::{BinRow, FIRST, LAST, PAST};
use super::holding::{
    self, BACK_ROOM, BED_1, BED_2, BED_3, BED_5, PEOPLE, VARIETIES, WINDOW, bin_type, place, room,
    tare, variety,
};
use super::kitchen;
use super::nights;
use super::rounds;
use super::writer::{Writer, device, person};

/// The demo's log and who wrote it.
#[derive(Debug)]
pub struct Story {
    /// Whose phones wrote.
    pub helpers: Vec<Helper>,
    /// The entries, in the server's order.
    pub entries: Vec<Entry>,
}

/// One of the demo's people.
#[derive(Debug)]
pub struct Helper {
    /// Their phone.
    pub device: DeviceId,
    /// They.
    pub person: PersonId,
    /// Their name.
    pub name: &'static str,
}

/// The story as it stands at `now`, for clocks `offset_minutes` ahead of UTC.
pub fn story(now: Millis, offset_minutes: i32) -> Story {
    let mut to = Writer::new(now, Day::at(now, offset_minutes));
    holding::write(&mut to);
    kitchen::furnish(&mut to);
    past_season(&mut to);
    first_clear_out(&mut to);
    frost(&mut to);
    last_clear_out(&mut to);
    nights::write(&mut to);
    kitchen::plan(&mut to, offset_minutes);
    let helper = |(who, name)| Helper { device: device(who), person: person(who), name };
    Story { helpers: PEOPLE.into_iter().enumerate().map(helper).collect(), entries: to.entries }
}

fn past_season(to: &mut Writer) {
    let began = to.ago(366, 4, 0);
    let pick = open_pick(to, began, to.today.plus(-366), "Last year's clear-out");
    for (n, row) in (0i64..).zip(&PAST) {
        keep(to, pick, row, began.plus(n * 6 * MINUTE_MS));
    }
    guess(to, pick, began, "Mara", 105_000);
    guess(to, pick, began, "Tomas", 120_000);
    let lots = to.book.lots();
    let month_later = to.ago(330, 0, 0);
    for lot in lots.all.values().filter(|lot| lot.pick == pick) {
        let lost = Grams(lot.came.0 / 8);
        for (what, grams) in [("lost", lost), ("jar", lot.came - lost)] {
            take(to, lot.id, grams, what, month_later);
        }
    }
    close(to, pick, month_later);
}

fn first_clear_out(to: &mut Writer) {
    let began = to.ago(6, 5, 0);
    let pick = open_pick(to, began, to.today.plus(-6), "First clear-out");
    for (n, row) in (0i64..).zip(&FIRST) {
        keep(to, pick, row, began.plus(n * 7 * MINUTE_MS));
    }
    guess(to, pick, began, "Mara", 150_000);
    guess(to, pick, began, "Wren", 190_000);
    close(to, pick, to.ago(6, 1, 0));
    // The ripe fruit of that day has been dealt with, all but a basket of the paste.
    let lots = to.book.lots();
    for lot in lots.all.values().filter(|lot| lot.pick == pick) {
        match (lot.crop.as_str(), lot.class.as_str()) {
            ("tomato", "ripe") if lot.place == place(BED_1) => {
                kitchen::sauce(to, lot.id, lot.came - Grams(2_300));
            }
            ("tomato", "ripe") => take(to, lot.id, lot.came, "fresh", to.ago(3, 2, 0)),
            ("tomato", "hurt") => take(to, lot.id, lot.came, "feed", to.ago(5, 2, 0)),
            // Too much for the sill; the salad ones wait in the cool.
            ("tomato", "colouring") if lot.place == place(BED_2) => {
                let at = to.ago(4, 0, 0);
                to.write(0, at, LotMoved { lot: lot.id, room: room(BACK_ROOM), at });
            }
            _ => {}
        }
    }
    rounds::write(to);
}

/// Two nights ago: the outdoor bed is dead, the tunnel stood.
fn frost(to: &mut Writer) {
    let looks = [
        (BED_1, "alive", -500),
        (BED_2, "alive", -400),
        (BED_3, "hurt", -1_100),
        (BED_5, "dead", -4_200),
    ];
    for (look, hours) in [("frozen", 8), ("thawed", 3)] {
        for (bed, vines, low) in looks {
            let at = to.ago(1, hours, 0);
            let check = ColdChecked {
                check: ColdCheckId::new(at, to.random()),
                place: place(bed),
                at,
                look: look.to_owned(),
                vines: vines.to_owned(),
                fruit: "sound".to_owned(),
                low: Some(MilliCelsius(low)),
            };
            to.write(0, at, check);
        }
    }
}

fn last_clear_out(to: &mut Writer) {
    let began = to.ago(0, 2, 50);
    let pick = open_pick(to, began, to.today, "Last clear-out");
    for (name, grams) in [("Mara", 140_000), ("Tomas", 118_000), ("Wren", 175_000)] {
        guess(to, pick, began, name, grams);
    }
    let mut bins = Vec::new();
    for (n, row) in (1i64..).zip(&LAST) {
        bins.push(keep(to, pick, row, began.plus(n * 6 * MINUTE_MS)));
    }
    // Tomas read the scale wrongly, and put it right.
    let corrected = BinCorrected {
        gross: Some(Reading::from_grams(Grams(10_900))),
        ..BinCorrected::nothing(bins[1], person(1))
    };
    to.write(1, to.ago(0, 2, 30), corrected);
    // Mara pressed twice, and took one back.
    let at = to.ago(0, 0, 9);
    let twice = keep(to, pick, &LAST[21], at);
    to.write(0, at.plus(20_000), BinStruck { bin: twice, person: person(0), why: None });
    // Wren and Tomas both logged one crate at the scale.
    let shared = BinRow { who: 2, net: Grams(5_600), ..LAST[10] };
    let at = to.ago(0, 0, 4);
    keep(to, pick, &shared, at);
    keep(to, pick, &BinRow { who: 1, net: Grams(5_700), ..shared }, at.plus(40_000));
    let colouring = to.book.lots();
    let window = colouring.all.values().find(|lot| {
        lot.pick == pick && lot.place == place(BED_3) && lot.class.as_str() == "colouring"
    });
    if let Some(lot) = window {
        let at = to.ago(0, 0, 2);
        to.write(0, at, LotMoved { lot: lot.id, room: room(WINDOW), at });
    }
}

fn open_pick(to: &mut Writer, at: Millis, day: Day, name: &str) -> PickId {
    let pick = PickId::new(at, to.random());
    let set = PickSet { pick, day: Some(day), name: Some(name.to_owned()), closed: None };
    to.write(0, at, set);
    pick
}

fn close(to: &mut Writer, pick: PickId, at: Millis) {
    to.write(0, at, PickSet { pick, day: None, name: None, closed: Some(true) });
}

fn keep(to: &mut Writer, pick: PickId, row: &BinRow, at: Millis) -> BinId {
    let bin = to.bin(at);
    let tare = tare(row.bin_type);
    let kept = BinKept {
        bin,
        pick,
        place: place(row.place),
        crop: VARIETIES[row.variety].0.into(),
        class: row.class.into(),
        gross: Reading::from_grams(row.net + tare),
        tare,
        person: person(row.who),
        at,
        variety: Some(variety(row.variety)),
        stage: None,
        defect: row.defect.map(str::to_owned),
        bin_type: Some(bin_type(row.bin_type)),
        room: None,
        tag: None,
    };
    to.write(row.who, at, kept);
    bin
}

pub(super) fn take(
    to: &mut Writer,
    lot: shared_types::ids::LotId,
    grams: Grams,
    what: &str,
    at: Millis,
) {
    let taking = UseId::new(at, to.random());
    to.write(0, at, LotUsed { taking, lot, grams, what: what.to_owned(), at });
}

fn guess(to: &mut Writer, pick: PickId, at: Millis, name: &str, grams: i64) {
    let guess = GuessId::new(at, to.random());
    to.write(0, at, GuessMade { guess, pick, name: name.to_owned(), grams: Grams(grams) });
}
