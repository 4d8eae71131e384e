//! How long placement takes and how much memory a piece needs: `cargo bench -p placement`.
#![allow(clippy::print_stdout, missing_docs, reason = "a bench prints its table")]

use std::time::Instant;

use geometry::Point;
use placement::{Pieces, place_item};
use plan::{Body, Field, FieldFrame, Item, ItemId, Kind, KindId, Stock};
use units::{Angle, Length};

fn item(lanes: u32, ranks: u32, gaps: bool) -> Item {
    let frame = FieldFrame {
        stagger: Length::mm(7.5),
        ..FieldFrame::new(lanes, ranks, Length::mm(15.0), Length::mm(25.0))
    };
    let mut field = Field::empty(KindId(1), frame);
    field.cells = (0..frame.len()).map(|i| if gaps { (i % 2) as u16 } else { 1 }).collect::<Vec<_>>().into();
    let (id, at, heading) = (ItemId(1), Point::new(1234.5, -678.9), Angle::deg(33.0));
    Item { heading, ..Item::new(id, "F", at, Body::Field(field)) }
}

fn main() {
    let stock = Stock { kinds: vec![Kind::usual(KindId(1))], ..Stock::default() };
    println!(
        "{:<34} {:>9} {:>12} {:>12} {:>12}",
        "field", "pieces", "place, ms", "bytes each", "to wire, ms"
    );
    let sizes = [(32, 32, false), (100, 100, false), (316, 317, false), (1000, 1000, false)];
    for (lanes, ranks, gaps) in
        sizes.into_iter().chain([(1_000_000, 1, false), (1, 1_000_000, false), (1000, 2000, true)])
    {
        let item = item(lanes, ranks, gaps);
        let mut best = f64::INFINITY;
        let mut wire = f64::INFINITY;
        let mut last: Option<Pieces> = None;
        for _ in 0..7 {
            let start = Instant::now();
            let pieces = std::hint::black_box(place_item(&item, &stock));
            best = best.min(start.elapsed().as_secs_f64() * 1e3);
            let start = Instant::now();
            std::hint::black_box(pieces.to_bytes());
            wire = wire.min(start.elapsed().as_secs_f64() * 1e3);
            last = Some(pieces);
        }
        let (count, bytes) = last.map_or((0, 0), |p| (p.len(), p.bytes()));
        let each = bytes as f64 / count.max(1) as f64;
        let name = format!("{lanes} lanes x {ranks} ranks{}", if gaps { ", every other" } else { "" });
        println!("{name:<34} {count:>9} {best:>12.2} {each:>12.1} {wire:>12.2}");
    }
}
