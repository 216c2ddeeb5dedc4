//! From where a request was made: a page of another origin makes none here, and nothing is changed by a request that does not say.

use axum::http::header::{ORIGIN, UPGRADE};
use axum::http::{HeaderMap, Method};

/// Whether a request may be answered. `ours` is this server's own origin, as `https://name:port`.
///
/// `sent_along` is whether the browser itself added what lets the device in (a cookie): then a request that changes something,
/// or opens a socket, must say that it comes from here. A program that shows its token in a header does so on purpose.
pub(crate) fn from_here(method: &Method, headers: &HeaderMap, ours: &str, sent_along: bool) -> bool {
    let mut origins = headers.get_all(ORIGIN).iter();
    let origin = origins.next();
    if origins.next().is_some() {
        return false;
    }
    if let Some(origin) = origin {
        return origin.as_bytes().eq_ignore_ascii_case(ours.as_bytes());
    }
    let said = |name: &str| headers.get(name).and_then(|value| value.to_str().ok());
    let changes = !(method == Method::GET || method == Method::HEAD) || headers.contains_key(UPGRADE);
    // Fetch Metadata: the browser says itself what the relation between the two is.
    match said("sec-fetch-site") {
        Some("same-origin") => true,
        Some("none") | None => !(changes && sent_along),
        // A link from elsewhere may lead here: that shows a page and changes nothing.
        Some(_) => {
            !changes
                && said("sec-fetch-mode") == Some("navigate")
                && said("sec-fetch-dest") == Some("document")
        }
    }
}
