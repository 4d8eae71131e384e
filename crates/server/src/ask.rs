//! A request as a handler sees it: judged, read in full, and with its parts by name.

use std::time::Duration;

use axum::body::{Body, Bytes};
use axum::extract::Query;
use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE};
use axum::http::{HeaderMap, StatusCode, Uri};
use desk::Author;
use guards::Guard;
use http_body_util::BodyExt as _;
use serde::de::DeserializeOwned;
use tokio::time::{Instant, timeout_at};

use crate::answer::Refusal;
use crate::door::Visitor;
use crate::door::hosts::Side;
use crate::limits::Limits;
use sayings::{refusing, say};

/// Beyond this size the length must have been declared, and memory is taken as it is filled.
const TRUSTED: usize = 1 << 20;

/// A request.
#[derive(Debug)]
pub(crate) struct Ask {
    /// Who asks.
    pub(crate) visitor: Visitor,
    /// The named parts of the path.
    pub(crate) path: Vec<(String, String)>,
    /// The address.
    pub(crate) uri: Uri,
    /// The headers.
    pub(crate) headers: HeaderMap,
    /// The body, empty where the route takes none.
    pub(crate) body: Bytes,
}

impl Ask {
    /// A named part of the path, without the ending that the route asks for (`.png`).
    pub(crate) fn part(&self, name: &str, ending: &str) -> Result<&str, Refusal> {
        let part = self.path.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str());
        part.and_then(|value| value.strip_suffix(ending))
            .filter(|value| !value.is_empty())
            .ok_or_else(|| Refusal::absent(say!(refusing::NOTHING_AT, path = self.uri.path())))
    }

    /// A number in the path.
    pub(crate) fn number(&self, name: &str, ending: &str) -> Result<u32, Refusal> {
        let text = self.part(name, ending)?;
        let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        text.parse()
            .ok()
            .filter(|_| digits)
            .ok_or_else(|| Refusal::absent(say!(refusing::NO_NUMBER, path = self.uri.path())))
    }

    /// Who asks, as it stands in the journal.
    pub(crate) fn author(&self) -> Author {
        match self.visitor.side {
            Side::Loopback => Author("planner".into()),
            Side::Lan => Author(format!("planner at {}", self.visitor.from)),
        }
    }

    /// The query.
    pub(crate) fn query<T: DeserializeOwned>(&self) -> Result<T, Refusal> {
        Query::<T>::try_from_uri(&self.uri)
            .map(|Query(query)| query)
            .map_err(|error| Refusal::bad("query", say!(refusing::QUERY, why = error.to_string())))
    }

    /// The body as JSON, which must say that it is.
    pub(crate) fn json<T: DeserializeOwned>(&self) -> Result<T, Refusal> {
        let kind = self.headers.get(CONTENT_TYPE).and_then(|kind| kind.to_str().ok()).unwrap_or("");
        let kind = kind.split(';').next().unwrap_or("").trim();
        if !kind.eq_ignore_ascii_case("application/json") {
            return Err(Refusal::new(StatusCode::UNSUPPORTED_MEDIA_TYPE, "kind", say!(refusing::JSON_KIND)));
        }
        serde_json::from_slice(&self.body)
            .map_err(|error| Refusal::bad("json", say!(refusing::JSON, why = error.to_string())))
    }
}

/// Reads a body of at most `most` bytes at a steady pace.
pub(crate) async fn read_body(
    headers: &HeaderMap,
    mut body: Body,
    most: u64,
    limits: &Limits,
) -> Result<Bytes, Refusal> {
    let guarded = Guard::BodyLimit.stands();
    let declared = declared(headers)?;
    if guarded && declared.is_some_and(|length| length > most) {
        return Err(too_large(most));
    }
    if most > crate::limits::CHANGE && declared.is_none() {
        return Err(Refusal::new(StatusCode::LENGTH_REQUIRED, "length", say!(refusing::LENGTH_NONE)));
    }
    let seconds = declared.unwrap_or(most) / limits.body_pace.max(1);
    let end = Instant::now() + limits.body_pause + Duration::from_secs(seconds);
    let mut read: Vec<u8> = Vec::new();
    loop {
        let pause = (Instant::now() + limits.body_pause).min(end);
        let frame = match timeout_at(pause, body.frame()).await {
            Ok(None) => return Ok(read.into()),
            Ok(Some(Ok(frame))) => frame,
            Ok(Some(Err(_))) => return Err(Refusal::bad("cut", say!(refusing::CUT))),
            Err(_) => return Err(too_slow()),
        };
        let Some(data) = frame.data_ref() else { continue };
        if guarded && (read.len() + data.len()) as u64 > most {
            return Err(too_large(most));
        }
        if read.len() >= TRUSTED && read.capacity() < read.len() + data.len() {
            let whole = declared.and_then(|length| usize::try_from(length.min(most)).ok()).unwrap_or(0);
            read.reserve_exact(whole.saturating_sub(read.len()).max(data.len()));
        }
        read.extend_from_slice(data);
    }
}

fn declared(headers: &HeaderMap) -> Result<Option<u64>, Refusal> {
    let Some(length) = headers.get(CONTENT_LENGTH) else { return Ok(None) };
    match length.to_str().ok().and_then(|text| text.parse().ok()) {
        Some(length) => Ok(Some(length)),
        None => Err(Refusal::bad("length", say!(refusing::LENGTH_WRONG))),
    }
}

fn too_large(most: u64) -> Refusal {
    let most =
        if most >= 1 << 20 { format!("{} MiB", most >> 20) } else { format!("{}\u{a0}KiB", most >> 10) };
    Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, "too-large", say!(refusing::TOO_LARGE, most = most))
}

fn too_slow() -> Refusal {
    Refusal::new(StatusCode::REQUEST_TIMEOUT, "slow", say!(refusing::SLOW))
}
