//! The real binary on a free port, and a plain client for it.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

use serde::Serialize;
use serde::de::DeserializeOwned;
use shared::log::body::Role;
use shared::log::{DeviceId, Entry, ReceivedEntry};
use shared::sync::messages::{
    Device, JoinAnswer, JoinCode, JoinCodeRequest, JoinRequest, PullAnswer, PushAnswer, PushOutcome,
    PushRequest,
};
use shared::sync::{Cursor, Problem};

use crate::sample;

/// A running server. It is killed when dropped.
pub struct Server {
    pub url: String,
    pub data: PathBuf,
    binary: &'static str,
    child: Child,
}

impl Server {
    /// Starts the binary on this data folder and waits until it prints its address.
    pub fn start(binary: &'static str, data: &Path, flags: &[&str]) -> Self {
        let mut command = Command::new(binary);
        command
            .arg("serve")
            .arg("--data")
            .arg(data)
            .args(["--listen", "127.0.0.1:0"])
            .args(flags);
        Self::launch(binary, data, command)
    }

    /// Starts a server with a command that the test has made, for example one that sets limits first.
    pub fn launch(binary: &'static str, data: &Path, mut command: Command) -> Self {
        let log = std::fs::File::options()
            .create(true)
            .append(true)
            .open(data.with_extension("log"))
            .unwrap();
        let mut child = command.stdout(Stdio::piped()).stderr(log).spawn().unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let line = lines
            .next()
            .expect("the server said nothing; its log is beside its data")
            .unwrap();
        let url = line.strip_prefix("Waxend listens on ").unwrap().to_owned();
        // The rest of its output is read, so that it never blocks on a full pipe.
        std::thread::spawn(move || lines.for_each(drop));
        Self {
            url,
            data: data.to_owned(),
            binary,
            child,
        }
    }

    pub fn pid(&self) -> u32 {
        self.child.id()
    }

    /// The content of its log so far.
    pub fn log(&self) -> String {
        std::fs::read_to_string(self.data.with_extension("log")).unwrap()
    }

    /// Kills it without warning, as a power cut would.
    pub fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }

    /// Asks it to stop and waits until it has stopped.
    pub fn stop(mut self) {
        let pid = self.pid().to_string();
        assert!(
            Command::new("kill")
                .args(["-TERM", &pid])
                .status()
                .unwrap()
                .success()
        );
        assert!(self.child.wait().unwrap().success(), "{}", self.log());
    }

    /// Runs another command of the binary on the same data folder.
    pub fn run(&self, args: &[&str]) -> Output {
        run(self.binary, &self.data, args)
    }

    /// A new join code.
    pub fn code(&self) -> String {
        let out = String::from_utf8(self.run(&["join"]).stdout).unwrap();
        out.lines()
            .find_map(|line| line.strip_prefix("Join code: "))
            .unwrap()
            .to_owned()
    }

    /// Joins a device with a new code.
    pub fn join(&self, device: DeviceId) -> Client {
        self.join_with(&self.code(), device)
    }

    /// Joins a device with this code.
    pub fn join_with(&self, code: &str, device: DeviceId) -> Client {
        let request = JoinRequest {
            code: code.to_owned(),
            device,
            name: "Bench phone".to_owned(),
            shop: None,
        };
        let answer: JoinAnswer = Client::stranger(&self.url)
            .post("/api/v1/join", &request)
            .read(200);
        Client {
            token: Some(answer.token),
            ..Client::stranger(&self.url)
        }
    }

    pub fn stranger(&self) -> Client {
        Client::stranger(&self.url)
    }

    /// A value in kB from `/proc/<pid>/status`, for example `VmHWM`, the most memory that the process has had.
    pub fn memory_kb(&self, figure: &str) -> u64 {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.pid())).unwrap();
        let line = status.lines().find_map(|line| line.strip_prefix(figure)).unwrap();
        line.trim_matches([':', ' ', '\t', 'k', 'B']).parse().unwrap()
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Runs a command of the binary.
pub fn run(binary: &str, data: &Path, args: &[&str]) -> Output {
    Command::new(binary)
        .args(args)
        .arg("--data")
        .arg(data)
        .output()
        .unwrap()
}

/// Waits until a condition holds; panics if that takes too long.
pub fn eventually(what: &str, mut so: impl FnMut() -> bool) {
    let until = Instant::now() + Duration::from_secs(20);
    while !so() {
        assert!(Instant::now() < until, "waited in vain until {what}");
        std::thread::yield_now();
    }
}

/// A plain HTTP client.
#[derive(Clone)]
pub struct Client {
    pub url: String,
    pub token: Option<String>,
    agent: ureq::Agent,
}

/// A response of any status.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub headers: ureq::http::HeaderMap,
    pub body: Vec<u8>,
}

impl Client {
    pub fn stranger(url: &str) -> Self {
        let config = ureq::Agent::config_builder()
            .http_status_as_error(false)
            .max_redirects(0);
        let agent = config
            .timeout_global(Some(Duration::from_secs(60)))
            .build()
            .into();
        Self {
            url: url.to_owned(),
            token: None,
            agent,
        }
    }

    /// The same client with this token.
    #[must_use]
    pub fn with_token(self, token: impl Into<String>) -> Self {
        Self {
            token: Some(token.into()),
            ..self
        }
    }

    /// The same client for another server, or for the same server after it was started on another port.
    pub fn at(&self, server: &Server) -> Self {
        Self {
            url: server.url.clone(),
            ..self.clone()
        }
    }

    /// Sends a request; `None` if the connection was closed before a response.
    pub fn try_send(
        &self,
        method: &str,
        path: &str,
        headers: &[(&str, &str)],
        body: &[u8],
    ) -> Option<Answer> {
        let mut request = ureq::http::Request::builder()
            .method(method)
            .uri(format!("{}{path}", self.url));
        if let Some(token) = &self.token {
            request = request.header("authorization", format!("Bearer {token}"));
        }
        request = headers
            .iter()
            .fold(request, |request, (name, value)| request.header(*name, *value));
        let answer = if body.is_empty() {
            self.agent.run(request.body(()).unwrap())
        } else {
            self.agent.run(request.body(body).unwrap())
        };
        let mut answer = answer.ok()?;
        let (status, headers) = (answer.status().as_u16(), answer.headers().clone());
        let body = answer
            .body_mut()
            .with_config()
            .limit(64 << 20)
            .read_to_vec()
            .ok()?;
        Some(Answer {
            status,
            headers,
            body,
        })
    }

    pub fn send(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Answer {
        self.try_send(method, path, headers, body).expect("an answer")
    }

    /// Every device that has joined.
    pub fn devices(&self) -> Vec<Device> {
        self.get("/api/fn/v1/devices").read(200)
    }

    /// A join code for a device of this role, which this repairer's device asks for.
    pub fn code_for(&self, role: Role) -> String {
        let answer = self.post("/api/v1/join-codes", &JoinCodeRequest { role });
        answer.read::<JoinCode>(201).code
    }

    /// Asks for the server's status.
    pub fn ask_status(&self) -> Answer {
        self.get("/api/v1/status")
    }

    /// Asks to revoke a device.
    pub fn shut_out(&self, device: &str) -> Answer {
        let form = [
            ("content-type", "application/x-www-form-urlencoded"),
            ("accept", "application/json"),
        ];
        self.send(
            "POST",
            "/api/fn/v1/shut-out",
            &form,
            format!("device={device}").as_bytes(),
        )
    }

    pub fn get(&self, path: &str) -> Answer {
        self.send("GET", path, &[], b"")
    }

    pub fn post(&self, path: &str, body: &impl Serialize) -> Answer {
        self.send(
            "POST",
            path,
            &[("content-type", "application/json")],
            &serde_json::to_vec(body).unwrap(),
        )
    }

    pub fn put_blob(&self, sha256: &str, media_type: &str, bytes: &[u8]) -> Answer {
        self.send(
            "PUT",
            &format!("/api/v1/blobs/{sha256}"),
            &[("content-type", media_type)],
            bytes,
        )
    }

    /// Sends a picture, which must be accepted. Returns its SHA-256.
    pub fn put_picture(&self, bytes: &[u8]) -> String {
        let sha256 = sample::sha256(bytes);
        let answer = self.put_blob(&sha256, "image/jpeg", bytes);
        assert!(matches!(answer.status, 200 | 201), "{answer:?}");
        sha256
    }

    pub fn push(&self, entries: Vec<ReceivedEntry>) -> Vec<PushOutcome> {
        self.post(
            "/api/v1/entries",
            &PushRequest {
                entries,
                pushed: None,
            },
        )
        .read::<PushAnswer>(200)
        .results
    }

    /// Pushes entries that must all be accepted.
    pub fn push_all(&self, entries: &[Entry]) {
        let results = self.push(sample::unsent(entries));
        assert!(
            results
                .iter()
                .all(|taken| matches!(taken, PushOutcome::Accepted { .. })),
            "{results:?}"
        );
    }

    pub fn pull(&self, cursor: Option<Cursor>) -> Answer {
        let query = cursor.map(|c| format!("?epoch={}&seq={}&mark={}", c.epoch, c.seq, c.mark));
        self.get(&format!("/api/v1/entries{}", query.unwrap_or_default()))
    }

    /// Pulls all entries, page by page. Returns them and the cursor after them.
    pub fn pull_all(&self) -> (Vec<ReceivedEntry>, Cursor) {
        let (mut all, mut cursor) = (Vec::new(), None);
        loop {
            let page: PullAnswer = self.pull(cursor).read(200);
            all.extend(page.entries);
            cursor = Some(page.cursor);
            if !page.more {
                return (all, page.cursor);
            }
        }
    }
}

impl Answer {
    /// The body as JSON. Panics if the status is another one.
    pub fn read<T: DeserializeOwned>(&self, status: u16) -> T {
        assert_eq!(self.status, status, "{}", self.text());
        serde_json::from_slice(&self.body).unwrap()
    }

    /// The code of a refusal. Its status and all its parts are checked: JSON, a sentence, nothing internal.
    pub fn refusal(&self, status: u16) -> String {
        let problem: Problem = self.read(status);
        assert_eq!(self.header("content-type"), "application/json");
        assert!(
            problem.message.ends_with(['.', '!']) && problem.message.len() > 15,
            "{problem:?}"
        );
        for internal in ["sql", "panick", "/src/", "Error", "os error", "serde", "line 1"] {
            assert!(!problem.message.contains(internal), "{problem:?}");
        }
        problem.code.as_str().to_owned()
    }

    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |value| value.to_str().unwrap())
    }
}
