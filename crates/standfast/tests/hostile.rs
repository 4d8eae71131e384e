//! Hostile input at the command line: paths that lead out, markup in names, and files that claim far too much.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

mod common;

use std::process::Command;

use common::{Bench, MILL};
use plan::{Colour, Finish, Hall, Kind, KindId, Lot, LotId, Plan, Rgb};

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
        plan::Command::SetHall { hall: Hall { name: name.into(), floor: grey } },
        plan::Command::PutKind { kind },
        plan::Command::PutColour {
            colour: Colour {
                id: colour,
                name: name.into(),
                code: "G".into(),
                front: grey,
                back: grey,
                edge: grey,
                finish: Finish::Matt,
            },
        },
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
        lanes: 2,
        ranks: 6,
        pitch_along: units::Length::mm(15.0),
        pitch_across: units::Length::mm(25.0),
        stagger: units::Length::ZERO,
        fall: geometry::FallInPicture::Right,
    };
    let mut field = plan::Field::empty(KindId(1), frame);
    field.cells = vec![2; 12].into();
    let item = plan::Item {
        id: plan::ItemId(5),
        name: name.into(),
        at: geometry::Point::new(0.0, 0.0),
        heading: units::Angle::ZERO,
        surface: plan::SurfaceId(0),
        section: Some(plan::SectionId(4)),
        body: plan::Body::Field(field),
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
    for name in hostile_names() {
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
    }
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

#[cfg(unix)]
#[test]
fn pictures_that_lead_out_of_the_plan_by_a_link_are_refused() {
    let bench = Bench::new();
    bench.file("secret.png", MILL);
    std::fs::create_dir_all(bench.path().join("plan")).unwrap();
    std::os::unix::fs::symlink("../secret.png", bench.path().join("plan/link.png")).unwrap();
    bench.file("plan/plan.toml", "format = 1\nname = \"x\"\n\n[[picture]]\nid = 1\nfile = \"link.png\"\n");
    bench.run(&["check", "plan/plan.toml"]).refused(&["link.png"]);
}

#[test]
fn two_thousand_picture_paths_ask_for_nothing_outside_the_folder() {
    let parts = [
        "..",
        ".",
        "",
        "a",
        "C:",
        "\\",
        "%2e%2e",
        "\u{2025}",
        "..\\",
        "/etc",
        "~",
        "con",
        "a\\..\\..\\b",
        "...",
        " .. ",
    ];
    let mut asked = Vec::new();
    let mut tried = 0;
    for (i, a) in parts.iter().enumerate() {
        for b in parts {
            for (j, c) in parts.iter().enumerate().take(9) {
                let separator = ["/", "\\", "//"][(i + j) % 3];
                let path = [*a, b, c, "passwd"].join(separator);
                let file = toml_text(&path);
                let text = format!("format = 1\nname = \"x\"\n\n[[picture]]\nid = 1\nfile = {file}\n");
                let read = exchange::read_text_plan(&text, None, &mut |name| {
                    asked.push(name.to_owned());
                    None
                });
                assert!(read.is_err(), "{path}");
                tried += 1;
            }
        }
    }
    assert!(tried >= 2_000, "{tried}");
    assert!(asked.iter().all(|n| !n.contains(['/', '\\']) && n != ".." && n != "."), "{asked:?}");
}

/// A text as TOML quotes it.
fn toml_text(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

fn chunk(kind: &[u8; 4], claimed: u32, data: &[u8]) -> Vec<u8> {
    [&claimed.to_be_bytes()[..], kind, data, &[0; 4]].concat()
}

/// Small pictures that claim to be huge, by name.
fn picture_bombs() -> Vec<(String, Vec<u8>)> {
    let mut bombs = Vec::new();
    let signature = &MILL[..8];
    for (w, h) in [
        (1, 0x7fff_ffff),
        (0x7fff_ffff, 1),
        (60_000, 60_000),
        (0, 5),
        (100_000, 1_001),
        (0x7fff_ffff, 0x7fff_ffff),
    ] {
        for (depth, colour) in [(1, 0), (8, 2), (16, 6), (8, 3)] {
            let data = [&u32::to_be_bytes(w)[..], &u32::to_be_bytes(h), &[depth, colour, 0, 0, 0]].concat();
            bombs.push((
                format!("png-{w}x{h}-{depth}-{colour}"),
                [signature, &chunk(b"IHDR", 13, &data)].concat(),
            ));
        }
    }
    for kind in [b"tEXt", b"zTXt", b"iTXt", b"iCCP", b"eXIf", b"IDAT", b"PLTE"] {
        let mut png = MILL[..33].to_vec();
        png.extend(chunk(kind, 1 << 30, b"a\0\0x"));
        bombs.push((format!("png-chunk-{}", String::from_utf8_lossy(kind)), png));
    }
    for side in [65_500u16, 65_535, 40_000] {
        let mut jpeg = vec![0xff, 0xd8, 0xff, 0xc0, 0, 17, 8];
        jpeg.extend(side.to_be_bytes().into_iter().chain(side.to_be_bytes()));
        jpeg.extend([3, 1, 0x22, 0, 2, 0x11, 1, 3, 0x11, 1]);
        bombs.push((format!("jpeg-{side}"), jpeg));
    }
    for size in [0u32, 20, 0xffff_fff0] {
        let mut webp =
            [&b"RIFF"[..], &size.to_le_bytes(), b"WEBPVP8X", &10u32.to_le_bytes(), &[0; 4]].concat();
        webp.extend([0xff; 6]);
        bombs.push((format!("webp-{size}"), webp));
    }
    for (entries, next) in [(0xffffu16, 8u32), (1, 8), (0, 0)] {
        let mut tiff = [&b"II*\0"[..], &8u32.to_le_bytes(), &entries.to_le_bytes()].concat();
        for tag in [256u16, 257] {
            tiff.extend(
                [
                    &tag.to_le_bytes()[..],
                    &4u16.to_le_bytes(),
                    &1u32.to_le_bytes(),
                    &0x7fff_ffffu32.to_le_bytes(),
                ]
                .concat(),
            );
        }
        tiff.extend(next.to_le_bytes());
        bombs.push((format!("tiff-{entries}-{next}"), tiff));
    }
    bombs
}

/// Lists and plans that claim far more than they hold.
fn text_bombs() -> Vec<(&'static str, String)> {
    let field = |lanes: &str| {
        format!(
            "format = 1\nname = \"x\"\n\n[[kind]]\nname = \"S\"\n\n[[item]]\nis = \"field\"\nname = \"f\"\nkind = \"S\"\nlanes = 2\nranks = 9\n\n[item.cells]\nlanes = [{lanes}]\n"
        )
    };
    vec![
        ("plan.toml", format!("format = 1\nx = {}", "[".repeat(200_000))),
        (
            "plan.toml",
            format!("format = 1\n{}", (0..300_000).map(|i| format!("k{i} = 1\n")).collect::<String>()),
        ),
        ("plan.toml", format!("format = 1\nname = \"{}\"", "n".repeat(4 << 20))),
        ("plan.toml", field("\"S999999999999\"")),
        ("plan.toml", field(&"\".99999999\", ".repeat(1_000))),
        ("plan.toml", format!("format = 1\n{}", "[a.b.c.d.e.f.g.h]\n".repeat(100_000))),
        ("stock.csv", format!("name,code,hex,count\n{}", ",".repeat(1_000_000))),
        ("stock.csv", format!("name,code,hex,count\n{},A,#000000,1\n", "n".repeat(4 << 20))),
        ("stock.csv", format!("name,code,hex,count\n{}", "a,A,#000000,1\n".repeat(250_000))),
        ("stock.csv", format!("name,code,hex,count\n\"{}", "a\n".repeat(1_000_000))),
        ("stock.csv", "\0".repeat(1 << 20)),
    ]
}

/// In so much address space, in KiB, and with 5 s of processor time, every bomb must be refused in words.
const ROOM_KIB: u32 = 512 * 1024;

#[cfg(unix)]
fn confined(bench: &Bench, args: &[&str]) -> (Option<i32>, String) {
    let limits = format!("ulimit -v {ROOM_KIB}; ulimit -t 5; exec \"$@\"");
    let mut command = Command::new("sh");
    command.args(["-c", &limits, "sh", env!("CARGO_BIN_EXE_standfast")]).args(args).current_dir(bench.path());
    // Two workers: a thread's stack counts as address space although nobody uses it.
    let output = command.env("RAYON_NUM_THREADS", "2").output().unwrap();
    (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[cfg(unix)]
#[test]
fn bombs_are_refused_in_words_within_little_room_and_time() {
    let bench = Bench::new();
    bench.file("good.csv", "name,code,hex,count\nWhite,W,#ffffff,500\n");
    bench.file("good.png", common::png(1, 1, &[[9, 9, 9]]));
    let fits = confined(&bench, &["picture", "good.png", "--stock", "good.csv", "--cells", "9x9", "-q"]);
    assert_eq!(fits.0, Some(0), "the room is enough for what is sound: {}", fits.1);
    let mut tried = 0;
    let mut refused = |what: &str, (status, said): (Option<i32>, String)| {
        assert_eq!(status, Some(2), "{what}: {said}");
        assert!(!said.contains("panicked") && said.trim_end().ends_with('.'), "{what}: {said}");
        tried += 1;
    };
    for (what, bytes) in picture_bombs() {
        bench.file("bomb", bytes);
        refused(&what, confined(&bench, &["picture", "bomb", "--stock", "good.csv", "--cells", "9x9"]));
    }
    for (what, text) in text_bombs() {
        bench.file(what, text);
        let args: &[&str] = if what == "plan.toml" {
            &["check", "plan.toml"]
        } else {
            &["picture", "good.png", "--stock", "stock.csv", "--cells", "9x9"]
        };
        refused(what, confined(&bench, args));
        std::fs::remove_file(bench.path().join(what)).unwrap();
    }
    assert!(tried >= 50, "{tried}");
}
