//! The check digit of vehicles' numbers against samples that were published with it (49 CFR 565.15(c)).

use dwell_record::Vin;
use dwell_record::vin::{CheckDigit, Vehicle};

use super::rows;

#[test]
fn every_published_number_has_its_sum_and_its_verdict() {
    let rows = rows(include_str!("data/vin_check.csv"));
    for row in &rows {
        let text = row.get("vin");
        let found = text.chars().nth(8).unwrap();
        if let Ok(vin) = Vin::parse(text) {
            assert_eq!(vin.weighted_sum().to_string(), row.get("weighted_sum"), "{text}");
            assert_eq!(vin.check_digit().to_string(), row.get("check_char"), "{text}");
            let right = row.get("verdict") == "valid";
            assert_eq!(right, Vehicle::from(&vin).check_digit == CheckDigit::Right, "{text}");
            assert_eq!(vin.check().err().map(|wrong| wrong.found), (!right).then_some(found));
        } else {
            panic!("{text}: {}", Vin::parse(text).unwrap_err());
        }
    }
    assert!(rows.iter().any(|row| row.get("verdict") == "invalid"));
    assert!(rows.iter().any(|row| row.get("check_char") == "X"));
}

/// 49 CFR 565.15(c), Table III and Table IV as read at automobilesoftware.com, typed in here a second time.
#[test]
fn every_letter_has_the_value_and_every_place_the_weight_of_the_tables() {
    let table = "A1 B2 C3 D4 E5 F6 G7 H8 J1 K2 L3 M4 N5 P7 R9 S2 T3 U4 V5 W6 X7 Y8 Z9";
    let weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
    let sum = |place: usize, c: char| {
        let mut all = ['0'; 17];
        all[place] = c;
        Vin::parse(&all.iter().collect::<String>()).unwrap().weighted_sum()
    };
    for (place, weight) in weights.into_iter().enumerate() {
        for pair in table.split(' ') {
            let (letter, value) = pair.split_at(1);
            let value: u32 = value.parse().unwrap();
            assert_eq!(sum(place, letter.chars().next().unwrap()), value * weight, "{letter} at {place}");
        }
        for digit in 0..10 {
            assert_eq!(sum(place, char::from_digit(digit, 10).unwrap()), digit * weight);
        }
    }
    // Table V: the sample's products add up to 411.
    let products = [8, 49, 24, 5, 32, 15, 18, 80, 0, 45, 56, 7, 6, 40, 12, 12, 2];
    assert_eq!(products.iter().sum::<u32>(), Vin::parse("1G4AH59H45G118341").unwrap().weighted_sum());
}
