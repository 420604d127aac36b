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

/// A form for a PIN. What cannot be a PIN is not sent.
#[component]
fn PinForm<Sends, Sending, Below, Buttons>(
    /// The form's name for screen readers, if nothing around the form has it.
    #[prop(optional)]
    name: Option<&'static str>,
    /// What is asked.
    label: &'static str,
    /// What is done with the PIN. The field is emptied afterwards if it returns true.
    send: Sends,
    /// What stands below the field, from a signal that is true while a PIN is being sent.
    below: Below,
    /// What stands above the field.
    children: Children,
) -> impl IntoView
where
    Sends: Fn(String) -> Sending + 'static,
    Sending: Future<Output = bool> + 'static,
    Below: FnOnce(RwSignal<bool>) -> Buttons,
    Buttons: IntoView + 'static,
{
    let session = use_session();
    let (pin, busy) = (RwSignal::new(String::new()), RwSignal::new(false));
    let submit = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let typed = pin.get_untracked();
        if !is_pin(&typed) {
            return session.ask_to_correct(words::shop::lock::ask_for_pin());
        }
        busy.set(true);
        let sending = send(typed);
        spawn_local(async move {
            if sending.await {
                pin.try_set(String::new());
            }
            busy.try_set(false);
        });
    };
    view! {
        <form class="stack" aria-label=name on:submit=submit>
            {children()}
            <Field label value=pin kind="password" inputmode="numeric"/>
            {below(busy)}
        </form>
    }
}

/// The form for the PIN that ends the lock, and what whoever forgets it can do.
#[component]
fn Unlock() -> impl IntoView {
    let (session, lock) = (use_session(), use_shop().lock());
    let send = move |typed: String| async move {
        match lock.unlock(&typed).await {
            Ok(()) => session.corrected(),
            Err(why) => session.ask_to_correct(why),
        }
        true
    };
    let below = |busy: RwSignal<bool>| {
        view! {
            <button class="bench" type="submit" disabled=move || busy.get()>{words::shop::lock::unlock()}</button>
            <WayOut/>
        }
    };
    view! {
        <PinForm name=words::shop::lock::screen_lock() label=words::shop::lock::pin() send below>
            <p>{words::shop::lock::screen_is_locked()}</p>
        </PinForm>
    }
}

/// Sets another PIN, or takes the lock away.
#[component]
fn ChoosePin() -> impl IntoView {
    let (session, lock) = (use_session(), use_shop().lock());
    let send = move |typed: String| async move {
        match lock.set_pin(&typed).await {
            Ok(()) => {
                session.corrected();
                session.tell(words::shop::lock::pin_is_set());
                true
            }
            Err(why) => {
                session.complain(why);
                false
            }
        }
    };
    let away = move |_| {
        lock.take_away();
        session.tell(words::shop::lock::taken_away());
    };
    let below = move |busy: RwSignal<bool>| {
        view! {
            <div class="row">
                <button type="submit" disabled=move || busy.get()>{words::shop::lock::set_pin()}</button>
                <Show when=move || lock.is_set()>
                    <button type="button" class="quiet" on:click=away>{words::shop::lock::take_away()}</button>
                </Show>
            </div>
        }
    };
    view! {
        <details>
            <summary>{words::shop::lock::screen_lock()}</summary>
            <PinForm label=words::shop::lock::new_pin() send below>
                <p>{words::shop::lock::what_it_does()}</p>
                <WayOut/>
            </PinForm>
        </details>
    }
}

/// What whoever forgets the PIN can do.
#[component]
fn WayOut() -> impl IntoView {
    view! { <p class="quiet">{words::shop::lock::only_of_the_screen()}<a href="/join">{words::shop::lock::join_anew()}</a>"."</p> }
}
