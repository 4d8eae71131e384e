//! A small run as a text plan, through fall, build, check and feed of the real program.

mod common;

use common::Bench;

const HEAD: &str = r##"format = 1
name = "Run"

[hall]
name = "Larkmeadow Hall"
floor = "#8a7a62"

[[kind]]
id = 1
name = "Standard"
thickness = "7.5 mm"
width = "24 mm"
height = "48 mm"
mass = "8.5 g"

[[gear]]
id = 1
is = "comb"
name = "Comb"
pitch = "15 mm"
teeth = 20
count = 4

[[item]]
is = "start"
name = "Push"
at = ["-10 mm", "0 mm"]
heading = "0 deg"
width = "20 mm"

"##;

/// A line of this many millimetres from the start on, with more keys.
fn brook(length: u32, pitch: &str, more: &str) -> String {
    format!(
        "[[item]]\nis = \"line\"\nname = \"Brook\"\nat = [\"0 mm\", \"0 mm\"]\nheading = \"0 deg\"\n{more}kind = \"Standard\"\n\
         pitch = \"{pitch}\"\ncolours = \"S\"\nleg = [{{ straight = \"{length} mm\" }}]\n\n"
    )
}

fn with(items: &str) -> Bench {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nSky,S,#7cbde6,5000\n");
    bench.file("plan.toml", format!("{HEAD}{items}"));
    bench
}

#[test]
fn fall_ends_with_1_while_pieces_stand_and_with_0_when_all_fall() {
    let whole = with(&brook(600, "15 mm", ""));
    whole.run(&["fall", "plan.toml"]).ended(0);
    // Beyond 47 mm from face to face no piece reaches the next.
    let broken = with(&brook(600, "60 mm", ""));
    let said = broken.run(&["fall", "plan.toml"]).ended(1).text();
    assert!(said.starts_with("1 of 10 pieces fall"), "{said}");
    assert!(said.contains("line Brook, lane 1: 9 pieces stand."), "{said}");
    let lanes = broken.run(&["fall", "plan.toml", "--json"]).json()["fall"]["stands"][0]["lanes"].clone();
    assert_eq!(lanes, serde_json::json!([[1, 1]]));
}

#[test]
fn a_hit_that_may_fail_is_named_by_pieces_counted_from_1() {
    let said = with(&brook(600, "50 mm", "")).run(&["fall", "plan.toml"]).text();
    assert!(said.contains("line Brook, lane 1, piece 1 on line Brook, lane 1, piece 2"), "{said}");
}

/// 22.5 mm pass on every floor and 112.5 mm hold on the usual ones (own simulated runs).
#[test]
fn build_says_of_each_gap_whether_it_holds_and_counts_without_its_pieces() {
    let bench = with(&brook(6_000, "15 mm", "gaps = [\"101\", \"201-207\"]\n"));
    let said = bench.run(&["build", "plan.toml"]).ended(0).text();
    assert!(said.contains("Brook, rank 101: does not hold; 22.5 mm are open"), "{said}");
    assert!(said.contains("Brook, ranks 201 to 207: holds; 112.5 mm are open."), "{said}");
    let standing = |args: &[&str]| bench.run(args).ended(0).json()["standing"].as_u64();
    assert_eq!(standing(&["build", "plan.toml", "--json"]), Some(392));
    assert_eq!(standing(&["build", "plan.toml", "--gaps-closed", "--json"]), Some(400));
    // What hangs together is told for each closing: 199 pieces before the gap that holds, then all that stand.
    let closing = bench.run(&["build", "plan.toml", "--json"]).json()["closing"]["order"].clone();
    let joined: Vec<_> = closing.as_array().expect("a list").iter().map(|c| c["joined"].as_u64()).collect();
    assert_eq!(joined, [Some(199), Some(392)]);
}

#[test]
fn build_proposes_more_gaps_for_more_accidents() {
    let bench = with(&brook(30_000, "15 mm", ""));
    let count = |n: &str| {
        let said = bench.run(&["build", "plan.toml", "--accidents", n, "--json"]).ended(0).json();
        said["proposals"].as_array().expect("a list").len()
    };
    let (few, many) = (count("1"), count("50"));
    assert!(few >= 1 && many > 2 * few, "{few} {many}");
}

/// A tight turn is a "should": it fails only who asks for that.
#[test]
fn check_ends_with_1_for_the_severity_that_was_asked_for() {
    let turn =
        brook(600, "15 mm", "").replace("straight = \"600 mm\"", "arc = \"90 deg\", radius = \"24 mm\"");
    let bench = with(&turn);
    bench.run(&["check", "plan.toml"]).ended(0);
    bench.run(&["check", "plan.toml", "--fail-on", "should"]).ended(1);
}

#[test]
fn a_feed_is_laid_on_the_side_that_was_asked_for_and_at_both_edges_of_opposed_lanes() {
    let field = |course: &str| {
        let lanes = "  \"S6\",\n".repeat(6);
        format!(
            "[[item]]\nis = \"field\"\nname = \"Mill\"\nat = [\"0 mm\", \"500 mm\"]\nheading = \"90 deg\"\nkind = \"Standard\"\n\
             lanes = 6\nranks = 6\npitch_along = \"15 mm\"\npitch_across = \"25 mm\"\n{course}fall = \"up\"\n\n\
             [item.cells]\nlanes = [\n{lanes}]\n\n"
        )
    };
    for side in ["left", "right"] {
        let bench = with(&field(""));
        bench.run(&["new", "run.standfast", "--from", "plan.toml"]).ended(0);
        bench.run(&["feed", "run.standfast", "Mill", "--way", "echelon", "--side", side, "--apply"]).ended(0);
        bench.run(&["export", "run.standfast", "--to", "toml", "-o", "out"]).ended(0);
        let text = std::fs::read_to_string(bench.path().join("out/plan.toml")).expect("written");
        assert!(text.contains(&format!("side = \"{side}\"")), "{text}");
    }
    let bench = with(&field("course = \"opposed\"\n").replace("25 mm", "26 mm"));
    bench.run(&["new", "run.standfast", "--from", "plan.toml"]).ended(0);
    let args = ["feed", "run.standfast", "Mill", "--way", "beside", "--apply", "--json"];
    let said = bench.run(&args).ended(0).json();
    assert_eq!(said["items"], serde_json::json!(["Mill feed", "Mill feed, far edge"]));
    bench.run(&["export", "run.standfast", "--to", "toml", "-o", "out"]).ended(0);
    let text = std::fs::read_to_string(bench.path().join("out/plan.toml")).expect("written");
    let far = text.split("[[item]]").find(|i| i.contains("Mill feed, far edge")).expect("the far feed");
    assert!(far.contains("heading = \"270 deg\""), "{far}");
}

/// A feed of brick ranks in front of a field along which a line runs would be laid into that line: the mend is tried and not made.
#[test]
fn a_mend_that_would_make_more_wrong_is_refused_and_changes_nothing() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nSky,S,#70b0e0,9000\n");
    let lanes = ["\"S20\""; 10].join(", ");
    bench.file(
        "plan.toml",
        format!(
            "name = \"Edge\"\n[hall]\nfloor_grip = [0.3, 0.3]\n\
             outline = [[\"-5 m\", \"-5 m\"], [\"20 m\", \"-5 m\"], [\"20 m\", \"15 m\"], [\"-5 m\", \"15 m\"]]\n\
             [[gear]]\nis = \"comb\"\nname = \"Comb 15\"\npitch = \"15 mm\"\nteeth = 20\ncount = 4\n\
             [[item]]\nis = \"start\"\nname = \"Push\"\nat = [\"-10 mm\", \"0 mm\"]\nwidth = \"20 mm\"\n\
             [[item]]\nis = \"line\"\nname = \"River\"\nat = [\"0 mm\", \"0 mm\"]\npitch = \"15 mm\"\ncolours = \"S\"\n\
             [[item.leg]]\nstraight = \"1 m\"\n\
             [[item]]\nis = \"field\"\nname = \"Mill\"\nat = [\"100 mm\", \"22 mm\"]\nheading = \"90 deg\"\nlanes = 10\n\
             ranks = 20\npitch_along = \"15 mm\"\npitch_across = \"26 mm\"\n[item.cells]\nlanes = [{lanes}]\n"
        ),
    );
    bench.run(&["new", "edge.standfast", "--from", "plan.toml"]).ended(0);
    let before = bench.run(&["check", "edge.standfast", "--json"]).ended(1).json();
    assert_eq!(
        (before["findings"][0]["code"].as_str(), before["findings"][0]["can_mend"].as_bool()),
        (Some("feed-not-working"), Some(true))
    );
    bench.run(&["check", "edge.standfast", "--mend", "1"]).refused(&[
        "more would be wrong",
        "of River stand in Feed of Mill",
        "Nothing was changed",
    ]);
    assert_eq!(bench.run(&["check", "edge.standfast", "--json"]).ended(1).json(), before);
}

/// Whoever copies the run of the README gets a fill that is not within reach of itself on the floor that it states.
#[test]
fn the_fill_of_the_readme_is_not_within_its_own_reach() {
    let readme = include_str!("../../../README.md");
    let (_, block) = readme.split_once("```toml\n").expect("the README shows a text plan");
    let (block, _) = block.split_once("```").expect("it ends");
    let line = "[[item]]\nis = \"line\"\nname = \"Spring\"\nat = [\"0 mm\", \"0 mm\"]\npitch = \"15 mm\"\ncolours = \"B\"\n";
    let field = "[[item]]\nid = 17\nis = \"field\"\nname = \"Mill\"\nat = [\"0 mm\", \"0 mm\"]\nlanes = 2\nranks = 6\n\
                 pitch_along = \"15 mm\"\npitch_across = \"26 mm\"\n";
    let bench = Bench::new();
    bench.file(
        "stock.csv",
        "name,code,hex,count\nSky,B,#6fb1e0,6750\nSand,W,#e8d7a0,1200\nSlate,T,#445566,10\n",
    );
    bench.file("plan.toml", format!("{block}\n{line}{field}"));
    let told = bench.run(&["check", "plan.toml"]).text();
    assert!(told.contains("stock"), "{told}");
    assert!(!told.contains("Sea at rank"), "{told}");
}
