//! Every limit of the server in one place.

use std::time::Duration;

/// What the server takes at most. The defaults fit one laptop and 500 tablets; tests choose smaller ones.
#[derive(Debug, Clone)]
pub struct Limits {
    /// Connections in all.
    pub connections: usize,
    /// Connections that only the planner's own machine may take, so that a crowd never locks the planner out.
    pub kept_for_loopback: usize,
    /// Connections of one address; a hall's router may hide sixty tablets behind one.
    pub per_address: usize,
    /// Bytes of a request's head; a longer one is answered 431.
    pub head_bytes: usize,
    /// Header lines of a request.
    pub head_lines: usize,
    /// Time for a request's head, and for an idle connection until the next one.
    pub head_time: Duration,
    /// Longest pause while a body arrives.
    pub body_pause: Duration,
    /// Slowest pace of a body as a whole, bytes a second, after a start of [`Limits::body_pause`].
    pub body_pace: u64,
    /// Longest pause of a client that does not take what it asked for.
    pub write_pause: Duration,
    /// Bytes of a message or frame that a client may send over the socket.
    pub message_bytes: usize,
    /// Messages that wait for one listener; one more and it is dropped.
    pub queue_messages: usize,
    /// Bytes that wait for one listener; one more and it is dropped.
    pub queue_bytes: usize,
    /// Bytes that the operating system keeps for one client that does not read.
    pub send_buffer: u32,
    /// Listeners on the socket in all.
    pub listeners: usize,
    /// Time between two signs of life asked of a listener; two missed and it is dropped.
    pub heartbeat: Duration,
    /// Pictures on their way in at the same time.
    pub uploads: usize,
    /// Requests that the desk works on at the same time.
    pub at_work: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            connections: 900,
            kept_for_loopback: 100,
            per_address: 400,
            head_bytes: 32 << 10,
            head_lines: 64,
            head_time: Duration::from_secs(15),
            body_pause: Duration::from_secs(10),
            body_pace: 64 << 10,
            write_pause: Duration::from_secs(30),
            message_bytes: 64 << 10,
            queue_messages: 256,
            queue_bytes: 1 << 20,
            send_buffer: 256 << 10,
            listeners: 600,
            heartbeat: Duration::from_secs(20),
            uploads: 2,
            at_work: 32,
        }
    }
}

/// Largest JSON body, bytes.
pub(crate) const JSON: u64 = 1 << 20;
/// Largest body of a change, bytes: a stock list of 4 MiB, written as JSON.
pub(crate) const CHANGE: u64 = 5 << 20;
/// Largest stock list, bytes.
pub(crate) const STOCK_LIST: usize = 4 << 20;
/// Largest picture file, bytes.
pub(crate) const PICTURE: u64 = 200 << 20;
/// Largest body of a join, bytes.
pub(crate) const JOIN: u64 = 1 << 10;
/// Joined clients that are remembered; the oldest is forgotten first.
pub(crate) const SESSIONS: usize = 4096;
/// Rows of the list of steps in one answer.
pub(crate) const STEPS: u32 = 1_000;
/// Messages that a listener may send between two signs of life; none is needed.
pub(crate) const CHATTER: usize = 64;
