//! Flags and `WAXEND_*` variables. `waxend --help` lists them all.

use std::net::SocketAddr;
use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use shared::log::body::Role;

use crate::connections::ConnectionArgs;
use crate::limits::LimitArgs;
use crate::quota::QuotaArgs;

/// The server of a shoe repairer's bench log: brings the shop's devices together and publishes care cards.
#[derive(Debug, Parser)]
#[command(name = "waxend", version, about, max_term_width = 100)]
pub struct Cli {
    /// The folder that holds the database, the photographs and the erasure ledger.
    #[arg(
        long,
        global = true,
        env = "WAXEND_DATA",
        default_value = "./waxend-data",
        value_name = "FOLDER"
    )]
    pub data: PathBuf,
    /// The address people reach the server at, for links and QR codes. Default: the address it listens on. If it is
    /// https, browsers are told to use nothing else.
    #[arg(long, global = true, env = "WAXEND_URL", value_name = "URL")]
    pub url: Option<String>,
    /// How log lines are written, to standard error.
    #[arg(
        long,
        global = true,
        env = "WAXEND_LOG_FORMAT",
        default_value = "text",
        value_name = "FORMAT"
    )]
    pub log_format: LogFormat,
    /// What to do.
    #[command(subcommand)]
    pub command: CliCommand,
}

/// How log lines are written. Which ones: `RUST_LOG`, default `info,sqlx=error`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LogFormat {
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum CliCommand {
    /// Run the server.
    Serve(ServeArgs),
    /// Make a one-time code by which a device joins, good for ten minutes, as text and as a QR code.
    Join(JoinArgs),
    /// List the devices that have joined, with their roles, or shut one out.
    Devices {
        /// What to do with them; without it they are listed.
        #[command(subcommand)]
        action: Option<DevicesAction>,
    },
    /// Write everything but the erasure ledger into one file, while the server runs or not.
    Backup {
        /// The file to make; it must not exist.
        file: PathBuf,
    },
    /// Put a backup back. Devices then read everything again and offer what the backup lacks.
    Restore(RestoreArgs),
    /// Check that every entry and every photograph is intact, and that nothing is missing.
    Check(CheckArgs),
    /// Put an invented shop into an empty data folder.
    Demo,
    /// The trade's arithmetic: one JSON object on standard input, one on standard output.
    Calc(CalcArgs),
    /// The bench plan: what is to be done as JSON on standard input, who does what when on standard output.
    Plan(PlanArgs),
}

/// How a device joins.
#[derive(Debug, Args)]
pub struct JoinArgs {
    /// Whose device joins with the code. A shop's first device has to be a repairer's.
    #[arg(long, default_value = "repairer", value_name = "ROLE")]
    pub role: DeviceRole,
}

/// Whose device joins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum DeviceRole {
    /// May do everything.
    Repairer,
    /// Takes in, works, hands over. What else it sends (prices and people of the shop, erasures) waits until a repairer
    /// takes or drops it. Like every device it holds the whole log.
    Helper,
}

impl From<DeviceRole> for Role {
    fn from(role: DeviceRole) -> Self {
        match role {
            DeviceRole::Repairer => Self::Repairer,
            DeviceRole::Helper => Self::Helper,
        }
    }
}

/// What to reckon.
#[derive(Debug, Args)]
pub struct CalcArgs {
    /// The calculation; `--list` names them.
    pub name: Option<String>,
    /// Name all calculations with their fields and units.
    #[arg(long)]
    pub list: bool,
}

/// How to plan.
#[derive(Debug, Args)]
pub struct PlanArgs {
    /// How many changed plans to try. The same number and seed give the same plan on every machine.
    #[arg(long, value_name = "N")]
    pub iterations: Option<u64>,
    /// Another number looks elsewhere.
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub seed: u64,
    /// Stop after so long at the latest; without --iterations, use the time.
    #[arg(long, value_name = "MS")]
    pub time_ms: Option<u64>,
    /// Instead, say which day to promise for the pair in this file.
    #[arg(long, value_name = "FILE")]
    pub promise: Option<PathBuf>,
    /// The plan that this command answered before; the new one differs from it only for a reason. It is used as far as it
    /// fits the pairs that are there now.
    #[arg(long, value_name = "FILE", conflicts_with = "promise")]
    pub previous: Option<PathBuf>,
    /// How often a promise is to be kept: from 0 to 1.
    #[arg(long, value_name = "SHARE", default_value_t = 0.8, requires = "promise")]
    pub confidence: f64,
}

/// What to do with the devices.
#[derive(Debug, Clone, Subcommand)]
pub enum DevicesAction {
    /// Shut a device out. When it next reaches this server, it deletes what the server has; what it has not sent yet stays
    /// on it. If no repairer's device is left, `waxend join` lets one in again.
    Revoke {
        /// The device's id, or its letters.
        device: String,
    },
}

/// How to check.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Mend what can be mended, while no server runs: what is derived from the entries is made anew; damaged entries are
    /// taken out, and devices are asked for them and for damaged photographs.
    #[arg(long)]
    pub repair: bool,
}

/// What to restore.
#[derive(Debug, Args)]
pub struct RestoreArgs {
    /// A file that `waxend backup` made.
    pub file: PathBuf,
    /// Put it in the place of the shop that is in the data folder now.
    #[arg(long)]
    pub replace: bool,
    /// An erasure ledger to apply besides the one in the data folder, for a restore on another machine.
    #[arg(long, value_name = "FILE")]
    pub ledger: Option<PathBuf>,
    /// Restore although an erasure ledger is missing or damaged. What was erased may come back, and every device has to
    /// join again.
    #[arg(long)]
    pub without_ledger: bool,
    /// Keep the database that is replaced, until the next erasure. Names that were erased may stand in it.
    #[arg(long)]
    pub keep_replaced: bool,
}

/// How to serve.
#[derive(Debug, Args)]
pub struct ServeArgs {
    /// The address to listen on; port 0 takes any free one.
    #[arg(
        long,
        env = "WAXEND_LISTEN",
        default_value = "127.0.0.1:8020",
        value_name = "ADDRESS:PORT"
    )]
    pub listen: SocketAddr,
    /// Certificate chain for TLS, PEM. A phone needs a secure origin, and a certificate it trusts. A renewed one is used
    /// within a minute, and at once on SIGHUP.
    #[arg(long, env = "WAXEND_TLS_CERT", requires = "tls_key", value_name = "FILE")]
    pub tls_cert: Option<PathBuf>,
    /// Private key for TLS, PEM.
    #[arg(long, env = "WAXEND_TLS_KEY", requires = "tls_cert", value_name = "FILE")]
    pub tls_key: Option<PathBuf>,
    /// The folder with the built app. Not given: the app inside the binary if it carries one, else `app/dist`.
    #[arg(long, env = "WAXEND_APP", value_name = "FOLDER")]
    pub app: Option<PathBuf>,
    /// Put the invented shop into the data folder if it is empty, and print links to open it.
    #[arg(long, env = "WAXEND_DEMO_IF_EMPTY")]
    pub demo_if_empty: bool,
    /// Limits against floods.
    #[command(flatten)]
    pub limits: LimitArgs,
    /// How much the server takes in.
    #[command(flatten)]
    pub quota: QuotaArgs,
    /// Limits for connections.
    #[command(flatten)]
    pub connections: ConnectionArgs,
}
