//! Which address does what.

use crate::access::Measure;
use crate::assets;
use crate::bay::Bay;
use crate::pages::{index, problem};
use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use axum::routing::get;
use dwell_store::Records;

/// All addresses, without the door before them.
pub fn router(bay: Bay) -> Router {
    Router::new()
        .route("/", get(first))
        .route("/bay.css", get(assets::style))
        .route("/bay.js", get(assets::script))
        .fallback(nothing_here)
        .with_state(bay)
}

/// What addresses take that take more than a form.
pub fn measures() -> Vec<Measure> {
    Vec::new()
}

async fn first(State(bay): State<Bay>) -> Response {
    aside(move || {
        let (cards, unread) = bay.cards();
        match bay.store().jobs() {
            Ok(jobs) => Html(index::page(&cards, &unread, &jobs).into_string()).into_response(),
            Err(error) => {
                let help = "Nothing is begun while the records cannot be read.";
                problem(StatusCode::INTERNAL_SERVER_ERROR, &error.to_string(), help)
            }
        }
    })
    .await
}

async fn nothing_here() -> Response {
    problem(StatusCode::NOT_FOUND, "There is nothing here", "Go to the list of jobs.")
}

/// Does what reads or writes a disk beside the threads that wait for the network.
pub(crate) async fn aside(work: impl FnOnce() -> Response + Send + 'static) -> Response {
    match tokio::task::spawn_blocking(work).await {
        Ok(response) => response,
        Err(_) => problem(
            StatusCode::INTERNAL_SERVER_ERROR,
            "A fault inside the program stopped this",
            "What was acknowledged is in the record. Load the page again to see where the job stands.",
        ),
    }
}
