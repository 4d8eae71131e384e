//! Projects from the command line: making, checking, printing, exporting, keeping.

#![allow(clippy::unwrap_used, reason = "helpers of tests may panic")]

mod common;

use common::{Bench, MILL, STOCK};

fn with_project() -> Bench {
    let bench = Bench::new();
    bench.run(&["new", "event.standfast", "--example", "spring-to-sea"]).ended(0);
    bench
}

#[test]
fn the_example_is_made_checked_matched_printed_and_exported() {
    let bench = with_project();
    let found = bench.run(&["check", "event.standfast", "--json"]);
    let codes: Vec<_> = found.json()["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|f| f["code"].as_str().unwrap().to_owned())
        .collect();
    assert_eq!(codes.iter().filter(|c| *c == "pictures-short").count(), 2, "{codes:?}");
    bench.run(&["check", "event.standfast", "--fail-on", "should"]).ended(1);

    let said = bench.run(&["match", "event.standfast", "--match", "exact", "--json"]).ended(0).json();
    assert_eq!(said["objective"], said["bound"]);
    assert_eq!(said["fields"].as_array().unwrap().len(), 6);

    let said = bench.run(&["sheets", "event.standfast", "-o", "sheets.pdf", "--json"]).ended(0).json();
    assert_eq!((&said["on_sheets"], said["in_plan"].as_u64()), (&said["in_plan"], Some(4 * 6480 + 2 * 2880)));
    assert!(std::fs::read(bench.path().join("sheets.pdf")).unwrap().starts_with(b"%PDF"));

    let said =
        bench.run(&["export", "event.standfast", "--to", "toml", "-o", "text", "--json"]).ended(0).json();
    assert_eq!(said["written"], said["in_plan"]);
    // A text plan goes by its own name or by that of its folder.
    let checked = |name: &str| bench.run(&["check", name, "--json"]).json();
    assert_eq!(checked("text")["findings"], checked("text/plan.toml")["findings"]);
    assert!(checked("text")["findings"].is_array());
    for words in
        [&["open", "text"][..], &["match", "text/plan.toml"], &["backup", "text", "-o", "b.standfast"]]
    {
        bench.run(words).refused(&["text plan", "standfast new NAME.standfast --from text"]);
    }
    bench.run(&["check", "."]).refused(&["it is a folder"]);
    bench.run(&["new", "other.standfast", "--from", "."]).refused(&["plan.toml"]);
    bench.run(&["new", "again.standfast", "--from", "text"]).ended(0);
    bench.run(&["export", "again.standfast", "--to", "toml", "-o", "again"]).ended(0);
    for name in ["plan.toml", "stock.csv", "mill.png", "town.png"] {
        let read = |folder: &str| std::fs::read(bench.path().join(folder).join(name)).unwrap();
        assert_eq!(read("text"), read("again"), "{name}");
    }
    let csv = bench.run(&["export", "event.standfast", "--to", "csv", "-o", "-"]).ended(0).text();
    assert!(csv.starts_with("name,code,hex,count"), "{csv}");
}

/// A mend is one step of the journal: its finding is gone, one more change is saved, and a number that has none is refused.
#[test]
fn a_finding_is_mended_by_its_number() {
    let bench = with_project();
    bench.run(&["export", "event.standfast", "--to", "toml", "-o", "text"]).ended(0);
    let before = bench.run(&["check", "event.standfast", "--json"]).json();
    let list = before["findings"].as_array().unwrap().clone();
    let Some(first) = list.iter().find(|f| f["can_mend"] == true) else { panic!("{list:?}") };
    let (number, code) = (first["number"].to_string(), first["code"].clone());
    let place = first["place"].clone();
    let said = bench.run(&["check", "event.standfast", "--mend", &number, "--json"]).json();
    assert_eq!(said["mended"]["code"], code);
    let left = bench.run(&["check", "event.standfast", "--json"]).json();
    let left = left["findings"].as_array().unwrap();
    assert!(!left.iter().any(|f| f["code"] == code && f["place"] == place), "{left:?}");
    bench.run(&["check", "event.standfast", "--mend", "9999"]).refused(&["--mend 9999", "findings"]);
    bench.run(&["check", "event.standfast", "--mend", "0"]).refused(&["--mend 0"]);
    bench.run(&["check", "text/plan.toml", "--mend", &number]).refused(&["--mend", "project file"]);
}

#[test]
fn a_picture_becomes_a_project_with_sheets() {
    let bench = Bench::new();
    bench.file("mill.png", MILL);
    bench.file("stock.csv", STOCK);
    bench
        .run(&["new", "mill.standfast", "--picture", "mill.png", "--stock", "stock.csv", "--cells", "60x27"])
        .ended(0);
    let said = bench
        .run(&["sheets", "mill.standfast", "--language", "de", "-o", "mill.pdf", "--json"])
        .ended(0)
        .json();
    assert_eq!(said["on_sheets"], 60 * 27);
    bench.run(&["new", "mill.standfast", "--example", "spring-to-sea"]).refused(&["mill.standfast"]);
}

#[test]
fn a_match_that_cannot_be_made_leaves_no_project_behind() {
    let bench = Bench::new();
    bench.file("mill.png", MILL);
    bench.file("stock.csv", "name,code,hex,count\nWhite,W,#ffffff,90\n");
    bench
        .run(&["new", "mill.standfast", "--picture", "mill.png", "--stock", "stock.csv", "--cells", "60x27"])
        .refused(&["1\u{a0}530 are missing"]);
    assert_eq!(bench.names(), ["mill.png", "stock.csv"]);
}

#[test]
fn backups_are_checked_and_come_back_the_same() {
    let bench = with_project();
    bench.run(&["backup", "event.standfast", "-o", "friday.standfast"]).ended(0);
    let said = bench.run(&["restore", "friday.standfast", "--check", "--json"]).ended(0).json();
    assert_eq!((&said["whole"], said["pictures"].as_u64()), (&serde_json::json!(true), Some(6)));
    bench.run(&["restore", "friday.standfast", "-o", "back.standfast"]).ended(0);
    let plan = |file: &str| bench.run(&["export", file, "--to", "toml", "-o", "-"]).ended(0).text();
    assert_eq!(plan("event.standfast"), plan("back.standfast"));
    let bytes = std::fs::read(bench.path().join("friday.standfast")).unwrap();
    bench.file("half.standfast", &bytes[..bytes.len() / 2]);
    let half = bench.run(&["restore", "half.standfast", "--check"]);
    assert_eq!(half.status, 2, "{}", half.err);
    assert!(half.err.contains("half.standfast"));
}

#[test]
fn files_that_are_no_projects_are_refused_and_not_touched() {
    let bench = with_project();
    for (name, bytes) in [
        ("empty.standfast", Vec::new()),
        ("notes.standfast", b"not a project".to_vec()),
        ("mill.standfast", MILL.to_vec()),
    ] {
        bench.file(name, &bytes);
        bench.run(&["stock", name]).refused(&[name]);
        assert_eq!(std::fs::read(bench.path().join(name)).unwrap(), bytes);
    }
    bench.run(&["stock", "missing.standfast"]).refused(&["missing.standfast"]);
    bench.file("plan.toml", "format = 1\nname = \"x\"\npich_along = 3\n");
    bench.run(&["check", "plan.toml"]).refused(&["plan.toml", "pich_along"]);
}

#[cfg(unix)]
#[test]
fn pictures_of_a_text_plan_that_lead_out_of_its_folder_are_refused() {
    let bench = Bench::new();
    bench.file("secret.png", MILL);
    std::fs::create_dir(bench.path().join("plan")).unwrap();
    let plan = |file: &str| format!("format = 1\nname = \"x\"\n\n[[picture]]\nid = 1\nfile = \"{file}\"\n");
    bench.file("plan/plan.toml", plan("../secret.png"));
    bench.run(&["check", "plan/plan.toml"]).refused(&["secret.png"]);
    std::os::unix::fs::symlink("../secret.png", bench.path().join("plan/link.png")).unwrap();
    bench.file("plan/plan.toml", plan("link.png"));
    bench.run(&["check", "plan/plan.toml"]).refused(&["link.png"]);
}

#[test]
fn every_verb_explains_itself_with_an_example() {
    let bench = Bench::new();
    let help = bench.run(&["--help"]).ended(0).text();
    for verb in [
        "open",
        "new",
        "picture",
        "check",
        "stock",
        "sheets",
        "match",
        "shift",
        "export",
        "backup",
        "restore",
        "completions",
        "manual",
    ] {
        assert!(help.contains(verb), "{verb}");
        let text = bench.run(&[verb, "--help"]).ended(0).text();
        assert!(text.contains("Example") && text.contains(&format!("standfast {verb}")), "{verb}: {text}");
    }
    assert!(help.contains("Exit status"));
    assert!(bench.run(&["manual"]).ended(0).text().contains(".TH"));
    for shell in ["bash", "zsh", "fish"] {
        assert!(bench.run(&["completions", shell]).ended(0).text().contains("standfast"));
    }
}

/// What a piece more is worth is said only where it is more than nothing, and the pictures only where there are some.
#[test]
fn a_stock_that_is_too_small_is_said_without_figures_of_nothing() {
    let bench = Bench::new();
    bench.file("stock.csv", "name,code,hex,count\nSky,S,#86b8e0,90\n");
    let line = "[[item]]\nid = 7\nis = \"line\"\nname = \"Brook\"\nat = [\"0 mm\", \"0 mm\"]\npitch = \"15 mm\"\n\
        colours = \"S\"\nleg = [{ straight = \"21 m\" }]\n";
    bench.file("plan.toml", format!("format = 1\nname = \"x\"\n\n{line}"));
    let said = bench.run(&["stock", "plan.toml"]).text();
    assert!(said.contains("The plan takes 1\u{a0}400") && !said.contains("pictures"), "{said}");
    let found = bench.run(&["check", "plan.toml"]).text();
    assert!(found.contains("Sky is short by 1\u{a0}310") && !found.contains("pictures"), "{found}");

    bench.file("mill.png", MILL);
    bench.file("all.csv", STOCK);
    bench
        .run(&["new", "mill.standfast", "--picture", "mill.png", "--stock", "all.csv", "--cells", "60x27"])
        .ended(0);
    bench.run(&["export", "mill.standfast", "--to", "toml", "-o", "text"]).ended(0);
    let stock = std::fs::read_to_string(bench.path().join("text/stock.csv")).unwrap();
    let (head, colours) = stock.split_once('\n').unwrap();
    let at = head.split(',').position(|name| name == "count").unwrap();
    let few = |line: &str| {
        let mut cells: Vec<&str> = line.split(',').collect();
        cells[at] = "40";
        cells.join(",") + "\n"
    };
    bench.file("text/stock.csv", format!("{head}\n{}", colours.lines().map(few).collect::<String>()));
    let said = bench.run(&["stock", "text/plan.toml"]).text();
    assert!(
        said.contains("pieces too small") && said.contains("without which the stock is too small"),
        "{said}"
    );
    assert!(!said.contains(" 0.0 off"), "{said}");
}
