//! `waxend serve`.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;
use std::time::Duration;

use axum_server::Handle;
use axum_server::tls_rustls::RustlsAcceptor;
use shared::log::body::Role;
use tracing::{error, info, warn};

use super::{CliError, certificate, doing, join, locked, may_begin, say};
use crate::config::{Cli, ServeArgs};
use crate::connections::{self, Admitting, Caps, Connections, Tracking, Waits};
use crate::data::DataFolder;
use crate::demo;
use crate::http::{self, AppState, Assets, HeavyWork, Home, MemoryRoom, Readiness, TrustedProxies};
use crate::limits::RateLimits;
use crate::quota::Quota;
use crate::refusal_log::RefusalLog;

/// How long open requests may still take after the server was asked to stop.
const GRACE: Duration = Duration::from_secs(10);
/// How often the rate limits drop the counters of addresses and devices that have been quiet.
const TIDY: Duration = Duration::from_secs(60);
/// The most bytes of a connection of HTTP/1.1 that are read or written ahead; also the most of a request's header.
const AHEAD: usize = 64 * 1024;
/// Concurrent requests on one HTTP/2 connection: more than a browser makes over six connections of HTTP/1.1.
const STREAMS: u32 = 16;

/// Runs the server until it is asked to stop.
pub(super) async fn serve(cli: &Cli, args: &ServeArgs) -> Result<(), CliError> {
    let (data, _lock) = locked(cli)?;
    may_begin(&data)?;
    let empty = data.is_empty();
    let shop = data.open().await?;
    shop.photos()
        .clear_drafts()
        .await
        .map_err(doing("clearing half-written photographs"))?;
    let store = shop.store().clone();
    let app = Arc::new(AppState {
        shop,
        limits: RateLimits::new(&args.limits),
        refusals: RefusalLog::default(),
        proxies: TrustedProxies::new(&args.connections.trusted_proxies),
        heavy: HeavyWork::default(),
        room: MemoryRoom::default(),
        quota: Quota::new(&args.quota, [data.root().to_owned(), data.photos()]),
        assets: Assets::new(args.app.as_deref()),
        readiness: Readiness::default(),
        https: is_https(cli, args),
    });
    warn_of_plain_http(args);

    let handle = Handle::new();
    tokio::spawn(stop_when_asked(handle.clone()));
    tokio::spawn(tidy(app.clone()));
    tokio::spawn(look_for_lost_photos(app.clone()));
    let links = if args.demo_if_empty {
        Some(Links::of(&app.shop, empty).await?)
    } else {
        None
    };
    let scheme = if args.tls_cert.is_some() { "https" } else { "http" };
    tokio::spawn(announce(
        handle.clone(),
        scheme,
        cli.url.clone(),
        links,
        data.clone(),
    ));
    listen(args, handle, app).await?;
    store.close().await;
    info!("stopped");
    Ok(())
}

/// Whether browsers reach the server over https: it serves TLS, or its public address is https.
fn is_https(cli: &Cli, args: &ServeArgs) -> bool {
    let scheme = cli.url.as_deref().and_then(|url| url.split_once("://"));
    args.tls_cert.is_some() || scheme.is_some_and(|(scheme, _)| scheme.eq_ignore_ascii_case("https"))
}

/// Warns if what devices send can be read on its way through the internet. A trusted proxy is taken to have the TLS.
fn warn_of_plain_http(args: &ServeArgs) {
    let plain = args.tls_cert.is_none() && args.connections.trusted_proxies.is_empty();
    if plain && is_public(args.listen.ip()) {
        warn!(
            address = %args.listen,
            "plain http on a public address: others can read and change what devices send. Serve TLS (--tls-cert and \
             --tls-key), or put a reverse proxy with TLS before the server and name it with --trusted-proxy"
        );
    }
}

/// Whether an address can be reached from outside this machine and its local network. `0.0.0.0` and `::` can: they
/// stand for all addresses of the machine.
fn is_public(address: IpAddr) -> bool {
    match address.to_canonical() {
        IpAddr::V4(v4) => !(v4.is_loopback() || v4.is_private() || v4.is_link_local()),
        IpAddr::V6(v6) => !(v6.is_loopback() || v6.is_unique_local() || v6.is_unicast_link_local()),
    }
}

async fn listen(args: &ServeArgs, handle: Handle<SocketAddr>, app: Arc<AppState>) -> Result<(), CliError> {
    let waits = Waits::from(&args.connections);
    let open = Connections::new(Caps::of(&args.connections), waits);
    tokio::spawn(open.clone().watch());
    let service = Admitting::new(
        open.clone(),
        http::router(app).into_make_service_with_connect_info::<SocketAddr>(),
    );
    let listener = connections::listen(args.listen).and_then(axum_server::from_tcp);
    let mut server = listener
        .map_err(doing(format!("listening on {}", args.listen)))?
        .acceptor(Tracking)
        .handle(handle)
        .accept_error_handler(move |peer, error| open.failed(peer.is_some(), error));
    server.http_builder().http1().max_buf_size(AHEAD);
    server.http_builder().http2().max_concurrent_streams(STREAMS);
    let served = match (&args.tls_cert, &args.tls_key) {
        (Some(cert), Some(key)) => {
            let tls = certificate::watched(cert, key)
                .await
                .map_err(doing("reading the TLS certificate"))?;
            let tls = RustlsAcceptor::new(tls).handshake_timeout(waits.header);
            server.map(|tracking| tls.acceptor(tracking)).serve(service).await
        }
        _ => server.serve(service).await,
    };
    served.map_err(doing(format!("listening on {}", args.listen)))
}

/// Runs as a task of its own, because it takes a while on a large shop.
async fn look_for_lost_photos(app: Arc<AppState>) {
    match app.shop.miss_lost_photos().await {
        Ok(0) => {}
        Ok(lost) => warn!(
            lost,
            "photographs are missing from the folder; devices will be asked for them"
        ),
        Err(error) => warn!(?error, "could not look whether all photographs are there"),
    }
    // Files that came after the backup from which the shop was restored.
    if let Err(error) = app.shop.find_photographs().await {
        warn!(
            ?error,
            "could not look for photographs that are here and not noted"
        );
    }
}

/// The links that are printed with `--demo-if-empty`.
struct Links {
    code: String,
    card: Option<String>,
}

impl Links {
    /// A join link for this browser and, if the shop is `empty` and is filled with the demo, the link of one pair's
    /// care card.
    async fn of(shop: &Home, empty: bool) -> Result<Self, CliError> {
        let card = if empty {
            Some(demo::seed(shop).await?)
        } else {
            None
        };
        Ok(Self {
            code: shop.join_code(Role::Repairer).await?.code,
            card,
        })
    }
}

/// Prints where the server can be reached, once it listens.
async fn announce(
    handle: Handle<SocketAddr>,
    scheme: &str,
    url: Option<String>,
    links: Option<Links>,
    data: DataFolder,
) {
    let Some(address) = handle.listening().await else {
        return;
    };
    let url = url.unwrap_or_else(|| format!("{scheme}://{address}"));
    if let Err(error) = data.note_address(&url) {
        error!(%error, "the address could not be noted for `waxend join`");
    }
    say(&format!("Waxend listens on {scheme}://{address}"));
    if let Some(links) = links {
        say(&format!(
            "The bench app (this browser joins on opening): {}",
            join::link(&url, &links.code)
        ));
        if let Some(card) = links.card {
            say(&format!(
                "A pair's care card: {}/card/{card}",
                url.trim_end_matches('/')
            ));
        }
    }
    info!(%address, "listening");
}

/// Waits for Ctrl-C or SIGTERM, then lets open requests finish.
async fn stop_when_asked(handle: Handle<SocketAddr>) {
    let interrupted = tokio::signal::ctrl_c();
    match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
        Ok(mut terminated) => tokio::select! {
            _ = interrupted => {}
            _ = terminated.recv() => {}
        },
        Err(error) => {
            error!(%error, "cannot listen for the signal to stop");
            let _ = interrupted.await;
        }
    }
    info!("stopping");
    handle.graceful_shutdown(Some(GRACE));
}

async fn tidy(app: Arc<AppState>) {
    let mut ticks = tokio::time::interval(TIDY);
    loop {
        ticks.tick().await;
        app.limits.tidy();
        app.refusals.tidy();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_public_unless_it_is_of_this_machine_or_its_network() {
        for address in [
            "0.0.0.0",
            "203.0.113.7",
            "172.32.0.1",
            "::",
            "2001:db8::7",
            "::ffff:203.0.113.7",
        ] {
            assert!(is_public(address.parse().unwrap()), "{address}");
        }
        for address in [
            "127.0.0.1",
            "10.1.2.3",
            "172.16.0.1",
            "192.168.1.5",
            "169.254.3.4",
            "::1",
            "fd12::5",
            "fe80::1",
            "::ffff:192.168.1.5",
        ] {
            assert!(!is_public(address.parse().unwrap()), "{address}");
        }
    }
}
