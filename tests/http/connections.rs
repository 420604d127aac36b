//! Connections that send nothing or very little: they are closed, and no other client has to wait for them meanwhile.

use std::io::{ErrorKind, Read, Write};
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpStream};
use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use shared::sync::messages::{PushAnswer, PushRequest};
use socket2::{Domain, Socket, Type};
use support::running::{Client, Server, eventually};
use support::sample::{Pen, picture, sha256, unsent};

use crate::{WAXEND, server_with};

const LIVE: &[u8] = b"GET /health/live HTTP/1.1\r\nhost: x\r\n\r\n";
const HERE: Ipv4Addr = Ipv4Addr::LOCALHOST;

/// What a client does that keeps a connection without using it.
#[derive(Clone, Copy)]
enum Useless {
    /// It opens the connection and sends nothing.
    Silent,
    /// It sends a request's header one byte at a time.
    Header,
    /// It sends a request's body one byte at a time.
    Body,
    /// It sends one request, reads the response, and sends nothing more.
    Idle,
    /// It sends the TLS handshake one byte at a time.
    Handshake,
}

impl Useless {
    const PLAIN: [Self; 4] = [Self::Silent, Self::Header, Self::Body, Self::Idle];

    fn opening(self) -> &'static [u8] {
        match self {
            Self::Silent => b"",
            Self::Header => b"GET /api/v1/status HTTP/1.1\r\nhost: x\r\nx-",
            Self::Body => b"POST /api/v1/join HTTP/1.1\r\nhost: x\r\ncontent-length: 1000000\r\n\r\n{",
            Self::Idle => LIVE,
            // The start of a TLS record of 512 bytes with a ClientHello (RFC 8446, sections 5.1 and 4).
            Self::Handshake => b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
        }
    }

    fn open(self, server: SocketAddr, from: Ipv4Addr) -> std::io::Result<TcpStream> {
        let socket = Socket::new(Domain::IPV4, Type::STREAM, None)?;
        socket.bind(&SocketAddr::new(IpAddr::V4(from), 0).into())?;
        socket.connect_timeout(&server.into(), Duration::from_secs(2))?;
        let mut stream = TcpStream::from(socket);
        stream.write_all(self.opening())?;
        stream.set_nonblocking(true)?;
        Ok(stream)
    }

    /// Sends the next byte, if this client sends any, and reads. Returns whether the connection is still open.
    fn goes_on(self, stream: &mut TcpStream) -> bool {
        if matches!(self, Self::Header | Self::Body | Self::Handshake) && stream.write_all(b"x").is_err() {
            return false;
        }
        match stream.read(&mut [0; 1024]) {
            Ok(bytes) => bytes > 0,
            Err(error) => error.kind() == ErrorKind::WouldBlock,
        }
    }
}

/// How many connections of a kind are opened in one step while the full number is not reached,
const COMING: usize = 5;
/// and how many afterwards, in the place of those that were cut off.
const AGAIN: usize = 1;
/// The pause between two steps.
const LYING: Duration = Duration::from_millis(10);

/// Opens `count` useless connections, sends the next byte on each, and opens new ones for those that were cut off,
/// until told to stop.
fn besiege(server: SocketAddr, how: Useless, from: &[Ipv4Addr], count: usize, siege: &Siege) {
    let mut streams: Vec<Option<TcpStream>> = Vec::new();
    streams.resize_with(count, || None);
    let mut opened = 0;
    while !siege.over.load(Ordering::Relaxed) {
        let some = if opened < count { COMING } else { AGAIN };
        let missing = streams.iter_mut().enumerate().filter_map(|(number, stream)| {
            let stays = stream.as_mut().is_some_and(|stream| how.goes_on(stream));
            (!stays).then_some((number, stream))
        });
        for (number, stream) in missing.take(some) {
            *stream = how.open(server, from[number % from.len()]).ok();
            opened += 1;
            siege.opened.fetch_add(1, Ordering::Relaxed);
        }
        std::thread::sleep(LYING);
    }
}

#[derive(Default)]
struct Siege {
    over: AtomicBool,
    opened: AtomicUsize,
}

/// Sends requests while useless connections are opened and kept. Returns how long the slowest response took.
fn slowest_answer(
    server: &Server,
    kinds: &[Useless],
    from: &[Ipv4Addr],
    ask: &mut dyn FnMut(usize),
) -> Duration {
    let siege = Siege::default();
    let opened = || siege.opened.load(Ordering::Relaxed);
    let of_each = ALL / kinds.len();
    let server = address(server);
    std::thread::scope(|scope| {
        for how in kinds {
            let siege = &siege;
            scope.spawn(move || besiege(server, *how, from, of_each, siege));
        }
        let _over = Over(&siege);
        let mut slowest = Duration::ZERO;
        for number in 0.. {
            if number >= ASKED && opened() >= ALL {
                break;
            }
            let began = Instant::now();
            ask(number);
            slowest = slowest.max(began.elapsed());
        }
        eprintln!("{slowest:?}, {} opened", opened());
        slowest
    })
}

/// Ends a siege when dropped, also when an assertion fails.
struct Over<'a>(&'a Siege);

impl Drop for Over<'_> {
    fn drop(&mut self) {
        self.0.over.store(true, Ordering::Relaxed);
    }
}

/// The number of useless connections.
const ALL: usize = 2000;
/// The least number of requests.
const ASKED: usize = 60;

/// Repeats a request if its connection is cut off. The time of all attempts counts.
fn again_and_again<T>(ask: impl FnMut() -> Option<T>) -> T {
    let began = Instant::now();
    let mut answers = std::iter::repeat_with(ask).take_while(|_| began.elapsed() < Duration::from_secs(5));
    answers.find_map(|answer| answer).expect("an answer in time")
}

/// The address a server listens on.
pub(super) fn address(server: &Server) -> SocketAddr {
    server.url.split_once("://").unwrap().1.parse().unwrap()
}

/// A server that can have at most 256 open files.
fn with_few_files(data: &Path, flags: &[&str]) -> Server {
    let mut command = Command::new("prlimit");
    command
        .args(["--nofile=256:256", WAXEND, "serve", "--listen", "127.0.0.1:0"])
        .args(["--limit-address", "10000000", "--limit-device", "10000000"])
        .args(flags)
        .arg("--data")
        .arg(data);
    Server::launch(WAXEND, data, command)
}

/// Raises this process's limit of open files: the test needs a socket for each connection.
fn allow_many_files() {
    use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
    let Rlimit { maximum, .. } = getrlimit(Resource::Nofile);
    let current = maximum;
    setrlimit(Resource::Nofile, Rlimit { current, maximum }).unwrap();
}

#[test]
fn an_honest_client_is_answered_within_a_second_while_two_thousand_lie_about() {
    let elsewhere: Vec<_> = (2..=250).map(|last| Ipv4Addr::new(127, 0, 0, last)).collect();
    allow_many_files();
    let folder = tempfile::tempdir().unwrap();
    let server = with_few_files(&folder.path().join("data"), &[]);
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let mut pushed = 0;
    // The useless connections come from the honest client's address, then from many others.
    for from in [&[HERE][..], &elsewhere] {
        let slowest = slowest_answer(&server, &Useless::PLAIN, from, &mut |number| {
            // Every second request uses a connection that was idle and may have been cut off.
            let client = match number % 2 {
                0 => Client::stranger(&server.url).with_token(device.token.clone().unwrap()),
                _ => device.clone(),
            };
            let job = pen.whole_job(b"").entries;
            let request = PushRequest {
                entries: unsent(&job),
                pushed: None,
            };
            let body = serde_json::to_vec(&request).unwrap();
            let answer = again_and_again(|| client.try_send("POST", "/api/v1/entries", &[], &body));
            let taken: PushAnswer = answer.read(200);
            assert_eq!(taken.results.len(), job.len());
            pushed += job.len();
        });
        assert!(slowest < Duration::from_secs(1), "{slowest:?}");
    }
    assert_eq!(device.pull_all().0.len(), pushed);
    let log = server.log();
    assert!(log.contains("connections were cut off"), "{log}");
    assert!(!log.contains("127.0.0.2") && !log.contains("panicked"), "{log}");
}

/// A server with TLS, and a client configuration that trusts it.
pub(super) fn with_tls(folder: &Path) -> (Server, Arc<rustls::ClientConfig>) {
    let made = rcgen::generate_simple_self_signed(["localhost".to_owned()]).unwrap();
    let (chain, key) = (folder.join("chain.pem"), folder.join("key.pem"));
    std::fs::write(&chain, made.cert.pem()).unwrap();
    std::fs::write(&key, made.signing_key.serialize_pem()).unwrap();
    let flags = [
        "--tls-cert",
        chain.to_str().unwrap(),
        "--tls-key",
        key.to_str().unwrap(),
    ];
    let server = with_few_files(&folder.join("data"), &flags);
    let mut trusted = rustls::RootCertStore::empty();
    trusted.add(made.cert.der().clone()).unwrap();
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let client = rustls::ClientConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .unwrap()
        .with_root_certificates(trusted)
        .with_no_client_auth();
    (server, Arc::new(client))
}

#[test]
fn a_handshake_that_never_ends_holds_nobody_up_either() {
    allow_many_files();
    let folder = tempfile::tempdir().unwrap();
    let (server, trust) = with_tls(folder.path());
    let kinds = [Useless::Silent, Useless::Handshake];
    let slowest = slowest_answer(&server, &kinds, &[HERE], &mut |_| {
        let ask = || -> std::io::Result<[u8; 15]> {
            let name = "localhost".try_into().unwrap();
            let client = rustls::ClientConnection::new(trust.clone(), name).unwrap();
            let socket = TcpStream::connect(address(&server))?;
            let mut stream = rustls::StreamOwned::new(client, socket);
            stream.write_all(LIVE)?;
            let mut start = [0; 15];
            stream.read_exact(&mut start)?;
            Ok(start)
        };
        let start = again_and_again(|| ask().ok());
        assert_eq!(&start, b"HTTP/1.1 200 OK");
    });
    assert!(slowest < Duration::from_secs(1), "{slowest:?}");
}

/// Keeps a useless connection until the server closes it. Returns what the server sent.
fn until_its_end(server: SocketAddr, how: Useless) -> String {
    let mut stream = how.open(server, HERE).unwrap();
    stream.set_nonblocking(false).unwrap();
    stream.set_read_timeout(Some(Duration::from_millis(20))).unwrap();
    let (mut heard, began) = (Vec::new(), Instant::now());
    loop {
        assert!(began.elapsed() < Duration::from_secs(20), "it never ended");
        if matches!(how, Useless::Header | Useless::Body) {
            // Writing may fail because the connection was closed. What the server sent before can still be read.
            let _ = stream.write_all(b"x");
        }
        let mut some = [0; 1024];
        match stream.read(&mut some) {
            Ok(0) => break,
            Ok(bytes) => heard.extend_from_slice(&some[..bytes]),
            Err(error) if error.kind() == ErrorKind::WouldBlock => {}
            Err(_) => break,
        }
    }
    assert!(
        began.elapsed() > Duration::from_millis(900),
        "it was given no time"
    );
    String::from_utf8(heard).unwrap()
}

#[test]
fn what_does_not_go_on_is_ended_and_what_does_is_not() {
    let waits = ["--wait-header", "1", "--wait-body", "1", "--wait-idle", "1"];
    let (_folder, server) = server_with(&waits);
    let device = server.join(Pen::new(1).device);
    let at = address(&server);
    std::thread::scope(|scope| {
        for (how, said) in [
            (Useless::Silent, ""),
            (Useless::Header, ""),
            (Useless::Idle, "200 OK"),
            (Useless::Body, "came too slowly"),
        ] {
            scope.spawn(move || {
                let heard = until_its_end(at, how);
                assert!(
                    heard.contains(said) && heard.is_empty() == said.is_empty(),
                    "{heard}"
                );
            });
        }
        // A photograph over a slow line takes far longer in all than any of the time limits.
        let mut stream = TcpStream::connect(at).unwrap();
        let bytes = picture(1, 20 * 1024);
        let head = format!(
            "PUT /api/v1/blobs/{} HTTP/1.1\r\nhost: x\r\nauthorization: Bearer {}\r\n\
             content-type: image/jpeg\r\ncontent-length: {}\r\n\r\n",
            sha256(&bytes),
            device.token.clone().unwrap(),
            bytes.len()
        );
        stream.write_all(head.as_bytes()).unwrap();
        for part in bytes.chunks(1024) {
            std::thread::sleep(Duration::from_millis(150));
            stream.write_all(part).unwrap();
        }
        let mut start = [0; 20];
        stream.read_exact(&mut start).unwrap();
        assert_eq!(&start, b"HTTP/1.1 201 Created");
    });
    eventually("the log has heard of it", || {
        server.log().contains("were cut off")
    });
}

#[test]
fn an_address_has_a_cap_and_a_trusted_proxy_one_of_its_own() {
    let flags = [
        "--limit-connections=40",
        "--limit-connections-address=4",
        "--trusted-proxy=192.0.2.1,127.0.0.9",
    ];
    let (_folder, server) = server_with(&flags);
    for (last, stay) in [(8, 4), (9, 10)] {
        let from = Ipv4Addr::new(127, 0, 0, last);
        let answered = |_| {
            let mut stream = Useless::Idle.open(address(&server), from).unwrap();
            let mut start = [0; 15];
            stream.set_nonblocking(false).unwrap();
            stream.read_exact(&mut start).unwrap();
            assert_eq!(&start, b"HTTP/1.1 200 OK");
            stream.set_nonblocking(true).unwrap();
            stream
        };
        let mut open: Vec<_> = (0..10).map(answered).collect();
        // This also reads the rest of each response.
        eventually("those past the cap are gone", || {
            open.retain_mut(|stream| Useless::Idle.goes_on(stream));
            open.len() <= stay
        });
        assert_eq!(open.len(), stay);
    }
}
