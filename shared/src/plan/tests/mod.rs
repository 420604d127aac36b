//! Tests the solver against known optima, against complete enumeration, and against a checker that shares no code with
//! it.

mod checker;
mod exhaustive;
mod known;
mod promising;
pub(super) mod random;

use super::*;

fn operation(minutes: u32, wait_min: u32) -> PlanOperation {
    PlanOperation {
        minutes,
        wait_min,
        ..PlanOperation::default()
    }
}

fn pair(tag: &str, due: i64, weight: u32, chain: &[(u32, u32)]) -> PlanPair {
    PlanPair {
        tag: tag.to_owned(),
        ready: None,
        join_by: None,
        rejoin_minutes: 0,
        due: Some(due),
        weight,
        first: false,
        operations: chain
            .iter()
            .map(|(minutes, wait)| operation(*minutes, *wait))
            .collect(),
        hidden: Vec::new(),
    }
}

fn instance(windows: Option<&[[i64; 2]]>, pairs: Vec<PlanPair>) -> Instance {
    Instance {
        now: 0,
        windows: windows.map(<[_]>::to_vec),
        workers: 1,
        pairs,
    }
}

/// Solves the instance, and checks the plan.
fn solved(instance: &Instance, iterations: u64, seed: u64) -> Plan {
    let limits = SolveLimits {
        iterations: Some(iterations),
        seed,
        keep_going: None,
        near: None,
        standing: None,
        bound: true,
    };
    let plan = solve(instance, &limits).unwrap();
    assert_eq!(checker::wrong(instance, &plan), [""; 0], "{instance:?}");
    plan
}
