//! Drop-off: taking a pair in at the counter.

use leptos::prelude::*;
use leptos_router::hooks::use_navigate;
use shared::log::SubjectId;
use shared::price::parse_minor;

use crate::acts::{self, DropOff as Form};
use crate::device::storage::keep_records;
use crate::device::store::kv::KvError;
use crate::device::store::{StoreError, Surroundings};
use crate::parts::{Field, OperationChoice};
use crate::workshop::{Workshop, use_workshop};

/// What has been typed so far.
#[derive(Clone, Copy)]
struct Typed {
    look: RwSignal<String>,
    colour: RwSignal<String>,
    maker: RwSignal<String>,
    operation: RwSignal<String>,
    price: RwSignal<String>,
    day: RwSignal<String>,
    name: RwSignal<String>,
    phone: RwSignal<String>,
    tag: RwSignal<String>,
}

impl Typed {
    fn new() -> Self {
        let empty = || RwSignal::new(String::new());
        Self {
            look: empty(),
            colour: empty(),
            maker: empty(),
            operation: RwSignal::new("top_piece_replacement".to_owned()),
            price: empty(),
            day: empty(),
            name: empty(),
            phone: empty(),
            tag: empty(),
        }
    }

    /// The form, or what is still missing.
    fn form(self) -> Result<Form, &'static str> {
        let price_minor =
            parse_minor(&self.price.get()).ok_or("The price is missing, for example 45 or 45.50.")?;
        let day = self.day.get();
        if day.is_empty() {
            return Err("The day is missing.");
        }
        Ok(Form {
            known_customer: None,
            name: self.name.get(),
            phone: self.phone.get(),
            known_pair: None,
            look: self.look.get(),
            colour: self.colour.get(),
            maker: self.maker.get(),
            operation: self.operation.get(),
            price_minor,
            day,
            tag: self.tag.get(),
        })
    }
}

/// One pair: work, price and day, then its photograph.
#[component]
pub fn DropOff() -> impl IntoView {
    let workshop = use_workshop();
    let navigate = use_navigate();
    let typed = Typed::new();
    let busy = RwSignal::new(false);
    let take_in = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        if busy.get() {
            return;
        }
        let form = match typed.form() {
            Ok(form) => form,
            Err(missing) => return workshop.complain(missing),
        };
        let navigate = navigate.clone();
        busy.set(true);
        leptos::task::spawn_local(async move {
            match save(workshop, &form).await {
                Ok(job) => navigate(&format!("/camera/{job}?shows=drop_off"), Default::default()),
                Err(error) => workshop.complain(error),
            }
            busy.set(false);
        });
    };
    view! {
        <h1>"Drop-off"</h1>
        <form class="stack" on:submit=take_in>
            <OperationChoice label="Work" value=typed.operation/>
            <Field label="Price" value=typed.price inputmode="decimal"/>
            <Field label="Day promised" value=typed.day kind="date"/>
            <Field label="What it is" value=typed.look/>
            <Field label="Colour" value=typed.colour/>
            <Field label="Maker" value=typed.maker/>
            <Field label="Customer's name" value=typed.name/>
            <Field label="Telephone" value=typed.phone kind="tel"/>
            <Field label="Own tag number, if it has one" value=typed.tag/>
            <button class="bench" type="submit" disabled=move || busy.get()>"Take in and photograph"</button>
        </form>
    }
}

/// Writes the drop-off; the app's next tag number unless the shop hung its own.
async fn save(workshop: Workshop, form: &Form) -> Result<SubjectId, StoreError> {
    let phone = workshop.phone().ok_or(KvError::Lost)?;
    let around = phone.surroundings();
    let secret = around.random().iter().map(|byte| format!("{byte:02x}")).collect();
    let (taken, drafts) = acts::take_in(form, || around.new_subject(), secret);
    workshop.save(drafts, Vec::new()).await?;
    // There is something to keep now, and a tap to ask after.
    leptos::task::spawn_local(async {
        keep_records().await;
    });
    Ok(taken.job)
}
