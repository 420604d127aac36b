//! The fields of a material.

use leptos::prelude::*;

use crate::parts::Typed;
use app_core::commands::shelf::TypedMaterial;

/// What is typed of one material.
pub(super) type MaterialFields = RwSignal<TypedMaterial>;

/// A field of the form.
fn field(
    form: MaterialFields,
    label: &'static str,
    inputmode: &'static str,
    place: fn(&mut TypedMaterial) -> &mut String,
) -> AnyView {
    let value = Signal::derive(move || place(&mut form.get()).clone());
    let typed = Callback::new(move |text| form.update(|form| *place(form) = text));
    view! { <Typed label=label.to_owned() inputmode value typed/> }.into_any()
}

/// The field for what is there of a new material.
pub(super) fn there_now(form: MaterialFields) -> AnyView {
    field(form, words::shelf::there_now(), "decimal", |form| {
        &mut form.on_hand
    })
}

/// The field for the unit. It stays as it is once anything was counted in it.
pub(super) fn unit(form: MaterialFields) -> AnyView {
    field(form, words::shelf::unit(), "text", |form| &mut form.unit)
}

/// The name.
pub(super) fn name(form: MaterialFields) -> AnyView {
    field(form, words::shelf::name(), "text", |form| &mut form.name)
}

/// The least, and the cost.
pub(super) fn least_and_cost(form: MaterialFields) -> AnyView {
    view! {
        {field(form, words::shelf::least(), "decimal", |form| &mut form.least)}
        {field(form, words::shelf::cost(), "decimal", |form| &mut form.cost)}
    }
    .into_any()
}

/// All that most materials do without, folded away.
pub(super) fn more(form: MaterialFields) -> AnyView {
    view! {
        <details>
            <summary>{words::shelf::more()}</summary>
            <div class="row">
                {field(form, words::shelf::kind(), "text", |form| &mut form.kind)}
                {field(form, words::shelf::size(), "text", |form| &mut form.size)}
                {field(form, words::shelf::thickness_in_mm(), "decimal", |form| &mut form.thickness)}
                {field(form, words::shelf::colour(), "text", |form| &mut form.colour)}
                {field(form, words::shelf::supplier_of_it(), "text", |form| &mut form.supplier)}
            </div>
        </details>
    }
    .into_any()
}
