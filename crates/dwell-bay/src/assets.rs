//! The style sheet and the script of the pages: in the program itself, so that nothing is read from a disk or from elsewhere.

use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};

const STYLE: &str = include_str!("assets/bay.css");
const SCRIPT: &str = include_str!("assets/bay.js");

/// `/bay.css`.
pub(crate) async fn style() -> Response {
    sent("text/css; charset=utf-8", STYLE)
}

/// `/bay.js`.
pub(crate) async fn script() -> Response {
    sent("text/javascript; charset=utf-8", SCRIPT)
}

fn sent(kind: &'static str, text: &'static str) -> Response {
    ([(CONTENT_TYPE, kind), (CACHE_CONTROL, "no-cache")], text).into_response()
}
