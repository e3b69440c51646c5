//! `lugbook check`

use clap::Args;

use super::{DataArguments, Failure, say};
use crate::recovery::check::check;
use crate::store;

/// Arguments of `lugbook check`.
#[derive(Debug, Args)]
pub(super) struct CheckArguments {
    #[command(flatten)]
    data: DataArguments,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: CheckArguments) -> Result<(), Failure> {
    let config = arguments.data.config();
    let mut conn = store::open_to_copy(&config.data)?;
    let tx = conn.transaction()?;
    let health = check(&tx)?;
    if arguments.json {
        say::line(serde_json::to_string_pretty(&health)?)?;
    } else {
        say::line(format_args!(
            "{} entries of {} devices, digest {}",
            health.entries, health.devices, health.digest
        ))?;
        for problem in &health.problems {
            say::line(format_args!("WRONG  {problem}"))?;
        }
        for note in &health.notes {
            say::line(format_args!("note   {note}"))?;
        }
    }
    match health.is_sound() {
        true => Ok(()),
        false => Err("the log is damaged; restore the latest backup with `lugbook restore`, and \
                      the phones hand in what it lacks"
            .into()),
    }
}
