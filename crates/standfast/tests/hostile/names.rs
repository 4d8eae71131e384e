//! Names that mean something to a page, a shell, a spreadsheet or a terminal stay text.

use std::process::Command;

use plan::{Colour, Hall, Kind, KindId, Lot, LotId, Plan, Rgb};

use crate::common::Bench;

/// Names that mean something to some program: a page, a shell, a spreadsheet, a terminal, a text plan.
const NAMES: [&str; 25] = [
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "'; DROP TABLE journal; --",
    "&lt;b&gt; &amp; &#x3c;",
    "]]><!ENTITY x SYSTEM \"file:///etc/passwd\">",
    "=HYPERLINK(\"http://example.invalid\",\"x\")",
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "= 120",
    "a,b;c d",
    "\"quoted\" and \"\"twice\"\"",
    "[[item]]",
    "name = \"x\"",
    "'''",
    "\\u0041\\n",
    "#comment",
    "../../secret",
    "C:\\secret",
    "$(touch x) `touch y`",
    "%00%2e%2e",
    "\u{202e}gnp.exe",
    "\u{200f}\u{fe0f}\u{1f441}",
    "Ünïcödé 名前 🂓",
    "}{${{7*7}}",
];

fn hostile_names() -> Vec<String> {
    let mut names: Vec<String> = NAMES.iter().map(|n| (*n).to_owned()).collect();
    for (i, name) in NAMES.iter().enumerate() {
        names.extend(
            (0..7).map(|k| format!("{}{name}{}", "<&'\"=,".repeat(k % 3), NAMES[(i * 5 + k) % NAMES.len()])),
        );
    }
    names.push("long ".repeat(1_900));
    assert!(names.len() > 200);
    names
}

/// A plan in which everything that has a name has this one.
fn named(name: &str) -> Plan {
    let grey = Rgb { r: 90, g: 90, b: 90 };
    let mut plan = Plan::new(name);
    let colour = plan::ColourId(2);
    let kind = Kind { name: name.into(), material: name.into(), ..Kind::usual(KindId(1)) };
    let commands = [
        plan::Command::SetHall { hall: Hall { name: name.into(), floor: grey, ..Default::default() } },
        plan::Command::PutKind { kind },
        plan::Command::PutColour { colour: Colour::plain(colour, name, "G", grey) },
        plan::Command::PutLot {
            lot: Lot {
                id: LotId(3),
                kind: KindId(1),
                colour,
                batch: name.into(),
                owner: name.into(),
                count: 9,
                offered: 0,
                spare: 0.0,
                crate_size: None,
                thickness: None,
                mass: None,
            },
        },
        plan::Command::PutSection {
            section: plan::Section { id: plan::SectionId(4), name: name.into(), lead: name.into() },
        },
    ];
    commands.iter().for_each(|c| drop(plan.apply(c).unwrap()));
    let frame = plan::FieldFrame {
        fall: geometry::FallInPicture::Right,
        ..plan::FieldFrame::new(2, 6, units::Length::mm(15.0), units::Length::mm(25.0))
    };
    let mut field = plan::Field::empty(KindId(1), frame);
    field.cells = vec![2; 12].into();
    let item = plan::Item {
        heading: units::Angle::ZERO,
        section: Some(plan::SectionId(4)),
        ..plan::Item::new(plan::ItemId(5), name, geometry::Point::new(0.0, 0.0), plan::Body::Field(field))
    };
    plan.apply(&plan::Command::PutItem { item: Box::new(item) }).unwrap();
    plan
}

#[test]
fn markup_in_names_stays_text_in_previews_lists_and_text_plans() {
    let allowed = [
        "svg", "g", "path", "rect", "line", "text", "tspan", "title", "defs", "pattern", "polygon", "circle",
        "style", "clipPath",
    ];
    let mut printed = 0;
    for (i, name) in hostile_names().into_iter().enumerate() {
        let plan = named(&name);
        let written = exchange::write_text_plan(&plan);
        let read =
            exchange::read_text_plan(&written.plan_toml, Some(written.stock_csv.as_bytes()), &mut |_| None);
        assert_eq!(read.unwrap(), plan, "{name}");
        for cell in cells(&written.stock_csv) {
            let formula = cell.starts_with(['=', '+', '-', '@']) && cell.parse::<f64>().is_err();
            assert!(!formula, "{cell}");
        }
        let options = sheets::SheetOptions::default();
        let document = sheets::document(&plan, &[plan::ItemId(5)], &options, &mut |_, _| true).unwrap();
        for page in &document.pages {
            let svg = sheets::svg(page);
            let xml = roxmltree::Document::parse(&svg).unwrap_or_else(|e| panic!("{name}: {e}"));
            for node in xml.descendants().filter(roxmltree::Node::is_element) {
                assert!(allowed.contains(&node.tag_name().name()), "{name}: {:?}", node.tag_name());
                assert!(!node.attributes().any(|a| a.name().starts_with("on")), "{name}");
            }
        }
        // Starting poppler takes longer than all the rest: every fourth is enough.
        if i % 4 == 0 {
            printed += 1;
            let Some(text) = read_by_poppler(&sheets::pdf(&document).unwrap()) else { continue };
            let read = sheets::read_back(&text).unwrap_or_else(|e| panic!("{name}: {e}"));
            assert_eq!(read[0].cells, vec![Some("G".to_owned()); 12], "{name}");
        }
    }
    assert!(printed >= 50, "{printed}");
}

/// What poppler's `pdftotext` reads in a PDF, without a complaint; `None` where poppler is not installed.
fn read_by_poppler(pdf: &[u8]) -> Option<String> {
    let bench = Bench::new();
    let file = bench.file("sheets.pdf", pdf);
    let out = Command::new("pdftotext").args(["-raw", "-enc", "UTF-8"]).arg(file).arg("-").output();
    let out = match out {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
            assert!(std::env::var_os("CI").is_none(), "pdftotext is missing; install poppler-utils");
            return None;
        }
        out => out.unwrap(),
    };
    assert!(out.status.success() && out.stderr.is_empty(), "{}", String::from_utf8_lossy(&out.stderr));
    Some(String::from_utf8(out.stdout).unwrap())
}

/// The cells of a list with commas, quotes taken away (RFC 4180).
fn cells(csv: &str) -> Vec<String> {
    let mut all = vec![String::new()];
    let mut quoted = false;
    for c in csv.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' | '\n' | '\r' if !quoted => all.push(String::new()),
            c => all.last_mut().unwrap().push(c),
        }
    }
    all
}

#[test]
fn escape_codes_and_odd_names_reach_neither_terminal_nor_status() {
    let bench = Bench::new();
    for (i, name) in hostile_names().iter().step_by(29).enumerate() {
        let folder = format!("p{i}");
        std::fs::create_dir(bench.path().join(&folder)).unwrap();
        let written = exchange::write_text_plan(&named(name));
        bench.file(&format!("{folder}/plan.toml"), written.plan_toml);
        bench.file(&format!("{folder}/stock.csv"), written.stock_csv);
        for verb in ["check", "stock"] {
            let ran = bench.run(&[verb, &format!("{folder}/plan.toml")]);
            assert!(ran.status <= 1, "{name}: {}", ran.err);
            let said = ran.text() + &ran.err;
            assert!(!said.chars().any(|c| c.is_control() && c != '\n'), "{name}: {said:?}");
        }
    }
    // A control sign cannot even be a name.
    bench.file("plan.toml", "format = 1\nname = \"a\\u001b[2Jb\"\n");
    let ran = bench.run(&["check", "plan.toml"]).refused(&["plan.toml"]);
    assert!(!ran.err.contains('\x1b'), "{:?}", ran.err);
}
