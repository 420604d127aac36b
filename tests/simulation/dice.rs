//! Chance from one seed.

use std::cell::RefCell;
use std::rc::Rc;

use shared::log::body::Role;

/// Dice that fall the same way for the same seed. Clones share them.
#[derive(Debug, Clone)]
pub(crate) struct Dice(Rc<RefCell<fastrand::Rng>>);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(Rc::new(RefCell::new(fastrand::Rng::with_seed(seed))))
    }

    /// From `least` to `most`, both included.
    pub(crate) fn between(&self, least: u32, most: u32) -> u32 {
        self.0.borrow_mut().u32(least..=most)
    }

    pub(crate) fn seed(&self) -> u64 {
        self.0.borrow_mut().u64(..)
    }

    /// True once in `times`.
    pub(crate) fn once_in(&self, times: u32) -> bool {
        self.between(1, times) == 1
    }

    /// As which a device joins the shop: mostly as a repairer's.
    pub(crate) fn role(&self) -> Role {
        if self.once_in(3) {
            Role::Helper
        } else {
            Role::Repairer
        }
    }

    /// Up to ten years, either way.
    pub(crate) fn years(&self) -> i64 {
        const YEARS: i64 = 10 * 365 * 24 * 3600 * 1000;
        self.0.borrow_mut().i64(-YEARS..=YEARS)
    }

    pub(crate) fn pick<'a, T>(&self, from: &'a [T]) -> Option<&'a T> {
        self.0.borrow_mut().choice(from)
    }

    pub(crate) fn shuffle<T>(&self, items: &mut [T]) {
        self.0.borrow_mut().shuffle(items);
    }
}
