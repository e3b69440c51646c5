//! `lugbook season`, and what `lugbook tonight` and `lugbook stores` say of the data.

use clap::Args;
use shared_types::book::Book;
use shared_types::outlook::{self, Season, StoresBook, Today, TonightBook};
use shared_types::trade::cold::Level;
use shared_types::units::{Millis, WeightUnit};

use super::totals::number;
use super::{DataArguments, Failure, book, say};
use crate::clock;

/// Arguments of `lugbook season`.
#[derive(Debug, Args)]
pub(super) struct SeasonArguments {
    #[command(flatten)]
    data: DataArguments,
    /// The year; this one when left out.
    #[arg(long)]
    year: Option<i32>,
    /// Print JSON, weights in grams.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: SeasonArguments) -> Result<(), Failure> {
    let book = book::read(&arguments.data.config())?;
    let (today, _) = now();
    let told = outlook::season(&book, arguments.year.unwrap_or(today.day.year()), today);
    print(arguments.json, &told, || season_text(&told, book.holding.unit()))
}

/// `lugbook tonight` of the data.
pub(super) fn tonight(data: DataArguments, json: bool) -> Result<(), Failure> {
    let book = book::read(&data.config())?;
    let (today, now) = now();
    let told = outlook::tonight(&book, today, now)?;
    print(json, &told, || tonight_text(&told, today.offset_minutes))
}

/// `lugbook stores` of the data.
pub(super) fn stores(data: DataArguments, json: bool) -> Result<(), Failure> {
    let book: Book = book::read(&data.config())?;
    let (today, _) = now();
    let told = outlook::stores(&book, today);
    print(json, &told, || stores_text(&told, book.holding.unit()))
}

fn now() -> (Today, Millis) {
    let now = clock::now();
    (Today::at(now, clock::offset_minutes(now)), now)
}

fn print(
    json: bool,
    told: &impl serde::Serialize,
    text: impl FnOnce() -> String,
) -> Result<(), Failure> {
    let text = if json { serde_json::to_string_pretty(told)? } else { text() };
    Ok(say::line(text)?)
}

fn clock_time(at: Option<Millis>, offset_minutes: i32) -> String {
    let Some(at) = at else { return "--:--".to_owned() };
    let minutes = (at.0.div_euclid(60_000) + i64::from(offset_minutes)).rem_euclid(24 * 60);
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

fn tonight_text(told: &TonightBook, offset_minutes: i32) -> String {
    let time = |at| clock_time(at, offset_minutes);
    let sun = &told.sun;
    let mut lines =
        vec![format!("sunset {}, sunrise today {}", time(sun.set_here), time(sun.rise_here))];
    if told.sensors.is_empty() {
        lines.push(format!(
            "nobody noted this evening yet: read the thermometer at {}",
            time(told.read_at)
        ));
    }
    for sensor in &told.sensors {
        if let Some(night) = &sensor.night {
            let best = &night.best;
            lines.push(format!(
                "{}: {:.1} °C expected, {:.1} to {:.1} °C ({})",
                sensor.name,
                best.low,
                best.from,
                best.to,
                best.how.words()
            ));
            lines.extend(night.fit_refused.iter().map(|why| format!("    no fit: {why}")));
        }
        lines.extend(sensor.problem.iter().map(|why| format!("{}: {why}", sensor.name)));
    }
    for risk in told.risks.iter().filter(|risk| risk.level != Level::Safe) {
        let level = if risk.level == Level::Expected { "harmed" } else { "at risk" };
        lines.push(format!("{level}: {} ({})", risk.thing.label, risk.why));
    }
    for chore in &told.chores {
        let done = if chore.done { "x" } else { " " };
        lines.push(format!("[{done}] {}  {}", time(chore.chore.at), chore.chore.text));
        lines.extend(chore.chore.cautions.iter().map(|said| format!("        {}", said.text)));
    }
    for ask in &told.ask_low {
        lines.push(format!("how low did it go in the night of {} at {}?", ask.day, ask.name));
    }
    lines.join("\n")
}

fn stores_text(told: &StoresBook, unit: WeightUnit) -> String {
    if told.lots.is_empty() {
        return "nothing in store".to_owned();
    }
    let head = ["eat first", "room", unit.symbol(), "keep by", "look by", "why"];
    let mut lines = vec![head.map(str::to_owned).to_vec()];
    for row in &told.lots {
        let keep = &row.ranked.keep_by;
        lines.push(vec![
            format!("{}, {}", row.name, row.place_name),
            row.room_name.clone().unwrap_or_else(|| "-".to_owned()),
            number(row.left, unit),
            format!("{} to {}", keep.from, keep.to),
            row.look_by.to_string(),
            row.ranked.reason.clone(),
        ]);
    }
    say::columns(&lines)
}

fn season_text(told: &Season, unit: WeightUnit) -> String {
    let symbol = unit.symbol();
    let mut lines = vec![
        ["variety", symbol, "per plant", "per m2", "first", "last"].map(str::to_owned).to_vec(),
    ];
    let dash = |grams: Option<_>| grams.map_or_else(|| "-".to_owned(), |g| number(g, unit));
    for row in &told.varieties {
        lines.push(vec![
            row.name.clone(),
            number(row.picked, unit),
            dash(row.per_plant),
            dash(row.per_m2),
            row.first.to_string(),
            row.last.to_string(),
        ]);
    }
    let mut text = vec![
        format!("{}: {} {symbol} in {} bins", told.year, number(told.picked, unit), told.bins),
        say::columns(&lines),
        format!(
            "thrown away: {} {symbol} ({}.{} %)",
            number(told.waste.total, unit),
            told.waste.permille / 10,
            told.waste.permille % 10
        ),
    ];
    for table in told.defects.iter().filter(|table| table.groups.len() > 1) {
        text.push(format!(
            "{}, {} by {}: {}",
            table.crop_name, table.defect, table.by, table.words
        ));
    }
    if let Some(day) = told.frosts.killing {
        text.push(format!("first killing frost: {day} at {}", told.frosts.killing_at.join(", ")));
    }
    text.join("\n")
}
