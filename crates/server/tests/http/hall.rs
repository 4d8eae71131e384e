//! The hall over HTTP: columns lie where their tables say, and a browser that has them is told so.

use std::sync::Arc;

use server::ServeOptions;

use crate::support::House;

fn example() -> House {
    let folder = tempfile::tempdir().unwrap().keep();
    let file = folder.join("event.standfast");
    let example = desk::example_plan().unwrap();
    let desk: Arc<desk::Desk> = desk::Desk::create(&file, &example.plan).unwrap();
    House::around(desk, file, ServeOptions { port: 0, ..ServeOptions::default() })
}

fn u32_at(bytes: &[u8], at: usize) -> u32 {
    u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap())
}

#[test]
fn pieces_fall_and_touch_agree_on_the_number_of_pieces() {
    let house = example();
    let plan = desk::example_plan().unwrap().plan;
    let placement = placement::Placement::of(&plan);
    let network = fall::Network::of(&plan, &placement);
    let fall = fall::run(&plan, &network, &fall::Ask::default(), &|_| true).unwrap();
    let touch = fall::touch(&plan, &network, &fall::Built::default());
    let n = placement.len();
    let hall = house.get("/api/hall/pieces");
    let k = u32_at(&hall.body, 12) as usize;
    assert_eq!((&hall.body[..4], u32_at(&hall.body, 8) as usize), (&b"HAL1"[..], n));
    assert_eq!((k, hall.body.len()), (plan.items.len(), 16 + 8 * k + 21 * n));
    let times = house.get("/api/fall/times");
    assert_eq!((&times.body[..4], times.body.len()), (&b"FAL1"[..], 16 + 9 * n));
    let counts = house.get("/api/touch");
    assert_eq!((&counts.body[..4], counts.body.len()), (&b"TCH1"[..], 16 + 12 * n));
    let at = |bytes: &[u8], column: usize, piece: usize| u32_at(bytes, 16 + 4 * (column * n + piece));
    let mut first = 0;
    for (slot, placed) in placement.items().iter().enumerate() {
        let table = 16 + 8 * slot;
        assert_eq!((u32_at(&hall.body, table), u32_at(&hall.body, table + 4)), (placed.item.0, first));
        for (i, x) in placed.pieces.x.iter().enumerate().step_by(97) {
            let piece = first as usize + i;
            let sent = f32::from_bits(u32_at(&hall.body, 16 + 8 * k + 4 * piece));
            assert_eq!(sent, *x as f32);
            let hit = Some(fall.hit_us[piece]).filter(|&us| us != fall::STANDS_US);
            assert_eq!(at(&times.body, 0, piece), hit.map_or(u32::MAX, |us| us as u32));
            assert_eq!(at(&times.body, 1, piece), fall.from[piece]);
            assert_eq!(at(&counts.body, 0, piece), touch.forward[piece]);
            assert_eq!(at(&counts.body, 1, piece), touch.back[piece]);
        }
        first += placed.pieces.len() as u32;
    }
}

#[test]
fn one_piece_in_words_says_what_the_columns_say() {
    let house = example();
    let counts = house.get("/api/touch");
    let n = u32_at(&counts.body, 8) as usize;
    for piece in [0, n / 3, n - 1] {
        let said = house.get(&format!("/api/piece/{piece}")).json();
        assert_eq!(said["name"]["piece"], piece);
        assert_eq!(said["touched_forward"], u32_at(&counts.body, 16 + 4 * piece));
        assert_eq!(said["touched_back"], u32_at(&counts.body, 16 + 4 * (n + piece)));
    }
    assert_eq!(house.get(&format!("/api/piece/{n}")).status, 404);
    assert_eq!(house.get("/api/fall/times?pace=never").status, 400);
}

#[test]
fn what_the_browser_has_is_not_sent_again_until_the_plan_changes() {
    let house = example();
    let host = house.host();
    for path in ["/api/hall/pieces", "/api/fall/times", "/api/fall/report", "/api/touch"] {
        let first = house.get(path);
        let tag = first.header("etag").unwrap().to_owned();
        assert_eq!(first.header("x-standfast-change").unwrap(), "0");
        let again = house.ask("GET", path, &[("Host", &host), ("If-None-Match", &tag)], b"");
        assert_eq!((again.status, again.body.len()), (304, 0), "{path}");
    }
    let tag = house.get("/api/touch").header("etag").unwrap().to_owned();
    house.post("/api/do", "{\"do\":\"rename\",\"name\":\"x\"}");
    let after = house.ask("GET", "/api/touch", &[("Host", &host), ("If-None-Match", &tag)], b"");
    assert_eq!((after.status, after.header("x-standfast-change")), (200, Some("1")));
}

/// Two straight lines of 100 pieces at 15 mm, far from each other: Brook leaves out 20 pieces from the 41st, Beck one.
fn lines() -> House {
    let text = "format = 1\nname = \"x\"\n\n[[item]]\nid = 7\nis = \"line\"\nname = \"Brook\"\nat = [\"0 mm\", \"0 mm\"]\n\
        pitch = \"15 mm\"\ncolours = \"B\"\ngaps = [\"41-60\"]\nleg = [{ straight = \"1500 mm\" }]\n\n[[item]]\nid = 8\nis = \"line\"\n\
        name = \"Beck\"\nat = [\"0 mm\", \"3 m\"]\npitch = \"15 mm\"\ncolours = \"B\"\ngaps = [\"50\"]\nleg = [{ straight = \"1500 mm\" }]\n";
    let mut facts = |_: &str| None;
    let plan = exchange::read_text_plan(text, Some(b"name,code,hex,count\nBlue,B,#2040a0,500\n"), &mut facts)
        .unwrap();
    let folder = tempfile::tempdir().unwrap().keep();
    let file = folder.join("lines.standfast");
    let desk = desk::Desk::create(&file, &plan).unwrap();
    House::around(desk, file, ServeOptions { port: 0, ..ServeOptions::default() })
}

/// Pieces that fall forward from some pieces of the two lines.
fn forward(house: &House, query: &str) -> Vec<u32> {
    let counts = house.get(&format!("/api/touch{query}"));
    assert_eq!((counts.status, u32_at(&counts.body, 8)), (200, 200), "{query}: {}", counts.text());
    [0, 45, 60, 100, 149, 150].map(|p| u32_at(&counts.body, 16 + 4 * p)).to_vec()
}

#[test]
fn a_touch_takes_no_more_than_stands() {
    let house = lines();
    // By counting: 240 mm is farther than fallen pieces were seen to slide, 22.5 mm is less than half their height.
    assert_eq!(forward(&house, ""), [100, 55, 40, 100, 51, 50]);
    assert_eq!(forward(&house, "?gaps=closed"), forward(&house, ""));
    assert_eq!(forward(&house, "?gaps=open"), [40, 0, 40, 99, 0, 50]);
    assert_eq!(forward(&house, "?gaps=open&without=8"), [40, 0, 40, 0, 0, 0]);
    assert_eq!(forward(&house, "?without=1-7,900"), [0, 0, 0, 100, 51, 50]);
    assert_eq!(forward(&house, "?without=7-8"), [0; 6]);
    let said = house.get("/api/piece/0?gaps=open").json();
    assert_eq!((&said["touched_forward"], &said["touched_back"]), (&40.into(), &1.into()));
    assert_eq!(house.get("/api/piece/0?without=7").json()["touched_most"], 0);
    for wrong in ["?gaps=ajar", "?without=x", "?without=9-8", "?without=3,"] {
        let answer = house.get(&format!("/api/touch{wrong}"));
        assert_eq!((answer.status, answer.code().as_str()), (400, "query"), "{wrong}");
    }
}

#[test]
fn gaps_say_whether_they_hold_and_how_far_they_are_open() {
    let house = lines();
    let said = house.get("/api/gaps");
    assert!(said.header("etag").is_some());
    let gaps = said.json()["gaps"].clone();
    let facts = |i: usize| {
        let g = &gaps[i];
        [&g["item"], &g["gap"], &g["ranks"], &g["pieces"], &g["holds"], &g["open"], &g["block"]]
            .map(Clone::clone)
    };
    assert_eq!(gaps.as_array().unwrap().len(), 2);
    let none = serde_json::Value::Null;
    assert_eq!(
        facts(0),
        [7.into(), 0.into(), vec![41, 60].into(), 20.into(), "surely".into(), none, "none".into()]
    );
    // One piece of 15 mm pitch and 7.5 mm thickness left out: 2 x 15 - 7.5.
    let open = gaps[1]["open"].as_f64().unwrap();
    assert!((open - 22.5).abs() < 1e-9, "{open}");
    assert_eq!(facts(1)[4], "not");
}

pub(crate) fn job(house: &House, started: &serde_json::Value) -> serde_json::Value {
    let start = std::time::Instant::now();
    loop {
        let now = house.get(&format!("/api/job/{}", started["id"])).json();
        if now["over"] == true {
            return now;
        }
        assert!(start.elapsed().as_secs() < 120, "the job never ended: {now}");
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
}

/// A start and four lines of 60 pieces in one row, with gaps between them where hits may fail.
fn chancy() -> House {
    let text = include_str!("chancy.toml");
    let stock = b"name,code,hex,count\nBlue,B,#2040a0,500\n";
    let plan = exchange::read_text_plan(text, Some(stock), &mut |_: &str| None).unwrap();
    let file = tempfile::tempdir().unwrap().keep().join("chancy.standfast");
    let desk = desk::Desk::create(&file, &plan).unwrap();
    House::around(desk, file, ServeOptions { port: 0, ..ServeOptions::default() })
}

#[test]
fn many_falls_give_the_same_answer_for_the_same_seed_and_agree_with_the_engine() {
    let house = chancy();
    let try_out = |runs: u32, seed: u32| {
        let started = house.post("/api/odds", &format!("{{\"runs\":{runs},\"seed\":{seed}}}"));
        assert_eq!(started.status, 200, "{}", started.text());
        let over = job(&house, &started.json());
        assert_eq!((&over["kind"], &over["trouble"]), (&"odds".into(), &serde_json::Value::Null));
        over["odds"].clone()
    };
    let first = try_out(60, 7);
    // Another house has nothing kept from the first.
    let other = chancy();
    let started = other.post("/api/odds", "{\"runs\":60,\"seed\":7}").json();
    assert_eq!(job(&other, &started)["odds"], first);
    assert_eq!(try_out(60, 7), first);
    assert_ne!(try_out(60, 8), first);
    let text = include_str!("chancy.toml");
    let stock = b"name,code,hex,count\nBlue,B,#2040a0,500\n";
    let plan = exchange::read_text_plan(text, Some(stock), &mut |_: &str| None).unwrap();
    let network = fall::Network::of(&plan, &placement::Placement::of(&plan));
    let odds = fall::odds(&plan, &network, 60, 7, &|_| true).unwrap();
    // Chance has a say in this plan: else the comparison below would show nothing.
    assert!(odds.all_fall > 0.0 && odds.all_fall < 1.0, "{odds:?}");
    assert_eq!(first["all_fall"].as_f64(), Some(odds.all_fall));
    assert_eq!(first["can_fall"], odds.can_fall);
    for (i, share) in odds.fallen.iter().enumerate() {
        let pieces = (share * f64::from(odds.can_fall)).round();
        assert_eq!(
            (first["fallen"][i].as_f64(), first["seconds"][i].as_f64()),
            (Some(pieces), Some(odds.end_s[i]))
        );
    }
    let runs: u64 = first["stops"].as_array().unwrap().iter().map(|s| s["runs"].as_u64().unwrap()).sum();
    assert!(
        runs >= 60 - (odds.all_fall * 60.0).round() as u64,
        "every fall that stops, stops somewhere: {first}"
    );
    for wrong in ["{\"runs\":0,\"seed\":1}", "{\"runs\":10001,\"seed\":1}"] {
        assert_eq!(house.post("/api/odds", wrong).code(), "runs");
    }
}

#[test]
fn many_falls_end_when_they_are_stopped_and_when_the_plan_changes() {
    let house = chancy();
    let start = || house.post("/api/odds", "{\"runs\":10000,\"seed\":3}").json();
    let running = start();
    assert_eq!(house.post(&format!("/api/job/{}/stop", running["id"]), "").status, 200);
    let over = job(&house, &running);
    assert_eq!((&over["stopped"], &over["odds"]), (&true.into(), &serde_json::Value::Null));
    let running = start();
    house.post("/api/do", "{\"do\":\"rename\",\"name\":\"y\"}");
    let over = job(&house, &running);
    assert_eq!((&over["trouble"]["code"], &over["odds"]), (&"changed".into(), &serde_json::Value::Null));
}
