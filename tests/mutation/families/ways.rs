//! Breaks of the ways through a procedure: what is never reached, never ends, or has no way on.

use dwell_syntax::tree::{Arm, Span, StatementKind};

use super::Mutator;
use crate::mutation::broken::Broken;
use crate::mutation::ground::{Ground, Source};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("unreachable", unreachable),
    ("endless", endless),
    ("out-unhandled", out_unhandled),
    ("no-way-out", no_way_out),
];

/// Something stands after an end.
fn unreachable(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        if matches!(spot.statement().kind, StatementKind::End { .. } | StatementKind::Refer { .. }) {
            let end = spot.statement().span.end;
            let line = "\n                note \"Keep the old part for the customer.\"";
            all.push(spot.source.broken("a note after the end").put(end, line));
        }
    }
    all
}

/// The number of times is lost.
fn endless(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let times = match &spot.statement().kind {
            StatementKind::Adjust { times, .. } | StatementKind::Back { times, .. } => times,
            _ => continue,
        };
        let Some(times) = times else { continue };
        let (before, after) = ("up to ".len(), " times".len());
        let span = Span { start: times.span.start - before, end: times.span.end + after };
        if spot.source.of(span).starts_with("up to ") {
            all.push(spot.source.broken("nothing says how often").cut(span));
        }
    }
    all
}

/// The arms from this one on.
fn arms(source: &Source, arms: &[Arm]) -> Option<Span> {
    let (first, last) = (arms.first()?, arms.last()?);
    Some(source.lines(first.span.to(last.span)))
}

/// What to do when a reading is out is lost: all of it, or the arm for all that is left.
fn out_unhandled(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let StatementKind::Expect { otherwise, .. } = &spot.statement().kind else { continue };
        let statement = spot.statement().span;
        let mut lose = |lost: &[Arm], what: &str| {
            let Some(span) = arms(spot.source, lost) else { return };
            // The finding stands at what is expected, which is where the statement begins.
            let broken = spot.source.broken(what).cut(span);
            all.push(broken.put(statement.start, "").near(crate::mutation::broken::Near::Line));
        };
        lose(otherwise, "nothing says what to do when it is out");
        if otherwise.len() > 1 {
            let last = &otherwise[otherwise.len() - 1..];
            if last[0].side.is_none() {
                lose(last, "nothing says what to do in all other cases");
            }
        }
    }
    all
}

/// What to do when the last try has failed is lost.
fn no_way_out(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for spot in ground.spots() {
        let otherwise = match &spot.statement().kind {
            StatementKind::Adjust { otherwise, .. } | StatementKind::Back { otherwise, .. } => otherwise,
            _ => continue,
        };
        if let Some(span) = arms(spot.source, otherwise) {
            let broken = spot.source.broken("nothing says what to do when the last try has failed").cut(span);
            all.push(broken.put(spot.statement().span.start, ""));
        }
    }
    all
}
