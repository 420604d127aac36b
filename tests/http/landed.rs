//! The data folder and the backup of every released version, served by this version. See `tests/fixtures`.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use server_core::world::{RealWorld, World};
use shared::log::{DeviceId, ReceivedEntry};
use shared::sync::messages::{Device, HistoryAnswer, InShopAnswer, PullAnswer};
use support::running::{Client, Server, run};
use support::sample::{Pen, sha256};
use tempfile::TempDir;

use crate::{WAXEND, change_tokens};

/// The server's data of one version, and what must be found in it.
struct Landed {
    folder: PathBuf,
    entries: Vec<ReceivedEntry>,
    told: Told,
}

#[derive(Deserialize)]
struct Told {
    devices: Vec<Device>,
    tokens: Vec<Token>,
    cards: Vec<String>,
    blobs: BTreeSet<String>,
}

#[derive(Deserialize)]
struct Token {
    id: DeviceId,
    token: String,
}

fn every_landed() -> Vec<Landed> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/fixtures");
    let folders = fs::read_dir(root)
        .unwrap()
        .map(|entry| entry.unwrap().path().join("server"));
    let landed = |folder: PathBuf| {
        let entries = fs::read_to_string(folder.join("entries.jsonl")).unwrap();
        Landed {
            entries: entries
                .lines()
                .map(|line| serde_json::from_str(line).unwrap())
                .collect(),
            told: serde_json::from_slice(&fs::read(folder.join("told.json")).unwrap()).unwrap(),
            folder,
        }
    };
    let all: Vec<_> = folders.filter(|folder| folder.is_dir()).map(landed).collect();
    assert!(!all.is_empty());
    all
}

impl Landed {
    /// A server of this version on a copy of the data folder.
    fn serve(&self) -> (TempDir, Server) {
        let scratch = tempfile::tempdir().unwrap();
        let data = scratch.path().join("data");
        copy(&self.folder.join("data"), &data);
        let server = Server::start(WAXEND, &data, &[]);
        renew_tokens(&data);
        (scratch, server)
    }

    /// A device of that time, with the token that it had.
    fn device(&self, server: &Server, number: usize) -> Client {
        server
            .stranger()
            .with_token(self.told.tokens[number].token.clone())
    }

    /// Everything that was sent then is sent now, byte for byte: in the same order by a pull, and as history.
    fn hands_out_everything(&self, device: &Client) {
        let (pulled, cursor) = device.pull_all();
        assert_eq!(pulled, self.entries);
        let start: InShopAnswer = device.get("/api/v1/in-shop").read(200);
        assert_eq!(start.start, cursor);
        let query = format!("epoch={}&seq={}&mark={}", cursor.epoch, cursor.seq, cursor.mark);
        let history: HistoryAnswer = device.get(&format!("/api/v1/history?{query}")).read(200);
        let sorted = |mut entries: Vec<ReceivedEntry>| {
            entries.sort_by_key(|held| held.entry.id);
            entries.dedup();
            entries
        };
        assert_eq!(sorted(history.entries), sorted(self.entries.clone()));
        for sha256_of in &self.told.blobs {
            let blob = device.get(&format!("/api/v1/blobs/{sha256_of}"));
            assert_eq!((blob.status, &sha256(&blob.body)), (200, sha256_of));
        }
        for secret in &self.told.cards {
            let card = device.get(&format!("/card/{secret}"));
            assert_eq!(card.status, 200, "{}", card.text());
            for words in [
                "Brown derby",
                "New half soles",
                "Board under the leather wrap",
                "A year on the stitching.",
            ] {
                assert!(card.text().contains(words), "{words}: {}", card.text());
            }
            assert_eq!(device.get(&format!("/card/{secret}/check.ics")).status, 200);
        }
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap().map(Result::unwrap) {
        let place = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &place);
        } else {
            fs::copy(entry.path(), place).unwrap();
        }
    }
}

/// Has every token seen today. A token ends half a year after its last request, and fixtures grow older than that.
fn renew_tokens(data: &Path) {
    let world: &dyn World = &RealWorld;
    let renewed = change_tokens(data, |token| {
        if token.revoked.is_none() {
            token.seen = Some(world.now());
        }
    });
    assert!(renewed > 0);
}

fn is_well(data: &Path) {
    let checked = run(WAXEND, data, &["check"]);
    assert!(
        checked.status.success(),
        "{}",
        String::from_utf8_lossy(&checked.stdout)
    );
}

#[test]
fn the_data_folder_of_every_landed_version_is_served() {
    for landed in every_landed() {
        let (_scratch, server) = landed.serve();
        landed.hands_out_everything(&landed.device(&server, 0));
        landed.hands_out_everything(&landed.device(&server, 1));
        let now = landed.device(&server, 0).devices();
        let about = |devices: &[Device]| -> Vec<_> {
            let each = devices.iter();
            each.map(|one| {
                (
                    one.id,
                    one.name.clone(),
                    one.letters.clone(),
                    one.joined,
                    one.revoked,
                    one.role.clone(),
                )
            })
            .collect()
        };
        assert_eq!(about(&now), about(&landed.told.devices));
        let data = server.data.clone();
        server.stop();
        is_well(&data);
    }
}

#[test]
fn devices_of_every_landed_version_work_on_and_those_shut_out_stay_out() {
    for landed in every_landed() {
        let (_scratch, server) = landed.serve();
        for (number, token) in landed.told.tokens.iter().enumerate() {
            let device = landed.device(&server, number);
            let known = landed.told.devices.iter().find(|known| known.id == token.id);
            if known.unwrap().revoked.is_some() {
                assert_eq!(device.get("/api/v1/entries").refusal(401), "token_revoked");
                continue;
            }
            let (_, cursor) = device.pull_all();
            let job = Pen::new(40 + u32::try_from(number).unwrap()).whole_job(b"");
            device.push_all(&job.entries);
            let news: PullAnswer = device.pull(Some(cursor)).read(200);
            assert_eq!(news.entries.len(), job.entries.len());
        }
        let data = server.data.clone();
        server.stop();
        is_well(&data);
    }
}

#[test]
fn the_backup_of_every_landed_version_is_restored() {
    for landed in every_landed() {
        let scratch = tempfile::tempdir().unwrap();
        let data = scratch.path().join("data");
        let (backup, ledger) = (
            landed.folder.join("backup.tar"),
            landed.folder.join("data/erased.jsonl"),
        );
        let args = [
            "restore",
            backup.to_str().unwrap(),
            "--ledger",
            ledger.to_str().unwrap(),
        ];
        let restored = run(WAXEND, &data, &args);
        assert!(
            restored.status.success(),
            "{}",
            String::from_utf8_lossy(&restored.stderr)
        );
        is_well(&data);
        renew_tokens(&data);
        let server = Server::start(WAXEND, &data, &[]);
        landed.hands_out_everything(&landed.device(&server, 0));
    }
}

/// The fixtures of a version contain every kind of entry that it could write.
#[test]
fn every_kind_of_entry_is_among_what_has_landed() {
    const KINDS: [&str; 29] = [
        "agreed",
        "answer",
        "card_link",
        "checked",
        "complaint",
        "damage",
        "detail",
        "erased",
        "handed_over",
        "measured",
        "note",
        "opened",
        "order",
        "payment",
        "person",
        "photo",
        "published",
        "put_back",
        "question",
        "redo",
        "retracted",
        "same_as",
        "skipped",
        "spent",
        "step",
        "taken_out",
        "wait",
        "wait_over",
        "withdrawn",
    ];
    for landed in every_landed() {
        let full = landed.entries.iter().filter(|held| !held.entry.is_blank());
        let kinds: BTreeSet<_> = full.map(|held| held.entry.kind.as_str()).collect();
        assert!(KINDS.iter().all(|kind| kinds.contains(kind)), "{kinds:?}");
        assert!(
            landed.entries.iter().any(|held| held.entry.is_blank()),
            "and something that was erased"
        );
    }
}
