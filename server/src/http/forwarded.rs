//! The address of a client that comes through a reverse proxy, for the rate limits.
//!
//! Only a trusted proxy is believed: anybody can send these headers. A proxy adds the address that it saw at the right end
//! of what came with the request, so that the client is the rightmost address that is not a trusted proxy's.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use axum::extract::{ConnectInfo, Request, State};
use axum::http::HeaderMap;
use axum::middleware::Next;
use axum::response::Response;

use super::AppState;

/// The reverse proxies that tell the truth about whose requests they bring.
#[derive(Debug)]
pub struct TrustedProxies(Vec<IpAddr>);

impl TrustedProxies {
    /// The proxies with these addresses.
    pub fn new(addresses: &[IpAddr]) -> Self {
        Self(addresses.iter().map(IpAddr::to_canonical).collect())
    }

    fn trusts(&self, address: IpAddr) -> bool {
        self.0.contains(&address)
    }

    /// The address of the client whose request comes from `peer`. If the two headers name different clients, one of them
    /// comes from the client itself, and it is not said which; then it is the proxy's own address.
    fn client(&self, peer: IpAddr, headers: &HeaderMap) -> IpAddr {
        let peer = peer.to_canonical();
        if !self.trusts(peer) {
            return peer;
        }
        // RFC 7239.
        let standard = hops(headers, "forwarded", |line| {
            unquoted(line, ',').map(forwarded_for).collect()
        });
        let usual = hops(headers, "x-forwarded-for", |line| {
            line.split(',').map(address).collect()
        });
        let standard = standard.map(|hops| self.nearest(peer, hops));
        let usual = usual.map(|hops| self.nearest(peer, hops));
        match (standard, usual) {
            (Some(one), Some(other)) if one != other => peer,
            (Some(client), _) | (None, Some(client)) => client,
            (None, None) => peer,
        }
    }

    /// The first address from the right that is no trusted proxy's. Beyond one that cannot be read, none is believed.
    fn nearest(&self, peer: IpAddr, hops: Vec<Option<IpAddr>>) -> IpAddr {
        let mut nearest = peer;
        for hop in hops.into_iter().rev() {
            let Some(hop) = hop.filter(|_| self.trusts(nearest)) else {
                break;
            };
            nearest = hop;
        }
        nearest
    }
}

/// What all lines of a header say, in their order; `None` if there is no such header.
fn hops(
    headers: &HeaderMap,
    name: &str,
    read: impl Fn(&str) -> Vec<Option<IpAddr>>,
) -> Option<Vec<Option<IpAddr>>> {
    let lines = headers.get_all(name).iter();
    let hops: Vec<_> = lines
        .flat_map(|line| line.to_str().map_or_else(|_| vec![None], &read))
        .collect();
    (!hops.is_empty()).then_some(hops)
}

/// The parts between these characters; those within quotation marks separate nothing.
fn unquoted(text: &str, at: char) -> impl Iterator<Item = &str> {
    let mut within = false;
    text.split(move |c| {
        within ^= c == '"';
        c == at && !within
    })
}

/// The address in one element of `Forwarded`, such as `for="[2001:db8::7]:4711";proto=https`.
fn forwarded_for(element: &str) -> Option<IpAddr> {
    unquoted(element, ';').find_map(|pair| {
        let (name, value) = pair.split_once('=')?;
        let is_client = name.trim().eq_ignore_ascii_case("for");
        is_client.then(|| address(value.trim().trim_matches('"')))?
    })
}

/// An address with or without a port.
fn address(text: &str) -> Option<IpAddr> {
    let text = text.trim();
    let with_port = || Some(text.parse::<SocketAddr>().ok()?.ip());
    let plain = || {
        let inner = text.strip_prefix('[').and_then(|rest| rest.strip_suffix(']'));
        inner.unwrap_or(text).parse().ok()
    };
    plain()
        .or_else(with_port)
        .map(|address: IpAddr| address.to_canonical())
}

/// Gives the request the address of its client in place of the proxy's.
pub(super) async fn client(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    mut request: Request,
    next: Next,
) -> Response {
    let client = app.proxies.client(peer.ip(), request.headers());
    if client != peer.ip() {
        request
            .extensions_mut()
            .insert(ConnectInfo(SocketAddr::new(client, 0)));
    }
    next.run(request).await
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderName;

    use super::*;

    const PROXY: &str = "10.0.0.1";

    /// The client of a request that comes from `peer` with these headers. The trusted proxies are 10.0.0.1, 10.0.0.2
    /// and `2001:db8::1`.
    fn client(peer: &str, lines: &[(&str, &str)]) -> String {
        let addresses: [IpAddr; 3] =
            [PROXY, "::ffff:10.0.0.2", "2001:db8::1"].map(|text| text.parse().unwrap());
        let mut headers = HeaderMap::new();
        for (name, value) in lines {
            let name: HeaderName = name.parse().unwrap();
            headers.append(name, value.parse().unwrap());
        }
        let proxies = TrustedProxies::new(&addresses);
        proxies.client(peer.parse().unwrap(), &headers).to_string()
    }

    #[test]
    fn only_a_trusted_proxy_is_believed() {
        for name in ["forwarded", "x-forwarded-for"] {
            let value = if name == "forwarded" {
                "for=203.0.113.7"
            } else {
                "203.0.113.7"
            };
            assert_eq!(client("198.51.100.9", &[(name, value)]), "198.51.100.9");
            assert_eq!(client(PROXY, &[(name, value)]), "203.0.113.7");
            assert_eq!(client("::ffff:10.0.0.1", &[(name, value)]), "203.0.113.7");
        }
        assert_eq!(client(PROXY, &[]), PROXY);
    }

    #[test]
    fn the_client_is_the_rightmost_address_that_is_not_trusted() {
        for (sent, expected) in [
            ("203.0.113.7", "203.0.113.7"),
            ("1.1.1.1, 203.0.113.7", "203.0.113.7"),
            ("1.1.1.1, 203.0.113.7, 10.0.0.2", "203.0.113.7"),
            ("10.0.0.2, 10.0.0.1", "10.0.0.2"),
            ("203.0.113.7:4711", "203.0.113.7"),
            ("1.1.1.1,[2001:db8::7]:4711", "2001:db8::7"),
            ("2001:db8::7 , 2001:db8::1", "2001:db8::7"),
            ("[2001:db8::7]", "2001:db8::7"),
            ("::ffff:203.0.113.7", "203.0.113.7"),
            ("203.0.113.7, unknown", PROXY),
            ("203.0.113.7, unknown, 10.0.0.2", "10.0.0.2"),
            ("unknown, 203.0.113.7", "203.0.113.7"),
            ("", PROXY),
            (",,", PROXY),
        ] {
            assert_eq!(client(PROXY, &[("x-forwarded-for", sent)]), expected, "{sent}");
        }
        let lines = [("x-forwarded-for", "1.1.1.1"), ("x-forwarded-for", "203.0.113.7")];
        assert_eq!(client(PROXY, &lines), "203.0.113.7", "the last line counts");
    }

    #[test]
    fn the_standard_header_is_read_with_all_its_parts() {
        for (sent, expected) in [
            ("for=203.0.113.7;proto=https;by=10.0.0.1", "203.0.113.7"),
            (r#"proto=http; For="[2001:db8::7]:4711""#, "2001:db8::7"),
            (r#"for="1.1.1.1, 2.2.2.2", for=203.0.113.7"#, "203.0.113.7"),
            ("for=1.1.1.1, for=203.0.113.7, for=10.0.0.2", "203.0.113.7"),
            ("for=_hidden", PROXY),
            ("for=203.0.113.7, by=10.0.0.1", PROXY),
            (r#"for="203.0.113.7, for=1.1.1.1"#, PROXY),
        ] {
            assert_eq!(client(PROXY, &[("forwarded", sent)]), expected, "{sent}");
        }
    }

    /// A proxy that sets only one of the headers hands the other one on as the client sent it.
    #[test]
    fn two_headers_that_disagree_are_not_believed() {
        let both = |standard, usual| client(PROXY, &[("forwarded", standard), ("x-forwarded-for", usual)]);
        assert_eq!(both("for=203.0.113.7", "203.0.113.7"), "203.0.113.7");
        assert_eq!(both("for=1.1.1.1", "203.0.113.7"), PROXY);
        assert_eq!(both("for=203.0.113.7", "1.1.1.1"), PROXY);
    }
}
