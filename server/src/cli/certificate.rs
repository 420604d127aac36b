//! The TLS certificate of a running server: it is read again when its files have changed, so that a renewed one is used
//! without a restart. Open connections go on with the certificate that they began with.

use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use axum_server::tls_rustls::RustlsConfig;
use tokio::fs;
use tokio::signal::unix::{Signal, SignalKind, signal};
use tracing::{error, info};

/// How often the files are looked at.
const LOOK: Duration = Duration::from_secs(60);

/// Reads a certificate from its files, and reads it again within a minute after they changed, or at once on SIGHUP.
///
/// # Errors
/// When the files cannot be read or do not fit together.
pub(super) async fn watched(chain: &Path, key: &Path) -> io::Result<RustlsConfig> {
    let files = CertificateFiles::new(chain, key);
    let changed = files.changed().await;
    let tls = RustlsConfig::from_pem_file(chain, key).await?;
    // SIGHUP would end the process if it came before somebody listens for it, so this does not wait for the task.
    let hangups = signal(SignalKind::hangup())?;
    tokio::spawn(files.watch(changed, hangups, tls.clone()));
    Ok(tls)
}

/// When the two files of a certificate were last changed; `None` for one that is not there.
type Changed = [Option<SystemTime>; 2];

/// The files of a certificate: its chain and its private key.
struct CertificateFiles {
    chain: PathBuf,
    key: PathBuf,
}

impl CertificateFiles {
    fn new(chain: &Path, key: &Path) -> Self {
        Self {
            chain: chain.to_owned(),
            key: key.to_owned(),
        }
    }

    /// When the files were last changed. Links are followed: a renewal may put a link to another file in place.
    async fn changed(&self) -> Changed {
        let (chain, key) = tokio::join!(fs::metadata(&self.chain), fs::metadata(&self.key));
        [chain, key].map(|file| file.and_then(|about| about.modified()).ok())
    }

    /// Reads the certificate again whenever the files have changed since it was last read, and on every SIGHUP. Runs for
    /// ever.
    async fn watch(self, mut read: Changed, mut hangups: Signal, tls: RustlsConfig) {
        let mut looks = tokio::time::interval(LOOK);
        loop {
            let asked = tokio::select! {
                _ = hangups.recv() => true,
                _ = looks.tick() => false,
            };
            // Asked before the files are read: what changes while they are read is noticed the next time.
            let changed = self.changed().await;
            if asked || changed != read {
                read = changed;
                self.read_again(&tls).await;
            }
        }
    }

    /// Reads the certificate again. If it cannot be used, for example because only one of the files was replaced so far,
    /// the former one stays in use.
    async fn read_again(&self, tls: &RustlsConfig) {
        match tls.reload_from_pem_file(&self.chain, &self.key).await {
            Ok(()) => info!("the TLS certificate was read again"),
            Err(error) => error!(
                %error,
                "the TLS certificate cannot be read again; the former one stays in use"
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs::File;

    use super::*;

    #[tokio::test]
    async fn a_change_of_either_file_is_noticed() {
        let folder = tempfile::tempdir().unwrap();
        let paths = ["chain.pem", "key.pem"].map(|name| folder.path().join(name));
        let files = CertificateFiles::new(&paths[0], &paths[1]);
        let mut known = files.changed().await;
        assert_eq!(known, [None, None]);
        for path in &paths {
            let file = File::create(path).unwrap();
            let now = files.changed().await;
            assert_ne!(now, known);
            let later = SystemTime::now() + LOOK;
            file.set_modified(later).unwrap();
            known = files.changed().await;
            assert_ne!(known, now);
        }
        assert_eq!(files.changed().await, known, "nothing more has changed");
    }
}
