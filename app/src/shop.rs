//! The shop's settings and people, read once for all screens.

use std::rc::Rc;

use leptos::prelude::*;
use shared::log::PersonId;
use shared::log::body::{Person, Role, field};
use shared::log::fold::State;

use crate::workshop::{Stored, use_stored, use_workshop};

/// What the shop's own entries say, kept up to date. Cheap to copy; provided as a context.
#[derive(Clone, Copy)]
pub struct Shop {
    state: Stored<Rc<State>>,
}

impl Shop {
    /// Begins to follow the shop's entries.
    #[must_use]
    pub fn follow() -> Self {
        Self {
            state: use_stored(|phone| async move { phone.shop_state().await.map(Rc::new) }),
        }
    }

    /// What the entries say; nothing until they are read.
    #[must_use]
    pub fn state(self) -> Rc<State> {
        self.state.get().unwrap_or_default()
    }

    /// The shop's own price of an operation on a kind of goods, in minor units.
    #[must_use]
    pub fn price(self, operation: &str, goods: &str) -> Option<i64> {
        self.state().value(&field::price(operation, goods))?.as_i64()
    }

    /// The currency, ISO 4217; empty if none was said.
    #[must_use]
    pub fn currency(self) -> String {
        self.state().text(field::CURRENCY).to_owned()
    }

    /// Those who work here now, in the order they came.
    #[must_use]
    pub fn people(self) -> Vec<Person> {
        let state = self.state();
        let here = state.people.iter().filter(|item| !item.body.left);
        here.map(|item| item.body.clone()).collect()
    }

    /// What somebody is called; `None` if the shop does not know them.
    #[must_use]
    pub fn name_of(self, person: PersonId) -> Option<String> {
        let state = self.state();
        let known = state
            .people
            .iter()
            .rev()
            .find(|item| item.body.person == person)?;
        Some(known.body.name.clone())
    }

    /// Whether a helper is working on this device: no prices, no earnings, no erasing.
    #[must_use]
    pub fn helper(self) -> bool {
        let working = use_workshop().person().get();
        self.people()
            .iter()
            .any(|one| Some(one.person) == working && one.role == Role::Helper)
    }
}

/// The shop of this page.
#[must_use]
pub fn use_shop() -> Shop {
    expect_context()
}
