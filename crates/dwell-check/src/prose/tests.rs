//! Sentences, the verbs that order something, numbers, and languages.

use super::sentence::sentences;
use super::{english, typed};

fn orders(text: &str) -> Vec<&str> {
    let all = sentences(text, 0);
    all.iter()
        .flat_map(|sentence| {
            sentence.orders().into_iter().map(|at| sentence.words[at].text).collect::<Vec<_>>()
        })
        .collect()
}

fn is_english(text: &str) -> bool {
    english::english(sentences(text, 0).iter())
}

#[test]
fn words_stand_where_they_stand() {
    let text = "Turn it (seen from above), then wait. Read {gap}!";
    let all = sentences(text, 0);
    assert_eq!(all.len(), 2);
    for word in all.iter().flat_map(|sentence| &sentence.words) {
        assert_eq!(text.get(word.start..word.end()), Some(word.text));
    }
    let texts: Vec<&str> = all[0].words.iter().map(|word| word.text).collect();
    assert_eq!(texts, ["Turn", "it", "seen", "from", "above", "then", "wait"]);
    assert!(all[0].words[1].paused && all[0].words[4].paused && !all[0].words[0].paused);
}

#[test]
fn a_verb_is_told_from_a_noun_by_what_follows() {
    assert_eq!(orders("Remove the cap, set the screw and refit the cap."), ["Remove", "set", "refit"]);
    assert_eq!(orders("Wipe it until it is whole and clean."), ["Wipe"]);
    assert_eq!(orders("Set screws are not reused."), Vec::<&str>::new());
    assert_eq!(orders("Plug and lead are behind the cover."), Vec::<&str>::new());
    assert_eq!(orders("If the lamp is dark, renew the fuse."), ["renew"]);
    assert_eq!(orders("The engine cools."), Vec::<&str>::new());
}

#[test]
fn a_limit_is_told_from_an_amount() {
    let limits = |text: &str| {
        let all = sentences(text, 0);
        all.iter().flat_map(typed).map(|typed| typed.limit).collect::<Vec<_>>()
    };
    assert_eq!(limits("Tighten it to 25 N·m."), [true]);
    assert_eq!(limits("The gap is at most 0.05 mm."), [true]);
    assert_eq!(limits("Between 0.2 mm and 0.4 mm it is good."), [true, true]);
    assert_eq!(limits("Keep it at 0.2..0.4 mm."), [true]);
    assert_eq!(limits("Squirt 5 mL of oil in."), [false]);
    assert_eq!(limits("The tester puts 500 V on the net."), [false]);
    assert_eq!(limits("Look at 2 in turn: place 14 is free."), Vec::<bool>::new());
}

#[test]
fn only_english_is_english() {
    assert!(is_english("Turn the screw until it stops."));
    assert!(is_english("Look."));
    assert!(!is_english("Die Schraube mit der Hand drehen, bis sie in der Bohrung sitzt."));
    assert!(!is_english("Desserrer la vis et retirer le couvercle."));
    assert!(!is_english("Llenar el depósito con aceite para la prueba."));
    assert!(!is_english("Schraube lösen."));
}
