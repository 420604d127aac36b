//! Tests of the fold of sets of entries. They are one program, so that it is linked only once.

mod as_it_left;
mod bench_work;
mod bill;
mod cards_and_sameness;
mod clocks;
mod convergence;
mod findings;
mod lines;
mod logged;
mod mentions;
#[path = "../support/mod.rs"]
mod support;
mod survival;
