//! What the analysis says of a place, beside what it finds.

use super::THINGS;
use crate::check::{check, lowered_again};
use crate::flow::{Spot, standing};
use crate::texts::Texts;

#[test]
fn a_place_is_told_for_each_group_of_vehicles() {
    let text = format!(
        "{THINGS}variant family: k9, k9h, k9s\nprocedure p \"P\" {{ applies to family k9, k9h, k9s\n step s \"S\" {{ \
         if family is k9, k9s {{ remove guard }}\n start engine\n note \"here\" }}\n \
         restore {{ refit guard\n stop engine }} }}"
    );
    let checked = check(&["small.dwell".to_owned()], &Texts(&[("small.dwell", &text)]));
    let (_, lowered) = lowered_again(&checked).pop().unwrap();
    let note = text.find("note").unwrap();
    let nodes: Vec<usize> =
        (0..lowered.places.len()).filter(|node| lowered.places[*node].span.start == note).collect();
    let spots = [Spot { nodes: nodes.clone(), after: false }, Spot { nodes: Vec::new(), after: true }];
    let told = standing(&lowered, &spots);
    let slot = |label: &str| lowered.card.slots.iter().position(|slot| slot.label == label).unwrap();
    let (guard, engine) = (slot("guard"), slot("engine"));
    let words: Vec<_> =
        told[0].iter().map(|one| (one.vehicles.clone(), one.owed.clone(), one.hazards.clone())).collect();
    assert_eq!(
        words,
        [
            (
                vec![vec![(0, vec![0, 2])]],
                {
                    let mut owed = vec![guard, engine];
                    owed.sort_unstable();
                    owed
                },
                vec![(0, false)]
            ),
            (vec![vec![(0, vec![1])]], vec![engine], vec![(0, false)]),
        ]
    );
    assert!(told[1].is_empty());
}
