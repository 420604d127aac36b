//! The shop's settings and people, read once for all screens.

use shared::log::body::OperationCode;
use shared::price::minor::Minor;
use std::future::Future;
use std::rc::Rc;

use leptos::prelude::*;
use leptos::task::spawn_local;
use serde_json::Value;
use shared::analytics::ShopSettings;
use shared::log::PersonId;
use shared::log::body::{Person, Role, field};
use shared::log::fold::ShopState;
use shared::price::currency::Currency;
use shared::price::listed::{listed, norm_in};
use shared::sync::Code;
use shared::trade::amount::LineSize;
use shared::trade::{Goods, operations};

use crate::device::lazy;
use crate::device::screen::{ScreenLock, keep_language};
use crate::device::{DeviceError, Phone};
use crate::session::{LiveQuery, Session, use_live_query, use_session};
use app_core::calc::{Lengths, USUAL_NAILS};
use app_core::commands;
use shared::log::Draft;

/// The state of the shop's own entries, and what this device may show of the shop, kept up to date. Cheap to copy;
/// provided as a context.
#[derive(Clone, Copy)]
pub struct ShopContext {
    state: LiveQuery<Option<Rc<ShopState>>>,
    device: LiveQuery<JoinState>,
    lock: ScreenLock,
}

/// What the screens have to know of this device's membership of the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct JoinState {
    /// Whether it has access to a server.
    joined: bool,
    /// Whether it has joined as a helper's.
    helpers: bool,
    /// Whether it was shut out and has deleted what the server has.
    wiped: bool,
}

impl ShopContext {
    /// Begins to follow the shop's entries. They are read after the first screen.
    #[must_use]
    pub fn follow() -> Self {
        let begun = use_session().is_started();
        let state = use_live_query(move |phone| {
            let begun = begun.get();
            async move {
                if begun {
                    lazy::shop_state(phone).await.map(|state| Some(Rc::new(state)))
                } else {
                    Ok(None)
                }
            }
        });
        let device = use_live_query(move |phone| {
            let begun = begun.get();
            async move {
                if !begun {
                    return Ok(JoinState::default());
                }
                let membership = phone.membership().await?;
                let out = membership.shut_out.as_ref();
                let is_out = out.is_some_and(|problem| problem.code == Code::TokenRevoked);
                // A device that has deleted what the server has begins anew.
                let progress = phone.progress().await?;
                let anew = progress.cursor.is_none() && !progress.compare;
                Ok(JoinState {
                    joined: membership.joined(),
                    helpers: membership.is_helper(),
                    wiped: is_out && anew,
                })
            }
        });
        // What is on the screen stays as it is; the shop's language is spoken from the next start on.
        Effect::new(move |_| {
            if let Some(state) = state.get().flatten() {
                keep_language(state.language());
            }
        });
        Self {
            state,
            device,
            lock: ScreenLock::start(),
        }
    }

    /// The state; empty until it is read.
    #[must_use]
    pub fn state(self) -> Rc<ShopState> {
        self.state.get().flatten().unwrap_or_default()
    }

    /// Whether it has been read.
    #[must_use]
    pub fn is_read(self) -> bool {
        self.state.get().flatten().is_some()
    }

    /// The shop's own price of an operation on a kind of goods, in minor units.
    #[must_use]
    pub fn price(self, operation: &str, goods: &str) -> Option<Minor> {
        self.state().price(operation, goods)
    }

    /// What an operation on a kind of goods usually costs: the shop's own price, else the trade's norm, in minor units.
    ///
    /// If `goods` is empty, it counts as a shoe.
    #[must_use]
    pub fn listed(self, operation: &str, goods: &str) -> Option<Minor> {
        self.listed_work(LineSize::usual(operation), goods)
    }

    /// What work on a kind of goods costs: in its variant, on its shoe, so many pieces.
    #[must_use]
    pub fn listed_work(self, work: LineSize<'_>, goods: &str) -> Option<Minor> {
        listed(&self.state(), goods, work)
    }

    /// The norm of an operation's price, in minor units of the shop's currency. The norm's figure is used for any
    /// currency alike.
    #[must_use]
    pub fn norm(self, operation: &str, goods: &Goods) -> Option<Minor> {
        norm_in(self.money_kind(), operation, goods, None)
    }

    /// Reads a typed amount; minor units, or `None` if it is no amount in the shop's currency.
    #[must_use]
    pub fn reads(self, text: &str) -> Option<Minor> {
        self.money_kind().parse(text)
    }

    /// An amount of minor units as a person would type it.
    #[must_use]
    pub fn typed(self, minor: Minor) -> String {
        self.money_kind().typed(minor)
    }

    /// The shop's currency; a nameless one with two decimals if none is set.
    #[must_use]
    pub fn money_kind(self) -> Currency {
        self.state().money_kind()
    }

    /// The operations that the shop has added to the trade's list: those it has a price for, on some kind of goods.
    #[must_use]
    pub fn own_operations(self) -> Vec<OperationCode> {
        let state = self.state();
        let mut own: Vec<OperationCode> = Vec::new();
        for (name, slot) in state.details.iter() {
            let Some(operation) = field::priced_operation(name) else {
                continue;
            };
            let known = operations::operation(operation).is_some() || own.iter().any(|one| *one == operation);
            if slot.current.body.is_i64() && !known {
                own.push(operation.into());
            }
        }
        own
    }

    /// The unit in which the shop gives lengths.
    #[must_use]
    pub fn lengths(self) -> Lengths {
        Lengths::of(self.state().lengths().unwrap_or_default())
    }

    /// The lengths of nails in stock, in mm: as set by the shop, else the usual ones.
    #[must_use]
    pub fn nail_lengths(self) -> Vec<f64> {
        let state = self.state();
        let own: Vec<f64> = state.nail_lengths().collect();
        if own.is_empty() { USUAL_NAILS.to_vec() } else { own }
    }

    /// The currency, ISO 4217; empty if none was said.
    #[must_use]
    pub fn currency(self) -> String {
        self.state().currency().unwrap_or_default().to_owned()
    }

    /// An amount of minor units with the shop's currency.
    #[must_use]
    pub fn money(self, minor: Minor) -> String {
        commands::money(&self.state(), minor)
    }

    /// The shop's settings, as calculations need them.
    #[must_use]
    pub fn known(self) -> ShopSettings {
        ShopSettings::of(&self.state())
    }

    /// The same with what the materials of the shelf cost, for questions about money. The settings are read at once, and
    /// tracked; the materials when the future runs.
    ///
    /// # Errors
    /// If the database fails.
    pub fn known_with_shelf(
        self,
        phone: Phone,
    ) -> impl Future<Output = Result<ShopSettings, DeviceError>> + use<> {
        let state = self.state();
        async move {
            let materials = phone.materials().await?;
            Ok(ShopSettings::of(&state).with_shelf(&state, &materials))
        }
    }

    /// The rate of tax, as [`tax::due`] takes it; `None` for no tax line.
    #[must_use]
    pub fn tax(self) -> Option<i64> {
        self.state().tax()
    }

    /// Sets plain fields of the shop in one save. `then` is called when they are stored. Values that do not change are
    /// not written.
    pub fn set(self, session: Session, fields: Vec<(String, Value)>, then: impl FnOnce() + 'static) {
        let then: Box<dyn FnOnce()> = Box::new(then);
        spawn_local(async move {
            match changes(session, fields).await {
                Ok(drafts) => session.save_and(drafts, move |_| then()),
                Err(error) => session.complain(error),
            }
        });
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

    /// Whether this device shows a helper's screen: no earnings, no settings, no erasing, and prices only at drop-off and
    /// on the stub. It does if it has joined as a helper's, if the screen lock is on, or if a helper is working on it.
    #[must_use]
    pub fn helper(self) -> bool {
        let working = use_session().person().get();
        self.is_helpers_device()
            || self.lock.is_on()
            || self
                .people()
                .iter()
                .any(|one| Some(one.person) == working && one.role == Role::Helper)
    }

    /// Whether this device has joined as a helper's, whoever works on it.
    #[must_use]
    pub fn is_helpers_device(self) -> bool {
        self.device.get().unwrap_or_default().helpers
    }

    /// Whether this device has access to a server.
    #[must_use]
    pub fn joined(self) -> bool {
        self.device.get().unwrap_or_default().joined
    }

    /// Whether this device was shut out and has deleted what the server has.
    #[must_use]
    pub fn wiped(self) -> bool {
        self.device.get().unwrap_or_default().wiped
    }

    /// The screen lock of this device.
    #[must_use]
    pub fn lock(self) -> ScreenLock {
        self.lock
    }
}

/// The drafts that set those of the fields whose values change.
async fn changes(session: Session, fields: Vec<(String, Value)>) -> Result<Vec<Draft>, DeviceError> {
    let phone = session.opened()?;
    let (subject, state) = (phone.shop_subject().await?, phone.shop_state().await?);
    let changed = fields
        .into_iter()
        .filter_map(|(name, value)| commands::set_value(subject.clone(), &state.details, &name, value));
    Ok(changed.collect())
}

/// The shop context of this page.
#[must_use]
pub fn use_shop() -> ShopContext {
    expect_context()
}
