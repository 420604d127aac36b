//! A phone that still runs the app of before blank copies had to be explained. Its rules stand here as they were in that
//! version (0.1.0) and are not changed any more: a blank copy beats a full one, an erasure blanks at once, entries are
//! offered as they were made, and an entry that was refused is not offered again. It must lose nothing that phones with
//! newer rules hold.
//!
//! It knows nothing of erased mentions. An entry that erases one is to it an entry of a newer app, which it keeps and
//! hands on. So it goes on holding, in full, what it has received before the mention was erased: the server does not
//! number that entry again, and sends the blank copy only to a phone that reads it for the first time or reads
//! everything again. A blank copy that does come beats the full one, as ever. What it offers in full is blank on the
//! server, which knows the mention, and on every phone with a newer app. So the content is gone for good only once
//! the phone has a newer app, which looks through its entries for mentions.
//!
//! It never learns that devices have roles, and joins with a repairer's code. What it does is answered as before, except
//! for erasures beyond the number that the server takes in a day.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::Surroundings;
use app_core::store::memory::now;
use app_core::store::scripted::Scripted;
use server_core::error::Error;
use server_core::shop::{Member, read_push};
use shared::log::body::{Detail, Erased, Role, field};
use shared::log::entry::Stamp;
use shared::log::{
    Body, DeviceId, Entry, EntryId, Erasures, MadeAt, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs,
};
use shared::sync::messages::{Holding, PushOutcome, PushRequest};
use shared::sync::{Code, Cursor};
use support::memory::MemoryShop;

use crate::dice::Dice;
use crate::joining::let_in;
use crate::line::Weather;
use crate::seen::{Erasable, Seen};

/// So many entries are pushed at once: few, so that an erasure and what it blanks often go apart.
const BATCH: usize = 3;

/// Where an entry stands with the server.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Standing {
    Unsent,
    Acknowledged,
    Refused,
}

pub(crate) struct FormerPhone {
    pub(crate) device: DeviceId,
    around: Scripted,
    token: Option<String>,
    entries: BTreeMap<EntryId, (ReceivedEntry, Standing)>,
    erased: BTreeSet<SubjectId>,
    seq: u64,
    cursor: Option<Cursor>,
    pushed: Option<Cursor>,
    /// Whether what it holds is still to be compared with what the server holds.
    compare: bool,
}

impl FormerPhone {
    pub(crate) fn new(seed: u64, time: UnixMs) -> Self {
        let around = Scripted::new(seed, time);
        Self {
            device: DeviceId(around.uuid_v4()),
            around,
            token: None,
            entries: BTreeMap::new(),
            erased: BTreeSet::new(),
            seq: 0,
            cursor: None,
            pushed: None,
            compare: true,
        }
    }

    pub(crate) fn tick(&self, time: UnixMs) {
        self.around.set(time);
    }

    /// Whether anything still waits to be offered.
    pub(crate) fn waits(&self) -> bool {
        self.entries
            .values()
            .any(|(_, standing)| *standing == Standing::Unsent)
    }

    /// The entries that it can hand over: nobody gets from a blank copy what the server has lost, and it may be refused.
    pub(crate) fn ids(&self) -> impl Iterator<Item = EntryId> {
        let whole = self
            .entries
            .iter()
            .filter(|(_, (held, _))| !held.entry.is_blank());
        whole.map(|(id, _)| *id)
    }

    /// When everything has calmed down, whatever it holds is whole, or blank because of an erasure. What is erased of a
    /// mention it may hold whole for ever: see above.
    pub(crate) fn has_lost_nothing(&self, seen: &Seen, erasures: &Erasures) {
        for (held, _) in self.entries.values() {
            let entry = &held.entry;
            let is_erased = erasures.covers(entry) || covers(&self.erased, entry);
            assert!(!entry.is_blank() || is_erased, "blank on an older app: {held:?}");
            let saved = seen.entries.borrow().get(&entry.id).cloned();
            let is_as_saved = saved.is_none_or(|saved| saved == *entry);
            assert!(
                entry.is_blank() || is_as_saved,
                "other content on an older app: {held:?}"
            );
        }
    }

    /// Writes something, or erases a customer.
    pub(crate) fn work(&mut self, dice: &Dice, seen: &Seen) {
        let kinds = [SubjectKind::Customer, SubjectKind::Pair];
        let subjects: BTreeSet<_> = self
            .entries
            .values()
            .map(|(held, _)| held.entry.subject.clone())
            .filter(|subject| kinds.contains(&subject.kind))
            .collect();
        let subjects: Vec<_> = subjects.into_iter().collect();
        let subject = match dice.pick(&subjects) {
            Some(subject) if !dice.once_in(4) => subject.clone(),
            _ => Subject::new(SubjectKind::Customer, self.around.new_subject()),
        };
        if subject.kind == SubjectKind::Customer && dice.once_in(4) {
            seen.erasing(Erasable::Subject(subject.id));
            self.write(subject, &Body::Erased(Erased { blob: None }), seen);
        } else {
            let value = format!("Vell-{:016x}", dice.seed()).into();
            let field = field::NAME.to_owned();
            self.write(subject, &Body::Detail(Detail { field, value }), seen);
        }
    }

    fn write(&mut self, subject: Subject, body: &Body, seen: &Seen) {
        let greatest = self.entries.values().map(|(held, _)| held.effective()).max();
        let ms = shared::log::clock::next_ms(self.around.now(), greatest);
        self.seq += 1;
        let entry = Entry {
            id: EntryId(self.around.uuid_v7()),
            subject,
            stamp: Stamp::of(ms, self.seq),
            made_at: MadeAt {
                utc: self.around.now(),
                offset_min: 60,
            },
            device: self.device,
            device_seq: self.seq,
            person: None,
            over: Vec::new(),
            kind: body.kind().expect("a known kind").to_owned(),
            version: 1,
            body: body.to_text().expect("a known kind"),
        };
        seen.saved_entry(&entry);
        self.take(ReceivedEntry::unsent(entry), Standing::Unsent);
    }

    /// The rules of merging and blanking as they were.
    fn take(&mut self, mut arrived: ReceivedEntry, standing: Standing) {
        if let Body::Erased(Erased { blob: None }) = Body::of(&arrived.entry)
            && self.erased.insert(arrived.entry.subject.id)
        {
            let erased = &self.erased;
            self.entries
                .values_mut()
                .filter(|(held, _)| covers(erased, &held.entry))
                .for_each(|(held, _)| held.entry.body.clear());
        }
        if covers(&self.erased, &arrived.entry) {
            arrived.entry.body.clear();
        }
        match self.entries.get_mut(&arrived.entry.id) {
            None => drop(self.entries.insert(arrived.entry.id, (arrived, standing))),
            Some((held, known)) => {
                if !held.entry.same_envelope(&arrived.entry) {
                    return;
                }
                if arrived.entry.is_blank() {
                    held.entry.body.clear();
                }
                held.received = match (held.received, arrived.received) {
                    (Some(a), Some(b)) => Some(a.min(b)),
                    (a, b) => a.or(b),
                };
                *known = standing;
            }
        }
    }

    /// One round. Requests and answers may be lost.
    pub(crate) fn sync(&mut self, shop: &MemoryShop, dice: &Dice, weather: Weather) {
        let lost = |dice: &Dice| weather == Weather::Stormy && dice.once_in(8);
        match self.round(shop, dice, &lost) {
            Err(Error::CursorLost) => (self.cursor, self.pushed, self.compare) = (None, None, true),
            Err(Error::TokenRevoked | Error::TokenUnknown) => self.token = None,
            Err(other) => panic!("the server refuses honest work: {other}"),
            Ok(()) => {}
        }
    }

    /// Syncs in calm weather until nothing is left to do. A round of this version ends where a token or a cursor is lost, and
    /// the next one joins, compares or offers: none of these changes the server, so the server alone does not show it.
    pub(crate) fn come_to_rest(&mut self, shop: &MemoryShop, dice: &Dice) {
        for _ in 0..6 {
            self.sync(shop, dice, Weather::Calm);
            if self.token.is_some() && !self.compare && !self.waits() {
                return;
            }
        }
        panic!("an older app never comes to rest");
    }

    fn round(&mut self, shop: &MemoryShop, dice: &Dice, lost: &dyn Fn(&Dice) -> bool) -> Result<(), Error> {
        let member = self.member(shop)?;
        loop {
            let batch = self.unsent();
            if batch.is_empty() {
                break;
            }
            if lost(dice) {
                return Ok(());
            }
            let request = PushRequest {
                entries: batch.clone(),
                pushed: self.pushed,
            };
            let body = serde_json::to_vec(&request).expect("entries are JSON");
            let answer = now(shop.push(&member, read_push(&body)?))?;
            if lost(dice) {
                return Ok(());
            }
            self.pushed = Some(answer.at);
            for (held, taken) in batch.iter().zip(answer.results) {
                self.settle(held.entry.id, taken);
            }
        }
        loop {
            let answer = now(shop.pull(&member.role, self.cursor, self.pushed))?;
            if lost(dice) {
                return Ok(());
            }
            for held in answer.entries {
                self.take(held, Standing::Acknowledged);
            }
            self.cursor = Some(answer.cursor);
            if !answer.more {
                break;
            }
        }
        if std::mem::take(&mut self.compare) {
            self.offer_again(shop, &member);
        }
        Ok(())
    }

    fn unsent(&self) -> Vec<ReceivedEntry> {
        let unsent = self
            .entries
            .values()
            .filter(|(_, standing)| *standing == Standing::Unsent);
        let mut unsent: Vec<_> = unsent.map(|(held, _)| held.clone()).collect();
        unsent.sort_by_key(|held| (held.entry.device_seq, held.entry.id));
        unsent.truncate(BATCH);
        unsent
    }

    fn settle(&mut self, id: EntryId, taken: PushOutcome) {
        let Some((held, standing)) = self.entries.get_mut(&id) else {
            return;
        };
        match taken {
            PushOutcome::Accepted { received } => {
                held.received = Some(held.received.map_or(received, |known| known.min(received)));
                *standing = Standing::Acknowledged;
            }
            PushOutcome::Refused(problem) => {
                let is_expected = match problem.code {
                    Code::ErasureUnknown => held.entry.is_blank(),
                    Code::TooManyErasures => held.entry.kind == "erased",
                    _ => false,
                };
                assert!(is_expected, "honest work is refused: {problem:?} {held:?}");
                *standing = Standing::Refused;
            }
        }
    }

    /// Offers what the server has lost.
    fn offer_again(&mut self, shop: &MemoryShop, member: &Member) {
        let acknowledged = self
            .entries
            .values()
            .filter(|(_, standing)| *standing == Standing::Acknowledged);
        let held: Vec<_> = acknowledged
            .map(|(held, _)| Holding {
                id: held.entry.id,
                received: held.received,
            })
            .collect();
        for page in held.chunks(500) {
            for id in now(shop.missing_entries(member.device, page)).expect("the server answers") {
                if let Some((_, standing)) = self.entries.get_mut(&id) {
                    *standing = Standing::Unsent;
                }
            }
        }
    }

    /// Joins if it has no access, and shows its token.
    fn member(&mut self, shop: &MemoryShop) -> Result<Member, Error> {
        let token = self
            .token
            .get_or_insert_with(|| let_in(shop, self.device, None, &Role::Repairer).token);
        let member = now(shop.member_of(token))?;
        assert_eq!(member.role, Role::Repairer, "an older app knows nothing of roles");
        Ok(member)
    }
}

fn covers(erased: &BTreeSet<SubjectId>, entry: &Entry) -> bool {
    let tie = matches!(
        Body::of(entry),
        Body::Erased(_) | Body::Retracted(_) | Body::SameAs(_)
    );
    erased.contains(&entry.subject.id) && !tie
}
