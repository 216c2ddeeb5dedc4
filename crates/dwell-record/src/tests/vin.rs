//! A vehicle's number: what is refused and in which words, and that no single slip of the finger passes unseen.

use crate::vin::{CheckDigit, Vehicle, Vin, VinError, WrongCheckDigit};

/// The sample of 49 CFR 565.15(c), Table V.
const SAMPLE: &str = "1G4AH59H45G118341";

fn said(text: &str) -> String {
    Vin::parse(text).unwrap_err().to_string()
}

#[test]
fn what_is_no_number_is_refused_with_its_place() {
    assert_eq!(Vin::parse("1G4AH59H45G11834"), Err(VinError::Length { found: 16 }));
    assert_eq!(Vin::parse(""), Err(VinError::Length { found: 0 }));
    assert_eq!(Vin::parse(&format!("{SAMPLE}1")), Err(VinError::Length { found: 18 }));
    assert!(said("1G4AH59H45G1183").contains("has 17 characters, and this has 15"));
    for (letter, meant) in [('I', '1'), ('O', '0'), ('Q', '0')] {
        let text = SAMPLE.replacen('A', &letter.to_string(), 1);
        assert_eq!(Vin::parse(&text), Err(VinError::Character { position: 4, found: letter }));
        assert!(said(&text).starts_with(&format!("position 4 is `{letter}`")));
        assert!(said(&text).contains(&format!("probably is {meant}")));
    }
    for strange in ['-', ' ', '*', 'Ä', '１', '\u{200B}'] {
        let text = SAMPLE.replacen('A', &strange.to_string(), 1);
        assert_eq!(Vin::parse(&text), Err(VinError::Character { position: 4, found: strange }));
    }
}

#[test]
fn a_check_digit_that_does_not_fit_is_told_with_the_one_that_would() {
    let right = Vin::parse(SAMPLE).unwrap();
    assert_eq!((right.weighted_sum(), right.check_digit(), right.check()), (411, '4', Ok(())));
    assert_eq!(Vehicle::from(&right), Vehicle { number: SAMPLE.into(), check_digit: CheckDigit::Right });
    let wrong = Vin::parse(&SAMPLE.replacen("H45", "HZ5", 1)).unwrap();
    let why = wrong.check().unwrap_err();
    assert_eq!(why, WrongCheckDigit { found: 'Z', expected: '4' });
    assert!(why.to_string().starts_with("position 9, the check digit, is `Z`"), "{why}");
    assert_eq!(Vehicle::from(&wrong).to_string(), "1G4AH59HZ5G118341, check digit does not fit");
}

#[test]
fn small_letters_and_blanks_around_are_typed_by_people() {
    assert_eq!(Vin::parse(" 1g4ah59h45g118341\n"), Vin::parse(SAMPLE));
    assert_eq!(Vin::parse(SAMPLE).unwrap().to_string(), SAMPLE);
}

/// The weights are not divisible by 11, so a single wrong character is seen unless it has the same value as the right one.
#[test]
fn one_wrong_character_is_seen_unless_it_counts_the_same() {
    let all: Vec<char> = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ".chars().collect();
    let (mut seen, mut same) = (0, 0);
    for place in (0..17).filter(|place| *place != 8) {
        for other in &all {
            let mut typed: Vec<char> = SAMPLE.chars().collect();
            if typed[place] == *other {
                continue;
            }
            typed[place] = *other;
            let typed = Vin::parse(&typed.into_iter().collect::<String>()).unwrap();
            if typed.weighted_sum() == 411 {
                assert_eq!(typed.check(), Ok(()));
                same += 1;
            } else {
                typed.check().unwrap_err();
                seen += 1;
            }
        }
    }
    assert!(seen > 400 && same > 20, "{seen} seen, {same} the same");
}
