//! The few pages that a device sees before it is let in.

use super::error::AccessError;
use super::guard::{Guard, Peer};
use super::roster::Let;
use super::secret::{Code, Token, hash};
use super::waits::TOO_MANY;
use axum::Extension;
use axum::extract::{Form, Query, State};
use axum::http::header::{CONTENT_TYPE, LOCATION, RETRY_AFTER, SET_COOKIE};
use axum::http::{HeaderValue, StatusCode};
use axum::response::{IntoResponse, Response};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::collections::HashMap;
use std::time::Instant;
use time::OffsetDateTime;

const STYLE: &str = include_str!("door.css");

/// `/door.css`.
pub(super) async fn style() -> Response {
    ([(CONTENT_TYPE, "text/css; charset=utf-8")], STYLE).into_response()
}

/// What stands in the fields.
#[derive(Default)]
pub(super) struct Typed {
    code: String,
    name: String,
    person: String,
}

impl Typed {
    fn of(fields: &HashMap<String, String>) -> Typed {
        let field =
            |name: &str| fields.get(name).map(|text| text.chars().take(80).collect()).unwrap_or_default();
        Typed { code: field("code"), name: field("name"), person: field("person") }
    }
}

/// `GET /pair`: asks for the code, the name of the device and who works at it. The code of a scanned address is filled in, and
/// nothing is done before the button is pressed.
pub(super) async fn asked(
    State(guard): State<Guard>,
    who: Option<Extension<Let>>,
    Query(fields): Query<HashMap<String, String>>,
) -> Response {
    match who {
        Some(Extension(who)) => inside(&who),
        None => stranger(&guard, StatusCode::OK, None, &Typed::of(&fields)),
    }
}

/// `POST /pair`: lets the device in where the code is right.
pub(super) async fn paired(
    State(guard): State<Guard>,
    Extension(peer): Extension<Peer>,
    who: Option<Extension<Let>>,
    Form(fields): Form<HashMap<String, String>>,
) -> Response {
    if let Some(Extension(who)) = who {
        return inside(&who);
    }
    let typed = Typed::of(&fields);
    let again = |status: StatusCode, why: &str| stranger(&guard, status, Some(why), &typed);
    // A slip of the pen is told without being counted as a guess.
    let Some(code) = Code::typed(&typed.code) else {
        let why = "A code has eight letters and digits, such as 7K3M-9QXT. Type the one that the machine shows now.";
        return again(StatusCode::BAD_REQUEST, why);
    };
    let from = peer.from.ip();
    let wrong = match guard.waits.attempt(from, Instant::now()) {
        Ok(wrong) => wrong,
        Err(wait) => {
            let seconds = wait.as_secs() + 1;
            let why = format!(
                "Too many wrong codes were typed. Wait {seconds} s before the next one; this one was not looked at."
            );
            let mut answer = again(StatusCode::TOO_MANY_REQUESTS, &why);
            answer.headers_mut().insert(RETRY_AFTER, HeaderValue::from(seconds));
            return answer;
        }
    };
    let (name, person) = (typed.name.as_str(), Some(typed.person.as_str()));
    match guard.roster.pair(&code, name, person, OffsetDateTime::now_utc()) {
        Ok(Some((who, token))) => {
            guard.waits.right(from);
            (guard.tell)(&format!("{} may come in now, from {from}", shown(&who)));
            welcome(&guard, &token)
        }
        Ok(None) => {
            if wrong >= TOO_MANY {
                let _ = guard.roster.withdraw_codes();
                (guard.tell)(&format!(
                    "{wrong} wrong codes were typed, the last one from {from}: the code counts no more. Press Enter for a new one"
                ));
            }
            again(
                StatusCode::FORBIDDEN,
                "That code is not right, was used already or is older than ten minutes. Let the machine show a new one.",
            )
        }
        Err(error @ (AccessError::Name { .. } | AccessError::TooMany { .. })) => {
            guard.waits.right(from);
            again(StatusCode::BAD_REQUEST, &format!("{error}."))
        }
        Err(error) => {
            (guard.tell)(&format!("a device could not be let in: {error}"));
            again(
                StatusCode::INTERNAL_SERVER_ERROR,
                "It could not be noted, so nothing was changed. The machine says why.",
            )
        }
    }
}

/// `GET /enter`: the browser of this machine, with the key from the address that was printed.
pub(super) async fn entered(
    State(guard): State<Guard>,
    who: Option<Extension<Let>>,
    Query(fields): Query<HashMap<String, String>>,
) -> Response {
    if who.is_some() {
        return to_the_list();
    }
    let key = fields.get("key").map(|key| hash(key));
    if key.is_none() || key != guard.entry {
        return stranger(&guard, StatusCode::UNAUTHORIZED, None, &Typed::default());
    }
    match guard.roster.here(OffsetDateTime::now_utc()) {
        Ok((_, token)) => welcome(&guard, &token),
        Err(error) => {
            (guard.tell)(&format!("the browser of this machine could not be let in: {error}"));
            refused(StatusCode::INTERNAL_SERVER_ERROR, &format!("{error}."))
        }
    }
}

fn welcome(guard: &Guard, token: &Token) -> Response {
    let mut answer = to_the_list();
    if let Some(cookie) = guard.cookie_with(token.shown()) {
        answer.headers_mut().insert(SET_COOKIE, cookie);
    }
    answer
}

fn to_the_list() -> Response {
    (StatusCode::SEE_OTHER, [(LOCATION, "/")]).into_response()
}

fn shown(who: &Let) -> String {
    let name = who.device.name.as_deref().unwrap_or("a device");
    who.device.person.as_ref().map_or_else(|| name.to_owned(), |person| format!("{name} ({person})"))
}

/// What a device is told that is not known; the same at every address, whether there is something or not.
pub(super) fn stranger(guard: &Guard, status: StatusCode, why: Option<&str>, typed: &Typed) -> Response {
    if !guard.lan {
        let text = "This page is for whoever started it. Open the address that stands in the terminal there, as a whole.";
        return refused(status, text);
    }
    let body = html! {
        h1 { "Let this device in" }
        @if let Some(why) = why {
            p.why role="alert" { strong { "Not let in. " } (why) }
        }
        p {
            "First compare: your browser warned of this page, because the machine made its certificate itself. Let the browser show the "
            "certificate, and see that its SHA-256 fingerprint is the one beside the code on the machine. If it is another one, somebody "
            "is between you and the machine: stop, and tell whoever looks after the network."
        }
        p { "Then type the code that the machine shows. It is good once, for ten minutes." }
        form method="post" action="/pair" autocomplete="off" {
            label for="code" { "Code" }
            input id="code" name="code" value=(typed.code) required maxlength="20" autocapitalize="characters" spellcheck="false"
                autocorrect="off";
            label for="name" { "Name of this device, such as “tablet lift 2”" }
            input id="name" name="name" value=(typed.name) required maxlength="60";
            label for="person" { "Who works at it (may be left empty)" }
            input id="person" name="person" value=(typed.person) maxlength="60";
            button type="submit" { "Let this device in" }
        }
    };
    page(status, "Let this device in", &body)
}

fn inside(who: &Let) -> Response {
    let body = html! {
        h1 { "This device may come in" }
        p { "It is known as " strong { (shown(who)) } "." }
        p { a.button href="/" { "To the list of jobs" } }
    };
    page(StatusCode::OK, "This device may come in", &body)
}

/// A refusal, in one sentence that says what to do.
pub(super) fn refused(status: StatusCode, why: &str) -> Response {
    let title = status.canonical_reason().unwrap_or("Not done");
    let body = html! {
        h1 { "Not done" }
        p { (why) }
        p.small { (status.as_u16()) " " (title) }
    };
    page(status, "Not done", &body)
}

fn page(status: StatusCode, title: &str, body: &Markup) -> Response {
    let whole = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " – Dwell" }
                link rel="stylesheet" href="/door.css";
            }
            body { main { (body) } }
        }
    };
    let PreEscaped(text) = whole;
    (status, [(CONTENT_TYPE, "text/html; charset=utf-8")], text).into_response()
}
