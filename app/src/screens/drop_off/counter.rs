//! What the parts of the drop-off screen share: the form as it is typed.

use leptos::prelude::*;
use shared::trade::{Class, Goods};

use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::commands::{DropOff, PairIn};

/// The form, which pair is unfolded, and what keeps it from being taken. Cheap to copy.
#[derive(Clone, Copy)]
pub(super) struct CounterForm {
    pub(super) form: RwSignal<DropOff>,
    pub(super) open: RwSignal<usize>,
    /// The id of the element where something is missing; empty if nothing is.
    pub(super) wrong: RwSignal<String>,
    /// What stands in the search box.
    pub(super) search: RwSignal<String>,
    /// What is looked for: that, or the name or number of somebody new as it is typed.
    pub(super) sought: RwSignal<String>,
    /// The day past of which the person has been told.
    pub(super) told_past: RwSignal<String>,
    pub(super) shop: ShopContext,
    session: Session,
}

impl CounterForm {
    pub(super) fn new() -> Self {
        Self {
            form: RwSignal::new(DropOff::blank()),
            open: RwSignal::new(0),
            wrong: RwSignal::new(String::new()),
            search: RwSignal::new(String::new()),
            sought: RwSignal::new(String::new()),
            told_past: RwSignal::new(String::new()),
            shop: use_shop(),
            session: use_session(),
        }
    }

    /// Something the form says, followed.
    pub(super) fn said<T: Send + Sync + 'static>(
        self,
        read: impl Fn(&DropOff) -> T + Send + Sync + 'static,
    ) -> Signal<T> {
        Signal::derive(move || self.form.with(|form| read(form)))
    }

    /// Something a pair says, followed; the default once the pair has been taken off.
    pub(super) fn of_pair<T: Default + Send + Sync + 'static>(
        self,
        pair: usize,
        read: impl Fn(&PairIn) -> T + Send + Sync + 'static,
    ) -> Signal<T> {
        self.said(move |form| form.pairs.get(pair).map(&read).unwrap_or_default())
    }

    /// Changes the form.
    pub(super) fn change(self, change: impl FnOnce(&mut DropOff)) {
        self.wrong.update(String::clear);
        self.session.corrected();
        self.form.update(change);
    }

    /// Whether this day is the one promised, and the tap that promises all of it.
    pub(super) fn promise(self, day: String) -> (Signal<bool>, Callback<()>) {
        let this = day.clone();
        let on = self.said(move |form| form.day == this);
        (
            on,
            Callback::new(move |()| self.say_day(day.clone(), String::new())),
        )
    }

    /// Promises a day, from a time `HH:MM` on; by its end if that is empty.
    pub(super) fn say_day(self, day: String, from: String) {
        self.change(|form| (form.day, form.ready_from) = (day, from));
    }

    /// Looks for nobody any more.
    pub(super) fn looked(self) {
        self.search.set(String::new());
        self.sought.set(String::new());
    }

    /// Changes a pair.
    pub(super) fn change_pair(self, pair: usize, change: impl FnOnce(&mut PairIn)) {
        self.change(|form| {
            if let Some(pair) = form.pairs.get_mut(pair) {
                change(pair);
            }
        });
    }

    /// A pair's kind; it changes only when the person says so.
    pub(super) fn goods(self, pair: usize) -> Memo<String> {
        let goods = self.of_pair(pair, |pair| pair.goods.clone());
        Memo::new(move |_| goods.get())
    }

    /// Whether a pair goes on feet, followed.
    pub(super) fn footwear(self, pair: usize) -> Memo<bool> {
        let goods = self.goods(pair);
        Memo::new(move |_| is_footwear(&goods.get()))
    }

    /// Whether the element with this id is where something is missing.
    pub(super) fn is_wrong(self, element: String) -> Signal<bool> {
        Signal::derive(move || self.wrong.with(|wrong| *wrong == element))
    }
}

/// Whether goods are worn on feet, as far as is known.
pub(super) fn is_footwear(goods: &str) -> bool {
    Goods::from(goods).is_any_of(Class::FOOTWEAR)
}
