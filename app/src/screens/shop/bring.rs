//! Bringing in customers and prices from files of other programs: a file is read, what it would change is shown, and it is
//! brought in with one save, which can be undone.

mod preview;

use leptos::html::Input;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::device::{DeviceError, share};
use crate::parts::{Toggle, UndoLast};
use crate::selection::{Selection, UndoScope, use_selection};
use crate::session::{Session, use_live_query, use_session};
use crate::shop::use_shop;
use app_core::commands::bring::{CustomersPreview, FileKind, PricesPreview, customers_in, decoded};
use app_core::store::Surroundings;
use preview::{shown_customers, shown_prices};
use shared::log::Draft;

/// What a file would change.
#[derive(Debug, Clone, PartialEq)]
enum FilePreview {
    Customers(CustomersPreview),
    Prices(PricesPreview),
}

/// The file that was chosen, and how it is read. Cheap to copy.
#[derive(Clone, Copy)]
struct ChosenFile {
    /// Its text; empty while none is chosen.
    text: RwSignal<String>,
    kind: RwSignal<FileKind>,
    /// Whether customers who are perhaps known already are brought in, too.
    doubles: RwSignal<bool>,
    session: Session,
    bench: Selection,
}

/// The screen.
#[component]
pub fn Bring() -> impl IntoView {
    let shop = use_shop();
    let chosen = ChosenFile {
        text: RwSignal::new(String::new()),
        kind: RwSignal::new(FileKind::Customers),
        doubles: RwSignal::new(false),
        session: use_session(),
        bench: use_selection(),
    };
    view! {
        <Show when=move || shop.helper()><p>{words::shop::prices::for_repairers()}</p></Show>
        <section class="stack" hidden=move || shop.helper() data-ready="bring">
            <h1>{words::shop::bring::bring_in()}</h1>
            <p class="quiet">{words::shop::bring::what_can_be_brought_in()}</p>
            <p class="quiet">{words::shop::bring::how_tables_are_read()}</p>
            <Choose chosen/>
            <UndoLast of=Some(UndoScope::Bring)/>
            <Preview chosen/>
        </section>
    }
}

/// The field for the file, and the kinds it can be read as.
#[component]
fn Choose(chosen: ChosenFile) -> impl IntoView {
    let (shop, session) = (use_shop(), chosen.session);
    let input = NodeRef::<Input>::new();
    let read = move |_| {
        let Some(element) = input.get_untracked() else {
            return;
        };
        let Some(file) = element.files().and_then(|files| files.get(0)) else {
            return;
        };
        spawn_local(async move {
            match share::read_file(&file).await {
                Ok(bytes) => {
                    let text = decoded(&bytes);
                    chosen.kind.try_set(FileKind::of(&text, &shop.state()));
                    chosen.doubles.try_set(false);
                    chosen.text.try_set(text);
                }
                Err(error) => session.complain(error),
            }
            // So that the same file can be chosen again after it was changed.
            element.set_value("");
        });
    };
    let kinds = FileKind::ALL.into_iter().map(|kind| {
        let on = Signal::derive(move || chosen.kind.get() == kind);
        view! { <Toggle label=kind.words() on press=Callback::new(move |()| chosen.kind.set(kind))/> }
    });
    let kinds = kinds.collect_view();
    view! {
        <label class="file">
            {words::shop::bring::choose_file()}
            <input node_ref=input type="file" accept=".csv,.txt,.tsv,.vcf,.vcard,text/csv,text/vcard,text/plain" on:change=read/>
        </label>
        <div class="chips" role="group" aria-label=words::shop::bring::what_it_is() hidden=move || chosen.text.with(String::is_empty)>
            {kinds}
        </div>
    }
}

/// What the file would change, and the button that does it.
#[component]
fn Preview(chosen: ChosenFile) -> impl IntoView {
    let shop = use_shop();
    // `None` while nobody is asked for: a file is compared only with what was read since it was chosen.
    let known = use_live_query(move |phone| {
        let is_asked = !chosen.text.with(String::is_empty) && chosen.kind.get() != FileKind::Prices;
        async move {
            if is_asked {
                Ok(Some(phone.customer_names().await?))
            } else {
                Ok(None)
            }
        }
    });
    let preview = Memo::new(move |_| {
        let kind = chosen.kind.get();
        let text = chosen.text.read();
        if text.is_empty() {
            return None;
        }
        Some(match kind {
            FileKind::Prices => FilePreview::Prices(PricesPreview::of(&text, &shop.state())),
            kind => {
                let known = known.get().flatten()?;
                FilePreview::Customers(CustomersPreview::of(customers_in(&text, kind), &known))
            }
        })
    });
    let bring = move |_| {
        let Some(preview) = preview.get_untracked() else {
            return;
        };
        let doubles = chosen.doubles.get_untracked();
        spawn_local(async move {
            if let Err(error) = bring_in(chosen, preview, doubles).await {
                chosen.session.complain(error);
            }
        });
    };
    let nothing = move || {
        preview.with(|preview| match preview {
            Some(FilePreview::Customers(of)) => {
                of.new.is_empty() && (of.doubles.is_empty() || !chosen.doubles.get())
            }
            Some(FilePreview::Prices(of)) => of.new.is_empty(),
            None => true,
        })
    };
    let shown = move || {
        preview.get().map(|preview| match preview {
            FilePreview::Customers(of) => shown_customers(&of, chosen.doubles).into_any(),
            FilePreview::Prices(of) => shown_prices(&of).into_any(),
        })
    };
    view! {
        {shown}
        <Show when=move || preview.with(Option::is_some)>
            <Show when=nothing fallback=move || view! {
                <button class="bench" on:click=bring>{words::shop::bring::bring_these_in()}</button>
            }>
                <p role="status">{words::shop::bring::nothing_in_it()}</p>
            </Show>
        </Show>
    }
}

/// Saves what a preview shows, and lets the person undo it.
async fn bring_in(chosen: ChosenFile, preview: FilePreview, doubles: bool) -> Result<(), DeviceError> {
    let phone = chosen.session.opened()?;
    let (drafts, said): (Vec<Draft>, String) = match preview {
        FilePreview::Customers(of) => {
            let around = *phone.surroundings();
            let count = of.new.len() + if doubles { of.doubles.len() } else { 0 };
            let drafts = of.drafts(doubles, || around.new_subject());
            (drafts, words::shop::bring::customers_brought_in(count))
        }
        FilePreview::Prices(of) => {
            let (subject, state) = (phone.shop_subject().await?, phone.shop_state().await?);
            let drafts = of.drafts(&subject, &state);
            (drafts, words::shop::bring::prices_brought_in(of.new.len()))
        }
    };
    let saved = chosen.session.save(drafts, Vec::new()).await?;
    chosen.bench.remember(&saved, said);
    chosen.text.try_set(String::new());
    Ok(())
}
