//! Work that takes a processor for long: what many entries add up to, such as a care card. It is done away from the threads
//! that answer all other requests, and only a little of it at once.

use std::sync::Arc;
use std::time::Duration;

use tokio::runtime::Handle;
use tokio::sync::Semaphore;
use tokio::task::spawn_blocking;
use tokio::time::timeout;
use tracing::error;

use server_core::error::Error;

/// So much is worked on at once.
const AT_ONCE: usize = 2;
/// How long a request waits for its turn before it is told to come again.
const WAIT: Duration = Duration::from_secs(5);

/// Gives each piece of work its turn.
#[derive(Debug)]
pub struct HeavyWork {
    turns: Arc<Semaphore>,
    wait: Duration,
}

impl Default for HeavyWork {
    fn default() -> Self {
        Self {
            turns: Arc::new(Semaphore::new(AT_ONCE)),
            wait: WAIT,
        }
    }
}

impl HeavyWork {
    /// Does the work when its turn comes, on a thread of its own. It goes on to its end, and keeps its turn, also if the
    /// client leaves meanwhile.
    ///
    /// # Errors
    /// Those of the work; [`Error::Unavailable`] if its turn does not come in time; [`Error::Fault`] if it panics.
    pub(super) async fn run<T: Send + 'static>(
        &self,
        work: impl Future<Output = Result<T, Error>> + Send + 'static,
    ) -> Result<T, Error> {
        let Ok(Ok(turn)) = timeout(self.wait, self.turns.clone().acquire_owned()).await else {
            return Err(Error::Unavailable);
        };
        let runtime = Handle::current();
        let done = spawn_blocking(move || {
            let done = runtime.block_on(work);
            drop(turn);
            done
        });
        done.await.unwrap_or_else(|panic| {
            error!(%panic, "heavy work panicked");
            Err(Error::Fault)
        })
    }
}

#[cfg(test)]
mod tests {
    use tokio::sync::Barrier;

    use super::*;

    #[tokio::test]
    async fn little_is_done_at_once_and_the_rest_is_told_to_come_again() {
        let heavy = Arc::new(HeavyWork {
            wait: Duration::from_millis(20),
            ..HeavyWork::default()
        });
        // The work begins when all of it has its turn, and ends when it is told to.
        let barrier = Arc::new(Barrier::new(AT_ONCE + 1));
        let running = (0..AT_ONCE).map(|_| {
            let (heavy, barrier) = (heavy.clone(), barrier.clone());
            let work = async move {
                barrier.wait().await;
                barrier.wait().await;
                Ok(())
            };
            tokio::spawn(async move { heavy.run(work).await })
        });
        let running: Vec<_> = running.collect();
        barrier.wait().await;
        let refused = heavy.run(async { Ok(()) }).await.unwrap_err();
        assert!(matches!(refused, Error::Unavailable), "{refused:?}");
        assert_eq!(refused.problem().retry_after, Some(1));
        barrier.wait().await;
        for one in running {
            one.await.unwrap().unwrap();
        }
        heavy.run(async { Ok(()) }).await.unwrap();
    }

    async fn fails() -> Result<(), Error> {
        panic!("it fails")
    }

    #[tokio::test]
    async fn a_turn_is_given_back_also_after_a_panic() {
        let heavy = HeavyWork::default();
        for _ in 0..=AT_ONCE {
            let failed = heavy.run(fails()).await.unwrap_err();
            assert!(matches!(failed, Error::Fault), "{failed:?}");
        }
        assert_eq!(heavy.run(async { Ok(7) }).await.unwrap(), 7);
    }
}
