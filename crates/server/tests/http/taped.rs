//! Marks and taped distances, put in over HTTP.

use serde_json::{Value, json};

use crate::support::House;

fn done(house: &House, change: &Value) -> Value {
    let answer = house.post("/api/do", &change.to_string());
    assert_eq!(answer.status, 200, "{}", answer.text());
    answer.json()
}

fn taped(house: &House) -> Value {
    house.get("/api/hall/taped").json()
}

fn tape(from: &str, to: &str, length: f64) -> Value {
    json!({ "do": "put-tape", "was": null, "tape": { "from": from, "to": to, "length": length }, "marks": [] })
}

/// A hall of 4 by 3 m with a mark at each of three corners.
fn drawn(house: &House) {
    let outline = json!([[0.0, 0.0], [4_000.0, 0.0], [4_000.0, 3_000.0], [0.0, 3_000.0]]);
    let grip = json!({ "floor": [0.15, 0.3], "piece": [0.06, 0.2] });
    let hall = json!({ "do": "hall", "name": "Larkmeadow Hall", "floor": "#8a7a62", "outline": outline, "parts": [], "grip": grip });
    done(house, &hall);
    for (name, at) in [("A", [0.0, 0.0]), ("B", [4_000.0, 0.0])] {
        done(house, &json!({ "do": "put-mark", "was": null, "mark": { "name": name, "at": at } }));
    }
    let (side, corner) = (
        json!({ "from": "B", "to": "C", "length": 3_000.0 }),
        json!({ "name": "C", "at": [4_000.0, 3_000.0] }),
    );
    // A name that another place has by now is no name for this one.
    let mut change = json!({ "do": "put-tape", "was": null, "tape": side, "marks": [{ "name": "B", "at": [9.0, 9.0] }, corner] });
    assert_eq!(house.post("/api/do", &change.to_string()).code(), "refused");
    change["marks"][0]["at"] = json!([4_000.0, 0.0]);
    done(house, &change);
}

fn column(told: &Value, list: &str, key: &str) -> Vec<Value> {
    told[list].as_array().unwrap().iter().map(|row| row[key].clone()).collect()
}

#[test]
fn a_triangle_of_3_4_5_fits_and_a_diagonal_that_cannot_be_is_named_with_its_misfit() {
    let house = House::shut();
    drawn(&house);
    assert_eq!(house.get("/api/state").json()["undo"], "Tape B to C");
    done(&house, &tape("A", "B", 4_000.0));
    done(&house, &tape("A", "C", 5_000.0));
    let told = taped(&house);
    // By Pythagoras all stay where they were drawn.
    assert_eq!(column(&told, "tapes", "is"), ["fine"; 3]);
    assert_eq!(column(&told, "marks", "at"), column(&told, "marks", "fitted"));
    assert_eq!((&told["draws"], &told["spare"]), (&false.into(), &0.into()));
    assert_eq!(
        house.get("/api/state").json()["floor_plan"]["marks"][2],
        json!({ "name": "C", "at": [4_000.0, 3_000.0] })
    );

    // 3 and 4 m reach 7 m at the most: a half of a metre is shared out among the three.
    let was = json!({ "from": "A", "to": "C", "length": 5_000.0 });
    let untrue = json!({ "from": "A", "to": "C", "length": 7_500.0 });
    done(&house, &json!({ "do": "put-tape", "was": was, "tape": untrue, "marks": [] }));
    let told = taped(&house);
    assert_eq!(column(&told, "tapes", "is"), ["doubted"; 3]);
    assert!((told["tapes"][2]["misfit"].as_f64().unwrap() - 500.0 / 3.0).abs() < 0.01, "{told}");
    assert_eq!(told["tapes"][2]["too_long"], 500.0);
    assert_eq!((&told["draws"], &told["walls"]), (&false.into(), &json!([])));
    let found = house.get("/api/findings").json();
    assert!(found["list"].as_array().unwrap().iter().any(|f| f["code"] == "tape-misfit"));
    assert_eq!(house.post("/api/undo", "").status, 200);
    assert_eq!(column(&taped(&house), "tapes", "is"), ["fine"; 3]);
}

#[test]
fn a_hall_that_was_taped_narrower_is_drawn_so_as_one_step() {
    let house = House::shut();
    drawn(&house);
    done(&house, &tape("A", "B", 3_950.0));
    // The hypotenuse over 3.95 m and 3 m.
    done(&house, &tape("A", "C", 4_960.090_7));
    let told = taped(&house);
    assert_eq!(told["draws"], true);
    let near =
        |got: &Value, wanted: [f64; 2]| (0..2).all(|i| (got[i].as_f64().unwrap() - wanted[i]).abs() < 0.01);
    assert!(near(&told["marks"][1]["fitted"], [3_950.0, 0.0]), "{told}");
    assert!(near(&told["walls"][2], [3_950.0, 3_000.0]), "{told}");
    let before = house.get("/api/state").json()["floor_plan"].clone();
    assert_eq!(done(&house, &json!({ "do": "draw-as-measured" }))["label"], "Draw the hall as measured");
    let now = house.get("/api/state").json()["floor_plan"].clone();
    assert!(
        near(&now["outline"][1], [3_950.0, 0.0]) && near(&now["marks"][1]["at"], [3_950.0, 0.0]),
        "{now}"
    );
    assert_eq!((&taped(&house)["draws"], &taped(&house)["walls"]), (&false.into(), &json!([])));
    assert_eq!(house.post("/api/do", r#"{"do":"draw-as-measured"}"#).code(), "missing");
    assert_eq!(house.post("/api/undo", "").status, 200);
    assert_eq!(house.get("/api/state").json()["floor_plan"], before);
}

#[test]
fn a_mark_takes_its_tapes_along_and_what_is_not_there_is_refused() {
    let house = House::shut();
    drawn(&house);
    let at = json!([4_000.0, 10.0]);
    done(&house, &json!({ "do": "put-mark", "was": "B", "mark": { "name": "Pillar", "at": at } }));
    let told = taped(&house);
    assert_eq!(column(&told, "marks", "name"), ["A", "Pillar", "C"]);
    assert_eq!((&told["marks"][1]["at"], &told["tapes"][0]["from"]), (&at, &"Pillar".into()));
    for (change, code) in [
        (json!({ "do": "put-mark", "was": null, "mark": { "name": "A", "at": at } }), "refused"),
        (json!({ "do": "put-mark", "was": null, "mark": { "name": "", "at": at } }), "refused"),
        (json!({ "do": "put-mark", "was": "Z", "mark": { "name": "Y", "at": at } }), "missing"),
        (json!({ "do": "remove-mark", "name": "Z" }), "missing"),
        (tape("A", "Z", 1.0), "refused"),
        (tape("A", "A", 1.0), "refused"),
        (tape("A", "C", 0.0), "refused"),
        (
            json!({ "do": "remove-tape", "tape": { "from": "Pillar", "to": "C", "length": 2_999.0 } }),
            "missing",
        ),
    ] {
        assert_eq!(house.post("/api/do", &change.to_string()).code(), code, "{change}");
    }
    assert_eq!(taped(&house)["tapes"], told["tapes"]);
    done(&house, &json!({ "do": "remove-mark", "name": "C" }));
    assert_eq!((&taped(&house)["tapes"], taped(&house)["marks"].as_array().unwrap().len()), (&json!([]), 2));
    house.post("/api/undo", "");
    done(&house, &json!({ "do": "remove-tape", "tape": { "from": "Pillar", "to": "C", "length": 3_000.0 } }));
    assert_eq!(taped(&house)["marks"].as_array().unwrap().len(), 3);
}
