//! Notices, above everything else on the page.

use leptos::prelude::*;

use crate::session::{Notice, use_session};

/// The latest notice: a success for some seconds, a failure until it is dismissed or replaced.
#[component]
pub fn Say() -> impl IntoView {
    let notice = use_session().notice();
    let away = move |_| notice.set(None);
    let text = move || match notice.get() {
        Some(Notice::Good(text) | Notice::Bad(text) | Notice::Wanting(text)) => text,
        None => String::new(),
    };
    let bad = move || matches!(notice.get(), Some(Notice::Bad(_) | Notice::Wanting(_)));
    view! {
        <div class="say" class:bad=bad class:silent=move || notice.get().is_none() role="status" aria-live="polite">
            <span>{text}</span>
            <Show when=bad>
                <button class="quiet" on:click=away>{words::parts::close()}</button>
            </Show>
        </div>
    }
}
