//! What a screen is told as it happens: server-sent events, one stream for each screen.
//!
//! `moment` names the moment of the job, `live` brings what an instrument shows, `beat` the clock of this machine every few
//! seconds, so that a screen that hears nothing knows that it has lost the connection.

use super::job::with;
use crate::bay::Bay;
use crate::clock::{millis, now};
use crate::job::{Job, Live};
use crate::pages::place;
use axum::extract::{Path, State};
use axum::response::sse::{Event, Sse};
use axum::response::{IntoResponse, Response};
use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;
use tokio::time::interval;
use tokio_stream::StreamExt;
use tokio_stream::wrappers::{IntervalStream, WatchStream};

/// How often the clock is told.
const BEAT: Duration = Duration::from_secs(3);

/// The stream.
pub(super) async fn live(State(bay): State<Bay>, Path(number): Path<String>) -> Response {
    with(bay, number, |bay, job| stream(bay.clone(), job)).await
}

fn stream(bay: Bay, job: Arc<Job>) -> Response {
    let moments = WatchStream::new(job.turned()).map(|moment| Event::default().event("moment").data(moment));
    let live = WatchStream::new(job.live()).map(|live| Event::default().event("live").data(shown(live)));
    let beats = IntervalStream::new(interval(BEAT)).then(move |_| {
        let (bay, job) = (bay.clone(), job.clone());
        async move {
            // Somebody at a terminal may have written the job meanwhile.
            let again = job.clone();
            let _ = tokio::task::spawn_blocking(move || again.look_again(&bay)).await;
            // With the moment, so that a screen that missed one is right again.
            Event::default().event("beat").data(format!(
                "{} {}",
                millis(&now()),
                job.turned().borrow().as_str()
            ))
        }
    });
    let all = moments.merge(live).merge(beats).map(Ok::<Event, Infallible>);
    Sse::new(all).into_response()
}

/// What an instrument shows, as JSON: its name, the value, its place on the drawing, how it stands, what the button says.
fn shown(live: Option<Live>) -> String {
    let Some(live) = live else { return "null".to_owned() };
    let at = live.spot.map(|spot| place(spot, live.ends.0, live.ends.1));
    let Live { name, shown, stands, take, .. } = live;
    serde_json::json!({ "name": name, "shown": shown, "at": at, "stands": stands, "take": take }).to_string()
}
