//! Whole requests to the server, without a network: paths, queries, headers and bodies of every route.

use std::cell::RefCell;
use std::net::SocketAddr;
use std::path::Path;
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::ConnectInfo;
use axum::http::{Request, StatusCode};
use clap::Parser;
use server::data::DataFolder;
use server::http::{AppState, Assets, HeavyWork, MemoryRoom, Readiness, TrustedProxies, router};
use server::limits::{LimitArgs, RateLimits};
use server::quota::{Quota, QuotaArgs};
use server::refusal_log::RefusalLog;
use shared::log::body::Role;
use shared::sync::Problem;
use shared::sync::messages::JoinRequest;
use support::sample::{Pen, picture, unsent};
use tempfile::TempDir;
use tokio::runtime::Runtime;
use tower::ServiceExt;

use crate::text;

/// After so many requests a new shop is made, so that earlier inputs have little influence on later ones.
const REQUESTS: u32 = 400;

/// A server in this process.
struct Home {
    runtime: Runtime,
    router: Router,
    token: String,
    asked: u32,
    _folder: TempDir,
}

#[derive(Parser)]
struct Limited {
    #[command(flatten)]
    limits: LimitArgs,
}

impl Home {
    fn new() -> Self {
        let runtime = tokio::runtime::Builder::new_current_thread()
            .enable_all()
            .build()
            .unwrap();
        let folder = crate::restore::scratch();
        let (router, token) = runtime.block_on(async {
            let data = DataFolder::at(folder.path()).unwrap();
            let shop = data.open().await.unwrap();
            let code = shop.join_code(Role::Repairer).await.unwrap().code;
            let device = Pen::new(1).device;
            let joined = shop
                .join(&JoinRequest {
                    code,
                    device,
                    name: "Bench".to_owned(),
                    shop: None,
                })
                .await
                .unwrap();
            // With this many requests no rate limit may be reached.
            let most = u32::MAX.to_string();
            let flags =
                ["device", "address", "join", "guess"].map(|what| [format!("--limit-{what}"), most.clone()]);
            let flags = flags.into_iter().flatten();
            let limits = Limited::parse_from(std::iter::once("fuzz".to_owned()).chain(flags)).limits;
            let assets = Assets::new(Some(Path::new("/nowhere")));
            let quota = QuotaArgs {
                quota_entries: None,
                quota_photos: None,
                reserve: 0,
            };
            (
                router(Arc::new(AppState {
                    shop,
                    limits: RateLimits::new(&limits),
                    refusals: RefusalLog::default(),
                    proxies: TrustedProxies::new(&[]),
                    heavy: HeavyWork::default(),
                    room: MemoryRoom::default(),
                    quota: Quota::new(&quota, [data.root().to_owned(), data.photos()]),
                    assets,
                    readiness: Readiness::default(),
                    https: false,
                })),
                joined.token,
            )
        });
        Self {
            runtime,
            router,
            token,
            asked: 0,
            _folder: folder,
        }
    }

    fn ask(&mut self, request: Request<Body>) -> (StatusCode, Vec<u8>) {
        self.asked += 1;
        let router = self.router.clone();
        self.runtime.block_on(async {
            let answer = router.oneshot(request).await.unwrap();
            let status = answer.status();
            (
                status,
                to_bytes(answer.into_body(), 64 << 20).await.unwrap().to_vec(),
            )
        })
    }
}

thread_local! {
    static HOME: RefCell<Option<Home>> = const { RefCell::new(None) };
}

/// The input: `METHOD target content-type` on the first line, then the body. The server never fails, and a refusal by
/// the API is a sentence with a code.
pub(crate) fn request(data: &[u8]) {
    let end = data.iter().position(|byte| *byte == b'\n').unwrap_or(data.len());
    let (Some(line), body) = (text(&data[..end]), data.get(end + 1..).unwrap_or_default()) else {
        return;
    };
    let mut words = line.split(' ');
    let (Some(method), Some(target)) = (words.next(), words.next()) else {
        return;
    };
    let kind = words.next().unwrap_or("application/json");
    HOME.with_borrow_mut(|home| {
        if home.as_ref().is_none_or(|home| home.asked >= REQUESTS) {
            *home = Some(Home::new());
        }
        let home = home.as_mut().unwrap();
        let from: SocketAddr = ([127, 0, 0, 1], 9).into();
        let request = Request::builder()
            .method(method)
            .uri(target)
            .header("authorization", format!("Bearer {}", home.token))
            .header("content-type", kind)
            .extension(ConnectInfo(from))
            .body(Body::from(body.to_vec()));
        // The HTTP library does not accept it as a request, so it reaches no route.
        let Ok(request) = request else { return };
        let (status, answer) = home.ask(request);
        assert!(
            !status.is_server_error(),
            "{status}: {}",
            String::from_utf8_lossy(&answer)
        );
        let refused = status.is_client_error()
            && target.starts_with("/api/v1/")
            && method != "HEAD"
            && method != "OPTIONS";
        if refused {
            let problem: Problem = serde_json::from_slice(&answer).unwrap();
            assert!(problem.message.ends_with(['.', '!']), "{problem:?}");
        }
        if status == StatusCode::UNAUTHORIZED {
            // The request has revoked the device's own token.
            home.asked = REQUESTS;
        }
    });
}

/// One request of each route.
pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let mut pen = Pen::new(1);
    let bytes = picture(1, 40);
    let job = pen.whole_job(&bytes);
    let push = serde_json::json!({ "entries": unsent(&job.entries) }).to_string();
    let id = uuid::Uuid::nil();
    let cursor = format!("epoch={id}&seq=0&mark={id}");
    let lines = [
        ("POST /api/v1/entries".to_owned(), push),
        (
            format!("GET /api/v1/entries?{cursor}&pushed_epoch={id}&pushed_seq=1&pushed_mark={id}"),
            String::new(),
        ),
        ("GET /api/v1/entries".to_owned(), String::new()),
        (
            format!("GET /api/v1/history?{cursor}&before_subject=1&before_seq=2"),
            String::new(),
        ),
        ("GET /api/v1/in-shop".to_owned(), String::new()),
        (
            format!("GET /api/v1/in-shop?paged=true&{cursor}&before_subject=1&before_seq=2"),
            String::new(),
        ),
        ("GET /api/v1/status".to_owned(), String::new()),
        ("GET /api/fn/v1/devices".to_owned(), String::new()),
        (
            "POST /api/fn/v1/shut-out".to_owned(),
            format!("device={}", pen.device),
        ),
        ("POST /api/v1/join-codes".to_owned(), String::new()),
        (
            "POST /api/v1/join-codes".to_owned(),
            r#"{"role":"helper"}"#.to_owned(),
        ),
        ("GET /api/v1/kept-aside".to_owned(), String::new()),
        (
            "POST /api/v1/kept-aside".to_owned(),
            serde_json::json!({"take": [id], "drop": [id]}).to_string(),
        ),
        (
            "POST /api/v1/shut-out".to_owned(),
            serde_json::json!({
                "device": pen.device,
                "nonce": id,
                "cursor": {"epoch": id, "seq": 0, "mark": id},
            })
            .to_string(),
        ),
        (
            "POST /api/v1/join".to_owned(),
            serde_json::json!({"code": "K7QM-2RTX", "device": id, "name": "Tablet"}).to_string(),
        ),
        (
            "POST /api/v1/entries/missing".to_owned(),
            serde_json::json!({"held": [{"id": id, "received": 5}]}).to_string(),
        ),
        (
            "POST /api/v1/blobs/missing".to_owned(),
            serde_json::json!({"hashes": [job.blob.sha256]}).to_string(),
        ),
        (format!("GET /api/v1/blobs/{}", job.blob.sha256), String::new()),
        ("GET /api/fn/v1/devices".to_owned(), String::new()),
        (
            "POST /api/fn/v1/shut-out application/x-www-form-urlencoded".to_owned(),
            format!("device={id}"),
        ),
        (format!("GET /card/{}", job.secret), String::new()),
        (format!("GET /card/{}/check.ics", job.secret), String::new()),
        (
            format!("GET /card/{}/photo/{}", job.secret, job.blob.sha256),
            String::new(),
        ),
        ("GET /health".to_owned(), String::new()),
        ("GET /".to_owned(), String::new()),
    ];
    let mut seeds: Vec<Vec<u8>> = lines
        .iter()
        .map(|(line, body)| format!("{line}\n{body}").into_bytes())
        .collect();
    let mut put = format!("PUT /api/v1/blobs/{} image/jpeg\n", job.blob.sha256).into_bytes();
    put.extend(bytes);
    seeds.push(put);
    seeds
}
