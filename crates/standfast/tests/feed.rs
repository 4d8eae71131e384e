//! Feeding fields from the command line: what it lists, and what it lays.

mod common;

use common::Bench;

fn with_project() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "event.standfast", "--example", "spring-to-sea"]).ended(0);
    bench
}

#[test]
fn ways_to_feed_a_field_are_listed_best_first_and_nothing_is_changed() {
    let bench = with_project();
    let said = bench.run(&["feed", "event.standfast", "Mill", "--json"]).ended(0).json();
    let ways = said["ways"].as_array().expect("a list of ways");
    assert_eq!(ways.len(), 8);
    assert_eq!(ways[0]["works"].as_str(), Some("sure"));
    let Some(brick) = ways.iter().find(|w| w["way"] == "brick") else { panic!("{ways:?}") };
    assert_eq!(brick["works"].as_str(), Some("sure"));
    // Measured: 80 of 80 lanes at this lane pitch and gap (own rigid-body runs).
    assert_eq!(brick["at_0_15"]["fell"].as_u64(), Some(80));
    let again = bench.run(&["feed", "event.standfast", "Mill", "--json"]).ended(0).json();
    assert_eq!(said, again);
    bench.run(&["feed", "event.standfast", "Nowhere"]).refused(&["Nowhere"]);
}

#[test]
fn a_feed_is_added_once_for_each_call_and_names_the_port_for_the_line() {
    let bench = with_project();
    let args = ["feed", "event.standfast", "Town", "--way", "echelon", "--side", "left", "--apply", "--json"];
    let said = bench.run(&args).ended(0).json();
    assert_eq!((said["items"][0].as_str(), said["port"].as_str()), (Some("Town feed 2"), Some("entry")));
    assert_eq!(said["change"].as_u64(), Some(1));
    let said = bench.run(&args).ended(0).json();
    assert_eq!((said["items"][0].as_str(), said["change"].as_u64()), (Some("Town feed 3"), Some(2)));
}

#[test]
fn a_way_that_does_not_fit_is_refused_with_the_reason() {
    let bench = with_project();
    let args = ["feed", "event.standfast", "Town", "--way", "beside", "--apply"];
    bench.run(&args).refused(&["36\u{a0}mm apart", "26\u{a0}mm apart"]);
    let said = bench.run(&["feed", "event.standfast", "Town", "--way", "beside", "--json"]).ended(0).json();
    assert_eq!(
        (said["ways"][0]["works"].as_str(), said["ways"][0]["pieces"].as_u64()),
        (Some("no"), Some(0))
    );
}

/// A field whose lanes stand wide enough for round turns, and a stock for its feeds.
fn wide() -> Bench {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2050c0,900\n");
    bench.file(
        "plan.toml",
        "name = \"Wide\"\n[[item]]\nis = \"field\"\nname = \"Mill\"\nat = [\"0 mm\", \"0 mm\"]\nlanes = 5\nranks = 6\n\
         pitch_along = \"15 mm\"\npitch_across = \"60 mm\"\n\
         [item.cells]\nlanes = [\"B6\", \"B6\", \"B6\", \"B6\", \"B6\"]\n",
    );
    bench.run(&["new", "wide.standfast", "--from", "plan.toml"]).ended(0);
    bench
}

/// The field's own line of the plan as text.
fn course(bench: &Bench) -> String {
    bench.run(&["export", "wide.standfast", "--to", "toml", "-o", "out"]).ended(0);
    let text = std::fs::read_to_string(bench.path().join("out/plan.toml")).expect("the exported plan");
    text.lines().find(|l| l.starts_with("course")).unwrap_or("none").to_owned()
}

#[test]
fn lanes_are_laid_opposed_with_a_feed_at_each_edge() {
    let bench = wide();
    assert_eq!(course(&bench), "none");
    let args = ["feed", "wide.standfast", "Mill", "--way", "opposed", "--apply", "--json"];
    let said = bench.run(&args).ended(0).json();
    assert_eq!(said["items"], serde_json::json!(["Mill feed", "Mill feed, far edge"]));
    assert_eq!((said["to"].clone(), said["port"].as_str()), (said["items"].clone(), Some("entry")));
    assert!(course(&bench).contains("opposed"), "{}", course(&bench));
    // Only the wish for it lays the picture's lanes another way.
    let said = bench.run(&["feed", "wide.standfast", "Mill", "--way", "brick", "--json"]).ended(0).json();
    assert_eq!(said["ways"].as_array().map(Vec::len), Some(1));
}

#[test]
fn lanes_are_laid_in_turn_and_need_no_feed() {
    let bench = wide();
    let args = ["feed", "wide.standfast", "Mill", "--way", "in-turn", "--apply"];
    let said = bench.run(&args).ended(0).text();
    assert!(
        said.contains("fall otherwise now") && said.contains("A line must lead to Mill, port lane 1"),
        "{said}"
    );
    assert!(course(&bench).contains("in-turn"), "{}", course(&bench));
    bench.run(&args).refused(&["Mill falls so already"]);
    // The lanes of a usual field stand too close for that.
    let usual = with_project();
    usual
        .run(&["feed", "event.standfast", "Town", "--way", "in-turn", "--apply"])
        .refused(&["No feed was laid"]);
}
