//! Writes the events of the simulated shop as entries, as the app would.

use shared::price::minor::Minor;
use std::collections::BTreeMap;

use shared::log::body::{Agreed, Checked, Damage, Detail, HandedOver, Opened, Photo, Step, Wait, field};
use shared::log::body::{Blob, Decision, GiftWhy, Pays, Seen, Shows, Side, WaitFor};
use shared::log::fold::{JobState, PairState};
use shared::log::{
    Body, DeviceId, Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Stamp, Subject, SubjectId, SubjectKind,
    UnixMs,
};
use shared::trade::{Construction, Goods};
use uuid::{Builder, Uuid};

use crate::stays::Find;

/// The start of the simulation in ms since 1970: 2022-01-03T00:00 in the shop, an hour ahead of UTC.
const FIRST_MS: i64 = 1_641_168_000_000 - 3_600_000;

/// The shop's log.
#[derive(Default)]
pub(crate) struct Scribe {
    written: u64,
    jobs: BTreeMap<SubjectId, Vec<ReceivedEntry>>,
}

pub(crate) fn person(n: usize) -> PersonId {
    PersonId(Uuid::from_u128(0xbe4c_0000 + n as u128))
}

pub(crate) fn ms(minute: f64) -> UnixMs {
    UnixMs(FIRST_MS + (minute * 60_000.0) as i64)
}

impl Scribe {
    /// The id of a job, by the number of its stay.
    pub(crate) fn id(stay: usize) -> SubjectId {
        SubjectId(Builder::from_unix_timestamp_millis(1_000 + stay as u64, &[1; 10]).into_uuid())
    }

    /// Writes an entry about a job, so many minutes after the shop opened, by a person. Returns its id.
    pub(crate) fn say(&mut self, stay: usize, minute: f64, by: usize, body: &Body) -> EntryId {
        self.written += 1;
        let job = Self::id(stay);
        let id = EntryId(Builder::from_unix_timestamp_millis(self.written, &[2; 10]).into_uuid());
        let entry = Entry {
            id,
            subject: Subject::new(SubjectKind::Job, job),
            stamp: Stamp {
                ms: ms(minute),
                counter: 0,
            },
            made_at: MadeAt {
                utc: ms(minute),
                offset_min: 60,
            },
            device: DeviceId(Uuid::from_u128(by as u128 + 1)),
            device_seq: self.written,
            person: Some(person(by)),
            over: Vec::new(),
            kind: body.kind().expect("a known kind").to_owned(),
            version: 1,
            body: body.to_text().expect("a known kind"),
        };
        self.jobs.entry(job).or_default().push(ReceivedEntry {
            entry,
            received: None,
        });
        id
    }

    pub(crate) fn opened(&mut self, stay: usize, minute: f64, by: usize, guessed: &Construction) {
        self.say(stay, minute, by, &Body::Opened(Opened::default()));
        let guess = detail(field::CONSTRUCTION_GUESSED, guessed.as_str());
        self.say(stay, minute + 0.5, by, &guess);
    }

    pub(crate) fn agreed(&mut self, stay: usize, minute: f64, by: usize, line: Agreed) {
        self.say(stay, minute, by, &Body::Agreed(line));
    }

    /// Hidden damage, and the agreed line that repairs it.
    pub(crate) fn found(&mut self, stay: usize, minute: f64, by: usize, find: &Find) {
        let body = Damage {
            part: find.part.as_str().to_owned(),
            condition: find.condition.as_str().to_owned(),
            side: Side::Left,
            seen: Seen::Inside,
            decision: Some(Decision::Mend),
            pays: Some(if find.needed {
                Pays::ShopNeeded
            } else {
                Pays::Customer
            }),
            note: String::new(),
        };
        let damage = self.say(stay, minute, by, &Body::Damage(body));
        let line = match find.needed {
            true => Agreed::given(find.remedy, GiftWhy::Needed, Minor(2_000)),
            false => Agreed::at(find.remedy, Minor(2_500)),
        };
        self.agreed(
            stay,
            minute,
            by,
            Agreed {
                damage: Some(damage),
                ..line
            },
        );
    }

    pub(crate) fn step(&mut self, stay: usize, minute: f64, by: usize, code: &str) {
        let step = Step {
            cement: None,
            line: None,
            operation: code.into(),
            side: Side::Both,
            note: String::new(),
            minutes: None,
            used: Vec::new(),
        };
        self.say(stay, minute, by, &Body::Step(step));
    }

    pub(crate) fn photo(&mut self, stay: usize, minute: f64, by: usize, code: &str) {
        let blob = || Blob {
            sha256: String::new(),
            media_type: "image/jpeg".to_owned(),
            bytes: 1,
            width: 1,
            height: 1,
        };
        let photo = Photo {
            operation: Some(code.into()),
            ..Photo::new(blob(), blob(), Shows::Step)
        };
        self.say(stay, minute, by, &Body::Photo(photo));
    }

    pub(crate) fn wait(&mut self, stay: usize, minute: f64, by: usize, code: &str, minutes: u32) {
        let wait = Wait {
            dries: None,
            what: WaitFor::Drying,
            minutes: Some(minutes),
            note: code.to_owned(),
            material: None,
        };
        self.say(stay, minute, by, &Body::Wait(wait));
    }

    pub(crate) fn checked(&mut self, stay: usize, minute: f64, by: usize) {
        self.say(stay, minute, by, &Body::Checked(Checked::default()));
    }

    pub(crate) fn handed_over(&mut self, stay: usize, minute: f64, by: usize) {
        self.say(stay, minute, by, &Body::HandedOver(HandedOver::default()));
    }

    /// The jobs opened before a minute, folded as the app does, from the entries made before that minute.
    pub(crate) fn folded(&self, before: f64) -> BTreeMap<SubjectId, JobState> {
        let known = |held: &&ReceivedEntry| held.entry.made_at.utc < ms(before);
        let fold = |all: &Vec<ReceivedEntry>| JobState::of(all.iter().filter(known));
        let jobs = self.jobs.iter().map(|(id, all)| (*id, fold(all)));
        jobs.filter(|(_, state)| state.opened.is_some()).collect()
    }
}

/// The state of a pair.
pub(crate) fn pair(goods: &Goods) -> PairState {
    let mut scribe = Scribe::default();
    scribe.say(0, 0.0, 0, &detail(field::GOODS, goods.as_str()));
    PairState::of(scribe.jobs.values().flatten())
}

fn detail(name: &str, value: &str) -> Body {
    Body::Detail(Detail {
        field: name.to_owned(),
        value: value.into(),
    })
}
