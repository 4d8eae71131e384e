//! A program reads the text of the PDF back and finds the same field.
#![allow(clippy::unwrap_used, reason = "a helper of tests fails as a test does")]

mod common;

use common::{cells, codes, field, frame, pdftotext, plan};
use geometry::FallInPicture;
use plan::ItemId;
use sheets::*;
use units::Length;

fn options(unit: Unit, side: Side, language: Language) -> SheetOptions {
    SheetOptions {
        read: ReadOptions { unit, side, ..ReadOptions::default() },
        language,
        revision: "change 812".into(),
        date: "25 November".into(),
        ..SheetOptions::default()
    }
}

/// Every fall, side, unit and language: cells from the PDF's own text equal the plan's.
#[test]
fn the_text_of_the_pdf_rebuilds_the_same_field() {
    let falls = FallInPicture::ALL.into_iter().zip([0.0, 90.0, 180.0, 270.0]);
    for (n, (fall, heading)) in falls.enumerate() {
        let mut f = frame(31, 44);
        f.fall = fall;
        f.stagger = Length::mm(if n % 2 == 0 { 7.5 } else { 0.0 });
        let item = field(7, "Mill", heading, f, cells(31 * 44, n as u64, true));
        let plan = plan(vec![item]);
        for unit in [Unit::Lane, Unit::Rank] {
            for side in [Side::AsDrawn, Side::Mirrored] {
                for language in [Language::English, Language::German] {
                    let what = format!("{fall:?} {unit:?} {side:?} {language:?}");
                    let doc = document(&plan, &[ItemId(7)], &options(unit, side, language), &mut |_, _| true);
                    let doc = doc.unwrap();
                    assert_eq!(doc.counts.problems, Vec::<String>::new(), "{what}");
                    let Some(text) = pdftotext(&pdf(&doc).unwrap()) else { return };
                    let read = read_back(&text).unwrap_or_else(|e| panic!("{what}: {e}"));
                    assert_eq!(read.len(), 1, "{what}");
                    assert_eq!((read[0].lanes, read[0].ranks, read[0].unit), (31, 44, unit), "{what}");
                    assert_eq!(read[0].name, "Mill");
                    assert_eq!(read[0].cells, codes(&plan, &plan.items[0]), "{what}");
                }
            }
        }
    }
}

/// All four start corners and seats on all four sides, and a heading off the grid.
#[test]
fn every_corner_and_seat_reads_back() {
    for heading in [0.0, 37.0, 90.0, 135.0, 180.0, 270.0] {
        let item = field(3, "Bridge", heading, frame(5, 9), cells(45, 4, true));
        let plan = plan(vec![item]);
        for start in [Start::FarLeft, Start::FarRight, Start::NearLeft, Start::NearRight] {
            for read_from in [ReadFrom::North, ReadFrom::East, ReadFrom::South, ReadFrom::West] {
                for unit in [Unit::Lane, Unit::Rank] {
                    let mut o = options(unit, Side::AsDrawn, Language::English);
                    o.read = ReadOptions { unit, start, read_from, ..o.read };
                    let doc = document(&plan, &[ItemId(3)], &o, &mut |_, _| true).unwrap();
                    // The count check reads the words back; here only that it found everything.
                    assert_eq!(doc.counts.problems, Vec::<String>::new());
                    assert_eq!(doc.counts.on_sheets, plan.items[0].field().unwrap().cells.pieces() as u64);
                    let words = words(&doc);
                    assert_eq!(read_back(&words).unwrap()[0].cells, codes(&plan, &plan.items[0]));
                }
            }
        }
    }
}

fn words(doc: &Document) -> String {
    let page = |p: &Page| p.texts().map(|t| t.text.clone()).collect::<Vec<_>>().join("\n");
    doc.pages.iter().map(page).collect::<Vec<_>>().join("\u{c}")
}

/// A lane so long that its lines fill more than one sheet.
#[test]
fn a_lane_over_several_sheets_is_read_as_one() {
    let colours: Vec<u16> = (0..1500).map(|i| 1 + (i % 6) as u16).collect();
    let plan = plan(vec![field(1, "River", 0.0, frame(1, 1500), colours)]);
    let doc = document(&plan, &[ItemId(1)], &SheetOptions::default(), &mut |_, _| true).unwrap();
    assert_eq!(doc.counts.problems, Vec::<String>::new());
    let Some(text) = pdftotext(&pdf(&doc).unwrap()) else { return };
    let read = read_back(&text).unwrap();
    assert_eq!(read[0].cells, codes(&plan, &plan.items[0]));
    assert!(doc.pages.len() > 5, "{} pages", doc.pages.len());
}

/// Several fields in one document, one of them all empty, two of the same name.
#[test]
fn fields_are_told_apart_by_their_number() {
    let plan = plan(vec![
        field(1, "Mill", 0.0, frame(3, 20), cells(60, 1, true)),
        field(2, "Mill", 90.0, frame(30, 12), cells(360, 2, false)),
        field(5, "Sea", 180.0, frame(2, 4), vec![0; 8]),
    ]);
    let items = [ItemId(1), ItemId(2), ItemId(5)];
    let doc = document(&plan, &items, &SheetOptions::default(), &mut |_, _| true).unwrap();
    assert_eq!(doc.counts.problems, Vec::<String>::new());
    let Some(text) = pdftotext(&pdf(&doc).unwrap()) else { return };
    let read = read_back(&text).unwrap();
    assert_eq!(read.len(), 3);
    for (read, item) in read.iter().zip(&plan.items) {
        assert_eq!(read.cells, codes(&plan, item));
    }
}

/// Each count on the sheets, each running total and each total, made one more or one less: always noticed.
#[test]
fn any_single_wrong_number_is_noticed() {
    let plan = plan(vec![field(1, "Mill", 0.0, frame(4, 50), cells(200, 11, true))]);
    let doc = document(&plan, &[ItemId(1)], &SheetOptions::default(), &mut |_, _| true).unwrap();
    let mut tried = 0;
    for (p, page) in doc.pages.iter().enumerate() {
        let texts: Vec<&Text> = page.texts().collect();
        let Some(first) = texts.iter().position(|t| t.text == "4:") else { continue };
        let last = texts.iter().rposition(|t| t.text.starts_with("Page ")).unwrap();
        for at in first..last {
            let digits: String = texts[at].text.chars().filter(char::is_ascii_digit).collect();
            let Ok(n) = digits.parse::<u32>() else { continue };
            if texts[at].text.starts_with(|c: char| c.is_alphabetic()) {
                continue;
            }
            for wrong in [n + 1, n.saturating_sub(1)] {
                let mut pages: Vec<Vec<String>> =
                    doc.pages.iter().map(|p| p.texts().map(|t| t.text.clone()).collect()).collect();
                pages[p][at] = pages[p][at].replace(&digits, &wrong.to_string());
                let text = pages.iter().map(|p| p.join("\n")).collect::<Vec<_>>().join("\u{c}");
                assert!(read_back(&text).is_err(), "{} made {wrong}", texts[at].text);
                tried += 1;
            }
        }
    }
    assert!(tried > 100, "{tried} numbers tried");
}

/// Each called code, replaced by another of the stock: the strip's kit no longer agrees.
#[test]
fn any_single_wrong_colour_is_noticed() {
    let plan = plan(vec![field(1, "Mill", 0.0, frame(4, 50), cells(200, 12, false))]);
    let doc = document(&plan, &[ItemId(1)], &SheetOptions::default(), &mut |_, _| true).unwrap();
    let (p, page) = doc.pages.iter().enumerate().next_back().unwrap();
    let texts: Vec<String> = page.texts().map(|t| t.text.clone()).collect();
    let first = texts.iter().position(|t| t == "4:").unwrap();
    let mut tried = 0;
    for at in first..texts.len() {
        if common::CODES.contains(&texts[at].as_str()) {
            let other = common::CODES.iter().find(|c| **c != texts[at]).unwrap();
            let mut pages: Vec<Vec<String>> =
                doc.pages.iter().map(|p| p.texts().map(|t| t.text.clone()).collect()).collect();
            pages[p][at] = (*other).to_owned();
            let text = pages.iter().map(|p| p.join("\n")).collect::<Vec<_>>().join("\u{c}");
            assert!(read_back(&text).is_err(), "{} at {at}", texts[at]);
            tried += 1;
        }
    }
    assert!(tried > 30, "{tried} codes tried");
}

/// A page that is lost is said.
#[test]
fn a_missing_page_is_noticed() {
    let plan = plan(vec![field(1, "Mill", 0.0, frame(60, 50), cells(3000, 3, true))]);
    let doc = document(&plan, &[ItemId(1)], &SheetOptions::default(), &mut |_, _| true).unwrap();
    let full = words(&doc);
    let pages: Vec<&str> = full.split('\u{c}').collect();
    let first = pages.iter().position(|p| p.contains("Lanes to call")).unwrap();
    for gone in first..pages.len() {
        let mut rest = pages.clone();
        rest.remove(gone);
        assert!(read_back(&rest.join("\u{c}")).is_err(), "without page {}", gone + 1);
    }
}
