//! The erasure ledger: whatever a crash has left in the file, a line that is written afterwards is read.

use server_core::ledger::{ErasureLedger, FileLedger, LedgerLine, RevokedToken, Why};

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
    let customer = pen.subject();
    let entry = pen.raw(shared::log::SubjectKind::Customer, customer, "erased", "{}");
    let ledger = FileLedger::new(&path);
    ledger
        .append(&[
            LedgerLine::Erased(Box::new(shared::log::ReceivedEntry::unsent(entry))),
            LedgerLine::Blob("ab".repeat(32)),
            LedgerLine::Revoked(RevokedToken {
                token: "ef".repeat(32),
                at: shared::log::UnixMs(5),
                why: Some(Why::ShutOut),
            }),
        ])
        .unwrap();
    ledger.append(&[LedgerLine::Blob("cd".repeat(32))]).unwrap();
    vec![std::fs::read(&path).unwrap(), b"{\"blob\":\"b".to_vec()]
}
