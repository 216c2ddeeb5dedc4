//! Beginning a job: the card by its hash, the vehicle's number with its check digit, the variants, the person.

use super::{aside, not_found};
use crate::bay::{Bay, Offered};
use crate::clock::now;
use crate::device::Device;
use crate::form::{Fields, field, plain};
use crate::pages::{begin, page};
use axum::extract::{Extension, Form, Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use dwell_record::{Hash, Vehicle, Vin};
use std::sync::atomic::{AtomicU64, Ordering};

/// A name for one showing of the form.
fn once(device: &Device) -> String {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    let count = COUNT.fetch_add(1, Ordering::Relaxed);
    Hash::of(format!("{} {} {count} {}", now(), device.key, std::process::id()).as_bytes()).to_string()
}

fn offered(bay: &Bay, sha256: &str) -> Option<Offered> {
    bay.cards().0.into_iter().find(|offered| offered.sha256 == sha256)
}

/// The form.
pub(super) async fn shown(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(card): Path<String>,
) -> Response {
    aside(move || match offered(&bay, &card) {
        Some(card) => {
            let title = card.card.title.clone();
            page(&title, begin(&card, &device, &Fields::new(), None, None, &once(&device)))
        }
        None => not_found(),
    })
    .await
}

/// The form as it was sent.
pub(super) async fn sent(
    State(bay): State<Bay>,
    Extension(device): Extension<Device>,
    Path(card): Path<String>,
    Form(fields): Form<Fields>,
) -> Response {
    aside(move || {
        let Some(card) = offered(&bay, &card) else { return not_found() };
        match begun(&bay, &card, device.clone(), &fields) {
            Ok(number) => Redirect::to(&format!("/job/{number}")).into_response(),
            Err((why, seen)) => {
                let once = once(&device);
                let body = begin(&card, &device, &fields, Some(&why), seen.as_deref(), &once);
                (StatusCode::UNPROCESSABLE_ENTITY, page(&card.card.title, body)).into_response()
            }
        }
    })
    .await
}

/// The number of the job; or why it was not begun, with the vehicle's number where its check digit was told.
fn begun(
    bay: &Bay,
    offered: &Offered,
    device: Device,
    fields: &Fields,
) -> Result<dwell_store::JobNumber, (String, Option<String>)> {
    let refuse = |why: String| (why, None);
    let typed: String = field(fields, "vin").chars().filter(|c| !c.is_whitespace()).collect();
    let vin = match typed.as_str() {
        "" => None,
        typed => Some(Vin::parse(typed).map_err(|error| refuse(format!("`{typed}`: {error}")))?),
    };
    if let Some(vin) = &vin
        && let Err(wrong) = vin.check()
        && field(fields, "seen") != vin.to_string()
    {
        let words = format!(
            "the vehicle's number {vin} is in doubt: {wrong}. Read it again from the plate. Outside North America the check digit \
             is not compulsory: begin once more with this number, and the record notes that it does not fit"
        );
        return Err((words, Some(vin.to_string())));
    }
    let variants: Vec<(String, String)> = fields
        .iter()
        .filter_map(|(name, value)| Some((name.strip_prefix("variant.")?.to_owned(), value.clone())))
        .collect();
    let person = plain(field(fields, "person"));
    if person.is_empty() {
        return Err(refuse("say who works: the record keeps the name".to_owned()));
    }
    let device = Device { person: Some(person), ..device };
    let vehicle = vin.as_ref().map(Vehicle::from);
    bay.begin(&offered.card, &variants, vehicle, &device, field(fields, "once"))
        .map_err(|error| refuse(error.to_string()))
}
