//! Moving and turning a section from the command line: what moves, what follows, and what it is refused for.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

mod common;

use common::Bench;
use serde_json::Value;

/// A wall 3 m east, a section of two placeholders, one of which stands 12 mm beyond it, and a line of no section that leads on
/// from the second.
const PLAN: &str = r#"format = 1
name = "Shift"

[hall]
name = "Larkmeadow Hall"
outline = [["0 mm", "0 mm"], ["3 m", "0 mm"], ["3 m", "3 m"], ["0 mm", "3 m"]]

[[section]]
id = 2
name = "A"

[[section]]
id = 3
name = "Empty"

[[item]]
is = "placeholder"
name = "Wheel"
at = ["2.512 m", "1 m"]
section = "A"
length = "500 mm"
width = "300 mm"
height = "48 mm"

[[item]]
is = "placeholder"
name = "Sluice"
at = ["1 m", "1 m"]
section = "A"
length = "500 mm"
width = "300 mm"
height = "48 mm"
built = { east = "3 mm" }
port = [{ name = "out", flow = "out", at = ["0 mm", "0 mm"], direction = "180 deg", width = "24 mm" }]

[[item]]
is = "line"
name = "Brook"
at = ["0 mm", "0 mm"]
pitch = "15 mm"
from = "Sluice: out"
colours = "B"
leg = [{ straight = "600 mm" }]

[[item]]
is = "line"
name = "Rill"
at = ["300 mm", "300 mm"]
pitch = "15 mm"
colours = "B"
leg = [{ straight = "600 mm" }]
"#;

fn with_project() -> Bench {
    let bench = Bench::new();
    bench.file("plan.toml", PLAN);
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2244cc,900\n");
    bench.run(&["new", "event.standfast", "--from", "plan.toml"]).ended(0);
    bench
}

fn text(bench: &Bench) -> String {
    bench.run(&["export", "event.standfast", "--to", "toml", "-o", "-"]).ended(0).text()
}

fn names(list: &Value) -> Vec<&str> {
    list.as_array().unwrap().iter().map(|v| v["name"].as_str().unwrap()).collect()
}

#[test]
fn a_section_moves_as_one_change_and_what_is_linked_follows() {
    let bench = with_project();
    let before = text(&bench);
    let args = ["--section", "A", "--east", "-12.5 mm", "--north", "4 mm", "--json"];
    let said = bench.run(&[&["shift", "event.standfast"][..], &args].concat()).ended(0).json();
    assert_eq!(names(&said["moved"]), ["placeholder Wheel", "placeholder Sluice"]);
    assert_eq!(names(&said["laid_again"]), ["line Brook"]);
    assert_eq!(said["change"].as_u64(), Some(1));
    // The one finding that a wall was in the way is gone, and nothing is new.
    let codes = |list: &Value| -> Vec<String> {
        list.as_array().unwrap().iter().map(|f| f["code"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!((codes(&said["gone"]), codes(&said["new"])), (vec!["outside-hall".to_owned()], vec![]));
    let count = |when: &str, what: &str| said[when][what].as_u64().unwrap();
    assert_eq!(count("before", "must"), count("after", "must") + 1);
    assert_eq!(count("before", "should"), count("after", "should"));
    let after = text(&bench);
    // By hand: 2512 - 12.5 and 1000 - 12.5 mm to the east, 1000 + 4 mm to the north; the offset as built stays.
    for (old, new) in [
        ("at = [\"2512 mm\", \"1000 mm\"]", "at = [\"2499.5 mm\", \"1004 mm\"]"),
        ("at = [\"1000 mm\", \"1000 mm\"]", "at = [\"987.5 mm\", \"1004 mm\"]"),
    ] {
        assert!(before.contains(old) && after.contains(new) && !after.contains(old), "{after}");
    }
    assert!(after.contains("at = [\"300 mm\", \"300 mm\"]") && after.contains("built = { east = \"3 mm\""));
}

/// The middle of the box: Wheel from 2512 to 3012 mm east and 1000 to 1300 north, Sluice, 3 mm off, from 1003.
#[test]
fn a_turn_is_about_the_middle_or_about_a_given_place() {
    let bench = with_project();
    let turn = ["shift", "event.standfast", "--section", "A", "--turn", "180 deg", "--json"];
    let said = bench.run(&turn).ended(0).json();
    let about: Vec<f64> = said["about"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
    assert!(
        (about[0] - (1003.0 + 3012.0) / 2.0).abs() < 1e-9 && (about[1] - 1150.0).abs() < 1e-9,
        "{about:?}"
    );
    // Half a turn about the middle takes 2512 to 4015 - 2512 = 1503 mm, and its origin to the other side.
    assert!(text(&bench).contains("at = [\"1503 mm\", \"1300 mm\"]"), "{}", text(&bench));
    let said = bench
        .run(&[
            "shift",
            "event.standfast",
            "--item",
            "Rill",
            "--turn=-90 deg",
            "--about",
            "0.3 m, 400 mm",
            "--json",
        ])
        .ended(0)
        .json();
    assert_eq!((names(&said["moved"]), &said["change"]), (vec!["line Rill"], &Value::from(2)));
    // 100 mm south of the place, a quarter turn to the right takes it 100 mm to its west.
    assert!(text(&bench).contains("at = [\"200 mm\", \"400 mm\"]"), "{}", text(&bench));
}

#[test]
fn people_read_what_moved_and_what_it_did() {
    let bench = with_project();
    let args = ["shift", "event.standfast", "--section", "A", "--east", "1 m", "--turn", "0.2 deg"];
    let said = bench.run(&args).ended(0).text();
    for words in [
        "Moved section A by 1000 mm east, turned by 0.2° to the left about 2007.5 mm east, 1150 mm north:",
        "  placeholder Wheel\n  placeholder Sluice\n",
        "Laid again, since they follow by links:\n  line Brook\n",
        "Findings before: ",
        "Saved as change 1; undo takes it back.",
    ] {
        assert!(said.contains(words), "\"{words}\" is missing in: {said}");
    }
}

#[test]
fn what_cannot_be_shifted_is_refused_and_nothing_is_changed() {
    let bench = with_project();
    let before = text(&bench);
    let refused = |args: &[&str], words: &[&str]| {
        bench.run(&[&["shift", "event.standfast"][..], args].concat()).refused(words);
    };
    refused(&["--section", "B", "--east", "1 mm"], &["--section B", "A, Empty"]);
    refused(&["--section", "Empty", "--east", "1 mm"], &["no item belongs to this section"]);
    refused(&["--item", "Nowhere", "--east", "1 mm"], &["\"Nowhere\""]);
    refused(&["--section", "A"], &["--east", "--turn"]);
    refused(&["--east", "1 mm"], &["--section", "--item"]);
    refused(&["--section", "A", "--item", "Rill", "--east", "1 mm"], &["cannot be used with"]);
    refused(&["--section", "A", "--east", "12"], &["\"12\" is not a length", "12 mm"]);
    refused(&["--section", "A", "--east", "NaN mm"], &["\"NaN mm\" is not a length"]);
    refused(&["--section", "A", "--east", "1000000 m"], &["shift, to the east", "1000000000 mm"]);
    refused(&["--section", "A", "--turn", "3 mm"], &["\"3 mm\" is not an angle"]);
    refused(&["--section", "A", "--turn", "400 deg"], &["shift, turn", "400°"]);
    refused(&["--section", "A", "--turn", "1 deg", "--about", "3 m"], &["EAST,NORTH"]);
    assert_eq!(text(&bench), before);
    bench.run(&["shift", "plan.toml", "--section", "A", "--east", "1 mm"]).refused(&["project file"]);
    let said = bench
        .run(&["shift", "event.standfast", "--section", "A", "--north", "1 mm", "--json"])
        .ended(0)
        .json();
    assert_eq!(said["change"].as_u64(), Some(1), "nothing was saved before");
}
