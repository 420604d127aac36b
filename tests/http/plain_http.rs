//! What the log says when the server starts without TLS.

use std::fs;
use std::path::Path;
use std::process::Command;

use support::running::Server;

use crate::WAXEND;

/// Whether a server that was started with these flags warns of plain http. The log has it before the server says that
/// it listens.
fn warns(data: &Path, flags: &[&str]) -> bool {
    let mut command = Command::new(WAXEND);
    command.arg("serve").arg("--data").arg(data).args(flags);
    let log = Server::launch(WAXEND, data, command).log();
    let warned = log.contains("WARN") && log.contains("plain http on a public address");
    let told = log.contains("--tls-cert") && log.contains("--trusted-proxy");
    assert_eq!(warned, told, "{log}");
    warned
}

#[test]
fn plain_http_on_a_public_address_is_warned_of() {
    let folder = tempfile::tempdir().unwrap();
    let made = rcgen::generate_simple_self_signed(["localhost".to_owned()]).unwrap();
    let [chain, key] = ["chain.pem", "key.pem"].map(|name| folder.path().join(name));
    fs::write(&chain, made.cert.pem()).unwrap();
    fs::write(&key, made.signing_key.serialize_pem()).unwrap();
    let [chain, key] = [&chain, &key].map(|file| file.to_str().unwrap());

    let everywhere = ["--listen", "0.0.0.0:0"];
    let warns = |data: &str, flags: &[&str]| warns(&folder.path().join(data), flags);
    assert!(warns("plain", &everywhere));
    // That people reach it over https does not mean that nobody reaches it without.
    assert!(warns(
        "url",
        &[&everywhere[..], &["--url", "https://bench.example"]].concat()
    ));
    assert!(!warns(
        "proxy",
        &[&everywhere[..], &["--trusted-proxy", "192.0.2.1"]].concat()
    ));
    assert!(!warns(
        "tls",
        &[&everywhere[..], &["--tls-cert", chain, "--tls-key", key]].concat()
    ));
    assert!(!warns("here", &["--listen", "127.0.0.1:0"]));
}
