//! Lines that unfold to what belongs to them.

use std::cell::RefCell;

use leptos::html::Details;
use leptos::prelude::*;

thread_local! {
    /// The lines that were tapped since the app was started, and whether they are unfolded since.
    static TAPPED: RefCell<Vec<(String, bool)>> = const { RefCell::new(Vec::new()) };
}

/// Whether a line was left unfolded; `None` if nobody has tapped it.
fn left_open(name: &str) -> Option<bool> {
    TAPPED.with_borrow(|all| all.iter().find(|one| one.0 == name).map(|one| one.1))
}

/// Remembers how a line is left.
fn leave(name: &str, open: bool) {
    TAPPED.with_borrow_mut(|all| {
        all.retain(|one| one.0 != name);
        all.push((name.to_owned(), open));
    });
}

/// A line that a tap unfolds. While the app runs it stays as it was left; until somebody taps it, it is as `open` says.
pub(super) fn fold(name: String, open: bool, line: AnyView, unfolded: AnyView) -> impl IntoView {
    let open = left_open(&name).unwrap_or(open);
    let node = NodeRef::<Details>::new();
    // At the tap: it also unfolds when it is drawn unfolded, which nobody has asked for.
    let tapped = move |_| {
        let is_open = node.get_untracked().is_some_and(|node| node.open());
        leave(&name, !is_open);
    };
    view! {
        <details class="fold" node_ref=node open=open>
            <summary on:click=tapped>{line}</summary>
            {unfolded}
        </details>
    }
}
