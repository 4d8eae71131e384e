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
