//! The machine's own addresses, and how a tablet is told one of them.

use std::fmt::Write as _;
use std::net::IpAddr;

use qrcodegen::{QrCode, QrCodeEcc};

use crate::door::hosts::in_url;

/// How the server can be reached.
#[derive(Debug, Clone)]
pub(crate) struct Network {
    /// Whether the server listens on the local network.
    pub(crate) open: bool,
    /// The port.
    pub(crate) port: u16,
    /// Addresses given by whoever started the server; looked up when empty.
    pub(crate) given: Vec<IpAddr>,
}

impl Network {
    /// The machine's own addresses on the local network; none when the server is not open to it.
    pub(crate) fn own(&self) -> Vec<IpAddr> {
        match (self.open, self.given.is_empty()) {
            (false, _) => Vec::new(),
            (true, false) => self.given.clone(),
            (true, true) => looked_up(),
        }
    }

    /// The addresses to type in a tablet.
    pub(crate) fn urls(&self) -> Vec<String> {
        self.own().into_iter().map(|own| format!("http://{}:{}/", in_url(own), self.port)).collect()
    }
}

/// Addresses of version 4 of this machine, private networks first, since a hall's network is one.
fn looked_up() -> Vec<IpAddr> {
    let interfaces = if_addrs::get_if_addrs().unwrap_or_default();
    let mut found: Vec<_> = interfaces
        .iter()
        .filter_map(|interface| match interface.ip() {
            IpAddr::V4(ip) if !ip.is_loopback() && !ip.is_unspecified() => Some(ip),
            _ => None,
        })
        .collect();
    found.sort_by_key(|ip| (ip.is_link_local(), !ip.is_private(), *ip));
    found.dedup();
    found.into_iter().map(IpAddr::V4).collect()
}

/// A text as a QR code in SVG, black on white with the quiet zone of four modules that the standard asks for
/// (ISO/IEC 18004). Empty when the text does not fit.
pub(crate) fn qr_svg(text: &str) -> String {
    let Ok(code) = QrCode::encode_text(text, QrCodeEcc::Medium) else { return String::new() };
    let side = code.size() + 8;
    let mut path = String::new();
    for y in 0..code.size() {
        for x in (0..code.size()).filter(|x| code.get_module(*x, y)) {
            // Writing to a string cannot fail.
            let _ = write!(path, "M{},{}h1v1h-1z", x + 4, y + 4);
        }
    }
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" shape-rendering=\"crispEdges\">\
         <rect width=\"{side}\" height=\"{side}\" fill=\"#ffffff\"/><path d=\"{path}\" fill=\"#000000\"/></svg>"
    )
}
