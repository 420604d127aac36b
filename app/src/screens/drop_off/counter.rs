//! The form of the drop-off screen, shared by its sections.

use leptos::prelude::*;
use shared::trade::{Class, Goods};

use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::commands::{DropOff, PairIn};

/// The form, which pair is unfolded, and what is missing. Cheap to copy.
#[derive(Clone, Copy)]
pub(super) struct CounterForm {
    pub(super) form: RwSignal<DropOff>,
    pub(super) open: RwSignal<usize>,
    /// The id of the element where something is missing; empty if nothing is.
    pub(super) wrong: RwSignal<String>,
    /// The text in the search box.
    pub(super) search: RwSignal<String>,
    /// The text that is searched for: that of the search box, or the name or telephone number typed for a new customer.
    pub(super) sought: RwSignal<String>,
    /// The promised day and time that the person has been asked about, because something speaks against them.
    pub(super) asked: RwSignal<(String, String)>,
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
            asked: RwSignal::new((String::new(), String::new())),
            shop: use_shop(),
            session: use_session(),
        }
    }

    /// A value read from the form, as a signal.
    pub(super) fn said<T: Send + Sync + 'static>(
        self,
        read: impl Fn(&DropOff) -> T + Send + Sync + 'static,
    ) -> Signal<T> {
        Signal::derive(move || self.form.with(|form| read(form)))
    }

    /// A value read from a pair of the form, as a signal; the default once that pair has been removed.
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

    /// Whether this day is the promised one, and a callback that promises it until its end.
    pub(super) fn promise(self, day: String) -> (Signal<bool>, Callback<()>) {
        let this = day.clone();
        let on = self.said(move |form| form.day == this);
        (
            on,
            Callback::new(move |()| self.say_day(day.clone(), String::new())),
        )
    }

    /// Promises a day, ready from the time `HH:MM`; if `from` is empty, by the end of the day.
    pub(super) fn say_day(self, day: String, from: String) {
        self.change(|form| (form.day, form.ready_from) = (day, from));
    }

    /// Ends the search.
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

    /// The kind of goods of a pair, as a memo: it is notified only when the kind changes.
    pub(super) fn goods(self, pair: usize) -> Memo<String> {
        let goods = self.of_pair(pair, |pair| pair.goods.clone());
        Memo::new(move |_| goods.get())
    }

    /// Whether a pair is footwear, as a memo.
    pub(super) fn footwear(self, pair: usize) -> Memo<bool> {
        let goods = self.goods(pair);
        Memo::new(move |_| is_footwear(&goods.get()))
    }

    /// Whether the element with this id is where something is missing.
    pub(super) fn is_wrong(self, element: String) -> Signal<bool> {
        Signal::derive(move || self.wrong.with(|wrong| *wrong == element))
    }
}

/// Whether goods are footwear, as far as is known.
pub(super) fn is_footwear(goods: &str) -> bool {
    Goods::from(goods).is_any_of(Class::FOOTWEAR)
}
