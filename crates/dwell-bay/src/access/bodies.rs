//! What a request may bring, and how slowly; and answers that stay open only as long as the device may be here.

use super::roster::Let;
use axum::BoxError;
use axum::body::{Body, Bytes};
use http_body_util::Limited;
use hyper::body::{Body as HttpBody, Frame, SizeHint};
use std::fmt;
use std::future::Future;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::time::{Instant, Sleep, sleep};

/// How much the requests to one address may bring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Measure {
    /// The address as the router knows it, `/jobs/{job}/photo`.
    pub path: &'static str,
    /// The most, in bytes.
    pub bytes: usize,
    /// Within how long all of it must be here; `None` for one that is meant to go on.
    pub within: Option<Duration>,
    /// The longest pause between two pieces.
    pub pause: Duration,
}

/// What holds for every address that has no measure of its own: a form.
pub(crate) const USUAL: Measure = Measure {
    path: "",
    bytes: 64 * 1024,
    within: Some(Duration::from_secs(20)),
    pause: Duration::from_secs(10),
};

type Ending = Pin<Box<dyn Future<Output = ()> + Send>>;

/// What a request brings, measured.
pub(crate) struct Measured {
    inside: Limited<Body>,
    end: Option<Pin<Box<Sleep>>>,
    pause: Pin<Box<Sleep>>,
    longest: Duration,
    /// None for a device that is only about to be let in.
    until: Option<Ending>,
    slow: Arc<AtomicBool>,
}

impl Measured {
    /// Measures a body; the flag tells afterwards whether it was too slow.
    pub(crate) fn new(inside: Body, measure: Measure, who: Option<&Let>) -> (Measured, Arc<AtomicBool>) {
        let slow = Arc::new(AtomicBool::new(false));
        let measured = Measured {
            inside: Limited::new(inside, measure.bytes),
            end: measure.within.map(|within| Box::pin(sleep(within))),
            pause: Box::pin(sleep(measure.pause)),
            longest: measure.pause,
            until: who.map(ending),
            slow: slow.clone(),
        };
        (measured, slow)
    }
}

impl HttpBody for Measured {
    type Data = Bytes;
    type Error = BoxError;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, BoxError>>> {
        if let Poll::Ready(frame) = Pin::new(&mut self.inside).poll_frame(context) {
            let longest = self.longest;
            self.pause.as_mut().reset(Instant::now() + longest);
            return Poll::Ready(frame);
        }
        if self.until.as_mut().is_some_and(|until| until.as_mut().poll(context).is_ready()) {
            return Poll::Ready(Some(Err(Box::new(Broken("this device may no longer come in")))));
        }
        let late = self.end.as_mut().is_some_and(|end| end.as_mut().poll(context).is_ready());
        if late || self.pause.as_mut().poll(context).is_ready() {
            self.slow.store(true, Ordering::Relaxed);
            return Poll::Ready(Some(Err(Box::new(Broken("it came too slowly")))));
        }
        Poll::Pending
    }

    fn is_end_stream(&self) -> bool {
        self.inside.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.inside.size_hint()
    }
}

/// An answer that ends when the device is shut out, or the server ends.
pub(crate) struct While {
    inside: Body,
    until: Ending,
}

impl While {
    pub(crate) fn new(inside: Body, who: &Let) -> While {
        While { inside, until: ending(who) }
    }
}

impl HttpBody for While {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        if self.until.as_mut().poll(context).is_ready() {
            return Poll::Ready(None);
        }
        Pin::new(&mut self.inside).poll_frame(context)
    }

    fn is_end_stream(&self) -> bool {
        self.inside.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.inside.size_hint()
    }
}

/// Done when the other end is dropped.
fn ending(who: &Let) -> Ending {
    let mut until = who.until.clone();
    Box::pin(async move { while until.changed().await.is_ok() {} })
}

/// Why no more of a request is read.
#[derive(Debug)]
struct Broken(&'static str);

impl fmt::Display for Broken {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.0)
    }
}

impl std::error::Error for Broken {}
