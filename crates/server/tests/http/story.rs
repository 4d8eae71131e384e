//! A planner's whole way through the interface, and what goes wrong on it.

use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::support::{Answer, Dice, HALL, House};

const STOCK: &str = "name,code,hex,count\nDusk blue,B,#24407a,900\nSand,S,#d8c38a,900\nSlate,K,#2b2b30,900\n";

/// A picture of 32 x 24 pixels: dusk above, sand below, a slate mast in the middle.
fn picture() -> Vec<u8> {
    let (width, height) = (32u32, 24u32);
    let pixel = |x: u32, y: u32| match (x, y) {
        (15 | 16, _) => [0x2b, 0x2b, 0x30, 0xff],
        (_, y) if y < 12 => [0x24, 0x40, 0x7a, 0xff],
        _ => [0xd8, 0xc3, 0x8a, 0xff],
    };
    let rgba = (0..height).flat_map(|y| (0..width).flat_map(move |x| pixel(x, y))).collect();
    colour::to_png(&colour::Raster { width, height, rgba }).unwrap()
}

fn ok(answer: Answer) -> Value {
    assert_eq!(answer.status, 200, "{}", answer.text());
    answer.json()
}

/// A house with stock, a picture and a field of 24 lanes and 32 ranks that shows it; the field's id.
fn furnished(house: &House) -> u64 {
    ok(house.post("/api/do", &json!({"do": "stock-list", "file": "stock.csv", "text": STOCK}).to_string()));
    let added = ok(house.upload("Town%20at%20dusk.png", &picture()));
    let field = json!({"do": "add-field", "name": "Town", "lanes": 24, "ranks": 32, "fall": "right",
        "picture": added["picture"]});
    ok(house.post("/api/do", &field.to_string()))["added"].as_u64().expect("an id")
}

/// Waits for a job to end.
fn ended(house: &House, job: &Value) -> Value {
    let start = Instant::now();
    loop {
        let now = ok(house.get(&format!("/api/job/{}", job["id"])));
        if now["over"] == true {
            return now;
        }
        assert!(start.elapsed() < Duration::from_secs(60), "the job never ended: {now}");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn laid(house: &House, field: u64) {
    let wish = json!({"items": [field], "goal": "exact", "fewer_changes": null, "lay": true});
    let job = ended(house, &ok(house.post("/api/match", &wish.to_string())));
    assert_eq!(job["trouble"], Value::Null);
    assert_eq!(job["variant"]["laid"], true);
}

/// A picture that is dropped is one gesture: shown and laid in one step, which one undo takes back, picture and all.
#[test]
fn a_picture_comes_into_the_plan_with_what_shows_it() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    let before = ok(house.get("/api/state"));
    let told = |state: &Value| (state["pictures"].clone(), state["items"].clone());

    let kept = ok(house.upload_to("/api/pictures/kept", "Mill.png", &picture()));
    assert_eq!((&kept["width"], &kept["height"]), (&json!(32), &json!(24)));
    assert_eq!(ok(house.get("/api/state"))["saved"]["change"], before["saved"]["change"], "only kept");
    let wish = json!({"items": [field], "goal": "exact", "fewer_changes": null, "lay": true, "shows": kept["shows"]});
    let job = ended(&house, &ok(house.post("/api/match", &wish.to_string())));
    assert_eq!((&job["trouble"], &job["variant"]["laid"]), (&Value::Null, &json!(true)));
    let state = ok(house.get("/api/state"));
    assert_eq!(state["saved"]["change"].as_u64(), before["saved"]["change"].as_u64().map(|n| n + 1));
    assert_eq!(state["undo"], "Show Mill.png in Town and lay it");
    assert_eq!(state["items"][0]["body"]["picture_name"], "Mill.png");
    ok(house.post("/api/undo", ""));
    assert_eq!(told(&ok(house.get("/api/state"))), told(&before));

    // The same for a new field, and for a field that is not matched.
    let add = json!({"do": "add-field", "name": "Mill", "lanes": 4, "ranks": 6, "fall": "right", "picture": null,
        "shows": kept["shows"]});
    let added = ok(house.post("/api/do", &add.to_string()))["added"].clone();
    let state = ok(house.get("/api/state"));
    let row =
        state["items"].as_array().unwrap().iter().find(|i| i["id"] == added).expect("the id of the field");
    assert_eq!(row["body"]["picture_name"], "Mill.png");
    ok(house.post("/api/undo", ""));
    assert_eq!(told(&ok(house.get("/api/state"))), told(&before));
    let show =
        json!({"do": "picture", "item": field, "picture": null, "contrast": 0.0, "shows": kept["shows"]});
    assert_eq!(ok(house.post("/api/do", &show.to_string()))["label"], "Show Mill.png in Town");
    ok(house.post("/api/undo", ""));
    assert_eq!(told(&ok(house.get("/api/state"))), told(&before));

    // Bytes that the project does not have are refused.
    let none = json!({"name": "None.png", "sha256": "0".repeat(64)});
    let add = json!({"do": "picture", "item": field, "picture": null, "contrast": 0.0, "shows": none});
    assert!(house.post("/api/do", &add.to_string()).status >= 400);
}

#[test]
fn a_planner_goes_from_an_empty_plan_to_printed_sheets() {
    let house = House::shut();
    let field = furnished(&house);
    let state = ok(house.get("/api/state"));
    assert_eq!(state["name"], "From Spring to Sea");
    assert_eq!(state["file"], "larkmeadow.standfast");
    assert_eq!(state["role"], "planner");
    assert_eq!(state["saved"]["change"], 3);
    assert_eq!(state["undo"], "Add field Town");
    assert_eq!(state["colours"].as_array().unwrap().len(), 3);
    let row = &state["items"][0]["body"];
    assert_eq!((&row["columns"], &row["rows"]), (&json!(32), &json!(24)));
    assert_eq!(row["picture_name"], "Town at dusk.png");

    // A match to look at first, then used.
    let wish = json!({"items": [field], "goal": "exact", "fewer_changes": null, "lay": false});
    let job = ended(&house, &ok(house.post("/api/match", &wish.to_string())));
    let variant = &job["variant"];
    assert_eq!(variant["objective"], variant["bound"]);
    assert!(variant["objective"].is_number(), "{variant}");
    assert_eq!(variant["used"].as_array().unwrap().iter().map(|u| u[1].as_u64().unwrap()).sum::<u64>(), 768);
    let id = &variant["id"];
    for view in ["laid", "above", "standing", "fallen"] {
        let png = house.get(&format!("/api/variant/{id}/{field}/{view}.png"));
        assert_eq!(png.header("content-type"), Some("image/png"), "{}", png.text());
    }
    assert_eq!(ok(house.post(&format!("/api/variant/{id}/use"), ""))["label"], "Lay Town");
    assert_eq!(ok(house.write("DELETE", &format!("/api/variant/{id}"), "")), Value::Null);
    assert_eq!(house.write("DELETE", &format!("/api/variant/{id}"), "").status, 404);

    // Cells: lane 0 is at the right hand of the fall, so for a fall towards the right it is the lowest row.
    let cells = house.get(&format!("/api/field/{field}/cells.bin")).body;
    let cell = |lane: usize, rank: usize| u16::from(cells[2 * (lane * 32 + rank)]);
    assert_eq!(cells.len(), 2 * 768);
    let code = |id: u16| {
        let all = state["colours"].as_array().unwrap().clone();
        all.iter().find(|c| c["id"] == id).unwrap()["code"].as_str().unwrap().to_owned()
    };
    assert_eq!(
        (code(cell(0, 0)), code(cell(23, 0)), code(cell(23, 15))),
        ("S".into(), "B".into(), "K".into())
    );

    // Sheets count themselves.
    let info = ok(house.get(&format!(
        "/api/sheets?fields={field}&lang=de&side=mirrored&from=west&unit=rank&paper=a3&grey=1&reach=700"
    )));
    assert_eq!((&info["in_plan"], &info["on_sheets"]), (&json!(768), &json!(768)));
    assert_eq!(info["placed"], 768);
    assert_eq!((&info["width"], &info["height"]), (&json!(297.0), &json!(420.0)));
    let pages = info["pages"].as_array().unwrap().len();
    let info = ok(house.get("/api/sheets"));
    assert_eq!(info["on_sheets"], 768);
    assert!(pages > 1);
    let svg = house.get("/api/sheets/page/1.svg");
    assert!(svg.text().starts_with("<svg"), "{}", svg.text());
    assert_eq!(svg.header("content-type"), Some("image/svg+xml"));
    let policy = svg.header("content-security-policy").unwrap();
    assert!(policy.starts_with("default-src 'none'") && policy.ends_with("sandbox"), "{policy}");
    assert_eq!(house.get("/api/sheets/page/0.svg").status, 404);
    assert_eq!(house.get("/api/sheets/page/999.svg").status, 404);
    let pdf = house.get("/api/sheets.pdf");
    assert!(pdf.body.starts_with(b"%PDF-"));
    assert_eq!(pdf.header("content-disposition"), Some("attachment; filename=\"lane-sheets.pdf\""));

    // Stock after all that.
    let stock = ok(house.get("/api/stock"));
    assert_eq!((&stock["needed"], &stock["owned"]), (&json!(768), &json!(2700)));
    assert_eq!(stock["headline"], "The stock is enough");
}

/// Bytes of the cells of a field, and one byte a cell for those set by hand.
fn cells_of(house: &House, field: u64) -> (Vec<u8>, Vec<u8>) {
    let get = |what: &str| house.get(&format!("/api/field/{field}/{what}.bin")).body;
    (get("cells"), get("by-hand"))
}

#[test]
fn strokes_are_drawn_in_runs_as_one_step_and_taken_back_whole() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    let before = cells_of(&house, field);
    assert!(before.1.iter().all(|&hand| hand == 0) && before.1.len() == 768);
    // Cells 5, 6 and 7 get colour 1, cells 7 and 9 no piece: where two name a cell the later one holds.
    let strokes = json!([{"colour": 1, "runs": [5, 3]}, {"colour": 0, "runs": [7, 1, 1, 1]}]);
    let draw = |with: &str, strokes: &Value| {
        house.post(
            "/api/do",
            &json!({"do": "draw", "item": field, "with": with, "strokes": strokes}).to_string(),
        )
    };
    assert_eq!(ok(draw("stamp", &strokes))["label"], "Stamp 5 cells of Town");
    let (cells, by_hand) = cells_of(&house, field);
    let mut expected = before.0.clone();
    for (i, colour) in [(5, 1), (6, 1), (7, 0), (9, 0)] {
        expected[2 * i] = colour;
    }
    assert_eq!(cells, expected);
    let hand: Vec<usize> = (0..768).filter(|&i| by_hand[i] == 1).collect();
    assert_eq!(hand, [5, 6, 7, 9]);
    // Released cells keep their colour.
    let released = ok(draw("selection", &json!([{"colour": null, "runs": [5, 2]}])));
    assert_eq!(released["label"], "Release 2 cells of Town");
    assert_eq!(cells_of(&house, field).0, expected);
    assert_eq!(cells_of(&house, field).1.iter().filter(|&&hand| hand == 1).count(), 2);
    ok(house.post("/api/undo", ""));
    ok(house.post("/api/undo", ""));
    assert_eq!(cells_of(&house, field), before);

    // Only chosen cells are matched again; one of them is set by hand and stays.
    ok(draw("fill", &json!([{"colour": 3, "runs": [0, 64]}])));
    ok(draw("selection", &json!([{"colour": null, "runs": [1, 63]}])));
    let wish =
        json!({"items": [field], "goal": "exact", "fewer_changes": null, "lay": true, "only": [0, 32]});
    let job = ended(&house, &ok(house.post("/api/match", &wish.to_string())));
    assert_eq!(job["trouble"], Value::Null);
    let (cells, _) = cells_of(&house, field);
    assert_eq!(cells[0], 3);
    assert_eq!(cells[2..64], before.0[2..64], "the match of before is found again");
    assert!(cells[64..128].chunks(2).all(|c| c[0] == 3), "what was not chosen stays");

    for (strokes, status) in [
        (json!([]), 422),
        (json!([{"colour": 1, "runs": [0, 0, 5]}]), 422),
        (json!([{"colour": 1, "runs": [0, 769]}]), 422),
        (json!([{"colour": 999, "runs": [0, 1]}]), 422),
        (json!([{"colour": 1, "runs": [-1, 1]}]), 400),
    ] {
        assert_eq!(draw("brush", &strokes).status, status, "{strokes}");
    }
    assert_eq!(cells_of(&house, field).0, cells);
}

#[test]
fn a_stroke_over_a_large_field_travels_and_is_kept_as_runs() {
    let house = House::shut();
    ok(house.post("/api/do", &json!({"do": "stock-list", "file": "stock.csv", "text": STOCK}).to_string()));
    let field = json!({"do": "add-field", "name": "Sea", "lanes": 400, "ranks": 500, "fall": "right", "picture": null});
    let field = ok(house.post("/api/do", &field.to_string()))["added"].as_u64().unwrap();
    let size = || std::fs::metadata(&house.file).unwrap().len();
    let before = size();
    let all = json!({"do": "draw", "item": field, "with": "fill", "strokes": [{"colour": 2, "runs": [0, 200_000]}]});
    let done = ok(house.post("/api/do", &all.to_string()));
    assert_eq!(done["label"], "Fill 200\u{a0}000 cells of Sea with Sand");
    let what =
        json!({"said": {"key": "doing.fill", "args": {"n": {"count": 200_000}, "name": {"text": "Sea"}}}});
    let said = json!({"key": "doing.with", "args": {"what": what, "colour": {"text": "Sand"}}});
    assert_eq!(done["label_said"], said, "a page says it in its own language");
    assert_eq!(ok(house.get("/api/state"))["undo_said"], said);
    assert_eq!(ok(house.get("/api/steps?all=0&skip=0&most=1"))["rows"][0]["label_said"], said);
    assert!(size() < before + 200_000, "less than a byte a cell, not {} in all", size() - before);
    assert!(cells_of(&house, field).0.chunks(2).all(|c| c == [2, 0]));
    ok(house.post("/api/undo", ""));
    assert!(cells_of(&house, field).0.iter().all(|&c| c == 0));
}

#[test]
fn pictures_are_seen_from_a_chosen_eye_point_and_uncut() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    // Pieces with other backs than fronts, so that it matters where one stands.
    let backs = "name,code,hex,back_hex,count\nDusk blue,B,#24407a,#ffffff,900\nSand,S,#d8c38a,#ffffff,900\nSlate,K,#2b2b30,#ffffff,900\n";
    ok(house.post("/api/do", &json!({"do": "stock-list", "file": "backs.csv", "text": backs}).to_string()));
    let view = |what: &str| house.get(&format!("/api/field/{field}/view/{what}"));
    let usual = view("standing.png?scale=8");
    assert_eq!(view("standing.png?scale=8&eye=6000,1600,180").body, usual.body);
    assert_ne!(view("standing.png?scale=8&eye=3000,1600,0").body, usual.body);
    for wrong in ["", "1,2", "6000,1600,x", "0,1600,180", "6000,1600,1e9"] {
        assert_eq!(view(&format!("standing.png?eye={wrong}")).status, 400, "{wrong}");
    }
    // The picture is 32 x 24 pixels; half of it is cut away, and shown whole it is the file as it was.
    let draft = house.get(&format!("/api/item/{field}"));
    let mut item = ok(draft);
    item["body"]["crop"] = json!([0.0, 0.0, 0.5, 1.0]);
    let put = json!({"do": "put", "items": [item], "label": "Cut the picture of Town"});
    assert_eq!(ok(house.post("/api/do", &put.to_string()))["label"], "Cut the picture of Town");
    let size = |png: &[u8]| [16, 20].map(|at| u32::from_be_bytes(png[at..at + 4].try_into().unwrap()));
    let whole = view("whole.png?scale=1").body;
    assert_eq!(size(&whole), [32, 24]);
    assert_eq!(
        colour::decode_picture(&whole, &desk::picture_limits()).unwrap().rgba16(31, 0).unwrap()[2] >> 8,
        0x7a
    );
}

#[test]
fn each_lane_is_read_with_its_checksum_and_leads_to_the_next() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    for (unit, amount, places) in [("lane", 24, 32), ("rank", 32, 24)] {
        for from in ["north", "east", "south", "west"] {
            let query = format!("side=drawn&from={from}&unit={unit}");
            let plan = ok(house.get(&format!("/api/read/{field}?{query}")));
            assert_eq!((&plan["units"], &plan["unit"]), (&json!(amount), &json!(unit)));
            let (mut number, mut total, mut seen) = (plan["first"].clone(), 0, 0);
            while number != Value::Null {
                let lane = ok(house.get(&format!("/api/read/{field}/{number}?{query}")));
                let calls = lane["calls"].as_array().unwrap();
                let sum: u64 = calls.iter().map(|call| call["count"].as_u64().unwrap()).sum();
                assert_eq!(lane["places"], places);
                assert_eq!(sum, places);
                assert_eq!(calls.last().unwrap()["laid"], lane["total"]);
                assert_eq!(calls[0]["from"], 1);
                total += lane["total"].as_u64().unwrap();
                seen += 1;
                number = lane["next"].clone();
            }
            assert_eq!((seen, total), (amount, 768), "{query}");
        }
    }
    assert_eq!(house.get(&format!("/api/read/{field}/25")).status, 404);
    assert_eq!(house.get(&format!("/api/read/{field}/0")).status, 404);
    assert_eq!(house.get(&format!("/api/read/{field}/4294967296")).status, 404);
    assert_eq!(house.get("/api/read/999").status, 404);
    assert_eq!(house.get(&format!("/api/read/{field}?from=up")).status, 400);
}

#[test]
fn changes_are_undone_and_redone_in_words_and_survive_a_restart() {
    let mut house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    let done = ok(house.post(
        "/api/do",
        &json!({"do": "paint", "item": field, "cells": [0, 1, 2], "colour": 0}).to_string(),
    ));
    assert_eq!(done["label"], "Set 3 cells of Town");
    let before = ok(house.get("/api/state"));
    assert_eq!(before["items"][0]["pieces"], 765);
    assert_eq!(before["items"][0]["body"]["by_hand"], 3);
    assert!(ok(house.post("/api/undo", ""))["label"].as_str().unwrap().contains("Set 3 cells of Town"));
    assert_eq!(ok(house.get("/api/state"))["items"][0]["pieces"], 768);
    ok(house.post("/api/redo", ""));
    assert_eq!(house.post("/api/redo", "").code(), "nothing");
    assert_eq!(ok(house.get("/api/state"))["items"], before["items"]);

    // Closing leaves one file, which opens again with everything in it.
    house.close().unwrap();
    let folder = house.file.parent().unwrap();
    let names: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name()).collect();
    let left: Vec<_> = names.iter().filter(|n| n.to_string_lossy().contains("-wal")).collect();
    assert!(left.is_empty(), "the project is more than its file: {names:?}");
    let desk = desk::Desk::open(&house.file).unwrap();
    let options = server::ServeOptions { port: 0, ..Default::default() };
    let again = House::around(desk, house.file.clone(), options);
    let state = ok(again.get("/api/state"));
    assert_eq!(state["items"], before["items"]);
    assert_eq!(state["undo"], before["undo"]);
}

#[test]
fn a_backup_opens_and_holds_the_same_plan() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    let backup = house.get("/api/backup");
    assert_eq!(backup.status, 200);
    assert_eq!(backup.header("content-disposition"), Some("attachment; filename=\"larkmeadow.standfast\""));
    let folder = tempfile::tempdir().unwrap();
    let copy = folder.path().join("copy.standfast");
    std::fs::write(&copy, &backup.body).unwrap();
    let desk = desk::Desk::open(&copy).unwrap();
    let (now, then) = (ok(house.get("/api/state")), desk.snapshot());
    assert_eq!(then.change, now["saved"]["change"].as_u64().unwrap());
    assert_eq!(then.plan.items.len(), 1);
    desk.close().unwrap();
}

#[test]
fn pictures_are_drawn_for_every_view_and_kept_only_under_their_look() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    let look = ok(house.get("/api/state"))["items"][0]["body"]["look"].as_str().unwrap().to_owned();
    for view in ["source", "laid", "above", "standing", "fallen"] {
        let png = house.get(&format!("/api/field/{field}/view/{view}.png?look={look}&scale=2"));
        assert_eq!(png.status, 200, "{view}: {}", png.text());
        assert!(png.body.starts_with(b"\x89PNG"));
        assert!(png.header("cache-control").unwrap().contains("immutable"));
        let old = house.get(&format!("/api/field/{field}/view/{view}.png?look=0000000000000000"));
        assert_eq!(old.header("cache-control"), Some("no-store"), "an old address must not be kept as new");
    }
    ok(house.post("/api/do", &json!({"do": "paint", "item": field, "cells": [5], "colour": 1}).to_string()));
    let next = ok(house.get("/api/state"))["items"][0]["body"]["look"].as_str().unwrap().to_owned();
    assert_ne!(look, next);
    for absent in ["view/laid", "view/laid.jpg", "view/nothing.png", "view/.png", "view/laid.png.png"] {
        assert_eq!(house.get(&format!("/api/field/{field}/{absent}")).status, 404, "{absent}");
    }
    for scale in ["0", "-1", "1e300", "NaN", "0.0001"] {
        assert_eq!(
            house.get(&format!("/api/field/{field}/view/laid.png?scale={scale}")).status,
            200,
            "{scale}"
        );
    }
    assert_eq!(house.get(&format!("/api/field/{field}/view/laid.png?scale=big")).status, 400);
}

#[test]
fn every_change_is_refused_in_words_where_it_does_not_fit() {
    let house = House::shut();
    let field = furnished(&house);
    let before = ok(house.get("/api/state"));
    let bad = [
        json!({"do": "rename", "name": "x".repeat(100_000)}),
        json!({"do": "add-field", "name": "Sea", "lanes": 0, "ranks": 10, "fall": "up", "picture": null}),
        json!({"do": "add-field", "name": "Sea", "lanes": 4_294_967_295u32, "ranks": 4_294_967_295u32, "fall": "up", "picture": null}),
        json!({"do": "add-field", "name": "Sea", "lanes": 10, "ranks": 10, "fall": "up", "picture": 999}),
        json!({"do": "place", "item": field, "name": "Town", "x": 1e300, "y": 0.0, "heading": 0.0}),
        json!({"do": "place", "item": 999, "name": "Town", "x": 0.0, "y": 0.0, "heading": 0.0}),
        json!({"do": "remove", "item": 999}),
        json!({"do": "frame", "item": field, "lanes": 10, "ranks": 10, "pitch_along": 0.0, "pitch_across": 25.0, "stagger": 0.0, "fall": "up"}),
        json!({"do": "frame", "item": field, "lanes": 4_000_000_000u32, "ranks": 4_000_000_000u32, "pitch_along": 15.0, "pitch_across": 25.0, "stagger": 0.0, "fall": "up"}),
        json!({"do": "picture", "item": field, "picture": 999, "contrast": 0.0}),
        json!({"do": "picture", "item": field, "picture": null, "contrast": 0.0, "more": 1}),
        json!({"do": "paint", "item": field, "cells": [99_999_999], "colour": 1}),
        json!({"do": "paint", "item": field, "cells": [1], "colour": 999}),
        json!({"do": "count", "lot": 999, "count": 1, "offered": 0}),
        json!({"do": "stock-list", "file": "stock.csv", "text": "name;nothing\nx;y\n"}),
        json!({"do": "stock-list", "file": "stock.csv", "text": "\u{0}\u{1}\u{2}"}),
        json!({"do": "nothing"}),
        json!([]),
    ];
    for change in bad {
        let answer = house.post("/api/do", &change.to_string());
        assert!(
            matches!(answer.status, 400 | 404 | 422),
            "{}: {}",
            answer.status,
            &change.to_string()[..60.min(change.to_string().len())]
        );
        assert!(!answer.code().is_empty());
    }
    for picture in [&b"not a picture"[..], b"", b"\x89PNG\r\n\x1a\n"] {
        let answer = house.upload("x.png", picture);
        assert_eq!((answer.status, answer.code().as_str()), (422, "picture"), "{}", answer.text());
    }
    assert_eq!(house.upload("", b"x").code(), "name");
    let after = ok(house.get("/api/state"));
    assert_eq!(before, after, "a refused change left something behind");
}

#[test]
fn damaged_changes_are_refused_or_undone_and_break_nothing() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    let whole = [
        json!({"do": "rename", "name": "From Spring to Sea"}).to_string(),
        json!({"do": "paint", "item": field, "cells": [0, 5, 767], "colour": 2}).to_string(),
        json!({"do": "frame", "item": field, "lanes": 24, "ranks": 32, "pitch_along": 15.0, "pitch_across": 25.0, "stagger": 0.0, "fall": "right"}).to_string(),
        json!({"do": "count", "lot": 1, "count": 900, "offered": 0}).to_string(),
    ];
    let mut dice = Dice(27);
    let signs = b"0123456789-.eE\"{}[]:,";
    let mut taken = 0;
    for n in 0..600 {
        let mut bytes = whole[n % whole.len()].clone().into_bytes();
        for _ in 0..1 + dice.below(3) {
            let at = dice.below(bytes.len());
            match dice.below(4) {
                0 => bytes[at] = dice.next() as u8,
                1 => bytes.truncate(at.max(1)),
                2 => bytes.insert(at, signs[dice.below(signs.len())]),
                _ => bytes[at] = signs[dice.below(signs.len())],
            }
        }
        let (host, origin) = (house.host(), format!("http://{}", house.host()));
        let lines = [
            ("Host", host.as_str()),
            ("Origin", &origin),
            ("X-Standfast", "1"),
            ("Content-Type", "application/json"),
        ];
        let answer = house.ask("POST", "/api/do", &lines, &bytes);
        let shown = String::from_utf8_lossy(&bytes).into_owned();
        assert!(matches!(answer.status, 200 | 400 | 404 | 422), "{}: {shown}", answer.status);
        if answer.status == 200 {
            taken += 1;
            ok(house.post("/api/undo", ""));
        }
    }
    assert!(taken > 5 && taken < 595, "{taken} of 600 were taken, so that this tests little");
    assert_eq!(ok(house.get("/api/state"))["items"][0]["pieces"], 768);
}

#[test]
fn bodies_above_the_limit_of_their_route_are_refused() {
    let house = House::shut();
    let spaces = |n: usize| " ".repeat(n);
    let rename = format!("{{\"do\":\"rename\",\"name\":\"x\"{}}}", spaces(1 << 20));
    assert_eq!(house.post("/api/do", &rename).status, 413, "a change above 1 MiB");
    let list = json!({"do": "stock-list", "file": "stock.csv", "text": spaces((4 << 20) + 1)});
    assert_eq!(house.post("/api/do", &list.to_string()).status, 413, "a stock list above 4 MiB");
    let wish =
        format!("{{\"items\":[],\"goal\":null,\"fewer_changes\":null,\"lay\":false{}}}", spaces(1 << 20));
    assert_eq!(house.post("/api/match", &wish).status, 413, "a match above 1 MiB");
    // A picture must say its length; one byte more than 200 MiB is refused before any of it is sent.
    let head = |line: &str| {
        format!(
            "POST /api/pictures HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nX-Standfast: 1\r\nX-File-Name: a.png\r\n{line}\r\n\r\n",
            house.host()
        )
    };
    let declared = house.raw(head(&format!("Content-Length: {}", (200u64 << 20) + 1)).as_bytes());
    assert_eq!(declared.status, 413);
    let silent = house.raw((head("Transfer-Encoding: chunked") + "4\r\nabcd\r\n").as_bytes());
    assert_eq!(silent.status, 411);
    assert_eq!(house.get("/api/state").status, 200);
}

#[test]
fn markup_in_names_stays_text_everywhere() {
    let house = House::shut();
    let field = furnished(&house);
    laid(&house, field);
    let mut dice = Dice(23);
    let parts = [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "]]>",
        "<!--",
        "-->",
        "&lt;",
        "&#0;",
        "</svg>",
        "<style>@import 'x'</style>",
        "javascript:alert(1)",
        "'",
        "\"",
        "=1+1",
        "\u{202e}",
        "${x}",
        "{{x}}",
        "%00",
        "Mühle",
    ];
    let mut named = 0;
    for _ in 0..200 {
        let name: String = (0..1 + dice.below(3)).map(|_| dice.pick(&parts)).collect();
        let change = json!({"do": "place", "item": field, "name": name, "x": 0.0, "y": 0.0, "heading": 0.0});
        let answer = house.post("/api/do", &change.to_string());
        if answer.status == 422 {
            continue;
        }
        named += 1;
        let state = house.get("/api/state");
        assert_eq!(state.header("content-type"), Some("application/json"));
        assert_eq!(state.json()["items"][0]["name"], json!(name));
        let svg = house.get("/api/sheets/page/1.svg").text();
        for tag in ["<script", "<img", "<style", "<!--", "onerror=alert(1)>"] {
            assert!(!svg.contains(tag), "{tag} came through in {name:?}");
        }
        assert_eq!(svg.matches("</svg>").count(), 1, "{name:?}");
    }
    assert!(named > 100, "only {named} names were taken, so that this tests little");
}

#[test]
fn the_planner_sees_how_tablets_get_in() {
    let house = House::hall();
    let lan = ok(house.get("/api/lan"));
    assert_eq!(lan["open"], true);
    assert_eq!(lan["addresses"], json!([format!("http://{HALL}:{}/", house.port)]));
    assert_eq!(lan["crew_code"], house.ready.crew_code);
    assert_eq!(lan["planner_code"], house.ready.planner_code);
    assert!(lan["qr"].as_str().unwrap().starts_with("<svg"));
    let shut = ok(House::shut().get("/api/lan"));
    assert_eq!((&shut["open"], &shut["crew_code"], &shut["qr"]), (&json!(false), &json!(""), &json!("")));
}

/// Number and code of the first finding with a clear mend, and of the first without.
fn mendable(found: &Value) -> [(usize, Value); 2] {
    let list = found["list"].as_array().unwrap();
    [true, false].map(|mend| {
        let at = list.iter().position(|f| f["mend"] == mend).unwrap_or_else(|| panic!("{mend}: {list:?}"));
        (at + 1, list[at]["code"].clone())
    })
}

#[test]
fn a_finding_is_mended_in_one_step_and_only_in_the_plan_that_it_was_found_in() {
    let house = House::shut();
    // 25 mm from lane to lane, which the check of lanes has a clear mend for.
    let field = furnished(&house);
    let close = json!({"do": "frame", "item": field, "lanes": 24, "ranks": 32, "pitch_along": 15.0, "pitch_across": 25.0, "stagger": 0.0, "fall": "right"});
    ok(house.post("/api/do", &close.to_string()));
    laid(&house, field);
    let before = ok(house.get("/api/state"));
    let found = ok(house.get("/api/findings"));
    let [(number, code), (other, _)] = mendable(&found);
    assert_eq!((&code, &found["change"]), (&json!("lanes-close"), &before["saved"]["change"]));
    let ask = |finding: usize, change: &Value| {
        house.post("/api/mend", &json!({"finding": finding, "change": change}).to_string())
    };
    for (wrong, status, word) in [(other, 422, "no-mend"), (0, 422, "no-mend"), (999, 422, "no-mend")] {
        let refused = ask(wrong, &found["change"]);
        assert_eq!((refused.status, refused.code().as_str()), (status, word), "{wrong}");
        assert!(refused.text().contains(&format!("mended: {number}")), "{}", refused.text());
    }
    let done = ok(ask(number, &found["change"]));
    assert_eq!(done["saved"]["change"].as_u64(), before["saved"]["change"].as_u64().map(|c| c + 1));
    let after = ok(house.get("/api/state"));
    let left = ok(house.get("/api/findings"));
    assert_eq!(left["change"], after["saved"]["change"]);
    assert!(left["list"].as_array().unwrap().iter().all(|f| f["code"] != code), "{left}");
    assert_eq!(after["items"][0]["pitch"][1], 26.0);
    // The number belongs to the plan before: the same words again do nothing.
    let stale = ask(number, &found["change"]);
    assert_eq!((stale.status, stale.code().as_str()), (409, "changed"));
    assert_eq!(ok(house.get("/api/state"))["saved"], after["saved"]);
    ok(house.post("/api/undo", ""));
    let back = ok(house.get("/api/state"));
    let again = ok(house.get("/api/findings"));
    assert_eq!((&again["list"], &back["undo"]), (&found["list"], &before["undo"]));
    // The same findings in a later state are looked at again all the same.
    assert_eq!(ask(number, &found["change"]).code(), "changed");
    ok(ask(number, &again["change"]));
}

#[test]
fn the_steps_are_listed_in_parts_and_a_wrong_question_is_told() {
    let house = House::shut();
    furnished(&house);
    ok(house.post("/api/undo", ""));
    let course = ok(house.get("/api/steps"));
    assert_eq!((&course["all"], &course["undo"], &course["redo"]), (&json!(3), &json!(2), &json!(1)));
    let rows = course["rows"].as_array().unwrap();
    assert_eq!(rows[0]["label"], "Add field Town");
    assert_eq!(
        (&rows[0]["undo"], &rows[0]["redo"], &rows[0]["did"]),
        (&Value::Null, &json!(1), &json!("undo"))
    );
    assert_eq!(
        (&rows[1]["undo"], &rows[1]["redo"], &rows[1]["who"]),
        (&json!(0), &Value::Null, &json!("planner"))
    );
    let all = ok(house.get("/api/steps?all=1&skip=1&most=2"));
    let numbers: Vec<_> = all["rows"].as_array().unwrap().iter().map(|r| r["change"].clone()).collect();
    assert_eq!((numbers, &all["all"]), (vec![json!(3), json!(2)], &json!(4)));
    assert_eq!(house.get("/api/steps?skip=-1").status, 400);
    assert_eq!(house.get("/api/steps?page=1").status, 400);
}

#[test]
fn the_history_says_its_size_and_is_shortened_and_the_plan_stays() {
    let house = House::shut();
    let field = furnished(&house);
    let whole = ok(house.get("/api/steps"));
    assert_eq!((&whole["weight"]["steps"], &whole["forgotten"]), (&json!(3), &json!(0)));
    assert!(whole["weight"]["bytes"].as_f64().unwrap() > 100.0);
    let older = |before: &str| house.get(&format!("/api/steps/older?before={before}"));
    assert_eq!(ok(older("2001-01-01T00:00:00Z"))["steps"], 0);
    // The last step is never among what may go.
    let all = ok(older("2999-01-01T00:00:00Z"));
    assert_eq!((&all["upto"], &all["steps"]), (&json!(2), &json!(2)));
    for wrong in ["", "yesterday", "2999-01-01", "2999-01-01T00:00:00+"] {
        assert_eq!(older(wrong).status, 400, "{wrong}");
    }
    let before = house.get(&format!("/api/item/{field}")).text();
    let gone = ok(house.post("/api/steps/forget", "{\"upto\": 2}"));
    assert_eq!((&gone["steps"], &gone["bytes"]), (&json!(2), &all["bytes"]));
    let rest = ok(house.get("/api/steps?all=1"));
    assert_eq!((&rest["all"], &rest["undo"], &rest["forgotten"]), (&json!(1), &json!(1), &json!(2)));
    assert_eq!(rest["rows"].as_array().unwrap().len(), 1);
    assert_eq!(house.get(&format!("/api/item/{field}")).text(), before);
    ok(house.post("/api/undo", ""));
    // What was forgotten is not taken back, and the page is told so at once.
    assert_eq!(ok(house.get("/api/state"))["undo"], Value::Null);
    assert_eq!(house.post("/api/undo", "").status, 409);
}

#[test]
fn what_was_copied_is_pasted_although_it_is_gone() {
    let house = House::shut();
    let field = furnished(&house);
    let kept = ok(house.post("/api/copy", &json!({"items": [field]}).to_string()));
    ok(house.post("/api/do", &json!({"do": "take", "items": [field]}).to_string()));
    let paste = |copied: &Value| {
        house.post("/api/do", &json!({"do": "paste", "copied": copied, "by": [500, 0]}).to_string())
    };
    let done = ok(paste(&kept["copied"]));
    assert_eq!(done["items"].as_array().unwrap().len(), 1);
    assert_eq!(ok(house.get(&format!("/api/item/{}", done["items"][0])))["body"]["is"], "field");
    for unknown in ["", "7", "-1", "x"] {
        let refused = paste(&json!(unknown));
        assert_eq!((refused.status, refused.code().as_str()), (404, "missing"), "{unknown}");
    }
    assert_eq!(house.post("/api/copy", &json!({"items": [field]}).to_string()).status, 404);
}

#[test]
fn an_empty_plan_takes_the_example_and_a_furnished_one_refuses_it() {
    let house = House::shut();
    let done = ok(house.post("/api/do", &json!({"do": "example"}).to_string()));
    assert_eq!(done["saved"]["change"], 1);
    let state = ok(house.get("/api/state"));
    let fields = state["items"].as_array().unwrap().iter().filter(|i| i["sort"] == "field").count();
    assert_eq!(fields, 6);
    let field = &state["items"].as_array().unwrap().iter().find(|i| i["sort"] == "field").unwrap()["id"];
    let source = house.get(&format!("/api/field/{field}/view/source.png"));
    assert_eq!((source.status, source.header("content-type")), (200, Some("image/png")));
    let refused = house.post("/api/do", &json!({"do": "example"}).to_string());
    assert_eq!((refused.status, refused.code().as_str()), (422, "refused"));
    ok(house.post("/api/undo", ""));
    assert_eq!(ok(house.get("/api/state"))["items"].as_array().unwrap().len(), 0);
}
