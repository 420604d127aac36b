//! The phone's own camera app, for when the page may not use the camera.

use leptos::html::Input;
use leptos::prelude::*;

use super::visit::Visit;
use crate::device::picture::from_file;

/// A field that opens it; what it delivers is filed like the photographs that are taken here.
#[component]
pub fn SystemCamera(visit: Visit) -> impl IntoView {
    let input = NodeRef::<Input>::new();
    let taken = move |_| {
        let Some(element) = input.get() else { return };
        let Some(files) = element.files() else { return };
        for file in (0..files.length()).filter_map(|index| files.get(index)) {
            visit.keep(async move { from_file(&file).await });
        }
        // So that the same file can be chosen again.
        element.set_value("");
    };
    view! {
        <label class="file">
            {words::camera::system_camera()}
            <input node_ref=input type="file" accept="image/*" capture="environment" multiple
                disabled=move || visit.job().get().is_none() on:change=taken/>
        </label>
    }
}
