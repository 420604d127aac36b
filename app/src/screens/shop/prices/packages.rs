//! The prices of packages.

use leptos::prelude::*;
use shared::log::body::field;
use shared::price::listed::{package_price, usual_lines};
use shared::trade::packages::packages_for;
use shared::trade::{Goods, Package, packages};

use super::cell::{cell, columns, heads};
use crate::shop::use_shop;

/// The table of packages, folded until it is wanted.
#[component]
pub(super) fn Packages(
    /// The kind of goods that is shown.
    shown: RwSignal<String>,
) -> impl IntoView {
    let unfolded = RwSignal::new(false);
    let table = move || {
        let shown = shown.get();
        let sold = |kind: &&'static Goods| packages_for(kind).next().is_some();
        let columns: Vec<&'static Goods> = columns(&shown).into_iter().filter(sold).collect();
        let rows = packages().iter().map(|one| row(one, &columns)).collect_view();
        view! {
            <table>
                <thead><tr><th scope="col">{words::shop::prices::packages()}</th>{heads(&columns)}</tr></thead>
                <tbody>{rows}</tbody>
            </table>
        }
    };
    let some = Memo::new(move |_| {
        let shown = shown.get();
        columns(&shown)
            .into_iter()
            .any(|kind| packages_for(kind).next().is_some())
    });
    view! {
        <Show when=move || some.get()>
            <button type="button" class="quiet fold" aria-expanded=move || if unfolded.get() { "true" } else { "false" }
                on:click=move |_| unfolded.update(|unfolded| *unfolded = !*unfolded)>
                <strong>{words::shop::prices::packages()}</strong>
            </button>
            <Show when=move || unfolded.get()>
                <p class="quiet">{words::shop::prices::what_packages_are()}</p>
                <div class="wide" tabindex="0" role="group" aria-label=words::shop::prices::prices_of_packages()>{table}</div>
            </Show>
        </Show>
    }
}

fn row(package: &'static Package, columns: &[&'static Goods]) -> AnyView {
    let shop = use_shop();
    let cells = columns.iter().map(|kind| {
        let kind = *kind;
        let sold = packages_for(kind).any(|one| one.code == package.code);
        let cell = sold.then(|| {
            let label = words::shop::prices::operation_on_goods(package.name(), kind.words());
            let instead = Signal::derive(move || {
                let price = package_price(&shop.state(), kind.as_str(), package, &usual_lines(package));
                price.map(|minor| shop.typed(minor)).unwrap_or_default()
            });
            cell(field::package_price(package.code, kind.as_str()), label, instead)
        });
        view! { <td>{cell}</td> }
    });
    let cells = cells.collect_view();
    view! { <tr><th scope="row">{package.name()}</th>{cells}</tr> }.into_any()
}
