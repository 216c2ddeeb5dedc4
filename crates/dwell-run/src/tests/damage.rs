//! Cards that were never proved, or were changed by hand: refused, never a panic, never without end.

use super::build::*;
use crate::{Answer, Prompt, Refusal, Session};
use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Node, Way};
use dwell_card::limit::Formula;

fn refused(card: Card) -> String {
    match Session::start(card, &[], NOW) {
        Err(Refusal::BrokenCard(what)) => what,
        other => panic!("{other:?}"),
    }
}

/// A card that begins with a branch whose condition always holds; without its ways.
fn forked() -> (Card, usize) {
    let mut card = tension(3);
    let condition =
        Condition { any: false, tests: Vec::new(), groups: Vec::new(), says: "nothing is asked".into() };
    let next = [(Way::No, 1)].into_iter().collect();
    card.nodes.push(Node { act: Act::Branch { condition }, frame: 0, step: None, next });
    let fork = card.nodes.len() - 1;
    card.nodes[0].next.insert(Way::Then, fork);
    (card, fork)
}

#[test]
fn a_flow_that_never_asks_is_refused() {
    let (mut card, fork) = forked();
    card.nodes[fork].next.insert(Way::Yes, 0);
    assert_eq!(refused(card), "it goes round without ever asking anything");
}

#[test]
fn a_way_that_is_missing_is_refused() {
    let (card, fork) = forked();
    assert_eq!(refused(card), format!("node {fork} has no way on for Yes"));
}

#[test]
fn a_reading_made_of_itself_is_refused() {
    let mut card = tension(3);
    card.readings[0].formula = Some(Formula::Latest(0));
    assert!(refused(card).contains("computed from itself"));
    let mut card = tension(3);
    for _ in 0..60 {
        let last = card.readings.len() - 1;
        let mut next = card.readings[last].clone();
        next.formula = Some(Formula::Plus(Box::new(Formula::Latest(last)), Box::new(Formula::Latest(last))));
        card.readings.push(next);
    }
    assert!(refused(card).contains("too many others"));
}

#[test]
fn a_kind_or_unit_that_is_not_known_is_refused() {
    let mut card = tension(3);
    card.readings[0].unit = "furlong".into();
    assert!(refused(card).contains("tension"));
    let mut card = tension(3);
    card.format = 2;
    assert!(refused(card).contains("format 2"));
}

/// Answers whatever is asked, a bounded number of times.
fn play_blindly(card: Card) {
    let Ok(mut session) = Session::start(card, &[], NOW) else { return };
    for round in 0..40 {
        let answer = match session.ask() {
            Prompt::Confirm(_) => Answer::Done,
            Prompt::Need { .. } => Answer::Yes,
            Prompt::Reading(reading) => {
                Answer::Value { text: "50".into(), unit: Some(reading.unit.symbol().into()) }
            }
            Prompt::Question(question) => Answer::Choice(question.values[0].clone()),
            Prompt::Sign(sign) => Answer::Signature(format!("person {}", sign.person)),
            Prompt::Done { .. } => return,
        };
        if round == 30 {
            let _ = session.stop("Enough.", NOW);
        } else if session.answer(answer, NOW).is_err() {
            return;
        }
    }
}

/// Every number of the card, one after another, made into a number that is nowhere.
#[test]
fn a_number_out_of_place_never_panics() {
    let mut session_cards = vec![tension(3)];
    session_cards.push({
        let mut card = tension(3);
        card.questions.push(dwell_card::Question {
            name: "noise".into(),
            text: "Noise?".into(),
            values: vec!["yes".into()],
        });
        let node = Node {
            act: Act::Ask { question: 0 },
            frame: 0,
            step: None,
            next: [(Way::Then, 1)].into_iter().collect(),
        };
        card.nodes.push(node);
        let last = card.nodes.len() - 1;
        card.nodes[0].next.insert(Way::Then, last);
        card
    });
    for card in session_cards {
        let text = card.to_json().unwrap();
        let mut tried = 0;
        for (at, _) in text.match_indices(|c: char| c.is_ascii_digit()) {
            for digit in ["7", "99"] {
                let mut changed = text.clone();
                changed.replace_range(at..=at, digit);
                if let Ok(card) = Card::from_json(&changed) {
                    play_blindly(card);
                    tried += 1;
                }
            }
        }
        assert!(tried > 30, "only {tried} of the changes are cards");
    }
}

#[test]
fn a_way_that_comes_to_no_end_is_refused() {
    let mut card = tension(3);
    card.nodes[0].next.insert(Way::Then, 0);
    assert_eq!(refused(card), "from node 0 no way leads to its end");
}

#[test]
fn a_way_past_the_list_of_what_is_put_back_is_refused() {
    let mut card = tension(3);
    let close = card.nodes.iter().position(|node| matches!(node.act, Act::Close)).unwrap();
    let check = card.nodes.iter().position(|node| matches!(node.act, Act::Judge(_))).unwrap();
    card.nodes[check].next.insert(Way::In, close);
    assert_eq!(refused(card), "frame 0 can be over without its list of what is put back");
    let mut card = tension(3);
    let list = card.nodes.iter().position(|node| matches!(node.act, Act::Restore)).unwrap();
    card.nodes[list].act = Act::Open;
    assert_eq!(refused(card), "frame 0 can be over without its list of what is put back");
}
