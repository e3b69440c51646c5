//! `lugbook forecast`
//!
//! Of the data folder, or of a case: a JSON file whose shape stands on the page of
//! `shared_types::trade::ripening::case`. A case comes from `--case FILE`, from `--case -`, or is
//! simply piped in: `lugbook forecast --json < case.json`.

use std::io::{IsTerminal as _, Read as _};
use std::path::{Path, PathBuf};

use clap::Args;
use shared_types::outlook::{self, Outlook, StandingLot, Today};
use shared_types::trade::ripening::case::{self, Case};
use shared_types::trade::ripening::{Band, DayForecast, Forecast, MAX_DAYS, explain};
use shared_types::units::{Day, WeightUnit};

use super::totals::number;
use super::{DataArguments, Failure, book, say};
use crate::clock;

/// Arguments of `lugbook forecast`.
#[derive(Debug, Args)]
pub(super) struct ForecastArguments {
    #[command(flatten)]
    data: DataArguments,
    /// Forecast this case instead of the data; `-` reads it from standard input. A case piped in
    /// needs no `--case`.
    #[arg(long, value_name = "FILE")]
    case: Option<PathBuf>,
    /// How many days, today included.
    #[arg(long, default_value_t = 14, value_parser = clap::value_parser!(u16).range(1..=366))]
    days: u16,
    /// The first day, such as 2026-10-12; today when left out.
    #[arg(long, value_name = "DAY")]
    today: Option<Day>,
    /// Say of one lot what is forecast and why: by its number in the list, the beginning of its id,
    /// or its name in a case.
    #[arg(long, value_name = "LOT", conflicts_with = "json")]
    explain: Option<String>,
    /// Print JSON, weights in grams.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: ForecastArguments) -> Result<(), Failure> {
    if let Some(text) = case_text(arguments.case.as_deref())? {
        let case = Case::parse(&text)?;
        if let Some(lot) = &arguments.explain {
            return Ok(say::line(case::explain_lot(&case, lot)?)?);
        }
        let told = case::run(&case)?;
        return print(arguments.json, &told, || case_table(&told.forecast));
    }
    let now = clock::now();
    let today = Today::at(now, clock::offset_minutes(now));
    let today = Today { day: arguments.today.unwrap_or(today.day), ..today };
    let days = usize::from(arguments.days).min(MAX_DAYS);
    let book = book::read(&arguments.data.config())?;
    let told = outlook::outlook(&book, today, days);
    match &arguments.explain {
        Some(lot) => Ok(say::line(explained(&told, lot)?)?),
        None => print(arguments.json, &told, || table(&told, book.holding.unit())),
    }
}

/// The case to forecast, if there is one: of the file, or piped in. Blank input is no case.
fn case_text(file: Option<&Path>) -> Result<Option<String>, Failure> {
    match file {
        Some(file) => read(file).map(Some),
        None if std::io::stdin().is_terminal() => Ok(None),
        None => Ok(Some(read(Path::new("-"))?).filter(|text| !text.trim().is_empty())),
    }
}

/// One lot of the data in words.
fn explained(told: &Outlook, wanted: &str) -> Result<String, Failure> {
    let number: Option<usize> = wanted.parse().ok();
    let is = |(i, lot): (usize, &StandingLot)| {
        number == Some(i + 1) || lot.lot.id.to_string().starts_with(&wanted.to_lowercase())
    };
    let found: Vec<&StandingLot> =
        told.lots.iter().enumerate().filter(|one| is(*one)).map(|one| one.1).collect();
    match found.as_slice() {
        [lot] => {
            let room = lot.room_name.as_deref().unwrap_or("no room");
            let head = format!("{}, {}, {room}", lot.name, lot.place_name);
            Ok(format!("{head}\n{}", explain(&lot.forecast)))
        }
        [] => Err(format!(
            "no lot `{wanted}`: give its number from 1 to {} in the list of `lugbook forecast`, or the beginning of its id",
            told.lots.len()
        )
        .into()),
        several => Err(format!(
            "`{wanted}` begins the id of {} lots: give its number in the list, or more of the id",
            several.len()
        )
        .into()),
    }
}

fn print(
    json: bool,
    told: &impl serde::Serialize,
    table: impl FnOnce() -> String,
) -> Result<(), Failure> {
    let text = if json { serde_json::to_string_pretty(told)? } else { table() };
    Ok(say::line(text)?)
}

fn read(file: &Path) -> Result<String, Failure> {
    let told = |error| format!("cannot read the case {}: {error}", file.display());
    if file == Path::new("-") {
        let mut text = String::new();
        std::io::stdin().read_to_string(&mut text).map_err(told)?;
        Ok(text)
    } else {
        Ok(std::fs::read_to_string(file).map_err(told)?)
    }
}

fn table(told: &Outlook, unit: WeightUnit) -> String {
    let mut lots = vec![words(["lot", "class", "place", "room", "left", "ready", "ripe"])];
    for (i, lot) in told.lots.iter().enumerate() {
        let dates = match (lot.forecast.from, lot.forecast.to) {
            (Some(from), Some(to)) if from != to => format!("{from} to {to}"),
            (Some(day), _) => day.to_string(),
            _ => "-".to_owned(),
        };
        lots.push(vec![
            format!("{}. {}", i + 1, lot.name),
            lot.lot.class.to_string(),
            lot.place_name.clone(),
            lot.room_name.clone().unwrap_or_else(|| "-".to_owned()),
            number(lot.left, unit),
            number(lot.forecast.ready_today.p50, unit),
            dates,
        ]);
    }
    format!("{}\n\n{}", by_day(&told.days, told.ready_today, unit), say::columns(&lots))
}

fn case_table(told: &Forecast) -> String {
    let why: Vec<String> = told.lots.iter().map(|lot| lot.why.clone()).collect();
    format!("{}\n\n{}", by_day(&told.days, told.ready_today, WeightUnit::Kg), why.join("\n"))
}

fn by_day(days: &[DayForecast], ready: Band, unit: WeightUnit) -> String {
    let mut lines = vec![words(["day", "10 %", "50 %", "90 %", "by then"])];
    for day in days {
        let Band { p10, p50, p90 } = day.ripe;
        let mut line = vec![day.day.to_string()];
        line.extend([p10, p50, p90, day.by_then.p50].map(|grams| number(grams, unit)));
        lines.push(line);
    }
    format!(
        "{} {} ready today ({} to {})\nturning ripe on each day, {}:\n{}",
        number(ready.p50, unit),
        unit.symbol(),
        number(ready.p10, unit),
        number(ready.p90, unit),
        unit.symbol(),
        say::columns(&lines)
    )
}

fn words<const N: usize>(words: [&str; N]) -> Vec<String> {
    words.map(str::to_owned).to_vec()
}
