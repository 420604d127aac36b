//! Sentences of bringing in what a shop has in other programs: customers and prices.

use crate::sentence::sentences;

sentences! {
    bring_in() { "Bring in" }
    /// The link to the screen.
    bring_in_what_there_is() { "Bring in customers or prices" }
    what_can_be_brought_in() {
        "Customers from a table (CSV) or from contact cards (vCard), prices from a table (CSV). Nothing is written before \
        you have seen what it would be."
    }
    how_tables_are_read() {
        "The first line of a table says what its columns are: name, phone, e-mail, address, note; or work, and a column \
        for each kind of goods."
    }
    choose_file() { "Choose a file" }
    what_it_is() { "What the file has" }
    customers_from_table() { "Customers, a table" }
    customers_from_cards() { "Customers, contact cards" }
    prices() { "Prices" }
    nothing_in_it() { "Nothing in this file would be brought in." }

    what_would_be_brought_in() { "What would be brought in" }
    customers_new(count: usize) { one "1 new customer", many "{count} new customers" }
    prices_new(count: usize) { one "1 price that is new or changed", many "{count} prices that are new or changed" }
    prices_same(count: usize) {
        one "1 price is the shop's already.",
        many "{count} prices are the shop's already.",
    }
    price_instead(what: &str, price: &str, before: &str) { "{what}: {price} (now {before})" }
    price_of(what: &str, price: &str) { "{what}: {price}" }
    and_more(count: usize) { "and {count} more" }

    perhaps_known(count: usize) { one "1 is perhaps known already", many "{count} are perhaps known already" }
    same_number(customer: &str, known: &str) { "{customer}: the number of {known}" }
    same_name(customer: &str) { "{customer}: the same name" }
    bring_them_all_the_same() { "Bring these in as well" }

    not_understood() { "Not understood" }
    columns_not_understood(columns: &str) { "These columns were not understood: {columns}" }
    line_not_understood(line: usize, text: &str, why: &str) { "Line {line}: {text} – {why}" }

    bring_these_in() { "Bring these in" }
    customers_brought_in(count: usize) { one "1 customer was brought in.", many "{count} customers were brought in." }
    prices_brought_in(count: usize) { one "1 price was brought in.", many "{count} prices were brought in." }

    no_headings() { "the first line does not say which column has the name or the telephone number" }
    no_headings_of_prices() { "the first line does not say which column has the work, and on which goods or where the price is" }
    quotes_do_not_match() { "the quotation marks do not match" }
    more_fields_than_headings() { "more fields than headings" }
    no_name_and_no_number() { "neither a name nor a telephone number" }
    too_long() { "too long for one field" }
    too_many_at_once() { "more than can be brought in at once; bring the rest in with a file of its own" }
    card_does_not_end() { "the card does not end" }
    not_a_line_of_a_card() { "not a line of a contact card" }
    no_such_work() { "no such work is known" }
    no_such_goods() { "no such goods are known" }
    no_such_price() { "no such kind of price is known" }
    not_done_on_such_goods() { "not done on such goods" }
    in_another_currency() { "in another currency than the shop's" }
    not_a_price() { "not a price in the shop's currency" }
    stands_there_twice() { "stands there twice; the first one counts" }
}
