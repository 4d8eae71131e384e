//! Too much, too long, too slow: each has a bound, and others are served meanwhile.

use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use crate::support::{Dice, House, read_answer, request};
use server::Limits;

fn quick() -> Limits {
    Limits {
        head_time: Duration::from_millis(400),
        body_pause: Duration::from_millis(400),
        write_pause: Duration::from_millis(600),
        ..Limits::default()
    }
}

fn head(house: &House, length: &str) -> String {
    format!(
        "POST /api/join HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nX-Standfast: 1\r\n\
         Content-Type: application/json\r\n{length}\r\n",
        house.host()
    )
}

#[test]
fn a_body_above_its_limit_is_refused() {
    let house = House::shut();
    // Said beforehand: refused before any of it is sent.
    let answer = house.raw(head(&house, "Content-Length: 1025\r\n").as_bytes());
    assert_eq!((answer.status, answer.code().as_str()), (413, "too-large"));
    let answer = house.raw(head(&house, "Content-Length: 99999999999\r\n").as_bytes());
    assert_eq!(answer.status, 413);
    // Not said: refused once it has grown too far.
    let mut chunked = head(&house, "Transfer-Encoding: chunked\r\n").into_bytes();
    for _ in 0..3 {
        chunked.extend(b"200\r\n");
        chunked.extend([b' '; 512]);
        chunked.extend(b"\r\n");
    }
    let answer = house.raw(&chunked);
    assert_eq!((answer.status, answer.code().as_str()), (413, "too-large"));
    // At the limit it is read.
    let padded = format!("{{\"code\":\"x\"{}}}", " ".repeat(1024 - 12));
    assert_eq!(padded.len(), 1024);
    assert_eq!(house.post("/api/join", &padded).status, 200);
}

#[test]
fn huge_heads_are_refused() {
    let house = House::shut();
    let host = house.host();
    let long = "x".repeat(200_000);
    let many: Vec<_> = (0..500).map(|n| format!("X-{n}")).collect();
    let mut lines = vec![("Host", host.as_str())];
    lines.extend(many.iter().map(|name| (name.as_str(), "1")));
    let answers = [
        house.ask("GET", "/", &[("Host", &host), ("X-Long", &long)], b""),
        house.ask("GET", &format!("/{long}"), &[("Host", &host)], b""),
        house.ask("GET", "/", &lines, b""),
        house.ask(&long, "/", &[("Host", &host)], b""),
    ];
    for answer in answers {
        // The parser answers these itself, with no body to be misread; or it closes while we still send.
        assert!(matches!(answer.status, 400 | 414 | 431 | 0), "{}", answer.status);
        assert_eq!(answer.body.len(), 0);
    }
    assert_eq!(house.get("/").status, 200);
}

#[test]
fn slow_heads_and_bodies_end_in_time() {
    let house = House::hall_with(quick());
    let start = Instant::now();
    // Nothing at all, half a head, a head that drips, a body that never comes, a body that drips.
    let silent = house.connect();
    let mut half = house.connect();
    half.write_all(b"GET / HTTP/1.1\r\nHo").unwrap();
    let mut empty = house.connect();
    empty.write_all(head(&house, "Content-Length: 20\r\n").as_bytes()).unwrap();
    let mut drip = house.connect();
    let mut dripping = drip.try_clone().unwrap();
    let drops = std::thread::spawn(move || {
        for byte in b"GET / HTTP/1.1\r\nX: ".iter().chain(std::iter::repeat(&b'x')).take(100) {
            if dripping.write_all(&[*byte]).is_err() {
                break;
            }
            std::thread::sleep(Duration::from_millis(50));
        }
    });
    assert_eq!(read_answer(&mut empty).status, 408);
    for mut stream in [silent, half, drip.try_clone().unwrap()] {
        let mut rest = Vec::new();
        let _ = stream.read_to_end(&mut rest);
        assert!(!rest.starts_with(b"HTTP/1.1 200"), "an unfinished request was served");
    }
    let _ = drip.read(&mut [0; 1]);
    assert!(start.elapsed() < Duration::from_secs(4), "it took {:?}", start.elapsed());
    drops.join().unwrap();
}

#[test]
fn an_answer_that_nobody_takes_does_not_hold_a_connection() {
    let limits = Limits { per_address: 1, ..quick() };
    let house = House::hall_with(limits);
    // Thousands of requests in one go and not a byte read: the answers fill both buffers and then stand still.
    let mut greedy = house.connect();
    greedy.set_write_timeout(Some(Duration::from_secs(2))).unwrap();
    let one = format!("GET / HTTP/1.1\r\nHost: {}\r\n\r\n", house.host()).repeat(1000);
    let mut sent = 0;
    while greedy.write_all(one.as_bytes()).is_ok() && sent < 2000 {
        sent += 1;
    }
    let start = Instant::now();
    loop {
        let status = house.get("/").status;
        if status == 200 {
            break;
        }
        assert!(start.elapsed() < Duration::from_secs(5), "the place was never given back: {status}");
        std::thread::sleep(Duration::from_millis(50));
    }
}

#[test]
fn a_thousand_half_open_connections_leave_the_planner_unharmed() {
    let house = House::hall_with(Limits { per_address: 200, ..Limits::default() });
    // The crowd comes from four other addresses, a thousand connections that never finish their head;
    // each address gets its share and is turned away beyond it.
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let crowd: Vec<TcpStream> = runtime.block_on(async {
        let mut crowd = Vec::new();
        for n in 0..1000u32 {
            let socket = tokio::net::TcpSocket::new_v4().unwrap();
            socket.bind(format!("127.0.0.{}:0", 2 + n % 4).parse().unwrap()).unwrap();
            let stream = socket.connect(([127, 0, 0, 1], house.port).into()).await.unwrap();
            if stream.writable().await.is_ok() && stream.try_write(b"GET / HTTP/1.1\r\nX: ").is_ok() {
                crowd.push(stream.into_std().unwrap());
            }
        }
        crowd
    });
    assert!(crowd.len() > 800, "only {} came", crowd.len());
    let mut times: Vec<_> = (0..100)
        .map(|_| {
            let start = Instant::now();
            assert_eq!(house.get("/api/lan").status, 200);
            start.elapsed()
        })
        .collect();
    times.sort();
    assert!(times[98] < Duration::from_millis(250), "p99 is {:?}", times[98]);
}

#[test]
fn random_bytes_at_the_gates_break_nothing() {
    let house = House::hall();
    let mut dice = Dice(25);
    for _ in 0..400 {
        let length = 1 + dice.below(300);
        let noise: Vec<u8> = (0..length).map(|_| dice.next() as u8).collect();
        // At the port, as a body, and as JSON that almost fits.
        let status = house.raw(&noise).status;
        assert!(matches!(status, 0 | 400), "{status}");
        let mut whole = head(&house, &format!("Content-Length: {length}\r\n")).into_bytes();
        whole.extend(&noise);
        assert_eq!(house.raw(&whole).status, 400);
        let mut json = b"{\"code\":\"AAAA-AAAA\"}".to_vec();
        let at = dice.below(json.len());
        json[at] = dice.next() as u8;
        let status = house.raw(&as_json(&house, &json)).status;
        assert!(matches!(status, 200 | 400), "{status}: {json:?}");
    }
    let deep = format!("{{\"code\":{}", "[".repeat(900));
    assert_eq!(house.post("/api/join", &deep).status, 400);
    assert_eq!(house.get("/api/lan").status, 200);
}

fn as_json(house: &House, body: &[u8]) -> Vec<u8> {
    let (host, origin) = (house.host(), format!("http://{}", house.host()));
    let lines = [
        ("Host", host.as_str()),
        ("Origin", &origin),
        ("X-Standfast", "1"),
        ("Content-Type", "application/json"),
    ];
    request("POST", "/api/join", &lines, body)
}
