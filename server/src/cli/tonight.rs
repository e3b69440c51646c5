//! `lugbook tonight`

use clap::Args;
use shared_types::trade::cold::Level;
use shared_types::trade::cold::case::{Answer, Case, run as work_out};

use super::case::CaseArguments;
use super::{DataArguments, Failure, say, season};

/// Arguments of `lugbook tonight`.
#[derive(Debug, Args)]
pub(super) struct TonightArguments {
    #[command(flatten)]
    data: DataArguments,
    #[command(flatten)]
    case: CaseArguments,
    /// Print JSON, temperatures in °C.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: TonightArguments) -> Result<(), Failure> {
    let Some(text) = arguments.case.text()? else {
        return season::tonight(arguments.data, arguments.json);
    };
    let told = work_out(&Case::parse(&text)?)?;
    let text = if arguments.json { serde_json::to_string_pretty(&told)? } else { table(&told) };
    Ok(say::line(text)?)
}

/// The answer for a person.
fn table(told: &Answer) -> String {
    let best = &told.tonight.best;
    let mut lines = vec![
        format!("{:.1} °C expected, {:.1} to {:.1} °C", best.low, best.from, best.to),
        format!("{}: {}", best.how.words(), best.why),
    ];
    lines.extend(told.tonight.fit_refused.iter().map(|why| format!("no fit: {why}")));
    if let (Some(sunset), Some(sunrise)) = (&told.clock.sunset, &told.clock.sunrise) {
        lines.push(format!("sunset {sunset}, sunrise {sunrise}"));
    }
    for below in told.tonight.hours_below.iter().filter(|below| below.at_worst.at.is_some()) {
        lines.push(format!(
            "below {:.0} °C: {:.1} h expected, {:.1} h at the cold end",
            below.celsius, below.expected.hours_below, below.at_worst.hours_below
        ));
    }
    lines.push(String::new());
    for risk in &told.at_risk {
        let level = match risk.level {
            Level::Expected => "harmed",
            Level::Possible => "at risk",
            Level::Safe => "safe",
        };
        lines.push(format!("{level}: {} ({})", risk.thing.label, risk.why));
    }
    lines.push(String::new());
    for chore in &told.chores {
        let clock = chore.clock.as_deref().unwrap_or("this evening");
        lines.push(format!("{clock}  {}", chore.chore.text));
        lines.extend(chore.chore.cautions.iter().map(|said| format!("    {}", said.text)));
    }
    lines.extend(told.heater.iter().map(|heat| format!("\nheat: {}", heat.words)));
    for caution in told.heater.iter().flat_map(|heat| &heat.cautions) {
        lines.push(format!("    {}", caution.text));
    }
    lines.join("\n")
}
