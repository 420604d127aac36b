//! The security headers of every answer.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::sync::Arc;

use serde_json::{Value, json};
use support::running::{Answer, Client, Server};
use support::sample::{Pen, WholeJob, picture, sha256};

use crate::connections::{address, with_tls};
use crate::openapi::description;
use crate::{server, server_with};

/// What an answer is to a browser.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    /// A file of the app.
    App,
    /// A care card, or what it shows.
    Card,
    /// Anything else.
    Data,
}

/// The headers of every answer.
const ALWAYS: [(&str, &str); 4] = [
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];
/// What the app asks a browser for. Nothing else is permitted to it, and none of it to any other answer.
const PERMITTED: [&str; 6] = [
    "autoplay",
    "camera",
    "clipboard-write",
    "microphone",
    "screen-wake-lock",
    "web-share",
];
/// Some of what a browser would permit if no header denied it.
const DENIED: [&str; 6] = [
    "bluetooth",
    "display-capture",
    "geolocation",
    "midi",
    "payment",
    "usb",
];
const TRANSPORT: &str = "strict-transport-security";

impl Kind {
    fn content_policy(self) -> &'static str {
        match self {
            Self::App => {
                "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; \
                 connect-src 'self' https: http://localhost:* http://127.0.0.1:*; img-src 'self' blob: data:; \
                 font-src data:; media-src 'self' blob:; object-src 'none'; base-uri 'self'; form-action 'none'; \
                 frame-ancestors 'none'"
            }
            Self::Card => {
                "default-src 'none'; img-src 'self'; style-src 'self'; font-src data:; base-uri 'none'; \
                 form-action 'none'; frame-ancestors 'none'"
            }
            Self::Data => "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
        }
    }

    /// Checks all security headers of an answer but the one for https.
    fn holds(self, what: &str, answer: &Answer) {
        for (name, value) in ALWAYS {
            assert_eq!(answer.header(name), value, "{what}: {name}");
        }
        let policies = answer.headers.get_all("content-security-policy");
        assert!(
            policies.iter().eq([self.content_policy()]),
            "{what}: {policies:?}"
        );
        let permissions: BTreeMap<_, _> = answer
            .header("permissions-policy")
            .split(", ")
            .map(|feature| feature.split_once('=').unwrap())
            .collect();
        for feature in PERMITTED.iter().chain(&DENIED) {
            assert!(permissions.contains_key(feature), "{what}: {feature}");
        }
        for (feature, to) in permissions {
            let permitted = self == Self::App && PERMITTED.contains(&feature);
            assert_eq!(to, if permitted { "(self)" } else { "()" }, "{what}: {feature}");
        }
    }
}

/// What an answer is, its status, which route it comes from, and the answer. An address that no route has is written as
/// it was asked for.
type Row = (Kind, u16, &'static str, Answer);

use Kind::{App, Card, Data};

/// A folder with what the tests need of the app.
fn app_folder(folder: &Path) -> String {
    let app = folder.join("app");
    std::fs::create_dir_all(app.join("pkg")).unwrap();
    for (name, content) in [
        ("index.html", "<!doctype html><title>Waxend</title>"),
        ("sw.js", "self.skipWaiting();"),
        ("pkg/app.wasm", "\0asm"),
    ] {
        std::fs::write(app.join(name), content).unwrap();
    }
    app.display().to_string()
}

/// The answers of the API to a device that has joined.
fn answers_to_device(device: &Client, job: &WholeJob) -> Vec<Row> {
    let here = format!("/api/v1/blobs/{}", job.blob.sha256);
    let nowhere = format!("/api/v1/blobs/{}", "ab".repeat(32));
    let new = picture(2, 3000);
    let put = device.put_blob(&sha256(&new), "image/jpeg", &new);
    let wrong = json!({ "entries": 3 });
    let held = json!({ "held": [{ "id": job.entries[0].id }] });
    let hashes = json!({ "hashes": [job.blob.sha256] });
    let post = |path: &str, body: &Value| device.post(path, body);
    vec![
        (
            Data,
            201,
            "/api/v1/join-codes",
            device.post("/api/v1/join-codes", &()),
        ),
        (Data, 200, "/api/v1/entries", device.get("/api/v1/entries")),
        (Data, 400, "/api/v1/entries", post("/api/v1/entries", &wrong)),
        (
            Data,
            200,
            "/api/v1/entries/missing",
            post("/api/v1/entries/missing", &held),
        ),
        (Data, 200, "/api/v1/kept-aside", device.get("/api/v1/kept-aside")),
        (
            Data,
            400,
            "/api/v1/kept-aside",
            post("/api/v1/kept-aside", &wrong),
        ),
        (Data, 200, "/api/v1/in-shop", device.get("/api/v1/in-shop")),
        (Data, 400, "/api/v1/history", device.get("/api/v1/history")),
        (Data, 200, "/api/v1/blobs/{sha256}", device.get(&here)),
        (Data, 404, "/api/v1/blobs/{sha256}", device.get(&nowhere)),
        (Data, 201, "/api/v1/blobs/{sha256}", put),
        (
            Data,
            200,
            "/api/v1/blobs/missing",
            post("/api/v1/blobs/missing", &hashes),
        ),
        (Data, 200, "/api/v1/status", device.ask_status()),
        (Data, 200, "/api/fn/v1/devices", device.get("/api/fn/v1/devices")),
        (Data, 400, "/api/fn/v1/shut-out", device.shut_out("nobody")),
        (Data, 404, "/api/fn/v1/nothing", device.get("/api/fn/v1/nothing")),
    ]
}

/// The answers to somebody without a token, other than care cards and the app.
fn answers_to_stranger(stranger: &Client) -> Vec<Row> {
    let preflight = [
        ("origin", "https://bench.example"),
        ("access-control-request-method", "PUT"),
        ("access-control-request-headers", "authorization,content-type"),
    ];
    let send = |method: &str, path: &str, body: &[u8]| stranger.send(method, path, &[], body);
    vec![
        (Data, 200, "/health", stranger.get("/health")),
        (Data, 200, "/health/live", stranger.get("/health/live")),
        (Data, 200, "/health/ready", stranger.get("/health/ready")),
        (
            Data,
            200,
            "/api/v1/openapi.json",
            stranger.get("/api/v1/openapi.json"),
        ),
        (Data, 401, "/api/v1/entries", stranger.get("/api/v1/entries")),
        (Data, 400, "/api/v1/join", send("POST", "/api/v1/join", b"{")),
        (
            Data,
            413,
            "/api/v1/join",
            send("POST", "/api/v1/join", &[b' '; 20_000]),
        ),
        (
            Data,
            400,
            "/api/v1/shut-out",
            send("POST", "/api/v1/shut-out", b"{"),
        ),
        (
            Data,
            200,
            "/api/v1/status",
            stranger.send("OPTIONS", "/api/v1/status", &preflight, b""),
        ),
        (Data, 405, "/api/v1/status", send("POST", "/api/v1/status", b"{}")),
        (Data, 404, "/api/v1/nothing", stranger.get("/api/v1/nothing")),
        (Data, 404, "/nothing.js", stranger.get("/nothing.js")),
        (Data, 404, "/", send("POST", "/", b"{}")),
    ]
}

/// The answers under the link of a care card, the last of them after too many guesses.
fn answers_of_card(stranger: &Client, job: &WholeJob) -> Vec<Row> {
    let card = format!("/card/{}", job.secret);
    let page = stranger.get(&card);
    let html = page.text();
    let style = html.split("href=\"").nth(1).unwrap().split('"').next().unwrap();
    let photo = format!("{card}/photo/{}", job.blob.sha256);
    let other = format!("{card}/photo/{}", "ab".repeat(32));
    let calendar = format!("{card}/check.ics");
    vec![
        (Card, 200, "/card-style/{name}", stranger.get(style)),
        (
            Card,
            404,
            "/card-style/{name}",
            stranger.get("/card-style/card-0000.css"),
        ),
        (Card, 200, "/card/{secret}", page),
        (Card, 200, "/card/{secret}/photo/{sha256}", stranger.get(&photo)),
        (Card, 200, "/card/{secret}/check.ics", stranger.get(&calendar)),
        (
            Data,
            405,
            "/card/{secret}",
            stranger.send("DELETE", &card, &[], b""),
        ),
        (Card, 404, "/card/{secret}", stranger.get("/card/nothing")),
        (Card, 404, "/card/{secret}/photo/{sha256}", stranger.get(&other)),
        (
            Card,
            404,
            "/card/{secret}/check.ics",
            stranger.get("/card/nothing/check.ics"),
        ),
        (Card, 429, "/card/{secret}", stranger.get("/card/nothing")),
        (
            Card,
            429,
            "/card/{secret}/check.ics",
            stranger.get("/card/nothing/check.ics"),
        ),
    ]
}

fn answers_of_app(stranger: &Client) -> Vec<Row> {
    let page = stranger.get("/");
    let known = [("if-none-match", page.header("etag"))];
    let unchanged = stranger.send("GET", "/", &known, b"");
    let navigation = [("accept", "text/html")];
    vec![
        (App, 200, "/", page),
        (App, 304, "/", unchanged),
        (App, 200, "/join", stranger.send("GET", "/join", &navigation, b"")),
        (App, 200, "/sw.js", stranger.get("/sw.js")),
        (App, 200, "/pkg/app.wasm", stranger.get("/pkg/app.wasm")),
    ]
}

#[test]
fn every_answer_has_the_headers_of_its_kind() {
    let folder = tempfile::tempdir().unwrap();
    let app = app_folder(folder.path());
    let (_folder, server) = server_with(&["--app", &app, "--limit-guess", "3"]);
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let bytes = picture(1, 3000);
    let job = pen.whole_job(&bytes);
    device.push_all(&job.entries);
    device.put_picture(&bytes);
    let stranger = server.stranger();
    let rows: Vec<Row> = [
        answers_to_device(&device, &job),
        answers_to_stranger(&stranger),
        answers_of_card(&stranger, &job),
        answers_of_app(&stranger),
    ]
    .into_iter()
    .flatten()
    .collect();
    for (kind, status, path, answer) in &rows {
        let what = format!("{path} {status}");
        assert_eq!(answer.status, *status, "{what}: {}", answer.text());
        kind.holds(&what, answer);
        assert_eq!(answer.header(TRANSPORT), "", "{what}");
    }
    let asked: BTreeSet<_> = rows.iter().map(|(_, _, path, _)| (*path).to_owned()).collect();
    let description = description();
    let described = description["paths"].as_object().unwrap().keys().cloned();
    let left: Vec<_> = described.filter(|path| !asked.contains(path)).collect();
    assert!(left.is_empty(), "routes without a row: {left:?}");
}

#[test]
fn a_start_page_without_the_app_is_no_page_of_the_app() {
    let (_folder, server) = server();
    let start = server.stranger().get("/");
    assert_eq!(start.status, 404);
    Data.holds("/", &start);
}

/// Some addresses whose answers differ in kind and status.
const SOME: [&str; 4] = ["/health", "/api/v1/status", "/card/nothing", "/nothing.js"];

#[test]
fn only_a_server_that_is_reached_over_https_asks_browsers_for_https() {
    for (url, told) in [
        ("https://bench.example", "max-age=31536000"),
        ("HTTPS://bench.example/", "max-age=31536000"),
        ("http://bench.example", ""),
        ("http://https.example", ""),
    ] {
        let (_folder, server) = server_with(&["--url", url]);
        for path in SOME {
            assert_eq!(
                server.stranger().get(path).header(TRANSPORT),
                told,
                "{url} {path}"
            );
        }
    }
}

/// Sends a request over TLS; the answer as text.
fn over_tls(server: &Server, trust: &Arc<rustls::ClientConfig>, path: &str) -> String {
    let name = "localhost".try_into().unwrap();
    let client = rustls::ClientConnection::new(trust.clone(), name).unwrap();
    let socket = TcpStream::connect(address(server)).unwrap();
    let mut stream = rustls::StreamOwned::new(client, socket);
    let request = format!("GET {path} HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n");
    stream.write_all(request.as_bytes()).unwrap();
    let mut answer = Vec::new();
    // How the connection is closed does not matter.
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

#[test]
fn a_server_with_tls_asks_browsers_for_https() {
    let folder = tempfile::tempdir().unwrap();
    let (server, trust) = with_tls(folder.path());
    for path in SOME {
        let answer = over_tls(&server, &trust, path);
        assert!(
            answer.contains("\r\nstrict-transport-security: max-age=31536000\r\n"),
            "{answer}"
        );
        assert!(
            answer.contains("\r\nx-content-type-options: nosniff\r\n"),
            "{answer}"
        );
    }
}
