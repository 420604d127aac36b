//! The rows of one operation: its price; once they are asked for, the prices of its variants and of one shoe.

use leptos::prelude::*;
use shared::log::body::{Side, field};
use shared::trade::amount::LineSize;
use shared::trade::operations::{self, Operation, Priced, Variant};
use shared::trade::{Class, Goods};

use super::cell::cell;
use crate::shop::use_shop;

/// One shoe of a pair, whichever.
const ONE: &Side = &Side::Left;

/// A price beside the one of the operation itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FurtherPrice {
    /// In another than the usual variant.
    Variant(&'static Variant),
    /// On one shoe of a pair.
    OneShoe,
}

impl FurtherPrice {
    /// Those of an operation; `None` stands for one of the shop's own.
    fn of(known: Option<&'static Operation>) -> Vec<Self> {
        let variants = known.map_or(&[][..], |known| known.variants);
        let on_pairs =
            |known: &Operation| known.priced == Priced::Pair && known.goods.contains(&Class::Footwear);
        let pairs = known.is_none_or(on_pairs);
        let variants = variants.iter().skip(1).map(Self::Variant);
        variants.chain(pairs.then_some(Self::OneShoe)).collect()
    }

    fn fits(self, kind: &Goods) -> bool {
        self != Self::OneShoe || kind.is_any_of(Class::FOOTWEAR)
    }

    fn name(self) -> &'static str {
        match self {
            Self::Variant(variant) => variant.name(),
            Self::OneShoe => words::shop::prices::one_shoe(),
        }
    }

    fn field(self, operation: &str, kind: &Goods) -> String {
        match self {
            Self::Variant(variant) => field::variant_price(operation, variant.code, kind.as_str()),
            Self::OneShoe => field::one_shoe_price(operation, kind.as_str()),
        }
    }

    fn work(self, operation: &str) -> LineSize<'_> {
        let usual = LineSize::usual(operation);
        match self {
            Self::Variant(variant) => LineSize {
                variant: Some(variant.code),
                ..usual
            },
            Self::OneShoe => LineSize { side: ONE, ..usual },
        }
    }
}

/// The rows of an operation. Those below the first are drawn once they are asked for, because the list is long.
pub(super) fn rows(operation: &str, columns: &[&'static Goods]) -> AnyView {
    let known = operations::operation(operation);
    let name = operations::name(operation).to_owned();
    let shop = use_shop();
    let fitting: Vec<Option<&'static Goods>> = columns
        .iter()
        .map(|kind| known.is_none_or(|one| one.fits(kind)).then_some(*kind))
        .collect();
    let cells = fitting.iter().map(|kind| {
        let cell = kind.map(|kind| {
            let code = operation.to_owned();
            let label = words::shop::prices::operation_on_goods(&name, kind.words());
            // Read in the cell, so that the table is not drawn anew with every price that is saved.
            let norm = Signal::derive(move || {
                let norm = shop.norm(&code, kind);
                norm.map(|minor| shop.typed(minor)).unwrap_or_default()
            });
            cell(field::price(operation, kind.as_str()), label, norm)
        });
        view! { <td>{cell}</td> }
    });
    let cells = cells.collect_view();
    let further = FurtherPrice::of(known);
    let footwear = columns.iter().any(|kind| kind.is_any_of(Class::FOOTWEAR));
    let further: Vec<FurtherPrice> = further
        .into_iter()
        .filter(|one| *one != FurtherPrice::OneShoe || footwear)
        .collect();
    if further.is_empty() {
        return view! { <tr><th scope="row">{name}</th>{cells}</tr> }.into_any();
    }
    let unfolded = RwSignal::new(false);
    let operation = operation.to_owned();
    let below = move || {
        let row = |one: &FurtherPrice| further_row(*one, &operation, &fitting);
        unfolded.get().then(|| further.iter().map(row).collect_view())
    };
    view! {
        <tr>
            <th scope="row">
                <button type="button" class="quiet fold" aria-expanded=move || if unfolded.get() { "true" } else { "false" }
                    on:click=move |_| unfolded.update(|unfolded| *unfolded = !*unfolded)>{name}</button>
            </th>
            {cells}
        </tr>
        {below}
    }
    .into_any()
}

/// A row below that of an operation; `fitting` has the kinds of goods by column, where it can be done.
fn further_row(one: FurtherPrice, operation: &str, fitting: &[Option<&'static Goods>]) -> AnyView {
    let shop = use_shop();
    let cells = fitting.iter().map(|kind| {
        let kind = kind.filter(|kind| one.fits(kind));
        let cell = kind.map(|kind| {
            let operation = operation.to_owned();
            let label =
                words::shop::prices::variant_on_goods(operations::name(&operation), one.name(), kind.words());
            let name = one.field(&operation, kind);
            let instead = Signal::derive(move || {
                let price = shop.listed_work(one.work(&operation), kind.as_str());
                price.map(|minor| shop.typed(minor)).unwrap_or_default()
            });
            cell(name, label, instead)
        });
        view! { <td>{cell}</td> }
    });
    let cells = cells.collect_view();
    view! { <tr class="further"><th scope="row">{one.name()}</th>{cells}</tr> }.into_any()
}
