//! The phone's data as released versions have left it, opened by this version: backup files and database rows. See
//! `tests/fixtures`.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use crate::common::*;
use app_core::store::kv::{Row, RowValue, Table};
use app_core::store::memory::{Memory, now};
use app_core::store::{Compacted, Scope, Sha256Digest, tables};
use serde::Deserialize;
use serde_json::Value as Json;
use shared::log::Draft;
use shared::log::body::{Body, Note};
use shared::log::{DeviceId, EntryId, ReceivedEntry, SubjectKind};

/// SHA-256 from the `sha2` crate.
struct Library;

impl Sha256Digest for Library {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Ok(sha256(bytes))
    }
}

/// The phone's data of one version, and what must be found in it.
struct Landed {
    folder: PathBuf,
    entries: Vec<ReceivedEntry>,
    told: Told,
}

#[derive(Deserialize)]
struct Told {
    device: DeviceId,
    unsent: Vec<EntryId>,
    refused: Vec<EntryId>,
    blobs: u64,
    unsent_blobs: u64,
    in_shop: usize,
    derby: usize,
}

fn every_landed() -> Vec<Landed> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fixtures");
    let folders = fs::read_dir(root)
        .unwrap()
        .map(|entry| entry.unwrap().path().join("phone"));
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
    /// Starts the app on the database as that version left it.
    fn phone(&self) -> Device {
        let kv = Memory::default();
        for line in fs::read_to_string(self.folder.join("rows.jsonl"))
            .unwrap()
            .lines()
        {
            let (table, row) = row(&serde_json::from_str(line).unwrap());
            kv.plant(table, row);
        }
        Device::on(kv, 77)
    }

    fn file(&self, name: &str) -> Vec<u8> {
        fs::read(self.folder.join(name)).unwrap()
    }

    /// The same entries, lists and unsent entries as in that version.
    fn shows_the_same(&self, device: &Device) {
        assert_eq!(held(&device.kv), self.entries);
        let unsent: Vec<_> = unsent(device).iter().map(|held| held.entry.id).collect();
        let refused: Vec<_> = now(device.store.refused()).unwrap();
        let refused: Vec<_> = refused.iter().map(|record| record.received.entry.id).collect();
        assert_eq!(
            (unsent, refused),
            (self.told.unsent.clone(), self.told.refused.clone())
        );
        let counts = now(device.store.counts()).unwrap();
        assert_eq!(
            (counts.blobs, counts.unsent_blobs),
            (self.told.blobs, self.told.unsent_blobs)
        );
        assert_eq!(now(device.store.in_shop()).unwrap().len(), self.told.in_shop);
        assert_eq!(now(device.store.find("derby")).unwrap().len(), self.told.derby);
        now(device.store.rebuild_summaries()).unwrap();
        assert_eq!(fresh_summaries(&device.kv), stored_summaries(&device.kv));
    }
}

/// Parses a row of the fixture.
fn row(written: &Json) -> (Table, Row) {
    let table = *tables::ALL
        .iter()
        .find(|table| written["table"] == table.name)
        .unwrap();
    let indexed = written["indexed"].as_array().unwrap().iter().map(|pair| {
        let index = table.indexes.iter().find(|index| pair[0] == **index).unwrap();
        (*index, pair[1].as_str().unwrap().to_owned())
    });
    let value = match written["value"]["hex"].as_str() {
        Some(hex) => RowValue::Bytes(
            (0..hex.len())
                .step_by(2)
                .map(|at| u8::from_str_radix(&hex[at..at + 2], 16).unwrap())
                .collect(),
        ),
        None => RowValue::Text(written["value"]["text"].as_str().unwrap().to_owned()),
    };
    let key = written["key"].as_str().unwrap().to_owned();
    (
        table,
        Row {
            key,
            indexed: indexed.collect(),
            value,
        },
    )
}

#[test]
fn the_phone_of_every_landed_version_works_on() {
    for landed in every_landed() {
        let device = landed.phone();
        assert_eq!(device.store.device(), landed.told.device);
        landed.shows_the_same(&device);
        assert!(
            now(device.store.draft("drop-off")).unwrap().is_some(),
            "the form that was half filled in"
        );
        let shop = now(device.store.shop_subject()).unwrap();
        let said = Body::Note(Note {
            of: None,
            text: "Still here".to_owned(),
            voice: None,
        });
        let saved = device.save(vec![Draft::new(shop, said)]);
        assert_eq!(
            unsent(&device).last(),
            saved.last(),
            "it is offered after what waited already"
        );
        acknowledge(&device, MORNING);
        while now(device.store.compact()).unwrap() == Compacted::Partly {}
        let ids =
            |entries: &[ReceivedEntry]| entries.iter().map(|held| held.entry.id).collect::<BTreeSet<_>>();
        let mut expected = ids(&landed.entries);
        expected.extend(ids(&saved));
        assert_eq!(
            ids(&held(&device.kv)),
            expected,
            "nothing is lost on the way into the archive"
        );
        for pair in landed
            .entries
            .iter()
            .filter(|held| held.entry.subject.kind == SubjectKind::Pair)
        {
            now(device.store.pair_history(pair.entry.subject.id)).unwrap();
        }
    }
}

#[test]
fn a_backup_of_every_landed_version_is_read_on_a_new_phone_and_on_its_own() {
    for landed in every_landed() {
        let copy = Device::new(5);
        now(copy.store.read_backup(&landed.file("all.waxend"), &Library)).unwrap();
        assert_ne!(copy.store.device(), landed.told.device);
        landed.shows_the_same(&copy);
        now(copy.store.read_backup(&landed.file("unsynced.waxend"), &Library)).unwrap();
        landed.shows_the_same(&copy);
        let own = landed.phone();
        now(own.store.read_backup(&landed.file("all.waxend"), &Library)).unwrap();
        landed.shows_the_same(&own);
        // A backup that this version writes has the same content.
        let mut file = Vec::new();
        now(own
            .store
            .write_backup(Scope::All, &Library, &mut |piece| file.extend(piece)))
        .unwrap();
        let second = Device::new(6);
        now(second.store.read_backup(&file, &Library)).unwrap();
        landed.shows_the_same(&second);
    }
}

#[test]
fn what_no_server_had_of_a_landed_version_is_in_its_smaller_backup() {
    for landed in every_landed() {
        let copy = Device::new(5);
        now(copy.store.read_backup(&landed.file("unsynced.waxend"), &Library)).unwrap();
        let waiting: BTreeSet<_> = landed
            .told
            .unsent
            .iter()
            .chain(&landed.told.refused)
            .copied()
            .collect();
        let kept: BTreeSet<_> = held(&copy.kv).iter().map(|held| held.entry.id).collect();
        assert_eq!(kept, waiting);
        assert_eq!(
            now(copy.store.counts()).unwrap().unsent_blobs,
            landed.told.unsent_blobs
        );
    }
}
