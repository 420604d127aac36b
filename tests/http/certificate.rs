//! The TLS certificate of a running server: a renewed one is used without a restart, and one that cannot be used does
//! not take the place of a good one.

use std::fs;
use std::net::TcpStream;
use std::path::Path;
use std::process::Command;
use std::sync::Arc;

use rustls::pki_types::CertificateDer;
use support::running::{Server, eventually};

use crate::WAXEND;

/// A new certificate, with its chain and its key as the texts of files.
struct Made {
    certificate: CertificateDer<'static>,
    chain: String,
    key: String,
}

impl Made {
    fn new() -> Self {
        let made = rcgen::generate_simple_self_signed(["localhost".to_owned()]).unwrap();
        Self {
            certificate: made.cert.der().clone(),
            chain: made.cert.pem(),
            key: made.signing_key.serialize_pem(),
        }
    }

    fn write_chain(&self, folder: &Path) {
        fs::write(folder.join("chain.pem"), &self.chain).unwrap();
    }

    fn write_key(&self, folder: &Path) {
        fs::write(folder.join("key.pem"), &self.key).unwrap();
    }
}

fn serve(folder: &Path) -> Server {
    let file = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    let (chain, key) = (file("chain.pem"), file("key.pem"));
    let flags = ["--tls-cert", &chain, "--tls-key", &key];
    Server::start(WAXEND, &folder.join("data"), &flags)
}

/// The certificate that the server shows on a new connection to a client that trusts `all` of these; `None` if the
/// connection fails.
fn shown(server: &Server, all: &[&Made]) -> Option<CertificateDer<'static>> {
    let mut trusted = rustls::RootCertStore::empty();
    for made in all {
        trusted.add(made.certificate.clone()).unwrap();
    }
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    // A client of its own for each connection, so that none goes on with the session of an earlier one.
    let client = rustls::ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .unwrap()
        .with_root_certificates(trusted)
        .with_no_client_auth();
    let name = "localhost".try_into().unwrap();
    let mut client = rustls::ClientConnection::new(Arc::new(client), name).unwrap();
    let address = server.url.split_once("://").unwrap().1;
    let mut socket = TcpStream::connect(address).ok()?;
    client.complete_io(&mut socket).ok()?;
    Some(client.peer_certificates()?.first()?.clone())
}

/// Asks the server to read its certificate again.
fn hang_up(server: &Server) {
    let sent = Command::new("kill")
        .args(["-HUP", &server.pid().to_string()])
        .status();
    assert!(sent.unwrap().success());
}

#[test]
fn a_renewed_certificate_is_used_without_a_restart_and_a_damaged_one_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let made = [(); 3].map(|()| Made::new());
    let [first, second, third] = &made;
    first.write_chain(folder);
    first.write_key(folder);
    let server = serve(folder);
    let shows = |made: &Made| shown(&server, &[first, second, third]).as_ref() == Some(&made.certificate);
    assert!(shows(first));

    second.write_chain(folder);
    second.write_key(folder);
    hang_up(&server);
    eventually("the second certificate is shown", || shows(second));

    let refused = || {
        let log = server.log();
        log.matches("the TLS certificate cannot be read again").count()
    };
    fs::write(folder.join("chain.pem"), "damaged").unwrap();
    hang_up(&server);
    eventually("the damaged file is told of", || refused() == 1);
    assert!(shows(second));
    // The chain is replaced before its key.
    third.write_chain(folder);
    hang_up(&server);
    eventually("the key of another certificate is told of", || refused() == 2);
    assert!(shows(second));
    third.write_key(folder);
    hang_up(&server);
    eventually("the third certificate is shown", || shows(third));
    server.stop();
}
