//! The screen lock of a repairer's device that is shared at the bench.

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::parts::Field;
use crate::pin::is_pin;
use crate::session::use_session;
use crate::shop::use_shop;

/// While the lock is on: the field for the PIN. Else the button that locks and, for repairers, the form for the PIN.
/// Nothing on a helper's device, which shows no more when it is unlocked.
#[component]
pub fn Lock() -> impl IntoView {
    let shop = use_shop();
    let lock = shop.lock();
    let unlocked = move || {
        view! {
            <Show when=move || lock.is_set()>
                <button class="bench" on:click=move |_| lock.lock()>{words::shop::lock::lock()}</button>
            </Show>
            // It can be joined anew only if it has joined.
            <Show when=move || !shop.helper() && (shop.joined() || lock.is_set())><ChoosePin/></Show>
        }
    };
    view! {
        <Show when=move || !shop.is_helpers_device()>
            <Show when=move || lock.is_on() fallback=unlocked><Unlock/></Show>
        </Show>
    }
}

/// The field for the PIN, and what whoever forgets it can do.
#[component]
fn Unlock() -> impl IntoView {
    let (session, lock) = (use_session(), use_shop().lock());
    let (pin, busy) = (RwSignal::new(String::new()), RwSignal::new(false));
    let unlock = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let typed = pin.get_untracked();
        if !is_pin(&typed) {
            return session.ask_to_correct(words::shop::lock::ask_for_pin());
        }
        busy.set(true);
        spawn_local(async move {
            match lock.unlock(&typed).await {
                Ok(()) => session.corrected(),
                Err(why) => session.ask_to_correct(why),
            }
            pin.try_set(String::new());
            busy.try_set(false);
        });
    };
    view! {
        <form class="stack" aria-label=words::shop::lock::screen_lock() on:submit=unlock>
            <p>{words::shop::lock::screen_is_locked()}</p>
            <Field label=words::shop::lock::pin() value=pin kind="password" inputmode="numeric"/>
            <button class="bench" type="submit" disabled=move || busy.get()>{words::shop::lock::unlock()}</button>
            <WayOut/>
        </form>
    }
}

/// Sets another PIN, or takes the lock away.
#[component]
fn ChoosePin() -> impl IntoView {
    let (session, lock) = (use_session(), use_shop().lock());
    let (pin, busy) = (RwSignal::new(String::new()), RwSignal::new(false));
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let typed = pin.get_untracked();
        if !is_pin(&typed) {
            return session.ask_to_correct(words::shop::lock::ask_for_pin());
        }
        busy.set(true);
        spawn_local(async move {
            match lock.set_pin(&typed).await {
                Ok(()) => {
                    session.corrected();
                    session.tell(words::shop::lock::pin_is_set());
                    pin.try_set(String::new());
                }
                Err(why) => session.complain(why),
            }
            busy.try_set(false);
        });
    };
    let away = move |_| {
        lock.take_away();
        session.tell(words::shop::lock::taken_away());
    };
    view! {
        <details>
            <summary>{words::shop::lock::screen_lock()}</summary>
            <form class="stack" on:submit=save>
                <p>{words::shop::lock::what_it_does()}</p>
                <WayOut/>
                <Field label=words::shop::lock::new_pin() value=pin kind="password" inputmode="numeric"/>
                <div class="row">
                    <button type="submit" disabled=move || busy.get()>{words::shop::lock::set_pin()}</button>
                    <Show when=move || lock.is_set()>
                        <button type="button" class="quiet" on:click=away>{words::shop::lock::take_away()}</button>
                    </Show>
                </div>
            </form>
        </details>
    }
}

/// What whoever forgets the PIN can do.
#[component]
fn WayOut() -> impl IntoView {
    view! { <p class="quiet">{words::shop::lock::only_of_the_screen()}<a href="/join">{words::shop::lock::join_anew()}</a>"."</p> }
}
