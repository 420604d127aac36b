//! How long planning takes, and what longer thinking gains: `cargo run --release -p shared --example plan_growth --
//! FILE...`, each file an instance as `tests/oracle/weeks.py` prints them.

#![allow(clippy::print_stdout, reason = "a table for a terminal")]

use std::error::Error;
use std::time::Instant;

use shared::plan::{Instance, SolveLimits, solve};

/// None: what is usual.
const TRIALS: [Option<u64>; 3] = [None, Some(25_000), Some(250_000)];

fn main() -> Result<(), Box<dyn Error>> {
    println!("| file | pairs | operations | tried | weighted minutes late | at least | ms |");
    println!("| --- | --- | --- | --- | --- | --- | --- |");
    for file in std::env::args().skip(1) {
        let instance: Instance = serde_json::from_str(&std::fs::read_to_string(&file)?)?;
        let operations: usize = instance.pairs.iter().map(|pair| pair.operations.len()).sum();
        for iterations in TRIALS {
            let limits = SolveLimits {
                iterations,
                bound: true,
                ..SolveLimits::default()
            };
            let begun = Instant::now();
            let plan = solve(&instance, &limits)?;
            let took = begun.elapsed().as_secs_f64() * 1e3;
            let tried = iterations.map_or("usual".to_owned(), |count| count.to_string());
            println!(
                "| {file} | {} | {operations} | {tried} | {} | {} | {took:.1} |",
                instance.pairs.len(),
                plan.weighted_tardiness,
                plan.lower_bound,
            );
        }
    }
    Ok(())
}
