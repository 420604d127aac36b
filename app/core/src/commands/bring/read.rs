//! What was read in a file, and what was not understood.

/// So many customers are brought in at once at most: one save, and one undo.
pub(super) const MOST_CUSTOMERS: usize = 5_000;

/// The most letters of one field. What is longer is no field of a customer, but a wrong quote.
pub(super) const MOST_LETTERS: usize = 4_000;

/// How many letters of a line are shown.
const SHOWN: usize = 60;

/// A customer as a file names them. An empty text is not stated.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ReadCustomer {
    /// The line of the file on which it begins, counted from 1.
    pub line: usize,
    /// The name.
    pub name: String,
    /// The telephone number that is called first: a mobile one, if there is one.
    pub phone: String,
    /// The other telephone numbers, separated by commas.
    pub phone_second: String,
    /// The e-mail address.
    pub email: String,
    /// The postal address on one line.
    pub address: String,
    /// A remark.
    pub note: String,
}

impl ReadCustomer {
    /// Sets the numbers, each with whether it is a mobile one: messages reach those, so they come first.
    pub(super) fn set_numbers(&mut self, numbers: &[(String, bool)]) {
        let of = |mobile: bool| numbers.iter().filter(move |(_, is_mobile)| *is_mobile == mobile);
        let mut all: Vec<&str> = Vec::new();
        for (number, _) in of(true).chain(of(false)) {
            if !number.is_empty() && !all.contains(&number.as_str()) {
                all.push(number);
            }
        }
        let mut all = all.into_iter();
        self.phone = all.next().unwrap_or_default().to_owned();
        self.phone_second = all.collect::<Vec<_>>().join(", ");
    }

    /// The name, or else a number or an address, for a list.
    pub fn title(&self) -> &str {
        let said = [&self.name, &self.phone, &self.email];
        let said = said.into_iter().find(|text| !text.is_empty());
        said.map_or("", String::as_str)
    }

    /// Why it is not brought in; `None` if it can be.
    pub(super) fn refused(&self) -> Option<&'static str> {
        let fields = [
            &self.name,
            &self.phone,
            &self.phone_second,
            &self.email,
            &self.address,
            &self.note,
        ];
        if fields.iter().any(|field| field.chars().count() > MOST_LETTERS) {
            return Some(words::shop::bring::too_long());
        }
        (self.name.is_empty() && self.phone.is_empty()).then(words::shop::bring::no_name_and_no_number)
    }
}

/// A line of a file that is not brought in, or a field of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnreadLine {
    /// Its number, counted from 1.
    pub line: usize,
    /// What stands there, shortened.
    pub text: String,
    /// Why it was not understood.
    pub why: &'static str,
}

impl UnreadLine {
    /// A line with this text, which is shortened.
    pub(super) fn new(line: usize, text: &str, why: &'static str) -> Self {
        let mut shown: String = text.chars().take(SHOWN).collect();
        if shown.len() < text.len() {
            shown.push('…');
        }
        Self {
            line,
            text: shown.replace(['\r', '\n', '\t'], " "),
            why,
        }
    }
}

/// What a file says of customers.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CustomersFile {
    /// The customers, in the order of the file.
    pub customers: Vec<ReadCustomer>,
    /// The lines that were not understood.
    pub unread: Vec<UnreadLine>,
    /// The names of columns or properties that were not understood, each once.
    pub unknown: Vec<String>,
}

impl CustomersFile {
    /// Adds a customer, or names the line `text` as not understood.
    pub(super) fn take(&mut self, customer: ReadCustomer, text: &str) {
        let refused = if self.customers.len() >= MOST_CUSTOMERS {
            Some(words::shop::bring::too_many_at_once())
        } else {
            customer.refused()
        };
        match refused {
            None => self.customers.push(customer),
            Some(why) => self.unread.push(UnreadLine::new(customer.line, text, why)),
        }
    }

    /// Names a column or property as not understood.
    pub(super) fn note_unknown(&mut self, name: &str) {
        if !name.is_empty() && !self.unknown.iter().any(|known| known == name) {
            self.unknown.push(name.to_owned());
        }
    }
}
