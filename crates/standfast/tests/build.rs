//! What the command build tells, with the real program.

mod common;

use common::Bench;

fn with_project() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "event.standfast", "--example", "spring-to-sea"]).ended(0);
    bench
}

#[test]
fn what_a_touch_takes_is_told_for_the_plan_and_for_what_is_built() {
    let bench = with_project();
    let all = bench.run(&["build", "event.standfast", "--json"]).ended(0).json();
    let one = bench.run(&["build", "event.standfast", "--built", "Town", "--json"]).ended(0).json();
    assert_eq!(all["pieces"], one["pieces"]);
    assert!(one["standing"].as_u64() < all["standing"].as_u64());
    assert!(one["standing"].as_u64() > Some(0));
    assert_eq!(one["worst"][0]["item"].as_str(), Some("Town"));
    assert!(all["worst"][0]["pieces"].as_u64() >= one["worst"][0]["pieces"].as_u64());
    assert_eq!(all["exact"].as_bool(), Some(true));
    let standing: u64 =
        all["classes"].as_array().expect("classes").iter().filter_map(|c| c["pieces"].as_u64()).sum();
    assert_eq!(Some(standing), all["standing"].as_u64());
}

#[test]
fn unknown_items_are_refused_and_text_is_plain() {
    let bench = with_project();
    bench.run(&["build", "event.standfast", "--built", "Nowhere"]).refused(&["Nowhere"]);
    bench.run(&["build", "event.standfast", "--gaps-open", "--gaps-closed"]).refused(&["--gaps-closed"]);
}

/// As in all other answers, lanes, pieces and gaps count from 1.
#[test]
fn places_count_from_one_and_read_alike_in_all_verbs() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2050c0,500\n");
    bench.file(
        "plan.toml",
        r##"
name = "Brook"
[[item]]
is = "start"
name = "Push"
at = ["-20 mm", "0 mm"]
width = "20 mm"
[[item]]
is = "line"
name = "Brook"
at = ["0 mm", "0 mm"]
pitch = "15 mm"
colours = "B"
gaps = ["31-32"]
[[item.leg]]
straight = "1.5 m"
"##,
    );
    let said = bench.run(&["build", "plan.toml", "--json"]).ended(0).json();
    assert_eq!(said["gaps"][0]["first"].as_u64(), Some(31));
    assert_eq!(said["worst"][0]["lane"].as_u64(), Some(1));
    assert_eq!(said["closing"]["order"][0]["gap"].as_u64(), Some(1));
    assert_eq!(said["worst"][0]["item"].as_str(), Some("Brook"));
    let text = bench.run(&["build", "plan.toml"]).ended(0).text();
    assert!(text.contains("line Brook, lane 1, piece 1: "), "{text}");
    assert!(text.contains("line Brook, ranks 31 to 32: "), "{text}");
}

/// A closed gap has nothing open, and what is not built has no gaps yet.
#[test]
fn closed_gaps_are_told_as_closed_and_only_those_that_are_built() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2050c0,500\n");
    let line = |name: &str, y: u32| {
        format!(
            "[[item]]\nis = \"line\"\nname = \"{name}\"\nat = [\"0 mm\", \"{y} mm\"]\npitch = \"15 mm\"\n\
             colours = \"B\"\ngaps = [\"31-35\"]\n[[item.leg]]\nstraight = \"1.5 m\"\n"
        )
    };
    bench.file("plan.toml", format!("name = \"Two\"\n{}{}", line("Brook", 0), line("River", 900)));
    let open = bench.run(&["build", "plan.toml"]).ended(0).text();
    assert!(open.contains("mm are open"), "{open}");
    let closed = bench.run(&["build", "plan.toml", "--gaps-closed"]).ended(0).text();
    assert!(!closed.contains("are open"), "{closed}");
    assert!(
        closed.contains("line Brook, ranks 31 to 35: stops nothing now; its 5 pieces stand."),
        "{closed}"
    );
    let said = bench.run(&["build", "plan.toml", "--gaps-closed", "--json"]).ended(0).json();
    assert!(said["gaps"][0]["opening_mm"].is_null() && said["gaps"][0]["holds"] == "not", "{said}");
    let said = bench.run(&["build", "plan.toml", "--built", "River", "--json"]).ended(0).json();
    let gaps = said["gaps"].as_array().expect("a list");
    assert!(gaps.len() == 1 && gaps[0]["item"] == "River", "{said}");
}

/// What it prints it also takes.
#[test]
fn accidents_are_a_mean_and_may_have_decimals() {
    let bench = with_project();
    let text = bench.run(&["build", "event.standfast", "--accidents", "4.3"]).ended(0).text();
    assert!(text.contains("for 4.3 accidents expected"), "{text}");
    for bad in ["-1", "0", "many", "nan", "1e300"] {
        bench.run(&["build", "event.standfast", "--accidents", bad]).refused(&[bad, "write it as 5 or 4.3"]);
    }
}
