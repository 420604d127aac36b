//! One phone: the store on a database in memory that can die, with a clock that can be wrong.

use app_core::store::memory::{Memory, now};
use app_core::store::scripted::Scripted;
use app_core::store::{KvStore, Membership};
use shared::log::UnixMs;

pub(crate) type Store = KvStore<Memory, Scripted>;

pub(crate) struct Phone {
    pub(crate) memory: Memory,
    pub(crate) around: Scripted,
    pub(crate) store: Store,
    /// How far its clock is ahead, in ms.
    pub(crate) skew: i64,
}

impl Phone {
    pub(crate) fn new(seed: u64, time: UnixMs) -> Self {
        let (memory, around) = (Memory::default(), Scripted::new(seed, time));
        let store = now(KvStore::open(memory.clone(), around.clone())).expect("a new phone starts");
        Self {
            memory,
            around,
            store,
            skew: 0,
        }
    }

    /// The clock goes on.
    pub(crate) fn tick(&self, time: UnixMs) {
        self.around.set(UnixMs(time.0 + self.skew));
    }

    /// Starts the app again if the phone has died.
    pub(crate) fn revive(&mut self) {
        self.memory.restart();
        self.store = now(KvStore::open(self.memory.clone(), self.around.clone())).expect("it starts again");
    }

    pub(crate) fn membership(&self) -> Membership {
        now(self.store.membership()).expect("the phone reads")
    }
}
