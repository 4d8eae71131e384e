//! The hall and what happens in it.

use desk::{GapsAt, ReportAt, Woven};
use geometry::Point;
use placement::{PieceId, Pieces, Placement, PortPlace};
use plan::{HallPartKind, Item, Kind, Plan, PortFlow};

use super::count;
use crate::wire;

/// A port of a single lane of a field: those are too many to draw.
const LANE: &str = "lane ";

fn points(outline: &[Point]) -> Vec<[f64; 2]> {
    outline.iter().map(|p| [p.x, p.y]).collect()
}

/// The hall and the surfaces in it.
pub(crate) fn hall(plan: &Plan) -> wire::HallRow {
    let part = |part: &plan::HallPart| wire::HallPartRow {
        name: part.name.clone(),
        is: match part.is {
            HallPartKind::Pillar => "pillar",
            HallPartKind::Door => "door",
            HallPartKind::Exit => "exit",
            HallPartKind::Aisle => "aisle",
            HallPartKind::Table => "table",
            HallPartKind::Overhead => "overhead",
        }
        .to_owned(),
        outline: points(&part.outline),
        height: part.height.to_mm(),
    };
    let surface = |surface: &plan::Surface| wire::HallPartRow {
        name: surface.name.clone(),
        is: "surface".to_owned(),
        outline: points(&surface.outline),
        height: surface.height.to_mm(),
    };
    let parts = plan.hall.parts.iter().map(part).chain(plan.surfaces.iter().map(surface)).collect();
    let grip = super::scene::grip_to_wire(&plan.hall.grip);
    let marks = super::taped::marks(&plan.hall);
    wire::HallRow { outline: points(&plan.hall.outline), parts, grip, marks }
}

/// A kind of piece.
pub(crate) fn kind(kind: &Kind) -> wire::KindRow {
    wire::KindRow {
        id: kind.id.0,
        name: kind.name.clone(),
        thickness: kind.thickness.to_mm(),
        width: kind.width.to_mm(),
        height: kind.height.to_mm(),
    }
}

/// The ports of an item that are worth drawing.
pub(crate) fn ports(plan: &Plan, placement: &Placement, item: &Item) -> Vec<wire::PortRow> {
    let row = |port: PortPlace| wire::PortRow {
        enters: port.flow == PortFlow::In,
        at: [port.at.x, port.at.y],
        heading: port.heading.to_deg(),
        width: port.width,
        name: port.name,
    };
    placement.ports(plan, item).into_iter().filter(|port| !port.name.starts_with(LANE)).map(row).collect()
}

/// The safety gaps of an item, with the strokes that show them.
pub(crate) fn gaps(placement: &Placement, item: &Item) -> Vec<wire::GapRow> {
    let Some(placed) = placement.item(item.id) else { return Vec::new() };
    let row = |gap: &plan::SafetyGap| {
        let last = gap.first.saturating_add(gap.count.saturating_sub(1));
        let strokes = [gap.first, last].into_iter().filter_map(|rank| stroke(&placed.pieces, rank)).collect();
        wire::GapRow { first: gap.first, count: gap.count, stopper: gap.stopper, strokes }
    };
    item.gaps.iter().map(row).collect()
}

/// What the safety gaps do while they are open.
pub(crate) fn gap_states(at: &GapsAt) -> wire::GapStates {
    let mut last = None;
    let mut index = 0;
    let row = |present: &works::Present| {
        index = if last == Some(present.item) { index + 1 } else { 0 };
        last = Some(present.item);
        let (first, last) = present.gap.for_people();
        wire::GapState {
            item: present.item.0,
            gap: index,
            ranks: [count(first), count(last)],
            pieces: present.pieces,
            holds: match present.holds {
                fall::Holds::Surely => wire::Holds::Surely,
                fall::Holds::Unsure => wire::Holds::Unsure,
                fall::Holds::Not => wire::Holds::Not,
            },
            open: present.opening.map(|opening| opening.clear),
            block: match present.opening.map(|opening| opening.block) {
                None | Some(fall::Block::None) => wire::Block::None,
                Some(fall::Block::Fixed) => wire::Block::Fixed,
                Some(fall::Block::LooseStanding | fall::Block::LooseFlat) => wire::Block::Loose,
            },
            needed: present.needed,
        }
    };
    let gaps = at.gaps.iter().map(row).collect();
    wire::GapStates { change: count(at.woven.scene.snapshot.change), gaps }
}

/// How far a stroke stands out beyond the middle of the outermost lanes, mm.
const BEYOND: f64 = 40.0;

/// A stroke across all lanes at a rank.
fn stroke(pieces: &Pieces, rank: u32) -> Option<[[f64; 2]; 2]> {
    let mut at = (0..pieces.len()).filter(|&i| pieces.rank[i] == rank);
    let first = at.next()?;
    let last = at.next_back().unwrap_or(first);
    let (sin, cos) = units::maths::sin_cos(f64::from(pieces.yaw[first]));
    let end = |i: usize, side: f64| [pieces.x[i] + side * BEYOND * sin, pieces.y[i] - side * BEYOND * cos];
    // Lane 0 is the rightmost along the fall.
    Some([end(first, 1.0), end(last, -1.0)])
}

/// The pitch of an item's pieces along the fall and across it, mm.
pub(crate) fn pitch(plan: &Plan, item: &Item) -> [f64; 2] {
    let kind = |id| plan.stock.kind(id).cloned().unwrap_or_else(|| Kind::usual(id));
    match &item.body {
        plan::Body::Field(f) => [f.frame.pitch_along.to_mm(), f.frame.pitch_across.to_mm()],
        plan::Body::Line(l) => {
            let kind = kind(l.kind);
            let across = if l.lanes > 1 { l.pitch_across } else { kind.width };
            [l.spacing.pitch(kind.thickness).to_mm(), across.to_mm()]
        }
        plan::Body::Fill(f) => {
            let kind = kind(f.kind);
            [f.spacing.pitch(kind.thickness).to_mm(), kind.width.to_mm()]
        }
        plan::Body::Feed(f) => [f.pitch.to_mm(), kind(f.kind).width.to_mm()],
        _ => [0.0, 0.0],
    }
}

/// A piece by its name and its number.
pub(crate) fn name(woven: &Woven, id: PieceId) -> wire::PieceName {
    let local = woven.network.pieces_of(id.item).and_then(|pieces| pieces.find(id)).unwrap_or(0);
    let first = woven.network.index().first(id.item).unwrap_or(0);
    wire::PieceName { piece: first + count(local), item: id.item.0, lane: id.lane + 1, rank: id.rank + 1 }
}

/// A piece by its number.
pub(crate) fn named(woven: &Woven, piece: u32) -> Option<wire::PieceName> {
    let id = woven.network.piece_id(piece)?;
    Some(wire::PieceName { piece, item: id.item.0, lane: id.lane + 1, rank: id.rank + 1 })
}

fn why(why: fall::Why) -> (wire::Why, Option<f64>) {
    let word = match why {
        fall::Why::NoStart => wire::Why::NoStart,
        fall::Why::NotFed => wire::Why::NotFed,
        fall::Why::TooFar { gap_mm } => return (wire::Why::TooFar, Some(gap_mm)),
        fall::Why::Turned => wire::Why::Turned,
        fall::Why::Blocked => wire::Why::Blocked,
        fall::Why::TooBig => wire::Why::TooBig,
        fall::Why::StepTooHigh => wire::Why::StepTooHigh,
        fall::Why::AfterStall { .. } => wire::Why::AfterStall,
    };
    (word, None)
}

/// The report of a fall.
pub(crate) fn report(at: &ReportAt) -> wire::FallReport {
    let (woven, report) = (&at.woven, &at.report);
    let place = |id: PieceId| {
        let pieces = woven.network.pieces_of(id.item);
        pieces.and_then(|p| p.find(id).map(|i| [p.x[i], p.y[i]])).unwrap_or([0.0, 0.0])
    };
    let stands = |stands: &fall::Stands| {
        let (why, gap) = why(stands.why);
        wire::StandsRow {
            item: stands.item.0,
            lanes: stands.lanes.iter().map(|&(first, last)| [first + 1, last + 1]).collect(),
            pieces: stands.pieces,
            why,
            gap,
            piece: name(woven, stands.sample),
            at: place(stands.sample),
        }
    };
    let unsure = |unsure: &fall::Unsure| {
        let (why, by) = match unsure.why {
            fall::Doubt::Hit => (wire::Doubt::Hit, None),
            fall::Doubt::Low => (wire::Doubt::Low, None),
            fall::Doubt::Knocked { by } => (wire::Doubt::Knocked, Some(name(woven, by))),
            fall::Doubt::Crossed { by } => (wire::Doubt::Crossed, Some(name(woven, by))),
            fall::Doubt::Dies => (wire::Doubt::Dies, None),
        };
        wire::UnsureRow { piece: name(woven, unsure.to), at: place(unsure.to), why, by }
    };
    let pass =
        |p: &fall::PassTimes| wire::PassRow { item: p.item.0, from: p.from_s.into(), to: p.to_s.into() };
    let arrival =
        |&(item, least, most): &(plan::ItemId, f64, f64)| wire::ArrivalRow { item: item.0, least, most };
    wire::FallReport {
        change: count(woven.scene.snapshot.change),
        pieces: report.pieces,
        assumed: report.assumed,
        fallen: report.fallen,
        surely: report.surely,
        starts: count(woven.network.starts().iter().filter(|s| !s.states.is_empty()).count()),
        least: report.least_s,
        most: report.most_s,
        stands: report.stands.iter().map(stands).collect(),
        per_second: report.per_second.iter().map(|&(second, pieces)| [second, pieces]).collect(),
        arrivals: report.arrivals.iter().map(arrival).collect(),
        passes: report.passes.iter().map(pass).collect(),
        unsure: report.unsure.iter().map(unsure).collect(),
    }
}
