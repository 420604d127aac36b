//! The unit of lengths, and the nails in stock.

use leptos::prelude::*;
use serde_json::Value;
use shared::log::body::field;

use super::form::ShopForm;
use crate::parts::{Toggle, Typed};
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::calc::Lengths;

/// Millimetres or inches, and the lengths of nails that calculations may choose from.
#[component]
pub fn Measures() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let form = ShopForm::of(move || {
        let lengths = shop.lengths();
        let all: Vec<_> = shop
            .nail_lengths()
            .into_iter()
            .map(|nail| lengths.typed(nail))
            .collect();
        all.join(" ")
    });
    let units = [
        (Lengths::Mm, words::shop::measures::millimetres()),
        (Lengths::Inch, words::shop::measures::inches()),
    ];
    let units = units.map(|(unit, words)| {
        let on = Signal::derive(move || shop.lengths() == unit);
        let press = Callback::new(move |()| {
            // What was typed in the former unit would be read in the new one, so it is dropped.
            form.follow();
            let field = (field::LENGTHS.to_owned(), Value::from(unit.word()));
            shop.set(session, vec![field], || {});
        });
        view! { <Toggle label=words on press/> }
    });
    let save = move |_| match nails(&form.values.get_untracked(), shop.lengths()) {
        Some(nails) => {
            let field = (field::NAIL_LENGTHS.to_owned(), Value::from(nails));
            shop.set(session, vec![field], move || {
                form.follow();
                session.tell(words::shop::saved());
            });
        }
        None => session.ask_to_correct(words::shop::measures::write_lengths_with_spaces()),
    };
    view! {
        <section class="card" aria-label=words::shop::measures::measures()>
            <h2>{words::shop::measures::measures()}</h2>
            <div class="chips" role="group" aria-label=words::shop::measures::lengths_in()>{units.collect_view()}</div>
            <div class="row">
                <Typed label=words::shop::measures::nails_on_the_shelf().to_owned() value=form.values.into()
                    typed=Callback::new(move |text| form.edit(|typed| *typed = text))/>
                <button on:click=save>{words::shop::measures::save_nails()}</button>
            </div>
        </section>
    }
}

/// Parses lengths; in mm and ascending, or `None` if one of them cannot be read.
fn nails(text: &str, lengths: Lengths) -> Option<Vec<f64>> {
    let each = text
        .split_whitespace()
        .map(|word| lengths.read(word).filter(|mm| *mm > 0.0));
    let mut nails: Vec<f64> = each.collect::<Option<_>>()?;
    nails.sort_by(f64::total_cmp);
    Some(nails)
}
