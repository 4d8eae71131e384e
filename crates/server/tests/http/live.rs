//! The socket: what it tells, whom it tells, and what it does with those who do not listen.

use std::io::Write;
use std::net::TcpStream;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use server::Limits;
use tungstenite::handshake::client::generate_key;
use tungstenite::http::Request;
use tungstenite::{Message, WebSocket};

use crate::support::{Dice, House};

type Socket = WebSocket<TcpStream>;

/// Opens the socket; as a tablet when there is a cookie.
fn open(house: &House, cookie: Option<&str>) -> Result<Socket, tungstenite::Error> {
    open_on(house.connect(), house, cookie)
}

fn open_on(stream: TcpStream, house: &House, cookie: Option<&str>) -> Result<Socket, tungstenite::Error> {
    let host = if cookie.is_some() { house.hall_host() } else { house.host() };
    let mut request = Request::builder()
        .uri(format!("ws://{host}/api/live"))
        .header("Host", &host)
        .header("Origin", format!("http://{host}"))
        .header("Connection", "Upgrade")
        .header("Upgrade", "websocket")
        .header("Sec-WebSocket-Version", "13")
        .header("Sec-WebSocket-Key", generate_key());
    if let Some(cookie) = cookie {
        request = request.header("Cookie", cookie);
    }
    let opened = tungstenite::client(request.body(()).unwrap(), stream);
    match opened {
        Ok((socket, _)) => Ok(socket),
        Err(tungstenite::HandshakeError::Failure(error)) => Err(error),
        Err(tungstenite::HandshakeError::Interrupted(_)) => panic!("the handshake did not end"),
    }
}

/// The next text message.
fn hear(socket: &mut Socket) -> Value {
    loop {
        if let Message::Text(text) = socket.read().expect("a message") {
            return serde_json::from_str(&text).unwrap();
        }
    }
}

/// A connection with room for a few messages only.
fn narrow(house: &House) -> TcpStream {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let stream = runtime.block_on(async {
        let socket = tokio::net::TcpSocket::new_v4().unwrap();
        socket.set_recv_buffer_size(4096).unwrap();
        socket.connect(([127, 0, 0, 1], house.port).into()).await.unwrap().into_std().unwrap()
    });
    stream.set_nonblocking(false).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
    stream
}

fn rename(house: &House, name: &str) {
    let answer = house.post("/api/do", &json!({"do": "rename", "name": name}).to_string());
    assert_eq!(answer.status, 200, "{}", answer.text());
}

#[test]
fn everybody_hears_of_every_change_in_its_order() {
    let house = House::hall();
    let crew = house.join(&house.ready.crew_code);
    let mut ears: Vec<_> =
        (0..20).map(|n| open(&house, (n % 2 == 0).then_some(crew.as_str())).unwrap()).collect();
    for ear in &mut ears {
        let hello = hear(ear);
        assert_eq!((&hello["is"], &hello["saved"]["change"]), (&json!("hello"), &json!(0)));
    }
    for n in 1..=30 {
        rename(&house, &format!("Event {n}"));
    }
    for ear in &mut ears {
        for n in 1..=30 {
            let news = hear(ear);
            assert_eq!((&news["is"], &news["saved"]["change"]), (&json!("changed"), &json!(n)));
        }
    }
    // Whoever comes later is told where things stand.
    assert_eq!(hear(&mut open(&house, None).unwrap())["saved"]["change"], 30);
}

#[test]
fn the_socket_is_closed_to_whoever_has_not_joined() {
    let house = House::hall();
    for cookie in ["", "standfast=x"] {
        match open(&house, Some(cookie)) {
            Err(tungstenite::Error::Http(answer)) => assert_eq!(answer.status(), 401),
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn a_listener_that_stops_reading_is_dropped_and_the_others_hear_on() {
    let limits =
        Limits { queue_messages: 16, queue_bytes: 64 << 10, send_buffer: 8 << 10, ..Limits::default() };
    let house = House::hall_with(limits);
    let mut deaf = open_on(narrow(&house), &house, None).unwrap();
    hear(&mut deaf);
    let mut ear = open(&house, None).unwrap();
    hear(&mut ear);
    // Enough to fill the deaf one's buffers in the system, then its queue here.
    let long = "x".repeat(200);
    let changes = 600u64;
    for change in 1..=changes {
        rename(&house, &format!("{long}{change}"));
        assert_eq!(hear(&mut ear)["saved"]["change"], change);
    }
    // What had been sent before the drop can still be read, and then the connection is over.
    let mut heard = 0;
    let over = loop {
        match deaf.read() {
            Ok(_) => heard += 1,
            Err(error) => break error,
        }
        if heard > changes {
            panic!("the deaf listener was never dropped");
        }
    };
    assert!(
        !matches!(over, tungstenite::Error::Io(ref e) if e.kind() == std::io::ErrorKind::WouldBlock),
        "{over}"
    );
    assert!(heard < changes, "it heard all {changes}");
    assert_eq!(hear(&mut open(&house, None).unwrap())["saved"]["change"], changes);
}

#[test]
fn large_messages_and_noise_end_a_connection_and_nothing_else() {
    let house = House::shut();
    let mut ear = open(&house, None).unwrap();
    hear(&mut ear);
    // A message above 64 KiB.
    let mut loud = open(&house, None).unwrap();
    hear(&mut loud);
    let _ = loud.send(Message::Text("x".repeat((64 << 10) + 1).into()));
    assert!(ends(&mut loud), "a message of 64 KiB and one byte was taken");
    // Endless small messages.
    let mut chatty = open(&house, None).unwrap();
    hear(&mut chatty);
    for _ in 0..200 {
        let _ = chatty.send(Message::Text("x".into()));
    }
    assert!(ends(&mut chatty), "200 messages in a row were taken");
    // Random bytes instead of frames.
    let mut dice = Dice(26);
    for _ in 0..50 {
        let mut wild = open(&house, None).unwrap();
        hear(&mut wild);
        let noise: Vec<u8> = (0..1 + dice.below(200)).map(|_| dice.next() as u8).collect();
        let _ = wild.get_mut().write_all(&noise);
    }
    rename(&house, "Still here");
    assert_eq!(hear(&mut ear)["saved"]["change"], 1);
}

/// Whether the server ends the connection within the client's patience.
fn ends(socket: &mut Socket) -> bool {
    loop {
        match socket.read() {
            Ok(_) => {}
            Err(tungstenite::Error::Io(error)) => {
                return !matches!(
                    error.kind(),
                    std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut
                );
            }
            Err(_) => return true,
        }
    }
}

#[test]
fn a_listener_without_a_sign_of_life_is_dropped() {
    let house = House::hall_with(Limits { heartbeat: Duration::from_millis(100), ..Limits::default() });
    let mut dead = open(&house, None).unwrap();
    hear(&mut dead);
    // It never reads, so it never answers a ping.
    std::thread::sleep(Duration::from_millis(900));
    let mut alive = open(&house, None).unwrap();
    hear(&mut alive);
    assert!(ends(&mut dead));
    rename(&house, "x");
    assert_eq!(hear(&mut alive)["is"], "changed");
}

#[test]
fn listeners_do_not_keep_the_server_from_closing() {
    let mut house = House::shut();
    let mut ear = open(&house, None).unwrap();
    hear(&mut ear);
    let start = Instant::now();
    house.close().unwrap();
    assert!(start.elapsed() < Duration::from_secs(3), "closing took {:?}", start.elapsed());
    assert!(ends(&mut ear));
}
