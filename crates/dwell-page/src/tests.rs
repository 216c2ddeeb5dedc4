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

/// The brightness of a colour `#rrggbb` or `#rgb`, as WCAG 2.2 defines relative luminance.
fn luminance(colour: &str) -> f64 {
    let digits = colour.trim_start_matches('#');
    let whole: String = if digits.len() == 3 {
        digits.chars().flat_map(|one| [one, one]).collect()
    } else {
        digits.to_owned()
    };
    let part = |at: usize| {
        let value = f64::from(u8::from_str_radix(whole.get(at..at + 2).unwrap(), 16).unwrap()) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(0) + 0.7152 * part(2) + 0.0722 * part(4)
}

/// The contrast of two colours, as WCAG 2.2 defines it: 1 to 21.
fn contrast(one: &str, other: &str) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// The colours that a rule of the style sheet sets; of those that an editor may give, our own.
fn colours(rule: &str) -> BTreeMap<String, String> {
    let text = crate::STYLE.split_once(rule).unwrap().1.split_once('{').unwrap().1.split_once('}').unwrap().0;
    let set = text.split(';').filter_map(|set| set.trim().strip_prefix("--")?.split_once(':'));
    set.filter_map(|(name, value)| {
        let colour = value.get(value.rfind('#')?..)?;
        Some((name.to_owned(), colour.trim_end_matches(')').trim().to_owned()))
    })
    .collect()
}

#[test]
fn what_is_written_can_be_read_on_its_ground() {
    // WCAG 2.2, 1.4.3: 4.5 to 1 for text; 1.4.11: 3 to 1 for edges that say something.
    assert!((contrast("#000", "#fff") - 21.0).abs() < 0.01);
    assert!((contrast("#777", "#fff") - 4.48).abs() < 0.01);
    let own_dark = colours(
        "@media (prefers-color-scheme: dark) {\n  .dwell-page:not(.vscode-light, .vscode-dark, .vscode-high-contrast) ",
    );
    for (theme, grounds) in [
        (colours(".dwell-page "), ["#ffffff", "#f8f8f8"]),
        (own_dark, ["#1b1b1b", "#262626"]),
        (colours(".dwell-page.vscode-dark, .dwell-page.vscode-high-contrast "), ["#1f1f1f", "#000000"]),
    ] {
        for ground in grounds {
            for (name, colour) in &theme {
                let least = match name.as_str() {
                    "ink" | "faint" | "in" | "out" | "open" | "other" => 4.5,
                    "edge" | "here" => 3.0,
                    _ => continue,
                };
                let found = contrast(colour, ground);
                assert!(found >= least, "{name} {colour} on {ground}: {found:.1}");
            }
        }
        assert!(theme.len() > 5, "{theme:?}");
    }
    for (colour, ground) in
        [("#fff", "#c8102e"), ("#000", "#ff8200"), ("#000", "#ffd100"), ("#fff", "#00508a")]
    {
        assert!(crate::STYLE.contains(&format!("background: {ground}; color: {colour}")), "{ground}");
        assert!(contrast(colour, ground) >= 4.5, "{colour} on {ground}");
    }
}
