//! `waxend calc`.

use shared::trade::calc::{self, InvalidField};

use super::{CliError, question, say};
use crate::config::CalcArgs;

/// Answers one JSON object on standard input with one on standard output, or lists the calculations.
pub(super) fn calc(args: &CalcArgs) -> Result<(), CliError> {
    if args.list {
        say(calc::list().trim_end());
        return Ok(());
    }
    let name = args
        .name
        .as_deref()
        .ok_or_else(|| InvalidField::new("NAME", "a calculation, or --list"))?;
    // A name is looked up before anything is waited for.
    calc::entry(name)?;
    say(&calc::calc(name, &question()?)?.to_string());
    Ok(())
}
