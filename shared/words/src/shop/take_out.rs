//! Sentences of taking everything out as files, and of the file that explains them.

use crate::sentence::sentences;

sentences! {
    /// The button.
    everything_as_files() { "Everything as files" }
    what_the_files_are() {
        "One archive (tar) for other programs: customers, pairs, work and prices as tables (CSV), every entry as JSON, and \
        the photographs on this device in folders by pair. README.txt in it says what is where."
    }
    files_being_made() { "The files are being made." }
    files_made(file: &str, pairs: usize, photographs: usize) {
        "{file} is among the downloads. Pairs: {pairs}, photographs: {photographs}."
    }
    photographs_not_here(count: usize) {
        one "1 photograph is not on this device in full; photographs.csv says which.",
        many "{count} photographs are not on this device in full; photographs.csv says which.",
    }

    /// The title of README.txt.
    everything_of(shop: &str) { "Everything of {shop}" }
    /// In the title, where the shop has no name.
    the_shop() { "the shop" }
    made(moment: &str) { "Made: {moment}" }
    about_the_tables() {
        "The files that end with .csv are tables (RFC 4180): UTF-8 with a byte order mark, commas, lines that end with CR LF, \
        headings on the first line. What a spreadsheet would read as a formula, as a telephone number that begins with +, \
        has an apostrophe in front, also inside a text after a semicolon, a tab or a line break. A time is local, with its distance from UTC (RFC 3339). An amount has a decimal point, in the \
        currency of prices.csv. Ids join the tables: the customer_id of a pair is that of a line in customers.csv."
    }
    about_codes() {
        "Kinds of goods, work, materials and states are codes of the program; the names beside them are those of the shop's \
        language."
    }
    columns_of(file: &str, columns: &str) { "{file}: {columns}" }
    about_customers() { "Who brings and collects. The table can be brought in again." }
    about_pairs() { "One line a pair, for all its visits; folder is where its photographs are." }
    about_tickets() { "One line for each time somebody brought pairs or bought goods." }
    about_jobs() { "One line for each visit of a pair; number is the one on its tag." }
    about_work() { "What was agreed, skipped, done, and done again, by visit." }
    about_money() { "What was paid, given back and sold, by ticket." }
    about_notes() { "Remarks, written or spoken; file is the recording." }
    about_photographs() {
        "stored is full, small (only the small picture is on this device) or missing (neither of them is)."
    }
    about_prices() { "The shop's own prices. The table can be brought in again." }
    about_folders() {
        "pairs/: a folder for each pair with its photographs and recordings; their names begin with the day, then follows \
        the work or what is seen."
    }
    about_entries() {
        "entries/: every entry of the log on this device, one a line as JSON, also those that were withdrawn or replaced. \
        What an entry says is in its field body, which is JSON again. All tables are made from these, and what they do not \
        have is here: damage, questions and answers, measurements, care cards, settings, people, materials."
    }
}
