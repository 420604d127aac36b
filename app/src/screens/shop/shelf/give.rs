//! How an order leaves the shop: as a text, or as a file for a spreadsheet.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::shelf::{OrderLine, order_csv, order_text};

use crate::device::share::{NewFile, Passed, share_files, share_text};
use crate::parts::{day_words, today};
use crate::session::use_session;
use crate::shop::use_shop;

/// Two buttons that pass on these lines. What a unit costs is left out on a helper's screen.
#[component]
pub fn Give(
    /// The lines when a button is pressed; `None` if there are none to pass on, which was said then.
    lines: Callback<(), Option<Vec<OrderLine>>>,
) -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let helper = Memo::new(move |_| shop.helper());
    let lines = move || {
        let mut lines = lines.run(())?;
        if helper.get_untracked() {
            lines.iter_mut().for_each(|line| line.cost_minor = None);
        }
        Some(lines)
    };
    let as_text = move |_| {
        let Some(lines) = lines() else { return };
        let state = shop.state();
        let name = state.name().unwrap_or(words::shelf::the_shop());
        let text = order_text(&lines, name, &day_words(&today()));
        spawn_local(async move {
            match share_text(&text).await {
                Ok(Passed::Copied) => session.tell(words::shelf::order_copied()),
                Ok(_) => {}
                Err(error) => session.complain(error),
            }
        });
    };
    let as_file = move |_| {
        let Some(lines) = lines() else { return };
        let text = order_csv(&lines, shop.money_kind());
        spawn_local(async move {
            let file = NewFile {
                name: "order.csv",
                media_type: "text/csv",
                bytes: text.as_bytes(),
            };
            match share_files(&[file], words::shelf::order_list()).await {
                Ok(Passed::Downloaded) => session.tell(words::shelf::order_is_among_downloads()),
                Ok(_) => {}
                Err(error) => session.complain(error),
            }
        });
    };
    view! {
        <button class="quiet" on:click=as_text>{words::shelf::send_as_text()}</button>
        <button class="quiet" on:click=as_file>{words::shelf::as_a_file()}</button>
    }
}
