//! Charts as they are placed: nothing lies on anything else, and every way ends at its boxes.

use super::super::boxes::{Box, Chart, Edge, Kind};
use super::{Layout, Placed, place, wrapped};

/// Numbers that look random and are the same each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % most.max(1) as u64).unwrap()
    }
}

fn chart(seed: u64) -> Chart {
    let mut dice = Dice(seed);
    let mut depth = 0;
    let kinds = [Kind::Step, Kind::Decision, Kind::Ended("failed"), Kind::Performed, Kind::Loop];
    let boxes: Vec<Box> = (0..2 + dice.below(40))
        .map(|row| {
            depth = if row == 0 { 0 } else { dice.below(depth + 2).min(6) };
            Box {
                node: Some(row),
                kind: kinds[dice.below(kinds.len())],
                title: "word ".repeat(1 + dice.below(30)),
                more: "more ".repeat(dice.below(3)),
                depth,
            }
        })
        .collect();
    let mut edges: Vec<Edge> = (0..dice.below(60))
        .map(|_| Edge {
            from: dice.below(boxes.len()),
            to: dice.below(boxes.len()),
            label: "yes".repeat(dice.below(2)),
        })
        .collect();
    edges.sort();
    edges.dedup_by(|one, other| one.from == other.from && one.to == other.to);
    Chart { boxes, edges }
}

/// Whether a point lies on the edge of a box.
fn on_edge(one: &Placed, (x, y): (f64, f64)) -> bool {
    let near = |one: f64, other: f64| (one - other).abs() < 0.01;
    let across = one.x - 0.01 <= x && x <= one.x + one.wide + 0.01;
    let along = one.y - 0.01 <= y && y <= one.y + one.high + 0.01;
    (across && (near(y, one.y) || near(y, one.y + one.high)))
        || (along && (near(x, one.x) || near(x, one.x + one.wide)))
}

/// Whether a part of a way, which is level or upright, runs through the inside of a box.
fn through(one: &Placed, (from, to): ((f64, f64), (f64, f64))) -> bool {
    let (left, right) = (from.0.min(to.0), from.0.max(to.0));
    let (top, bottom) = (from.1.min(to.1), from.1.max(to.1));
    right > one.x + 0.5
        && left < one.x + one.wide - 0.5
        && bottom > one.y + 0.5
        && top < one.y + one.high - 0.5
}

#[test]
fn no_box_lies_on_another_and_every_way_runs_from_box_to_box_past_all_others() {
    for seed in 0..400 {
        let chart = chart(seed);
        let Layout { boxes, routes, wide, high } = place(&chart);
        assert_eq!(boxes.len(), chart.boxes.len());
        assert_eq!(routes.len(), chart.edges.len());
        for two in boxes.windows(2) {
            assert!(two[0].y + two[0].high < two[1].y, "seed {seed}");
        }
        for one in &boxes {
            assert!(one.x >= 0.0 && one.x + one.wide <= wide && one.y + one.high <= high, "seed {seed}");
        }
        for route in &routes {
            let ends =
                [(route.from, *route.points.first().unwrap()), (route.to, *route.points.last().unwrap())];
            for (place, point) in ends {
                assert!(on_edge(&boxes[place], point), "seed {seed}: {route:?} {:?}", boxes[place]);
            }
            for (place, one) in boxes.iter().enumerate() {
                for two in route.points.windows(2) {
                    assert!(
                        two[0].0 == two[1].0 || two[0].1 == two[1].1,
                        "seed {seed}: {route:?} is not square"
                    );
                    assert!(
                        !through(one, (two[0], two[1])),
                        "seed {seed}: {route:?} runs through box {place}"
                    );
                }
            }
            assert!(route.points.iter().all(|(x, y)| (0.0..=wide).contains(x) && (0.0..=high).contains(y)));
        }
    }
}

#[test]
fn the_same_chart_is_placed_in_the_same_way() {
    for seed in 0..20 {
        assert_eq!(place(&chart(seed)), place(&chart(seed)));
    }
}

#[test]
fn ways_that_only_share_a_lane_never_meet_in_it() {
    for seed in 0..400 {
        let chart = chart(seed);
        let layout = place(&chart);
        let lanes = layout
            .routes
            .iter()
            .filter(|route| route.points.len() == 4 && route.points[0].1 == route.points[1].1);
        let lanes: Vec<_> = lanes.collect();
        for (at, one) in lanes.iter().enumerate() {
            for other in &lanes[at + 1..] {
                let same = one.points[1].0 == other.points[1].0 && one.to != other.to;
                let span = |route: &super::Route| {
                    (route.points[1].1.min(route.points[2].1), route.points[1].1.max(route.points[2].1))
                };
                let ((top, bottom), (upper, lower)) = (span(one), span(other));
                assert!(!same || bottom < upper || lower < top, "seed {seed}: {one:?} {other:?}");
            }
        }
    }
}

#[test]
fn words_fit_their_room_and_none_is_lost() {
    for room in [10.0, 60.0, 200.0] {
        let text = "a screwdriver for the carburettor-adjusting-screw of the Merle";
        let lines = wrapped(text, room);
        assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
        assert!(
            lines.iter().all(|line| line.chars().count() <= ((room / super::LETTER) as usize).max(8)),
            "{lines:?}"
        );
    }
}
