//! Every request passes here: who asks, how often, by which name, from which page and with how much; then it is let through.

use super::bodies::{Measure, Measured, USUAL, While};
use super::headers;
use super::host::Hosts;
use super::origin::from_here;
use super::pages;
use super::rates::Rates;
use super::roster::{Let, Roster};
use super::waits::Waits;
use axum::Router;
use axum::body::Body;
use axum::extract::{DefaultBodyLimit, MatchedPath, Request, State};
use axum::http::header::{AUTHORIZATION, CONNECTION, CONTENT_LENGTH, COOKIE, RETRY_AFTER, WWW_AUTHENTICATE};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::Response;
use axum::routing::get;
use hyper::body::Body as _;
use std::net::SocketAddr;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;
use time::OffsetDateTime;

/// Both ends of a connection.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Peer {
    pub(crate) from: SocketAddr,
    pub(crate) local: SocketAddr,
}

/// Told in words what happens at the door.
pub(crate) type Tell = Arc<dyn Fn(&str) + Send + Sync>;

/// What the door knows; a clone is the same door.
#[derive(Clone)]
pub(crate) struct Guard(Arc<Inside>);

pub(crate) struct Inside {
    pub(crate) roster: Roster,
    pub(crate) waits: Waits,
    pub(crate) rates: Rates,
    pub(crate) hosts: Hosts,
    /// Whether it is spoken to over TLS, by devices that are let in with a code.
    pub(crate) lan: bool,
    /// The name of the cookie.
    pub(crate) cookie: String,
    /// The hash of the key in the address that is printed for this machine alone.
    pub(crate) entry: Option<String>,
    pub(crate) measures: Vec<Measure>,
    pub(crate) tell: Tell,
}

impl std::ops::Deref for Guard {
    type Target = Inside;

    fn deref(&self) -> &Inside {
        &self.0
    }
}

/// The addresses that a device reaches before it is let in.
const OPEN: [&str; 3] = ["/pair", "/enter", "/door.css"];

impl Guard {
    pub(crate) fn new(inside: Inside) -> Guard {
        Guard(Arc::new(inside))
    }

    /// Puts the door before all addresses of a router, with its own beside them.
    pub(crate) fn before(self, inside: Router) -> Router {
        let open = Router::new().route("/door.css", get(pages::style));
        let open = match self.lan {
            true => open.route("/pair", get(pages::asked).post(pages::paired)),
            false => open.route("/enter", get(pages::entered)),
        };
        let all = inside.merge(open.with_state(self.clone()));
        // The measure of each address stands in for the usual one of the library.
        all.layer(DefaultBodyLimit::disable()).layer(from_fn_with_state(self, pass))
    }

    /// The device that a request shows a token of, and whether its browser sent that along by itself.
    fn who(&self, headers: &HeaderMap, now: OffsetDateTime) -> Option<(Let, bool)> {
        let text = |value: &HeaderValue| value.to_str().map(str::to_owned).unwrap_or_default();
        if let Some(shown) = headers.get(AUTHORIZATION) {
            let shown = text(shown);
            return self.roster.who(shown.strip_prefix("Bearer ")?.trim(), now).map(|who| (who, false));
        }
        let cookies: Vec<String> = headers.get_all(COOKIE).iter().map(text).collect();
        let pairs =
            cookies.iter().flat_map(|all| all.split(';')).filter_map(|pair| pair.trim().split_once('='));
        let mut ours = pairs.filter(|(name, _)| *name == self.cookie).take(4);
        ours.find_map(|(_, token)| self.roster.who(token, now)).map(|who| (who, true))
    }

    /// What lets a device in from now on, for its browser.
    pub(crate) fn cookie_with(&self, token: &str) -> Option<HeaderValue> {
        // Browsers keep a cookie for 400 days at most; over TLS, `Secure` and the name bind it to this host.
        let secure = if self.lan { "; Secure" } else { "" };
        let text =
            format!("{}={token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=34560000{secure}", self.cookie);
        let mut value = HeaderValue::from_str(&text).ok()?;
        value.set_sensitive(true);
        Some(value)
    }

    fn measure(&self, path: Option<&MatchedPath>) -> Measure {
        let own = path.and_then(|path| self.measures.iter().find(|measure| measure.path == path.as_str()));
        own.copied().unwrap_or(USUAL)
    }
}

async fn pass(State(guard): State<Guard>, request: Request, next: Next) -> Response {
    headers::put_on(let_through(&guard, request, next).await)
}

async fn let_through(guard: &Guard, request: Request, next: Next) -> Response {
    let Some(peer) = request.extensions().get::<Peer>().copied() else {
        return pages::refused(StatusCode::INTERNAL_SERVER_ERROR, "Nobody knows where this came from.");
    };
    let (mut parts, body) = request.into_parts();
    let who = guard.who(&parts.headers, OffsetDateTime::now_utc());
    let often = match &who {
        Some((who, _)) => guard.rates.device(who.number),
        None => guard.rates.stranger(peer.from.ip()),
    };
    if let Err(wait) = often {
        return wait_first(wait);
    }
    let Some(called) = guard.hosts.called(&parts.uri, &parts.headers, peer.local) else {
        return pages::refused(
            StatusCode::MISDIRECTED_REQUEST,
            "This is not an address of the bay. Take the address that the machine shows.",
        );
    };
    let ours = format!("{}://{called}", if guard.lan { "https" } else { "http" });
    let sent_along = who.as_ref().is_none_or(|(_, sent_along)| *sent_along);
    if !from_here(&parts.method, &parts.headers, &ours, sent_along) {
        return pages::refused(
            StatusCode::FORBIDDEN,
            "Another page asked for this, and it was not done. Open the bay by its own address.",
        );
    }
    let path = parts.extensions.get::<MatchedPath>().cloned();
    let open = path.as_ref().is_some_and(|path| OPEN.contains(&path.as_str()));
    let who = who.map(|(who, _)| who);
    if who.is_none() && !open {
        let mut answer = pages::stranger(guard, StatusCode::UNAUTHORIZED, None, &pages::Typed::default());
        answer.headers_mut().insert(WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"));
        return answer;
    }
    let measure = guard.measure(path.as_ref());
    let said = parts.headers.get(CONTENT_LENGTH).and_then(|length| length.to_str().ok()?.parse::<u64>().ok());
    if said.is_some_and(|length| length > measure.bytes as u64) {
        return pages::refused(StatusCode::PAYLOAD_TOO_LARGE, &too_much(measure));
    }
    if let Some(who) = &who {
        parts.extensions.insert(who.device.clone());
        parts.extensions.insert(who.clone());
    }
    let (body, slow) = Measured::new(body, measure, who.as_ref());
    let answer = next.run(Request::from_parts(parts, Body::new(body))).await;
    if slow.load(Ordering::Relaxed) {
        let mut late = pages::refused(
            StatusCode::REQUEST_TIMEOUT,
            "It came too slowly and was not taken. Go nearer to the network, and send it again.",
        );
        late.headers_mut().insert(CONNECTION, HeaderValue::from_static("close"));
        return late;
    }
    // Only an answer without an end needs one: an answer that is whole already is sent whole.
    match who.filter(|_| answer.body().size_hint().exact().is_none()) {
        Some(who) => answer.map(|body| Body::new(While::new(body, &who))),
        None => answer,
    }
}

fn too_much(measure: Measure) -> String {
    match measure.bytes / (1024 * 1024) {
        0 => format!("That is too much: at most {} kB are taken here.", measure.bytes / 1024),
        mega => format!("That is too much: at most {mega} MB are taken here."),
    }
}

/// Too much was asked in too short a time.
pub(crate) fn wait_first(wait: Duration) -> Response {
    let seconds = wait.as_secs() + 1;
    let mut answer = pages::refused(
        StatusCode::TOO_MANY_REQUESTS,
        &format!("Too much was asked in too short a time. Wait {seconds} s, and try again."),
    );
    answer.headers_mut().insert(RETRY_AFTER, HeaderValue::from(seconds));
    answer
}
