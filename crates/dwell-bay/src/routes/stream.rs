//! What an instrument, or the program beside it, sends: one value on each line, for as long as it likes.

use super::job::with;
use crate::bay::Bay;
use crate::job::Line;
use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use dwell_store::JobNumber;
use tokio_stream::StreamExt;

/// The longest line, in bytes.
const LONGEST: usize = 200;

/// The lines. The answer says how many were shown, and how many came while no reading was asked for.
pub(super) async fn sent(State(bay): State<Bay>, Path(number): Path<String>, body: Body) -> Response {
    let known = with(bay.clone(), number.clone(), |_, _| StatusCode::OK.into_response()).await;
    if known.status() != StatusCode::OK {
        return known;
    }
    let Some(job) = number.parse().ok().map(JobNumber).and_then(|number| bay.job(number).ok()) else {
        return StatusCode::NOT_FOUND.into_response();
    };
    let (mut shown, mut dropped) = (0_u64, 0_u64);
    let mut rest: Vec<u8> = Vec::new();
    let mut pieces = body.into_data_stream();
    while let Some(piece) = pieces.next().await {
        // The connection is gone: what came is shown, and the silence after it counts as none.
        let Ok(piece) = piece else { break };
        rest.extend_from_slice(&piece);
        while let Some(end) = rest.iter().position(|byte| *byte == b'\n') {
            let line: Vec<u8> = rest.drain(..=end).collect();
            let line = String::from_utf8_lossy(&line).trim().to_owned();
            match job.sent(&line) {
                _ if line.is_empty() => {}
                Line::Shown => shown += 1,
                Line::NotAsked => dropped += 1,
                Line::Wrong(why) => {
                    return (StatusCode::UNPROCESSABLE_ENTITY, format!("after {shown} values: {why}\n"))
                        .into_response();
                }
            }
        }
        if rest.len() > LONGEST {
            return (StatusCode::PAYLOAD_TOO_LARGE, "a line is too long: one value stands on each\n")
                .into_response();
        }
    }
    format!("{shown} values shown, {dropped} came while no reading was asked for\n").into_response()
}
