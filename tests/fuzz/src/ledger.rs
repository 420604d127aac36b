//! The erasure ledger: whatever a crash has left in the file, a line that is written afterwards is read.

use server_core::ledger::{ErasureLedger, FileLedger, LedgerLine, RevokedToken, Why};
use shared::log::{ReceivedEntry, SubjectKind, UnixMs};

use crate::restore::scratch;

thread_local! {
    static FOLDER: tempfile::TempDir = scratch();
}

/// The input: the content of the ledger's file.
pub(crate) fn ledger(data: &[u8]) {
    let path = FOLDER.with(|folder| folder.path().join("erased.jsonl"));
    std::fs::write(&path, data).unwrap();
    let ledger = FileLedger::new(&path);
    let before = ledger.lines().expect("a damaged line hides no other");
    let noted = LedgerLine::Blob("aa".to_owned());
    ledger.append(std::slice::from_ref(&noted)).unwrap();
    let after = ledger.lines().unwrap();
    assert_eq!(after.last(), Some(&noted));
    assert_eq!(after[..after.len() - 1], before);
}

pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let folder = scratch();
    let path = folder.path().join("erased.jsonl");
    let mut pen = support::sample::Pen::new(1);
    let [customer, job] = [pen.subject(), pen.subject()];
    let customer_erased = pen.raw(SubjectKind::Customer, customer, "erased", "{}");
    let of_mention = format!(
        r#"{{"entry":"{}","left":{{"text":"Dark edges, as … asked"}}}}"#,
        customer_erased.id
    );
    let mention_erased = pen.raw(SubjectKind::Job, job, "mention_erased", &of_mention);
    let ledger = FileLedger::new(&path);
    ledger
        .append(&[
            LedgerLine::Erased(Box::new(ReceivedEntry::unsent(customer_erased))),
            LedgerLine::Erased(Box::new(ReceivedEntry::unsent(mention_erased))),
            LedgerLine::Blob("ab".repeat(32)),
            LedgerLine::Revoked(RevokedToken {
                token: "ef".repeat(32),
                at: UnixMs(5),
                why: Some(Why::ShutOut),
            }),
        ])
        .unwrap();
    ledger.append(&[LedgerLine::Blob("cd".repeat(32))]).unwrap();
    vec![std::fs::read(&path).unwrap(), b"{\"blob\":\"b".to_vec()]
}
