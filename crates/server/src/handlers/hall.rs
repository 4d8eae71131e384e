//! The hall: pieces, the fall, and what a touch takes.

use std::sync::OnceLock;
use std::time::SystemTime;

use axum::http::header::IF_NONE_MATCH;
use desk::{Snapshot, TouchAt};
use fall::Pace;
use plan::ItemId;
use serde::Deserialize;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::Ask;
use crate::convert::{columns, hall, refusal, taped, timed};
use crate::wire::PieceInfo;
use sayings::{refusing, say};

/// What an address may say beside its path.
#[derive(Debug, Deserialize)]
struct Query {
    /// `slow`, `usual` or `fast`; usual when absent.
    pace: Option<String>,
    /// `open` while the pieces of safety gaps are left out.
    gaps: Option<String>,
    /// Ids of the items that do not stand yet: `3,7-9`; everything stands when absent.
    without: Option<String>,
}

impl Query {
    fn pace(&self) -> Result<Pace, Refusal> {
        match self.pace.as_deref() {
            None | Some("usual") => Ok(Pace::Usual),
            Some("slow") => Ok(Pace::Slow),
            Some("fast") => Ok(Pace::Fast),
            Some(other) => Err(unknown("pace", other, "slow, usual or fast")),
        }
    }

    fn gaps_open(&self) -> Result<bool, Refusal> {
        match self.gaps.as_deref() {
            None | Some("closed") => Ok(false),
            Some("open") => Ok(true),
            Some(other) => Err(unknown("gaps", other, "open or closed")),
        }
    }

    fn without(&self) -> Result<Ids, Refusal> {
        let text = self.without.as_deref().unwrap_or("");
        Ids::read(text).ok_or_else(|| unknown("without", text, "ids of items, like 3,7-9"))
    }

    /// What a touch takes of what stands by this address.
    fn touch(&self, app: &App) -> Result<TouchAt, Refusal> {
        let (without, open) = (self.without()?, self.gaps_open()?);
        Ok(app.desk.touch_without(&|id| without.holds(id), open))
    }
}

/// `GET /api/hall/taped`.
pub(crate) fn taped(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    let snapshot = app.desk.snapshot();
    Answer::json(&taped::hall(snapshot.change, &snapshot.plan.hall))
}

/// `GET /api/hall/timed`.
pub(crate) fn timed(app: &App, _: &Ask) -> Result<Answer, Refusal> {
    let snapshot = app.desk.snapshot();
    Answer::json(&timed::hall(snapshot.change, &snapshot.plan))
}

/// Ids as an address lists them: ranges from first to last, apart and in order.
#[derive(Debug, Default, PartialEq, Eq)]
struct Ids(Vec<(u32, u32)>);

impl Ids {
    /// Reads `3,7-9`; nothing is no id.
    fn read(text: &str) -> Option<Self> {
        let digits =
            |text: &str| text.bytes().all(|b| b.is_ascii_digit()).then(|| text.parse().ok()).flatten();
        let one = |part: &str| match part.split_once('-') {
            None => digits(part).map(|id| (id, id)),
            Some((first, last)) => digits(first).zip(digits(last)).filter(|(first, last)| first <= last),
        };
        let parts = text.split(',').filter(|_| !text.is_empty());
        let mut ranges: Vec<(u32, u32)> = parts.map(one).collect::<Option<_>>()?;
        ranges.sort_unstable();
        let mut apart: Vec<(u32, u32)> = Vec::with_capacity(ranges.len());
        for (first, last) in ranges {
            match apart.last_mut() {
                Some(before) if first <= before.1 => before.1 = before.1.max(last),
                _ => apart.push((first, last)),
            }
        }
        Some(Self(apart))
    }

    fn holds(&self, id: ItemId) -> bool {
        let after = self.0.partition_point(|&(first, _)| first <= id.0);
        after > 0 && self.0[after - 1].1 >= id.0
    }
}

fn unknown(name: &str, value: &str, known: &str) -> Refusal {
    let value: String = value.chars().take(40).collect();
    Refusal::bad("query", say!(refusing::QUERY_VALUE, name = name, value = value, known = known))
}

/// Tells answers of one run of the server from those of another, which may serve another plan at the same address.
fn run() -> u128 {
    static RUN: OnceLock<u128> = OnceLock::new();
    *RUN.get_or_init(|| SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).map_or(0, |d| d.as_nanos()))
}

fn tag(snapshot: &Snapshot) -> String {
    format!("\"{:x}-{}\"", run(), snapshot.change)
}

/// The answer that the browser has already, if it has.
fn known(app: &App, ask: &Ask) -> Option<Answer> {
    let snapshot = app.desk.snapshot();
    let tag = tag(&snapshot);
    let has = ask.headers.get(IF_NONE_MATCH).and_then(|tags| tags.to_str().ok())?;
    has.split(',').any(|one| one.trim() == tag).then(|| Answer::known(snapshot.change, tag))
}

fn bytes(snapshot: &Snapshot, bytes: Vec<u8>) -> Answer {
    Answer::new("application/octet-stream", bytes).made_from(snapshot.change, tag(snapshot))
}

/// `GET /api/hall/pieces`.
pub(crate) fn pieces(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    if let Some(known) = known(app, ask) {
        return Ok(known);
    }
    let scene = app.desk.scene();
    Ok(bytes(&scene.snapshot, columns::pieces(&scene)))
}

/// `GET /api/fall/times`.
pub(crate) fn times(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let query: Query = ask.query()?;
    let wanted = fall::Ask { pace: query.pace()?, gaps_open: query.gaps_open()?, ..fall::Ask::default() };
    if let Some(known) = known(app, ask) {
        return Ok(known);
    }
    let at = app.desk.fall(&wanted).map_err(refusal)?;
    Ok(bytes(&at.woven.scene.snapshot, columns::times(&at)))
}

/// `GET /api/fall/report`.
pub(crate) fn report(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    if let Some(known) = known(app, ask) {
        return Ok(known);
    }
    let at = app.desk.fall_report();
    let snapshot = &at.woven.scene.snapshot;
    Ok(Answer::json(&hall::report(&at))?.made_from(snapshot.change, tag(snapshot)))
}

/// `GET /api/touch`.
pub(crate) fn touch(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let query: Query = ask.query()?;
    // A slip of the address is said whatever the browser has.
    let _ = (query.without()?, query.gaps_open()?);
    if let Some(known) = known(app, ask) {
        return Ok(known);
    }
    let at = query.touch(app)?;
    Ok(bytes(&at.woven.scene.snapshot, columns::touch(&at)))
}

/// `GET /api/gaps`.
pub(crate) fn gaps(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    if let Some(known) = known(app, ask) {
        return Ok(known);
    }
    let at = app.desk.gaps();
    let snapshot = &at.woven.scene.snapshot;
    Ok(Answer::json(&hall::gap_states(&at))?.made_from(snapshot.change, tag(snapshot)))
}

/// `GET /api/piece/{n}`: one piece in words, from the same results as the columns.
pub(crate) fn piece(app: &App, ask: &Ask) -> Result<Answer, Refusal> {
    let n = ask.number("n", "")?;
    let query: Query = ask.query()?;
    let fall = |pace| app.desk.fall(&fall::Ask { pace, ..fall::Ask::default() }).map_err(refusal);
    let (usual, slow, fast) = (fall(Pace::Usual)?, fall(Pace::Slow)?, fall(Pace::Fast)?);
    let touch = query.touch(app)?;
    let woven = &usual.woven;
    let absent = || Refusal::absent(say!(refusing::NO_PIECE, n = n));
    let name = hall::named(woven, n).ok_or_else(absent)?;
    let (item, local) = woven.network.index().piece(n).ok_or_else(absent)?;
    let (pieces, i) = (woven.network.pieces_of(item).ok_or_else(absent)?, local as usize);
    let at = |fall: &fall::Fall| {
        fall.hit_us.get(n as usize).filter(|&&us| us != fall::STANDS_US).map(|&us| us as f64 / 1e6)
    };
    let between = at(&fast.fall).zip(at(&slow.fall)).map(|(a, b)| [a.min(b), a.max(b)]);
    let from = usual.fall.from.get(n as usize).and_then(|&from| hall::named(woven, from));
    let back = usual.fall.way.get(n as usize) == Some(&1);
    let of = |column: &[u32]| column.get(n as usize).copied().unwrap_or(0);
    let yaw = f64::from(pieces.yaw[i]).to_degrees() + if back { 180.0 } else { 0.0 };
    Answer::json(&PieceInfo {
        colour: pieces.colour[i],
        kind: pieces.kind[i],
        at: at(&usual.fall),
        between,
        from,
        back,
        heading: yaw.rem_euclid(360.0),
        touched_forward: of(&touch.map.forward),
        touched_back: of(&touch.map.back),
        touched_most: of(&touch.map.most),
        name,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_read_in_any_order_and_nothing_else_is() {
        let ids = Ids::read("7-9,3,8-12,4294967295").unwrap();
        let held: Vec<u32> = (0..20).filter(|&id| ids.holds(ItemId(id))).collect();
        assert_eq!(held, [3, 7, 8, 9, 10, 11, 12]);
        assert!(ids.holds(ItemId(u32::MAX)));
        assert_eq!(Ids::read(""), Some(Ids::default()));
        for bad in [",", "3,", "9-7", "-3", "+3", "3-", "4294967296", "a", "1-2-3", " 3"] {
            assert_eq!(Ids::read(bad), None, "{bad}");
        }
    }
}
