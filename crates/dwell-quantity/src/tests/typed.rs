//! Numbers as people type them: kept forms, and slips that are told apart.

use proptest::prelude::*;

use super::exact;
use crate::{Decimal, NumberError};

#[test]
fn what_was_typed_is_printed_again() {
    for text in ["0.35", "-5", "2.0", "0", "1/32", "2 1/4", "-2 1/4", "-0.50", "1270.00"] {
        assert_eq!(Decimal::parse(text).unwrap().to_string(), text);
    }
    assert_eq!(Decimal::parse("+0.021").unwrap().to_string(), "0.021");
    assert_eq!(Decimal::parse("\u{202F}7 ").unwrap().to_string(), "7");
}

#[test]
fn values_are_exact() {
    assert_eq!(Decimal::parse("2 1/4").unwrap().value, exact("2.25"));
    assert_eq!(Decimal::parse("-2 1/4").unwrap().value, exact("-2.25"));
    assert_eq!(Decimal::parse("1/3").unwrap().value, exact("1/3"));
    assert_eq!(Decimal::parse("-0").unwrap().value, exact("0"));
}

#[test]
fn decimals_follow_the_digits_typed() {
    let decimals = |text: &str| Decimal::parse(text).unwrap().decimals;
    assert_eq!(decimals("2"), 0);
    assert_eq!(decimals("2.00"), 2);
    assert_eq!(decimals("1/4"), 1);
    assert_eq!(decimals("1/10"), 1);
    assert_eq!(decimals("1/32"), 2);
    assert_eq!(decimals("1/1000"), 3);
}

#[test]
fn every_slip_has_its_own_reason() {
    let why = |text: &str| Decimal::parse(text).unwrap_err();
    assert_eq!(why("  "), NumberError::Empty);
    assert_eq!(why("0,35"), NumberError::DecimalComma);
    assert_eq!(why("-36,5"), NumberError::DecimalComma);
    for grouped in
        ["1,234.5", "1.234,5", "2 000", "2\u{00A0}000", "2\u{202F}000", "2'000", "1_000", "1.000.000"]
    {
        assert_eq!(why(grouped), NumberError::Grouping, "{grouped}");
    }
    for exponent in ["1e5", "1E-400", "2.5e+3"] {
        assert_eq!(why(exponent), NumberError::Exponent, "{exponent}");
    }
    for none in
        ["nan", "NaN", "inf", "-inf", "infinity", "--5", "1/2/3", "0x10", "5-8", "M12x1", "1 /2", "5 V"]
    {
        assert_eq!(why(none), NumberError::NotANumber, "{none}");
    }
    assert_eq!(why(".5"), NumberError::BarePoint);
    assert_eq!(why("-5."), NumberError::BarePoint);
    assert_eq!(why("1/0"), NumberError::ZeroDenominator);
    assert_eq!(why(&"1".repeat(61)), NumberError::TooLong);
    assert!(Decimal::parse(&"1".repeat(60)).is_ok());
}

#[test]
fn look_alikes_are_named_with_what_to_type() {
    let found = |text: &str| match Decimal::parse(text).unwrap_err() {
        NumberError::LookAlike { char, instead } => (char, instead),
        other => panic!("{text:?}: {other:?}"),
    };
    assert_eq!(found("1O"), ('O', "0"));
    assert_eq!(found("l.5"), ('l', "1"));
    assert_eq!(found("\u{2212}5"), ('\u{2212}', "-"));
    assert_eq!(found("\u{2013}5"), ('\u{2013}', "-"));
    assert_eq!(found("\u{FF15}"), ('\u{FF15}', "5"));
    assert_eq!(found("\u{0663}"), ('\u{0663}', "3"));
    assert_eq!(found("\u{00BD}"), ('\u{00BD}', "1/2"));
    assert_eq!(found("\u{200B}0.30"), ('\u{200B}', ""));
}

#[test]
fn every_reason_says_what_to_write() {
    let reasons = [
        NumberError::Empty,
        NumberError::DecimalComma,
        NumberError::Grouping,
        NumberError::Exponent,
        NumberError::NotANumber,
        NumberError::TooLong,
        NumberError::BarePoint,
        NumberError::ZeroDenominator,
        NumberError::LookAlike { char: '\u{200B}', instead: "" },
    ];
    for reason in reasons {
        assert!(reason.to_string().len() > 30, "{reason:?}");
    }
    expect_test::expect!["the character '\\u{2212}' (U+2212) looks like `-` but is another one: type `-`"]
        .assert_eq(&Decimal::parse("\u{2212}5").unwrap_err().to_string().replace('\u{2212}', "\\u{2212}"));
}

proptest! {
    #[test]
    fn reading_never_panics(text in "\\PC{0,40}") {
        if let Ok(number) = Decimal::parse(&text) {
            prop_assert!(Decimal::parse(&number.to_string()).is_ok());
        }
    }

    #[test]
    fn a_decimal_is_kept_digit_for_digit(whole in 0..1_000_000_u32, part in "[0-9]{0,12}", negative: bool) {
        let text = if part.is_empty() { format!("{whole}") } else { format!("{whole}.{part}") };
        let zero = text.chars().all(|c| "0.".contains(c));
        let text = if negative && !zero { format!("-{text}") } else { text };
        let number = Decimal::parse(&text).unwrap();
        prop_assert_eq!(number.to_string(), text.clone());
        prop_assert_eq!(number.value, exact(&text));
    }
}
