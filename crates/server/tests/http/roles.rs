//! Who may do what: every route of the table with every role.

use std::collections::BTreeMap;

use server::{Access, RouteRow, Verb};

use crate::support::{Answer, House};

/// What is expected of every route, written down apart from the table that the router is made from:
/// a new route fails the test below until somebody has decided here who may use it.
const EXPECTED: [(&str, &str, Access); 49] = [
    ("GET", "/api/live", Access::Crew),
    ("GET", "/api/state", Access::Crew),
    ("GET", "/api/findings", Access::Crew),
    ("GET", "/api/stock", Access::Crew),
    ("GET", "/api/hall/pieces", Access::Crew),
    ("GET", "/api/hall/taped", Access::Planner),
    ("GET", "/api/hall/timed", Access::Crew),
    ("GET", "/api/fall/times", Access::Crew),
    ("GET", "/api/fall/report", Access::Crew),
    ("GET", "/api/touch", Access::Crew),
    ("GET", "/api/gaps", Access::Crew),
    ("GET", "/api/piece/{n}", Access::Crew),
    ("GET", "/api/item/{id}", Access::Crew),
    ("GET", "/api/items", Access::Crew),
    ("POST", "/api/try", Access::Planner),
    ("POST", "/api/try/pieces", Access::Planner),
    ("POST", "/api/do", Access::Planner),
    ("POST", "/api/undo", Access::Planner),
    ("POST", "/api/redo", Access::Planner),
    ("POST", "/api/mend", Access::Planner),
    ("GET", "/api/steps", Access::Planner),
    ("GET", "/api/steps/older", Access::Planner),
    ("POST", "/api/steps/forget", Access::Planner),
    ("POST", "/api/copy", Access::Planner),
    ("GET", "/api/backup", Access::Planner),
    ("GET", "/api/field/{id}/view/{view}", Access::Crew),
    ("GET", "/api/field/{id}/cells.bin", Access::Crew),
    ("GET", "/api/field/{id}/by-hand.bin", Access::Planner),
    ("GET", "/api/field/{id}/feeds", Access::Planner),
    ("POST", "/api/pictures", Access::Planner),
    ("POST", "/api/pictures/kept", Access::Planner),
    ("POST", "/api/match", Access::Planner),
    ("POST", "/api/odds", Access::Planner),
    ("POST", "/api/gaps", Access::Planner),
    ("GET", "/api/section/{id}", Access::Planner),
    ("POST", "/api/section/{id}/try", Access::Planner),
    ("GET", "/api/job/{id}", Access::Planner),
    ("POST", "/api/job/{id}/stop", Access::Planner),
    ("GET", "/api/variant/{id}/{item}/{view}", Access::Planner),
    ("POST", "/api/variant/{id}/use", Access::Planner),
    ("DELETE", "/api/variant/{id}", Access::Planner),
    ("GET", "/api/sheets", Access::Crew),
    ("GET", "/api/sheets/page/{n}", Access::Crew),
    ("GET", "/api/sheets.pdf", Access::Crew),
    ("GET", "/api/read/{item}", Access::Crew),
    ("GET", "/api/read/{item}/{n}", Access::Crew),
    ("GET", "/api/lan", Access::Planner),
    ("POST", "/api/join", Access::Anyone),
    ("GET", "/", Access::Anyone),
];

fn verb(row: &RouteRow) -> &'static str {
    match row.verb {
        Verb::Get => "GET",
        Verb::Post => "POST",
        Verb::Delete => "DELETE",
    }
}

fn address(path: &str) -> String {
    path.replace("{view}", "laid.png").replace("{id}", "1").replace("{item}", "1").replace("{n}", "1.svg")
}

fn refused(answer: &Answer) -> Option<&'static str> {
    match (answer.status, answer.code().as_str()) {
        (401, "join") => Some("join"),
        (403, "role") => Some("role"),
        _ => None,
    }
}

#[test]
fn every_route_lets_in_whom_it_should_and_nobody_else() {
    let expected: BTreeMap<_, _> =
        EXPECTED.iter().map(|(verb, path, access)| ((*verb, *path), *access)).collect();
    let table: BTreeMap<_, _> = server::routes().map(|row| ((verb(&row), row.path), row.access)).collect();
    for (route, access) in &table {
        assert_eq!(expected.get(route), Some(access), "{route:?} is not written down in this test");
    }
    let house = House::hall();
    let crew = house.join(&house.ready.crew_code);
    let planner = house.join(&house.ready.planner_code);
    let stranger = format!("{}=0123456789abcdef", crew.split('=').next().unwrap());
    // A session of another run: the same name of cookie, the right shape, not in the table.
    let expired = format!("{}={}", crew.split('=').next().unwrap(), "ab".repeat(32));
    for ((verb, path), access) in expected {
        let ask = |cookie: Option<&str>| house.tablet(verb, &address(path), cookie, "{}");
        for (who, cookie) in
            [("nobody", None), ("a stranger", Some(&stranger)), ("an expired session", Some(&expired))]
        {
            let wanted = (access != Access::Anyone).then_some("join");
            assert_eq!(refused(&ask(cookie.map(String::as_str))), wanted, "{who} at {verb} {path}");
        }
        let wanted = (access == Access::Planner).then_some("role");
        assert_eq!(refused(&ask(Some(&crew))), wanted, "the crew at {verb} {path}");
        assert_eq!(refused(&ask(Some(&planner))), None, "a planner at {verb} {path}");
    }
}

#[test]
fn a_head_request_is_judged_like_the_read_it_stands_for() {
    let house = House::hall();
    assert_eq!(house.tablet("HEAD", "/api/state", None, "").status, 401);
    let crew = house.join(&house.ready.crew_code);
    assert_eq!(house.tablet("HEAD", "/api/state", Some(&crew), "").status, 200);
    assert_eq!(house.tablet("HEAD", "/api/lan", Some(&crew), "").status, 403);
}

#[test]
fn the_crew_reads_and_changes_nothing() {
    let house = House::hall();
    let crew = house.join(&house.ready.crew_code);
    let state = house.tablet("GET", "/api/state", Some(&crew), "").json();
    assert_eq!(state["role"], "crew");
    for method in ["POST", "DELETE", "PUT", "PATCH"] {
        let answer = house.tablet(method, "/api/do", Some(&crew), "{\"do\":\"rename\",\"name\":\"x\"}");
        assert!(matches!(answer.status, 403 | 405), "{method}: {}", answer.status);
    }
    assert_eq!(house.tablet("GET", "/api/state", Some(&crew), "").json()["name"], "From Spring to Sea");
}

#[test]
fn a_cookie_is_for_this_server_alone_and_out_of_reach_of_scripts() {
    let house = House::hall();
    let answer =
        house.tablet("POST", "/api/join", None, &format!("{{\"code\":\"{}\"}}", house.ready.crew_code));
    let cookie = answer.header("set-cookie").unwrap();
    assert!(cookie.starts_with(&format!("standfast-{}=", house.port)), "{cookie}");
    for part in ["HttpOnly", "SameSite=Strict", "Path=/"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    assert_eq!(answer.json()["role"], "crew");
}

#[test]
fn guessing_is_slow_and_ends_while_those_inside_go_on() {
    let house = House::hall();
    let inside = house.join(&house.ready.crew_code);
    let guess = |cookie: Option<&str>, code: &str| {
        house.tablet("POST", "/api/join", cookie, &format!("{{\"code\":\"{code}\"}}"))
    };
    let start = std::time::Instant::now();
    for n in 0..10 {
        let answer = guess(None, &format!("AAAA-AAA{n}"));
        assert_eq!((answer.status, answer.code().as_str()), (403, "code-wrong"));
    }
    assert!(start.elapsed().as_millis() >= 1000, "ten wrong codes took only {:?}", start.elapsed());
    let answer = guess(None, &house.ready.crew_code);
    assert_eq!((answer.status, answer.code().as_str()), (429, "code-wait"));
    assert!(answer.header("retry-after").is_some_and(|seconds| seconds.parse::<u64>().unwrap() <= 60));
    // Forged addresses open nothing; whoever is inside, and the planner's own machine, are not locked out.
    let (host, origin) = (house.hall_host(), format!("http://{}", house.hall_host()));
    let forged = [
        ("Host", host.as_str()),
        ("Origin", &origin),
        ("X-Standfast", "1"),
        ("Content-Type", "application/json"),
        ("X-Forwarded-For", "10.9.8.7"),
    ];
    assert_eq!(house.ask("POST", "/api/join", &forged, b"{\"code\":\"AAAA-AAAA\"}").status, 429);
    assert_eq!(house.tablet("GET", "/api/state", Some(&inside), "").status, 200);
    assert_eq!(guess(Some(&inside), &house.ready.planner_code).json()["role"], "planner");
    assert_eq!(house.get("/api/state").status, 200);
}

#[test]
fn sixty_tablets_behind_one_address_get_in() {
    let house = House::hall();
    let start = std::time::Instant::now();
    for _ in 0..60 {
        house.join(&house.ready.crew_code);
    }
    assert!(start.elapsed().as_secs() < 10, "{:?}", start.elapsed());
}

#[test]
fn codes_die_with_the_server() {
    let mut house = House::hall();
    let code = house.ready.crew_code.clone();
    let cookie = house.join(&code);
    house.close().unwrap();
    let port = house.port;
    let next = House::open(server::ServeOptions {
        port,
        lan: true,
        addresses: vec![crate::support::HALL.parse().unwrap()],
        ..Default::default()
    });
    assert_ne!(next.ready.crew_code, code);
    assert_eq!(next.tablet("GET", "/api/state", Some(&cookie), "").status, 401);
}
