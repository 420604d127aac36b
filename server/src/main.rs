//! `waxend`: the shop's server and its commands.

use std::io::{self, Write};
use std::process::ExitCode;

use clap::Parser;
use server::cli;
use server::config::{Cli, LogFormat};
use server::data;
use tracing_subscriber::EnvFilter;

#[tokio::main]
async fn main() -> ExitCode {
    let cli = Cli::parse();
    data::keep_private();
    log(cli.log_format);
    match cli::run(cli).await {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            let _ = writeln!(io::stderr(), "waxend: {error}");
            error.exit_code()
        }
    }
}

fn log(format: LogFormat) {
    // At its usual level the database driver would log whole SQL statements.
    let filter = EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new("info,sqlx=error"));
    let lines = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(io::stderr)
        // A log line that cannot be written is dropped. The logger would report that to standard error, which may be on
        // the same full disk, and panic.
        .log_internal_errors(false);
    match format {
        LogFormat::Text => lines.init(),
        LogFormat::Json => lines.json().init(),
    }
}
