//! `waxend calc`.

use std::io::{self, Read};

use shared::trade::calc::{self, Refused};

use super::{CliError, say};
use crate::config::CalcArgs;

/// The longest question that is read: far more than any bench has to ask.
const MOST_BYTES: u64 = 16 << 20;

/// Answers one JSON object on standard input with one on standard output, or lists the calculations.
pub(super) fn calc(args: &CalcArgs) -> Result<(), CliError> {
    if args.list {
        say(calc::list().trim_end());
        return Ok(());
    }
    let name = args
        .name
        .as_deref()
        .ok_or_else(|| Refused::new("NAME", "a calculation, or --list"))?;
    // A name is looked up before anything is waited for.
    calc::entry(name)?;
    say(&calc::calc(name, &question()?)?.to_string());
    Ok(())
}

fn question() -> Result<String, Refused> {
    let mut text = String::new();
    let read = io::stdin().lock().take(MOST_BYTES).read_to_string(&mut text);
    read.map_err(|error| Refused::new("input", format!("one JSON object as UTF-8 text; {error}")))?;
    Ok(text)
}
