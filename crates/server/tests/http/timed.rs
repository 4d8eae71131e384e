//! Timed lines, put in over HTTP.

use serde_json::{Value, json};

use crate::support::House;

fn done(house: &House, change: &Value) {
    let answer = house.post("/api/do", &change.to_string());
    assert_eq!(answer.status, 200, "{}", answer.text());
}

fn timed(house: &House) -> Value {
    house.get("/api/hall/timed").json()
}

#[test]
fn a_line_is_timed_changed_and_taken_away_and_one_that_cannot_be_true_is_named() {
    let house = House::shut();
    let told = timed(&house);
    assert_eq!((&told["piece"], &told["lines"]), (&json!([0.06, 0.2]), &json!([])));

    // 3 m in 2.8 s are 1.07 m/s, within the 0.95 to 1.25 m/s that filmed lines ran at.
    let line = json!({ "pieces": 200, "gap": 7.5, "took": 2.8 });
    done(&house, &json!({ "do": "put-timed", "was": null, "line": line }));
    let told = timed(&house);
    assert_eq!(told["lines"][0]["line"], line);
    assert_eq!(told["lines"][0]["is"], "fine");
    assert!((told["lines"][0]["speed"].as_f64().unwrap() - 3.0 / 2.8).abs() < 1e-12, "{told}");
    let piece: Vec<f64> = serde_json::from_value(told["piece"].clone()).unwrap();
    assert!(piece[0] > 0.06 && piece[1] < 0.2, "{piece:?}");
    assert_eq!(told["stated"], json!([0.06, 0.2]));
    assert_eq!(house.get("/api/state").json()["undo"], "Time a line of 200 pieces");

    // Half of that time is less than without any friction.
    let fast = json!({ "pieces": 200, "gap": 7.5, "took": 1.4 });
    done(&house, &json!({ "do": "put-timed", "was": line, "line": fast }));
    let told = timed(&house);
    assert_eq!((&told["lines"][0]["is"], &told["piece"]), (&"too-fast".into(), &told["stated"]));
    let found = house.get("/api/findings").json();
    assert!(found["list"].as_array().unwrap().iter().any(|f| f["code"] == "timed-untrue"));

    assert_eq!(
        house.post("/api/do", &json!({ "do": "remove-timed", "line": line }).to_string()).code(),
        "missing"
    );
    done(&house, &json!({ "do": "remove-timed", "line": fast }));
    assert_eq!(timed(&house)["lines"], json!([]));
    for (pieces, took) in [(19, 2.8), (200, 0.0), (200, -1.0), (2_000_000, 2.8)] {
        let line = json!({ "pieces": pieces, "gap": 7.5, "took": took });
        let change = json!({ "do": "put-timed", "was": null, "line": line });
        assert_eq!(house.post("/api/do", &change.to_string()).code(), "refused", "{line}");
    }
    assert_eq!(house.post("/api/undo", "").status, 200);
    assert_eq!(timed(&house)["lines"][0]["line"], fast);
}
