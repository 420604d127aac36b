//! Taking a part off and keeping it, without calling it damaged.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::{KeptFor, Side};
use shared::trade::Component;

use super::Sides;
use crate::selection::use_selection;
use crate::session::use_session;
use app_core::commands::inside::take_off;

/// The id of the field for the part.
const FIELD: &str = "part-kept";

/// A form, folded until it is wanted: which part, of which shoe, and what it is kept for.
#[component]
pub fn KeepPart(
    /// The job.
    job: SubjectId,
) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let opened = RwSignal::new(false);
    let part = RwSignal::new(None::<Component>);
    let side = RwSignal::new(Side::Both);
    let keep = move |kept_for: KeptFor| {
        let Some(chosen) = part.get_untracked() else {
            return session.ask_to_correct(words::parts::which_part());
        };
        let side = side.get_untracked();
        let name = [chosen.words(), side.after()].concat();
        let said = match kept_for {
            KeptFor::Customer => words::parts::part_is_for_the_customer(&name),
            _ => words::parts::part_is_out(&name),
        };
        bench.act(vec![take_off(job, &chosen, side, kept_for)], said);
    };
    let form = move || {
        let names = Component::KNOWN.iter().map(|one| {
            view! { <option value=one.as_str().to_owned()>{one.words()}</option> }
        });
        let choose = move |event| part.set(Some(Component::from(event_target_value(&event).as_str())));
        opened.get().then(|| {
            view! {
                <div class="stack">
                    <div class="field">
                        <label for=FIELD>{words::parts::which_part()}</label>
                        <select id=FIELD on:change=choose>
                            // An empty option for while nothing is chosen.
                            <option value="" hidden selected></option>
                            {names.collect_view()}
                        </select>
                    </div>
                    <Sides label=words::parts::of_which_shoe().to_owned() side=side.into() choose=Callback::new(move |chosen| side.set(chosen))/>
                    <div class="choices">
                        <button class="bench" on:click=move |_| keep(KeptFor::Reuse)>{words::parts::goes_back_in()}</button>
                        <button class="bench" on:click=move |_| keep(KeptFor::Customer)>{words::parts::for_the_customer()}</button>
                    </div>
                </div>
            }
        })
    };
    view! {
        <details class="card" on:toggle=move |_| opened.set(true)>
            <summary>{words::parts::take_off_and_keep()}</summary>
            {form}
        </details>
    }
}
