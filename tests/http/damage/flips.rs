//! A thousand random bits, each flipped on its own in a sound copy: what changes anything is noticed by the check or by
//! a restore.

use std::fs;
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};

use bytes::Bytes;
use fastrand::Rng;
use futures_util::stream;
use server::backup::{self, UnpackError};
use server::data::DataFolder;
use server::disk::Disk;
use server::restoring::{self, RestoreError, RestoreOptions};
use server_core::shop::Member;
use shared::log::SubjectKind;
use shared::log::body::Role;
use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{AssertSqlSafe, Connection, SqliteConnection};
use support::memory::Household;
use support::running::run;
use support::sample::{Pen, picture, repairers, sha256, unsent};
use tokio::runtime::Runtime;

use super::{DATABASE_AT, files, scratch, shop_of, unpacked, wrong};
use crate::WAXEND;

/// Flips of bits of a database.
const OF_DATABASE: usize = 400;
/// Flips of bits of a backup that is unpacked.
const OF_BACKUP: usize = 340;
/// Flips of bits of a backup that is restored.
const OF_RESTORE: usize = 60;
/// Flips of bits of photographs.
const OF_PHOTOGRAPHS: usize = 200;
/// At how many copies of a database work goes on at the same time.
const AT_ONCE: usize = 4;

const _: () = assert!(OF_DATABASE + OF_BACKUP + OF_RESTORE + OF_PHOTOGRAPHS == 1_000);

fn flip(bytes: &mut [u8], at: usize, random: &mut Rng) {
    bytes[at] ^= 1 << random.u8(..8);
}

/// All that a database says, as text; `None` if it cannot be read. The table of the migrations is not ours.
async fn dump(database: &Path) -> Option<Vec<String>> {
    let options = SqliteConnectOptions::new().filename(database);
    let mut database = SqliteConnection::connect_with(&options).await.ok()?;
    let said = said(&mut database).await.ok();
    database.close().await.ok()?;
    said
}

async fn said(database: &mut SqliteConnection) -> Result<Vec<String>, sqlx::Error> {
    const OURS: &str = "FROM sqlite_schema WHERE tbl_name <> '_sqlx_migrations'";
    let layout = format!("SELECT type || name || tbl_name || coalesce(sql, '') {OURS} ORDER BY 1");
    let tables = format!("SELECT name {OURS} AND type = 'table' ORDER BY 1");
    let mut said: Vec<String> = sqlx::query_scalar(AssertSqlSafe(layout))
        .fetch_all(&mut *database)
        .await?;
    let tables: Vec<String> = sqlx::query_scalar(AssertSqlSafe(tables))
        .fetch_all(&mut *database)
        .await?;
    for table in tables {
        let columns: Vec<String> = sqlx::query_scalar("SELECT name FROM pragma_table_info($1)")
            .bind(table.clone())
            .fetch_all(&mut *database)
            .await?;
        let quoted: Vec<_> = columns
            .iter()
            .map(|column| format!("quote(\"{column}\")"))
            .collect();
        let rows = format!(
            "SELECT '{table} ' || {} FROM \"{table}\" ORDER BY 1",
            quoted.join(" || ',' || ")
        );
        let rows: Vec<String> = sqlx::query_scalar(AssertSqlSafe(rows))
            .fetch_all(&mut *database)
            .await?;
        said.extend(rows);
    }
    Ok(said)
}

/// Adds what a helper's device has sent and the server keeps aside, and a photograph that has not arrived.
async fn keep_something_aside(data: &Path) {
    let shop = DataFolder::at(data).unwrap().open().await.unwrap();
    let mut pen = Pen::new(2);
    let job = pen.whole_job(b"not arrived");
    shop.push(&repairers(pen.device), unsent(&job.entries).into())
        .await
        .unwrap();
    let helper = Member {
        device: pen.device,
        role: Role::Helper,
    };
    let person = pen.raw(SubjectKind::Customer, job.customer, "person", "{}");
    shop.push(&helper, unsent(&[person]).into()).await.unwrap();
    assert_eq!(shop.kept_aside().await.unwrap().entries.len(), 1);
    shop.store().close().await;
}

/// A sound database, what it says, and the folder of its photographs.
struct Sound {
    database: Vec<u8>,
    says: Vec<String>,
    photos: PathBuf,
}

/// Flips some bits of a database. Returns how many of them have changed what it says.
async fn flip_some(sound: &Sound, seed: u64, flips: usize) -> usize {
    let folder = scratch();
    let data = folder.path().join("data");
    let mut random = Rng::with_seed(seed);
    let mut changed = 0;
    for _ in 0..flips {
        let at = random.usize(..sound.database.len());
        let mut bytes = sound.database.clone();
        flip(&mut bytes, at, &mut random);
        fs::create_dir(&data).unwrap();
        fs::write(data.join("waxend.db"), bytes).unwrap();
        symlink(&sound.photos, data.join("photos")).unwrap();
        if dump(&data.join("waxend.db")).await.as_ref() != Some(&sound.says) {
            changed += 1;
            assert!(!wrong(&data).await.is_empty(), "byte {at} of the database");
        }
        fs::remove_dir_all(&data).unwrap();
    }
    changed
}

/// A shop with something in every table.
async fn sound(data: &Path) -> Sound {
    shop_of(12, true, data).await;
    keep_something_aside(data).await;
    assert_eq!(wrong(data).await, Vec::<String>::new());
    let database = data.join("waxend.db");
    Sound {
        says: dump(&database).await.unwrap(),
        database: fs::read(database).unwrap(),
        photos: data.join("photos"),
    }
}

#[test]
fn every_flipped_bit_that_changes_what_a_database_says_is_noticed() {
    let folder = scratch();
    let runtime = || Runtime::new().unwrap();
    let sound = runtime().block_on(sound(&folder.path().join("data")));
    let changed: usize = std::thread::scope(|scope| {
        let some = |seed: usize| runtime().block_on(flip_some(&sound, seed as u64, OF_DATABASE / AT_ONCE));
        let threads: Vec<_> = (0..AT_ONCE).map(|seed| scope.spawn(move || some(seed))).collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).sum()
    });
    // The rest are in parts of the pages that hold nothing, and in indexes.
    assert!(changed > OF_DATABASE / 10, "{changed}");
}

/// A place in a backup: a third anywhere, which is nearly always in the database; the others outside it.
fn somewhere(number: usize, backup: usize, database: usize, random: &mut Rng) -> usize {
    if number.is_multiple_of(3) {
        return random.usize(..backup);
    }
    let outside = random.usize(..backup - database);
    outside + if outside < DATABASE_AT { 0 } else { database }
}

#[tokio::test(flavor = "multi_thread")]
async fn a_backup_with_a_flipped_bit_unpacks_to_the_same_or_is_refused() {
    let folder = scratch();
    let [data, sound, flawed, into] =
        ["data", "sound.tar", "flawed.tar", "into"].map(|name| folder.path().join(name));
    shop_of(3, true, &data).await;
    let out = run(WAXEND, &data, &["backup", sound.to_str().unwrap()]);
    assert!(out.status.success(), "{out:?}");
    let (whole, content) = (fs::read(&sound).unwrap(), unpacked(&sound));
    let database = content[Path::new("waxend.db")].len();
    let mut random = Rng::with_seed(17);
    let mut refused = 0;
    for number in 0..OF_BACKUP {
        let at = somewhere(number, whole.len(), database, &mut random);
        let mut bytes = whole.clone();
        flip(&mut bytes, at, &mut random);
        fs::write(&flawed, bytes).unwrap();
        fs::create_dir(&into).unwrap();
        match backup::read(&flawed, &into, &Disk::default()) {
            Ok(_) => assert!(unpacked(&flawed) == content, "byte {at} makes a difference"),
            Err(UnpackError::NotABackup | UnpackError::Damaged(_)) => refused += 1,
            Err(error) => panic!("byte {at}: {error}"),
        }
        fs::remove_dir_all(&into).unwrap();
    }
    // The rest are in what fills up the blocks of the file, and in its end.
    assert!(refused > OF_BACKUP * 2 / 3, "{refused}");
}

/// The rows of entries among what a database says.
fn of_entries(says: Option<Vec<String>>) -> Vec<String> {
    let mut says = says.unwrap();
    says.retain(|row| row.starts_with("entries "));
    says
}

#[tokio::test(flavor = "multi_thread")]
async fn a_backup_with_a_flipped_bit_restores_the_same_or_is_refused_and_changes_nothing() {
    let folder = scratch();
    let [data, sound, flawed] = ["data", "sound.tar", "flawed.tar"].map(|name| folder.path().join(name));
    shop_of(3, true, &data).await;
    let out = run(WAXEND, &data, &["backup", sound.to_str().unwrap()]);
    assert!(out.status.success(), "{out:?}");
    let whole = fs::read(&sound).unwrap();
    let database = unpacked(&sound)[Path::new("waxend.db")].len();
    let (entries, photos) = (
        of_entries(dump(&data.join("waxend.db")).await),
        files(&data.join("photos")),
    );
    let mut random = Rng::with_seed(18);
    let mut refused = 0;
    for number in 0..OF_RESTORE {
        let at = somewhere(number, whole.len(), database, &mut random);
        let mut bytes = whole.clone();
        flip(&mut bytes, at, &mut random);
        fs::write(&flawed, bytes).unwrap();
        let before = files(&data);
        let folder = DataFolder::at(&data).unwrap();
        match restoring::restore(&folder, &flawed, &RestoreOptions::default(), &Disk::default()).await {
            Ok(restored) => {
                assert_eq!(restored.wrong, Vec::<String>::new());
                let now = of_entries(dump(&data.join("waxend.db")).await);
                assert!(now == entries, "byte {at} makes a difference");
                assert!(files(&data.join("photos")) == photos, "byte {at}");
                assert_eq!(wrong(&data).await, Vec::<String>::new());
            }
            Err(RestoreError::NotABackup | RestoreError::Damaged(_)) => {
                refused += 1;
                assert!(files(&data) == before, "byte {at} changes the shop");
            }
            Err(error) => panic!("byte {at}: {error}"),
        }
    }
    // Of a photograph that is damaged in the backup, the intact file stays.
    assert!(refused > 0 && refused < OF_RESTORE, "{refused}");
}

#[tokio::test]
async fn every_flipped_bit_of_a_photograph_is_noticed() {
    let household = Household::new(1);
    let shop = household.open().await;
    let mut pen = Pen::new(1);
    for number in 0..4 {
        let picture = picture(number, 1_500);
        let entries = pen.whole_job(&picture).entries;
        shop.push(&repairers(pen.device), unsent(&entries).into())
            .await
            .unwrap();
        let (name, body) = (sha256(&picture), stream::iter([Ok(Bytes::from(picture))]));
        shop.put_blob(&name, "image/jpeg", body).await.unwrap();
    }
    let sound = household.photos.snapshot();
    let names: Vec<_> = sound.keys().copied().collect();
    let mut random = Rng::with_seed(17);
    for _ in 0..OF_PHOTOGRAPHS {
        let name = names[random.usize(..names.len())];
        let mut flawed = sound.clone();
        let mut bytes = flawed[&name].to_vec();
        let at = random.usize(..bytes.len());
        flip(&mut bytes, at, &mut random);
        flawed.insert(name, bytes.into());
        household.photos.roll_back(&flawed);
        let report = household.open().await.check().await.unwrap();
        assert_eq!(
            report.wrong,
            [format!("photograph {name} is damaged")],
            "byte {at}"
        );
    }
    household.photos.roll_back(&sound);
    let report = household.open().await.check().await.unwrap();
    assert_eq!(report.wrong, Vec::<String>::new());
}
