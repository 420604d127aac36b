//! The commands, one file each.

mod backup;
mod calc;
mod check;
mod demo;
mod devices;
mod join;
mod plan;
mod restore;
mod serve;

use std::io::{self, Read, Write};
use std::process::ExitCode;

use shared::trade::calc::Refused;

use crate::config::{Cli, Command};
use crate::data::DataFolder;
use crate::error::Error;

/// Why a command failed, as told to whoever typed it.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum CliError {
    /// The shop could not be opened or read.
    #[error("{0}{cause}", cause = cause(.0))]
    Shop(#[from] Error),
    /// The operating system refused.
    #[error("{what}: {source}")]
    System {
        /// What was being done.
        what: String,
        /// Why it could not be.
        source: io::Error,
    },
    /// A server runs on this data folder.
    #[error("a server already runs on this data folder")]
    Running,
    /// No shop is in the data folder.
    #[error("there is no shop in {0}: start one with `waxend serve`, or restore a backup")]
    NoShop(std::path::PathBuf),
    /// A shop is in the data folder.
    #[error("there is a shop in {0} already")]
    ShopThere(std::path::PathBuf),
    /// Nothing by that name.
    #[error("no device has the id or the letters `{0}`: see `waxend devices`")]
    NoDevice(String),
    /// The file is not a whole backup of ours.
    #[error("{0} is not a complete Waxend backup; nothing was changed")]
    NotABackup(std::path::PathBuf),
    /// `check` found something.
    #[error("{0} found wrong")]
    Wrong(String),
    /// What `calc` or `plan` was given cannot be reckoned with.
    #[error(transparent)]
    Refused(#[from] Refused),
}

impl CliError {
    /// What the shell is told: 2 where what was typed is wrong, as for a wrong flag; 1 for everything else.
    pub fn exit_code(&self) -> ExitCode {
        match self {
            CliError::Refused(_) => ExitCode::from(2),
            _ => ExitCode::FAILURE,
        }
    }
}

/// The data folder of a shop that exists.
fn existing(cli: &Cli) -> Result<DataFolder, CliError> {
    let data = DataFolder::at(&cli.data).map_err(doing("opening the data folder"))?;
    if data.is_empty() {
        Err(CliError::NoShop(cli.data.clone()))
    } else {
        Ok(data)
    }
}

/// Runs a command.
///
/// # Errors
/// [`CliError`], to be shown as it is.
pub async fn run(cli: Cli) -> Result<(), CliError> {
    match &cli.command {
        Command::Serve(args) => serve::serve(&cli, args).await,
        Command::Join => join::join(&cli).await,
        Command::Devices { action } => devices::devices(&cli, action.as_ref()).await,
        Command::Backup { file } => backup::backup(&cli, file).await,
        Command::Restore(args) => restore::restore(&cli, args).await,
        Command::Check => check::check(&cli).await,
        Command::Demo => demo::demo(&cli).await,
        Command::Calc(args) => calc::calc(args),
        Command::Plan(args) => plan::plan(args),
    }
}

/// At the terminal, internals help.
fn cause(error: &Error) -> String {
    std::error::Error::source(error)
        .map(|source| format!(" ({source:?})"))
        .unwrap_or_default()
}

/// Closes the data folder to other users of the machine. A disk that keeps no permissions serves all the same.
fn close_to_others(data: &DataFolder) {
    if let Err(error) = data.tighten() {
        tracing::warn!(%error, "other users of this machine may be able to read the data folder");
    }
}

/// Names what was being done when the system refused.
fn doing(what: impl Into<String>) -> impl FnOnce(io::Error) -> CliError {
    move |source| CliError::System {
        what: what.into(),
        source,
    }
}

/// The longest question that is read: far more than any bench has to ask.
const MOST_BYTES: u64 = 16 << 20;

/// What stands on standard input.
fn question() -> Result<String, Refused> {
    let mut text = String::new();
    let read = io::stdin().lock().take(MOST_BYTES).read_to_string(&mut text);
    read.map_err(|error| Refused::new("input", format!("one JSON object as UTF-8 text; {error}")))?;
    Ok(text)
}

/// Says something on standard output. A closed pipe is nobody listening, not a failure.
fn say(text: &str) {
    let mut out = io::stdout().lock();
    let _ = writeln!(out, "{text}").and_then(|()| out.flush());
}
