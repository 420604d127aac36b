//! Changing the pair by holding its tag in front of the camera.

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::run::{CameraRun, use_turn};
use crate::device::camera::Camera as Lens;
use crate::session::use_session;
use app_core::stations::{answering, in_shop};

/// A button that looks for a tag or stub until one is found or the button is pressed again.
#[component]
pub fn Scan(lens: Lens, run: CameraRun) -> impl IntoView {
    let session = use_session();
    let turn = use_turn();
    let looking = RwSignal::new(false);
    let press = move |_| {
        looking.update(|on| *on = !*on);
        if !looking.get_untracked() {
            return;
        }
        let (turn, jobs) = (turn.clone(), run.jobs());
        spawn_local(async move {
            let text = match lens.scan(looking.into()).await {
                Ok(Some(text)) => text,
                Ok(None) => return,
                Err(error) => {
                    looking.try_set(false);
                    return session.complain(error);
                }
            };
            looking.try_set(false);
            let Some(phone) = session.phone() else { return };
            let pairs = match phone.in_shop().await {
                Ok(pairs) => pairs,
                Err(error) => return session.complain(error),
            };
            let meant: Vec<_> = answering(in_shop(pairs), &text)
                .iter()
                .map(|row| row.job.id)
                .collect();
            match meant[..] {
                [] => session.complain(words::camera::no_pair_answers(&text)),
                [one] => turn(one, jobs),
                // A stub has the code of its ticket: all jobs on the ticket become the run.
                [first, ..] => turn(first, meant),
            }
        });
    };
    view! {
        <button class="bench quiet" on:click=press aria-pressed=move || looking.get().to_string()>
            {move || if looking.get() { words::camera::show_tag() } else { words::camera::scan_tag() }}
        </button>
    }
}
