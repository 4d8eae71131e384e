//! Stock lists as people send them: what is taken, what is refused, and in which words.

use exchange::{StockListError, read_stock, to_stock, write_stock};
use plan::{Command, Finish, Kind, KindId, Plan, Rgb, Stock};
use proptest::prelude::*;

const USUAL: &str = "name,code,hex,count\nSky,S,#6fb1e0,6750\nSand,W,#e8d7a0,1200\n";

fn stock(text: &str) -> Stock {
    let read = read_stock(text.as_bytes(), "stock.csv").unwrap_or_else(|e| panic!("{e}"));
    let stock = to_stock(&read, None);
    Plan::new("x")
        .apply(&Command::ReplaceStock { stock: stock.clone() })
        .expect("the gate takes what was read");
    stock
}

fn refused(text: &[u8]) -> StockListError {
    read_stock(text, "stock.csv").expect_err("this list must be refused")
}

fn counts(stock: &Stock) -> Vec<(String, u64)> {
    let of =
        |c: &plan::Colour| stock.lots.iter().filter(|l| l.colour == c.id).map(|l| u64::from(l.count)).sum();
    stock.colours.iter().map(|c| (c.code.clone(), of(c))).collect()
}

#[test]
fn the_same_list_is_read_from_every_usual_form() {
    let wanted = stock(USUAL);
    assert_eq!(counts(&wanted), [("S".to_owned(), 6750), ("W".to_owned(), 1200)]);
    let utf16 = |s: &str, little: bool| {
        let unit = |u: u16| if little { u.to_le_bytes() } else { u.to_be_bytes() };
        std::iter::once(0xfeff).chain(s.encode_utf16()).flat_map(unit).collect::<Vec<u8>>()
    };
    let forms: Vec<(&str, Vec<u8>)> = vec![
        ("byte-order mark", format!("\u{feff}{USUAL}").into_bytes()),
        ("UTF-16 little end first", utf16(USUAL, true)),
        ("UTF-16 big end first", utf16(USUAL, false)),
        ("CRLF", USUAL.replace('\n', "\r\n").into_bytes()),
        ("CR alone", USUAL.replace('\n', "\r").into_bytes()),
        ("semicolons", USUAL.replace(',', ";").into_bytes()),
        ("tabs", USUAL.replace(',', "\t").into_bytes()),
        ("named separator", format!("sep=;\r\n{}", USUAL.replace(',', ";")).into_bytes()),
        ("thousands", USUAL.replace("6750", "\"6,750\"").replace("1200", "1 200").into_bytes()),
        ("quotes", USUAL.replace("Sky", "\"Sky\"").into_bytes()),
        ("no end of line", USUAL.trim_end().as_bytes().to_vec()),
        (
            "blank lines and comments",
            USUAL.replace("\nSand", "\n\n# lent by Ada, \"all\n,,,\nSand").into_bytes(),
        ),
        ("other order and case", b"COUNT, Hex ,Code,NAME\n6750,6FB1E0,S,Sky\n1200,#E8D7A0,W,Sand".to_vec()),
    ];
    for (form, bytes) in forms {
        let read = read_stock(&bytes, "stock.csv").unwrap_or_else(|e| panic!("{form}: {e}"));
        assert_eq!(to_stock(&read, None), wanted, "{form}");
    }
}

#[test]
fn latin_1_is_read_and_said() {
    let read = read_stock(b"name,code,hex,count\nGr\xfcn,G,#00ff00,5\n", "stock.csv").unwrap();
    assert_eq!(read.rows[0].name, "Grün");
    assert!(read.notes[0].contains("Latin-1"), "{:?}", read.notes);
}

#[test]
fn decimal_commas_and_per_cent_are_read() {
    let s = stock("name;code;hex;count;thickness_mm;mass_g;spare\nSky;S;#6fb1e0;6.750;7,58;8,5;3 %\n");
    let lot = &s.lots[0];
    assert_eq!((lot.count, lot.spare), (6750, 0.03));
    assert_eq!(lot.thickness.unwrap().to_mm(), 7.58);
    assert_eq!(lot.mass.unwrap().to_g(), 8.5);
}

#[test]
fn a_negative_count_is_named_with_file_line_value_and_next_step() {
    let mut text = String::from("name,code,hex,count\n");
    (0..10).for_each(|i| text += &format!("C{i},A{i},#00000{i},5\n"));
    let error = refused((text + "Sky,S,#6fb1e0,-40\n").as_bytes());
    assert_eq!(
        error.to_string(),
        "stock.csv, line 12: \"-40\" is not a count. Put 0 or more and drop the file again. Nothing was changed."
    );
}

#[test]
fn all_problems_are_named_at_once_in_order_of_line() {
    let error = refused(
        b"name,code,hex,count,finish,spare\n\
          Sky,S,blue,6750,,\n\
          ,W,#ffffff,many,,\n\
          Sand,LONG,#ffffff,1,shiny,0.9\n",
    );
    let found: Vec<_> = error.problems.iter().map(|p| (p.line, p.column.as_ref())).collect();
    assert_eq!(found, [(2, "hex"), (3, "name"), (3, "count"), (4, "code"), (4, "finish"), (4, "spare")]);
}

#[test]
fn missing_columns_are_listed() {
    let text = refused(b"name,hex\nSky,#6fb1e0\n").to_string();
    assert!(text.contains("but code and count are missing"), "{text}");
}

#[test]
fn unknown_columns_are_left_out_with_a_note() {
    let read = read_stock(b"name,code,hex,count,shelf\nSky,S,#6fb1e0,5,12\n", "stock.csv").unwrap();
    assert_eq!(read.notes, ["These columns are not known and were left out: \"shelf\"."]);
}

#[test]
fn the_same_code_for_two_colours_names_both_lines() {
    let error = refused(b"name,code,hex,count\nSky,S,#6fb1e0,5\nSand,S,#e8d7a0,6\n");
    assert_eq!(error.problems.len(), 1);
    let text = error.to_string();
    assert!(text.contains("line 3: \"S\" is the code of \"Sand\" here and of \"Sky\" on line 2"), "{text}");
    let error = refused(b"name,code,hex,count\nSky,S,#6fb1e0,5\nSky,S,#6fb1e1,6\n").to_string();
    assert!(error.contains("line 3: \"#6fb1e1\"") && error.contains("line 2 says"), "{error}");
    let error = refused(b"name,code,hex,count\nOlive,O,#6fb1e0,5\nZinc,0,#6fb1e1,6\n").to_string();
    assert!(error.contains("can be taken for \"O\""), "{error}");
}

#[test]
fn several_rows_of_one_colour_are_several_lots() {
    let s = stock("name,code,hex,count,batch,owner\nSky,S,#6fb1e0,5,a,Ines\nSky,S,#6fb1e0,7,b,Omar\n");
    assert_eq!(s.colours.len(), 1);
    assert_eq!(
        s.lots.iter().map(|l| (l.count, l.owner.as_str())).collect::<Vec<_>>(),
        [(5, "Ines"), (7, "Omar")]
    );
}

#[test]
fn three_hundred_colours_are_taken_and_a_thousand_and_one_are_not() {
    let list = |n: u32| {
        let mut text = String::from("name,code,hex,count\n");
        (0..n).for_each(|i| text += &format!("Colour {i},,#{i:06x},10\n"));
        text
    };
    assert_eq!(stock(&list(300)).colours.len(), 300);
    assert!(
        refused(list(1001).as_bytes())
            .to_string()
            .contains("1\u{a0}001 colours are more than the 1\u{a0}000")
    );
}

#[test]
fn too_large_too_long_empty_and_foreign_files_are_refused_with_one_sentence() {
    let large = vec![b'x'; exchange::MAX_LIST_BYTES + 1];
    let long = format!("name,code,hex,count\n{}", "S,S,#000000,1\n".repeat(exchange::MAX_LIST_ROWS + 1));
    for (bytes, word) in [
        (large.as_slice(), "larger than 4 MiB"),
        (long.as_bytes(), "more than the 100 000"),
        (b"", "is empty"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "is not text"),
        (b"\xff\xfea", "is not text"),
        (b"name,code,hex,count\n\"Sky,S", "line 2: A quote is opened here and never closed"),
    ] {
        let text = refused(bytes).to_string();
        assert!(text.contains(word) && text.ends_with("Nothing was changed."), "{text}");
        assert_eq!(text.lines().count(), 1, "{text}");
    }
}

#[test]
fn ids_of_known_colours_and_lots_stay() {
    let old = stock(USUAL);
    let read =
        read_stock(b"name,code,hex,count\nRust,R,#803010,9\nSand,SA,#e8d7a1,1500\n", "stock.csv").unwrap();
    let new = to_stock(&read, Some(&old));
    let found: Vec<_> = new.colours.iter().map(|c| (c.id.0, c.name.as_str(), c.code.as_str())).collect();
    assert_eq!(found, [(1, "Sky", "S"), (2, "Sand", "SA"), (3, "Rust", "R")]);
    let lots: Vec<_> = new.lots.iter().map(|l| (l.id.0, l.colour.0, l.count)).collect();
    assert_eq!(lots, [(2, 2, 1500), (3, 3, 9)], "the list replaces all lots; that of Sand is still lot 2");
    let mut plan = Plan::new("x");
    plan.apply(&Command::ReplaceStock { stock: old }).unwrap();
    plan.apply(&Command::ReplaceStock { stock: new }).unwrap();
}

#[test]
fn a_name_that_looks_like_a_formula_is_marked_and_comes_back() {
    let mut s = stock(USUAL);
    s.colours[0].name = "=SUM(A1:A9)".into();
    s.lots[0].owner = "@Ines".into();
    let text = write_stock(&s);
    assert!(text.contains("\n'=SUM(A1:A9),") && text.contains(",'@Ines,"), "{text}");
    assert_eq!(to_stock(&read_stock(text.as_bytes(), "").unwrap(), None), s);
}

fn any_stock() -> impl Strategy<Value = Stock> {
    let name = "[-=+@'#a-zA-Z,; \"äß]{1,6}";
    let colour = (name, any::<[u8; 3]>(), any::<[u8; 3]>(), 0..5u8);
    let lot =
        (0..8usize, 0..2usize, any::<u16>(), 0..3u32, 0.0..0.5f64, prop::option::of(0.5..99.0f64), name);
    let kinds = prop::collection::vec(name, 1..3);
    (kinds, prop::collection::vec(colour, 1..8), prop::collection::vec(lot, 0..12), 0..3u16).prop_map(
        |(kinds, colours, lots, gap)| {
            let mut s = Stock::default();
            for (i, name) in kinds.into_iter().enumerate() {
                s.kinds.push(Kind { name: format!("{name}k"), ..Kind::usual(KindId(i as u16 * 2 + 1)) });
            }
            for (i, (name, front, back, finish)) in colours.into_iter().enumerate() {
                let rgb = |c: [u8; 3]| Rgb { r: c[0], g: c[1], b: c[2] };
                let finishes =
                    [Finish::Matt, Finish::Gloss, Finish::Metallic, Finish::Clear, Finish::Painted];
                s.colours.push(plan::Colour {
                    id: plan::ColourId((i as u16 + 1) * (gap + 1)),
                    name: format!("{name}{i}"),
                    code: format!("C{i}"),
                    front: rgb(front),
                    back: rgb(back),
                    edge: rgb(front),
                    finish: finishes[usize::from(finish)],
                });
            }
            for (i, (colour, kind, count, offered, spare, thickness, owner)) in lots.into_iter().enumerate() {
                s.lots.push(plan::Lot {
                    id: plan::LotId(i as u32 + 1),
                    kind: s.kinds[kind % s.kinds.len()].id,
                    colour: s.colours[colour % s.colours.len()].id,
                    batch: String::new(),
                    owner,
                    count: count.into(),
                    offered,
                    spare,
                    crate_size: None,
                    thickness: thickness.map(units::Length::mm),
                    mass: None,
                });
            }
            s
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_written_list_reads_back_as_the_same_stock(s in any_stock()) {
        let frame = Stock { kinds: s.kinds.clone(), ..Stock::default() };
        let text = write_stock(&s);
        let read = read_stock(text.as_bytes(), "stock.csv").map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?;
        prop_assert_eq!(to_stock(&read, Some(&frame)), s, "{}", text);
        for line in text.lines() {
            let bare = line.strip_prefix('"').unwrap_or(line);
            prop_assert!(!bare.starts_with(['=', '+', '-', '@', '\t']), "{}", line);
        }
    }

    #[test]
    fn no_bytes_make_the_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = read_stock(&bytes, "stock.csv");
        let mut text = USUAL.as_bytes().to_vec();
        text.extend(bytes);
        let _ = read_stock(&text, "stock.csv");
    }
}
