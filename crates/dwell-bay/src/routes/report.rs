//! The report of a job: as plain text in the page, and as a page of its own to print and to keep.

use super::job::with;
use crate::access::Standing;
use crate::bay::{Bay, Trouble};
use crate::device::Device;
use crate::form::{Fields, field};
use crate::job::Job;
use crate::pages::{page, problem, report};
use axum::extract::{Extension, Path, Query, State};
use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Response};
use dwell_page::Paper;
use dwell_record::What;
use dwell_store::Records;

/// As text.
pub(super) async fn shown(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
) -> Response {
    with(bay, number, move |_, job| {
        let look = job.look(&device);
        page(&format!("Report of job {}", look.number), report(&look))
    })
    .await
}

/// As `dwell records report` writes it, from what is on the disk.
pub(super) async fn printed(
    State(bay): State<Bay>,
    Path(number): Path<String>,
    Query(fields): Query<Fields>,
) -> Response {
    let paper = if field(&fields, "paper") == "letter" { Paper::Letter } else { Paper::A4 };
    with(bay, number, move |bay, job| match printable(bay, &job, paper) {
        Ok(text) => (Extension(Standing), Html(text)).into_response(),
        Err(trouble) => problem(
            StatusCode::INTERNAL_SERVER_ERROR,
            &trouble.to_string(),
            "The job is as it is in the record. `dwell records verify` looks into it.",
        ),
    })
    .await
}

fn printable(bay: &Bay, job: &Job, paper: Paper) -> Result<String, Trouble> {
    let store = bay.store();
    let record = store.record(job.number())?;
    let mut photos = Vec::new();
    for event in &record.events {
        if let What::PhotoTaken(photo) = &event.what
            && let Some(bytes) = store.photo(&photo.sha256)?
        {
            photos.push((photo.sha256.clone(), bytes));
        }
    }
    drop(store);
    let job = dwell_page::Job {
        number: Some(job.number().0),
        events: &record.events,
        last: record.last.as_ref(),
        photos: &photos,
    };
    Ok(dwell_page::report(&job, paper))
}
