//! Characters that are not what they look like, and twins that are.

use crate::{fold_twin, look_alike};

#[test]
fn plain_characters_are_what_they_are() {
    for c in (' '..='~').chain("µ°Ω·±²³′″éäß".chars()) {
        assert_eq!(look_alike(c), None, "{c:?}");
        assert_eq!(fold_twin(c), None, "{c:?}");
    }
}

#[test]
fn a_twin_is_no_look_alike() {
    for (twin, plain) in
        [('\u{03BC}', '\u{00B5}'), ('\u{2126}', '\u{03A9}'), ('\u{212A}', 'K'), ('\u{22C5}', '\u{00B7}')]
    {
        assert_eq!(fold_twin(twin), Some(plain));
        assert_eq!(look_alike(twin), None);
        assert_eq!(fold_twin(plain), None);
    }
}

#[test]
fn degree_look_alikes_become_degrees() {
    for c in ['\u{00BA}', '\u{02DA}', '\u{1D52}'] {
        assert_eq!(look_alike(c).unwrap().instead, "°");
    }
    assert_eq!(look_alike('\u{2103}').unwrap().instead, "°C");
    assert_eq!(look_alike('\u{2109}').unwrap().instead, "°F");
}

#[test]
fn every_digit_that_is_not_plain_has_its_plain_one() {
    for (offset, plain) in ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"].into_iter().enumerate() {
        for zero in ['\u{FF10}', '\u{0660}', '\u{06F0}', '\u{0966}', '\u{1D7CE}'] {
            let c = char::from_u32(u32::from(zero) + u32::try_from(offset).unwrap()).unwrap();
            assert_eq!(look_alike(c).unwrap().instead, plain, "{c:?}");
        }
    }
}

#[test]
fn what_to_type_is_itself_plain() {
    for found in ('\0'..=char::MAX).filter_map(look_alike) {
        assert!(found.instead.chars().all(|c| look_alike(c).is_none()), "{found:?}");
        assert!(!found.name.is_empty() && look_alike(found.found) == Some(found));
    }
}
