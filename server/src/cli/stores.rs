//! `lugbook stores`

use clap::Args;
use shared_types::trade::stores::case::{Answer, Case, run as work_out};

use super::case::CaseArguments;
use super::{DataArguments, Failure, say, season};

/// Arguments of `lugbook stores`.
#[derive(Debug, Args)]
pub(super) struct StoresArguments {
    #[command(flatten)]
    data: DataArguments,
    #[command(flatten)]
    case: CaseArguments,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: StoresArguments) -> Result<(), Failure> {
    let Some(text) = arguments.case.text()? else {
        return season::stores(arguments.data, arguments.json);
    };
    let told = work_out(&Case::parse(&text)?)?;
    let text = if arguments.json { serde_json::to_string_pretty(&told)? } else { table(&told) };
    Ok(say::line(text)?)
}

/// The answer for a person.
fn table(told: &Answer) -> String {
    let mut lines = Vec::new();
    for (i, ranked) in told.eat_first.iter().enumerate() {
        let keep = &ranked.keep_by;
        lines.push(format!(
            "{}. {} ({}): {}; keep until {} to {}",
            i + 1,
            ranked.lot,
            keep.name,
            ranked.reason,
            keep.from,
            keep.to
        ));
        lines.push(format!("   {}; {}", keep.why, keep.cure.verdict.words()));
    }
    lines.extend(
        told.rounds.iter().map(|curve| format!("{}: {}", curve.crop, curve.survival.words)),
    );
    lines.extend(told.shares.iter().map(|share| format!("{}: {}", share.label, share.words)));
    lines.extend(told.compared.iter().map(|compared| compared.words.clone()));
    lines.join("\n")
}
