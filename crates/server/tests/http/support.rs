//! A server on a free port of the loopback address, and a client that speaks HTTP byte by byte.

use std::io::{Read, Write};
use std::net::{IpAddr, SocketAddr, TcpStream};
use std::sync::{Arc, mpsc};
use std::thread::JoinHandle;
use std::time::Duration;

use server::{Limits, Ready, ServeOptions};

/// An address of a hall's network that this machine pretends to have: a request that names it
/// is a tablet's request, although it comes over the loopback address.
pub(crate) const HALL: &str = "192.168.77.5";

/// A running server, closed when dropped.
pub(crate) struct House {
    pub(crate) port: u16,
    pub(crate) ready: Ready,
    pub(crate) file: std::path::PathBuf,
    _folder: Option<tempfile::TempDir>,
    stop: Option<tokio::sync::oneshot::Sender<()>>,
    served: Option<JoinHandle<anyhow::Result<()>>>,
}

impl House {
    /// For this machine alone.
    pub(crate) fn shut() -> House {
        House::open(ServeOptions { port: 0, ..ServeOptions::default() })
    }

    /// For tablets too.
    pub(crate) fn hall() -> House {
        House::hall_with(Limits::default())
    }

    /// For tablets too, with other limits.
    pub(crate) fn hall_with(limits: Limits) -> House {
        let addresses = vec![HALL.parse::<IpAddr>().unwrap()];
        House::open(ServeOptions { port: 0, lan: true, addresses, limits })
    }

    /// With a new, empty plan.
    pub(crate) fn open(options: ServeOptions) -> House {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("larkmeadow.standfast");
        let desk = desk::Desk::create(&file, &plan::Plan::new("From Spring to Sea")).unwrap();
        let mut house = House::around(desk, file, options);
        house._folder = Some(folder);
        house
    }

    /// Around a desk that is open already.
    pub(crate) fn around(desk: Arc<desk::Desk>, file: std::path::PathBuf, options: ServeOptions) -> House {
        let (tell, told) = mpsc::channel();
        let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
        let served = std::thread::spawn(move || {
            server::serve(desk, options, move |ready| tell.send(ready).unwrap(), async {
                let _ = stopped.await;
            })
        });
        let ready = told.recv_timeout(Duration::from_secs(20)).expect("the server is ready");
        let port = ready.url.trim_end_matches('/').rsplit(':').next().unwrap().parse().unwrap();
        House { port, ready, file, _folder: None, stop: Some(stop), served: Some(served) }
    }

    /// Closes the server and hands back what `serve` gave.
    pub(crate) fn close(&mut self) -> anyhow::Result<()> {
        drop(self.stop.take());
        self.served.take().expect("open").join().expect("serve does not panic")
    }

    pub(crate) fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(SocketAddr::from(([127, 0, 0, 1], self.port))).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
        stream.set_nodelay(true).unwrap();
        stream
    }

    /// The loopback host with the port.
    pub(crate) fn host(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    /// The hall's host with the port.
    pub(crate) fn hall_host(&self) -> String {
        format!("{HALL}:{}", self.port)
    }

    /// Sends bytes as they are and reads until the server closes or the answer is whole.
    pub(crate) fn raw(&self, bytes: &[u8]) -> Answer {
        let mut stream = self.connect();
        // A server that refuses early may close while we still send; its answer counts.
        let _ = stream.write_all(bytes);
        read_answer(&mut stream)
    }

    /// A request with a method, a path, header lines and a body.
    pub(crate) fn ask(&self, method: &str, path: &str, lines: &[(&str, &str)], body: &[u8]) -> Answer {
        self.raw(&request(method, path, lines, body))
    }

    /// A read by the planner on this machine.
    pub(crate) fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, &[("Host", &self.host())], b"")
    }

    /// A write by the planner on this machine.
    pub(crate) fn post(&self, path: &str, json: &str) -> Answer {
        self.write("POST", path, json)
    }

    pub(crate) fn write(&self, method: &str, path: &str, json: &str) -> Answer {
        let (host, origin) = (self.host(), format!("http://{}", self.host()));
        let lines = [
            ("Host", host.as_str()),
            ("Origin", &origin),
            ("X-Standfast", "1"),
            ("Content-Type", "application/json"),
        ];
        self.ask(method, path, &lines, json.as_bytes())
    }

    /// Sends a picture file as the planner.
    pub(crate) fn upload(&self, name: &str, bytes: &[u8]) -> Answer {
        self.upload_to("/api/pictures", name, bytes)
    }

    /// The same to another address.
    pub(crate) fn upload_to(&self, path: &str, name: &str, bytes: &[u8]) -> Answer {
        let (host, origin) = (self.host(), format!("http://{}", self.host()));
        let lines =
            [("Host", host.as_str()), ("Origin", &origin), ("X-Standfast", "1"), ("X-File-Name", name)];
        self.ask("POST", path, &lines, bytes)
    }

    /// A request of a tablet, with its cookie if it has one.
    pub(crate) fn tablet(&self, method: &str, path: &str, cookie: Option<&str>, json: &str) -> Answer {
        let (host, origin) = (self.hall_host(), format!("http://{}", self.hall_host()));
        let mut lines = vec![
            ("Host", host.as_str()),
            ("Origin", &origin),
            ("X-Standfast", "1"),
            ("Content-Type", "application/json"),
        ];
        if let Some(cookie) = cookie {
            lines.push(("Cookie", cookie));
        }
        self.ask(method, path, &lines, json.as_bytes())
    }

    /// Joins with a code; the cookie.
    pub(crate) fn join(&self, code: &str) -> String {
        let answer = self.tablet("POST", "/api/join", None, &format!("{{\"code\":\"{code}\"}}"));
        assert_eq!(answer.status, 200, "{answer:?}");
        let cookie = answer.header("set-cookie").expect("a cookie").to_owned();
        cookie.split(';').next().unwrap().to_owned()
    }
}

impl Drop for House {
    fn drop(&mut self) {
        if self.served.is_some() {
            let _ = self.close();
        }
    }
}

/// The bytes of a request that closes its connection.
pub(crate) fn request(method: &str, path: &str, lines: &[(&str, &str)], body: &[u8]) -> Vec<u8> {
    let mut bytes = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\n").into_bytes();
    for (name, value) in lines {
        bytes.extend(format!("{name}: {value}\r\n").bytes());
    }
    if !body.is_empty() || method != "GET" {
        bytes.extend(format!("Content-Length: {}\r\n", body.len()).bytes());
    }
    bytes.extend(b"\r\n");
    bytes.extend(body);
    bytes
}

/// An answer as it came.
#[derive(Debug)]
pub(crate) struct Answer {
    /// 0 when the server closed without a word.
    pub(crate) status: u16,
    pub(crate) headers: Vec<(String, String)>,
    pub(crate) body: Vec<u8>,
}

impl Answer {
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }

    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    /// The stable code of a refusal.
    pub(crate) fn code(&self) -> String {
        let value: serde_json::Value = serde_json::from_slice(&self.body).unwrap_or_default();
        let message = value["message"].as_str().unwrap_or_default();
        assert!(message.is_empty() || message.ends_with('.'), "not a sentence: {message}");
        value["code"].as_str().unwrap_or_default().to_owned()
    }

    pub(crate) fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.body).unwrap_or_else(|_| panic!("not JSON: {}", self.text()))
    }
}

/// Reads one answer.
pub(crate) fn read_answer(stream: &mut TcpStream) -> Answer {
    let mut bytes = Vec::new();
    let mut chunk = [0u8; 1 << 16];
    let (mut head, mut length) = (None, None);
    loop {
        if head.is_none()
            && let Some(end) = bytes.windows(4).position(|four| four == b"\r\n\r\n")
        {
            head = Some(end + 4);
            let text = String::from_utf8_lossy(&bytes[..end]).to_ascii_lowercase();
            length = text.lines().find_map(|l| l.strip_prefix("content-length: ")?.parse::<usize>().ok());
            if text.starts_with("http/1.1 101") || text.starts_with("http/1.1 304") {
                length = Some(0);
            }
        }
        if let (Some(head), Some(length)) = (head, length)
            && bytes.len() >= head + length
        {
            break;
        }
        match stream.read(&mut chunk) {
            Ok(0) | Err(_) => break,
            Ok(n) => bytes.extend(&chunk[..n]),
        }
    }
    parse(&bytes, head)
}

fn parse(bytes: &[u8], head: Option<usize>) -> Answer {
    let Some(head) = head else { return Answer { status: 0, headers: Vec::new(), body: bytes.to_vec() } };
    let text = String::from_utf8_lossy(&bytes[..head]).into_owned();
    let mut lines = text.lines();
    let status = lines.next().and_then(|line| line.split(' ').nth(1)?.parse().ok()).unwrap_or(0);
    let headers = lines
        .filter_map(|line| line.split_once(": "))
        .map(|(name, value)| (name.to_ascii_lowercase(), value.to_owned()))
        .collect();
    Answer { status, headers, body: bytes[head..].to_vec() }
}

/// Numbers that look random and are the same on every run (SplitMix64, Steele, Lea and Flood 2014).
pub(crate) struct Dice(pub u64);

impl Dice {
    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub(crate) fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }

    pub(crate) fn pick<'a>(&mut self, all: &[&'a str]) -> &'a str {
        all[self.below(all.len())]
    }
}
