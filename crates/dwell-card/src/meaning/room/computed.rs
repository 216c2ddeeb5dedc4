//! What is computed from rooms: a number and a number is a number, and with an interval it is an interval.

use super::{Room, widest};
use crate::meaning::value::{negated, plus, scaled};
use dwell_quantity::{Band, Exact};

impl Room {
    /// The sum of one of these and one of those; none where one of them may be any interval, which is not told apart.
    pub(in crate::meaning) fn plus(&self, other: &Room) -> Option<Room> {
        if self.wide || other.wide {
            return None;
        }
        // Where an interval ends is known of the sum only where the other one is one number.
        let one_number = |room: &Room| {
            let point = room.number.as_ref().is_some_and(|band| band.low.is_some() && band.low == band.high);
            point && !room.may_be_interval()
        };
        let endless = |room: &Room| room.span == Band::all();
        if !(endless(self) && endless(other) || one_number(self) || one_number(other)) {
            return None;
        }
        let span = match (one_number(self), one_number(other)) {
            (_, true) => other.number.as_ref().map(|by| plus(&self.span, by)),
            (true, _) => self.number.as_ref().map(|by| plus(&other.span, by)),
            _ => None,
        };
        let sum = |one: &Option<Band>, other: &Option<Band>| {
            one.as_ref().zip(other.as_ref()).map(|(one, other)| plus(one, other))
        };
        let side = |own: &Option<Band>, others: &Option<Band>| {
            let all = [sum(own, &other.number), sum(&self.number, others), sum(own, others)];
            all.into_iter().flatten().reduce(|one, other| widest(&one, &other))
        };
        // One without an upper end and one without a lower end: nothing is known of the sum.
        let endless =
            self.above.is_some() && other.below.is_some() || self.below.is_some() && other.above.is_some();
        let all = endless.then(Band::all);
        Some(Room {
            number: sum(&self.number, &other.number),
            span: span.unwrap_or_else(Band::all),
            above: all.clone().or_else(|| side(&self.above, &other.above)),
            below: all.or_else(|| side(&self.below, &other.below)),
            wide: false,
            missing: self.missing || other.missing,
        })
    }

    /// The same with the other sign.
    pub(in crate::meaning) fn negated(&self) -> Room {
        Room {
            number: self.number.as_ref().map(negated),
            span: negated(&self.span),
            above: self.below.as_ref().map(negated),
            below: self.above.as_ref().map(negated),
            ..self.clone()
        }
    }

    /// So many times this.
    pub(in crate::meaning) fn scaled(&self, by: &Exact) -> Room {
        if by.is_zero() {
            let zero = self.reach().map(|_| Band::exactly(Exact::zero()));
            let missing = self.missing;
            let none = Room { number: None, missing, ..Room::number(Band::all()) };
            return Room { number: zero, ..none };
        }
        let part = |part: &Option<Band>| part.as_ref().map(|part| scaled(part, &by.abs()));
        let room = Room {
            number: part(&self.number),
            span: scaled(&self.span, &by.abs()),
            above: part(&self.above),
            below: part(&self.below),
            ..self.clone()
        };
        if by.is_negative() { room.negated() } else { room }
    }
}
