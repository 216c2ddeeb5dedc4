//! What every answer tells the browser about how far to trust it; also an answer that refuses.

use axum::http::HeaderValue;
use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HeaderName, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS,
    X_FRAME_OPTIONS,
};
use axum::response::Response;

/// Each header with its value.
///
/// `Referrer-Policy` is `same-origin` and not `no-referrer`: with the latter a browser says `Origin: null` when a form is sent
/// (Fetch Standard, "append a request `Origin` header"), and nobody could tell our own page from another's. To other origins
/// both say nothing. There is no `Strict-Transport-Security`: with it a browser offers no way past a certificate that it does
/// not know yet, and this machine's own is such a one.
const EACH: [(HeaderName, &str); 9] = [
    (
        CONTENT_SECURITY_POLICY,
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; \
         manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    ),
    (X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (X_FRAME_OPTIONS, "DENY"),
    (REFERRER_POLICY, "same-origin"),
    (CACHE_CONTROL, "no-store"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
    (
        HeaderName::from_static("permissions-policy"),
        "camera=(self), screen-wake-lock=(self), microphone=(), geolocation=(), usb=(), serial=(), hid=(), \
         payment=(), midi=(), display-capture=()",
    ),
    (HeaderName::from_static("x-robots-tag"), "noindex"),
];

/// A page that stands by itself, its style sheet and its pictures in it: in an answer's extensions. It runs nothing, loads nothing
/// and sends nothing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Standing;

/// What is said of such a page instead.
const STANDING: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'none'; base-uri 'none'; \
                        frame-ancestors 'none'";

/// Puts them on an answer, over whatever was there.
pub(crate) fn put_on(mut response: Response) -> Response {
    let stands = response.extensions().get::<Standing>().is_some();
    let headers = response.headers_mut();
    for (name, value) in EACH {
        headers.insert(name, HeaderValue::from_static(value));
    }
    if stands {
        headers.insert(CONTENT_SECURITY_POLICY, HeaderValue::from_static(STANDING));
    }
    response
}
