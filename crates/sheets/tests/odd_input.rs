//! Strange names, foreign signs, broken plans: a valid file or one clear sentence, never a panic.
#![allow(clippy::unwrap_used, reason = "a helper of tests fails as a test does")]

mod common;

use common::{cells, codes, field, frame, pdftotext, plan};
use plan::ItemId;
use sheets::*;

fn all(plan: &plan::Plan, options: &SheetOptions) -> Document {
    let items: Vec<ItemId> = plan.items.iter().map(|i| i.id).collect();
    document(plan, &items, options, &mut |_, _| true).unwrap()
}

/// Names that hold the sheet's own words, markup, signs of other scripts, controls and great length.
#[test]
fn strange_names_change_nothing_that_is_called() {
    let names = [
        "Field 9 · 2 lanes x 2 ranks · strip 1 of 1 · sheet 1 of 1",
        "Lanes to call, in this order 1: S 4 = 4",
        "The fall runs towards you. Start near you, at your right",
        "Kit for this strip S 3 Reader",
        "<script>alert(\"x\")</script> & 'quotes'",
        "河と灯台 🌊 \u{202e}olleh مرحبا",
        "a\nb\tc\u{0}d\u{c}e",
        "",
        "     ",
        &"Very long name ".repeat(300),
    ];
    for name in names {
        let mut plan = plan(vec![field(4, name, 0.0, frame(5, 20), cells(100, 8, true))]);
        plan.name = name.to_owned();
        plan.hall.name = name.to_owned();
        for colour in &mut plan.stock.colours {
            colour.name = format!("{name} {}", colour.id);
        }
        for lot in &mut plan.stock.lots {
            lot.batch = name.to_owned();
            lot.owner = name.to_owned();
        }
        let options =
            SheetOptions { revision: name.to_owned(), date: name.to_owned(), ..SheetOptions::default() };
        let doc = all(&plan, &options);
        assert_eq!(doc.counts.problems, Vec::<String>::new(), "{name}");
        for page in &doc.pages {
            let picture = svg(page);
            assert!(!picture.contains("<script"), "{name}");
            for t in page.texts() {
                let [left, _, right, _] = t.bounds();
                assert!(left >= 11.9 && right <= page.width - 11.9, "{name}: {}", t.text);
            }
        }
        let Some(text) = pdftotext(&pdf(&doc).unwrap()) else { return };
        let read = read_back(&text).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert_eq!(read[0].cells, codes(&plan, &plan.items[0]), "{name}");
    }
}

/// A code with a sign that the font lacks gets a stand-in, the same in the legend and in the calls.
#[test]
fn a_code_that_cannot_be_printed_gets_a_stand_in() {
    let all_six = (0..24).map(|i| 1 + i % 6).collect();
    let mut plan = plan(vec![field(4, "Mill", 0.0, frame(2, 12), all_six)]);
    plan.stock.colours[0].code = "河".into();
    plan.stock.colours[1].code = "Ж1".into();
    plan.stock.colours[2].code = "X1".into();
    let doc = all(&plan, &SheetOptions::default());
    assert_eq!(doc.counts.problems, Vec::<String>::new());
    let words: Vec<&str> = doc.pages.iter().flat_map(Page::texts).map(|t| t.text.as_str()).collect();
    for code in ["X1", "X2", "X3"] {
        assert!(words.contains(&code), "{code}");
    }
    assert!(!words.iter().any(|w| w.contains('河') || w.contains('Ж')));
}

/// Codes that look like figures are still codes: calls are pairs.
#[test]
fn codes_of_figures_are_read_back() {
    let mut plan = plan(vec![field(4, "Mill", 0.0, frame(3, 40), cells(120, 9, true))]);
    for (i, colour) in plan.stock.colours.iter_mut().enumerate() {
        colour.code = (10 + i).to_string();
    }
    let doc = all(&plan, &SheetOptions::default());
    let Some(text) = pdftotext(&pdf(&doc).unwrap()) else { return };
    assert_eq!(read_back(&text).unwrap()[0].cells, codes(&plan, &plan.items[0]));
}

#[test]
fn what_cannot_be_printed_is_said_in_one_sentence() {
    let good = plan(vec![field(1, "Mill", 0.0, frame(2, 2), vec![1; 4])]);
    let run = |plan: &plan::Plan, items: &[ItemId]| {
        document(plan, items, &SheetOptions::default(), &mut |_, _| true).unwrap_err().to_string()
    };
    assert!(run(&good, &[]).starts_with("No field was chosen."));
    assert!(run(&good, &[ItemId(9)]).starts_with("Item 9 is not in this plan."));
    let short = plan(vec![field(1, "Mill", 0.0, frame(2, 3), vec![1; 4])]);
    assert!(run(&short, &[ItemId(1)]).starts_with("Mill: 4 cells do not fill a grid of 6"));
    let unknown = plan(vec![field(1, "Mill", 0.0, frame(2, 2), vec![99; 4])]);
    assert!(run(&unknown, &[ItemId(1)]).starts_with("Mill: colour 99 is not in the stock"));
    let stopped = document(&good, &[ItemId(1)], &SheetOptions::default(), &mut |_, _| false);
    assert_eq!(stopped.unwrap_err(), SheetError::Stopped);
}

/// Text that is no sheet, or half of one, or hostile, is an answer and not a panic.
#[test]
fn any_text_can_be_offered_for_reading_back() {
    assert_eq!(read_back("").unwrap(), vec![]);
    assert_eq!(read_back("nothing of ours").unwrap(), vec![]);
    let plan = plan(vec![field(1, "Mill", 0.0, frame(3, 30), cells(90, 2, true))]);
    let doc = all(&plan, &SheetOptions::default());
    let page = |p: &Page| p.texts().map(|t| t.text.clone()).collect::<Vec<_>>().join("\n");
    let full = doc.pages.iter().map(page).collect::<Vec<_>>().join("\u{c}");
    for cut in (0..full.len()).filter(|i| full.is_char_boundary(*i)) {
        let _ = read_back(&full[..cut]);
    }
    let huge = full.replace("3 lanes x 30 ranks", "4000000000 lanes x 4000000000 ranks");
    assert!(read_back(&huge).is_err());
    let long = full.replace("K 1", "K 4294967295");
    let _ = read_back(&long);
}

/// A plan without a stock list, lots or sizes still prints.
#[test]
fn a_stock_without_lots_is_short_of_everything_and_prints() {
    let mut plan = plan(vec![field(1, "Mill", 0.0, frame(3, 30), cells(90, 2, true))]);
    plan.stock.lots.clear();
    plan.stock.gear.clear();
    let doc = all(&plan, &SheetOptions::default());
    let words: Vec<&str> = doc.pages.iter().flat_map(Page::texts).map(|t| t.text.as_str()).collect();
    assert!(words.iter().any(|w| w.contains("are short")));
    assert!(pdf(&doc).is_ok());
}

/// The same document gives the same bytes.
#[test]
fn the_same_plan_gives_the_same_file() {
    let plan = plan(vec![field(1, "Mill", 0.0, frame(9, 30), cells(270, 2, true))]);
    let once = pdf(&all(&plan, &SheetOptions::default())).unwrap();
    assert_eq!(once, pdf(&all(&plan, &SheetOptions::default())).unwrap());
}
