//! The phone's backup file.
//!
//! In the place of SHA-256 one constant is used that fits any bytes. Otherwise nothing after the check of the first
//! hash would be reached.

use app_core::store::kv::Kv as _;
use app_core::store::memory::{Memory, now};
use app_core::store::scripted::Scripted;
use app_core::store::{KvStore, NewBlob, Scope, Sha256Digest, StoreError};
use shared::log::Draft;
use shared::log::body::{Blob, Body, Erased, HandedOver, Note, Photo, Shows};
use shared::log::{Subject, SubjectKind, UnixMs};
use shared::sync::machine::{Progress, Settled};
use support::every::{Stay, every_kind};

/// 2026-03-02T08:00:00Z.
pub(crate) const MORNING: UnixMs = UnixMs(1_772_438_400_000);

/// A hash function with the same value for all bytes.
pub(crate) struct Any;

const HASH: &str = "0000000000000000000000000000000000000000000000000000000000000000";

impl Sha256Digest for Any {
    async fn sha256(&self, _: &[u8]) -> Result<String, String> {
        Ok(HASH.to_owned())
    }
}

pub(crate) type Store = KvStore<Memory, Scripted>;

pub(crate) fn open(kv: &Memory, seed: u64) -> Store {
    now(Store::open(kv.clone(), Scripted::new(seed, MORNING))).unwrap()
}

fn write(store: &Store) -> Vec<u8> {
    let mut file = Vec::new();
    now(store.write_backup(Scope::All, &Any, &mut |piece| file.extend(piece))).unwrap();
    file
}

/// The input: a backup file. A file that is refused changes nothing. One that is accepted can be backed up and restored
/// on another phone, which then has as many entries; restoring it a second time changes nothing.
pub(crate) fn backup(data: &[u8]) {
    let kv = Memory::default();
    let store = open(&kv, 1);
    let before = kv.commits();
    match now(store.read_backup(data, &Any)) {
        Err(StoreError::Backup(_) | StoreError::OtherShop) => {
            assert_eq!(kv.commits(), before, "nothing was written")
        }
        Err(error) => panic!("{error:?}"),
        Ok(_) => {
            let counts = now(store.counts()).unwrap();
            now(store.read_backup(data, &Any)).unwrap();
            assert_eq!(now(store.counts()).unwrap(), counts, "twice is once");
            let copy = open(&Memory::default(), 2);
            now(copy.read_backup(&write(&store), &Any)).unwrap();
            let copied = now(copy.counts()).unwrap();
            assert_eq!(
                (copied.entries, copied.unsent, copied.blobs),
                (counts.entries, counts.unsent, counts.blobs)
            );
        }
    }
    assert_eq!(kv.open_transactions(), 0);
    drop(now(kv.begin(&[], app_core::store::kv::Mode::Read)).unwrap());
}

/// A blob with these bytes and this hash.
fn blob(bytes: &[u8], sha256: &str, media_type: &str) -> NewBlob {
    let about = Blob {
        sha256: sha256.to_owned(),
        media_type: media_type.to_owned(),
        bytes: bytes.len() as u64,
        width: 4,
        height: 3,
    };
    NewBlob {
        about,
        bytes: bytes.to_vec(),
    }
}

/// A phone that has used every kind of entry. Part of its entries are acknowledged, and part of these are archived.
pub(crate) fn lived_in() -> (Memory, Store) {
    let kv = Memory::default();
    let store = open(&kv, 7);
    let subject = |kind| {
        Subject::new(
            kind,
            app_core::store::Surroundings::new_subject(store.surroundings()),
        )
    };
    let (full, thumb, voice) = (
        blob(b"picture", HASH, "image/jpeg"),
        blob(b"small", &"1".repeat(64), "image/jpeg"),
        blob(b"spoken", &"2".repeat(64), "audio/webm"),
    );
    let stay = Stay {
        shop: now(store.shop_subject()).unwrap(),
        customer: subject(SubjectKind::Customer),
        pair: subject(SubjectKind::Pair),
        ticket: subject(SubjectKind::Ticket),
        job: subject(SubjectKind::Job),
        earlier: subject(SubjectKind::Job).id,
        person: shared::log::PersonId(uuid::Uuid::from_u128(9)),
        secret: "ab".repeat(16),
        full: full.about.clone(),
        thumb: thumb.about.clone(),
        voice: voice.about.clone(),
    };
    every_kind(&stay, |subject, body, over| {
        let blobs = match &body {
            Body::Photo(Photo {
                shows: Shows::DropOff,
                ..
            }) => vec![full.clone(), thumb.clone()],
            Body::Note(Note { voice: Some(_), .. }) => vec![voice.clone()],
            _ => Vec::new(),
        };
        let draft = Draft::new(subject.clone(), body).over(over);
        now(store.save(vec![draft], blobs)).unwrap().entries[0].entry.id
    });
    let unsent = now(store.load_unsent(usize::MAX)).unwrap();
    let accepted = |held: &shared::log::ReceivedEntry| Settled::Accepted {
        id: held.entry.id,
        received: MORNING,
    };
    let settled: Vec<_> = unsent.iter().take(unsent.len() / 2).map(accepted).collect();
    now(store.settle(&settled, Progress::default())).unwrap();
    now(store.compact()).unwrap();
    let erased = Draft::new(subject(SubjectKind::Customer), Body::Erased(Erased::default()));
    now(store.save(
        vec![
            erased,
            Draft::new(stay.job, Body::HandedOver(HandedOver::default())),
        ],
        Vec::new(),
    ))
    .unwrap();
    (kv, store)
}

pub(crate) fn backup_seeds() -> Vec<Vec<u8>> {
    let (_, store) = lived_in();
    let empty = write(&open(&Memory::default(), 3));
    let small = {
        let store = open(&Memory::default(), 4);
        let subject = now(store.shop_subject()).unwrap();
        now(store.save(
            vec![Draft::new(
                subject,
                Body::Note(Note {
                    text: "a".to_owned(),
                    voice: None,
                }),
            )],
            Vec::new(),
        ))
        .unwrap();
        write(&store)
    };
    vec![empty, small, write(&store)]
}
