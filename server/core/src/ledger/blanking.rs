//! Takes out of a ledger what its erasures say of entries that are erased themselves. What an erased mention has left of an
//! entry stands in the ledger, because an older backup has the entry whole. It is personal again as soon as another
//! person who is mentioned in it, or its subject, is erased.

use std::io;

use shared::log::Erasures;

use super::LedgerLine;
use super::marks::{LedgerMark, sum_of, with_sum};

/// The content of a ledger's file with those of its lines blanked that these erasures cover; `None` if there are none. Every
/// other line, also one that is damaged or of a later version, stays as it is.
pub(super) fn blanked(file: &[u8], erasures: &Erasures) -> io::Result<Option<Vec<u8>>> {
    let mut text = Vec::with_capacity(file.len());
    let mut blanked_any = false;
    // The digest of the line before, if that was blanked: it goes with it.
    let mut outdated: Option<String> = None;
    for line in file.split_inclusive(|byte| *byte == b'\n') {
        let content = line.strip_suffix(b"\n").unwrap_or(line);
        if outdated.take().is_some_and(|sum| is_sum(content, &sum)) {
            continue;
        }
        let blanked = serde_json::from_slice::<LedgerLine>(content)
            .ok()
            .and_then(|mut read| read.blank(erasures).then_some(read));
        if let Some(read) = blanked {
            text.extend(with_sum(&serde_json::to_vec(&read)?)?);
            outdated = Some(sum_of(content));
            blanked_any = true;
        } else {
            text.extend_from_slice(line);
        }
    }
    Ok(blanked_any.then_some(text))
}

/// Whether a line is this digest.
fn is_sum(line: &[u8], sum: &str) -> bool {
    matches!(serde_json::from_slice(line), Ok(LedgerMark::Sha256(noted)) if noted == sum)
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use serde_json::json;
    use shared::log::{Entry, ReceivedEntry};
    use uuid::Uuid;

    use super::super::{ErasureLedger, FileLedger};
    use super::*;

    fn id(n: u64) -> Uuid {
        Uuid::from_u128(u128::from(n))
    }

    /// The n-th entry, about this subject.
    fn entry(n: u64, subject: u64, kind: &str, body: &serde_json::Value) -> Entry {
        let entry = json!({
            "id": id(n), "subject": { "kind": "job", "id": id(subject) },
            "stamp": { "ms": 5, "counter": 0 }, "made_at": { "utc": 5, "offset_min": 0 },
            "device": id(200), "device_seq": n, "kind": kind, "version": 1, "body": body.to_string(),
        });
        serde_json::from_value(entry).unwrap()
    }

    /// Erases a mention in another entry about the subject 100.
    fn of_mention(n: u64, of: u64, left: &serde_json::Value) -> Entry {
        entry(
            n,
            100,
            "mention_erased",
            &json!({ "entry": id(of), "left": left }),
        )
    }

    fn line(entry: &Entry) -> LedgerLine {
        LedgerLine::Erased(Box::new(ReceivedEntry::unsent(entry.clone())))
    }

    fn blank(entry: &Entry) -> LedgerLine {
        let body = String::new();
        line(&Entry {
            body,
            ..entry.clone()
        })
    }

    /// A ledger with these erasures, a blob, and something that only a later version reads.
    fn ledger(folder: &Path, entries: &[&Entry]) -> FileLedger {
        let path = folder.join("erased.jsonl");
        let ledger = FileLedger::new(&path);
        ledger.append(&[LedgerLine::Blob("aa".into())]).unwrap();
        for entry in entries {
            ledger.append(&[line(entry)]).unwrap();
        }
        let mut whole = fs::read(&path).unwrap();
        whole.extend_from_slice(b"{\"kind_of_2031\":{\"at\":5}}\n");
        fs::write(&path, whole).unwrap();
        ledger
    }

    fn erasures(entries: &[&Entry]) -> Erasures {
        let mut erasures = Erasures::default();
        for entry in entries {
            erasures.note(entry);
        }
        erasures
    }

    #[test]
    fn what_a_mention_has_left_goes_with_a_second_mention_and_with_the_subject() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("erased.jsonl");
        let first = of_mention(2, 1, &json!({ "text": "… and Thorn share these" }));
        let beside = of_mention(3, 9, &json!({ "text": "… waits" }));
        let again = json!({ "entry": id(1), "left": { "text": "… and … share these" } });
        let second = of_mention(4, 2, &again);
        let ledger = ledger(folder.path(), &[&first, &beside, &second]);
        let blob = LedgerLine::Blob("aa".into());

        let before = fs::read(&path).unwrap();
        ledger.blank(&erasures(&[&first, &beside])).unwrap();
        assert_eq!(fs::read(&path).unwrap(), before, "nothing of it is erased");

        let known = erasures(&[&first, &beside, &second]);
        ledger.blank(&known).unwrap();
        let lines = [blob.clone(), blank(&first), line(&beside), line(&second)];
        assert_eq!(ledger.lines().unwrap(), lines);
        let text = fs::read_to_string(&path).unwrap();
        assert!(!text.contains("Thorn") && text.contains("kind_of_2031"), "{text}");
        assert!(ledger.read().unwrap().unwrap().is_sound());
        ledger.blank(&known).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), text, "once is enough");

        let whole = erasures(&[&entry(5, 100, "erased", &json!({}))]);
        ledger.blank(&whole).unwrap();
        let lines = [blob, blank(&first), blank(&beside), blank(&second)];
        assert_eq!(ledger.lines().unwrap(), lines);
        assert!(!fs::read_to_string(&path).unwrap().contains("text"));
        assert!(ledger.read().unwrap().unwrap().is_sound());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        // Lines are added as before.
        ledger.append(&[LedgerLine::Blob("bb".into())]).unwrap();
        assert_eq!(ledger.lines().unwrap().len(), 5);
    }

    /// A crash has left the draft of another attempt, with what is to be erased.
    #[test]
    fn a_draft_of_a_crash_is_removed_and_damage_is_still_told() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("erased.jsonl");
        let first = of_mention(2, 1, &json!({ "text": "… and Thorn share these" }));
        let ledger = ledger(folder.path(), &[&first]);
        fs::write(path.with_added_extension("part"), "Thorn").unwrap();
        let mut whole = fs::read(&path).unwrap();
        whole.extend_from_slice(b"no line at all\n");
        fs::write(&path, whole).unwrap();
        ledger
            .blank(&erasures(&[&entry(5, 100, "erased", &json!({}))]))
            .unwrap();
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        let read = ledger.read().unwrap().unwrap();
        assert_eq!((read.lines.len(), read.damaged), (2, 1));
        assert!(!fs::read_to_string(&path).unwrap().contains("Thorn"));
    }

    #[test]
    fn a_damaged_ledger_is_kept_without_what_is_erased() {
        let folder = tempfile::tempdir().unwrap();
        let [path, damaged] = ["erased.jsonl", "damaged"].map(|name| folder.path().join(name));
        let first = of_mention(2, 1, &json!({ "text": "… and Thorn share these" }));
        let whole = entry(5, 100, "erased", &json!({}));
        let ledger = ledger(folder.path(), &[&first, &whole]);
        let mut flawed = fs::read(&path).unwrap();
        flawed.extend_from_slice(b"no line at all\n");
        fs::write(&path, flawed).unwrap();
        assert!(ledger.mend(&damaged).unwrap());
        let kept = fs::read_to_string(&damaged).unwrap();
        assert!(
            !kept.contains("Thorn") && kept.contains("no line at all"),
            "{kept}"
        );
        assert!(ledger.read().unwrap().unwrap().is_sound());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }

    #[test]
    fn where_there_is_no_ledger_none_is_made() {
        let folder = tempfile::tempdir().unwrap();
        let ledger = FileLedger::new(&folder.path().join("erased.jsonl"));
        ledger.blank(&Erasures::default()).unwrap();
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    }
}
