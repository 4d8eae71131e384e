//! Drawing: items as drafts, trials that change nothing, and changes of several items.

use serde_json::{Value, json};

use crate::support::{Answer, House};

fn apply(house: &House, change: &Value) -> Answer {
    house.post("/api/do", &change.to_string())
}

fn done(house: &House, change: &Value) -> Value {
    let answer = apply(house, change);
    assert_eq!(answer.status, 200, "{change}: {}", answer.text());
    answer.json()
}

/// A house with one kind, two colours and a field.
fn house() -> House {
    let house = House::hall();
    let csv = "name,code,hex,count\nSky,B,#6fb1e0,900\nSand,W,#e8d7a0,900\n";
    done(&house, &json!({ "do": "stock-list", "file": "s.csv", "text": csv }));
    done(
        &house,
        &json!({ "do": "add-field", "name": "Mill", "lanes": 4, "ranks": 6, "fall": "right", "picture": null }),
    );
    house
}

fn colour(house: &House) -> Value {
    house.get("/api/state").json()["colours"][0]["id"].clone()
}

fn kind(house: &House) -> Value {
    house.get("/api/state").json()["kinds"][0]["id"].clone()
}

fn draft(x: f64, y: f64, body: Value) -> Value {
    json!({
        "id": null, "name": "Brook", "section": null, "surface": 0, "x": x, "y": y, "heading": 0, "built": null,
        "gaps": [], "locked": false, "group": null, "body": body, "cells_from": null,
    })
}

fn line(house: &House, length: f64) -> Value {
    json!({
        "is": "line", "kind": kind(house), "lanes": 1, "pitch_across": 26, "spacing": { "by": "pitch", "mm": 15 },
        "placed": "comb", "path": [{ "is": "straight", "length": length }], "from": null, "to": null,
        "colours": { "is": "plain", "colour": colour(house) }, "bridges": [],
    })
}

fn put(items: Vec<Value>) -> Value {
    json!({ "do": "put", "items": items, "label": "Draw" })
}

fn ids(done: &Value) -> Vec<u64> {
    done["items"].as_array().unwrap().iter().map(|id| id.as_u64().unwrap()).collect()
}

#[test]
fn drafts_are_tried_put_read_changed_and_taken_away() {
    let house = house();
    let (one, two) = (
        draft(0.0, 5_000.0, line(&house, 1_500.0)),
        draft(0.0, 7_000.0, json!({ "is": "note", "text": "a\n<b>" })),
    );
    let before = house.get("/api/state").json();
    let asked = json!({ "items": [one, two] }).to_string();
    let tried = house.post("/api/try", &asked).json();
    assert_eq!(tried["refused"], Value::Null);
    let row = &tried["items"][0];
    // 1500 mm at a pitch of 15 mm.
    assert_eq!(
        (row["pieces"].as_u64(), row["length"].as_f64(), row["pitch"][0].as_f64()),
        (Some(100), Some(1_500.0), Some(15.0))
    );
    assert_eq!(row["needs"][0]["count"], 100);
    assert_eq!(row["ports"].as_array().unwrap().len(), 6);
    assert_eq!(tried["items"][1]["pieces"], 0);
    let columns = house.post("/api/try/pieces", &asked).body;
    assert_eq!(&columns[..4], b"HAL1");
    let word = |at: usize| u32::from_le_bytes(columns[at..at + 4].try_into().unwrap());
    assert_eq!((word(8), word(12)), (100, 2));
    let x = |i: usize| f32::from_le_bytes(columns[32 + 4 * i..36 + 4 * i].try_into().unwrap());
    assert_eq!((x(0), x(1), x(99)), (0.0, 15.0, 1_485.0));
    // Trying changed nothing.
    assert_eq!(house.get("/api/state").json(), before);

    let made = ids(&done(&house, &put(vec![one, two])));
    assert_eq!(made.len(), 2);
    let state = house.get("/api/state").json();
    assert_eq!(state["undo"], "Draw");
    let rows = state["items"].as_array().unwrap();
    assert_eq!(rows.iter().find(|r| r["id"] == made[1]).unwrap()["body"]["text"], "a\n<b>");
    let mut brook = house.get(&format!("/api/item/{}", made[0])).json();
    assert_eq!(brook["body"]["path"][0]["length"], 1_500.0);
    brook["body"]["path"][0]["length"] = json!(3_000.0);
    brook["name"] = json!("\u{1F30A} <i>Brook</i>");
    assert_eq!(ids(&done(&house, &put(vec![brook.clone()]))), Vec::<u64>::new());
    assert_eq!(house.get(&format!("/api/item/{}", made[0])).json(), brook);
    assert_eq!(house.post("/api/undo", "").status, 200);
    assert_eq!(house.get(&format!("/api/item/{}", made[0])).json()["name"], "Brook");
    done(&house, &json!({ "do": "take", "items": made }));
    assert_eq!(house.get(&format!("/api/item/{}", made[0])).status, 404);
    assert_eq!(house.get("/api/item/0").status, 404);
    // Several at once: what is not there any more is left out.
    let field = house.get("/api/state").json()["items"][0]["id"].clone();
    let some = house.get(&format!("/api/items?ids={},{field}", made[0])).json();
    assert_eq!((some.as_array().unwrap().len(), &some[0]["id"]), (1, &field));
    assert_eq!(house.get("/api/items?ids=1,x").status, 400);
    // What was taken away in the middle of a stroke is said, not complained about.
    let gone = house.post("/api/try", &json!({ "items": [brook] }).to_string());
    assert_eq!((gone.status, gone.json()["items"].as_array().unwrap().len()), (200, 0));
    let why = format!("Item {} is not in this plan. It may have been removed; load the page again.", made[0]);
    assert_eq!(gone.json()["refused"]["message"], why);
}

#[test]
fn a_trial_says_what_is_wrong_where_somebody_draws() {
    let house = house();
    let state = house.get("/api/state").json();
    let field = &state["items"][0];
    let (x, y) = (field["x"].as_f64().unwrap(), field["y"].as_f64().unwrap());
    let try_at = |y: f64| {
        house.post("/api/try", &json!({ "items": [draft(x, y, line(&house, 60.0))] }).to_string()).json()
    };
    let codes = |tried: &Value| -> Vec<String> {
        tried["findings"].as_array().unwrap().iter().map(|f| f["code"].as_str().unwrap().to_owned()).collect()
    };
    let within = try_at(y);
    assert!(codes(&within).contains(&"items-overlap".to_owned()), "{within}");
    assert_eq!(codes(&try_at(y + 9_000.0)), ["comb-missing"]);
    // What the plan would not take is said and is no error of the request.
    let long = house.post("/api/try", &json!({ "items": [draft(1e9, 0.0, line(&house, 60.0))] }).to_string());
    assert_eq!(long.status, 200);
    let refused = &long.json()["refused"];
    let (message, brief) = (refused["message"].as_str().unwrap(), refused["brief"].as_str().unwrap());
    assert!(message.starts_with("line Brook, east: 1000000000 mm is not from "), "{message}");
    assert!(brief.starts_with("line Brook, east: is not from ") && brief.ends_with('.'), "{brief}");
    let said = &refused["said"]["message"];
    assert_eq!(said["key"], "gate.refused", "a page says it in its own language");
    assert_eq!(said["args"]["value"], json!({"given": {"value": 1e9, "unit": "mm", "bare": false}}));
    let much = house.post("/api/try", &json!({ "items": [draft(0.0, 0.0, { let mut l = line(&house, 1e7); l["lanes"] = json!(100); l })] }).to_string()).json();
    assert!(much["refused"]["message"].as_str().unwrap().contains("while somebody draws"), "{much}");
}

#[test]
fn wild_drafts_are_refused_in_words_or_kept_as_text() {
    let house = house();
    let field = house.get("/api/state").json()["items"][0]["id"].clone();
    let before = house.get("/api/state").json();
    let good = || draft(0.0, 5_000.0, line(&house, 600.0));
    let edit = |path: &str, value: Value| {
        let mut draft = good();
        *draft.pointer_mut(path).unwrap() = value;
        put(vec![draft])
    };
    // 422 from the gate, 404 for what is not there.
    let cases = [
        (edit("/x", json!(1e9)), 422, "1000000000 mm"),
        (edit("/heading", json!(-1e9)), 422, "-1000000000°"),
        (edit("/body/spacing/mm", json!(0)), 422, "0 mm"),
        (edit("/body/spacing/mm", json!(-15)), 422, "-15 mm"),
        (edit("/body/lanes", json!(0)), 422, "0 lanes"),
        (edit("/body/path/0/length", json!(-1)), 422, "-1 mm"),
        (edit("/body/kind", json!(999)), 422, "kind 999 is not in this plan"),
        (edit("/body/colours/colour", json!(999)), 422, "colour 999 is not in this plan"),
        (edit("/surface", json!(77)), 422, "surface 77 is not in this plan"),
        (edit("/section", json!(77)), 422, "section 77 is not in this plan"),
        (edit("/body/from", json!({ "item": 999, "port": "end" })), 422, "item 999 is not in this plan"),
        (edit("/id", json!(999)), 404, "Item 999 is not in this plan"),
        (edit("/name", json!("n".repeat(10_001))), 422, "has 10\u{a0}001 signs"),
        (edit("/name", json!(" ")), 422, "is empty"),
        (edit("/name", json!("a\u{0}b")), 422, "U+0000"),
        (put(vec![]), 422, "no item"),
        (json!({ "do": "take", "items": [999] }), 404, "Item 999 is not in this plan"),
        (
            json!({ "do": "arrange", "items": [field], "how": { "is": "move", "by": [1e9, 0] } }),
            422,
            "1000000000 mm",
        ),
        (json!({ "do": "remove-section", "id": 77 }), 404, "Section 77 is not in this plan"),
        (
            json!({ "do": "put-surface", "id": 77, "name": "P", "is": "plank", "height": 1, "outline": [] }),
            404,
            "Surface 77",
        ),
        (
            json!({ "do": "put-surface", "id": null, "name": "P", "is": "plank", "height": 1, "outline": [] }),
            422,
            "0 corners",
        ),
        (
            json!({ "do": "hall", "name": "H", "floor": "red", "outline": [], "parts": [], "grip": { "floor": [0.1, 0.2], "piece": [0.1, 0.2] } }),
            422,
            "is not a colour in hex",
        ),
    ];
    for (change, status, words) in cases {
        let answer = apply(&house, &change);
        assert_eq!(answer.status, status, "{change}: {}", answer.text());
        let said = answer.json()["message"].as_str().unwrap().to_owned();
        assert!(said.contains(words) && said.ends_with('.'), "wanted \"{words}\", got \"{said}\"");
    }
    // What is no JSON that fits: too large a number, not a number, unknown and missing keys.
    let text = put(vec![good()]).to_string();
    for (from, to) in [
        ("\"heading\":0", "\"heading\":1e309"),
        ("\"heading\":0", "\"heading\":NaN"),
        ("\"heading\":0", "\"heading\":\"0\""),
        ("\"heading\":0", "\"headin\":0"),
        ("\"lanes\":1", "\"lanes\":-1"),
        ("\"lanes\":1", "\"lanes\":1,\"lane\":1"),
        ("\"is\":\"line\"", "\"is\":\"wall\""),
    ] {
        assert!(text.contains(from), "{from}");
        let answer = house.post("/api/do", &text.replacen(from, to, 1));
        assert_eq!((answer.status, answer.code().as_str()), (400, "json"), "{to}: {}", answer.text());
    }
    assert_eq!(house.get("/api/state").json(), before, "nothing was changed");
    // Kept as text, whatever it looks like.
    for name in ["\u{1F30A}\u{202E}<script>alert(1)</script>".to_owned(), "n".repeat(10_000)] {
        let id = ids(&done(&house, &edit("/name", json!(name))))[0];
        assert_eq!(house.get(&format!("/api/item/{id}")).json()["name"], name);
    }
}

#[test]
fn several_items_are_arranged_and_the_scene_is_changed() {
    let house = house();
    let made = ids(&done(
        &house,
        &put(vec![draft(0.0, 5_000.0, line(&house, 600.0)), draft(0.0, 7_000.0, line(&house, 600.0))]),
    ));
    let arrange = |how: Value| json!({ "do": "arrange", "items": made, "how": how });
    let how = json!({ "is": "copy", "by": [0, 10_000], "times": 2, "turn": 0 });
    assert_eq!(ids(&done(&house, &arrange(how))).len(), 4);
    done(&house, &arrange(json!({ "is": "group" })));
    done(&house, &arrange(json!({ "is": "mirror", "through": [0, 0], "along": 90 })));
    done(&house, &arrange(json!({ "is": "turn", "about": [0, 0], "by": 90 })));
    done(&house, &arrange(json!({ "is": "ungroup" })));
    done(&house, &arrange(json!({ "is": "move", "by": [0, 50] })));
    done(&house, &arrange(json!({ "is": "lock" })));
    let answer = apply(&house, &arrange(json!({ "is": "move", "by": [1, 0] })));
    assert_eq!(answer.status, 422);
    assert!(answer.text().contains("is locked. Unlock it first."), "{}", answer.text());
    let mut brook = house.get(&format!("/api/item/{}", made[0])).json();
    brook["x"] = json!(1);
    let tried = house.post("/api/try", &json!({ "items": [brook] }).to_string()).json();
    assert_eq!(tried["refused"]["brief"], "line Brook: is locked. Unlock it first.");
    done(&house, &arrange(json!({ "is": "unlock" })));
    let section =
        done(&house, &json!({ "do": "put-section", "id": null, "name": "A", "lead": "Ada" }))["added"]
            .clone();
    done(&house, &arrange(json!({ "is": "section", "section": section })));
    let answer = apply(&house, &json!({ "do": "remove-section", "id": section }));
    assert!(answer.status == 422 && answer.text().contains("is used by"), "{}", answer.text());
    let corners = json!([[0, 0], [900, 0], [0, 900]]);
    let surface = json!({ "do": "put-surface", "id": null, "name": "Stage", "is": "wall-top", "height": 400, "outline": corners });
    let surface = done(&house, &surface)["added"].clone();
    let hall = json!({
        "do": "hall", "name": "Larkmeadow Hall", "floor": "#102030", "outline": corners,
        "parts": [{ "name": "P1", "is": "pillar", "outline": corners, "height": 6_000 }],
        "grip": { "floor": [0.2, 0.25], "piece": [0.06, 0.2] },
    });
    done(&house, &hall);
    let state = house.get("/api/state").json();
    assert_eq!(state["sections"][0], json!({ "id": section, "name": "A", "lead": "Ada" }));
    assert_eq!((&state["surfaces"][0]["id"], &state["surfaces"][0]["is"]), (&surface, &json!("wall-top")));
    assert_eq!((state["hall"].as_str(), state["floor"].as_str()), (Some("Larkmeadow Hall"), Some("#102030")));
    assert_eq!(state["floor_plan"]["grip"]["floor"], json!([0.2, 0.25]));
    done(&house, &json!({ "do": "remove-surface", "id": surface }));
}

fn send_with(house: &House, line: (&str, &str), body: &Value) -> Answer {
    let (host, origin) = (house.host(), format!("http://{}", house.host()));
    let lines = [
        ("Host", host.as_str()),
        ("Origin", &origin),
        ("X-Standfast", "1"),
        line,
        ("Content-Type", "application/json"),
    ];
    house.ask("POST", "/api/do", &lines, body.to_string().as_bytes())
}

fn send_under(house: &House, key: &str, body: &Value) -> Answer {
    send_with(house, ("X-Standfast-Once", key), body)
}

#[test]
fn what_is_meant_for_another_plan_changes_nothing() {
    // Projects that begin alike in the same second have the same number; an event has a name of its own.
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("other.standfast");
    let desk = desk::Desk::create(&file, &plan::Plan::new("Another event")).unwrap();
    let options = server::ServeOptions { port: 0, ..Default::default() };
    let (house, other) = (house(), House::around(desk, file, options));
    let project = |house: &House| house.get("/api/state").json()["project"].as_str().unwrap().to_owned();
    let (own, foreign) = (project(&house), project(&other));
    assert_ne!(own, foreign);
    let before = house.get("/api/state").json();
    let name = json!({ "do": "put-section", "id": null, "name": "East", "lead": "" });
    for wrong in [foreign.as_str(), "", "0", &own[..16]] {
        let answer = send_with(&house, ("X-Standfast-Plan", wrong), &name);
        assert_eq!(
            (answer.status, answer.code().as_str()),
            (409, "other-plan"),
            "{wrong}: {}",
            answer.text()
        );
    }
    assert_eq!(house.get("/api/state").json(), before);
    assert_eq!(send_with(&house, ("X-Standfast-Plan", &own), &name).status, 200);
}

#[test]
fn a_change_that_comes_twice_counts_once_though_the_server_started_anew_between() {
    let mut house = house();
    let pair = put(vec![draft(0.0, 5_000.0, line(&house, 600.0)), draft(0.0, 6_000.0, line(&house, 900.0))]);
    let hall = json!({ "do": "put-section", "id": null, "name": "East", "lead": "Ines" });
    let changes = [("pair", &pair), ("hall", &hall), ("again", &pair)];
    let answers = changes.map(|(key, body)| send_under(&house, key, body));
    let answers = answers.map(|a| if a.status == 200 { a.json() } else { panic!("{}", a.text()) });
    assert_eq!(answers[0]["items"].as_array().map(Vec::len), Some(2), "{}", answers[0]);
    assert!(answers[1]["added"].is_u64(), "{}", answers[1]);
    let before = house.get("/api/state").json();

    house.close().unwrap();
    let desk = desk::Desk::open(&house.file).unwrap();
    let options = server::ServeOptions { port: 0, ..Default::default() };
    let again = House::around(desk, house.file.clone(), options);
    for ((key, body), first) in changes.iter().zip(&answers) {
        // The second time from the file, the third from the answer that is remembered.
        for _ in 0..2 {
            let second = send_under(&again, key, body);
            assert_eq!(second.json(), *first, "{key}: {}", second.text());
        }
    }
    assert_eq!(again.get("/api/state").json(), before);
    assert_eq!(send_under(&again, "new", &pair).status, 200);
    let count = |state: &Value| state["items"].as_array().map(Vec::len);
    assert_eq!(count(&again.get("/api/state").json()), count(&before).map(|n| n + 2));
}

#[test]
fn a_change_that_comes_twice_under_one_key_counts_once() {
    let house = house();
    let send = |key: &str, body: &Value| send_under(&house, key, body);
    let change = put(vec![draft(0.0, 5_000.0, line(&house, 600.0))]);
    let count = || house.get("/api/state").json()["items"].as_array().unwrap().len();
    let before = count();
    let first = send("a-1", &change);
    assert_eq!(first.status, 200, "{}", first.text());
    assert_eq!(send("a-1", &change).json(), first.json());
    assert_eq!(count(), before + 1);
    assert_eq!(send("a-2", &change).status, 200);
    assert_eq!(count(), before + 2);
    // What was refused is not remembered: the key may be used again.
    assert_eq!(send("a-3", &put(vec![])).status, 422);
    assert_eq!(send("a-3", &change).status, 200);
    assert_eq!(count(), before + 3);
    assert_eq!(send("a b", &change).status, 400);
    // Two at the same moment are one.
    std::thread::scope(|scope| {
        let twins = [0, 1].map(|_| scope.spawn(|| send("a-4", &change).json()));
        let [one, two] = twins.map(|twin| twin.join().unwrap());
        assert_eq!(one, two);
    });
    assert_eq!(count(), before + 4);
}

#[test]
fn the_ways_to_feed_a_field_are_told_and_take_as_many_pieces_as_they_say() {
    let house = house();
    let state = house.get("/api/state").json();
    let of = &state["items"][0];
    let address = format!("/api/field/{}/feeds", of["id"]);
    let (right, left) = (house.get(&address).json(), house.get(&format!("{address}?side=left")).json());
    assert_eq!(house.get(&format!("{address}?side=right")).json(), right);
    assert_eq!(house.get(&format!("{address}?side=above")).status, 400);
    assert_eq!(house.get("/api/field/999/feeds").status, 404);
    let ways = right["ways"].as_array().unwrap();
    assert_eq!(ways.len(), 8, "six ways of feeding and two courses: {right}");
    // The worse come after the better.
    let rank = |w: &Value| ["sure", "unsure", "no"].iter().position(|k| w["works"] == *k).unwrap();
    assert!(ways.windows(2).all(|w| rank(&w[0]) <= rank(&w[1])), "{right}");
    let mut laid = 0;
    for (side, told) in [("right", ways), ("left", left["ways"].as_array().unwrap())] {
        for row in told.iter().filter(|w| w["means"]["is"] == "feed" && w["works"] != "no") {
            let way = &row["means"]["way"];
            assert!(way["side"].is_null() || way["side"] == side, "{way}");
            let body = json!({
                "is": "feed", "of": of["id"], "way": way, "kind": kind(&house), "colour": colour(&house),
                "pitch": right["pitch"],
            });
            let mut item = draft(of["x"].as_f64().unwrap(), of["y"].as_f64().unwrap(), body);
            item["heading"] = of["heading"].clone();
            let tried = house.post("/api/try", &json!({ "items": [item] }).to_string()).json();
            assert_eq!(tried["items"][0]["pieces"], row["pieces"], "{row} {tried}");
            laid += 1;
        }
    }
    assert!(laid >= 4, "{right}");
    // Lanes in turn wait for one another: as slow as there are lanes.
    let turned = ways.iter().find(|w| w["means"]["course"] == "in-turn").unwrap();
    assert_eq!(turned["slow"], json!([4.0, 4.0]));
}
