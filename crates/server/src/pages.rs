//! The workbench's own pages and files, which are carried inside the binary: no folder is ever looked into.

use axum::body::Body;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, ETAG, IF_NONE_MATCH};
use axum::http::{HeaderMap, HeaderValue, Method, Response, StatusCode};
use web_assets::Asset;

use crate::answer::{Answer, Keep, Refusal, keep_value};
use sayings::{refusing, say};

/// The answer to any address that is no route of the table.
pub(crate) fn serve(method: &Method, path: &str, headers: &HeaderMap) -> Response<Body> {
    match find(method, path) {
        Ok((asset, keep)) => send(asset, keep, headers),
        Err(refusal) => refusal.into_http(),
    }
}

/// The file at a path: exactly it, or the page for an address of the workbench.
fn find(method: &Method, path: &str) -> Result<(Asset, Keep), Refusal> {
    if !matches!(*method, Method::GET | Method::HEAD) {
        return Err(Refusal::new(StatusCode::METHOD_NOT_ALLOWED, "method", say!(refusing::METHOD_PAGE)));
    }
    let name = path.strip_prefix('/').unwrap_or(path);
    if let Some(asset) = web_assets::file(name) {
        let keep = if name.starts_with("assets/") { Keep::Ever } else { Keep::Ask };
        return Ok((asset, keep));
    }
    let api = name == "api" || name.starts_with("api/");
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'/' | b'-' | b'_');
    // A page's address is made of plain signs; a dot means a file, and there is none of this name.
    match web_assets::file("index.html") {
        Some(index) if !api && name.bytes().all(plain) => Ok((index, Keep::Ask)),
        _ => Err(Refusal::absent(say!(refusing::NOTHING_HERE))),
    }
}

fn send(asset: Asset, keep: Keep, headers: &HeaderMap) -> Response<Body> {
    let tag = format!("\"{}\"", asset.hash);
    let known = headers.get_all(IF_NONE_MATCH).iter().filter_map(|value| value.to_str().ok());
    let same = known.flat_map(|value| value.split(',')).any(|value| value.trim() == tag);
    let mut response = if same {
        let mut response = Response::new(Body::empty());
        *response.status_mut() = StatusCode::NOT_MODIFIED;
        response.headers_mut().insert(CONTENT_TYPE, HeaderValue::from_static(asset.mime));
        response
    } else {
        Answer::new(asset.mime, asset.bytes).into_http()
    };
    response.headers_mut().insert(CACHE_CONTROL, keep_value(keep));
    if let Ok(tag) = HeaderValue::from_str(&tag) {
        response.headers_mut().insert(ETAG, tag);
    }
    response
}
