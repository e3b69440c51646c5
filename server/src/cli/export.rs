//! `lugbook export` and `lugbook import`: the whole log as JSON Lines.

use std::fs::{self, File};
use std::io::{self, BufReader, BufWriter, Write as _};
use std::path::{Path, PathBuf};

use clap::Args;
use shared_types::ids::EpochId;

use super::{DataArguments, Failure, say};
use crate::config::DataConfig;
use crate::{clock, lines, random, store};

/// Arguments of `lugbook export`.
#[derive(Debug, Args)]
pub(super) struct ExportArguments {
    #[command(flatten)]
    data: DataArguments,
    /// File to make, nothing is ever overwritten; `-` is standard output.
    #[arg(value_name = "FILE", default_value = "-")]
    file: PathBuf,
}

/// Arguments of `lugbook import`.
#[derive(Debug, Args)]
pub(super) struct ImportArguments {
    #[command(flatten)]
    data: DataArguments,
    /// File that `lugbook export` made; `-` is standard input.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    /// Only say what would come in.
    #[arg(long)]
    dry_run: bool,
}

pub(super) fn export(arguments: ExportArguments) -> Result<(), Failure> {
    let epoch = EpochId::new(clock::now(), random::bytes());
    let mut conn = store::open_existing(&arguments.data.config().data, epoch)?;
    let tx = conn.transaction()?;
    if arguments.file == Path::new("-") {
        lines::write(&tx, &mut BufWriter::new(io::stdout().lock()))?;
        return Ok(());
    }
    let file = File::create_new(&arguments.file)
        .map_err(|error| format!("cannot make {}: {error}", arguments.file.display()))?;
    let mut to = BufWriter::new(file);
    let count = lines::write(&tx, &mut to)?;
    to.flush()?;
    to.get_ref().sync_all()?;
    say::line(format_args!("{} holds {count} entries", arguments.file.display()))?;
    Ok(())
}

pub(super) fn import(arguments: ImportArguments) -> Result<(), Failure> {
    let ImportArguments { data, file, dry_run } = arguments;
    let config = data.config().data;
    let epoch = EpochId::new(clock::now(), random::bytes());
    if dry_run && !config.file().is_file() {
        // Nothing stands there and nothing shall: try it on a folder that is thrown away.
        let folder = tempfile::Builder::new().prefix("lugbook-import-").tempdir()?;
        let config = DataConfig { dir: folder.path().to_owned(), ..config };
        return take(&file, dry_run, &config, epoch);
    }
    fs::create_dir_all(&config.dir)?;
    take(&file, dry_run, &config, epoch)
}

fn take(file: &Path, dry_run: bool, config: &DataConfig, epoch: EpochId) -> Result<(), Failure> {
    let now = clock::now();
    let mut conn = if config.file().is_file() {
        store::open_existing(config, epoch)?
    } else {
        store::fill(config, epoch, |_| Ok(()))?;
        store::open_existing(config, epoch)?
    };
    let tx = conn.transaction()?;
    let taken = if file == Path::new("-") {
        lines::read(&tx, io::stdin().lock(), now)?
    } else {
        let open =
            File::open(file).map_err(|error| format!("cannot read {}: {error}", file.display()))?;
        lines::read(&tx, BufReader::new(open), now)?
    };
    let verb = if dry_run {
        drop(tx);
        "would be"
    } else {
        tx.commit()?;
        "are"
    };
    say::line(format_args!("{} entries read, {} of them {verb} new here", taken.lines, taken.new))?;
    Ok(())
}
