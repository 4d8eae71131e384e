//! A small plan of our own for the tests.
#![allow(dead_code, reason = "each test file uses its own part of it")]
#![allow(clippy::unwrap_used, reason = "a helper of tests fails as a test does")]

use std::io::Write;
use std::process::Command;

use geometry::{FallInPicture, Point};
use plan::*;
use units::{Angle, Length};

/// Codes of one to three signs, as a stock list may bring them.
pub(crate) const CODES: [&str; 6] = ["S", "K", "C", "Ws", "B7", "Gr2"];
const NAMES: [&str; 6] = ["Sky", "Kelp", "Cream", "White sand", "Brick", "Grey stone"];
const TONES: [&str; 6] = ["#6fa8dc", "#2f6b3a", "#f1e3c0", "#fbfaf5", "#a33c2b", "#7d7f86"];

pub(crate) fn stock() -> Stock {
    let colours = (0..6)
        .map(|i| {
            let rgb = Rgb::from_hex(TONES[i]).unwrap();
            Colour::plain(ColourId(i as u16 + 1), NAMES[i], CODES[i], rgb)
        })
        .collect();
    let lots = (0..6)
        .map(|i| Lot {
            id: LotId(i + 1),
            kind: KindId(1),
            colour: ColourId(i as u16 + 1),
            batch: if i % 2 == 0 { format!("A{i}") } else { String::new() },
            owner: if i % 3 == 0 { "Ines".into() } else { String::new() },
            count: 1000 + 700 * i,
            offered: 0,
            spare: 0.02,
            crate_size: (i < 4).then_some(500),
            thickness: (i < 3).then_some(Length::mm(7.5 + 0.04 * f64::from(i))),
            mass: None,
        })
        .collect();
    let comb = Gear {
        id: GearId(1),
        name: "Comb".into(),
        what: GearKind::Comb { pitch: Length::mm(15.0), teeth: 13 },
        count: 4,
        owner: String::new(),
    };
    Stock { kinds: vec![Kind::usual(KindId(1))], colours, lots, gear: vec![comb] }
}

/// Counter-based numbers from SplitMix64 (Steele, Lea, Flood 2014), so that a cell depends on its place alone.
pub(crate) fn mix(seed: u64) -> u64 {
    let mut z = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// Cells in runs of uneven length; about one run in seven is empty when `holes`.
pub(crate) fn cells(len: usize, seed: u64, holes: bool) -> Vec<u16> {
    let mut out = Vec::with_capacity(len);
    let mut i = seed * 1000;
    while out.len() < len {
        i += 1;
        let run = 1 + (mix(i) % 9) as usize * (mix(i + 77) % 3) as usize;
        let colour = if holes && mix(i + 5).is_multiple_of(7) { 0 } else { 1 + (mix(i + 9) % 6) as u16 };
        out.resize((out.len() + run).min(len), colour);
    }
    out
}

pub(crate) fn frame(lanes: u32, ranks: u32) -> FieldFrame {
    FieldFrame {
        fall: FallInPicture::Right,
        ..FieldFrame::new(lanes, ranks, Length::mm(15.0), Length::mm(25.0))
    }
}

pub(crate) fn field(id: u32, name: &str, heading: f64, frame: FieldFrame, cells: Vec<u16>) -> Item {
    let mut field = Field::empty(KindId(1), frame);
    field.cells = cells.into();
    Item {
        heading: Angle::deg(heading),
        ..Item::new(ItemId(id), name, Point::new(1000.0, 2000.0), Body::Field(field))
    }
}

pub(crate) fn plan(items: Vec<Item>) -> Plan {
    let mut plan = Plan::new("From Spring to Sea");
    plan.hall.name = "Larkmeadow Hall".into();
    plan.stock = stock();
    plan.items = items;
    plan
}

/// The plan's cells as codes, for comparison with what was read.
pub(crate) fn codes(plan: &Plan, item: &Item) -> Vec<Option<String>> {
    let code = |c: u16| plan.colour(ColourId(c)).map(|c| c.code.clone());
    item.field().unwrap().cells.as_slice().iter().map(|c| code(*c)).collect()
}

/// What poppler's `pdftotext -raw` reads in a PDF; `None` where poppler is not installed.
pub(crate) fn pdftotext(pdf: &[u8]) -> Option<String> {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(pdf).unwrap();
    let out = Command::new("pdftotext").args(["-raw", "-enc", "UTF-8"]).arg(file.path()).arg("-").output();
    let out = match out {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
            assert!(std::env::var_os("CI").is_none(), "pdftotext is missing; install poppler-utils");
            return None;
        }
        out => out.unwrap(),
    };
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    Some(String::from_utf8(out.stdout).unwrap())
}
