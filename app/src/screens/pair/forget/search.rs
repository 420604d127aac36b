//! Looking for what is to be erased of a customer, also in the words of other records.

use shared::log::mentions::Mention;
use shared::log::{Draft, EntryId, PersonId, ReceivedEntry, Subject, SubjectKind};

use crate::device::{DeviceError, Phone};
use crate::parts::on_day;
use crate::screens::pair::customer_records::records_of_all;
use crate::screens::shop::entry_words::{about, said_by, shortened};
use crate::shop::ShopContext;
use app_core::commands::forget::{erase, names_of, on_cards};

/// What an erasure of the customers can take with it.
#[derive(Debug, Clone)]
pub(super) struct ToErase {
    /// The customers, under every id.
    customers: Vec<Subject>,
    /// Their jobs whose sections stand on a care card.
    on_cards: Vec<Subject>,
    /// Where else they are mentioned, the oldest first.
    pub(super) mentions: Vec<MentionLine>,
}

/// A mention in words.
#[derive(Debug, Clone)]
pub(super) struct MentionLine {
    found: (ReceivedEntry, Mention),
    /// What the entry is.
    pub(super) what: String,
    /// What the entry is about.
    pub(super) of: String,
    /// When it was made.
    pub(super) made: String,
    /// The text of the mention, shortened; empty if `what` ends with it.
    pub(super) text: String,
    /// Whether it surely is of the customers: it says the whole name or the number, or it is in their own records.
    pub(super) is_sure: bool,
}

impl MentionLine {
    /// The entry.
    pub(super) fn id(&self) -> EntryId {
        self.found.0.entry.id
    }
}

impl ToErase {
    /// The entries that surely mention the customers.
    pub(super) fn sure(&self) -> Vec<EntryId> {
        let sure = self.mentions.iter().filter(|line| line.is_sure);
        sure.map(MentionLine::id).collect()
    }

    /// The erasure of the customers and of these of the mentions.
    pub(super) fn drafts(&self, ticked: &[EntryId], person: Option<PersonId>) -> Vec<Draft> {
        let mentions = self.mentions.iter().filter(|line| ticked.contains(&line.id()));
        let mentions: Vec<_> = mentions.map(|line| line.found.clone()).collect();
        erase(&self.customers, &self.on_cards, &mentions, person)
    }
}

/// Looks through everything that the device has for mentions of these customers.
pub(super) async fn to_erase(
    phone: &Phone,
    customers: &[Subject],
    shop: ShopContext,
) -> Result<ToErase, DeviceError> {
    let records = records_of_all(phone, customers).await?;
    let customers = records.subjects.iter();
    let customers = customers.filter(|subject| subject.kind == SubjectKind::Customer);
    let customers: Vec<Subject> = customers.cloned().collect();
    let names = names_of(&records);
    let mut mentions = Vec::new();
    if !names.is_empty() {
        let without = customers.iter().map(|customer| customer.id).collect();
        for found in phone.mentions(&names, &without).await? {
            let is_theirs = records.subjects.contains(&found.0.entry.subject);
            mentions.push(line(phone, found, is_theirs, shop).await?);
        }
    }
    Ok(ToErase {
        on_cards: on_cards(&records),
        customers,
        mentions,
    })
}

/// A mention in words. `is_theirs`: whether it is in the customers' own records.
async fn line(
    phone: &Phone,
    found: (ReceivedEntry, Mention),
    is_theirs: bool,
    shop: ShopContext,
) -> Result<MentionLine, DeviceError> {
    let (ReceivedEntry { entry, .. }, mention) = &found;
    let what = said_by(entry, shop);
    let text = shortened(&mention.text);
    Ok(MentionLine {
        of: about(phone, &entry.subject).await?,
        made: on_day(entry.made_at.utc),
        text: if what.ends_with(&text) {
            String::new()
        } else {
            text
        },
        is_sure: is_theirs || mention.certain,
        what,
        found,
    })
}
