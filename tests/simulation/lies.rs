//! The lies: entries that a device should not be able to get into the shop's records, and some that it may write.

use app_core::store::Surroundings;
use app_core::store::scripted::Scripted;
use serde_json::{Value, json};
use shared::log::body::{Blob, Detail, Erased, ErasureAsked, MentionErased, Retracted, SameAs, field};
use shared::log::entry::Stamp;
use shared::log::{
    Body, DeviceId, Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs,
    about,
};
use support::every::{Stay, every_kind};

use crate::dice::Dice;
use crate::remarks::unique_words;
use crate::server_log::ServerLog;

/// Numbers from here on are those of entries that pretend to be another device's.
const PRETENDED: u64 = 1 << 40;

/// What the liar knows: everything that the server has, and the hashes of everybody's photographs.
pub(crate) struct Known<'a> {
    pub(crate) log: &'a ServerLog,
    pub(crate) shop: SubjectId,
    pub(crate) blobs: Vec<String>,
}

impl Known<'_> {
    fn entry(&self, dice: &Dice) -> Option<&Entry> {
        let entries: Vec<_> = self.log.entries.values().collect();
        dice.pick(&entries).map(|held| &held.entry)
    }

    fn of_shop(&self) -> Subject {
        Subject::new(SubjectKind::Shop, self.shop)
    }
}

/// The device that lies, and what it has said.
pub(crate) struct Lies {
    pub(crate) device: DeviceId,
    around: Scripted,
    seq: u64,
    told: Vec<ReceivedEntry>,
}

impl Lies {
    pub(crate) fn new(seed: u64, time: UnixMs) -> Self {
        let around = Scripted::new(seed, time);
        Self {
            device: DeviceId(around.uuid_v4()),
            around,
            seq: 0,
            told: Vec::new(),
        }
    }

    /// An entry as a helper's device sends it: a new one, one that it has sent before, or a copy of one that the server
    /// has.
    pub(crate) fn tell(&mut self, known: &Known<'_>, dice: &Dice) -> ReceivedEntry {
        match dice.between(1, 13) {
            1 => return self.again(known, dice),
            2 => return self.copy(known, dice),
            _ => {}
        }
        let mut lie = ReceivedEntry::unsent(self.new_one(known, dice));
        if dice.once_in(6) {
            lie.received = Some(UnixMs(1));
        }
        self.told.push(lie.clone());
        lie
    }

    fn again(&mut self, known: &Known<'_>, dice: &Dice) -> ReceivedEntry {
        match dice.pick(&self.told) {
            Some(told) => told.clone(),
            None => ReceivedEntry::unsent(self.any_kind(known, dice)),
        }
    }

    /// A copy of an entry that the server has: blank, with other content, or received earlier. Under an id that the server
    /// does not hold, the first copy stands.
    fn copy(&mut self, known: &Known<'_>, dice: &Dice) -> ReceivedEntry {
        let Some(entry) = known.entry(dice) else {
            return ReceivedEntry::unsent(self.any_kind(known, dice));
        };
        match dice.between(1, 3) {
            1 => ReceivedEntry::unsent(blanked(entry)),
            2 => ReceivedEntry::unsent(forged(entry)),
            _ => ReceivedEntry {
                entry: entry.clone(),
                received: Some(UnixMs(1)),
            },
        }
    }

    fn new_one(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        match dice.between(1, 13) {
            1..=3 => self.any_kind(known, dice),
            4 => self.shop_field(known, dice),
            5 => self.shop_as_something_else(known, dice),
            6 => self.replacing(known, dice),
            7 => self.hiding(known, dice),
            8 => self.joining_the_shop(known, dice),
            9 => self.in_anothers_name(known, dice),
            10 => self.erasure(known, dice, false),
            11 => self.erasure(known, dice, true),
            _ => self.mention(known, dice),
        }
    }

    /// Any kind of entry that this version understands.
    fn any_kind(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let kind = *dice.pick(Body::KINDS).expect("there are kinds");
        let mut of_kind = self.stay(known, dice);
        of_kind.retain(|(_, body, _)| body.kind() == Some(kind));
        match (dice.pick(&of_kind), kind) {
            (Some((subject, body, over)), _) => self.write(subject.clone(), body, over.clone()),
            (None, "same_as") => self.joining_pairs(known, dice),
            (None, _) => self.erasure(known, dice, kind == "erasure_asked"),
        }
    }

    /// Entries of nearly every kind, about subjects that the shop knows.
    fn stay(&self, known: &Known<'_>, dice: &Dice) -> Vec<(Subject, Body, Vec<EntryId>)> {
        let stay = Stay {
            shop: known.of_shop(),
            customer: self.subject(SubjectKind::Customer, known, dice),
            pair: self.subject(SubjectKind::Pair, known, dice),
            ticket: self.subject(SubjectKind::Ticket, known, dice),
            job: self.subject(SubjectKind::Job, known, dice),
            earlier: self.subject(SubjectKind::Job, known, dice).id,
            person: PersonId(self.around.uuid_v4()),
            secret: format!("{:016x}{:016x}", dice.seed(), dice.seed()),
            full: no_picture(),
            thumb: no_picture(),
            voice: no_picture(),
        };
        let mut written = Vec::new();
        every_kind(&stay, |subject, body, over| {
            written.push((subject.clone(), body, over));
            EntryId(self.around.uuid_v7())
        });
        written
    }

    fn shop_field(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let body = any_shop_field(dice);
        self.write(known.of_shop(), &body, Vec::new())
    }

    /// A setting under the shop's id, as if that were another kind of subject.
    fn shop_as_something_else(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let kind = dice.pick(SubjectKind::KNOWN).expect("there are kinds").clone();
        let body = any_shop_field(dice);
        self.write(Subject::new(kind, known.shop), &body, Vec::new())
    }

    /// An entry in the place of others, which may be prices, erasures or anything else.
    fn replacing(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let picked = (0..dice.between(1, 3)).filter_map(|_| known.entry(dice));
        let mut over: Vec<_> = picked.map(|entry| entry.id).collect();
        if dice.once_in(4) {
            over.push(EntryId(self.around.uuid_v7()));
        }
        let subject = self.any_subject(known, dice);
        self.write(subject, &name("Nobody"), over)
    }

    /// A retraction of any entry, about its own subject or another one.
    fn hiding(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let target = known.entry(dice).cloned();
        let entry = target
            .as_ref()
            .map_or_else(|| EntryId(self.around.uuid_v7()), |target| target.id);
        let subject = match target.filter(|_| !dice.once_in(3)) {
            Some(target) => target.subject,
            None => self.any_subject(known, dice),
        };
        self.write(subject, &Body::Retracted(Retracted { entry }), Vec::new())
    }

    fn joining_the_shop(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let kind = dice.pick(SubjectKind::KNOWN).expect("there are kinds").clone();
        let subject = self.subject(kind, known, dice);
        let (subject, other) = match dice.once_in(3) {
            true => (known.of_shop(), subject.id),
            false => (subject, known.shop),
        };
        self.write(subject, &Body::SameAs(SameAs { other }), Vec::new())
    }

    fn joining_pairs(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let [pair, other] = [(); 2].map(|()| self.subject(SubjectKind::Pair, known, dice));
        self.write(pair, &Body::SameAs(SameAs { other: other.id }), Vec::new())
    }

    /// Any kind of entry, as if another device had made it.
    fn in_anothers_name(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let others = known.log.entries.values().map(|held| held.entry.device);
        let others: Vec<_> = others.filter(|device| *device != self.device).collect();
        let other = dice.pick(&others).copied();
        let device = other.unwrap_or_else(|| DeviceId(self.around.uuid_v4()));
        let entry = self.any_kind(known, dice);
        let device_seq = PRETENDED + entry.device_seq;
        Entry {
            device,
            device_seq,
            stamp: Stamp {
                counter: u32::MAX - entry.stamp.counter,
                ..entry.stamp
            },
            ..entry
        }
    }

    /// An erasure of a customer, a photograph or the shop, or a request for one.
    fn erasure(&mut self, known: &Known<'_>, dice: &Dice, asks: bool) -> Entry {
        let blob = dice.pick(&known.blobs).filter(|_| dice.once_in(2)).cloned();
        let subject = match (&blob, dice.once_in(4)) {
            (Some(_), _) => self.subject(SubjectKind::Job, known, dice),
            (None, false) => self.subject(SubjectKind::Customer, known, dice),
            (None, true) => self.shop_under_any_kind(known.shop, dice),
        };
        let body = if asks {
            Body::ErasureAsked(ErasureAsked { blob })
        } else {
            Body::Erased(Erased { blob })
        };
        self.write(subject, &body, Vec::new())
    }

    /// Erases a mention in any entry, about that entry's subject, another one, or the shop under any kind. What it
    /// leaves of the entry may say that it erases a mention in another one.
    pub(crate) fn mention(&mut self, known: &Known<'_>, dice: &Dice) -> Entry {
        let target = known.entry(dice).cloned();
        let subject = match (&target, dice.between(1, 6)) {
            (Some(target), 1..=4) => target.subject.clone(),
            (_, 5) => self.shop_under_any_kind(known.shop, dice),
            _ => self.any_subject(known, dice),
        };
        let entry = target
            .as_ref()
            .map_or_else(|| EntryId(self.around.uuid_v7()), |target| target.id);
        let left = match dice.between(1, 4) {
            1 => target.and_then(|target| whole(&target)),
            2 => known
                .entry(dice)
                .map(|other| json!({ "entry": other.id, "left": { "text": "Nobody" } })),
            3 => Some(json!({ "text": "Nobody" })),
            _ => None,
        };
        self.write(
            subject,
            &Body::MentionErased(MentionErased { entry, left }),
            Vec::new(),
        )
    }

    /// Erases mentions in entries that do not exist, so many of them, one within what is left of the other or each in
    /// an entry of its own.
    pub(crate) fn mentions(&mut self, known: &Known<'_>, many: usize, dice: &Dice) -> Vec<Entry> {
        let subject = self.subject(SubjectKind::Job, known, dice);
        let within = if dice.once_in(2) { 10 } else { 1 };
        let one = |lies: &mut Self| {
            let mut left = None;
            for _ in 1..within {
                left = Some(json!({ "entry": lies.around.uuid_v7(), "left": left }));
            }
            let entry = EntryId(lies.around.uuid_v7());
            let body = Body::MentionErased(MentionErased { entry, left });
            lies.write(subject.clone(), &body, Vec::new())
        };
        (0..many.div_ceil(within)).map(|_| one(self)).collect()
    }

    pub(crate) fn erasure_of_the_shop(&mut self, shop: SubjectId, dice: &Dice) -> Entry {
        let subject = self.shop_under_any_kind(shop, dice);
        self.write(subject, &Body::Erased(Erased { blob: None }), Vec::new())
    }

    fn shop_under_any_kind(&self, shop: SubjectId, dice: &Dice) -> Subject {
        let kinds = [SubjectKind::Shop, SubjectKind::Customer, SubjectKind::Job];
        Subject::new(dice.pick(&kinds).expect("there are some").clone(), shop)
    }

    /// A subject of this kind that the server knows, or a new one.
    fn subject(&self, kind: SubjectKind, known: &Known<'_>, dice: &Dice) -> Subject {
        let subjects = known.log.entries.values().map(|held| &held.entry.subject);
        let of_kind: Vec<_> = subjects.filter(|subject| subject.kind == kind).collect();
        match dice.pick(&of_kind) {
            Some(subject) => (*subject).clone(),
            None => Subject::new(kind, self.around.new_subject()),
        }
    }

    fn any_subject(&self, known: &Known<'_>, dice: &Dice) -> Subject {
        let kind = dice.pick(SubjectKind::KNOWN).expect("there are kinds").clone();
        self.subject(kind, known, dice)
    }

    fn write(&mut self, subject: Subject, body: &Body, over: Vec<EntryId>) -> Entry {
        self.seq += 1;
        Entry {
            id: EntryId(self.around.uuid_v7()),
            subject,
            stamp: Stamp::of(self.around.now(), self.seq),
            made_at: MadeAt {
                utc: self.around.now(),
                offset_min: 0,
            },
            device: self.device,
            device_seq: self.seq,
            person: None,
            over,
            kind: body.kind().expect("a known kind").to_owned(),
            version: 1,
            body: body.to_text().expect("a known kind"),
        }
    }
}

/// A photograph that does not exist.
pub(crate) fn no_picture() -> Blob {
    support::sample::blob_of(b"no picture", "image/jpeg")
}

/// The same entry without its content.
pub(crate) fn blanked(entry: &Entry) -> Entry {
    Entry {
        body: String::new(),
        ..entry.clone()
    }
}

/// All that an entry says, if it names nobody, no other subject and no card: an entry that was blanked is found
/// through no other one, and opens no card.
fn whole(entry: &Entry) -> Option<Value> {
    let alone = about(entry).len() == 1 && entry.kind != "card_link" && unique_words(entry).is_empty();
    alone.then(|| serde_json::from_str(&entry.body).ok()).flatten()
}

/// The same entry with other content.
pub(crate) fn forged(entry: &Entry) -> Entry {
    Entry {
        body: name("Nobody").to_text().expect("a known kind"),
        ..entry.clone()
    }
}

fn name(value: &str) -> Body {
    let (field, value) = (field::NAME.to_owned(), value.into());
    Body::Detail(Detail { field, value })
}

/// Any setting of the shop, with a value that it could have.
fn any_shop_field(dice: &Dice) -> Body {
    let settings: [(&str, Value); 15] = [
        (field::NAME, json!("Nobody's bench")),
        (field::PHONE, json!("+00 000 0000")),
        (field::TERMS, json!("None.")),
        (field::CURRENCY, json!("EUR")),
        (field::TAX, json!(190)),
        (field::LANGUAGE, json!("en-US")),
        (field::LENGTHS, json!("in")),
        (field::NAIL_LENGTHS, json!([9, 12.5])),
        (field::FINAL_CHECK, json!(["Nothing"])),
        (field::CLOSED, json!([["2026-12-24", "2027-01-06"]])),
        (field::COUNTER_SHARE, json!(90)),
        (field::HANDS, json!(9)),
        (field::TIME_ZONE, json!("Europe/Vienna")),
        (field::KEPT_SHARE, json!(1)),
        (field::HOURLY_TARGET, json!(1)),
    ];
    let stock = json!([{"material": "rubber sheet", "unit": "pair", "cost_minor": 1, "quantity": 1.5}]);
    let named = [
        (field::price("half_sole", "low_shoe"), json!(1)),
        (field::stock("half_sole"), stock),
        (field::of_ten("half_sole", "welted", "heel_base"), json!(10)),
    ];
    let hours = (1..=7).map(|day| (field::hours(day), json!([[0, 1440]])));
    let settings = settings.into_iter().map(|(name, value)| (name.to_owned(), value));
    let all: Vec<_> = settings.chain(named).chain(hours).collect();
    let (field, value) = dice.pick(&all).expect("there are settings").clone();
    Body::Detail(Detail { field, value })
}
