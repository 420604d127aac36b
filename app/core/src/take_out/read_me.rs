//! The file that explains the others.

use shared::log::fold::ShopState;
use words::shop::take_out as said;

use super::forms::{CUSTOMERS, JOBS, MONEY, NOTES, PAIRS, PHOTOGRAPHS, PRICES, TICKETS, TableForm, WORK};

/// The text of README.txt. `made` is when the files were made.
pub(super) fn read_me(shop: &ShopState, made: &str) -> String {
    let title = said::everything_of(shop.name().unwrap_or(said::the_shop()));
    let mut paragraphs = vec![
        title,
        said::made(made),
        said::about_the_tables().to_owned(),
        said::about_codes().to_owned(),
    ];
    let tables: [(&TableForm, &str); 9] = [
        (&CUSTOMERS, said::about_customers()),
        (&PAIRS, said::about_pairs()),
        (&TICKETS, said::about_tickets()),
        (&JOBS, said::about_jobs()),
        (&WORK, said::about_work()),
        (&MONEY, said::about_money()),
        (&NOTES, said::about_notes()),
        (&PHOTOGRAPHS, said::about_photographs()),
        (&PRICES, said::about_prices()),
    ];
    for (form, about) in tables {
        let columns = said::columns_of(form.file, &form.columns.join(", "));
        paragraphs.push([columns.as_str(), about].join("\r\n"));
    }
    paragraphs.push(said::about_folders().to_owned());
    paragraphs.push(said::about_entries().to_owned());
    let mut text = paragraphs.join("\r\n\r\n");
    text.push_str("\r\n");
    text
}
