//! A restore that is interrupted after any step: the folder has the former shop or the restored one, or the server
//! refuses and says what to do. It never has a new shop, and the restore can be repeated.

use std::fs;
use std::io::{Error, ErrorKind};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use server::data::DataFolder;
use server::disk::Disk;
use server::restoring::{self, RestoreOptions};
use shared::log::EntryId;
use shared::log::body::Role;
use support::running::{Server, run};
use support::sample::{Pen, picture};

use crate::{WAXEND, server};

/// The content of a shop: the ids of its entries, and the number of its photographs, all of them intact.
type Held = (Vec<EntryId>, u64);

/// A disk on which the first `changes` changes succeed and all later ones fail, as after a power cut.
fn until(changes: usize) -> Disk {
    let left = Arc::new(AtomicUsize::new(changes));
    let take = move |left: &AtomicUsize| {
        left.fetch_update(Ordering::Relaxed, Ordering::Relaxed, |left| left.checked_sub(1))
    };
    Disk::telling(move |_| match take(&left) {
        Ok(_) => Ok(()),
        Err(_) => Err(Error::from(ErrorKind::BrokenPipe)),
    })
}

fn copy(from: &Path, to: &Path) {
    let copied = Command::new("cp").arg("-a").args([from, to]).status();
    assert!(copied.unwrap().success());
}

/// The content that a server finds when it starts on the folder, or why it refuses to start.
async fn started(data: &Path) -> Result<Held, String> {
    let data = DataFolder::at(data).unwrap();
    restoring::settle(&data, &Disk::default()).unwrap();
    if let Some(left) = restoring::left_behind(&data).unwrap() {
        return Err(format!("{left:?}"));
    }
    let shop = data.open().await.unwrap();
    let checked = shop.check().await.unwrap();
    assert_eq!(checked.wrong, Vec::<String>::new());
    let pulled = shop.pull(&Role::Repairer, None, None).await.unwrap();
    shop.store().close().await;
    let mut ids: Vec<_> = pulled.entries.iter().map(|held| held.entry.id).collect();
    ids.sort();
    Ok((ids, checked.blobs))
}

/// A backup, and a data folder of the same shop with more in it, part of which is only in the write-ahead log.
struct Before {
    folder: tempfile::TempDir,
    backup: PathBuf,
    data: PathBuf,
    backed_up: Held,
    whole: Held,
}

fn before() -> Before {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let mut ids = Vec::new();
    let mut push = |bytes: &[u8]| {
        let entries = pen.whole_job(bytes).entries;
        device.push_all(&entries);
        device.put_picture(bytes);
        ids.extend(entries.iter().map(|entry| entry.id));
        ids.sort();
        ids.clone()
    };
    let early = push(&picture(1, 3000));
    let backup = folder.path().join("shop.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    let all = push(&picture(2, 3000));
    let data = server.data.clone();
    server.kill();
    assert!(fs::metadata(data.join("waxend.db-wal")).unwrap().len() > 0);
    Before {
        folder,
        backup,
        data,
        backed_up: (early, 1),
        whole: (all, 2),
    }
}

/// Interrupts a restore into a copy of `data` after each number of changes, and calls `then` with the folder that is
/// left. Returns the number of changes of a whole restore.
async fn cut_off_everywhere(
    before: &Before,
    data: &Path,
    mut then: impl AsyncFnMut(usize, PathBuf),
) -> usize {
    for changes in 0.. {
        let cut = before.folder.path().join(format!("cut-{changes}"));
        copy(data, &cut);
        let folder = DataFolder::at(&cut).unwrap();
        let done = restoring::restore(
            &folder,
            &before.backup,
            &RestoreOptions::default(),
            &until(changes),
        )
        .await;
        let whole = done.is_ok();
        then(changes, cut.clone()).await;
        fs::remove_dir_all(&cut).unwrap();
        if whole {
            return changes;
        }
    }
    unreachable!("it never ends")
}

fn restore(before: &Before, data: &Path) -> Output {
    run(
        WAXEND,
        data,
        &["restore", "--replace", before.backup.to_str().unwrap()],
    )
}

#[tokio::test(flavor = "multi_thread")]
async fn a_restore_cut_off_at_any_step_leaves_the_old_shop_or_the_new_one() {
    let before = before();
    let mut news = Vec::new();
    let changes = cut_off_everywhere(&before, &before.data, async |changes, cut| {
        // The restore can be repeated by hand.
        let again = before.folder.path().join("again");
        copy(&cut, &again);
        let out = restore(&before, &again);
        assert!(out.status.success(), "{changes}: {out:?}");
        assert_eq!(started(&again).await.as_ref(), Ok(&before.backed_up), "{changes}");
        let names: Vec<_> = fs::read_dir(&again)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        assert!(!names.iter().any(|name| name.starts_with("restor")), "{names:?}");
        // The former database is deleted together with its write-ahead log.
        assert!(!names.iter().any(|name| name.contains(".replaced-")), "{names:?}");
        fs::remove_dir_all(&again).unwrap();

        let found = started(&cut).await.unwrap();
        assert!(
            found == before.whole || found == before.backed_up,
            "{changes}: {found:?}"
        );
        news.push(found == before.backed_up);
    })
    .await;
    // The former shop after the first steps, the restored one from some step on.
    assert!(news.is_sorted() && !news[0] && news[changes]);
    assert!(changes > 20, "{changes}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_restore_into_an_empty_folder_cut_off_at_any_step_is_never_a_new_shop() {
    let before = before();
    let empty = before.folder.path().join("empty");
    fs::create_dir(&empty).unwrap();
    cut_off_everywhere(&before, &empty, async |changes, cut| {
        match started(&cut).await {
            Ok(found) if changes > 0 => assert_eq!(found, before.backed_up, "{changes}"),
            // No change was made before the interruption, so the server starts a new shop.
            Ok(found) => assert_eq!(found, (Vec::new(), 0)),
            Err(_) => {
                // The binary refuses as well, and starts once the restore was repeated.
                if changes % 4 == 0 {
                    let refused = run(WAXEND, &cut, &["serve", "--listen", "127.0.0.1:0"]);
                    let said = String::from_utf8(refused.stderr).unwrap();
                    assert!(
                        !refused.status.success() && said.contains("run `waxend restore`"),
                        "{said}"
                    );
                }
                assert!(!cut.join("waxend.db").exists());
                assert!(restore(&before, &cut).status.success());
                assert_eq!(started(&cut).await.as_ref(), Ok(&before.backed_up), "{changes}");
            }
        }
    })
    .await;
}

#[test]
fn no_new_shop_is_begun_beside_one_that_was_put_aside() {
    let before = before();
    // The files as a restore by an earlier version has left them when it was interrupted.
    for suffix in ["", "-wal", "-shm"] {
        let old = before.data.join(format!("waxend.db{suffix}"));
        let aside = before
            .data
            .join(format!("waxend.db.replaced-1760000000000{suffix}"));
        fs::rename(old, aside).unwrap();
    }
    for command in [
        &["join"][..],
        &["demo"],
        &["check"],
        &["serve", "--listen", "127.0.0.1:0", "--demo-if-empty"],
    ] {
        let refused = run(WAXEND, &before.data, command);
        let said = String::from_utf8(refused.stderr).unwrap();
        assert!(!refused.status.success(), "{command:?}");
        for told in [
            "`waxend restore`",
            "waxend.db.replaced-1760000000000 to waxend.db",
            "--data",
        ] {
            assert!(said.contains(told), "{command:?}: {said}");
        }
        assert!(!before.data.join("waxend.db").exists());
    }
    // What the message tells the user to do works.
    for suffix in ["", "-wal"] {
        let aside = before
            .data
            .join(format!("waxend.db.replaced-1760000000000{suffix}"));
        fs::rename(aside, before.data.join(format!("waxend.db{suffix}"))).unwrap();
    }
    let server = Server::start(WAXEND, &before.data, &[]);
    let device = server.join(Pen::new(2).device);
    assert_eq!(device.pull_all().0.len(), before.whole.0.len());
    server.stop();
    assert!(restore(&before, &before.data).status.success());
}
