//! `lugbook restore`

use std::path::PathBuf;

use clap::Args;
use shared_types::ids::EpochId;

use super::{DataArguments, Failure, say};
use crate::recovery::restore::restore;
use crate::{clock, random};

/// Arguments of `lugbook restore`.
#[derive(Debug, Args)]
pub(super) struct RestoreArguments {
    #[command(flatten)]
    data: DataArguments,
    /// The backup.
    #[arg(value_name = "FILE")]
    file: PathBuf,
}

pub(super) fn run(arguments: RestoreArguments) -> Result<(), Failure> {
    let now = clock::now();
    let epoch = EpochId::new(now, random::bytes());
    let restored = restore(&arguments.data.config().data, &arguments.file, epoch, now)?;
    say::line(format_args!(
        "restored {} entries of {} devices; start the server, and every phone that comes by hands \
         in what the backup lacks",
        restored.verified.entries, restored.verified.devices
    ))?;
    if let Some(aside) = restored.aside {
        say::line(format_args!("what stood there before is kept as {}", aside.display()))?;
    }
    Ok(())
}
