//! A form that begins with what the shop has said and keeps what is typed.

use leptos::prelude::*;

/// The values of a form over the shop's own entries. They follow the entries until somebody changes one: what is typed
/// stays when the entries are read, come from another device, or are changed by another form.
pub(super) struct ShopForm<T: 'static> {
    /// What stands in the form.
    pub(super) values: RwSignal<T>,
    changed: StoredValue<bool>,
}

impl<T> Clone for ShopForm<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for ShopForm<T> {}

impl<T: Send + Sync + 'static> ShopForm<T> {
    /// A form that begins with what `stored` reads off the shop's entries.
    pub(super) fn of(stored: impl Fn() -> T + 'static) -> Self {
        let form = Self {
            values: RwSignal::new(untrack(&stored)),
            changed: StoredValue::new(false),
        };
        Effect::new(move |_| {
            let stored = stored();
            if !form.changed.get_value() {
                form.values.set(stored);
            }
        });
        form
    }

    /// Changes what stands in it.
    pub(super) fn edit(self, change: impl FnOnce(&mut T)) {
        self.changed.set_value(true);
        self.values.update(change);
    }

    /// It has been saved, or is given up: it follows the entries again from their next change on.
    pub(super) fn follow(self) {
        self.changed.set_value(false);
    }
}
