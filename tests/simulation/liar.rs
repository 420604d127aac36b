//! A device that has joined and lies: it pushes blank copies of whatever anybody has written, other content under known
//! ids, and erasures of the shop. The server must take none of it.

use app_core::store::Surroundings;
use app_core::store::memory::now;
use app_core::store::scripted::Scripted;
use server_core::error::Error;
use server_core::shop::read_push;
use shared::log::body::{Detail, Erased, field};
use shared::log::entry::Stamp;
use shared::log::{
    Body, DeviceId, Entry, EntryId, MadeAt, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs,
};
use shared::sync::Code;
use shared::sync::messages::{Holding, PushOutcome, PushRequest};
use support::memory::MemoryShop;

use crate::dice::Dice;
use crate::joining::let_in;
use crate::seen::Seen;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lie {
    /// A copy without content.
    Blank,
    /// Other content under a known id.
    Forged,
    /// An erasure of the shop.
    ErasesShop,
}

pub(crate) struct Liar {
    device: DeviceId,
    around: Scripted,
    token: Option<String>,
    seq: u64,
}

impl Liar {
    pub(crate) fn new(seed: u64, time: UnixMs) -> Self {
        let around = Scripted::new(seed, time);
        Self {
            device: DeviceId(around.uuid_v4()),
            around,
            token: None,
            seq: 0,
        }
    }

    /// Tells a few lies. It knows everything that was ever written, also what no server has taken yet.
    pub(crate) fn lie(&mut self, shop: &MemoryShop, dice: &Dice, seen: &Seen) {
        let known: Vec<Entry> = seen.entries.borrow().values().cloned().collect();
        let mut lies = Vec::new();
        for _ in 0..dice.between(1, 6) {
            let Some(entry) = dice.pick(&known) else { continue };
            match dice.between(1, 4) {
                1 | 2 => lies.push((blanked(entry), Lie::Blank)),
                // Under an id that the server does not hold, the first copy stands.
                3 if is_held(shop, entry) => lies.push((forged(entry), Lie::Forged)),
                _ => lies.push((self.erasure_of_the_shop(shop, dice), Lie::ErasesShop)),
            }
        }
        match self.push(shop, &lies) {
            Err(Error::TokenRevoked | Error::TokenUnknown) => self.token = None,
            Err(other) => panic!("the server fails on a lie: {other}"),
            Ok(()) => {}
        }
    }

    fn push(&mut self, shop: &MemoryShop, lies: &[(Entry, Lie)]) -> Result<(), Error> {
        let token = self
            .token
            .get_or_insert_with(|| let_in(shop, self.device, None).token);
        now(shop.device_of(token))?;
        let request = PushRequest {
            entries: lies
                .iter()
                .map(|(entry, _)| ReceivedEntry::unsent(entry.clone()))
                .collect(),
            pushed: None,
        };
        let body = serde_json::to_vec(&request).expect("entries are JSON");
        let answer = now(shop.push(read_push(&body)?))?;
        for ((entry, lie), taken) in lies.iter().zip(answer.results) {
            let code = match taken {
                // What is erased is blank, whoever says so.
                PushOutcome::Accepted { .. } if *lie != Lie::ErasesShop => continue,
                PushOutcome::Accepted { .. } => panic!("the shop is erased by {entry:?}"),
                PushOutcome::Refused(problem) => problem.code,
            };
            let expected = match lie {
                Lie::Blank => Code::ErasureUnknown,
                Lie::Forged => Code::IdTaken,
                Lie::ErasesShop => Code::NotErasable,
            };
            assert_eq!(code, expected, "{lie:?} {entry:?}");
        }
        Ok(())
    }

    /// Under its own kind and under others.
    fn erasure_of_the_shop(&mut self, shop: &MemoryShop, dice: &Dice) -> Entry {
        let id = SubjectId(now(shop.status()).expect("the server answers").shop);
        let kinds = [SubjectKind::Shop, SubjectKind::Customer, SubjectKind::Job];
        let kind = dice.pick(&kinds).expect("there are some").clone();
        let body = Body::Erased(Erased { blob: None });
        self.seq += 1;
        Entry {
            id: EntryId(self.around.uuid_v7()),
            subject: Subject::new(kind, id),
            stamp: Stamp::of(self.around.now(), self.seq),
            made_at: MadeAt {
                utc: self.around.now(),
                offset_min: 0,
            },
            device: self.device,
            device_seq: self.seq,
            person: None,
            over: Vec::new(),
            kind: "erased".to_owned(),
            version: 1,
            body: body.to_text().expect("a known kind"),
        }
    }
}

/// The same entry without its content.
pub(crate) fn blanked(entry: &Entry) -> Entry {
    Entry {
        body: String::new(),
        ..entry.clone()
    }
}

fn is_held(shop: &MemoryShop, entry: &Entry) -> bool {
    let holding = Holding {
        id: entry.id,
        received: None,
    };
    now(shop.missing_entries(&[holding]))
        .expect("the server answers")
        .is_empty()
}

fn forged(entry: &Entry) -> Entry {
    let body = Body::Detail(Detail {
        field: field::NAME.to_owned(),
        value: "Nobody".into(),
    });
    Entry {
        body: body.to_text().expect("a known kind"),
        ..entry.clone()
    }
}
