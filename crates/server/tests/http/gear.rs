//! Combs, planks and what else is not a piece, over the wire.

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

fn gear(house: &House) -> Value {
    house.get("/api/state").json()["gear"].clone()
}

fn comb(pitch: f64) -> Value {
    json!({ "name": format!("Comb {pitch}"), "what": { "is": "comb", "pitch": pitch, "teeth": 20 }, "count": 2, "owner": "Ines" })
}

fn with_id(id: &Value, thing: &Value) -> Value {
    let mut row = thing.clone();
    row["id"] = id.clone();
    row
}

const LIST: &str = "name,code,hex,count\nSky,B,#6fb1e0,900\n";

/// Whether a line at a pitch is told that there is no comb for it.
fn missing(house: &House, pitch: f64) -> bool {
    let state = house.get("/api/state").json();
    let body = json!({
        "is": "line", "kind": state["kinds"][0]["id"], "lanes": 1, "pitch_across": 26, "spacing": { "by": "pitch", "mm": pitch },
        "placed": "comb", "path": [{ "is": "straight", "length": 900 }], "from": null, "to": null,
        "colours": { "is": "plain", "colour": state["colours"][0]["id"] }, "bridges": [],
    });
    let item = json!({
        "id": null, "name": "Brook", "section": null, "surface": 0, "x": 0, "y": 0, "heading": 0, "built": null,
        "gaps": [], "locked": false, "group": null, "body": body, "cells_from": null,
    });
    done(house, &json!({ "do": "put", "items": [item], "label": "Draw" }));
    let found = house.get("/api/findings").json()["list"].clone();
    done(house, &json!({ "do": "take", "items": [house.get("/api/state").json()["items"][0]["id"]] }));
    found.as_array().unwrap().iter().any(|f| f["code"] == "comb-missing")
}

#[test]
fn gear_is_put_changed_and_taken_away_and_each_step_is_taken_back() {
    let house = House::hall();
    let things = [
        comb(15.0),
        json!({ "name": "Road deck", "what": { "is": "plank", "length": 600.0, "width": 60.0, "thickness": 12.0 }, "count": 1, "owner": "" }),
        json!({ "name": "Block", "what": { "is": "support", "height": 75.0 }, "count": 8, "owner": "Omar" }),
        json!({ "name": "Roll", "what": { "is": "cord", "length": 50_000.0 }, "count": 1, "owner": "" }),
    ];
    let mut states = vec![gear(&house)];
    let mut wanted = Vec::new();
    for thing in &things {
        let id = done(&house, &json!({ "do": "put-gear", "id": null, "gear": thing }))["added"].clone();
        wanted.push(with_id(&id, thing));
        states.push(gear(&house));
        assert_eq!(gear(&house), json!(wanted));
    }
    let first = wanted[0]["id"].clone();
    let changed = done(&house, &json!({ "do": "put-gear", "id": first, "gear": comb(17.5) }));
    assert_eq!((&changed["added"], changed["label"].as_str()), (&Value::Null, Some("Put gear Comb 17.5")));
    assert_eq!(gear(&house)[0], with_id(&first, &comb(17.5)));
    states.push(gear(&house));
    done(&house, &json!({ "do": "remove-gear", "id": first }));
    assert_eq!(gear(&house), json!(wanted[1..]));
    // All the way back, and all the way there again.
    let last = gear(&house);
    while let Some(before) = states.pop() {
        assert_eq!(house.post("/api/undo", "").status, 200);
        assert_eq!(gear(&house), before);
    }
    for _ in 0..things.len() + 2 {
        assert_eq!(house.post("/api/redo", "").status, 200);
    }
    assert_eq!(gear(&house), last);
}

#[test]
fn gear_that_cannot_be_is_refused_in_words_and_nothing_changes() {
    let house = House::hall();
    done(&house, &json!({ "do": "put-gear", "id": null, "gear": comb(15.0) }));
    let before = house.get("/api/state").json();
    let put = |thing: Value| json!({ "do": "put-gear", "id": null, "gear": thing });
    let edit = |path: &str, value: Value| {
        let mut thing = comb(15.0);
        *thing.pointer_mut(path).unwrap() = value;
        put(thing)
    };
    let cases = [
        (edit("/what/pitch", json!(0.5)), 422, "gear Comb 15, pitch: 0.5 mm is not from 1 to 1000 mm"),
        (edit("/what/teeth", json!(1)), 422, "teeth: 1 is not from 2"),
        (edit("/name", json!("")), 422, "is empty"),
        (edit("/count", json!(4_000_000_000u32)), 422, "count: 4000000000"),
        (json!({ "do": "put-gear", "id": 77, "gear": comb(15.0) }), 404, "Gear 77 is not in this plan"),
        (json!({ "do": "remove-gear", "id": 77 }), 404, "Gear 77 is not in this plan"),
    ];
    for (change, status, words) in cases {
        let answer = apply(&house, &change);
        assert_eq!(answer.status, status, "{change}: {}", answer.text());
        let said = answer.json()["message"].as_str().unwrap().to_owned();
        assert!(said.contains(words) && said.ends_with('.'), "wanted \"{words}\", got \"{said}\"");
    }
    // Figures that the shape of the message does not allow.
    for change in [
        edit("/count", json!(-1)),
        edit("/count", json!(1.5)),
        edit("/what/is", json!("ladder")),
        edit("/what", json!({ "is": "comb", "pitch": 15.0, "teeth": 20, "length": 1.0 })),
    ] {
        let answer = apply(&house, &change);
        assert!(matches!(answer.status, 400 | 422), "{change}: {}", answer.text());
    }
    // Of a list that comes with something impossible nothing is taken.
    let mut bad = comb(15.0);
    bad["what"]["pitch"] = json!(-3.0);
    let answer = apply(&house, &json!({ "do": "stock-list", "file": "s.csv", "text": LIST, "gear": [bad] }));
    assert_eq!(answer.status, 422, "{}", answer.text());
    assert_eq!(house.get("/api/state").json(), before);
}

#[test]
fn a_list_brings_gear_in_one_step_and_a_line_at_its_pitch_has_its_comb() {
    let house = House::hall();
    done(&house, &json!({ "do": "put-gear", "id": null, "gear": comb(20.0) }));
    done(&house, &json!({ "do": "stock-list", "file": "s.csv", "text": LIST }));
    assert!(missing(&house, 15.0) && !missing(&house, 20.0));
    let listed = done(
        &house,
        &json!({ "do": "stock-list", "file": "s.csv", "text": LIST, "gear": [comb(15.0), comb(12.0)] }),
    );
    assert_eq!(listed["label"], "Take the stock list s.csv");
    let pitches = |of: Value| {
        of.as_array().unwrap().iter().map(|g| g["what"]["pitch"].as_f64().unwrap()).collect::<Vec<_>>()
    };
    assert_eq!(pitches(gear(&house)), [20.0, 15.0, 12.0]);
    assert_eq!(house.post("/api/undo", "").status, 200);
    assert_eq!(pitches(gear(&house)), [20.0]);
    assert_eq!(house.post("/api/redo", "").status, 200);
    assert!(!missing(&house, 15.0) && missing(&house, 17.5));
}
