//! Lines that unfold to what belongs to them, and stay as they were left while a screen is drawn anew.

use std::collections::BTreeSet;

use leptos::html::Details;
use leptos::prelude::*;

/// Which folds of a screen are open, by their keys. It belongs to the screen and not to a list on it, because a list is
/// drawn anew after each save and each sync, and would fold what somebody reads. Cheap to copy.
#[derive(Clone, Copy)]
pub struct OpenFolds(RwSignal<BTreeSet<String>>);

impl OpenFolds {
    /// Provides it to everything a screen draws. Each screen with such folds calls it once, outside of what is drawn anew.
    pub fn provide() {
        provide_context(Self(RwSignal::new(BTreeSet::new())));
    }

    /// Those of the screen; a set of its own for a fold that is drawn once.
    fn of_screen() -> Self {
        use_context().unwrap_or_else(|| Self(RwSignal::new(BTreeSet::new())))
    }
}

/// A fold, closed until it is tapped.
pub fn kept_fold(
    // What tells it from the other folds of the screen.
    key: String,
    class: &'static str,
    // The `summary` element.
    summary: AnyView,
    unfolded: AnyView,
) -> AnyView {
    let OpenFolds(open) = OpenFolds::of_screen();
    let (this, node) = (StoredValue::new(key), NodeRef::<Details>::new());
    let is_open = Memo::new(move |_| this.with_value(|key| open.with(|open| open.contains(key))));
    let toggled = move |_| {
        // The page may have been drawn anew since the tap.
        let Some(was_open) = is_open.try_get_untracked() else {
            return;
        };
        let opened = node.get_untracked().is_some_and(|node| node.open());
        if opened == was_open {
            return;
        }
        open.update(|open| {
            let key = this.get_value();
            if opened {
                open.insert(key);
            } else {
                open.remove(&key);
            }
        });
    };
    view! {
        <details class=class node_ref=node open=move || is_open.get() on:toggle=toggled>
            {summary}
            {unfolded}
        </details>
    }
    .into_any()
}
