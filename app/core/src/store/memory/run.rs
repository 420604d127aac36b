//! Runs futures to their end without an async runtime.

use std::future::Future;
use std::pin::pin;
use std::task::{Context, Poll, Waker};

/// Runs a future that never has to wait: every call on a [`Memory`](super::Memory) that only one task uses.
///
/// # Panics
/// If it has to wait: a transaction was left open, and another one needs its tables.
pub fn now<R>(future: impl Future<Output = R>) -> R {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(result) => result,
        Poll::Pending => panic!("waited for a transaction that is still open"),
    }
}

/// Runs a future whose parts wait only for each other, such as two tabs that write in turns.
///
/// # Panics
/// If its parts wait for each other for ever.
pub fn in_time<R>(future: impl Future<Output = R>) -> R {
    let mut future = pin!(future);
    for _ in 0..1_000_000 {
        if let Poll::Ready(result) = future.as_mut().poll(&mut Context::from_waker(Waker::noop())) {
            return result;
        }
    }
    panic!("waited for a transaction that is never over");
}
