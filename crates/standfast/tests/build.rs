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
