//! What sets of entries fold to: one program, so that it is linked once.

mod bench_work;
mod bill;
mod cards_and_sameness;
mod clocks;
mod convergence;
#[path = "../support/mod.rs"]
mod support;
mod survival;
