//! Customers from a table: RFC 4180, with headings on the first line.

use shared::csv;

use super::heads::{CustomerColumn, customer_column};
use super::read::{CustomersFile, ReadCustomer, UnreadLine};

/// Reads a table of customers.
pub(super) fn read(text: &str) -> CustomersFile {
    let mut file = CustomersFile::default();
    let mut records = csv::read(text, csv::separator(text)).into_iter();
    let Some(heads) = records.next() else { return file };
    let (line, heads) = match heads.fields {
        Ok(fields) => (heads.line, fields),
        Err(bad) => {
            let why = words::shop::bring::quotes_do_not_match();
            file.unread.push(UnreadLine::new(heads.line, &bad, why));
            return file;
        }
    };
    let columns: Vec<Option<CustomerColumn>> = heads.iter().map(|head| customer_column(head)).collect();
    if !columns.iter().flatten().any(|column| is_of_who(*column)) {
        let why = words::shop::bring::no_headings();
        file.unread.push(UnreadLine::new(line, &heads.join(", "), why));
        return file;
    }
    for (head, column) in heads.iter().zip(&columns) {
        if column.is_none() {
            file.note_unknown(head.trim());
        }
    }
    for record in records {
        let fields = match record.fields {
            Ok(fields) => fields,
            Err(bad) => {
                let why = words::shop::bring::quotes_do_not_match();
                file.unread.push(UnreadLine::new(record.line, &bad, why));
                continue;
            }
        };
        let text = fields.join(", ");
        if fields.iter().all(|field| field.trim().is_empty()) {
            continue;
        }
        if fields.iter().skip(columns.len()).any(|field| !field.is_empty()) {
            let why = words::shop::bring::more_fields_than_headings();
            file.unread.push(UnreadLine::new(record.line, &text, why));
            continue;
        }
        file.take(customer(record.line, &fields, &columns), &text);
    }
    file
}

/// Whether a column tells who somebody is, so that the first line has headings.
fn is_of_who(column: CustomerColumn) -> bool {
    !matches!(
        column,
        CustomerColumn::Address | CustomerColumn::Note | CustomerColumn::Id
    )
}

/// The customer of a line.
fn customer(line: usize, fields: &[String], columns: &[Option<CustomerColumn>]) -> ReadCustomer {
    let said = |wanted: CustomerColumn| {
        let of = columns
            .iter()
            .zip(fields)
            .filter(move |(column, _)| **column == Some(wanted));
        let texts = of.map(|(_, field)| plain(field));
        texts.filter(|text| !text.is_empty()).collect::<Vec<String>>()
    };
    let name = said(CustomerColumn::Name).join(" ");
    let parts = [said(CustomerColumn::First), said(CustomerColumn::Last)].concat();
    let own_name = [name, parts.join(" ")].into_iter().find(|name| !name.is_empty());
    let company = said(CustomerColumn::Company).join(" ");
    let mut notes = said(CustomerColumn::Note);
    let name = match own_name {
        Some(name) => {
            if !company.is_empty() && company != name {
                notes.push(company);
            }
            name
        }
        None => company,
    };
    let numbers = |column, mobile| said(column).into_iter().map(move |number| (number, mobile));
    let numbers: Vec<(String, bool)> = numbers(CustomerColumn::Mobile, true)
        .chain(numbers(CustomerColumn::Phone, false))
        .collect();
    let mut customer = ReadCustomer {
        line,
        name,
        email: said(CustomerColumn::Email).join(", "),
        address: said(CustomerColumn::Address).join(", "),
        note: notes.join(", "),
        ..ReadCustomer::default()
    };
    customer.set_numbers(&numbers);
    customer
}

/// A field on one line, without the apostrophe that this app writes before a number that begins with `+`.
fn plain(field: &str) -> String {
    let text = csv::unescaped(field.trim());
    let lines = text.split(['\r', '\n']).map(str::trim);
    let lines: Vec<&str> = lines.filter(|line| !line.is_empty()).collect();
    lines.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_company_beside_a_name_is_kept_in_the_note() {
        let text = "name,company,note\nLea,Example Works,calls\nBen,,\n,Example Works,\n";
        let said = read(text).customers.into_iter().map(|one| [one.name, one.note]);
        assert_eq!(
            said.collect::<Vec<_>>(),
            [
                ["Lea", "calls, Example Works"].map(str::to_owned),
                ["Ben", ""].map(str::to_owned),
                ["Example Works", ""].map(str::to_owned),
            ]
        );
    }
}
