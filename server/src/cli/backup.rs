//! `lugbook backup`

use std::path::PathBuf;

use clap::Args;

use super::{DataArguments, Failure, say};
use crate::recovery::backup::backup;

/// Arguments of `lugbook backup`.
#[derive(Debug, Args)]
pub(super) struct BackupArguments {
    #[command(flatten)]
    data: DataArguments,
    /// File to make; nothing is ever overwritten.
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

pub(super) fn run(arguments: BackupArguments) -> Result<(), Failure> {
    let made = backup(&arguments.data.config().data, &arguments.file)?;
    say::line(format_args!(
        "{} holds {} entries of {} devices, and was read back whole",
        arguments.file.display(),
        made.entries,
        made.devices
    ))?;
    Ok(())
}
