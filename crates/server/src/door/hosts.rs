//! The exact lists of hosts and origins that a request may name.
//!
//! A page of somebody else can make a browser send requests here under a name of its own (rebinding),
//! so the name that the browser believes in is compared sign by sign, and never by its beginning.

use std::net::IpAddr;

use axum::http::HeaderMap;
use axum::http::header::{HOST, HeaderName, ORIGIN};
use guards::Guard;

/// From which side a request came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// From this machine, under a name of the loopback address.
    Loopback,
    /// Any other way.
    Lan,
}

/// Where a connection comes from and which of our addresses it reached.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Peer {
    /// Its address, never taken from a header.
    pub(crate) addr: IpAddr,
    /// Our own address that it reached.
    pub(crate) local: IpAddr,
}

/// The names under which this server may be asked.
#[derive(Debug, Clone)]
pub(crate) struct Hosts {
    /// The port that the server listens on.
    pub(crate) port: u16,
    /// Whether the server listens on the local network.
    pub(crate) lan: bool,
    /// The machine's own addresses on it.
    pub(crate) own: Vec<IpAddr>,
}

impl Hosts {
    /// The side and the host named, in lower case, if the request names exactly one host of the list.
    pub(crate) fn judge(&self, headers: &HeaderMap, peer: Peer) -> Option<(Side, String)> {
        let named = only(headers, HOST).map(str::to_ascii_lowercase);
        if !Guard::HostList.stands() {
            let side = if peer.addr.is_loopback() { Side::Loopback } else { Side::Lan };
            return Some((side, named.unwrap_or_default()));
        }
        let named = named?;
        if peer.addr.is_loopback() && self.loopback().contains(&named) {
            return Some((Side::Loopback, named));
        }
        self.lan(peer).contains(&named).then_some((Side::Lan, named))
    }

    /// Names of the loopback address.
    fn loopback(&self) -> Vec<String> {
        ["127.0.0.1", "localhost", "[::1]"].iter().flat_map(|name| self.with_port(name)).collect()
    }

    /// The machine's own addresses, and the one that this connection reached.
    fn lan(&self, peer: Peer) -> Vec<String> {
        if !self.lan {
            return Vec::new();
        }
        let reached = (!peer.local.is_loopback()).then_some(&peer.local);
        self.own.iter().chain(reached).flat_map(|own| self.with_port(&in_url(*own))).collect()
    }

    /// A name with the port; port 80 is left out by browsers, so there both spellings are exact.
    fn with_port(&self, name: &str) -> Vec<String> {
        let full = format!("{name}:{}", self.port);
        if self.port == 80 { vec![full, name.to_owned()] } else { vec![full] }
    }

    /// Address to name in a message.
    pub(crate) fn fix(&self) -> String {
        match self.own.first() {
            Some(own) => format!("http://{}:{}/", in_url(*own), self.port),
            None => format!("http://127.0.0.1:{}/", self.port),
        }
    }
}

/// Whether the request names exactly one origin, and that is the page of the host it asks.
/// `named` is the host as [`Hosts::judge`] gave it. A missing origin fits only where none is needed.
pub(crate) fn origin_fits(headers: &HeaderMap, named: &str, needed: bool) -> bool {
    if !Guard::OriginList.stands() || (!needed && !headers.contains_key(ORIGIN)) {
        return true;
    }
    only(headers, ORIGIN).and_then(|origin| origin.strip_prefix("http://")) == Some(named)
}

/// An address as it stands in a URL.
pub(crate) fn in_url(address: IpAddr) -> String {
    match address {
        IpAddr::V4(address) => address.to_string(),
        IpAddr::V6(address) => format!("[{address}]"),
    }
}

/// The value of a header that is there exactly once.
fn only(headers: &HeaderMap, name: HeaderName) -> Option<&str> {
    let mut all = headers.get_all(name).iter();
    match (all.next(), all.next()) {
        (Some(one), None) => one.to_str().ok(),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    fn judge(hosts: &Hosts, host: &str, peer: &str, local: &str) -> Option<Side> {
        let mut headers = HeaderMap::new();
        headers.insert(HOST, HeaderValue::from_str(host).unwrap());
        let peer = Peer { addr: peer.parse().unwrap(), local: local.parse().unwrap() };
        hosts.judge(&headers, peer).map(|(side, _)| side)
    }

    #[test]
    fn a_tablet_that_calls_itself_local_is_turned_away() {
        let hosts = Hosts { port: 7327, lan: true, own: vec!["192.168.0.4".parse().unwrap()] };
        for host in ["127.0.0.1:7327", "localhost:7327", "[::1]:7327"] {
            assert_eq!(judge(&hosts, host, "192.168.0.9", "192.168.0.4"), None, "{host}");
            assert_eq!(judge(&hosts, host, "127.0.0.1", "127.0.0.1"), Some(Side::Loopback), "{host}");
        }
        // The same machine under its network address is a visitor like any other.
        assert_eq!(judge(&hosts, "192.168.0.4:7327", "192.168.0.4", "192.168.0.4"), Some(Side::Lan));
        assert_eq!(judge(&hosts, "192.168.0.4:7327", "127.0.0.1", "127.0.0.1"), Some(Side::Lan));
        // An address that the machine got after the start is known by the connection that reached it.
        assert_eq!(judge(&hosts, "10.0.0.7:7327", "10.0.0.9", "10.0.0.7"), Some(Side::Lan));
        assert_eq!(judge(&hosts, "10.0.0.7:7327", "10.0.0.9", "10.0.0.8"), None);
    }

    #[test]
    fn browsers_leave_port_80_out_and_no_other() {
        let hosts = Hosts { port: 80, lan: false, own: Vec::new() };
        for host in ["localhost", "localhost:80", "127.0.0.1"] {
            assert_eq!(judge(&hosts, host, "127.0.0.1", "127.0.0.1"), Some(Side::Loopback), "{host}");
        }
        assert_eq!(judge(&hosts, "localhost:8080", "127.0.0.1", "127.0.0.1"), None);
        assert_eq!(
            judge(&hosts, "192.168.0.4", "192.168.0.9", "192.168.0.4"),
            None,
            "not open to the network"
        );
    }
}
