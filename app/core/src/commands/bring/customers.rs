//! The customers of a file beside those whom the shop knows: who is new, and who is perhaps known already.

use std::collections::BTreeMap;

use shared::log::body::{Body, Detail, Opened, field};
use shared::log::{Draft, Subject, SubjectId, SubjectKind};
use shared::text::folded;

use super::read::{CustomersFile, ReadCustomer, UnreadLine};

/// The least digits of a telephone number by which customers are compared, and the most: the last ones, because the same
/// number is written with and without the codes of country and town. Common practice, no source; the same as for erasing
/// mentions (`shared::log::mentions`).
const DIGITS: std::ops::RangeInclusive<usize> = 6..=7;

/// By what a customer of the file is perhaps known already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SameBy {
    /// A telephone number.
    Number,
    /// The name, and no number speaks against it.
    Name,
}

/// A customer of the file who is perhaps known already.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CustomerDouble {
    /// The customer, as the file names them.
    pub customer: ReadCustomer,
    /// The name of the one who is known: in the shop, or earlier in the file.
    pub known: String,
    /// By what.
    pub by: SameBy,
}

/// What would be brought in of customers, and what would not be and why.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CustomersPreview {
    /// Those who are new.
    pub new: Vec<ReadCustomer>,
    /// Those who are perhaps known already.
    pub doubles: Vec<CustomerDouble>,
    /// The lines that were not understood.
    pub unread: Vec<UnreadLine>,
    /// The names of columns or properties that were not understood.
    pub unknown: Vec<String>,
}

impl CustomersPreview {
    /// The customers of a file, compared with the names and the telephone numbers of those whom the shop knows; several
    /// numbers of one are separated by commas.
    pub fn of(file: CustomersFile, known: &[(String, String)]) -> Self {
        let mut all = KnownCustomers::default();
        for (name, numbers) in known {
            all.note(name, numbers);
        }
        let mut preview = Self {
            unread: file.unread,
            unknown: file.unknown,
            ..Self::default()
        };
        for customer in file.customers {
            let numbers = [customer.phone.as_str(), &customer.phone_second].join(",");
            match all.find(&customer.name, &numbers) {
                Some((known, by)) => preview.doubles.push(CustomerDouble { customer, known, by }),
                None => {
                    all.note(&customer.name, &numbers);
                    preview.new.push(customer);
                }
            }
        }
        preview
    }

    /// The drafts for one save: those who are new, and the others if `doubles` says so. `new_id` returns new subject ids.
    pub fn drafts(&self, doubles: bool, mut new_id: impl FnMut() -> SubjectId) -> Vec<Draft> {
        let others = self
            .doubles
            .iter()
            .filter(|_| doubles)
            .map(|double| &double.customer);
        let customers = self.new.iter().chain(others);
        customers
            .flat_map(|customer| drafts_of(customer, new_id()))
            .collect()
    }
}

/// The drafts of one customer.
fn drafts_of(customer: &ReadCustomer, id: SubjectId) -> Vec<Draft> {
    let subject = Subject::new(SubjectKind::Customer, id);
    let said = [
        (field::NAME, &customer.name),
        (field::PHONE, &customer.phone),
        (field::PHONE_SECOND, &customer.phone_second),
        (field::EMAIL, &customer.email),
        (field::ADDRESS, &customer.address),
        (field::NOTE, &customer.note),
    ];
    let said = said.into_iter().filter(|(_, text)| !text.is_empty());
    let details = said.map(|(field, text)| {
        Body::Detail(Detail {
            field: field.to_owned(),
            value: text.as_str().into(),
        })
    });
    let opened = std::iter::once(Body::Opened(Opened::default()));
    let bodies = opened.chain(details);
    bodies.map(|body| Draft::new(subject.clone(), body)).collect()
}

/// The customers that are known, by the keys under which they are compared.
#[derive(Default)]
struct KnownCustomers {
    /// Their names, by the last digits of their numbers.
    by_number: BTreeMap<String, String>,
    /// By the words of their names, their names, and whether each of them has a number.
    by_name: BTreeMap<String, (String, bool)>,
}

impl KnownCustomers {
    fn note(&mut self, name: &str, numbers: &str) {
        let keys = number_keys(numbers);
        let name_key = name_key(name);
        if !name_key.is_empty() {
            let known = self.by_name.entry(name_key);
            let (_, have_numbers) = known.or_insert_with(|| (name.to_owned(), true));
            *have_numbers &= !keys.is_empty();
        }
        for key in keys {
            self.by_number.entry(key).or_insert_with(|| name.to_owned());
        }
    }

    fn find(&self, name: &str, numbers: &str) -> Option<(String, SameBy)> {
        let keys = number_keys(numbers);
        if let Some(known) = keys.iter().find_map(|key| self.by_number.get(key)) {
            return Some((known.clone(), SameBy::Number));
        }
        let (known, have_numbers) = self.by_name.get(&name_key(name))?;
        // Two people may have one name, but then they have different numbers.
        let may_be_same = keys.is_empty() || !have_numbers;
        may_be_same.then(|| (known.clone(), SameBy::Name))
    }
}

/// The last digits of each of these numbers, which are separated by commas.
fn number_keys(numbers: &str) -> Vec<String> {
    let digits = numbers
        .split(',')
        .map(|number| number.chars().filter(char::is_ascii_digit).collect::<String>());
    let digits = digits.filter(|digits| digits.len() >= *DIGITS.start());
    digits
        .map(|digits| digits[digits.len().saturating_sub(*DIGITS.end())..].to_owned())
        .collect()
}

/// The words of a name in one order, because it is written with the first name before or after the last one.
fn name_key(name: &str) -> String {
    let folded = folded(name);
    let mut words: Vec<&str> = folded
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    words.sort_unstable();
    words.join(" ")
}
