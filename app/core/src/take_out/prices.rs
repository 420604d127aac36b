//! The lines of the shop's own prices, in the form in which they can be brought in again.

use shared::log::body::field::{PriceIsFor, price_is_for};
use shared::log::fold::ShopState;
use shared::trade::packages::package;
use shared::trade::{Goods, operations};

/// The lines of the shop's own prices.
pub(super) fn lines(shop: &ShopState) -> Vec<[String; 8]> {
    let own = shop.details.iter().filter_map(|(field, _)| {
        let minor = shop.amount(field)?;
        Some(line(
            &price_is_for(field)?,
            &shop.money_kind().format(minor),
            shop.money_kind().code(),
        ))
    });
    own.collect()
}

/// The line of one price.
fn line(is_for: &PriceIsFor<'_>, price: &str, currency: &str) -> [String; 8] {
    let [price_for, code, variant, goods] = match *is_for {
        PriceIsFor::Operation(work, goods) => ["operation", work, "", goods],
        PriceIsFor::Variant(work, variant, goods) => ["variant", work, variant, goods],
        PriceIsFor::OneShoe(work, goods) => ["one_shoe", work, "", goods],
        PriceIsFor::Package(package, goods) => ["package", package, "", goods],
        PriceIsFor::Piece(what) => ["piece", what, "", ""],
    };
    let name = match is_for {
        PriceIsFor::Package(code, _) => match package(code) {
            Some(known) => known.name(),
            None => code,
        },
        _ => operations::name(code),
    };
    let kind = Goods::from(goods);
    let goods_name = if goods.is_empty() { "" } else { kind.words() };
    [price_for, code, name, variant, goods, goods_name, price, currency].map(str::to_owned)
}
