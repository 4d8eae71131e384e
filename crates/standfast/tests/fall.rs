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

/// A line of 10 km takes hours: at 0.95 to 1.25 m/s, as lines at this gap were filmed (reported), 8 000 to 10 500 s, and the
/// range for a floor that nobody measured is a little wider. A push a day later is too late to be told apart.
#[test]
fn a_fall_of_hours_is_timed_and_one_of_more_than_a_day_says_so() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2050c0,700000\n");
    let plan = |metres: u32, after: u32| {
        format!(
            "name = \"Long\"\n[[item]]\nis = \"start\"\nname = \"Push\"\nat = [\"-20 mm\", \"0 mm\"]\nwidth = \"20 mm\"\n\
             after = \"{after} s\"\n\
             [[item]]\nis = \"line\"\nname = \"River\"\nat = [\"0 mm\", \"0 mm\"]\npitch = \"15 mm\"\ncolours = \"B\"\n\
             [[item.leg]]\nstraight = \"{metres} m\"\n"
        )
    };
    bench.file("plan.toml", plan(10_000, 0));
    let said = bench.run(&["fall", "plan.toml", "--json"]).ended(0).json();
    let seconds = |i: usize| said["fall"]["seconds"][i].as_f64().unwrap_or_default();
    assert!(
        seconds(0) > 7_000.0 && seconds(1) < 13_000.0 && seconds(0) < seconds(1),
        "{}",
        said["fall"]["seconds"]
    );
    assert_eq!(said["fall"]["beyond_a_day"], false);
    bench.file("plan.toml", plan(10, 100_000));
    let text = bench.run(&["fall", "plan.toml"]).ended(0).text();
    assert!(text.contains("in more than a day"), "{text}");
    bench.file("plan.toml", plan(10, 0));
    let text = bench.run(&["fall", "plan.toml"]).ended(0).text();
    assert!(text.starts_with("All 667 pieces fall surely, in ") && !text.contains("a day"), "{text}");
}

/// What is said of the times follows the lines that were timed: 50 pieces at a gap of 7.5 mm are 750 mm; at 0.95 to
/// 1.25 m/s, as lines were filmed (reported), they take 0.6 to 0.8 s. In 0.1 s nothing falls so far.
#[test]
fn where_the_times_come_from_is_told() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2050c0,700\n");
    let told = |timed: &str, args: &[&str]| {
        let hall = format!("[hall]\nname = \"Hall\"\nfloor = \"#8a7a62\"\ntimed = [{timed}]\n");
        let line = "[[item]]\nis = \"start\"\nname = \"Push\"\nat = [\"-20 mm\", \"0 mm\"]\nwidth = \"20 mm\"\n\
                    [[item]]\nis = \"line\"\nname = \"River\"\nat = [\"0 mm\", \"0 mm\"]\npitch = \"15 mm\"\n\
                    colours = \"B\"\n[[item.leg]]\nstraight = \"2 m\"\n";
        bench.file("plan.toml", format!("name = \"One\"\n{hall}{line}"));
        bench.run(&[&["fall", "plan.toml"], args].concat()).ended(0).text()
    };
    let good = "{ pieces = 50, gap = \"7.5 mm\", took = \"0.7 s\" }";
    let bad = "{ pieces = 50, gap = \"7.5 mm\", took = \"0.1 s\" }";
    let none = told("", &[]);
    assert!(
        none.contains("are a range until a line of your own was timed") && !none.contains("usual"),
        "{none}"
    );
    let one = told(good, &[]);
    assert!(one.contains("follow the line that was timed") && !one.contains("are a range"), "{one}");
    let both = told(&format!("{good}, {bad}"), &["--runs", "4"]);
    assert!(both.contains("but 1 more does not count"), "{both}");
    assert!(both.contains("Times of runs are at the usual pace"), "{both}");
    let wrong = told(bad, &[]);
    assert!(wrong.contains("no line that was timed on this floor counts"), "{wrong}");
}

/// Steps of 22.5 mm with three pieces on each: at a gap of 7.5 mm none of 6 runs passed, at 12 mm 3 of 6, all on a normal
/// floor (own rigid-body runs, `steps.csv` of crate `fall`). What is said of the bridge and the fall are of one mind.
#[test]
fn a_step_that_stops_the_wave_stops_the_fall_too() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2050c0,700\n");
    let plan = |gap: &str| {
        format!(
            "name = \"Steps\"\n[hall]\nname = \"Hall\"\nfloor = \"#8a7a62\"\nfloor_grip = [0.3, 0.3]\n\
             [[item]]\nis = \"start\"\nname = \"Push\"\nat = [\"-20 mm\", \"0 mm\"]\nwidth = \"20 mm\"\n\
             [[item]]\nis = \"line\"\nname = \"River\"\nat = [\"0 mm\", \"0 mm\"]\ngap = \"{gap}\"\ncolours = \"B\"\n\
             leg = [{{ straight = \"4 m\" }}]\n\
             bridge = [{{ from = \"1500 mm\", deck = \"400 mm\", height = \"82.5 mm\", thickness = \"12 mm\", step = \"22.5 mm\", per_step = 3 }}]\n"
        )
    };
    bench.file("plan.toml", plan("7.5 mm"));
    let said = bench.run(&["check", "plan.toml"]).ended(1).text();
    assert!(said.contains("so high a step stops the wave."), "{said}");
    let said = bench.run(&["fall", "plan.toml", "--json"]).ended(1).json();
    let (fallen, pieces) = (said["fall"]["fallen"].as_u64(), said["fall"]["pieces"].as_u64());
    assert!(fallen > Some(50) && fallen < Some(110) && pieces > Some(200), "{fallen:?} of {pieces:?}");
    bench.file("plan.toml", plan("12 mm"));
    let said = bench.run(&["check", "plan.toml"]).text();
    assert!(said.contains("stops the wave more often than not"), "{said}");
    let said = bench.run(&["fall", "plan.toml", "--json"]).ended(0).json();
    assert!(said["fall"]["surely"].as_u64() < said["fall"]["fallen"].as_u64(), "{}", said["fall"]["surely"]);
}

#[test]
fn the_same_seed_gives_the_same_falls() {
    let bench = Bench::new();
    bench.run(&["new", "event.standfast", "--example", "spring-to-sea"]).ended(0);
    let args = ["fall", "event.standfast", "--runs", "8", "--seed", "5", "--json"];
    assert_eq!(bench.run(&args).json(), bench.run(&args).json());
    bench.run(&["fall", "event.standfast", "--runs", "many"]).refused(&["many"]);
}

/// Findings look at places and not at times: courses of a filled area 40 mm apart throw pieces onto one another, so that the
/// wave meets itself. `check` says what the fall says.
#[test]
fn check_says_what_the_fall_leaves_standing_and_ends_with_1() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nBlue,B,#2050c0,70000\n");
    let plan = |ring: u32| {
        format!(
            "name = \"Sea\"\n[hall]\nfloor_grip = [0.3, 0.3]\n\
             outline = [[\"-5 m\", \"-5 m\"], [\"9 m\", \"-5 m\"], [\"9 m\", \"9 m\"], [\"-5 m\", \"9 m\"]]\n\
             [[gear]]\nis = \"comb\"\nname = \"Comb 15\"\npitch = \"15 mm\"\nteeth = 20\ncount = 4\n\
             [[item]]\nis = \"start\"\nname = \"Push\"\nat = [\"-610 mm\", \"-600 mm\"]\nwidth = \"20 mm\"\n\
             [[item]]\nis = \"line\"\nname = \"In\"\nat = [\"-600 mm\", \"-600 mm\"]\npitch = \"15 mm\"\ncolours = \"B\"\n\
             to = \"Sea: start\"\n[[item.leg]]\nstraight = \"150 mm\"\n\
             [[item]]\nis = \"fill\"\nname = \"Sea\"\nat = [\"0 mm\", \"0 mm\"]\nwith = \"waves\"\nring = \"{ring} mm\"\n\
             gap = \"7.5 mm\"\ncolours = \"B\"\n\
             outline = [[\"0 mm\", \"0 mm\"], [\"2 m\", \"0 mm\"], [\"2 m\", \"1.5 m\"], [\"0 mm\", \"1.5 m\"]]\n"
        )
    };
    for (ring, ends) in [(40, 1), (130, 0)] {
        bench.file("plan.toml", plan(ring));
        let fall = bench.run(&["fall", "plan.toml", "--json"]).ended(ends).json();
        let said = bench.run(&["check", "plan.toml", "--json"]).ended(ends).json();
        for of in ["pieces", "fallen", "surely"] {
            assert_eq!(said["fall"][of], fall["fall"][of], "ring {ring}");
        }
        let text = bench.run(&["check", "plan.toml"]).ended(ends).text();
        assert_eq!(text.contains("`standfast fall` says where and why"), ends == 1, "{text}");
        // Both say how much falls in the same words.
        let told = bench.run(&["fall", "plan.toml"]).ended(ends).text();
        let headline = told.lines().next().expect("a headline");
        assert!(text.contains(&format!("The fall: {headline}")), "{headline}: {text}");
    }
}
