//! What every page has around it: its title, the style sheet, the script, and nothing from elsewhere.

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use maud::{DOCTYPE, Markup, html};

/// A whole page.
pub(crate) fn framed(title: &str, body: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                link rel="stylesheet" href="/bay.css";
                script src="/bay.js" defer {}
            }
            body { (body) }
        }
    }
}

/// A page, to be sent.
pub(crate) fn page(title: &str, body: Markup) -> Response {
    Html(framed(title, body).into_string()).into_response()
}

/// A page that says what cannot be done, and what to do instead.
pub(crate) fn problem(status: StatusCode, what: &str, help: &str) -> Response {
    let body = html! {
        main.plain {
            h1 { (what) }
            p { (help) }
            p { a.button href="/" { "All jobs" } }
        }
    };
    (status, page(what, body)).into_response()
}
