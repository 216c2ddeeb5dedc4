//! Pages of small cards.

use crate::{Unknown, Vehicle, document, pieces};
use dwell_card::Card;
use dwell_card::graph::{Act, End, Node, Outcome, Way};
use std::collections::BTreeMap;

/// A card of these acts, one after the other.
fn card(acts: Vec<Act>) -> Card {
    let last = acts.len() + 4;
    let mut all = vec![Act::Open, Act::Uncover { cautions: Vec::new() }, Act::Close];
    all.extend(acts);
    all.extend([Act::Restore, Act::Finish]);
    let next = |at: usize| match at {
        0 => Some(3),
        1 => Some(last - 1),
        2 => Some(last),
        at if at + 1 == last => Some(2),
        at if at == last => None,
        at if at + 2 == last => Some(1),
        at => Some(at + 1),
    };
    let nodes = all.into_iter().enumerate().map(|(at, act)| Node {
        act,
        frame: 0,
        step: None,
        next: next(at).map(|to| BTreeMap::from([(Way::Then, to)])).unwrap_or_default(),
    });
    let nodes: Vec<Node> = nodes.collect();
    let json = r#"{"format":1,"procedure":"try","title":"A & <b>","notice":"Law first.","axes":
        [{"name":"engine-family","values":["k9","k9h"]}],"slots":[],"hazards":[],"readings":[],"questions":[],"limits":[],
        "tools":[],"frames":[{"procedure":"try","title":"A"}],"steps":[],"counters":[],"nodes":[{"act":"open","frame":0}]}"#;
    let mut card = Card::from_json(json).unwrap();
    card.nodes = nodes;
    card
}

#[test]
fn whatever_a_text_says_it_stays_a_text() {
    let text = r#"<script>alert("1")</script> & 'so'"#.to_owned();
    let card = card(vec![
        Act::Note { text: text.clone() },
        Act::End(End {
            outcome: Outcome::Failed,
            text: Some(text.clone()),
            refer: Some("\"><x".into()),
            in_restore: false,
        }),
    ]);
    let page = document(&card, &Vehicle::any(&card));
    assert!(!page.contains("<script") && !page.contains("<x"), "{page}");
    assert!(page.contains("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; 'so'"));
    assert!(page.contains("<h1>A &amp; &lt;b&gt;</h1>"));
}

#[test]
fn a_page_loads_nothing_and_runs_nothing() {
    let card = card(vec![Act::Note { text: "Look.".into() }]);
    let page = document(&card, &Vehicle::any(&card));
    for word in ["http:", "https:", "url(\"", "@import", "<script", " on", "src=", "javascript:"] {
        let found =
            page.replace("http-equiv", "").replace(" on ", " ").replace(" only", " ").replace(" one", " ");
        assert!(!found.contains(word), "{word}");
    }
    assert!(page.contains("default-src 'none'"));
}

#[test]
fn a_vehicle_that_the_card_does_not_know_is_refused() {
    let card = card(Vec::new());
    let of = |name: &str, value: &str| Vehicle::of(&card, &[(name.to_owned(), value.to_owned())]);
    assert_eq!(of("engine-family", "k9h").unwrap().value(0), Some(1));
    let words = |unknown: Unknown| unknown.to_string();
    assert_eq!(
        of("gearbox", "x").map_err(words).unwrap_err(),
        "this card has no variant `gearbox`: it has engine-family"
    );
    assert_eq!(
        of("engine-family", "x").map_err(words).unwrap_err(),
        "`engine-family` has no value `x` here: it has k9, k9h"
    );
}

#[test]
fn a_card_whose_ways_go_round_is_shown_all_the_same() {
    let mut card = card(vec![Act::Note { text: "Once.".into() }, Act::Note { text: "Twice.".into() }]);
    for node in &mut card.nodes {
        node.next.insert(Way::Then, 3);
    }
    let pieces = pieces(&card, &Vehicle::any(&card));
    assert!(pieces.card.contains("Once.") && pieces.ways.contains("<svg"), "{}", pieces.card);
}
