//! Lanes that are fed by brick ranks, as the project lays them, run in the rigid-body engine with scatter.

use anyhow::{Context as _, Result, ensure};
use geometry::Point;
use placement::{Placement, ports};
use plan::{Body, Enter, Feed, FeedWay, Field, FieldFrame, Item, ItemId, Kind, KindId, Plan};
use units::Length;

use crate::dice::scattered;
use crate::engine::{Fineness, Spot, fell};

/// Lanes, pieces in each of them, and pieces of the line before the feed.
const LANES: u32 = 5;
const RANKS: u32 = 14;
const LEAD: u32 = 12;

/// What was run: lane pitch and clear gap in mm, friction of pieces and floor alike.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Case {
    pub(crate) lanes: f64,
    pub(crate) gap: f64,
    pub(crate) mu: f64,
    /// False: the line meets the middle lane alone, without bricks, which is known not to feed the others.
    pub(crate) bricks: bool,
}

/// Lanes that fell whole, of so many runs of five lanes each.
pub(crate) fn lanes_that_fell(case: &Case, runs: u64) -> Result<u32> {
    let exact = spots(case)?;
    let first_of_lanes = exact.len() - (LANES * RANKS) as usize;
    let mut count = 0;
    for run in 0..runs {
        let fallen = fell(&scattered(&exact, run + 1), case.mu, 9.0, &Fineness::USUAL);
        let lanes = fallen[first_of_lanes..].chunks(RANKS as usize);
        count += lanes.filter(|lane| lane.iter().all(|f| *f)).count() as u32;
    }
    Ok(count)
}

/// The line, then the bricks, then the lanes one after the other.
fn spots(case: &Case) -> Result<Vec<Spot>> {
    let pitch = Length::mm(case.gap + 7.5);
    let mut plan = Plan::new("Bricks");
    plan.stock.kinds.push(Kind::usual(KindId(1)));
    let frame = FieldFrame::new(LANES, RANKS, pitch, Length::mm(case.lanes));
    let mut field = Field::empty(KindId(1), frame);
    field.cells = vec![1; frame.len()].into();
    let way = FeedWay::Brick { enter: Enter::Middle };
    let feed = Feed { of: ItemId(1), way, kind: KindId(1), colour: plan::ColourId(1), pitch };
    let item = |id, name: &str, body| Item::new(ItemId(id), name.to_owned(), Point::new(0.0, 0.0), body);
    plan.items = vec![item(1, "Lanes", Body::Field(field)), item(2, "Feed", Body::Feed(feed))];
    let placement = Placement::of(&plan);
    let placed = |id| placement.item(ItemId(id)).context("an item has no pieces");
    let entry = ports(&plan, plan.item(ItemId(2)).context("no feed")?);
    let entry = entry.iter().find(|p| p.flow == plan::PortFlow::In).context("the feed has no entry")?;
    // Items head east when nothing turns them: the line comes from the west.
    let middle = f64::from(LANES / 2) * case.lanes;
    let (x, y) = if case.bricks { (entry.at.x, entry.at.y) } else { (0.0, placed(1)?.pieces.y[0] + middle) };
    let mut out: Vec<Spot> =
        (1..=LEAD).rev().map(|i| Spot { x: x - f64::from(i) * pitch.to_mm(), y, yaw: 0.0 }).collect();
    for id in if case.bricks { vec![2, 1] } else { vec![1] } {
        let p = &placed(id)?.pieces;
        let mut order: Vec<usize> = (0..p.len()).collect();
        order.sort_by_key(|i| (p.lane[*i], p.rank[*i]));
        out.extend(order.into_iter().map(|i| Spot { x: p.x[i], y: p.y[i], yaw: f64::from(p.yaw[i]) }));
    }
    ensure!(out.iter().all(|s| s.yaw.abs() < 1e-6), "the pieces are not laid eastwards");
    Ok(out)
}
