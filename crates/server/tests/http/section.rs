//! Sections that are moved, and gaps that are proposed, over HTTP.

use serde_json::{Value, json};
use server::ServeOptions;

use crate::hall::job;
use crate::support::House;

fn plan() -> plan::Plan {
    let stock = b"name,code,hex,count\nBlue,B,#2040a0,900\n";
    exchange::read_text_plan(include_str!("taped.toml"), Some(stock), &mut |_: &str| None).unwrap()
}

fn taped() -> House {
    let file = tempfile::tempdir().unwrap().keep().join("taped.standfast");
    let desk = desk::Desk::create(&file, &plan()).unwrap();
    House::around(desk, file, ServeOptions { port: 0, ..ServeOptions::default() })
}

fn section(house: &House, name: &str) -> u64 {
    let state = house.get("/api/state").json();
    let all = state["sections"].as_array().unwrap();
    all.iter().find(|s| s["name"] == name).unwrap()["id"].as_u64().unwrap()
}

fn item(house: &House, name: &str) -> Value {
    let state = house.get("/api/state").json();
    let id = state["items"].as_array().unwrap().iter().find(|i| i["name"] == name).unwrap()["id"].clone();
    house.get(&format!("/api/item/{id}")).json()
}

fn near(value: &Value, wanted: f64) -> bool {
    (value.as_f64().unwrap() - wanted).abs() < 0.2
}

#[test]
fn a_section_is_told_as_measured_tried_without_a_change_and_moved_as_one_step() {
    let house = taped();
    let id = section(&house, "East");
    let stands = house.get(&format!("/api/section/{id}")).json();
    assert_eq!(stands["items"], json!([2, 3]));
    // The eastern marks were drawn at 12 m and taped at 11.95 m.
    let measured = &stands["measured"];
    assert_eq!(measured["mark"], "B");
    assert!(near(&measured["off"][0], -50.0) && near(&measured["off"][1], 0.0), "{measured}");
    let [x, y] = [0, 1].map(|i| stands["middle"][i].as_f64().unwrap());
    // From the line's first piece at 9 m to its last, 1.485 m on; from beneath the line to the note.
    assert!((x - 9_746.5).abs() < 5.0 && y > 1_200.0 && y < 1_300.0, "{x} {y}");

    let by = |turn: f64| json!({ "east": -50.0, "north": 0.0, "turn": turn, "about": [x, y] });
    let (brook, order) = (item(&house, "Brook"), item(&house, "Order"));
    let tried = house.post(&format!("/api/section/{id}/try"), &by(180.0).to_string()).json();
    assert_eq!(tried["refused"], Value::Null);
    // Half a turn about the middle, then 50 mm to the west.
    let note = tried["items"].as_array().unwrap().iter().find(|i| i["item"] == 3).unwrap();
    assert!(near(&note["at"][0], 2.0 * x - 9_750.0 - 50.0) && near(&note["at"][1], 2.0 * y - 1_500.0));
    assert!(tried["counts"][1][1].as_u64().is_some(), "{tried}");
    assert_eq!((item(&house, "Brook"), item(&house, "Order")), (brook.clone(), order));

    let change = json!({ "do": "shift-section", "id": id, "by": by(0.0) });
    assert_eq!(house.post("/api/do", &change.to_string()).status, 200);
    let moved = item(&house, "Brook");
    assert_eq!((moved["x"].as_f64(), moved["y"].as_f64()), (Some(8_950.0), Some(1_000.0)));
    // How far it was measured to be off stays.
    assert_eq!(moved["built"], brook["built"]);
    assert_ne!(moved["built"], Value::Null);
    assert_eq!(house.get("/api/state").json()["undo"], "Shift section East");
    assert_eq!(house.post("/api/undo", "").status, 200);
    assert_eq!(item(&house, "Brook"), brook);
}

#[test]
fn a_move_that_cannot_be_made_is_refused_where_it_is_tried_and_where_it_is_made() {
    let house = taped();
    let id = section(&house, "East");
    let far = json!({ "east": 1e9, "north": 0.0, "turn": 0.0, "about": [0.0, 0.0] });
    let tried = house.post(&format!("/api/section/{id}/try"), &far.to_string()).json();
    assert!(tried["refused"]["message"].as_str().unwrap().contains("east"), "{tried}");
    let change = json!({ "do": "shift-section", "id": id, "by": far });
    assert_eq!(house.post("/api/do", &change.to_string()).code(), "refused");
    let empty = section(&house, "Empty");
    let stands = house.get(&format!("/api/section/{empty}")).json();
    assert_eq!((&stands["middle"], &stands["measured"]), (&Value::Null, &Value::Null));
    assert_eq!(house.get("/api/section/999").code(), "missing");
}

#[test]
fn proposed_gaps_and_their_closing_are_those_of_the_engine() {
    let house = taped();
    let ask = |text: &str| {
        let started = house.post("/api/gaps", text);
        assert_eq!(started.status, 200, "{}", started.text());
        let over = job(&house, &started.json());
        assert_eq!((&over["kind"], &over["trouble"]), (&"gaps".into(), &Value::Null));
        over["gaps"].clone()
    };
    let plan = plan();
    let network = fall::Network::of(&plan, &placement::Placement::of(&plan));
    for (text, aim) in [
        (r#"{"gaps":null,"pieces":null}"#, works::Aim::Worth),
        (r#"{"gaps":2,"pieces":null}"#, works::Aim::Gaps(2)),
        (r#"{"gaps":null,"pieces":150}"#, works::Aim::Pieces(150)),
    ] {
        let told = ask(text);
        let wish = works::Wish::default();
        let ours = works::suggest_for(&plan, &network, (&wish, aim), &|_| true).unwrap();
        let gaps = told["gaps"].as_array().unwrap();
        assert_eq!(gaps.len(), ours.proposals.len(), "{aim:?}");
        for (gap, p) in gaps.iter().zip(&ours.proposals) {
            assert_eq!(
                (&gap["item"], &gap["first"], &gap["count"], &gap["beside"]),
                (&p.item.0.into(), &p.gap.first.into(), &p.gap.count.into(), &p.beside.into())
            );
            // "Long" runs to the east along 5 m, a piece each 15 mm from 0.5 m on.
            let at = 500.0 + 15.0 * f64::from(p.gap.first + p.gap.count / 2);
            assert!(p.item.0 != 4 || near(&gap["at"][0], at) && near(&gap["at"][1], 5_000.0), "{gap}");
        }
        assert_eq!(told["after"][1].as_f64(), Some(f64::from(ours.after.worst)));
        // Nothing is in the plan yet, so that all that is closed at the end is proposed.
        let closing = told["closing"].as_array().unwrap();
        assert_eq!(closing.len(), gaps.len());
        assert!(closing.iter().all(|c| c["proposed"] == true));
        assert_eq!(told["ways"], true);
    }
    assert!(ask(r#"{"gaps":null,"pieces":150}"#)["after"][1].as_f64().unwrap() <= 150.0);
    for wrong in [
        r#"{"gaps":0,"pieces":null}"#,
        r#"{"gaps":1001,"pieces":null}"#,
        r#"{"gaps":null,"pieces":0}"#,
        r#"{"gaps":1,"pieces":1}"#,
    ] {
        assert_eq!(house.post("/api/gaps", wrong).code(), "gaps", "{wrong}");
    }
}
