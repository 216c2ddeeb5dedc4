//! The door: who may come in, and what is said to everybody else.

use crate::device::Device;
use axum::Router;
use axum::extract::Request;
use axum::middleware::{Next, from_fn};

/// Puts the door before all addresses. Every request that passes has its [`Device`].
pub fn guarded(inside: Router, own: Device) -> Router {
    inside.layer(from_fn(move |mut request: Request, next: Next| {
        let own = own.clone();
        async move {
            request.extensions_mut().insert(own);
            next.run(request).await
        }
    }))
}
