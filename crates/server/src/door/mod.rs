//! The door: who may come in, under which name, and as whom.

pub(crate) mod brake;
pub(crate) mod codes;
pub(crate) mod crowd;
pub(crate) mod dress;
pub(crate) mod hosts;

use std::net::IpAddr;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use axum::http::header::{COOKIE, UPGRADE};
use axum::http::request::Parts;
use axum::http::{HeaderMap, HeaderName, Method, StatusCode};

use crate::answer::Refusal;
use crate::wire::Role;
use brake::Brake;
use codes::{Codes, Sessions};
use hosts::{Hosts, Peer, Side};
use sayings::{Said, refusing, say};

/// Header that every write carries. A form or a picture of a foreign page cannot set it.
const WRITE: HeaderName = HeaderName::from_static("x-standfast");

/// Who asks.
#[derive(Debug, Clone)]
pub(crate) struct Visitor {
    /// As whom, if let in.
    pub(crate) role: Option<Role>,
    /// From which side.
    pub(crate) side: Side,
    /// From which address.
    pub(crate) from: IpAddr,
}

/// The state of the door.
#[derive(Debug)]
pub(crate) struct Door {
    hosts: Hosts,
    codes: Codes,
    cookie: String,
    sessions: Mutex<Sessions>,
    brake: Mutex<Brake>,
    opened: Instant,
}

impl Door {
    /// A closed door with new codes.
    pub(crate) fn new(hosts: Hosts) -> Result<Self, getrandom::Error> {
        Ok(Door {
            // Cookies do not know ports, so that two workbenches on one machine would take each other's.
            cookie: format!("standfast-{}", hosts.port),
            hosts,
            codes: Codes::draw()?,
            sessions: Mutex::default(),
            brake: Mutex::default(),
            opened: Instant::now(),
        })
    }

    /// The codes of this run.
    pub(crate) fn codes(&self) -> &Codes {
        &self.codes
    }

    /// Judges a request before anything of it is acted upon: the visitor and the host named.
    pub(crate) fn judge(&self, peer: Peer, parts: &Parts) -> Result<(Visitor, String), Refusal> {
        let host = self.hosts.judge(&parts.headers, peer).filter(|(_, named)| target_fits(parts, named));
        let Some((side, named)) = host else {
            return Err(forbidden("host", say!(refusing::DOOR_HOST, fix = self.hosts.fix())));
        };
        let reads = matches!(parts.method, Method::GET | Method::HEAD);
        let upgrades = parts.headers.contains_key(UPGRADE) || parts.uri.path() == "/api/live";
        if !hosts::origin_fits(&parts.headers, &named, !reads || upgrades) {
            return Err(forbidden("origin", say!(refusing::DOOR_ORIGIN, host = &named)));
        }
        if !reads && parts.headers.get(WRITE).is_none_or(|value| value.as_bytes() != b"1") {
            return Err(forbidden("header", say!(refusing::DOOR_HEADER)));
        }
        let role = match side {
            Side::Loopback => Some(Role::Planner),
            Side::Lan => self.known(&parts.headers),
        };
        Ok((Visitor { role, side, from: peer.addr }, named))
    }

    /// Lets a visitor in who knows a code: the role, and the cookie to set.
    pub(crate) fn join(&self, visitor: &Visitor, typed: &str) -> Result<(Role, Option<String>), Refusal> {
        // Whoever is in already is never locked out by somebody else's guesses.
        let limited = visitor.role.is_none();
        if visitor.side == Side::Loopback {
            return Ok((Role::Planner, None));
        }
        let now = self.opened.elapsed();
        if limited {
            locked(&self.brake).may_try(visitor.from, now).map_err(too_many)?;
        }
        let Some(role) = self.codes.role(typed) else {
            if limited {
                locked(&self.brake).wrong(visitor.from, now);
            }
            return Err(wrong_code());
        };
        let token =
            locked(&self.sessions).open(role).map_err(|_| Refusal::inside(say!(refusing::INSIDE_RANDOM)))?;
        Ok((role, Some(format!("{}={token}; Path=/; HttpOnly; SameSite=Strict", self.cookie))))
    }

    /// The role of the session that the cookie names.
    fn known(&self, headers: &HeaderMap) -> Option<Role> {
        let sessions = locked(&self.sessions);
        headers
            .get_all(COOKIE)
            .iter()
            .filter_map(|line| line.to_str().ok())
            .flat_map(|line| line.split(';'))
            .filter_map(|pair| pair.trim().split_once('='))
            .filter(|(name, _)| *name == self.cookie)
            .find_map(|(_, token)| sessions.role(token))
    }
}

/// A request line may name a host too; this is no proxy, so it must be the same one.
fn target_fits(parts: &Parts, named: &str) -> bool {
    !guards::Guard::HostList.stands()
        || parts.uri.authority().is_none_or(|target| target.as_str().eq_ignore_ascii_case(named))
}

fn forbidden(code: &'static str, message: Said) -> Refusal {
    Refusal::new(StatusCode::FORBIDDEN, code, message)
}

fn too_many(seconds: u64) -> Refusal {
    let mut refusal =
        Refusal::new(StatusCode::TOO_MANY_REQUESTS, "code-wait", say!(refusing::CODE_WAIT, n = seconds));
    refusal.again = Some(seconds);
    refusal
}

fn wrong_code() -> Refusal {
    let mut refusal = Refusal::new(StatusCode::FORBIDDEN, "code-wrong", say!(refusing::CODE_WRONG));
    let mut byte = [0u8; 1];
    // Without a random source the wait is merely less varied.
    let extra = getrandom::fill(&mut byte).map_or(50, |()| u64::from(byte[0]) * 100 / 255);
    refusal.delay = Duration::from_millis(100 + extra);
    refusal
}

/// A panic elsewhere leaves these tables whole, since each is changed in one step.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
