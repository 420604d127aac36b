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

use shared::trade::calc::InvalidField;

use crate::config::{Cli, CliCommand};
use crate::data::{DataFolder, Lock};
use crate::disk::Disk;
use crate::error::Error;
use crate::restoring::{self, Left};

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
    /// A restore into an empty folder was cut off.
    #[error(
        "a restore into {0} was interrupted, and there is no shop there yet: run `waxend restore` with the backup \
         again. For a new shop, choose an empty folder with --data"
    )]
    HalfRestored(std::path::PathBuf),
    /// The only shop in the folder is one that a restore put aside.
    #[error(
        "there is no shop in {folder}, only one that a restore has put aside. Run `waxend restore` with the backup \
         again; or, to have the earlier shop back, rename {aside} to waxend.db (and, if they are there, what has the \
         same name with -wal to waxend.db-wal). For a new shop, choose an empty folder with --data"
    )]
    PutAside {
        /// The data folder.
        folder: std::path::PathBuf,
        /// The database that was put aside last.
        aside: std::path::PathBuf,
    },
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
    Refused(#[from] InvalidField),
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

/// The data folder. What a restore was cut off from putting into place is put there first.
fn folder(cli: &Cli) -> Result<DataFolder, CliError> {
    let data = DataFolder::at(&cli.data).map_err(doing("opening the data folder"))?;
    if restoring::is_ready(&data).map_err(doing("reading the data folder"))? {
        let _lock = data.lock().map_err(|_| CliError::Running)?;
        settle(&data)?;
    }
    Ok(data)
}

/// The data folder, for one process alone, closed to other users of the machine.
fn locked(cli: &Cli) -> Result<(DataFolder, Lock), CliError> {
    let data = DataFolder::at(&cli.data).map_err(doing("opening the data folder"))?;
    let lock = data.lock().map_err(|_| CliError::Running)?;
    close_to_others(&data);
    settle(&data)?;
    Ok((data, lock))
}

fn settle(data: &DataFolder) -> Result<(), CliError> {
    if restoring::settle(data, &Disk::default()).map_err(doing("finishing an interrupted restore"))? {
        say("A restore that was interrupted has been finished.");
    }
    Ok(())
}

/// Refuses to begin a new shop where a restore has left one to be had again.
fn may_begin(data: &DataFolder) -> Result<(), CliError> {
    let folder = data.root().to_owned();
    match restoring::left_behind(data).map_err(doing("reading the data folder"))? {
        None => Ok(()),
        Some(Left::Half) => Err(CliError::HalfRestored(folder)),
        Some(Left::Aside(aside)) => Err(CliError::PutAside { folder, aside }),
    }
}

/// The data folder of a shop that exists.
fn existing(cli: &Cli) -> Result<DataFolder, CliError> {
    let data = folder(cli)?;
    may_begin(&data)?;
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
        CliCommand::Serve(args) => serve::serve(&cli, args).await,
        CliCommand::Join => join::join(&cli).await,
        CliCommand::Devices { action } => devices::devices(&cli, action.as_ref()).await,
        CliCommand::Backup { file } => backup::backup(&cli, file).await,
        CliCommand::Restore(args) => restore::restore(&cli, args).await,
        CliCommand::Check => check::check(&cli).await,
        CliCommand::Demo => demo::demo(&cli).await,
        CliCommand::Calc(args) => calc::calc(args),
        CliCommand::Plan(args) => plan::plan(args),
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
fn question() -> Result<String, InvalidField> {
    let mut text = String::new();
    let read = io::stdin().lock().take(MOST_BYTES).read_to_string(&mut text);
    read.map_err(|error| InvalidField::new("input", format!("one JSON object as UTF-8 text; {error}")))?;
    Ok(text)
}

/// Says something on standard output. A closed pipe is nobody listening, not a failure.
fn say(text: &str) {
    let mut out = io::stdout().lock();
    let _ = writeln!(out, "{text}").and_then(|()| out.flush());
}
