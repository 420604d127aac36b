//! The commands, one file each.

mod backup;
mod calc;
mod certificate;
mod check;
mod demo;
mod devices;
mod join;
mod plan;
mod repair;
mod restore;
mod serve;

use std::io::{self, Read, Write};
use std::process::ExitCode;

use shared::trade::calc::InvalidField;

use crate::config::{Cli, CliCommand};
use crate::data::{DataFolder, Lock};
use crate::disk::Disk;
use crate::restoring::{self, Left};
use server_core::error::Error;

/// Why a command failed. The text is shown to the person who ran it.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum CliError {
    /// The shop could not be opened or read.
    #[error("{0}{cause}", cause = cause(.0))]
    Shop(#[from] Error),
    /// A call of the operating system failed.
    #[error("{what}: {source}")]
    System {
        /// What was being done.
        what: String,
        /// Why it failed.
        source: io::Error,
    },
    /// A server already runs on this data folder.
    #[error("a server already runs on this data folder")]
    Running,
    /// There is no shop in the data folder.
    #[error("there is no shop in {0}: start one with `waxend serve`, or restore a backup")]
    NoShop(std::path::PathBuf),
    /// There already is a shop in the data folder.
    #[error("there is a shop in {0} already")]
    ShopThere(std::path::PathBuf),
    /// A restore into an empty folder was interrupted.
    #[error(
        "a restore into {0} was interrupted, and there is no shop there yet: run `waxend restore` with the backup \
         again. For a new shop, choose an empty folder with --data"
    )]
    HalfRestored(std::path::PathBuf),
    /// The data folder has no shop, only a database that a restore has put aside.
    #[error(
        "there is no shop in {folder}, only one that a restore has put aside. Run `waxend restore` with the backup \
         again; or, to have the earlier shop back, rename {aside} to waxend.db (and, if they are there, what has the \
         same name with -wal to waxend.db-wal). For a new shop, choose an empty folder with --data"
    )]
    PutAside {
        /// The data folder.
        folder: std::path::PathBuf,
        /// The path of the database that was put aside last.
        aside: std::path::PathBuf,
    },
    /// No device has this id or these letters.
    #[error("no device has the id or the letters `{0}`: see `waxend devices`")]
    NoDevice(String),
    /// A helper's device is to join, and no repairer's has access.
    #[error("no repairer's device has access to the shop: let one join first, with a code of `waxend join`")]
    NoRepairer,
    /// The file is not a complete Waxend backup.
    #[error("{0} is not a complete Waxend backup; nothing was changed")]
    NotABackup(std::path::PathBuf),
    /// A part of the backup is not what was backed up.
    #[error("{file} is damaged: `{what}` in it is not what was backed up; nothing was changed")]
    DamagedBackup {
        /// The backup.
        file: std::path::PathBuf,
        /// The member of it that is damaged.
        what: String,
    },
    /// There is no erasure ledger at this path.
    #[error(
        "there is no erasure ledger at {0}; nothing was changed. Without it, what was erased and devices that were shut \
         out could come back. Name a copy of it with --ledger. If there is none and the shop's database is intact, \
         `waxend check` makes one of what it knows; else --without-ledger restores without, and every device has to \
         join again"
    )]
    LedgerMissing(std::path::PathBuf),
    /// The file is no erasure ledger, or a damaged one.
    #[error(
        "{0} is no erasure ledger, or a damaged one; nothing was changed. Without it, what was erased and devices that \
         were shut out could come back. Name an intact copy of it with --ledger. If there is none, --without-ledger \
         restores with what can be read, and every device has to join again"
    )]
    LedgerDamaged(std::path::PathBuf),
    /// `waxend check` found faults. The text is their number.
    #[error("{0} found wrong")]
    Wrong(String),
    /// The input of `calc` or `plan` is invalid.
    #[error(transparent)]
    Refused(#[from] InvalidField),
}

impl CliError {
    /// The exit status: 2 for invalid input, as for an unknown flag; 1 for every other failure.
    pub fn exit_code(&self) -> ExitCode {
        match self {
            CliError::Refused(_) => ExitCode::from(2),
            _ => ExitCode::FAILURE,
        }
    }
}

/// Opens the data folder. A restore that was interrupted while it put files into place is finished first.
fn folder(cli: &Cli) -> Result<DataFolder, CliError> {
    let data = DataFolder::at(&cli.data).map_err(doing("opening the data folder"))?;
    if restoring::is_ready(&data).map_err(doing("reading the data folder"))? {
        let _lock = lock(&data)?;
        settle(&data)?;
    }
    Ok(data)
}

/// Opens the data folder, takes its lock for this process, and removes the permissions of other users of the machine.
fn locked(cli: &Cli) -> Result<(DataFolder, Lock), CliError> {
    let data = DataFolder::at(&cli.data).map_err(doing("opening the data folder"))?;
    let lock = lock(&data)?;
    close_to_others(&data);
    settle(&data)?;
    Ok((data, lock))
}

/// Takes the lock of the data folder. Only one that another process has means that a server runs; any other failure
/// means that the lock's file cannot be written, for example on a read-only disk.
fn lock(data: &DataFolder) -> Result<Lock, CliError> {
    data.lock().map_err(|error| match error.kind() {
        io::ErrorKind::ResourceBusy => CliError::Running,
        _ => doing(format!(
            "the data folder {} cannot be written",
            data.root().display()
        ))(error),
    })
}

fn settle(data: &DataFolder) -> Result<(), CliError> {
    if restoring::settle(data, &Disk::default()).map_err(doing("finishing an interrupted restore"))? {
        say("A restore that was interrupted has been finished.");
    }
    Ok(())
}

/// Refuses to make a new shop in a folder in which an interrupted restore has left one that can be recovered.
fn may_begin(data: &DataFolder) -> Result<(), CliError> {
    let folder = data.root().to_owned();
    match restoring::left_behind(data).map_err(doing("reading the data folder"))? {
        None => Ok(()),
        Some(Left::Half) => Err(CliError::HalfRestored(folder)),
        Some(Left::Aside(aside)) => Err(CliError::PutAside { folder, aside }),
    }
}

/// Opens the data folder of a shop that exists.
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
/// [`CliError`], whose text can be shown as it is.
pub async fn run(cli: Cli) -> Result<(), CliError> {
    match &cli.command {
        CliCommand::Serve(args) => serve::serve(&cli, args).await,
        CliCommand::Join(args) => join::join(&cli, args).await,
        CliCommand::Devices { action } => devices::devices(&cli, action.as_ref()).await,
        CliCommand::Backup { file } => backup::backup(&cli, file).await,
        CliCommand::Restore(args) => restore::restore(&cli, args).await,
        CliCommand::Check(args) if args.repair => repair::repair(&cli).await,
        CliCommand::Check(_) => check::check(&cli).await,
        CliCommand::Demo => demo::demo(&cli).await,
        CliCommand::Calc(args) => calc::calc(args),
        CliCommand::Plan(args) => plan::plan(args),
    }
}

/// The source of an error in brackets. The terminal shows it, unlike the HTTP API, because it helps whoever runs the
/// server.
fn cause(error: &Error) -> String {
    std::error::Error::source(error)
        .map(|source| format!(" ({source:?})"))
        .unwrap_or_default()
}

/// Removes the permissions of other users of the machine. On a file system without permissions this only logs a
/// warning.
fn close_to_others(data: &DataFolder) {
    if let Err(error) = data.tighten() {
        tracing::warn!(%error, "other users of this machine may be able to read the data folder");
    }
}

/// Makes the error of a failed system call, with what was being done.
fn doing(what: impl Into<String>) -> impl FnOnce(io::Error) -> CliError {
    move |source| CliError::System {
        what: what.into(),
        source,
    }
}

/// The most bytes of standard input that are read: far more than any real question has.
const MOST_BYTES: u64 = 16 << 20;

/// Reads standard input as text.
fn question() -> Result<String, InvalidField> {
    let mut text = String::new();
    let read = io::stdin().lock().take(MOST_BYTES).read_to_string(&mut text);
    read.map_err(|error| InvalidField::new("input", format!("one JSON object as UTF-8 text; {error}")))?;
    Ok(text)
}

/// What stands in the place of a control character in the output of a command.
const REPLACED: &str = "\u{fffd}";

/// Writes a line, or several, to standard output. Control characters are replaced: what a device has sent could
/// otherwise change the terminal's title, its colours, or lines that it already shows. A closed pipe is not an error:
/// then nobody reads.
fn say(text: &str) {
    let text = text.replace(|c: char| c.is_control() && c != '\n', REPLACED);
    let mut out = io::stdout().lock();
    let _ = writeln!(out, "{text}").and_then(|()| out.flush());
}

/// Text that a device has sent, as one line.
fn one_line(text: &str) -> String {
    text.replace(['\n', '\u{2028}', '\u{2029}'], REPLACED)
}
