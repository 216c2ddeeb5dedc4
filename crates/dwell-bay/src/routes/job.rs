//! The addresses of one job: its page, its moment, what is wished, its photos.

use super::{aside, not_found};
use crate::bay::{Bay, Trouble};
use crate::device::Device;
use crate::form::{Fields, Wish, field, plain};
use crate::job::{Job, Said};
use crate::pages::{Around, Side, fragment, job as job_page, page as whole, problem, side as side_page};
use axum::body::Bytes;
use axum::extract::{Extension, Form, Multipart, Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, HeaderMap};
use axum::response::{Html, IntoResponse, Redirect, Response};
use dwell_store::{JobNumber, Trouble as Stored};
use std::sync::Arc;

/// The header by which the script asks for the moment alone.
const MOMENT: &str = "x-bay-moment";

/// Does something with a job that is there, aside.
pub(super) async fn with(
    bay: Bay,
    number: String,
    work: impl FnOnce(&Bay, Arc<Job>) -> Response + Send + 'static,
) -> Response {
    aside(move || {
        let Some(number) = number.parse().ok().filter(|number| *number > 0).map(JobNumber) else {
            return not_found();
        };
        match bay.job(number) {
            Ok(job) => work(&bay, job),
            Err(Trouble::Store(error)) if matches!(error.trouble, Stored::NoSuchJob { .. }) => not_found(),
            Err(trouble) => problem(
                StatusCode::INTERNAL_SERVER_ERROR,
                &trouble.to_string(),
                "The job is as it is in the record. `dwell records verify` looks into it.",
            ),
        }
    })
    .await
}

fn shown(bay: &Bay, job: &Job, device: &Device, said: Option<&str>, alone: bool) -> Response {
    let look = job.look(device);
    let (cards, _) = bay.cards();
    let around = Around { cards: &cards, tools: bay.tools(), said };
    let markup = if alone { fragment(&look, &around) } else { job_page(&look, &around) };
    Html(markup.into_string()).into_response()
}

/// The page.
pub(super) async fn page(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
) -> Response {
    with(bay, number, move |bay, job| {
        // What cannot be read again is shown as it was; writing will say what is wrong.
        let _ = job.look_again(bay);
        shown(bay, &job, &device, None, false)
    })
    .await
}

/// The moment alone.
pub(super) async fn now(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
) -> Response {
    with(bay, number, move |bay, job| shown(bay, &job, &device, None, true)).await
}

/// What a device wishes.
pub(super) async fn wish(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
    headers: HeaderMap,
    Form(fields): Form<Fields>,
) -> Response {
    let alone = headers.contains_key(MOMENT);
    with(bay, number, move |bay, job| match job.wish(bay, &device, &Wish::of(&fields)) {
        Said::Done if alone => shown(bay, &job, &device, None, true),
        Said::Done => Redirect::to(&format!("/job/{}", job.number())).into_response(),
        Said::Not(words) => {
            (StatusCode::CONFLICT, shown(bay, &job, &device, Some(&words), alone)).into_response()
        }
    })
    .await
}

/// The pages beside the question.
pub(super) async fn side(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path((number, name)): Path<(String, String)>,
) -> Response {
    match Side::named(&name) {
        Some(which) => beside(bay, device, number, which).await,
        None => not_found(),
    }
}

/// Taking it in hand.
pub(super) async fn take_page(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
) -> Response {
    beside(bay, device, number, Side::Take).await
}

/// Taking a photo.
pub(super) async fn photo_page(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
) -> Response {
    beside(bay, device, number, Side::Photo).await
}

async fn beside(bay: Bay, device: Device, number: String, which: Side) -> Response {
    with(bay, number, move |bay, job| {
        let look = job.look(&device);
        let title = look.session.card().title.clone();
        whole(&title, side_page(&look, which, &device, bay.tools().is_some()))
    })
    .await
}

/// A device takes the job in hand.
pub(super) async fn take(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
    Form(fields): Form<Fields>,
) -> Response {
    with(bay, number, move |bay, job| {
        let person = Some(plain(field(&fields, "name"))).filter(|name| !name.is_empty());
        let device = Device { person: person.or(device.person), ..device };
        match job.take(bay, &device, field(&fields, "over") == "yes") {
            Ok(()) => Redirect::to(&format!("/job/{}", job.number())).into_response(),
            Err(trouble) => {
                let words = format!("not taken in hand: {trouble}");
                (StatusCode::CONFLICT, shown(bay, &job, &device, Some(&words), false)).into_response()
            }
        }
    })
    .await
}

/// A photo is sent.
pub(super) async fn photo(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(number): Path<String>,
    mut parts: Multipart,
) -> Response {
    let (mut picture, mut text) = (Bytes::new(), String::new());
    loop {
        match parts.next_field().await {
            Ok(Some(part)) if part.name() == Some("file") => match part.bytes().await {
                Ok(bytes) => picture = bytes,
                Err(error) => return too_much(&error.body_text()),
            },
            Ok(Some(part)) if part.name() == Some("text") => text = part.text().await.unwrap_or_default(),
            Ok(Some(_)) => {}
            Ok(None) => break,
            Err(error) => return too_much(&error.body_text()),
        }
    }
    with(bay, number, move |bay, job| match job.photo(bay, &device, &picture, &text) {
        Said::Done => Redirect::to(&format!("/job/{}", job.number())).into_response(),
        Said::Not(words) => {
            (StatusCode::UNPROCESSABLE_ENTITY, shown(bay, &job, &device, Some(&words), false)).into_response()
        }
    })
    .await
}

fn too_much(why: &str) -> Response {
    let what = format!("The photo was not taken: {why}");
    problem(StatusCode::PAYLOAD_TOO_LARGE, &what, "Take it with fewer pixels: at most 16 MiB are kept.")
}

/// A photo of a job.
pub(super) async fn picture(
    State(bay): State<Bay>,
    Path((number, sha256)): Path<(String, String)>,
) -> Response {
    with(bay, number, move |bay, job| {
        let Some(media) = job.has_photo(&sha256) else { return not_found() };
        let found = bay.store().photo(&sha256);
        match found {
            Ok(Some(bytes)) => ([(CONTENT_TYPE, media)], bytes).into_response(),
            Ok(None) => not_found(),
            Err(error) => problem(
                StatusCode::INTERNAL_SERVER_ERROR,
                &error.to_string(),
                "The photo cannot be shown just now.",
            ),
        }
    })
    .await
}

/// What a text would be taken as.
pub(super) async fn understood(
    State(bay): State<Bay>,
    Path(number): Path<String>,
    Query(fields): Query<Fields>,
) -> Response {
    with(bay, number, move |_, job| {
        ([(CONTENT_TYPE, "text/plain; charset=utf-8")], job.understood(field(&fields, "text")))
            .into_response()
    })
    .await
}
