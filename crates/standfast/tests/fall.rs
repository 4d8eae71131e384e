//! The fall from the command line: what it says of a plan that falls and of one that does not.

mod common;

use common::Bench;

#[test]
fn a_plan_without_a_start_says_that_nothing_falls_and_why() {
    let bench = Bench::new();
    bench.run(&["new", "event.standfast", "--example", "spring-to-sea"]).ended(0);
    let said = bench.run(&["fall", "event.standfast", "--json"]).json();
    let fall = &said["fall"];
    let pieces = fall["pieces"].as_u64().expect("a count");
    let fallen = fall["fallen"].as_u64().expect("a count");
    let stand: u64 =
        fall["stands"].as_array().expect("a list").iter().filter_map(|s| s["pieces"].as_u64()).sum();
    assert_eq!(fallen + stand, pieces);
}

#[test]
fn the_same_seed_gives_the_same_falls() {
    let bench = Bench::new();
    bench.run(&["new", "event.standfast", "--example", "spring-to-sea"]).ended(0);
    let args = ["fall", "event.standfast", "--runs", "8", "--seed", "5", "--json"];
    assert_eq!(bench.run(&args).json(), bench.run(&args).json());
    bench.run(&["fall", "event.standfast", "--runs", "many"]).refused(&["many"]);
}
