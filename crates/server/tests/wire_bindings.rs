//! The TypeScript types that the browser imports are made from the wire and never drift from it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::{env, fs};

use server::wire;
use ts_rs::{Config, TS};

/// Folder of the committed types.
fn committed() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../web/src/api/generated")
}

/// Writes every type that travels to `folder`.
fn export(folder: &Path) {
    let cfg = Config::new().with_out_dir(folder);
    wire::State::export_all(&cfg).expect("state");
    wire::StockReport::export_all(&cfg).expect("stock");
    wire::Change::export_all(&cfg).expect("change");
    wire::Done::export_all(&cfg).expect("done");
    wire::Trouble::export_all(&cfg).expect("trouble");
    wire::PictureAdded::export_all(&cfg).expect("picture");
    wire::MatchAsk::export_all(&cfg).expect("match");
    wire::Job::export_all(&cfg).expect("job");
    wire::SheetsInfo::export_all(&cfg).expect("sheets");
    wire::ReadPlan::export_all(&cfg).expect("read plan");
    wire::ReadLane::export_all(&cfg).expect("read lane");
    wire::News::export_all(&cfg).expect("news");
    wire::Join::export_all(&cfg).expect("join");
    wire::Lan::export_all(&cfg).expect("lan");
}

/// Name and text of every file of a folder.
fn texts(folder: &Path) -> BTreeMap<String, String> {
    fs::read_dir(folder)
        .expect("the folder can be read")
        .map(|entry| entry.expect("an entry").path())
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            (name, fs::read_to_string(&path).expect("a text"))
        })
        .collect()
}

/// With `TS_RS_EXPORT_DIR` set it writes there; without, it compares with what is committed.
#[test]
fn export_bindings_agree_with_the_types_of_the_browser() {
    if let Ok(folder) = env::var("TS_RS_EXPORT_DIR") {
        export(Path::new(&folder));
        return;
    }
    let made = Path::new(env!("CARGO_TARGET_TMPDIR")).join("wire");
    let _ = fs::remove_dir_all(&made);
    export(&made);
    let (wanted, got) = (texts(&made), texts(&committed()));
    let names = |of: &BTreeMap<String, String>| of.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&wanted), names(&got), "set TS_RS_EXPORT_DIR=web/src/api/generated and run this again");
    for (name, text) in &wanted {
        assert_eq!(
            text, &got[name],
            "{name} is stale: set TS_RS_EXPORT_DIR=web/src/api/generated and run this again"
        );
    }
}
