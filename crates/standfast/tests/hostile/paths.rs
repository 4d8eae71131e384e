//! Paths and links that lead out of the folder of a plan: nothing is read or written there.

use std::collections::BTreeSet;
use std::path::{Component, Path};

use plan::{Command, Picture, PictureId, Plan};

use crate::common::{Bench, MILL, STOCK, png};

#[cfg(unix)]
#[test]
fn files_that_lead_out_of_the_plan_by_a_link_are_refused() {
    let bench = Bench::new();
    bench.file("secret.png", MILL);
    bench.file("secret.csv", STOCK);
    std::fs::create_dir_all(bench.path().join("plan")).unwrap();
    let link = |to: &str, name: &str| std::os::unix::fs::symlink(to, bench.path().join("plan").join(name));
    link("../secret.png", "link.png").unwrap();
    bench.file("plan/plan.toml", "format = 1\nname = \"x\"\n\n[[picture]]\nid = 1\nfile = \"link.png\"\n");
    bench.run(&["check", "plan/plan.toml"]).refused(&["link.png", "leads out"]);

    link("../secret.csv", "stock.csv").unwrap();
    bench.file("plan/plan.toml", "format = 1\nname = \"x\"\n");
    bench.run(&["check", "plan/plan.toml"]).refused(&["stock.csv", "leads out"]);
    // A link that stays inside is a file like any other.
    std::fs::remove_file(bench.path().join("plan/stock.csv")).unwrap();
    bench.file("plan/list.csv", STOCK);
    link("list.csv", "stock.csv").unwrap();
    bench.run(&["check", "plan/plan.toml"]).ended(0);
}

#[test]
fn two_thousand_picture_paths_ask_for_nothing_outside_the_folder() {
    let parts = [
        "..",
        ".",
        "",
        "a",
        "C:",
        "\\",
        "%2e%2e",
        "\u{2025}",
        "..\\",
        "/etc",
        "~",
        "con",
        "a\\..\\..\\b",
        "...",
        " .. ",
    ];
    let mut asked = Vec::new();
    let mut tried = 0;
    for (i, a) in parts.iter().enumerate() {
        for b in parts {
            for (j, c) in parts.iter().enumerate().take(9) {
                let separator = ["/", "\\", "//", ""][(i + j) % 4];
                let path = [*a, b, c, "passwd"].join(separator);
                let file = toml_text(&path);
                let text = format!("format = 1\nname = \"x\"\n\n[[picture]]\nid = 1\nfile = {file}\n");
                let read = exchange::read_text_plan(&text, None, &mut |name| {
                    asked.push(name.to_owned());
                    None
                });
                assert!(read.is_err(), "{path}");
                tried += 1;
            }
        }
    }
    assert!(tried >= 2_000, "{tried}");
    assert!(asked.len() > 100, "{}", asked.len());
    assert!(asked.iter().all(|n| is_bare(n)), "{asked:?}");
}

/// A text as TOML quotes it.
fn toml_text(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}

/// Whether a name stays in the folder that it is joined to, here and on systems with drives and backslashes.
fn is_bare(name: &str) -> bool {
    let parts: Vec<_> = Path::new(name).components().collect();
    let here = matches!(parts[..], [Component::Normal(part)] if part == name);
    here && !name.contains(['/', '\\']) && name.as_bytes().get(1) != Some(&b':')
}

/// File names that a project of somebody else's making might hold.
fn hostile_file_names() -> Vec<String> {
    let stems =
        ["..", ".", "plan", "stock", "CON", "lpt1", "%2e%2e%2f", "C:", "~", "mill", "MILL", "\u{202e}gnp"];
    let joints = ["", ".", "..", " ", ":", "%5c", "\u{2215}", "*", "?", "|", "\"", "<", "$", "`", ";", "-"];
    let ends = ["", "png", "toml", "csv", ".toml", ". ", "x\u{301}", "/../x", "\\..\\x", "\0", "\n"];
    let mut names: Vec<String> = Vec::new();
    for stem in stems {
        for joint in joints {
            names.extend(ends.iter().map(|end| format!("{stem}{joint}{end}")));
        }
    }
    names.extend(["plan.toml", "Stock.CSV", "stock.csv", "nul.png", "mill.png"].map(str::to_owned));
    names
}

/// A plan with a picture of each name that the gate takes, all of them the same file; and how many it refused.
fn with_pictures(names: &[String], sha256: &str) -> (Plan, usize) {
    let mut plan = Plan::new("x");
    let refused = names
        .iter()
        .filter(|name| {
            let id = PictureId(plan.fresh_id());
            let picture = Picture { id, name: (*name).clone(), sha256: sha256.into(), width: 1, height: 1 };
            plan.apply(&Command::PutPicture { picture }).is_err()
        })
        .count();
    (plan, refused)
}

#[test]
fn two_thousand_picture_names_become_files_of_their_own_inside_the_folder() {
    let names = hostile_file_names();
    assert!(names.len() >= 2_000, "{}", names.len());
    let (plan, refused) = with_pictures(&names, &"0".repeat(64));
    assert!(refused > 500 && plan.pictures.len() > 1_000, "{refused}");
    let files: Vec<String> = exchange::write_text_plan(&plan).pictures.into_iter().map(|p| p.0).collect();
    assert_eq!(files.len(), plan.pictures.len());
    let mut taken = BTreeSet::from(["plan.toml".to_owned(), "stock.csv".to_owned()]);
    for file in files {
        assert!(is_bare(&file) && !file.chars().any(char::is_control), "{file:?}");
        assert!(taken.insert(file.to_lowercase()), "{file:?} would overwrite another file");
    }
}

#[cfg(unix)]
#[test]
fn an_export_writes_nothing_outside_its_folder() {
    let bench = Bench::new();
    let bytes = png(1, 1, &[[9, 9, 9]]);
    let sha256 = store::sha256_hex(&bytes);
    let names: Vec<String> = hostile_file_names().into_iter().step_by(37).collect();
    let (plan, _) = with_pictures(&names, &sha256);
    let desk = desk::Desk::create(&bench.path().join("event.standfast"), &plan).unwrap();
    assert_eq!(desk.keep_picture(&bytes).unwrap(), sha256);
    desk.close().unwrap();
    drop(desk);
    // Links that wait where the export will write.
    bench.file("secret", "untouched");
    std::fs::create_dir_all(bench.path().join("text")).unwrap();
    for name in ["plan.toml", "stock.csv"] {
        std::os::unix::fs::symlink("../secret", bench.path().join("text").join(name)).unwrap();
    }
    let before = bench.names();

    bench.run(&["export", "event.standfast", "--to", "toml", "-o", "text"]).ended(0);
    assert_eq!(bench.names(), before);
    assert_eq!(std::fs::read(bench.path().join("secret")).unwrap(), b"untouched");
    let written: Vec<_> = std::fs::read_dir(bench.path().join("text"))
        .unwrap()
        .map(|e| e.unwrap().file_type().unwrap())
        .collect();
    assert_eq!(written.len(), plan.pictures.len() + 2);
    assert!(written.iter().all(std::fs::FileType::is_file));
}
