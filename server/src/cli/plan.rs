//! `waxend plan`.

use std::fs;
use std::time::{Duration, Instant};

use serde::Serialize;
use shared::plan::{SolveLimits, StandingPlan, json, promise, replan, solve};
use shared::trade::calc::InvalidField;

use super::{CliError, doing, question, say};
use crate::config::PlanArgs;

/// Plans the instance on standard input, or suggests a day to promise for one more pair.
pub(super) fn plan(args: &PlanArgs) -> Result<(), CliError> {
    let new = match &args.promise {
        Some(file) => {
            let text = fs::read_to_string(file).map_err(doing(format!("reading {}", file.display())))?;
            Some(json::pair(&text)?)
        }
        None => None,
    };
    let instance = json::instance(&question()?)?;
    let begun = Instant::now();
    let most = args.time_ms.map(Duration::from_millis);
    let in_time = || most.is_none_or(|most| begun.elapsed() < most);
    let limits = SolveLimits {
        iterations: args.iterations,
        seed: args.seed,
        keep_going: most.map(|_| &in_time as &dyn Fn() -> bool),
        bound: true,
        near: None,
        standing: None,
    };
    let previous = match &args.previous {
        Some(file) => {
            let text = fs::read_to_string(file).map_err(doing(format!("reading {}", file.display())))?;
            Some(json::previous(&text).map_err(|wrong| wrong.within("previous"))?)
        }
        None => None,
    };
    if let Some(previous) = previous {
        let key = |pair: usize| instance.pairs[pair].tag.as_str();
        let standing = StandingPlan::matched(&instance, &key, previous.operations());
        let operations = previous.operations().count();
        let left_out = |pair: usize| previous.left_out(key(pair));
        return answer(&replan(&instance, standing, operations, &left_out, &limits)?);
    }
    match new {
        Some(pair) => answer(&promise(&instance, &[pair], args.confidence, &limits)?),
        None => answer(&solve(&instance, &limits)?),
    }
}

fn answer(answer: &impl Serialize) -> Result<(), CliError> {
    let text =
        serde_json::to_string(answer).map_err(|error| InvalidField::new("input", error.to_string()))?;
    say(&text);
    Ok(())
}
