//! A form for settings of the shop that keeps what is typed.

use leptos::prelude::*;

/// The values of a form for some of the shop's settings. They follow the stored settings until somebody changes one:
/// what is typed stays when the settings are read, arrive from another device, or are changed by another form.
pub(super) struct ShopForm<T: 'static> {
    /// The values in the form.
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
    /// A form whose initial values are read by `stored`.
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

    /// Changes the values.
    pub(super) fn edit(self, change: impl FnOnce(&mut T)) {
        self.changed.set_value(true);
        self.values.update(change);
    }

    /// Makes the form follow the stored settings again, after it was saved or given up.
    pub(super) fn follow(self) {
        self.changed.set_value(false);
    }
}
