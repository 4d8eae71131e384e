//! What the pages look like: nothing leaves the paper, nothing overlaps, and a snapshot that people can read.
#![allow(clippy::unwrap_used, reason = "a helper of tests fails as a test does")]

mod common;

use std::path::Path;

use common::{cells, field, frame, mix, plan};
use geometry::FallInPicture;
use plan::{ItemId, Plan};
use sheets::*;
use units::Length;

/// A field with a picture in it: hills, water and a sun of our own.
fn landscape(lanes: u32, ranks: u32) -> Vec<u16> {
    let (w, h) = (f64::from(ranks), f64::from(lanes));
    let mut out = Vec::new();
    for lane in 0..lanes {
        for rank in 0..ranks {
            let (x, y) = (f64::from(rank) / w, f64::from(lane) / h);
            let hill = 0.35 + 0.15 * (x * 7.0 - 2.0) * (1.0 - x);
            let sun = (x - 0.75) * (x - 0.75) + (y - 0.8) * (y - 0.8) < 0.012;
            let speck = mix(u64::from(lane * 1000 + rank)).is_multiple_of(19);
            out.push(match () {
                () if sun => 3,
                () if y < 0.12 && x < 0.1 => 0,
                () if y < hill * 0.6 => {
                    if speck {
                        4
                    } else {
                        1
                    }
                }
                () if y < hill => {
                    if speck {
                        5
                    } else {
                        2
                    }
                }
                () => {
                    if speck {
                        6
                    } else {
                        4
                    }
                }
            });
        }
    }
    out
}

fn demo() -> Plan {
    let mut north = frame(40, 30);
    north.fall = FallInPicture::Up;
    north.stagger = Length::mm(7.5);
    plan(vec![
        field(1, "Mill by the river", 0.0, frame(48, 70), landscape(48, 70)),
        field(2, "Lighthouse", 90.0, north, landscape(40, 30)),
    ])
}

fn all(plan: &Plan, options: &SheetOptions) -> Document {
    let items: Vec<ItemId> = plan.items.iter().map(|i| i.id).collect();
    document(plan, &items, options, &mut |_, _| true).unwrap()
}

/// Writes a PDF beside the build's other files, so that it can be looked at.
fn keep(name: &str, doc: &Document) {
    std::fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join(name), pdf(doc).unwrap()).unwrap();
}

fn variants() -> Vec<(String, SheetOptions)> {
    let mut out = Vec::new();
    for paper in [Paper::A4, Paper::A3, Paper::Letter] {
        for language in [Language::English, Language::German] {
            for (unit, start, read_from) in [
                (Unit::Lane, Start::FarLeft, ReadFrom::South),
                (Unit::Rank, Start::NearRight, ReadFrom::West),
                (Unit::Lane, Start::FarRight, ReadFrom::North),
            ] {
                let options = SheetOptions {
                    read: ReadOptions { unit, start, read_from, ..ReadOptions::default() },
                    paper,
                    language,
                    measure: if paper == Paper::Letter { Measure::Imperial } else { Measure::Metric },
                    ink: if paper == Paper::A3 { Ink::Grey } else { Ink::Colour },
                    revision: "change 812".into(),
                    date: "25 November".into(),
                    base_url: (paper == Paper::A4).then(|| "http://192.0.2.7:8080/".to_owned()),
                    placed: (paper == Paper::A4).then_some(43_183),
                };
                out.push((format!("{paper:?}-{language:?}-{unit:?}-{start:?}"), options));
            }
        }
    }
    out
}

fn check_page(page: &Page, what: &str) {
    let (left, right, top, bottom) = (12.0, page.width - 12.0, 10.0, page.height - 12.0);
    let boxes: Vec<(&Text, [f64; 4])> = page.texts().map(|t| (t, t.bounds())).collect();
    for (t, [x0, y0, x1, y1]) in &boxes {
        let inside = *x0 >= left - 1e-6 && *x1 <= right + 1e-6 && *y0 >= top && *y1 <= bottom;
        assert!(inside, "{what}: {:?} at {x0:.1} {y0:.1} {x1:.1} {y1:.1}", t.text);
        assert!(t.size >= 10.0 || t.text == "N", "{what}: {:?} in {} point", t.text, t.size);
    }
    for (i, (a, ba)) in boxes.iter().enumerate() {
        for (b, bb) in &boxes[i + 1..] {
            let apart = ba[2] <= bb[0] || bb[2] <= ba[0] || ba[3] <= bb[1] || bb[3] <= ba[1];
            assert!(apart, "{what}: {:?} {ba:.1?} lies on {:?} {bb:.1?}", a.text, b.text);
        }
    }
    for op in &page.ops {
        let points: Vec<(f64, f64)> = match op {
            Op::Fill { rects, .. } => {
                rects.iter().flat_map(|r| [(r[0], r[1]), (r[0] + r[2], r[1] + r[3])]).collect()
            }
            Op::Shape { points, .. } => points.clone(),
            Op::Strokes { lines, .. } => lines.iter().flat_map(|l| [(l[0], l[1]), (l[2], l[3])]).collect(),
            Op::Text(_) => Vec::new(),
        };
        for (x, y) in points {
            let inside = x >= left - 0.3 && x <= right + 0.3 && y >= top && y <= bottom;
            assert!(inside, "{what}: a drawing at {x:.1} {y:.1}");
        }
    }
}

/// Every paper, language, unit and start: the margins of 12 mm are kept and no text lies on another.
#[test]
fn nothing_leaves_the_paper_and_no_text_lies_on_another() {
    let plan = demo();
    for (name, options) in variants() {
        let doc = all(&plan, &options);
        for (i, page) in doc.pages.iter().enumerate() {
            check_page(page, &format!("{name} page {}", i + 1));
        }
    }
}

/// Three hundred colours in one strip: the kit takes sheets of its own, and everything still fits and reads back.
#[test]
fn three_hundred_colours_fit() {
    let mut plan = plan(vec![field(1, "Mill", 0.0, frame(24, 50), (0..1200).map(|i| 1 + i % 300).collect())]);
    let base = plan.stock.colours[0].clone();
    plan.stock.colours = (1..=300u16)
        .map(|i| plan::Colour {
            id: plan::ColourId(i),
            name: format!("Tone {i}"),
            code: format!("W{i:02}"),
            ..base.clone()
        })
        .collect();
    for ink in [Ink::Colour, Ink::Grey] {
        let doc = all(&plan, &SheetOptions { ink, ..SheetOptions::default() });
        assert_eq!(doc.counts.problems, Vec::<String>::new());
        assert_eq!(doc.counts.on_sheets, 1200);
        for (i, page) in doc.pages.iter().enumerate() {
            check_page(page, &format!("300 colours, page {}", i + 1));
        }
        keep("colours-300.pdf", &doc);
    }
}

/// What is called aloud (code, count, total, number of the lane, seat, start, fall) is 14 point or more.
#[test]
fn what_is_called_is_at_least_14_point() {
    let plan = demo();
    let doc = all(&plan, &SheetOptions::default());
    for page in &doc.pages {
        let texts: Vec<&Text> = page.texts().collect();
        let Some(start) = texts.iter().position(|t| t.text == "Lanes to call, in this order") else {
            continue;
        };
        for t in &texts[start + 2..texts.len() - 2] {
            let aside = t.text.starts_with('›') || t.text == "of" || t.text.parse::<u32>().is_ok();
            assert!(t.size >= 14.0 || aside, "{:?}", t.text);
        }
        let seats =
            texts.iter().filter(|t| t.text.starts_with("You sit") || t.text.starts_with("The fall runs"));
        assert!(seats.clone().count() >= 2);
        assert!(seats.clone().all(|t| t.size >= 14.0));
    }
}

/// A small field as text. Accept a wanted change with `STANDFAST_BLESS=1`.
#[test]
fn the_sheets_of_a_small_field_are_as_before() {
    let plan = plan(vec![field(1, "Mill", 0.0, frame(4, 30), cells(120, 5, true))]);
    let options =
        SheetOptions { revision: "change 812".into(), date: "25 November".into(), ..SheetOptions::default() };
    let now = text(&all(&plan, &options));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/small.txt");
    if std::env::var_os("STANDFAST_BLESS").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, &now).unwrap();
    }
    let before = std::fs::read_to_string(&path).unwrap();
    let differs = now.lines().zip(before.lines()).position(|(a, b)| a != b);
    assert!(now == before, "first difference in line {differs:?} of {}", path.display());
}

/// The front says how many pieces of the whole plan are on the sheets, and nothing of it where all of them are.
#[test]
fn the_front_says_how_many_pieces_have_no_sheets() {
    let plan = plan(vec![field(1, "Mill", 0.0, frame(4, 30), cells(120, 5, true))]);
    let front = |placed| text(&all(&plan, &SheetOptions { placed, ..SheetOptions::default() }));
    let here = all(&plan, &SheetOptions::default()).counts.in_plan;
    let said = front(Some(here + 649));
    assert!(said.contains(&format!("{here} pieces on these sheets, {here} in these fields. They agree.")));
    assert!(said.contains(&format!("{} pieces stand in the whole plan. The other 649 are not", here + 649)));
    for placed in [None, Some(here)] {
        assert!(!front(placed).contains("whole plan"), "{placed:?}");
    }
}

/// The variants as files, to be looked at page by page; here it is only checked that they are PDF files.
#[test]
fn every_variant_is_written() {
    let plan = demo();
    for (name, options) in variants() {
        let doc = all(&plan, &options);
        assert!(pdf(&doc).unwrap().starts_with(b"%PDF-"), "{name}");
        keep(&format!("{name}.pdf"), &doc);
        let picture = svg(&doc.pages[doc.pages.len() - 1]);
        assert!(picture.starts_with("<svg ") && picture.ends_with("</svg>"), "{name}");
        std::fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{name}.svg")), picture).unwrap();
    }
}
