//! `standfast picture`: from a photo and a stock list to a proven match, and every kind of bad input.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

mod common;

use common::{Bench, MILL, STOCK, png};

const WHITE: [u8; 3] = [255, 255, 255];
const GREY: [u8; 3] = [128, 128, 128];

fn picture<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let mut args = vec!["picture", "mill.png", "--stock", "stock.csv"];
    args.extend(more);
    args
}

fn with_example() -> Bench {
    let bench = Bench::new();
    bench.file("mill.png", MILL);
    // Sky is made short for this one picture.
    let list = String::from_utf8_lossy(STOCK)
        .replace("#7cbde6,1700", "#7cbde6,170")
        .replace("#7cbde6,1000", "#7cbde6,100")
        .replace("#7cbde6,4500", "#7cbde6,45");
    bench.file("stock.csv", list);
    bench
}

#[test]
fn a_photo_with_a_short_stock_is_matched_with_objective_equal_to_bound_and_within_stock() {
    let bench = with_example();
    let said = bench.run(&picture(&["--cells", "140x63", "--json"])).ended(0).json();
    assert_eq!(said["objective"], said["bound"]);
    assert_eq!(said["cells"], 140 * 63);
    let mut sum = 0;
    for (code, count) in said["counts"].as_object().unwrap() {
        let count = count.as_u64().unwrap();
        assert!(count <= said["stock"][code].as_u64().unwrap(), "{code}");
        sum += count;
    }
    assert_eq!(sum, 140 * 63);
    assert!(
        !said["shortage"]["short"].as_array().unwrap().is_empty(),
        "this stock is short for this picture"
    );
    assert!(said["difference"].as_f64().unwrap() > 0.0 && said["seconds"]["total"].as_f64().unwrap() > 0.0);
}

#[test]
fn painting_directly_would_be_worse_than_shifting() {
    // 600 white and 400 grey cells; stock 550 white, 400 grey, 50 black. Grey to black is a smaller step
    // than white to black, so 50 whites become grey and 50 greys become black. Worked out by hand.
    let bench = Bench::new();
    let pixels: Vec<_> = (0..1000).map(|i| if i < 600 { WHITE } else { GREY }).collect();
    bench.file("mill.png", png(40, 25, &pixels));
    bench.file(
        "stock.csv",
        "name,code,hex,count\nWhite,W,#ffffff,550\nGrey,G,#808080,400\nBlack,K,#000000,50\n",
    );
    let said = bench.run(&picture(&["--cells", "40x25", "--json"])).ended(0).json();
    assert_eq!(said["objective"], said["bound"]);
    assert_eq!(said["counts"], serde_json::json!({ "W": 550, "G": 400, "K": 50 }));
    let laid: String =
        said["laid"].as_array().unwrap()[..15].iter().map(|r| r.as_str().unwrap().to_owned() + " ").collect();
    assert!(laid.contains('G') && !laid.contains('K'), "whites become grey, none becomes black: {laid}");
}

#[test]
fn a_picture_of_the_size_of_the_field_is_not_resampled() {
    let bench = Bench::new();
    bench.file("mill.png", png(3, 2, &[WHITE, GREY, WHITE, GREY, WHITE, GREY]));
    bench.file("stock.csv", "name,code,hex,count\nWhite,W,#ffffff,9\nGrey,G,#808080,9\n");
    let said = bench.run(&picture(&["--cells", "3x2", "--json"])).ended(0).json();
    assert_eq!(said["objective"], 0);
    assert_eq!(said["laid"], serde_json::json!(["W1 G1 W1", "G1 W1 G1"]));
}

#[test]
fn transparent_cells_stay_empty() {
    let bench = Bench::new();
    let rgba = vec![255, 255, 255, 255, 9, 9, 9, 0];
    bench.file("mill.png", colour::to_png(&colour::Raster { width: 2, height: 1, rgba }).unwrap());
    bench.file("stock.csv", "name,code,hex,count\nWhite,W,#ffffff,9\n");
    let said = bench.run(&picture(&["--cells", "2x1", "--json"])).ended(0).json();
    assert_eq!((&said["laid"], &said["cells"]), (&serde_json::json!(["W1 .1"]), &serde_json::json!(1)));
}

#[test]
fn standard_input_and_output_take_the_place_of_files() {
    let bench = with_example();
    let args = ["picture", "-", "--stock", "stock.csv", "--cells", "40x18", "-o", "-"];
    let ran = bench.run_with(&args, MILL).ended(0);
    assert!(ran.out.starts_with(b"\x89PNG"));
    assert!(ran.err.contains("pieces"), "{}", ran.err);
    let args = ["picture", "mill.png", "--stock", "-", "--cells", "40x18", "--json"];
    assert_eq!(bench.run_with(&args, STOCK).ended(0).json()["cells"], 720);
    bench.run(&["picture", "-", "--stock", "-", "--cells", "4x4"]).refused(&["Standard input", "not both"]);
}

#[test]
fn a_stock_that_cannot_fill_the_cells_says_how_many_are_short() {
    let bench = with_example();
    bench.file("stock.csv", "name,code,hex,count\nWhite,W,#ffffff,90\n");
    bench.run(&picture(&["--cells", "10x10"])).refused(&["10"]);
    let said = bench.run(&picture(&["--cells", "10x10", "--json"])).ended(2).json();
    assert_eq!(said["error"]["code"], "stock-too-small");
}

#[test]
fn fail_on_should_makes_a_short_colour_exit_status_1() {
    let bench = with_example();
    let args = picture(&["--cells", "140x63", "--fail-on", "should", "--json"]);
    bench.run(&args).ended(1);
}

#[test]
fn bad_pictures_are_refused_in_words_and_nothing_is_written() {
    let bench = with_example();
    let mut huge = MILL[..33].to_vec();
    huge[16..24].copy_from_slice(&[0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60]);
    let cases: [(&str, Vec<u8>, &[&str]); 5] = [
        ("text", b"this is no picture".to_vec(), &["mill.png", "not"]),
        ("empty", Vec::new(), &["mill.png"]),
        ("truncated", MILL[..MILL.len() / 2].to_vec(), &["mill.png"]),
        ("60 000 x 60 000", huge, &["mill.png", "60"]),
        ("gif", b"GIF89a\x01\x00\x01\x00\x00\x00\x00;".to_vec(), &["mill.png", "PNG"]),
    ];
    for (what, bytes, words) in cases {
        bench.file("mill.png", bytes);
        let ran = bench.run(&picture(&["--cells", "10x10", "-o", "out.png"])).refused(words);
        assert!(ran.err.trim_end().ends_with('.'), "{what}: {}", ran.err);
        assert_eq!(bench.names(), ["mill.png", "stock.csv"], "{what}");
    }
    bench.file("mill.png", png(1, 1, &[GREY]));
    bench.run(&picture(&["--cells", "10x10"])).ended(0);
}

#[test]
fn bad_stock_lists_are_refused_line_by_line() {
    let bench = with_example();
    let cases: [(&str, &[&str]); 4] = [
        ("name,code,hex,count\nSky,S,#7cbde6,-40\n", &["stock.csv", "line 2", "-40"]),
        ("name,hex\nSky,#7cbde6\n", &["stock.csv", "count"]),
        ("name,code,hex,count\nSky,S,#7cbde6,4\nSnow,S,#ffffff,4\n", &["stock.csv", "S"]),
        ("", &["stock.csv"]),
    ];
    for (list, words) in cases {
        bench.file("stock.csv", list);
        bench.run(&picture(&["--cells", "10x10"])).refused(words);
    }
}

#[test]
fn lists_from_spreadsheets_are_read() {
    let bench = with_example();
    bench.file("stock.csv", "\u{feff}Name;Code;Hex;Count;thickness_mm;spare\r\nWhite;W;#ffffff;500;7,52;0,03\r\nGrey;G;#808080;1000;7,5;0\r\n");
    let said = bench.run(&picture(&["--cells", "20x20", "--json"])).ended(0).json();
    assert_eq!(said["stock"]["W"], 485);
    let many: String =
        (0..300).map(|i| format!("Colour {i},{},#{:06x},40\n", code(i), i * 55_555 % 0xff_ffff)).collect();
    bench.file("stock.csv", format!("name,code,hex,count\n{many}"));
    let said = bench.run(&picture(&["--cells", "20x20", "--json"])).ended(0).json();
    assert_eq!((&said["objective"], said["colours"].as_u64()), (&said["bound"], Some(300)));
}

/// Codes of two signs without look-alikes.
fn code(i: usize) -> String {
    let signs: Vec<char> = "ABCDEFGHJKMNPRSTUVWXY3456789".chars().collect();
    [signs[i / signs.len()], signs[i % signs.len()]].iter().collect()
}

#[test]
fn words_that_are_off_are_named_with_the_next_step() {
    let bench = with_example();
    bench.run(&picture(&["--cells", "0x5"])).refused(&["0x5"]);
    bench.run(&picture(&["--cells", "99999x99999"])).refused(&["99999"]);
    bench.run(&picture(&["--cells", "ten"])).refused(&["ten", "120x90"]);
    bench
        .run(&picture(&["--cells", "9x9", "--match", "seen", "--fewer-changes", "7"]))
        .refused(&["--fewer-changes", "5"]);
    bench.run(&picture(&["--cells", "9x9", "--pitch", "NaNx5"])).refused(&["--pitch"]);
    bench.run(&picture(&["--cells", "9x9", "--floor", "brown"])).refused(&["brown", "#8a7a62"]);
    bench.run(&picture(&["--cells", "9x9", "-o", "no/such/folder.png"])).refused(&["folder"]);
    bench
        .run(&["picture", "missing.png", "--stock", "stock.csv", "--cells", "9x9"])
        .refused(&["missing.png"]);
    bench.run(&["paint"]).refused(&["paint"]);
    let said = bench.run(&["picture", "--json"]).ended(2).json();
    assert_eq!(said["error"]["code"], "usage");
}

#[cfg(unix)]
#[test]
fn ctrl_c_leaves_nothing_half_written() {
    let bench = with_example();
    let args = picture(&["--cells", "2000x900", "--match", "seen", "-o", "out.png"]);
    let list = String::from_utf8(STOCK.to_vec()).unwrap();
    let list: String =
        list.lines().map(|l| if l.starts_with("name") { format!("{l}\n") } else { grown(l) }).collect();
    bench.file("stock.csv", list);
    let mut child = bench.command(&args).stderr(std::process::Stdio::null()).spawn().unwrap();
    std::thread::sleep(std::time::Duration::from_millis(700));
    let killed = std::process::Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap();
    assert!(killed.success());
    assert_eq!(child.wait().unwrap().code(), Some(130));
    assert_eq!(bench.names(), ["mill.png", "stock.csv"]);
}

/// A line of the stock list with its count times a hundred.
#[cfg(unix)]
fn grown(line: &str) -> String {
    let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
    cells[3].push_str("00");
    cells.join(",") + "\n"
}
