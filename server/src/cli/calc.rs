//! `waxend calc`.

use shared::trade::calc::{self, InvalidField};

use super::{CliError, question, say};
use crate::config::CalcArgs;

/// Reads one JSON object from standard input and writes the result to standard output, or lists the calculations.
pub(super) fn calc(args: &CalcArgs) -> Result<(), CliError> {
    if args.list {
        say(calc::list().trim_end());
        return Ok(());
    }
    let name = args
        .name
        .as_deref()
        .ok_or_else(|| InvalidField::new("NAME", "a calculation, or --list"))?;
    // An unknown name is reported before standard input is read.
    calc::entry(name)?;
    say(&calc::calc(name, &question()?)?.to_string());
    Ok(())
}
