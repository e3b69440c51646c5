//! `lugbook forecast`

use std::io::Read as _;
use std::path::{Path, PathBuf};

use clap::Args;
use shared_types::outlook::{self, Outlook, Today};
use shared_types::trade::ripening::case::{self, Case};
use shared_types::trade::ripening::{Band, DayForecast, Forecast, MAX_DAYS};
use shared_types::units::{Day, WeightUnit};

use super::totals::number;
use super::{DataArguments, Failure, book, say};
use crate::clock;

/// Arguments of `lugbook forecast`.
#[derive(Debug, Args)]
pub(super) struct ForecastArguments {
    #[command(flatten)]
    data: DataArguments,
    /// Forecast this case instead of the data; `-` reads it from standard input.
    #[arg(long, value_name = "FILE")]
    case: Option<PathBuf>,
    /// How many days, today included.
    #[arg(long, default_value_t = 14, value_parser = clap::value_parser!(u16).range(1..=366))]
    days: u16,
    /// The first day, such as 2026-10-12; today when left out.
    #[arg(long, value_name = "DAY")]
    today: Option<Day>,
    /// Print JSON, weights in grams.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: ForecastArguments) -> Result<(), Failure> {
    match &arguments.case {
        Some(file) => {
            let case = Case::parse(&read(file)?)?;
            let told = case::run(&case)?;
            print(arguments.json, &told, || case_table(&told))
        }
        None => {
            let now = clock::now();
            let today = Today::at(now, clock::offset_minutes(now));
            let today = Today { day: arguments.today.unwrap_or(today.day), ..today };
            let days = usize::from(arguments.days).min(MAX_DAYS);
            let book = book::read(&arguments.data.config())?;
            let told = outlook::outlook(&book, today, days);
            print(arguments.json, &told, || table(&told, book.holding.unit()))
        }
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
    for lot in &told.lots {
        let dates = match (lot.forecast.from, lot.forecast.to) {
            (Some(from), Some(to)) if from != to => format!("{from} to {to}"),
            (Some(day), _) => day.to_string(),
            _ => "-".to_owned(),
        };
        lots.push(vec![
            lot.name.clone(),
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
