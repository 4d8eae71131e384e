//! What a handler gives back: an answer, or a refusal in words.

use std::time::Duration;

use axum::body::Body;
use axum::http::{HeaderValue, Response, StatusCode, header};
use sayings::{Said, refusing, say};
use serde::Serialize;

use crate::convert::said::said;
use crate::wire::Trouble;

/// How long a browser may keep an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Keep {
    /// Not at all.
    No,
    /// For ever: the address names the content.
    Ever,
    /// Until the server says that it is no longer the same.
    Ask,
}

/// A good answer.
#[derive(Debug)]
pub(crate) struct Answer {
    /// The value of `Content-Type`.
    pub(crate) mime: &'static str,
    /// The body.
    pub(crate) body: axum::body::Bytes,
    /// How long it may be kept.
    pub(crate) keep: Keep,
    /// Name under which a browser saves it, if it is to be saved.
    pub(crate) save_as: Option<String>,
    /// A session cookie to set.
    pub(crate) cookie: Option<String>,
    /// The state of the plan that it was made from, and its tag.
    pub(crate) state: Option<(u64, String)>,
    /// True when the browser has this very answer already.
    pub(crate) known: bool,
}

impl Answer {
    /// An answer of the given type that is not kept.
    pub(crate) fn new(mime: &'static str, body: impl Into<axum::body::Bytes>) -> Self {
        Answer {
            mime,
            body: body.into(),
            keep: Keep::No,
            save_as: None,
            cookie: None,
            state: None,
            known: false,
        }
    }

    /// A wire value as JSON.
    pub(crate) fn json<T: Serialize>(value: &T) -> Result<Self, Refusal> {
        match serde_json::to_vec(value) {
            Ok(bytes) => Ok(Answer::new("application/json", bytes)),
            Err(_) => Err(Refusal::inside(say!(refusing::INSIDE_JSON))),
        }
    }

    /// Offers the answer for saving under a name, of which only plain signs are kept.
    pub(crate) fn save_as(mut self, name: &str) -> Self {
        let plain = |sign: char| sign.is_ascii_alphanumeric() || matches!(sign, '-' | '_' | '.');
        let kept: String = name.chars().map(|sign| if plain(sign) { sign } else { '-' }).take(80).collect();
        self.save_as = Some(kept);
        self
    }

    /// Says from which change of the plan the answer was made, under a tag; the browser asks with the tag next time.
    pub(crate) fn made_from(mut self, change: u64, tag: String) -> Self {
        self.keep = Keep::Ask;
        self.state = Some((change, tag));
        self
    }

    /// Says that the browser has this answer already.
    pub(crate) fn known(change: u64, tag: String) -> Self {
        let mut answer = Answer::new("application/octet-stream", Vec::new()).made_from(change, tag);
        answer.known = true;
        answer
    }

    /// Says how long the answer may be kept.
    pub(crate) fn keep(mut self, keep: Keep) -> Self {
        self.keep = keep;
        self
    }

    /// The answer as HTTP.
    pub(crate) fn into_http(self) -> Response<Body> {
        let mut response = Response::new(Body::from(self.body));
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(self.mime));
        headers.insert(header::CACHE_CONTROL, keep_value(self.keep));
        if let Some((change, tag)) = self.state {
            headers.insert("x-standfast-change", HeaderValue::from(change));
            if let Ok(tag) = HeaderValue::from_str(&tag) {
                headers.insert(header::ETAG, tag);
            }
        }
        if let Some(name) = self.save_as
            && let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{name}\""))
        {
            headers.insert(header::CONTENT_DISPOSITION, value);
        }
        if let Some(cookie) = self.cookie
            && let Ok(value) = HeaderValue::from_str(&cookie)
        {
            headers.insert(header::SET_COOKIE, value);
        }
        if self.known {
            *response.status_mut() = StatusCode::NOT_MODIFIED;
        }
        response
    }
}

/// The value of `Cache-Control`.
pub(crate) fn keep_value(keep: Keep) -> HeaderValue {
    HeaderValue::from_static(match keep {
        Keep::No => "no-store",
        Keep::Ever => "private, max-age=31536000, immutable",
        Keep::Ask => "no-cache",
    })
}

/// A refusal: a status, a stable code and whole sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Refusal {
    /// The status.
    pub(crate) status: StatusCode,
    /// The stable code.
    pub(crate) code: &'static str,
    /// Place, value, next step.
    pub(crate) message: Box<Said>,
    /// Seconds after which it is worth to try again.
    pub(crate) again: Option<u64>,
    /// Time to let pass before answering, which slows guessing down.
    pub(crate) delay: Duration,
}

impl Refusal {
    /// A refusal with a status, a code and a message.
    pub(crate) fn new(status: StatusCode, code: &'static str, message: Said) -> Self {
        Refusal { status, code, message: Box::new(message), again: None, delay: Duration::ZERO }
    }

    /// Something went wrong inside.
    pub(crate) fn inside(what: Said) -> Self {
        Refusal::new(StatusCode::INTERNAL_SERVER_ERROR, "inside", say!(refusing::INSIDE, what = what))
    }

    /// A body or an address that cannot be read.
    pub(crate) fn bad(code: &'static str, message: Said) -> Self {
        Refusal::new(StatusCode::BAD_REQUEST, code, message)
    }

    /// Nothing of this name.
    pub(crate) fn absent(message: Said) -> Self {
        Refusal::new(StatusCode::NOT_FOUND, "not-found", message)
    }

    /// The refusal as HTTP: a [`Trouble`] in JSON.
    pub(crate) fn into_http(self) -> Response<Body> {
        let trouble = Trouble {
            code: self.code.to_owned(),
            message: self.message.to_string(),
            said: Some(said(&self.message)),
        };
        let text = serde_json::to_vec(&trouble).unwrap_or_default();
        let mut response = Response::new(Body::from(text));
        *response.status_mut() = self.status;
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("application/json"));
        headers.insert(header::CACHE_CONTROL, keep_value(Keep::No));
        if let Some(seconds) = self.again {
            headers.insert(header::RETRY_AFTER, HeaderValue::from(seconds));
        }
        response
    }
}
