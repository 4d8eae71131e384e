//! Listening: the port, the connections, and a clean end.

use std::convert::Infallible;
use std::future::Future;
use std::io::ErrorKind;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr};
use std::panic::AssertUnwindSafe;
use std::pin::pin;
use std::sync::Arc;
use std::time::Duration;

use anyhow::{Context as _, bail};
use axum::Router;
use axum::body::Body;
use axum::http::{Request, Response};
use desk::Desk;
use futures_util::FutureExt as _;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpSocket, TcpStream};
use tokio::sync::watch;
use tower::ServiceExt as _;

use crate::answer::Refusal;
use crate::app::App;
use crate::door::Door;
use crate::door::crowd::{Crowd, Ticket};
use crate::door::dress::dress;
use crate::door::hosts::{Hosts, Peer};
use crate::limits::Limits;
use crate::network::Network;
use crate::paced::Paced;
use crate::routes::router;

/// Ports that are tried beyond the wished one when it is taken.
const NEXT_PORTS: u16 = 20;
/// Time for requests at work to end when the server closes.
const FAREWELL: Duration = Duration::from_secs(3);

/// Connections that wait to be accepted.
const BACKLOG: u32 = 1024;

/// How to serve.
#[derive(Debug, Clone)]
pub struct ServeOptions {
    /// The port; the next ones are tried when it is taken; 0 takes any free one. 7327 is the usual one.
    pub port: u16,
    /// Whether tablets in the same network may come in, with a code. Otherwise only this machine can connect.
    pub lan: bool,
    /// The machine's own addresses on the network, to be told to tablets; looked up when empty.
    pub addresses: Vec<IpAddr>,
    /// What is taken at most.
    pub limits: Limits,
}

impl Default for ServeOptions {
    fn default() -> Self {
        ServeOptions { port: 7327, lan: false, addresses: Vec::new(), limits: Limits::default() }
    }
}

/// The server listens.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ready {
    /// Address for a browser on this machine, ending in a slash.
    pub url: String,
    /// Addresses for tablets, ending in a slash; empty unless the network may come in.
    pub addresses: Vec<String>,
    /// The crew's code; empty unless the network may come in.
    pub crew_code: String,
    /// The planner's code for another machine; empty unless the network may come in.
    pub planner_code: String,
}

/// Serves a project until `shutdown` comes to its end, then closes the project. Blocks.
///
/// # Errors
/// When no port is free or the system refuses to listen, or the project file could not be closed.
pub fn serve(
    desk: Arc<Desk>,
    options: ServeOptions,
    on_ready: impl FnOnce(Ready),
    shutdown: impl Future<Output = ()>,
) -> anyhow::Result<()> {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .max_blocking_threads(options.limits.at_work + 8)
        .enable_all()
        .build()
        .context("The system gave no threads to serve with. Close other programs and start again.")?;
    let result = runtime.block_on(run(desk.clone(), options, on_ready, shutdown));
    // Requests at work may still end; what they changed is on disk before the file is closed.
    runtime.shutdown_timeout(FAREWELL);
    let closed =
        desk.close().context("The project file could not be closed in order. Its changes are on disk.");
    result.and(closed)
}

/// Comes to its end when the user interrupts the program (Ctrl-C) or the system asks it to end.
pub async fn until_interrupted() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut terminate) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = tokio::signal::ctrl_c() => {}
                _ = terminate.recv() => {}
            }
            return;
        }
    }
    // Without a handler the system's own way of interrupting still works, so there is nothing to do here.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}

/// What all connections share.
struct Shared {
    app: Arc<App>,
    router: Router,
    limits: Limits,
    crowd: Arc<Crowd>,
    stop: watch::Receiver<bool>,
}

async fn run(
    desk: Arc<Desk>,
    options: ServeOptions,
    on_ready: impl FnOnce(Ready),
    shutdown: impl Future<Output = ()>,
) -> anyhow::Result<()> {
    let (listeners, port) = listen(&options)?;
    let network = Network { open: options.lan, port, given: options.addresses };
    let hosts = Hosts { port, lan: options.lan, own: network.own() };
    let door =
        Door::new(hosts).context("The system's random source did not answer, so there are no codes.")?;
    let app = App::new(desk, door, network, options.limits.clone());
    let (stop_all, stop) = watch::channel(false);
    let shared = Arc::new(Shared {
        router: router(&app),
        crowd: Crowd::new(&options.limits),
        limits: options.limits,
        app: app.clone(),
        stop,
    });
    for listener in listeners {
        tokio::spawn(accept(listener, shared.clone()));
    }
    on_ready(ready(&app));
    shutdown.await;
    stop_all.send_replace(true);
    app.hub.close();
    drop(shared);
    // Every connection holds a receiver; all are gone once the last one has ended.
    let _ = tokio::time::timeout(FAREWELL, stop_all.closed()).await;
    Ok(())
}

fn ready(app: &App) -> Ready {
    let open = app.network.open;
    let shown = |code: String| if open { code } else { String::new() };
    Ready {
        url: format!("http://127.0.0.1:{}/", app.network.port),
        addresses: app.network.urls(),
        crew_code: shown(app.door.codes().crew()),
        planner_code: shown(app.door.codes().planner()),
    }
}

/// Takes the wished port or one of the next.
fn listen(options: &ServeOptions) -> anyhow::Result<(Vec<TcpListener>, u16)> {
    let ip = if options.lan { Ipv4Addr::UNSPECIFIED } else { Ipv4Addr::LOCALHOST };
    let last = if options.port == 0 { 0 } else { options.port.saturating_add(NEXT_PORTS) };
    for port in options.port..=last {
        match bind((ip, port).into(), &options.limits) {
            Ok(listener) => {
                let port =
                    listener.local_addr().context("The system does not tell the port it gave.")?.port();
                let mut listeners = vec![listener];
                // Some machines have no version 6; version 4 is enough then.
                listeners.extend(bind((Ipv6Addr::LOCALHOST, port).into(), &options.limits).ok());
                return Ok((listeners, port));
            }
            Err(error) if error.kind() == ErrorKind::AddrInUse => {}
            Err(error) => bail!(
                "The system does not let this program listen on port {port}: {error}. Choose another with --port."
            ),
        }
    }
    bail!(
        "The ports {} to {last} are all taken. Close another workbench, or choose one with --port.",
        options.port
    )
}

/// Listens on an address. What waits in the system for a client that does not read is bounded too.
fn bind(address: SocketAddr, limits: &Limits) -> std::io::Result<TcpListener> {
    let socket = if address.is_ipv4() { TcpSocket::new_v4()? } else { TcpSocket::new_v6()? };
    // So that a restart finds its port again; on Windows the same word would let two servers share one.
    #[cfg(not(windows))]
    socket.set_reuseaddr(true)?;
    socket.set_send_buffer_size(limits.send_buffer)?;
    socket.bind(address)?;
    socket.listen(BACKLOG)
}

async fn accept(listener: TcpListener, shared: Arc<Shared>) {
    let mut stop = shared.stop.clone();
    loop {
        let taken = tokio::select! {
            taken = listener.accept() => taken,
            _ = stop.wait_for(|stop| *stop) => return,
        };
        match taken {
            Ok((stream, from)) => admit(stream, from, &shared),
            // Out of descriptors, or the client is gone already: others may still be served.
            Err(_) => tokio::time::sleep(Duration::from_millis(20)).await,
        }
    }
}

fn admit(stream: TcpStream, from: SocketAddr, shared: &Arc<Shared>) {
    let from = from.ip().to_canonical();
    let Some(ticket) = shared.crowd.enter(from) else {
        turn_away(&stream);
        return;
    };
    let Ok(local) = stream.local_addr() else { return };
    let peer = Peer { addr: from, local: local.ip().to_canonical() };
    // Small answers go out at once; without this they would only be slower.
    let _ = stream.set_nodelay(true);
    tokio::spawn(connection(stream, peer, Arc::new(ticket), shared.clone()));
}

/// Says that the house is full, as far as that fits without waiting.
fn turn_away(stream: &TcpStream) {
    const FULL: &[u8] = b"HTTP/1.1 503 Service Unavailable\r\nConnection: close\r\nContent-Length: 0\r\n\
        Content-Security-Policy: default-src 'none'\r\nX-Content-Type-Options: nosniff\r\n\
        Cache-Control: no-store\r\nRetry-After: 5\r\n\r\n";
    let _ = stream.try_write(FULL);
}

async fn connection(stream: TcpStream, peer: Peer, ticket: Arc<Ticket>, shared: Arc<Shared>) {
    let limits = &shared.limits;
    let io = TokioIo::new(Paced::new(stream, limits.write_pause));
    let service = service_fn(|request| answer(&shared, peer, &ticket, request));
    let served = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(limits.head_time)
        .max_buf_size(limits.head_bytes.max(8192))
        .max_headers(limits.head_lines)
        .serve_connection(io, service)
        .with_upgrades();
    let mut served = pin!(served);
    let mut stop = shared.stop.clone();
    tokio::select! {
        // A connection that breaks off is the client's affair.
        _ = served.as_mut() => return,
        _ = stop.wait_for(|stop| *stop) => {}
    }
    served.as_mut().graceful_shutdown();
    let _ = tokio::time::timeout(FAREWELL, served).await;
}

/// Answers one request: the door, the router, the headers. A panic becomes an answer too.
async fn answer(
    shared: &Shared,
    peer: Peer,
    ticket: &Arc<Ticket>,
    request: Request<Incoming>,
) -> Result<Response<Body>, Infallible> {
    let (mut parts, body) = request.into_parts();
    let (mut response, named) = match shared.app.door.judge(peer, &parts) {
        Err(refusal) => (refusal.into_http(), None),
        Ok((visitor, named)) => {
            parts.extensions.insert(visitor);
            parts.extensions.insert(ticket.clone());
            let request = Request::from_parts(parts, Body::new(body));
            let served = AssertUnwindSafe(shared.router.clone().oneshot(request)).catch_unwind().await;
            let response = match served {
                Ok(Ok(response)) => response,
                Err(_) => Refusal::inside(sayings::say!(sayings::refusing::INSIDE_FAILED)).into_http(),
            };
            (response, Some(named))
        }
    };
    dress(&mut response, named.as_deref());
    Ok(response)
}
