//! A device that the shop has shut out: with the server's proof it deletes what the server has, and nothing else; without
//! one it deletes nothing.

use std::cell::{Cell, RefCell};

use crate::common::*;
use app_core::store::kv::Row;
use app_core::store::memory::{Fault, Memory, now};
use app_core::store::{Outgoing, Sha256Digest, tables};
use app_core::sync::{Server, run_round};
use sha2::{Digest, Sha256};
use shared::log::body::{Role, field};
use shared::log::{Draft, ReceivedEntry};
use shared::sync::machine::{BlobSettled, Command, Event, Progress, RoundOutcome, Settled};
use shared::sync::messages::{ShutOutProof, ShutOutQuestion, shut_out_text};
use shared::sync::{Code, Cursor};
use uuid::Uuid;

/// A server that refuses the device, and what it says when it is asked for the proof, one answer after another.
struct Refusing {
    code: Code,
    answers: RefCell<Vec<Answer>>,
    asked: Cell<usize>,
}

/// An answer to the question for the proof.
#[derive(Debug, Clone, Copy)]
enum Answer {
    /// The proof for this token and this shop, and for the question after this change.
    Proof {
        token: &'static str,
        shop: u128,
        change: fn(&mut ShutOutQuestion),
    },
    Refusal,
    Nothing,
}

/// The right proof.
const PROOF: Answer = proof("secret", 5, as_asked);

const fn proof(token: &'static str, shop: u128, change: fn(&mut ShutOutQuestion)) -> Answer {
    Answer::Proof { token, shop, change }
}

fn as_asked(_: &mut ShutOutQuestion) {}

impl Refusing {
    fn new(code: Code, answers: &[Answer]) -> Self {
        Self {
            code,
            answers: RefCell::new(answers.to_vec()),
            asked: Cell::new(0),
        }
    }
}

impl Server for Refusing {
    async fn ask(&self, _: &Command) -> Event {
        Event::Refused(problem(self.code.clone()))
    }

    async fn put_blob(&self, _: Outgoing) -> Event {
        Event::NoAnswer
    }

    async fn ask_shut_out(&self, question: &ShutOutQuestion) -> Option<ShutOutProof> {
        self.asked.set(self.asked.get() + 1);
        let mut answers = self.answers.borrow_mut();
        match (!answers.is_empty()).then(|| answers.remove(0))? {
            Answer::Nothing => None,
            Answer::Refusal => Some(ShutOutProof { proofs: Vec::new() }),
            Answer::Proof { token, shop, change } => {
                let mut question = question.clone();
                change(&mut question);
                let text = shut_out_text(&question, Uuid::from_u128(shop));
                let of_token = Sha256::digest(token);
                let proof = sha256(&[&of_token[..], text.as_bytes()].concat());
                // The device has had another token before.
                let proofs = vec![sha256(b"another"), proof];
                Some(ShutOutProof { proofs })
            }
        }
    }
}

impl Sha256Digest for Refusing {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Ok(sha256(bytes))
    }
}

/// A round with a server that refuses the device. Returns how often it was asked for a proof.
fn round(device: &Device, code: Code, answers: &[Answer]) -> usize {
    let server = Refusing::new(code.clone(), answers);
    let outcome = now(run_round(&device.store, &server, &mut |_| {}));
    assert_eq!(outcome, RoundOutcome::JoinAgain(problem(code)));
    server.asked.get()
}

fn cursor(seq: u64) -> Cursor {
    Cursor {
        epoch: Uuid::from_u128(1),
        seq,
        mark: Uuid::from_u128(u128::from(seq)),
    }
}

/// The progress of a device that has read everything.
fn in_step() -> Progress {
    Progress {
        cursor: Some(cursor(90)),
        pushed: Some(cursor(95)),
        filled: true,
        ..Progress::default()
    }
}

const NAME: &str = "Zz-Unforgettable";

/// A phone of the shop: a customer's entries and photograph that the server has, in the archive, the tail, a summary and a
/// half filled-in form; and what it has not sent.
struct Lost {
    device: Device,
    taken: Taken,
    /// The entries that were not sent.
    unsent: Vec<ReceivedEntry>,
    /// The hash of the photograph that was not sent.
    unsent_blob: String,
}

fn lost(progress: Progress) -> Lost {
    let device = Device::new(1);
    join(&device, Role::Helper);
    let taken = taken(&device);
    device.save(drop_off(&taken, NAME, "derby"));
    (0..9).for_each(|_| drop(taken_in(&device)));
    let (draft, blobs) = photo(&taken.job, "Zz-picture");
    let confirmed = [&blobs[0], &blobs[1]].map(|blob| (blob.about.sha256.clone(), BlobSettled::Stored));
    now(device.store.save(vec![draft], blobs)).unwrap();
    now(device.store.settle_blobs(&confirmed)).unwrap();
    acknowledge(&device, MORNING);
    device.save(vec![Draft::new(
        taken.customer.clone(),
        detail(field::NAME, NAME),
    )]);
    acknowledge(&device, MORNING);
    let half_written = format!("{{\"name\":\"{NAME}\"}}");
    now(device.store.keep_draft("drop-off", Some(half_written))).unwrap();

    let mut not_sent = device.save(vec![
        step(&taken.job, "half_sole"),
        Draft::new(taken.pair.clone(), detail(field::COLOUR, "oxblood")),
    ]);
    let (draft, blobs) = photo(&taken.job, "not sent");
    let unsent_blob = blobs[0].about.sha256.clone();
    not_sent.extend(now(device.store.save(vec![draft], blobs)).unwrap().entries);
    not_sent.sort_by_key(|held| held.entry.id);
    now(device.store.settle(&[], progress)).unwrap();
    Lost {
        device,
        taken,
        unsent: not_sent,
        unsent_blob,
    }
}

/// Whether the device has deleted what the server has. It must have all of it, or none.
fn is_wiped(lost: &Lost) -> bool {
    let device = &lost.device;
    let kept = held(&device.kv);
    assert!(
        lost.unsent.iter().all(|held| kept.contains(held)),
        "what was not sent stays"
    );
    assert!(now(device.store.blob(&lost.unsent_blob)).unwrap().is_some());
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
    assert_eq!(now(device.store.counts()).unwrap().entries, kept.len() as u64);
    let everywhere = ["meta", "tail", "blocks", "pairs"];
    match tables_with(&device.kv, NAME).as_slice() {
        [] => true,
        tables => {
            assert_eq!((tables, kept.len()), (&everywhere[..], 82 + lost.unsent.len()));
            false
        }
    }
}

/// Whether the device believes that it may still come in.
fn may_come_in(lost: &Lost) -> bool {
    let membership = now(lost.device.store.membership()).unwrap();
    assert_eq!(membership.joined(), membership.shut_out.is_none());
    assert_eq!(membership.shop, Some(Uuid::from_u128(5)));
    assert_eq!(membership.letters.as_deref(), Some("A"));
    membership.joined()
}

#[test]
fn with_the_proof_what_the_server_has_is_gone_and_what_was_not_sent_stays() {
    let lost = lost(in_step());
    let (device, id) = (&lost.device, lost.device.store.device());
    assert_eq!(now(device.store.find(&NAME.to_lowercase())).unwrap().len(), 1);
    let before = now(device.store.counts()).unwrap();
    assert_eq!(round(device, Code::TokenRevoked, &[PROOF]), 1);
    assert!(is_wiped(&lost) && !may_come_in(&lost));
    assert_eq!(held(&device.kv), lost.unsent);
    assert_eq!(
        tables_with(&device.kv, &NAME.to_lowercase()),
        [""; 0],
        "nor in a search line"
    );
    assert!(now(device.store.find(&NAME.to_lowercase())).unwrap().is_empty());
    assert_eq!(tables_with(&device.kv, "Zz-picture"), [""; 0]);
    assert!(device.kv.rows(tables::BLOCKS).is_empty());
    assert_eq!(now(device.store.draft("drop-off")).unwrap(), None);
    let counts = now(device.store.counts()).unwrap();
    assert_eq!(
        (counts.unsent, counts.unsent_blobs),
        (before.unsent, before.unsent_blobs)
    );
    assert_eq!((counts.blobs, counts.bytes), (2, before.bytes - 26));
    let progress = now(device.store.progress()).unwrap();
    assert_eq!((progress.cursor, progress.filled), (None, false));
    assert_eq!(device.store.device(), id);
}

#[test]
fn what_was_refused_and_what_waits_stay_as_well() {
    let lost = lost(in_step());
    let device = &lost.device;
    let refused = Settled::Refused {
        id: lost.unsent[0].entry.id,
        problem: problem(Code::LinkTaken),
    };
    now(device.store.settle(&[refused], in_step())).unwrap();
    let erased = now(device.store.erase(vec![lost.taken.customer.clone()], None)).unwrap();
    round(device, Code::TokenRevoked, &[PROOF]);
    assert!(is_wiped(&lost));
    assert_eq!(now(device.store.refused()).unwrap().len(), 1);
    let waiting = now(device.store.erasures_waiting()).unwrap();
    assert!(waiting.subjects.contains(&erased.entries[0].entry.subject.id));
}

#[test]
fn after_joining_again_everything_is_read_anew() {
    let lost = lost(in_step());
    let device = &lost.device;
    let before = held(&device.kv);
    round(device, Code::TokenRevoked, &[PROOF]);
    join(device, Role::Helper);
    let of_server = before.iter().filter(|held| held.received.is_some()).cloned();
    now(device.store.apply(of_server.collect(), in_step())).unwrap();
    assert_eq!(held(&device.kv), before);
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
    let tags = now(device
        .store
        .save(drop_off(&taken(device), "B. Example", "boot"), Vec::new()));
    assert_eq!(tags.unwrap().tags, ["A11"], "no number is given out twice");
}

#[test]
fn without_the_right_proof_nothing_is_deleted() {
    let wrong = [
        proof("another", 5, as_asked),
        proof("secret", 6, as_asked),
        proof("secret", 5, |question| question.nonce = Uuid::nil()),
        proof("secret", 5, |question| question.cursor = cursor(89)),
        proof("secret", 5, |question| question.pushed = None),
        proof("secret", 5, |question| question.device.0 = Uuid::nil()),
        Answer::Refusal,
    ];
    for answer in wrong {
        let lost = lost(in_step());
        round(&lost.device, Code::TokenRevoked, std::slice::from_ref(&answer));
        assert!(!is_wiped(&lost), "{answer:?}");
        assert!(!may_come_in(&lost));
    }
}

#[test]
fn an_answer_that_was_lost_is_asked_for_again_in_the_next_round() {
    let lost = lost(in_step());
    for _ in 0..2 {
        assert_eq!(round(&lost.device, Code::TokenRevoked, &[Answer::Nothing]), 1);
        assert!(!is_wiped(&lost));
        assert!(
            may_come_in(&lost),
            "it still has its token, to check a proof with"
        );
    }
    assert_eq!(round(&lost.device, Code::TokenRevoked, &[PROOF]), 1);
    assert!(is_wiped(&lost));
}

#[test]
fn no_proof_is_asked_for_where_the_device_was_not_shut_out_or_the_server_may_lack_something() {
    let doubts = Progress {
        compare: true,
        ..in_step()
    };
    let cases = [
        (Code::TokenUnknown, in_step()),
        (Code::TokenMissing, in_step()),
        (Code::TokenRevoked, doubts),
        (Code::TokenRevoked, Progress::default()),
    ];
    for (code, progress) in cases {
        let lost = lost(progress);
        assert_eq!(round(&lost.device, code.clone(), &[PROOF]), 0, "{code:?}");
        assert!(!is_wiped(&lost) && !may_come_in(&lost));
    }
}

#[test]
fn a_crash_while_it_deletes_leaves_all_or_nothing() {
    for (fault, wiped) in [(Fault::CrashBefore(1), false), (Fault::CrashAfter(1), true)] {
        let mut lost = lost(in_step());
        lost.device.kv.fail(fault);
        let server = Refusing::new(Code::TokenRevoked, &[PROOF]);
        now(run_round(&lost.device.store, &server, &mut |_| {}));
        lost.device.restart();
        assert_eq!((is_wiped(&lost), may_come_in(&lost)), (wiped, !wiped));
        if !wiped {
            round(&lost.device, Code::TokenRevoked, &[PROOF]);
            assert!(
                is_wiped(&lost) && !may_come_in(&lost),
                "the next round finds out again"
            );
        }
    }
}

#[test]
fn a_device_that_has_joined_again_meanwhile_keeps_everything() {
    let lost = lost(in_step());
    let access = now(lost.device.store.access()).unwrap().unwrap();
    let answer = join_answer(5, "new", "A");
    now(lost
        .device
        .store
        .set_join(&answer, "https://shop.example", "Bench"))
    .unwrap();
    now(lost
        .device
        .store
        .wipe_confirmed(&access, problem(Code::TokenRevoked)))
    .unwrap();
    assert!(!is_wiped(&lost) && may_come_in(&lost));
}

/// The rows of a newer app cannot be judged: they may not have been sent.
#[test]
fn a_row_that_only_a_newer_app_can_read_stays() {
    let lost = lost(in_step());
    let kv: &Memory = &lost.device.kv;
    let row = Row::text("zzz-later", "not even JSON");
    kv.plant(tables::TAIL, row.clone());
    let access = now(lost.device.store.access()).unwrap().unwrap();
    now(lost
        .device
        .store
        .wipe_confirmed(&access, problem(Code::TokenRevoked)))
    .unwrap();
    assert!(kv.rows(tables::TAIL).contains(&row));
}
