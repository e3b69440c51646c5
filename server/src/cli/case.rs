//! A case: a question in a file or on standard input instead of the data.

use std::io::Read as _;
use std::path::{Path, PathBuf};

use clap::Args;

use super::Failure;

/// Where a case may come from.
#[derive(Debug, Args)]
pub(super) struct CaseArguments {
    /// Work out this case instead of the data; `-` reads it from standard input.
    #[arg(long, value_name = "FILE")]
    case: Option<PathBuf>,
}

impl CaseArguments {
    /// The case's text: of the file that was named, or of what is redirected into the program
    /// (`lugbook tonight --json < case.json`). None when there is neither.
    pub(super) fn text(&self) -> Result<Option<String>, Failure> {
        match &self.case {
            Some(file) if file != Path::new("-") => {
                let told = |error| format!("cannot read the case {}: {error}", file.display());
                Ok(Some(std::fs::read_to_string(file).map_err(told)?))
            }
            Some(_) => Ok(Some(standard_input()?)),
            None if redirected() => {
                Ok(Some(standard_input()?).filter(|text| !text.trim().is_empty()))
            }
            None => Ok(None),
        }
    }
}

fn standard_input() -> Result<String, Failure> {
    let mut text = String::new();
    let told = |error| format!("cannot read the case from standard input: {error}");
    std::io::stdin().read_to_string(&mut text).map_err(told)?;
    Ok(text)
}

/// Is a file or a pipe put into the program? A terminal, a closed input or `/dev/null` is not, so
/// that a command run by a timer does not wait for a case.
#[cfg(unix)]
fn redirected() -> bool {
    use std::os::fd::AsFd as _;
    use std::os::unix::fs::FileTypeExt as _;
    let Ok(copy) = std::io::stdin().as_fd().try_clone_to_owned() else { return false };
    let kind = std::fs::File::from(copy).metadata().map(|told| told.file_type());
    kind.is_ok_and(|kind| kind.is_file() || kind.is_fifo())
}

/// Is something put into the program?
#[cfg(not(unix))]
fn redirected() -> bool {
    use std::io::IsTerminal as _;
    !std::io::stdin().is_terminal()
}
