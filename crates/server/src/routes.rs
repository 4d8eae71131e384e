//! The table of routes. The router is built from it and from nothing else, so a route without a row does not exist.

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::extract::ws::WebSocketUpgrade;
use axum::extract::{FromRequestParts as _, RawPathParams, Request};
use axum::http::request::Parts;
use axum::http::{Response, StatusCode};
use axum::routing::{MethodFilter, on};
use guards::Guard;

use crate::answer::{Answer, Refusal};
use crate::app::App;
use crate::ask::{Ask, read_body};
use crate::door::Visitor;
use crate::door::crowd::Ticket;
use crate::handlers::{hall, lan, matching, pictures, plan, printing, reading, section, trial};
use crate::limits;
use crate::wire::Role;
use crate::{live, pages};
use sayings::{refusing, say};

/// Who may use a route.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// Whoever named the host rightly.
    Anyone,
    /// The crew and planners.
    Crew,
    /// Planners alone.
    Planner,
}

/// What is done at a route.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verb {
    /// Look.
    Get,
    /// Do.
    Post,
    /// Throw away.
    Delete,
}

/// A row of the table, as others may see it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RouteRow {
    /// What is done.
    pub verb: Verb,
    /// The path; parts in braces are names.
    pub path: &'static str,
    /// Who may do it.
    pub access: Access,
    /// Largest body, bytes.
    pub body: u64,
}

/// All routes under `/api`.
pub fn routes() -> impl Iterator<Item = RouteRow> {
    ROWS.iter().map(|row| row.row)
}

/// What runs at a route.
#[derive(Clone, Copy)]
enum Run {
    /// Work that may take a while, away from the threads that serve connections.
    Work(fn(&App, &Ask) -> Result<Answer, Refusal>),
    /// The socket.
    Live,
}

struct Row {
    row: RouteRow,
    run: Run,
}

const fn get(path: &'static str, access: Access, run: fn(&App, &Ask) -> Result<Answer, Refusal>) -> Row {
    Row { row: RouteRow { verb: Verb::Get, path, access, body: 0 }, run: Run::Work(run) }
}

const fn post(
    path: &'static str,
    access: Access,
    body: u64,
    run: fn(&App, &Ask) -> Result<Answer, Refusal>,
) -> Row {
    Row { row: RouteRow { verb: Verb::Post, path, access, body }, run: Run::Work(run) }
}

/// The table.
static ROWS: &[Row] = &[
    Row {
        row: RouteRow { verb: Verb::Get, path: "/api/live", access: Access::Crew, body: 0 },
        run: Run::Live,
    },
    get("/api/state", Access::Crew, plan::get_state),
    get("/api/findings", Access::Crew, plan::get_findings),
    get("/api/stock", Access::Crew, plan::get_stock),
    get("/api/hall/pieces", Access::Crew, hall::pieces),
    get("/api/hall/taped", Access::Planner, hall::taped),
    get("/api/hall/timed", Access::Crew, hall::timed),
    get("/api/fall/times", Access::Crew, hall::times),
    get("/api/fall/report", Access::Crew, hall::report),
    get("/api/touch", Access::Crew, hall::touch),
    get("/api/gaps", Access::Crew, hall::gaps),
    get("/api/piece/{n}", Access::Crew, hall::piece),
    get("/api/item/{id}", Access::Crew, plan::item),
    get("/api/items", Access::Crew, plan::items),
    post("/api/try", Access::Planner, limits::JSON, trial::look),
    post("/api/try/pieces", Access::Planner, limits::JSON, trial::pieces),
    post("/api/do", Access::Planner, limits::CHANGE, plan::apply),
    post("/api/undo", Access::Planner, 0, plan::undo),
    post("/api/redo", Access::Planner, 0, plan::redo),
    post("/api/mend", Access::Planner, limits::JSON, plan::mend),
    get("/api/steps", Access::Planner, plan::get_steps),
    get("/api/steps/older", Access::Planner, plan::older_steps),
    post("/api/steps/forget", Access::Planner, limits::JSON, plan::forget_steps),
    post("/api/copy", Access::Planner, limits::JSON, plan::copy),
    get("/api/backup", Access::Planner, plan::backup),
    // The router has names for whole parts of a path only, so the handlers judge the endings `.png` and `.svg`.
    get("/api/field/{id}/view/{view}", Access::Crew, pictures::field_view),
    get("/api/field/{id}/cells.bin", Access::Crew, pictures::cells),
    get("/api/field/{id}/by-hand.bin", Access::Planner, pictures::by_hand),
    get("/api/field/{id}/feeds", Access::Planner, trial::feeds),
    post("/api/pictures", Access::Planner, limits::PICTURE, pictures::add),
    post("/api/pictures/kept", Access::Planner, limits::PICTURE, pictures::keep),
    post("/api/match", Access::Planner, limits::JSON, matching::start),
    post("/api/odds", Access::Planner, limits::JSON, matching::odds),
    post("/api/gaps", Access::Planner, limits::JSON, matching::gaps),
    get("/api/section/{id}", Access::Planner, section::stands),
    post("/api/section/{id}/try", Access::Planner, limits::JSON, section::look),
    get("/api/job/{id}", Access::Planner, matching::get_job),
    post("/api/job/{id}/stop", Access::Planner, 0, matching::stop),
    get("/api/variant/{id}/{item}/{view}", Access::Planner, pictures::variant_view),
    post("/api/variant/{id}/use", Access::Planner, 0, matching::lay),
    Row {
        row: RouteRow { verb: Verb::Delete, path: "/api/variant/{id}", access: Access::Planner, body: 0 },
        run: Run::Work(matching::discard),
    },
    get("/api/sheets", Access::Crew, printing::get_info),
    get("/api/sheets/page/{n}", Access::Crew, printing::page),
    get("/api/sheets.pdf", Access::Crew, printing::pdf),
    get("/api/read/{item}", Access::Crew, reading::read_plan),
    get("/api/read/{item}/{n}", Access::Crew, reading::read_lane),
    get("/api/lan", Access::Planner, lan::lan),
    post("/api/join", Access::Anyone, limits::JOIN, lan::join),
];

/// The router: every row of the table, and the pages for all other addresses.
pub(crate) fn router(app: &Arc<App>) -> Router {
    let mut router = Router::new();
    for row in ROWS {
        let filter = match row.row.verb {
            Verb::Get => MethodFilter::GET,
            Verb::Post => MethodFilter::POST,
            Verb::Delete => MethodFilter::DELETE,
        };
        let app = app.clone();
        router = router
            .route(row.row.path, on(filter, move |request: Request| dispatch(row, app.clone(), request)));
    }
    router
        .fallback(async |request: Request| {
            pages::serve(request.method(), request.uri().path(), request.headers())
        })
        .method_not_allowed_fallback(async || {
            Refusal::new(StatusCode::METHOD_NOT_ALLOWED, "method", say!(refusing::METHOD)).into_http()
        })
}

/// Serves one request of a row: role first, body second, work last.
async fn dispatch(row: &'static Row, app: Arc<App>, request: Request) -> Response<Body> {
    let (mut parts, body) = request.into_parts();
    let visitor = match admit(row, &parts) {
        Ok(visitor) => visitor,
        Err(refusal) => return refusal.into_http(),
    };
    match row.run {
        Run::Live => upgrade(&app, &visitor, &mut parts).await,
        Run::Work(run) => match work(row, app, parts, body, visitor, run).await {
            Ok(answer) => answer.into_http(),
            Err(refusal) => {
                if refusal.delay > Duration::ZERO {
                    tokio::time::sleep(refusal.delay).await;
                }
                refusal.into_http()
            }
        },
    }
}

/// Whether the visitor may use the route.
fn admit(row: &Row, parts: &Parts) -> Result<Visitor, Refusal> {
    let Some(visitor) = parts.extensions.get::<Visitor>() else {
        return Err(Refusal::inside(say!(refusing::INSIDE_DOOR)));
    };
    let fits = match row.row.access {
        Access::Anyone => true,
        Access::Crew => visitor.role.is_some(),
        Access::Planner => visitor.role == Some(Role::Planner),
    };
    if fits || !Guard::RoleCheck.stands() {
        return Ok(visitor.clone());
    }
    Err(match visitor.role {
        None => Refusal::new(StatusCode::UNAUTHORIZED, "join", say!(refusing::JOIN)),
        Some(_) => Refusal::new(StatusCode::FORBIDDEN, "role", say!(refusing::ROLE)),
    })
}

async fn work(
    row: &'static Row,
    app: Arc<App>,
    mut parts: Parts,
    body: Body,
    visitor: Visitor,
    run: fn(&App, &Ask) -> Result<Answer, Refusal>,
) -> Result<Answer, Refusal> {
    let path = RawPathParams::from_request_parts(&mut parts, &())
        .await
        .map_err(|_| Refusal::absent(say!(refusing::NOTHING_HERE)))?;
    let path = path.iter().map(|(name, value)| (name.to_owned(), value.to_owned())).collect();
    app.is_meant(&parts.headers)?;
    // Large files come in one after the other, so that memory has a bound.
    let _place = match row.row.body > limits::CHANGE {
        true => Some(app.uploads.acquire().await.map_err(|_| closing())?),
        false => None,
    };
    let body = match row.row.body {
        0 => axum::body::Bytes::new(),
        most => read_body(&parts.headers, body, most, &app.limits).await?,
    };
    let ask = Ask { visitor, path, uri: parts.uri, headers: parts.headers, body };
    let _at_work = app.at_work.acquire().await.map_err(|_| closing())?;
    let worker = app.clone();
    match tokio::task::spawn_blocking(move || run(&worker, &ask)).await {
        Ok(result) => result,
        Err(_) => Err(Refusal::inside(say!(refusing::INSIDE_FAILED))),
    }
}

async fn upgrade(app: &Arc<App>, visitor: &Visitor, parts: &mut Parts) -> Response<Body> {
    let ticket = parts.extensions.get::<Arc<Ticket>>().cloned();
    match WebSocketUpgrade::from_request_parts(parts, &()).await {
        Ok(upgrade) => {
            let role = visitor.role.unwrap_or(Role::Crew);
            live::open(upgrade, &app.hub, role, ticket, || app.hello())
        }
        Err(_) => Refusal::new(StatusCode::UPGRADE_REQUIRED, "socket", say!(refusing::SOCKET)).into_http(),
    }
}

fn closing() -> Refusal {
    Refusal::new(StatusCode::SERVICE_UNAVAILABLE, "closing", say!(refusing::CLOSING))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::door::Door;
    use crate::door::hosts::{Hosts, Side};
    use crate::limits::Limits;
    use crate::network::Network;
    use axum::body::to_bytes;

    fn fails(_: &App, ask: &Ask) -> Result<Answer, Refusal> {
        assert_ne!(ask.uri.path(), "/fails", "on purpose");
        Ok(Answer::new("text/plain", "fine"))
    }

    #[tokio::test]
    async fn a_panic_in_a_handler_becomes_an_answer_and_the_server_goes_on() {
        static ROW: Row = get("/{any}", Access::Planner, fails);
        let folder = tempfile::tempdir().unwrap();
        let desk = desk::Desk::create(&folder.path().join("x.standfast"), &::plan::Plan::new("x")).unwrap();
        let door = Door::new(Hosts { port: 1, lan: false, own: Vec::new() }).unwrap();
        let network = Network { open: false, port: 1, given: Vec::new() };
        // One worker: a place that a panic did not give back would block the next request for ever.
        let app = App::new(desk, door, network, Limits { at_work: 1, ..Limits::default() });
        for (path, status) in [("/fails", 500), ("/fine", 200), ("/fails", 500), ("/fine", 200)] {
            let mut request = Request::builder().uri(path).body(Body::empty()).unwrap();
            let from = [127, 0, 0, 1].into();
            request.extensions_mut().insert(Visitor {
                role: Some(Role::Planner),
                side: Side::Loopback,
                from,
            });
            let router = Router::new().route(
                ROW.row.path,
                on(MethodFilter::GET, {
                    let app = app.clone();
                    move |request: Request| dispatch(&ROW, app.clone(), request)
                }),
            );
            let answer = tower::ServiceExt::oneshot(router, request).await.unwrap();
            assert_eq!(answer.status(), status, "{path}");
            let body = to_bytes(answer.into_body(), 10_000).await.unwrap();
            if status == 500 {
                let trouble: serde_json::Value = serde_json::from_slice(&body).unwrap();
                assert_eq!(trouble["code"], "inside");
            }
        }
    }
}
