//! Which address does what. The door stands before all of them, and each knows its device from there.

mod begin;
mod job;
mod report;
mod stream;
mod watch;

use crate::access::Measure;
use crate::assets;
use crate::bay::Bay;
use crate::pages::{index, page, problem};
use axum::Router;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use axum::routing::{get, post};
use dwell_store::{MOST_PHOTO_BYTES, Sqlite};
use std::time::Duration;

/// All addresses, without the door before them.
pub fn router(bay: Bay) -> Router {
    Router::new()
        .route("/", get(first))
        .route("/bay.css", get(assets::style))
        .route("/bay.js", get(assets::script))
        .route("/begin/{card}", get(begin::shown).post(begin::sent))
        .route("/job/{job}", get(job::page))
        .route("/job/{job}/now", get(job::now))
        .route("/job/{job}/do", post(job::wish))
        .route("/job/{job}/take", get(job::take_page).post(job::take))
        .route("/job/{job}/photo", get(job::photo_page).post(job::photo))
        .route("/job/{job}/photo/{sha256}", get(job::picture))
        .route("/job/{job}/report", get(report::shown))
        .route("/job/{job}/report.html", get(report::printed))
        .route("/job/{job}/understood", get(job::understood))
        .route("/job/{job}/live", get(watch::live))
        .route("/job/{job}/stream", post(stream::sent))
        .route("/job/{job}/{side}", get(job::side))
        .fallback(nothing_here)
        .with_state(bay)
}

/// What addresses take that take more than a form.
pub fn measures() -> Vec<Measure> {
    let photo = Measure {
        path: "/job/{job}/photo",
        // The words that come with it need a little more.
        bytes: MOST_PHOTO_BYTES + 64 * 1024,
        within: Some(Duration::from_secs(180)),
        pause: Duration::from_secs(20),
    };
    // An instrument may send all day, and be silent for as long as a technician needs to get to it.
    let stream = Measure {
        path: "/job/{job}/stream",
        bytes: 256 << 20,
        within: None,
        pause: Duration::from_secs(300),
    };
    vec![photo, stream]
}

async fn first(State(bay): State<Bay>) -> Response {
    aside(move || {
        let (cards, unread) = bay.cards();
        match listed(&bay.store()) {
            Ok(jobs) => page("Jobs in the bay", index(&cards, &unread, &jobs)),
            Err(error) => {
                let help = "Nothing is begun while the records cannot be read.";
                problem(StatusCode::INTERNAL_SERVER_ERROR, &error.to_string(), help)
            }
        }
    })
    .await
}

/// All jobs; whoever has one open in a program that is gone has it no more.
fn listed(store: &Sqlite) -> Result<Vec<dwell_store::Job>, dwell_store::StoreError> {
    let mut jobs = store.jobs_from(None)?;
    for job in &mut jobs {
        if let Some(held) = &job.held {
            let seen = store.job(job.number, held.by.device.as_deref())?;
            job.held = seen.held.filter(|held| !held.gone);
        }
    }
    Ok(jobs)
}

async fn nothing_here() -> Response {
    not_found()
}

/// The same for what is not there and for what is nobody's business.
fn not_found() -> Response {
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
