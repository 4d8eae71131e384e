//! The headers that every answer carries.

use axum::body::Body;
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, CONTENT_TYPE, HeaderName, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS, X_FRAME_OPTIONS,
};
use axum::http::{HeaderValue, Response};

/// For a PDF: the browser's own viewer lays it out with styles of its own, and refuses to work in a sandbox.
const PDF: &str = "default-src 'none'; style-src 'unsafe-inline'; object-src 'self'; frame-ancestors 'none'; \
                   base-uri 'none'; form-action 'none'";
/// For everything that is not a page, pictures as SVG too: nothing at all.
const DATA: &str = "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'; sandbox";
/// No feature of the browser is needed.
const PERMISSIONS: &str = "accelerometer=(), autoplay=(), camera=(), display-capture=(), encrypted-media=(), \
                           geolocation=(), gyroscope=(), magnetometer=(), microphone=(), midi=(), payment=(), \
                           publickey-credentials-get=(), usb=(), xr-spatial-tracking=()";

/// Puts on an answer what every answer carries. `named` is the host that the request named, if it was of the list.
pub(crate) fn dress(response: &mut Response<Body>, named: Option<&str>) {
    let kind = response.headers().get(CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or("");
    let policy = match kind.split(';').next().unwrap_or("").trim() {
        "text/html" => page(named),
        "application/pdf" => HeaderValue::from_static(PDF),
        _ => HeaderValue::from_static(DATA),
    };
    let headers = response.headers_mut();
    headers.insert(CONTENT_SECURITY_POLICY, policy);
    let fixed = |name: &'static str| HeaderName::from_static(name);
    headers.insert(X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    headers.insert(X_FRAME_OPTIONS, HeaderValue::from_static("DENY"));
    // Not `no-referrer`: under it a browser would send the origin `null` with some of our own writes.
    headers.insert(REFERRER_POLICY, HeaderValue::from_static("same-origin"));
    headers.insert(fixed("cross-origin-resource-policy"), HeaderValue::from_static("same-origin"));
    headers.insert(fixed("cross-origin-opener-policy"), HeaderValue::from_static("same-origin"));
    headers.insert(fixed("permissions-policy"), HeaderValue::from_static(PERMISSIONS));
    headers.entry(CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
}

/// For a page. Some browsers do not count the socket as the page's own origin, so it is named.
fn page(named: Option<&str>) -> HeaderValue {
    let socket = named.map(|host| format!(" ws://{host}")).unwrap_or_default();
    let policy = format!(
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; \
         connect-src 'self'{socket}; frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
    );
    // The host was compared with a list of plain signs, so that it is a header value already.
    HeaderValue::from_str(&policy).unwrap_or(HeaderValue::from_static(DATA))
}
