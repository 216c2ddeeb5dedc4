//! Where the boxes of a chart stand and how its ways run.
//!
//! A way runs straight down from below its box to the box it leads to, on the line of that box's indentation, where nothing
//! stands between that is not indented deeper. To a further box of the same depth it runs left of those before it, and enters
//! from the left. Every other way, on past boxes or back, runs in a lane right of all boxes.

use super::boxes::{Box, Chart, Kind};

/// How far one depth is indented.
const INDENT: f64 = 84.0;
/// Where a way leaves or enters a box, from its left edge.
const PORT: f64 = 18.0;
/// The width of the boxes that are not indented.
const WIDE: f64 = 640.0;
/// How far left of a box the way runs that enters it from the left.
const TRUNK: f64 = 14.0;
/// The least width of a box.
const LEAST: f64 = 260.0;
/// The free room between two rows.
const GAP: f64 = 26.0;
/// The way from lane to lane.
const LANE: f64 = 16.0;
/// The height of a line of letters, and the width of one letter at most, on the average.
pub(crate) const LINE: f64 = 17.0;
const LETTER: f64 = 7.4;
/// The room above and below the letters of a box.
const INNER: f64 = 9.0;
/// What the words of a way that leaves at the right take from the box.
const RIGHT_WORDS: f64 = 150.0;

/// A box with its place.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Placed {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) wide: f64,
    pub(crate) high: f64,
    /// Its words, line by line; true for its first words.
    pub(crate) lines: Vec<(String, bool)>,
}

/// A way with the points that it runs over.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Route {
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) label: String,
    pub(crate) points: Vec<(f64, f64)>,
    /// Whether it leads back.
    pub(crate) back: bool,
    /// Where its words stand, and whether they end there.
    pub(crate) words_at: (f64, f64, bool),
}

/// The whole.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Layout {
    pub(crate) boxes: Vec<Placed>,
    pub(crate) routes: Vec<Route>,
    pub(crate) wide: f64,
    pub(crate) high: f64,
}

/// How a way runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Runs {
    /// Straight down, or out of its arm and down.
    Down,
    /// Down past others of the same depth.
    Past,
    /// In a lane at the right.
    Beside,
}

/// Places a chart.
pub(crate) fn place(chart: &Chart) -> Layout {
    let depth = |place: usize| chart.boxes.get(place).map_or(0, |one| one.depth);
    let deepest = chart.boxes.iter().map(|one| one.depth).max().unwrap_or_default();
    #[allow(clippy::cast_precision_loss)] // Depths are small.
    let left = |depth: usize| 1.0 + depth as f64 * INDENT;
    let right = (left(deepest) + LEAST).max(WIDE);
    let between = |from: usize, to: usize, least: usize| (from + 1..to).all(|row| depth(row) >= least);
    let runs = |from: usize, to: usize| match (depth(from), depth(to)) {
        _ if to <= from => Runs::Beside,
        (_, inner) if between(from, to, inner + 1) => Runs::Down,
        (outer, inner) if outer < inner && between(from, to, inner) => Runs::Past,
        _ => Runs::Beside,
    };
    let beside = |from: usize, to: usize| runs(from, to) == Runs::Beside;
    let mut boxes = Vec::new();
    let mut y = 4.0;
    for (row, one) in chart.boxes.iter().enumerate() {
        let x = left(one.depth);
        let leaves_right =
            chart.edges.iter().any(|edge| edge.from == row && beside(row, edge.to) && !edge.label.is_empty());
        let room = right - x - 2.0 * PORT - if leaves_right { RIGHT_WORDS } else { 0.0 };
        let lines = lines(one, room);
        #[allow(clippy::cast_precision_loss)] // As many lines as a box has.
        let high = lines.len() as f64 * LINE + 2.0 * INNER;
        boxes.push(Placed { x, y, wide: right - x, high, lines });
        y += high + GAP;
    }
    // One lane for each box that is led to from the side, the shorter ways nearer.
    let mut targets: Vec<(usize, usize, usize)> = Vec::new();
    for edge in chart.edges.iter().filter(|edge| beside(edge.from, edge.to)) {
        let (top, bottom) = (edge.from.min(edge.to), edge.from.max(edge.to));
        match targets.iter_mut().find(|(to, _, _)| *to == edge.to) {
            Some((_, low, high)) => (*low, *high) = ((*low).min(top), (*high).max(bottom)),
            None => targets.push((edge.to, top, bottom)),
        }
    }
    targets.sort_by_key(|(to, top, bottom)| (bottom - top, *to));
    let mut lanes: Vec<Vec<(usize, usize, usize)>> = Vec::new();
    for target in targets {
        let free = |lane: &&mut Vec<(usize, usize, usize)>| {
            lane.iter().all(|(_, top, bottom)| *bottom < target.1 || target.2 < *top)
        };
        match lanes.iter_mut().find(free) {
            Some(lane) => lane.push(target),
            None => lanes.push(vec![target]),
        }
    }
    #[allow(clippy::cast_precision_loss)] // There are never more lanes than boxes.
    let lane_of = |to: usize| {
        let lane = lanes.iter().position(|lane| lane.iter().any(|(known, _, _)| *known == to));
        right + 14.0 + lane.unwrap_or_default() as f64 * LANE
    };
    let routes = chart.edges.iter().filter_map(|edge| {
        let (from, to) = (boxes.get(edge.from)?, boxes.get(edge.to)?);
        let bottom = from.y + from.high;
        if beside(edge.from, edge.to) {
            let (out, lane) = (from.y + from.high - 10.0, lane_of(edge.to));
            let into = to.y + 10.0;
            let points = vec![(right, out), (lane, out), (lane, into), (right, into)];
            let words_at = (right - 14.0, out - 2.0, true);
            return Some(route(edge, points, words_at));
        }
        if runs(edge.from, edge.to) == Runs::Past {
            let (trunk, into) = (to.x - TRUNK, to.y + to.high / 2.0);
            let points = vec![(trunk, bottom), (trunk, into), (to.x, into)];
            return Some(route(edge, points, (trunk + 6.0, to.y - 6.0, false)));
        }
        let port = to.x + PORT;
        let words_at = (port.max(from.x + PORT) + 7.0, bottom + 15.0, false);
        let points = if port >= from.x {
            vec![(port, bottom), (port, to.y)]
        } else {
            // Out of its arm, to the line of the box that it leads to.
            let (start, turn) = (from.x + PORT, bottom + GAP - 9.0);
            vec![(start, bottom), (start, turn), (port, turn), (port, to.y)]
        };
        Some(route(edge, points, words_at))
    });
    let routes = routes.collect();
    #[allow(clippy::cast_precision_loss)]
    let wide = right + 14.0 + lanes.len() as f64 * LANE;
    Layout { boxes, routes, wide, high: y - GAP + 6.0 }
}

fn route(edge: &super::boxes::Edge, points: Vec<(f64, f64)>, words_at: (f64, f64, bool)) -> Route {
    let back = edge.to <= edge.from;
    Route { from: edge.from, to: edge.to, label: edge.label.clone(), points, back, words_at }
}

/// The words of a box in lines that fit.
fn lines(one: &Box, room: f64) -> Vec<(String, bool)> {
    let lead = match one.kind {
        Kind::Ended(result) => super::draw::mark(result),
        _ => "",
    };
    let title = if lead.is_empty() { one.title.clone() } else { format!("{lead} {}", one.title) };
    let first = wrapped(&title, room).into_iter().map(|line| (line, true));
    let more = if one.more.is_empty() { Vec::new() } else { wrapped(&one.more, room) };
    first.chain(more.into_iter().map(|line| (line, false))).collect()
}

/// A text in lines of at most so much room; a word that is too long is cut.
pub(crate) fn wrapped(text: &str, room: f64) -> Vec<String> {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Room is a few hundred.
    let most = ((room / LETTER) as usize).max(8);
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    let letters = |text: &str| text.chars().count();
    for word in text.split_whitespace() {
        let mut word = word.to_owned();
        if !line.is_empty() && letters(&line) + 1 + letters(&word) > most {
            lines.push(std::mem::take(&mut line));
        }
        while letters(&word) > most {
            let rest: String = word.chars().skip(most).collect();
            lines.push(word.chars().take(most).collect());
            word = rest;
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&word);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests;
