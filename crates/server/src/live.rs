//! News over the socket: one bounded queue for each listener, and no mercy for one that does not read.
//!
//! A listener that falls behind is dropped. It comes back by itself, and the first message then tells it the
//! last change on disk, so that it fetches the state anew instead of a heap of old messages.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use axum::body::Body;
use axum::extract::ws::{CloseFrame, Message, Utf8Bytes, WebSocket, WebSocketUpgrade};
use axum::http::{Response, StatusCode};
use guards::Guard;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};
use tokio::sync::watch;

use crate::answer::Refusal;
use crate::door::crowd::Ticket;
use crate::limits::{self, Limits};
use crate::wire::Role;
use sayings::{refusing, say};

/// All listeners.
#[derive(Debug)]
pub(crate) struct Hub {
    limits: Limits,
    listeners: Mutex<Listeners>,
}

#[derive(Debug, Default)]
struct Listeners {
    next: u64,
    all: BTreeMap<u64, Listener>,
    closed: bool,
}

/// One listener, as those who push see it. Dropping it ends the listener's connection.
#[derive(Debug)]
struct Listener {
    role: Role,
    queue: UnboundedSender<Utf8Bytes>,
    waiting: Arc<Waiting>,
    _end: watch::Sender<()>,
}

/// What waits in a queue.
#[derive(Debug, Default)]
struct Waiting {
    messages: AtomicUsize,
    bytes: AtomicUsize,
}

/// The listener's own end of the queue.
#[derive(Debug)]
pub(crate) struct Ear {
    hub: Arc<Hub>,
    id: u64,
    queue: UnboundedReceiver<Utf8Bytes>,
    waiting: Arc<Waiting>,
    ended: watch::Receiver<()>,
}

impl Hub {
    /// Nobody listens yet.
    pub(crate) fn new(limits: &Limits) -> Arc<Self> {
        Arc::new(Hub { limits: limits.clone(), listeners: Mutex::default() })
    }

    /// One more listener, or none when there is no room.
    pub(crate) fn listen(self: &Arc<Self>, role: Role) -> Option<Ear> {
        let mut listeners = self.listeners.lock().unwrap_or_else(PoisonError::into_inner);
        if listeners.closed || listeners.all.len() >= self.limits.listeners {
            return None;
        }
        let (queue, out) = unbounded_channel();
        let (end, ended) = watch::channel(());
        let waiting = Arc::new(Waiting::default());
        let id = listeners.next;
        listeners.next += 1;
        listeners.all.insert(id, Listener { role, queue, waiting: waiting.clone(), _end: end });
        Some(Ear { hub: self.clone(), id, queue: out, waiting, ended })
    }

    /// Tells everybody, or the planners alone. Never waits.
    pub(crate) fn push(&self, text: String, planners_only: bool) {
        let text = Utf8Bytes::from(text);
        let mut listeners = self.listeners.lock().unwrap_or_else(PoisonError::into_inner);
        listeners.all.retain(|_, listener| {
            if planners_only && listener.role != Role::Planner {
                return true;
            }
            let waiting = &listener.waiting;
            let messages = waiting.messages.fetch_add(1, Ordering::Relaxed) + 1;
            let bytes = waiting.bytes.fetch_add(text.len(), Ordering::Relaxed) + text.len();
            let full = messages > self.limits.queue_messages || bytes > self.limits.queue_bytes;
            if full && Guard::QueueLimit.stands() {
                return false;
            }
            listener.queue.send(text.clone()).is_ok()
        });
    }

    /// Ends all connections and takes no more.
    pub(crate) fn close(&self) {
        let mut listeners = self.listeners.lock().unwrap_or_else(PoisonError::into_inner);
        listeners.closed = true;
        listeners.all.clear();
    }
}

impl Ear {
    /// The next message, or none once the listener was dropped.
    async fn next(&mut self) -> Option<Utf8Bytes> {
        let text = self.queue.recv().await?;
        self.waiting.messages.fetch_sub(1, Ordering::Relaxed);
        self.waiting.bytes.fetch_sub(text.len(), Ordering::Relaxed);
        Some(text)
    }
}

impl Drop for Ear {
    fn drop(&mut self) {
        self.hub.listeners.lock().unwrap_or_else(PoisonError::into_inner).all.remove(&self.id);
    }
}

/// Answers a request for the socket. `hello` makes the first message after the queue is open, so that no
/// change falls between the two.
pub(crate) fn open(
    upgrade: WebSocketUpgrade,
    hub: &Arc<Hub>,
    role: Role,
    ticket: Option<Arc<Ticket>>,
    hello: impl FnOnce() -> String,
) -> Response<Body> {
    let Some(ear) = hub.listen(role) else {
        return Refusal::new(StatusCode::SERVICE_UNAVAILABLE, "full", say!(refusing::FULL)).into_http();
    };
    let hello = hello();
    let limits = hub.limits.clone();
    let frame = limits.message_bytes;
    upgrade
        .max_message_size(frame)
        .max_frame_size(frame)
        .write_buffer_size(16 << 10)
        .max_write_buffer_size(limits.queue_bytes + (64 << 10))
        .on_upgrade(move |socket| async move {
            let _place = ticket;
            serve(socket, ear, hello, limits).await;
        })
}

async fn serve(mut socket: WebSocket, mut ear: Ear, hello: String, limits: Limits) {
    let mut ended = ear.ended.clone();
    tokio::select! {
        () = talk(&mut socket, &mut ear, hello, &limits) => {
            let close = Message::Close(Some(CloseFrame { code: 1000, reason: Utf8Bytes::from_static("") }));
            // Whoever does not take even this is left.
            let _ = tokio::time::timeout(std::time::Duration::from_secs(1), socket.send(close)).await;
        }
        // The sender is never used, only dropped.
        _ = ended.changed() => {}
    }
}

/// Passes messages on until the client goes away, says too much, or gives no sign of life.
async fn talk(socket: &mut WebSocket, ear: &mut Ear, hello: String, limits: &Limits) {
    if socket.send(Message::Text(hello.into())).await.is_err() {
        return;
    }
    let mut beat = tokio::time::interval(limits.heartbeat);
    let (mut silent, mut said) = (0, 0);
    loop {
        tokio::select! {
            text = ear.next() => {
                let Some(text) = text else { return };
                if socket.send(Message::Text(text)).await.is_err() {
                    return;
                }
            }
            heard = socket.recv() => match heard {
                Some(Ok(Message::Close(_)) | Err(_)) | None => return,
                Some(Ok(_)) => {
                    silent = 0;
                    said += 1;
                    if said > limits::CHATTER {
                        return;
                    }
                }
            },
            _ = beat.tick() => {
                silent += 1;
                said = 0;
                if silent > 3 || socket.send(Message::Ping(axum::body::Bytes::new())).await.is_err() {
                    return;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hub() -> Arc<Hub> {
        Hub::new(&Limits { queue_messages: 4, queue_bytes: 100, listeners: 2, ..Limits::default() })
    }

    #[test]
    fn a_listener_that_does_not_read_is_dropped() {
        for (text, fit) in [("x".to_owned(), 4), ("x".repeat(40), 2)] {
            let hub = hub();
            let mut ear = hub.listen(Role::Crew).unwrap();
            for n in 0..fit {
                hub.push(text.clone(), false);
                assert!(
                    ear.ended.has_changed().is_ok(),
                    "dropped after {n} messages of {} bytes",
                    text.len()
                );
            }
            hub.push(text.clone(), false);
            assert!(ear.ended.has_changed().is_err(), "still there after {} messages", fit + 1);
            // What waits is bounded, and nothing comes after the drop.
            let mut kept = 0;
            while ear.queue.try_recv().is_ok() {
                kept += 1;
            }
            assert_eq!(kept, fit);
        }
    }

    #[tokio::test]
    async fn a_listener_that_reads_hears_everything_however_long() {
        let hub = hub();
        let mut ear = hub.listen(Role::Planner).unwrap();
        for n in 0..1000 {
            hub.push(format!("{n:050}"), n % 2 == 0);
            assert_eq!(ear.next().await.unwrap().as_str(), format!("{n:050}"));
        }
    }

    #[test]
    fn the_crew_does_not_hear_what_is_for_planners() {
        let hub = hub();
        let (mut crew, mut planner) = (hub.listen(Role::Crew).unwrap(), hub.listen(Role::Planner).unwrap());
        hub.push("job".into(), true);
        assert!(crew.queue.try_recv().is_err());
        assert_eq!(planner.queue.try_recv().unwrap().as_str(), "job");
    }

    #[test]
    fn listeners_are_counted_and_leave_when_dropped() {
        let hub = hub();
        let first = hub.listen(Role::Crew).unwrap();
        let _second = hub.listen(Role::Crew).unwrap();
        assert!(hub.listen(Role::Crew).is_none());
        drop(first);
        assert!(hub.listen(Role::Crew).is_some());
        hub.close();
        assert!(hub.listen(Role::Crew).is_none());
    }
}
