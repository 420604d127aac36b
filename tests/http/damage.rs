//! Damage to a backup, to the database and to photographs: a restore refuses it and changes nothing, and the check
//! tells of it.

mod flips;
mod repairing;
mod rows;

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};

use bytes::Bytes;
use futures_util::stream;
use server::backup;
use server::data::DataFolder;
use server::disk::Disk;
use server::restoring::{self, RestoreError, RestoreOptions};
use shared::log::body::Role;
use shared::sync::messages::JoinRequest;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{Connection, SqliteConnection};
use support::running::run;
use support::sample::{Pen, picture, repairers, sha256, unsent};
use tempfile::TempDir;

use crate::WAXEND;

/// Where the database begins in a backup: after two headers and the content of the first member.
const DATABASE_AT: usize = 3 * 512;
/// The bytes of a page of the database.
const PAGE: usize = 4096;

/// A temporary folder, in memory if possible, because so much is written.
fn scratch() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() {
        tempfile::tempdir_in(memory).unwrap()
    } else {
        tempfile::tempdir().unwrap()
    }
}

/// Makes a shop of one device and some jobs, each with nine entries, and a photograph if its bytes are to be there.
async fn shop_of(jobs: u32, photographed: bool, data: &Path) {
    let shop = DataFolder::at(data).unwrap().open().await.unwrap();
    let mut pen = Pen::new(1);
    let joins = JoinRequest {
        code: shop.join_code(Role::Repairer).await.unwrap().code,
        device: pen.device,
        name: "Bench phone".to_owned(),
        shop: None,
    };
    shop.join(&joins).await.unwrap();
    for number in 0..jobs {
        let picture = picture(number, 1_500);
        let entries = pen.whole_job(&picture).entries;
        let member = repairers(pen.device);
        shop.push(&member, unsent(&entries).into()).await.unwrap();
        if photographed {
            let name = sha256(&picture);
            let body = stream::iter([Ok(Bytes::from(picture))]);
            shop.put_blob(&name, "image/jpeg", body).await.unwrap();
        }
    }
    assert_eq!(shop.check().await.unwrap().wrong, Vec::<String>::new());
    shop.store().close().await;
}

/// What `waxend check` finds wrong.
async fn wrong(data: &Path) -> Vec<String> {
    let shop = match DataFolder::at(data).unwrap().open().await {
        Ok(shop) => shop,
        Err(error) => return vec![error.to_string()],
    };
    let checked = shop.check().await;
    shop.store().close().await;
    checked.map_or_else(|error| vec![error.to_string()], |report| report.wrong)
}

/// Every file below a folder, with its content.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.insert(path.clone(), fs::read(path).unwrap());
        }
    }
    found
}

/// What a backup unpacks to.
fn unpacked(file: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let into = scratch();
    backup::read(file, into.path(), &Disk::default()).unwrap();
    let below = |path: PathBuf| path.strip_prefix(into.path()).unwrap().to_owned();
    let found = files(into.path());
    found
        .into_iter()
        .map(|(path, bytes)| (below(path), bytes))
        .collect()
}

async fn connect(database: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new().filename(database);
    SqliteConnection::connect_with(&options.foreign_keys(false))
        .await
        .unwrap()
}

/// Runs a statement on the database of a data folder, and returns how many rows it changed.
async fn execute(data: &Path, sql: &'static str) -> u64 {
    let mut database = connect(&data.join("waxend.db")).await;
    let done = sqlx::query(sql).execute(&mut database).await.unwrap();
    database.close().await.unwrap();
    done.rows_affected()
}

/// Deletes 200 entries from all over the shop.
async fn delete_two_hundred(data: &Path) {
    let deleted = execute(
        data,
        "DELETE FROM entries WHERE seq IN (SELECT seq FROM entries ORDER BY seq % 7, seq LIMIT 200)",
    );
    assert_eq!(deleted.await, 200);
}

/// The numbers of the pages that hold entries, from 1. Bodies that are too long for one page are left out.
async fn pages_of_entries(database: &Path) -> Vec<usize> {
    let mut database = connect(database).await;
    let sql = "SELECT pageno FROM dbstat WHERE name = 'entries' AND pagetype <> 'overflow'";
    let pages: Vec<i64> = sqlx::query_scalar(sql).fetch_all(&mut database).await.unwrap();
    database.close().await.unwrap();
    pages.into_iter().map(|page| page as usize).collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn damage_to_a_backup_of_the_first_form_is_noticed_where_it_can_be() {
    let sound = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/fixtures/0.1.0/server/backup.tar");
    let folder = scratch();
    let [data, copy, flawed] = ["data", "copy.db", "flawed.tar"].map(|name| folder.path().join(name));
    fs::write(&copy, &unpacked(&sound)[Path::new("waxend.db")]).unwrap();
    let whole = fs::read(&sound).unwrap();
    let mut damaged = Vec::new();
    // A page of the database is lost.
    for page in pages_of_entries(&copy).await {
        let mut bytes = whole.clone();
        bytes[DATABASE_AT + (page - 1) * PAGE..][..PAGE].fill(0);
        damaged.push(bytes);
    }
    // A bit of a photograph is flipped.
    let mut photos = 0;
    for entry in tar::Archive::new(&*whole).entries().unwrap() {
        let entry = entry.unwrap();
        if entry.path().unwrap().starts_with("photos") {
            let mut bytes = whole.clone();
            bytes[entry.raw_file_position() as usize + 100] ^= 4;
            damaged.push(bytes);
            photos += 1;
        }
    }
    assert!(photos > 3 && damaged.len() > photos);
    for bytes in damaged {
        fs::write(&flawed, bytes).unwrap();
        let folder = DataFolder::at(&data).unwrap();
        let restored =
            restoring::restore(&folder, &flawed, &RestoreOptions::default(), &Disk::default()).await;
        assert!(
            matches!(restored, Err(RestoreError::NotABackup | RestoreError::Damaged(_))),
            "{restored:?}"
        );
        assert!(files(&data).is_empty());
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn two_hundred_deleted_entries_are_noticed() {
    let folder = scratch();
    let data = folder.path().join("data");
    shop_of(30, false, &data).await;
    delete_two_hundred(&data).await;
    let checked = run(WAXEND, &data, &["check"]);
    let said = String::from_utf8(checked.stdout).unwrap();
    assert_eq!(checked.status.code(), Some(1), "{said}");
    assert!(
        said.contains("WRONG: numbers that lead to no entry: 200\n") && !said.contains("All is well"),
        "{said}"
    );
}

/// Statements that damage a shop of two jobs, and what the check then says, among other things.
const DAMAGE: [(&str, &str); 22] = [
    (
        "DELETE FROM feed WHERE seq = 5",
        "numbers up to the counter that are missing: 1",
    ),
    (
        "UPDATE feed SET entry = 900 WHERE seq = 6",
        "numbers that lead to no entry: 1",
    ),
    (
        "UPDATE feed SET entry = 1 WHERE seq = 6",
        "entries whose own number leads elsewhere or nowhere: 1",
    ),
    (
        "UPDATE counter SET seq = seq - 2",
        "numbers beyond the counter: 2",
    ),
    (
        "DELETE FROM subjects WHERE first_seq < 4",
        "subjects that are missing, or not as their entries say: 2",
    ),
    (
        "UPDATE subjects SET kind = 'pair' WHERE kind = 'job'",
        "subjects that are missing, or not as their entries say: 2",
    ),
    (
        "DELETE FROM about WHERE entry = 6",
        "links from an entry to a subject that are missing: 3",
    ),
    (
        "INSERT INTO about (subject_id, entry) VALUES (randomblob(16), 6)",
        "links from an entry to a subject that no entry has: 1",
    ),
    (
        "DELETE FROM named WHERE entry = 7",
        "links from an entry to a photograph that are missing: 1",
    ),
    (
        "INSERT INTO named (sha256, entry) VALUES (randomblob(32), 900)",
        "links from an entry to a photograph that no entry has: 1",
    ),
    (
        "DELETE FROM awaited",
        "photographs that have not arrived and that no device is asked for: 2",
    ),
    (
        "UPDATE card_links SET pair = randomblob(16)",
        "card links that are missing, or lead to another pair: 2",
    ),
    (
        "UPDATE entries SET body = replace(body, 'Ada', 'Eda')",
        "entries that cannot be read, or are not as they were stored: 2",
    ),
    (
        "UPDATE entries SET device_seq = 0, sha256 = NULL WHERE seq = 3",
        "entries with a field that no entry can have: 1",
    ),
    (
        "INSERT INTO tokens (hash, device) VALUES (randomblob(32), randomblob(16))",
        "rows of tokens that refer to no row of devices: 1",
    ),
    (
        "UPDATE counter SET last_received = 0",
        "rows of counter that are not as they were stored: 1",
    ),
    (
        "UPDATE devices SET role = 'helper'",
        "rows of devices that are not as they were stored: 1",
    ),
    (
        "UPDATE tokens SET revoked = 5",
        "rows of tokens that are not as they were stored: 1",
    ),
    (
        "UPDATE tokens SET digest = NULL",
        "rows of tokens that are not as they were stored: 1",
    ),
    (
        "UPDATE join_codes SET used = 0",
        "rows of join_codes that are not as they were stored: 1",
    ),
    (
        "UPDATE feed SET mark = randomblob(16) WHERE seq = 4",
        "rows of feed that are not as they were stored: 1",
    ),
    (
        "UPDATE entries SET pushed_by = NULL WHERE seq = 4",
        "entries that cannot be read, or are not as they were stored: 1",
    ),
];

#[tokio::test(flavor = "multi_thread")]
async fn each_table_is_compared_with_the_entries() {
    for (damage, said) in DAMAGE {
        let folder = scratch();
        let data = folder.path().join("data");
        shop_of(2, false, &data).await;
        assert!(execute(&data, damage).await > 0, "{damage}");
        let found = wrong(&data).await;
        assert!(found.iter().any(|line| line == said), "{damage}: {found:?}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_photograph_with_a_flipped_bit_is_noticed_and_stays_out_of_a_backup() {
    let folder = scratch();
    let [data, file, restored] = ["data", "shop.tar", "restored"].map(|name| folder.path().join(name));
    shop_of(2, true, &data).await;
    let name = sha256(&picture(1, 1_500));
    let photo = data.join(format!("photos/{}/{}/{name}", &name[..2], &name[2..4]));
    let mut bytes = fs::read(&photo).unwrap();
    bytes[700] ^= 1;
    fs::write(&photo, bytes).unwrap();
    assert_eq!(wrong(&data).await, [format!("photograph {name} is damaged")]);

    // A backup tells of it, leaves it out, and touches no other file.
    let neighbours = ["shop.tar.db", "shop.tar.part"].map(|name| folder.path().join(name));
    neighbours
        .iter()
        .for_each(|file| fs::write(file, b"a neighbour").unwrap());
    let out = run(WAXEND, &data, &["backup", file.to_str().unwrap()]);
    let said = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(1), "{said}");
    assert!(said.contains("1 photographs") && said.contains(&name), "{said}");
    for neighbour in neighbours {
        assert_eq!(fs::read(neighbour).unwrap(), b"a neighbour");
    }
    assert_eq!(
        fs::read_dir(folder.path()).unwrap().count(),
        4,
        "nothing is left behind"
    );
    let out = run(WAXEND, &restored, &["restore", file.to_str().unwrap()]);
    assert!(out.status.success(), "{out:?}");
    let lost = format!("photograph {name} is missing; a device that has it will bring it again");
    assert_eq!(wrong(&restored).await, [lost]);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_part_of_the_layout_that_is_missing_is_noticed() {
    let folder = scratch();
    let data = folder.path().join("data");
    shop_of(1, false, &data).await;
    execute(&data, "DROP INDEX card_links_pair").await;
    assert_eq!(
        wrong(&data).await,
        ["parts of the layout that are not as they were made: 1"]
    );
}

#[tokio::test(flavor = "multi_thread")]
async fn a_backup_that_fails_leaves_nothing_behind_and_follows_no_link() {
    let folder = scratch();
    let [data, place, outside] = ["data", "backups", "outside.tar"].map(|name| folder.path().join(name));
    shop_of(1, true, &data).await;
    fs::create_dir(&place).unwrap();
    let file = place.join("shop.tar");
    symlink(&outside, &file).unwrap();
    let neighbours = ["shop.tar.db", "shop.tar.part"].map(|name| place.join(name));
    neighbours
        .iter()
        .for_each(|file| fs::write(file, b"a neighbour").unwrap());
    let out = run(WAXEND, &data, &["backup", file.to_str().unwrap()]);
    assert!(!out.status.success(), "{out:?}");
    assert!(file.is_symlink() && !outside.exists());
    for neighbour in neighbours {
        assert_eq!(fs::read(neighbour).unwrap(), b"a neighbour");
    }
    assert_eq!(fs::read_dir(&place).unwrap().count(), 3);
}
