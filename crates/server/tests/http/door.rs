//! The door: which hosts and origins are let through, and what every answer carries.

use crate::support::{HALL, House, request};

/// Host headers that must not be let through, P standing for the port. The kinds follow from how such a check
/// usually fails: prefix, suffix, trailing dot, other spellings of an address, a missing port, doubled headers.
const FALSE_HOSTS: [&str; 42] = [
    "",
    "localhost",
    "127.0.0.1",
    "[::1]",
    "localhost:",
    "localhost:80",
    "localhost:P0",
    "localhost:0P",
    "localhost:+P",
    "localhost:P ",
    "localhost:P/",
    "localhost:P.",
    "localhost.:P",
    "localhost.evil:P",
    "localhost.evil.example:P",
    "evil.localhost:P",
    "evillocalhost:P",
    "localhostevil:P",
    "localhost.localdomain:P",
    "127.0.0.1.:P",
    "127.0.0.1.evil.example:P",
    "127.0.0.1.nip.example:P",
    "127.1:P",
    "127.0.1:P",
    "127.0.0.2:P",
    "127.000.000.001:P",
    "0177.0.0.1:P",
    "0x7f.0.0.1:P",
    "0x7f000001:P",
    "2130706433:P",
    "0:P",
    "0.0.0.0:P",
    "[::]:P",
    "[::ffff:127.0.0.1]:P",
    "[0:0:0:0:0:0:0:1]:P",
    "::1:P",
    "user@localhost:P",
    "localhost:P@evil.example",
    "localhost:P, evil.example",
    "evil.example",
    "evil.example:P",
    "192.168.77.5:P",
];

#[test]
fn only_the_exact_hosts_of_the_list_are_served() {
    let house = House::shut();
    let port = house.port.to_string();
    for host in FALSE_HOSTS {
        let host = host.replace('P', &port);
        for path in ["/", "/api/lan"] {
            let answer = house.ask("GET", path, &[("Host", &host)], b"");
            // A space at the end is no part of a header's value, so this one is the true host.
            let wanted = if host.ends_with(' ') { 200 } else { 403 };
            assert_eq!(answer.status, wanted, "{host:?} at {path}");
            if wanted == 403 {
                assert_eq!(answer.code(), "host");
                assert!(answer.text().contains(&format!("http://127.0.0.1:{port}/")), "no fix is named");
            }
        }
    }
    for host in ["127.0.0.1:P", "localhost:P", "LocalHost:P", "[::1]:P"] {
        let answer = house.ask("GET", "/api/lan", &[("Host", &host.replace('P', &port))], b"");
        assert_eq!(answer.status, 200, "{host}");
    }
}

#[test]
fn a_host_is_named_once_and_not_in_the_request_line() {
    let house = House::shut();
    let host = house.host();
    let twice = house.ask("GET", "/", &[("Host", &host), ("Host", &host)], b"");
    assert_ne!(twice.status, 200);
    let none = house.ask("GET", "/", &[], b"");
    assert_eq!(none.status, 403);
    let old = house.raw(b"GET / HTTP/1.0\r\n\r\n");
    assert_eq!(old.status, 403);
    for target in ["http://evil.example/api/lan", "http://localhost.evil/api/lan", "//evil.example/api/lan"] {
        let answer = house.ask("GET", target, &[("Host", &host)], b"");
        assert!(matches!(answer.status, 403 | 404 | 400), "{target}: {}", answer.status);
    }
}

#[test]
fn on_the_network_the_own_addresses_are_served_and_nothing_else() {
    let house = House::hall();
    let port = house.port.to_string();
    for host in FALSE_HOSTS {
        let host = host.replace('P', &port);
        let answer = house.ask("GET", "/", &[("Host", &host)], b"");
        let wanted = if host == house.hall_host() || host.ends_with(' ') { 200 } else { 403 };
        assert_eq!(answer.status, wanted, "{host:?}");
    }
    for near in
        ["192.168.77.5", "192.168.77.50:P", "192.168.77.5.:P", "192.168.77.5.nip.example:P", "3232255237:P"]
    {
        let answer = house.ask("GET", "/", &[("Host", &near.replace('P', &port))], b"");
        assert_eq!(answer.status, 403, "{near}");
    }
}

#[test]
fn a_loopback_name_makes_nobody_a_planner_who_comes_from_elsewhere() {
    // The peer here is the loopback address, so this asks the other way round: the loopback address alone
    // does not make a planner when the page was opened under the network's address.
    let house = House::hall();
    let answer = house.ask("GET", "/api/lan", &[("Host", &house.hall_host())], b"");
    assert_eq!(answer.status, 401);
    assert_eq!(answer.code(), "join");
    let forged = [
        ("Host", house.hall_host()),
        ("X-Forwarded-For", "127.0.0.1".to_owned()),
        ("Forwarded", "for=127.0.0.1;host=localhost".to_owned()),
        ("X-Forwarded-Host", house.host()),
        ("X-Real-IP", "127.0.0.1".to_owned()),
    ];
    let forged: Vec<_> = forged.iter().map(|(name, value)| (*name, value.as_str())).collect();
    assert_eq!(house.ask("GET", "/api/lan", &forged, b"").status, 401);
}

/// Origins that must not be let through to the host 127.0.0.1:P.
const FALSE_ORIGINS: [&str; 30] = [
    "",
    "null",
    "http://127.0.0.1",
    "http://127.0.0.1:80",
    "http://127.0.0.1:P0",
    "http://127.0.0.1:0P",
    "http://127.0.0.1:P/",
    "http://127.0.0.1:P.evil.example",
    "http://127.0.0.1.evil.example:P",
    "http://127.0.0.1.:P",
    "http://localhost:P",
    "http://[::1]:P",
    "http://127.0.0.2:P",
    "http://127.1:P",
    "http://2130706433:P",
    "http://user@127.0.0.1:P",
    "http://evil.example",
    "http://evil.example:P",
    "https://127.0.0.1:P",
    "HTTP://127.0.0.1:P",
    "ws://127.0.0.1:P",
    "file://",
    "file://127.0.0.1:P",
    "chrome-extension://abcdef",
    "127.0.0.1:P",
    "//127.0.0.1:P",
    "http:// 127.0.0.1:P",
    "http://127.0.0.1:P http://evil.example",
    "http://evil.example http://127.0.0.1:P",
    "http://127.0.0.1:P,http://evil.example",
];

/// The lines of a request for the socket.
fn socket<'a>(host: &'a str, origin: Option<&'a str>) -> Vec<(&'a str, &'a str)> {
    let mut lines = vec![
        ("Host", host),
        ("Upgrade", "websocket"),
        ("Sec-WebSocket-Version", "13"),
        ("Sec-WebSocket-Key", "dGhlIHNhbXBsZSBub25jZQ=="),
    ];
    lines.extend(origin.map(|origin| ("Origin", origin)));
    lines
}

fn upgrade(house: &House, lines: &[(&str, &str)]) -> u16 {
    let bytes = request("GET", "/api/live", lines, b"");
    let bytes = String::from_utf8(bytes).unwrap().replace("Connection: close", "Connection: Upgrade");
    house.raw(bytes.as_bytes()).status
}

#[test]
fn the_socket_and_every_write_are_refused_to_foreign_pages() {
    let house = House::shut();
    let (host, own) = (house.host(), format!("http://{}", house.host()));
    let port = house.port.to_string();
    let write = |origin: Option<&str>| {
        let mut lines =
            vec![("Host", host.as_str()), ("X-Standfast", "1"), ("Content-Type", "application/json")];
        lines.extend(origin.map(|origin| ("Origin", origin)));
        house.ask("POST", "/api/join", &lines, b"{\"code\":\"x\"}")
    };
    for origin in FALSE_ORIGINS {
        let origin = origin.replace('P', &port);
        assert_eq!(upgrade(&house, &socket(&host, Some(&origin))), 403, "socket, {origin:?}");
        assert_eq!(write(Some(&origin)).status, 403, "write, {origin:?}");
        assert_eq!(write(Some(&origin)).code(), "origin");
        // A read that names a foreign page is refused too.
        let read = house.ask("GET", "/api/lan", &[("Host", &host), ("Origin", &origin)], b"");
        assert_eq!(read.status, 403, "read, {origin:?}");
    }
    assert_eq!(upgrade(&house, &socket(&host, None)), 403, "a socket without an origin");
    assert_eq!(write(None).status, 403, "a write without an origin");
    let mut twice = socket(&host, Some(&own));
    twice.push(("Origin", &own));
    assert_eq!(upgrade(&house, &twice), 403, "two origins");
    assert_eq!(upgrade(&house, &socket(&host, Some(&own))), 101);
    assert_eq!(write(Some(&own)).status, 200);
}

#[test]
fn what_a_form_of_a_foreign_page_can_send_is_refused() {
    let house = House::shut();
    let (host, own) = (house.host(), format!("http://{}", house.host()));
    for kind in ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/plain", ""] {
        let lines = [("Host", host.as_str()), ("Origin", &own), ("Content-Type", kind)];
        let answer = house.ask("POST", "/api/join", &lines, b"{\"code\":\"x\"}");
        assert_eq!((answer.status, answer.code().as_str()), (403, "header"), "{kind}");
        let lines = [("Host", host.as_str()), ("Origin", &own), ("Content-Type", kind), ("X-Standfast", "1")];
        let answer = house.ask("POST", "/api/join", &lines, b"{\"code\":\"x\"}");
        assert_eq!((answer.status, answer.code().as_str()), (415, "kind"), "{kind}");
    }
    // A browser asks first before it lets a foreign page set a header; it gets no leave.
    let lines = [
        ("Host", host.as_str()),
        ("Origin", "http://evil.example"),
        ("Access-Control-Request-Method", "POST"),
    ];
    let answer = house.ask("OPTIONS", "/api/join", &lines, b"");
    assert_eq!(answer.status, 403);
    assert_eq!(answer.header("access-control-allow-origin"), None);
}

#[test]
fn every_answer_carries_the_headers_that_close_the_browser() {
    let house = House::hall();
    let own = house.host();
    let answers = [
        house.get("/"),
        house.get("/no-such-file.js"),
        house.get("/api/lan"),
        house.get("/api/no-such"),
        house.get("/read/3/1"),
        house.post("/api/lan", "{}"),
        house.write("DELETE", "/", ""),
        house.ask("GET", "/", &[("Host", "evil.example")], b""),
        house.ask("GET", "/api/lan", &[("Host", &house.hall_host())], b""),
        house.post("/api/join", "not json"),
        house.post("/api/join", &"x".repeat(5000)),
        house.raw(
            String::from_utf8(request(
                "GET",
                "/api/live",
                &socket(&own, Some(&format!("http://{own}"))),
                b"",
            ))
            .unwrap()
            .replace("Connection: close", "Connection: Upgrade")
            .as_bytes(),
        ),
    ];
    let statuses: Vec<_> = answers.iter().map(|answer| answer.status).collect();
    assert_eq!(statuses, [200, 404, 200, 404, 200, 405, 405, 403, 401, 400, 413, 101]);
    for answer in answers {
        let has = |name: &str, value: &str| assert_eq!(answer.header(name), Some(value), "{answer:?}");
        has("x-content-type-options", "nosniff");
        has("x-frame-options", "DENY");
        has("referrer-policy", "same-origin");
        has("cross-origin-resource-policy", "same-origin");
        has("cross-origin-opener-policy", "same-origin");
        assert!(answer.header("permissions-policy").unwrap().contains("camera=()"));
        assert!(answer.header("cache-control").is_some());
        let policy = answer.header("content-security-policy").unwrap();
        assert!(policy.starts_with("default-src 'none'; "), "{policy}");
        assert!(policy.contains("frame-ancestors 'none'") && policy.contains("base-uri 'none'"), "{policy}");
        assert!(!policy.contains("unsafe-eval") && !policy.contains('*'), "{policy}");
        let page = answer.header("content-type").is_some_and(|kind| kind.starts_with("text/html"));
        assert_eq!(policy.contains("script-src 'self'"), page, "{policy}");
        assert!(!policy.contains("script-src 'unsafe-inline'") && !policy.contains(HALL), "{policy}");
    }
}

#[test]
fn a_taken_port_leads_to_the_next_one() {
    let first = House::shut();
    let second = House::open(server::ServeOptions { port: first.port, ..Default::default() });
    assert!(
        second.port > first.port && second.port <= first.port + 20,
        "{} after {}",
        second.port,
        first.port
    );
    assert_eq!(second.get("/").status, 200);
    assert_eq!(second.ready.addresses, Vec::<String>::new());
    assert_eq!(second.ready.crew_code, "");
}

#[test]
fn a_shut_house_listens_on_the_loopback_address_alone() {
    let house = House::shut();
    // 127.0.0.2 is this machine too, but not the address that the server is bound to.
    let elsewhere = std::net::TcpStream::connect(("127.0.0.2", house.port));
    assert!(elsewhere.is_err(), "the server listens on more than 127.0.0.1");
    let open = House::hall();
    assert!(std::net::TcpStream::connect(("127.0.0.2", open.port)).is_ok());
}
