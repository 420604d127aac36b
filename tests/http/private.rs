//! Files of the data folder are accessible only to the user that runs the server.

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::Command;

use shared::log::body::Erased;
use shared::log::{Body, SubjectKind};
use support::running::Server;
use support::sample::{Pen, picture};

use crate::WAXEND;

/// A command of the binary, started under this umask.
fn under(umask: &str, args: &[&str], data: &Path) -> Command {
    let mut command = Command::new("sh");
    command
        .args(["-c", "umask \"$0\" && exec \"$@\"", umask, WAXEND])
        .args(args)
        .arg("--data")
        .arg(data);
    command
}

fn serve(umask: &str, data: &Path) -> Server {
    Server::launch(
        WAXEND,
        data,
        under(umask, &["serve", "--listen", "127.0.0.1:0"], data),
    )
}

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

/// Checks the permissions of this file or folder and of everything below it. Returns how many there are.
fn assert_private(path: &Path) -> usize {
    if path.is_dir() {
        assert_eq!(mode(path), 0o700, "{}", path.display());
        let below = fs::read_dir(path).unwrap();
        return 1 + below
            .map(|entry| assert_private(&entry.unwrap().path()))
            .sum::<usize>();
    }
    assert_eq!(mode(path), 0o600, "{}", path.display());
    1
}

/// Gives everybody access to everything in the folder, as an earlier version or a careless copy may have done.
fn loosen(path: &Path) {
    let loose = if path.is_dir() { 0o755 } else { 0o644 };
    fs::set_permissions(path, fs::Permissions::from_mode(loose)).unwrap();
    if path.is_dir() {
        fs::read_dir(path)
            .unwrap()
            .for_each(|entry| loosen(&entry.unwrap().path()));
    }
}

#[test]
fn nobody_else_can_read_the_data_or_a_backup_whatever_the_umask() {
    for umask in ["000", "022"] {
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().join("data");
        let server = serve(umask, &data);
        let mut pen = Pen::new(1);
        let device = server.join(pen.device);
        let bytes = picture(1, 3000);
        let job = pen.whole_job(&bytes);
        device.push_all(&job.entries);
        device.put_picture(&bytes);
        let erased = Body::Erased(Erased { blob: None });
        device.push_all(&[pen.entry(SubjectKind::Customer, job.customer, &erased)]);
        // The database with its write-ahead log and its index, the photograph in its folders, the ledger, the lock, the
        // address.
        assert!(data.join("waxend.db-wal").exists() && data.join("erased.jsonl").exists());
        assert_eq!(assert_private(&data), 12);

        let backup = folder.path().join("shop.tar");
        let backed_up = under(umask, &["backup", backup.to_str().unwrap()], &data).output();
        assert!(backed_up.unwrap().status.success());
        assert_eq!(assert_private(&backup), 1);
        server.stop();
        loosen(&data);
        let restore = [
            "restore",
            "--replace",
            "--keep-replaced",
            backup.to_str().unwrap(),
        ];
        let restored = under(umask, &restore, &data).output();
        assert!(restored.unwrap().status.success());
        let put_aside = fs::read_dir(&data).unwrap().any(|entry| {
            let name = entry.unwrap().file_name();
            name.to_string_lossy().contains("replaced")
        });
        assert!(put_aside);
        assert_private(&data);

        loosen(&data);
        let server = serve(umask, &data);
        assert_private(&data);
        server.stop();
    }
}
