//! The plans under `plans/`: one folder a case, read as text, with a small snapshot of each stage beside it.
//!
//! `STANDFAST_BLESS=1` accepts what changed. The text itself must be as the writer would write it.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use exchange::{PictureFacts, read_text_plan, write_text_plan};
use findings::{CheckInput, check};
use placement::{Pieces, Placement};
use plan::{Item, Plan};

fn folder(case: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../plans").join(case)
}

/// Compares a stage with its file, or writes the file when the change is accepted.
fn stage(case: &str, file: &str, now: &str) {
    let path = folder(case).join(file);
    if std::env::var_os("STANDFAST_BLESS").is_some() {
        std::fs::write(&path, now).unwrap_or_else(|e| panic!("{e}"));
        return;
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(now, kept, "{case}/{file} changed; accept with STANDFAST_BLESS=1");
}

fn read(case: &str) -> Plan {
    let file = |name: &str| std::fs::read(folder(case).join(name));
    let text = String::from_utf8(file("plan.toml").unwrap_or_else(|e| panic!("{case}: {e}"))).expect("UTF-8");
    let stock = file("stock.csv").ok();
    // These cases have no picture files; what a picture would be is of no matter to their stages.
    let mut facts = |_: &str| Some(PictureFacts { sha256: "0".repeat(64), width: 40, height: 30 });
    read_text_plan(&text, stock.as_deref(), &mut facts).unwrap_or_else(|e| panic!("{case}: {e}"))
}

/// Where the pieces of each item stand: the corners of what is laid, and each lane's count and ends.
fn placed(plan: &Plan) -> String {
    let placement = Placement::of(plan);
    let mut text = String::new();
    for (item, placed) in plan.items.iter().zip(placement.items()) {
        let pieces = &placed.pieces;
        let _ = writeln!(text, "{}: {} pieces", item.name, pieces.len());
        if let Some(corners) = placement::extent(plan, item) {
            let corners = corners.map(|p| format!("({:.1}, {:.1})", p.x, p.y));
            let _ = writeln!(text, "  outline {}", corners.join(" "));
        }
        lanes(&mut text, pieces);
        for port in placement::ports(plan, item).into_iter().filter(|p| !p.name.starts_with("lane ")) {
            let (at, way) = (port.at, port.heading.to_deg());
            let _ = writeln!(
                text,
                "  {} ({:?}) at ({:.1}, {:.1}) towards {way:.1} deg",
                port.name, port.flow, at.x, at.y
            );
        }
    }
    text
}

fn lanes(text: &mut String, pieces: &Pieces) {
    let mut start = 0;
    for lane in pieces.lane.chunk_by(|a, b| a == b) {
        let end = start + lane.len() - 1;
        let spot = |i: usize| {
            format!("rank {} at ({:.1}, {:.1}, {:.1})", pieces.rank[i], pieces.x[i], pieces.y[i], pieces.z[i])
        };
        let yaw = pieces.yaw[start];
        let _ = writeln!(
            text,
            "  lane {}: {} pieces, yaw {yaw:.4}, {} to {}",
            lane[0],
            lane.len(),
            spot(start),
            spot(end)
        );
        start = end + 1;
    }
}

fn found(plan: &Plan) -> String {
    let say = |f: &findings::Finding| {
        let mend = if f.mend.is_some() { " (can be mended)" } else { "" };
        format!("{:?} {}, {}: {} {}{mend}\n", f.severity, f.code, f.place.words, f.message, f.hint)
    };
    let placement = Placement::of(plan);
    let network = fall::Network::of(plan, &placement);
    check(plan, &placement, &network, &CheckInput::default())
        .iter()
        .map(say)
        .collect::<String>()
        .replace('\u{a0}', " ")
}

/// What is called for each field, in the order of calling.
fn called(plan: &Plan) -> String {
    let mut text = String::new();
    for item in &plan.items {
        let Item { name, heading, .. } = item;
        let Some(field) = item.field() else { continue };
        let _ = writeln!(text, "{name}");
        for unit in sheets::reading(field, *heading, &plan.stock, &sheets::ReadOptions::default()) {
            let code =
                |c: &sheets::Call| c.colour.and_then(|c| plan.colour(c)).map_or("skip", |c| c.code.as_str());
            let calls: Vec<String> = unit.calls.iter().map(|c| format!("{} {}", code(c), c.count)).collect();
            let _ = writeln!(text, "  lane {}: {} = {}", unit.index + 1, calls.join("  "), unit.pieces);
        }
    }
    text
}

fn case(name: &str) -> Plan {
    let plan = read(name);
    let text = write_text_plan(&plan);
    stage(name, "plan.toml", &text.plan_toml);
    stage(name, "stock.csv", &text.stock_csv);
    stage(name, "placement.txt", &placed(&plan));
    stage(name, "findings.txt", &found(&plan));
    stage(name, "sheets.txt", &called(&plan));
    plan
}

#[test]
fn two_small_fields_share_a_stock_and_fall_east_and_south() {
    let plan = case("two-small-fields");
    // The second field falls south: its lane 1 lies east of lane 0, to the left of the fall.
    let placement = Placement::of(&plan);
    let pieces = &placement.items()[1].pieces;
    let second = pieces.lane.partition_point(|&l| l == 0);
    assert!(pieces.x[second] > pieces.x[0] && pieces.y[1] < pieces.y[0]);
}

#[test]
fn a_placeholder_counts_its_pieces_and_turns_its_ports() {
    let plan = case("placeholder-and-ports");
    assert!(found(&plan).contains(
        "The plan wants 1 266 (Lighthouse 1 240, Quay 26), you own 1 200 and keep 36 of them as spare."
    ));
}

#[test]
fn a_staggered_field_to_the_north_shifts_every_second_lane() {
    let plan = case("staggered-north");
    let placement = Placement::of(&plan);
    let pieces = &placement.items()[0].pieces;
    let firsts: Vec<f64> = (0..pieces.len()).filter(|&i| pieces.rank[i] == 0).map(|i| pieces.y[i]).collect();
    assert_eq!(firsts, [0.0, 8.0, 0.0, 8.0, 0.0]);
}

/// Pieces of a plan that fall in the usual run, all safety gaps filled, and all there are.
fn fallen(plan: &Plan) -> (u64, u64) {
    let placement = Placement::of(plan);
    let report = fall::report(plan, &fall::Network::of(plan, &placement));
    (report.fallen.into(), report.pieces.into())
}

#[test]
fn a_line_climbs_over_another_by_steps_of_7_5_mm() {
    let plan = case("line-with-a-bridge-over-a-line");
    let placement = Placement::of(&plan);
    let z = &placement.items()[2].pieces.z;
    // Middles of pieces of 48 mm: 24 mm on the floor, 75 mm more on the deck.
    assert_eq!(z.iter().copied().fold(0.0, f32::max), 99.0);
    // Ten steps of two pieces up, as many down.
    assert!(z.iter().filter(|&&z| z > 24.0 && z < 99.0).count() >= 36, "{z:?}");
    let (fallen, pieces) = fallen(&plan);
    assert_eq!(fallen, pieces);
}

#[test]
fn a_spiral_leads_in_and_out_again_and_all_of_it_falls() {
    let plan = case("spiral-in-and-out");
    let placement = Placement::of(&plan);
    // Length of one Archimedean arm between 710 and 200 mm, by the closed form in r and dr/dphi = a:
    // (r sqrt(r^2 + a^2) + a^2 asinh(r / a)) / (2 a), from memory; a = 170 / (2 pi).
    let a = 170.0 / (2.0 * std::f64::consts::PI);
    let part = |r: f64| {
        let root = (r * r + a * a).sqrt();
        (r * root + a * a * units::maths::ln((r + root) / a)) / (2.0 * a)
    };
    let arm = part(710.0) - part(200.0);
    let turns = 2.0 * (std::f64::consts::PI * 99.2 + 25.3);
    // The end of a line is where the next piece would stand: so many whole pitches, give or take half a one.
    let pieces = ((600.0 + 2.0 * arm + turns) / 15.0).round() as usize;
    assert_eq!(placement.items()[1].pieces.len(), pieces);
    let (fallen, pieces) = fallen(&plan);
    assert_eq!(fallen, pieces);
}

#[test]
fn a_line_splits_and_its_arms_join_again() {
    let plan = case("split-and-join");
    let (fallen, pieces) = fallen(&plan);
    assert_eq!(fallen, pieces);
}

#[test]
fn every_folder_of_plans_is_a_test() {
    let known = [
        "line-with-a-bridge-over-a-line",
        "placeholder-and-ports",
        "spiral-in-and-out",
        "split-and-join",
        "staggered-north",
        "two-small-fields",
    ];
    let folders = std::fs::read_dir(folder("")).expect("the plans are part of the repository");
    let mut names: Vec<String> = folders.filter_map(|f| f.ok()?.file_name().into_string().ok()).collect();
    names.retain(|n| folder(n).is_dir());
    names.sort();
    assert_eq!(names, known);
}
