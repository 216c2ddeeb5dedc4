//! Numeric response data of IEEE 488.2: whole numbers (NR1), decimals (NR2) and numbers with an exponent (NR3), exactly.

/// What a number stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Given {
    /// Itself, written with a decimal point and without an exponent.
    Number(String),
    /// More than the range: 9.9E+37.
    Above,
    /// Less than the range: -9.9E+37.
    Below,
    /// Nothing: 9.91E+37.
    NotANumber,
}

/// The largest exponent that is written out; no quantity of a workshop comes near it.
const LARGEST: i32 = 40;

/// Reads an answer; none where it is not one number, or not one that can be written out.
pub(super) fn number(answer: &str) -> Option<Given> {
    let text = answer.trim_matches([' ', '\t']);
    let (mantissa, exponent) = match text.split_once(['E', 'e']) {
        Some((mantissa, exponent)) => (mantissa, exponent_of(exponent)?),
        None => (text, 0),
    };
    let (sign, digits) = match mantissa.strip_prefix('-') {
        Some(digits) => ("-", digits),
        None => ("", mantissa.strip_prefix('+').unwrap_or(mantissa)),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let all = format!("{whole}{part}");
    if all.is_empty() || all.len() > 40 || !all.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    // Where the point stands, counted from the first digit.
    let point = i32::try_from(whole.len()).ok()?.checked_add(exponent)?;
    let significant = all.trim_start_matches('0').trim_end_matches('0');
    let leading = i32::try_from(all.len() - all.trim_start_matches('0').len()).ok()?;
    match (significant, point - leading, sign) {
        ("99", 38, "") => return Some(Given::Above),
        ("99", 38, _) => return Some(Given::Below),
        ("991", 38, "") => return Some(Given::NotANumber),
        _ => {}
    }
    if point.abs() > LARGEST {
        return None;
    }
    Some(Given::Number(format!("{sign}{}", pointed(&all, point))))
}

fn exponent_of(text: &str) -> Option<i32> {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    if digits.is_empty() || digits.len() > 3 || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    text.parse().ok()
}

/// The digits with a point after so many of them.
fn pointed(digits: &str, point: i32) -> String {
    let Ok(place) = usize::try_from(point) else {
        let zeros = "0".repeat(point.unsigned_abs().try_into().unwrap_or(0));
        return format!("0.{zeros}{digits}");
    };
    let (whole, part) = match digits.split_at_checked(place) {
        Some((whole, part)) => (whole.to_owned(), part),
        None => (format!("{digits}{}", "0".repeat(place - digits.len())), ""),
    };
    let whole = whole.trim_start_matches('0');
    let whole = if whole.is_empty() { "0" } else { whole };
    if part.is_empty() { whole.to_owned() } else { format!("{whole}.{part}") }
}

#[cfg(test)]
mod tests {
    use super::{Given, number};

    #[test]
    fn every_form_is_read_exactly_with_its_digits() {
        let cases = [
            ("12", "12"),
            ("+12", "12"),
            ("-0.50", "-0.50"),
            // The form of an answer to MEASure:FREQuency?: 14.1666667 Hz are 850 r/min of an engine with two pulses a turn.
            ("+1.41666667E+01", "14.1666667"),
            ("1.2E-03", "0.0012"),
            ("-1.25E+3", "-1250"),
            ("+0.00000000E+00", "0.00000000"),
            ("4.99999E-1 ", "0.499999"),
            ("123E0", "123"),
            (".5", "0.5"),
            ("5.", "5"),
            ("+2.50000000E-02", "0.0250000000"),
        ];
        for (answer, text) in cases {
            assert_eq!(number(answer), Some(Given::Number(text.to_owned())), "{answer}");
        }
    }

    /// SCPI-1999, volume 1: INFinity is 9.9E+37, Negative INFinity -9.9E+37, Not A Number 9.91E+37 (from memory).
    #[test]
    fn infinity_and_nothing_are_no_numbers() {
        assert_eq!(number("+9.90000000E+37"), Some(Given::Above));
        assert_eq!(number("9.9E37"), Some(Given::Above));
        assert_eq!(number("99.0E+36"), Some(Given::Above));
        assert_eq!(number("-9.900000E+37"), Some(Given::Below));
        assert_eq!(number("9.91E+37"), Some(Given::NotANumber));
        assert_eq!(number("+9.91000000E+37"), Some(Given::NotANumber));
    }

    #[test]
    fn what_is_not_one_number_is_none() {
        for answer in [
            "", "1,2", "12 V", "1.2.3", "--1", "1E", "1E+", "E5", "NAN", "INF", "#B1", "1E999", "1E41", ".",
            "0x1F",
        ] {
            assert_eq!(number(answer), None, "{answer}");
        }
    }
}
