//! The commands, one file each.

mod join;
mod serve;

use std::io::{self, Write};

use crate::config::{Cli, Command};
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
}

/// Runs a command.
///
/// # Errors
/// [`CliError`], to be shown as it is.
pub async fn run(cli: Cli) -> Result<(), CliError> {
    match &cli.command {
        Command::Serve(args) => serve::serve(&cli, args).await,
        Command::Join => join::join(&cli).await,
    }
}

/// At the terminal, internals help.
fn cause(error: &Error) -> String {
    std::error::Error::source(error)
        .map(|source| format!(" ({source:?})"))
        .unwrap_or_default()
}

/// Names what was being done when the system refused.
fn doing(what: impl Into<String>) -> impl FnOnce(io::Error) -> CliError {
    move |source| CliError::System {
        what: what.into(),
        source,
    }
}

/// Says something on standard output. A closed pipe is nobody listening, not a failure.
fn say(text: &str) {
    let mut out = io::stdout().lock();
    let _ = writeln!(out, "{text}").and_then(|()| out.flush());
}
