//! What a file would change, in lists.

use leptos::prelude::*;

use crate::parts::Toggle;
use crate::shop::use_shop;
use app_core::commands::bring::{CustomerDouble, CustomersPreview, PricesPreview, SameBy, UnreadLine};

/// How many lines of each list are shown; of the others only how many they are.
const SHOWN: usize = 50;

/// The customers of a file.
///
/// `of`: what would be brought in of them. `doubles`: whether those who are perhaps known already are brought in, too.
pub(super) fn shown_customers(of: &CustomersPreview, doubles: RwSignal<bool>) -> impl IntoView + use<> {
    let new = of.new.iter().map(|customer| {
        let further = [
            &customer.phone,
            &customer.phone_second,
            &customer.email,
            &customer.address,
        ];
        let said = [customer.title()].into_iter().chain(further.map(String::as_str));
        let mut words: Vec<&str> = Vec::new();
        for text in said.filter(|text| !text.is_empty()) {
            if !words.contains(&text) {
                words.push(text);
            }
        }
        words.join(", ")
    });
    let known = of.doubles.iter().map(double);
    let heading = words::shop::bring::customers_new(of.new.len());
    let perhaps = (!of.doubles.is_empty()).then(|| {
        let heading = words::shop::bring::perhaps_known(of.doubles.len());
        let press = Callback::new(move |()| doubles.update(|doubles| *doubles = !*doubles));
        let choice = words::shop::bring::bring_them_all_the_same();
        view! {
            <h3>{heading}</h3>
            {lines(known, of.doubles.len())}
            <Toggle label=choice on=doubles.into() press/>
        }
    });
    view! {
        <section class="card stack" aria-label=words::shop::bring::what_would_be_brought_in()>
            <h2>{words::shop::bring::what_would_be_brought_in()}</h2>
            <h3>{heading}</h3>
            {lines(new, of.new.len())}
            {perhaps}
        </section>
        {not_understood(&of.unread, &of.unknown)}
    }
}

fn double(one: &CustomerDouble) -> String {
    let title = one.customer.title();
    match one.by {
        SameBy::Number => words::shop::bring::same_number(title, &one.known),
        SameBy::Name => words::shop::bring::same_name(title),
    }
}

/// The prices of a file.
pub(super) fn shown_prices(of: &PricesPreview) -> impl IntoView + use<> {
    let shop = use_shop();
    let new = of.new.iter().map(|one| {
        let price = shop.money(one.minor);
        match one.before {
            Some(before) => words::shop::bring::price_instead(&one.what, &price, &shop.money(before)),
            None => words::shop::bring::price_of(&one.what, &price),
        }
    });
    let heading = words::shop::bring::prices_new(of.new.len());
    let same = (of.same > 0).then(|| view! { <p>{words::shop::bring::prices_same(of.same)}</p> });
    view! {
        <section class="card stack" aria-label=words::shop::bring::what_would_be_brought_in()>
            <h2>{words::shop::bring::what_would_be_brought_in()}</h2>
            <h3>{heading}</h3>
            {lines(new, of.new.len())}
            {same}
        </section>
        {not_understood(&of.unread, &of.unknown)}
    }
}

/// The first lines of a list, and how many more there are of all `count`.
fn lines(texts: impl Iterator<Item = String>, count: usize) -> AnyView {
    let shown = texts.take(SHOWN).map(|text| view! { <li>{text}</li> });
    let shown = shown.collect_view();
    let more = (count > SHOWN).then(|| view! { <li>{words::shop::bring::and_more(count - SHOWN)}</li> });
    view! { <ul class="plain">{shown}{more}</ul> }.into_any()
}

/// The lines and columns that were not understood; nothing if all were.
fn not_understood(unread: &[UnreadLine], unknown: &[String]) -> Option<AnyView> {
    if unread.is_empty() && unknown.is_empty() {
        return None;
    }
    let line = |one: &UnreadLine| words::shop::bring::line_not_understood(one.line, &one.text, one.why);
    let columns = (!unknown.is_empty()).then(|| {
        let columns = unknown.join(", ");
        view! { <p>{words::shop::bring::columns_not_understood(&columns)}</p> }
    });
    let list = lines(unread.iter().map(line), unread.len());
    Some(
        view! {
            <section class="card stack" aria-label=words::shop::bring::not_understood()>
                <h2>{words::shop::bring::not_understood()}</h2>
                {columns}
                {list}
            </section>
        }
        .into_any(),
    )
}
