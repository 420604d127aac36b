//! The dialog that shows a photograph in full, over whatever screen it was tapped on.

use leptos::html::Dialog;
use leptos::prelude::*;

use super::viewer::{Looked, Viewer};
use super::viewer_stage::PhotographStage;
use super::{Drawing, Face};
use crate::device::DeviceError;
use crate::device::Phone;
use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::session::{use_live_query, use_session};
use crate::shop::use_shop;
use crate::zoom::Onward;
use app_core::commands::destroy;
use app_core::store::Size;

/// What can be shown of a photograph.
#[derive(Debug, Clone, PartialEq)]
enum ViewerContent {
    /// Its bytes.
    Here(Vec<u8>),
    /// They are not on this device, and cannot be had from the server now.
    Away,
    /// They were destroyed for good.
    Destroyed,
}

async fn seen(phone: Phone, looked: &Looked) -> Result<ViewerContent, DeviceError> {
    let hash = &looked.full.sha256;
    if let Some(bytes) = fetched(&phone, hash, looked.job, Size::Full).await? {
        return Ok(ViewerContent::Here(bytes));
    }
    let destroyed = phone.is_destroyed(hash).await?;
    Ok(if destroyed {
        ViewerContent::Destroyed
    } else {
        ViewerContent::Away
    })
}

/// The dialog in which photographs are shown in full. Its first button closes it, so that the focus begins there.
#[component]
pub fn PhotographViewer() -> impl IntoView {
    let viewer: Viewer = expect_context();
    let dialog = NodeRef::<Dialog>::new();
    let shown = use_live_query(move |phone| {
        let looked = viewer.looked();
        async move {
            let Some(looked) = looked else { return Ok(None) };
            let content = seen(phone, &looked).await?;
            Ok(Some((looked, content)))
        }
    });
    // While a photograph is being read, the answer is still of the former one.
    let content = move || {
        let looked = viewer.looked()?;
        let (of, content) = shown.get().flatten()?;
        (of == looked).then_some(content)
    };
    let url = use_object_url(move || match content()? {
        ViewerContent::Here(bytes) => Some((bytes, "image/jpeg".to_owned())),
        ViewerContent::Away | ViewerContent::Destroyed => None,
    });
    let why = Memo::new(move |_| match content()? {
        ViewerContent::Here(_) => None,
        ViewerContent::Away => Some(words::parts::photograph_elsewhere()),
        ViewerContent::Destroyed => Some(words::parts::photograph_was_destroyed()),
    });
    Effect::new(move |_| {
        let Some(dialog) = dialog.get() else { return };
        match (viewer.looked().is_some(), dialog.open()) {
            // `show_modal` fails only for a dialog that is not in the page.
            (true, false) => drop(dialog.show_modal()),
            (false, true) => dialog.close(),
            _ => {}
        }
    });
    // The browser tells of a closing later; meanwhile another photograph may have been opened.
    let closed = move |_| {
        if dialog.get_untracked().is_some_and(|dialog| !dialog.open()) {
            viewer.close();
        }
    };
    let caption = move || viewer.looked().map(|looked| looked.caption).unwrap_or_default();
    let place = move || {
        let several = viewer.position().filter(|(_, of)| *of > 1);
        several.map(|(at, of)| words::parts::photograph_place(at + 1, of))
    };
    let thumb = Signal::derive(move || viewer.looked().map(|looked| looked.thumb.sha256));
    let job = Signal::derive(move || viewer.looked().map(|looked| looked.job));
    // Destroying takes three taps, because it cannot be undone: the first shows what is rare.
    let (more, asked) = (RwSignal::new(false), RwSignal::new(false));
    Effect::new(move |_| {
        drop(viewer.looked());
        more.set(false);
        asked.set(false);
    });
    let shop = use_shop();
    let may = move || why.get().is_none() && !shop.helper();
    let stage = PhotographStage::new(viewer);
    keys(viewer, stage);
    view! {
        <dialog class="viewer" node_ref=dialog aria-label=caption on:close=closed>
            <div class="look-head">
                <button class="bench quiet" on:click=move |_| viewer.close()>{words::parts::close_photograph()}</button>
                <p role="status">{caption}" "<span>{place}</span></p>
                <Show when=may>
                    <button class="bench quiet" aria-expanded=move || more.get().to_string()
                        on:click=move |_| more.update(|more| *more = !*more)>{words::parts::more_about_photograph()}</button>
                </Show>
            </div>
            <Show when=move || may() && more.get() && asked.get()><ForGood/></Show>
            {stage.view(view! {
                <Show when=move || url.get().is_none()><Face of=thumb on=job alt=""/></Show>
                {move || url.get().map(|url| view! { <img src=url alt=caption draggable="false"/> })}
            })}
            {move || why.get().map(|why| view! { <p class="why-not" role="status">{why}</p> })}
            <Show when=move || may() && more.get()>
                <button class="bench quiet destroying" aria-expanded=move || asked.get().to_string()
                    on:click=move |_| asked.update(|asked| *asked = !*asked)>
                    {move || if asked.get() { words::parts::keep_photograph() } else { words::parts::destroy() }}
                </button>
            </Show>
            <Ways viewer stage/>
        </dialog>
    }
}

/// Buttons for all that fingers can do on the picture. At an end they stay, so that they keep the focus.
#[component]
fn Ways(viewer: Viewer, stage: PhotographStage) -> impl IntoView {
    let several = move || viewer.position().is_some_and(|(_, of)| of > 1);
    let turn = move |class: &'static str, words: &'static str, onward: Onward| {
        view! {
            <button class=["bench quiet turn ", class].concat() data-again="" aria-label=words
                aria-disabled=move || viewer.neighbor(onward).is_none().to_string()
                on:click=move |_| viewer.turn(onward)><Drawing name="back"/></button>
        }
    };
    view! {
        <div class="look-foot">
            <Show when=several>{turn("before", words::parts::previous_photograph(), Onward::Previous)}</Show>
            <button class="bench quiet" data-again="" aria-label=words::parts::zoom_out()
                aria-disabled=move || stage.is_whole().to_string() on:click=move |_| stage.farther()>"−"</button>
            <button class="bench quiet" data-again="" aria-label=words::parts::zoom_in()
                aria-disabled=move || stage.is_closest().to_string() on:click=move |_| stage.closer()>"+"</button>
            <Show when=several>{turn("after", words::parts::next_photograph(), Onward::Next)}</Show>
        </div>
    }
}

/// Calls for the arrow keys, `+` and `-` while a photograph is shown.
fn keys(viewer: Viewer, stage: PhotographStage) {
    let listening = window_event_listener(leptos::ev::keydown, move |event| {
        let others = event.alt_key() || event.ctrl_key() || event.meta_key();
        if others || untrack(|| viewer.looked()).is_none() {
            return;
        }
        match event.key().as_str() {
            "ArrowLeft" => stage.arrow(-1.0, 0.0),
            "ArrowRight" => stage.arrow(1.0, 0.0),
            "ArrowUp" => stage.arrow(0.0, -1.0),
            "ArrowDown" => stage.arrow(0.0, 1.0),
            "+" | "=" => stage.closer(),
            "-" => stage.farther(),
            _ => return,
        }
        event.prevent_default();
    });
    on_cleanup(move || listening.remove());
}

/// The last tap, which destroys the photograph. It is above the picture, far from the place of the tap before; the
/// button there leads back meanwhile.
#[component]
fn ForGood() -> impl IntoView {
    let viewer: Viewer = expect_context();
    let (session, shop) = (use_session(), use_shop());
    let go = move |_| {
        let Some(one) = untrack(|| viewer.looked()) else {
            return;
        };
        let drafts = destroy(one.job, &one.full.sha256, &one.thumb.sha256);
        // A device that has joined destroys it once the server has taken the erasure.
        let said = match shop.joined() {
            true => words::parts::photograph_destroyed_once_sent(),
            false => words::parts::photograph_destroyed(),
        };
        session.save_and(drafts, move |_| {
            viewer.close();
            session.sync().now();
            session.tell(said);
        });
    };
    view! {
        <div class="destroy" role="alert">
            <p>{words::parts::warn_before_destroying()}</p>
            <button class="quiet bad" on:click=go>{words::parts::destroy_for_good()}</button>
        </div>
    }
}
