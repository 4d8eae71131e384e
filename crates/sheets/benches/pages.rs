//! How long 200 pages of lane sheets take and how large the file is: `cargo bench -p sheets`.
//!
//! Each field has 24 lanes of 60 ranks in 12 colours with runs of 1 to 8 pieces: one strip. Fields are added
//! until the document has 200 pages, contents, legend and measuring strips included.

#![allow(clippy::print_stdout, reason = "a bench prints its figures")]

use std::time::Instant;

use plan::{Colour, ColourId, Field, FieldFrame, Item, ItemId, Kind, KindId, Plan, Rgb};
use sheets::{SheetOptions, document, pdf};
use units::Length;

fn main() {
    let mut plan = Plan::new("Bench");
    plan.stock.kinds = vec![Kind::usual(KindId(1))];
    plan.stock.colours = (1..=12).map(colour).collect();
    let options = SheetOptions::default();
    let lay = |plan: &Plan| {
        let items: Vec<ItemId> = plan.items.iter().map(|i| i.id).collect();
        document(plan, &items, &options, &mut |_, _| true).expect("the bench plan is sound")
    };
    while plan.items.is_empty() || lay(&plan).pages.len() < 200 {
        let more = if plan.items.is_empty() { 30 } else { 1 };
        for _ in 0..more {
            let id = plan.items.len() as u32 + 1;
            plan.items.push(field(id));
        }
    }
    for _ in 0..3 {
        let start = Instant::now();
        let doc = lay(&plan);
        let laid = start.elapsed().as_secs_f64();
        let bytes = pdf(&doc).expect("a PDF");
        let all = start.elapsed().as_secs_f64();
        assert!(doc.counts.problems.is_empty());
        let (pages, fields) = (doc.pages.len(), plan.items.len());
        let mb = bytes.len() as f64 / 1e6;
        println!(
            "{pages} pages of {fields} fields, {} pieces: layout {laid:.2} s, all {all:.2} s, {mb:.2} MB",
            doc.counts.on_sheets
        );
    }
}

fn colour(i: u16) -> Colour {
    let rgb = Rgb { r: (i * 20) as u8, g: (255 - i * 15) as u8, b: (i * 37 % 256) as u8 };
    Colour::plain(ColourId(i), format!("Colour {i}"), format!("{}", char::from(b'A' + i as u8)), rgb)
}

fn field(id: u32) -> Item {
    let frame = FieldFrame {
        fall: geometry::FallInPicture::Right,
        ..FieldFrame::new(24, 60, Length::mm(15.0), Length::mm(25.0))
    };
    let mut state = u64::from(id) * 7919;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        state >> 33
    };
    let mut cells = Vec::new();
    while cells.len() < frame.len() {
        let (colour, run) = (1 + (next() % 12) as u16, 1 + next() as usize % 8);
        cells.resize((cells.len() + run).min(frame.len()), colour);
    }
    let mut field = Field::empty(KindId(1), frame);
    field.cells = cells.into();
    Item::new(ItemId(id), format!("Field {id}"), geometry::Point::default(), plan::Body::Field(field))
}
