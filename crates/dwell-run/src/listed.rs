//! Several values typed in one line: `14.1 14.2 14.1 V`, or with semicolons `2 1/4; 2 3/8; no reading in`.

use crate::answer::GivenSample;
use crate::typed::says_nothing;
use dwell_quantity::Decimal;

/// The values of a line, without times. A line that is one value is one: `2 1/4 in`, `above 1000`. Otherwise blanks part
/// the values, or semicolons where there are any, which leave blanks inside a value. A unit that stands only after the last
/// value is that of all. Nothing is checked here.
pub(crate) fn listed(text: &str, unit: Option<&str>) -> Vec<GivenSample> {
    let text = text.trim();
    let parts: Vec<String> = if text.contains(';') {
        text.split(';').map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect()
    } else {
        words(text).unwrap_or_else(|| vec![text.to_owned()])
    };
    let shared = match parts.split_last() {
        Some((last, [_, ..])) => unit_of(last),
        _ => None,
    };
    parts
        .into_iter()
        .map(|text| {
            let own = shared.as_deref().filter(|_| unit_of(&text).is_none()).or(unit);
            let nothing = says_nothing(&text);
            GivenSample { time: None, unit: own.filter(|_| !nothing).map(str::to_owned), text, kept: false }
        })
        .collect()
}

/// Words that are numbers each, the last with a unit after it or without; nothing where the line is no such list.
fn words(text: &str) -> Option<Vec<String>> {
    let all: Vec<&str> = text.split_whitespace().collect();
    if all.len() < 2 || Decimal::parse(text).is_ok() {
        return None;
    }
    let is_number = |word: &&str| Decimal::parse(word).is_ok();
    let numbers = all.iter().take_while(|word| is_number(word)).count();
    let rest = all.get(numbers..).unwrap_or_default();
    let mut parts: Vec<String> = all.iter().take(numbers).map(|word| (*word).to_owned()).collect();
    match rest {
        [] => {}
        // `14.1 14.2 V`, and `14.1 14.2V`.
        [last] if numbers > 0 && unit_of(last).is_some() => parts.push((*last).to_owned()),
        [unit] if numbers > 0 => {
            // The number before it is one with the fraction before that: `2 1/4 in` is one value.
            let before = parts.join(" ");
            if Decimal::parse(&before).is_ok() {
                return None;
            }
            if let Some(last) = parts.last_mut() {
                *last = format!("{last} {unit}");
            }
        }
        _ => return None,
    }
    (parts.len() > 1).then_some(parts)
}

/// The unit that stands behind the number of a value.
fn unit_of(value: &str) -> Option<String> {
    let starts_number = value.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c))
        || ["above ", "below ", "at least ", "at most "].iter().any(|word| value.starts_with(word));
    let at = value.rfind(|c: char| c.is_ascii_digit())?.checked_add(1)?;
    let unit = value.get(at..)?.trim();
    (starts_number && !unit.is_empty()).then(|| unit.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The values with their units: `14.1 V | 14.2 V`.
    fn told(text: &str) -> String {
        let shown = |sample: GivenSample| match sample.unit {
            Some(unit) => format!("{} [{unit}]", sample.text),
            None => sample.text,
        };
        listed(text, Some("mm")).into_iter().map(shown).collect::<Vec<_>>().join(" | ")
    }

    #[test]
    fn blanks_or_semicolons_part_values() {
        assert_eq!(told("14.1 14.2 14.1"), "14.1 [mm] | 14.2 [mm] | 14.1 [mm]");
        assert_eq!(told("14.1 14.2 14.1 V"), "14.1 [V] | 14.2 [V] | 14.1 V [mm]");
        assert_eq!(told("14.1 14.2V"), "14.1 [V] | 14.2V [mm]");
        assert_eq!(told("-1 +2 -3 °"), "-1 [°] | +2 [°] | -3 ° [mm]");
        assert_eq!(told("2 1/4; 2 3/8 in"), "2 1/4 [in] | 2 3/8 in [mm]");
        assert_eq!(told("1; no reading; above 5;"), "1 [mm] | no reading | above 5 [mm]");
        assert_eq!(told("1 V; 2; 3 mV"), "1 V [mm] | 2 [mV] | 3 mV [mm]");
    }

    #[test]
    fn one_value_stays_one() {
        for one in
            ["5", "5 V", "2 1/4", "2 1/4 in", "above 1000", "above 1000 MΩ", "no reading", "0° 30′", "x y"]
        {
            assert_eq!(listed(one, None).len(), 1, "{one}");
        }
        assert_eq!(listed("", None).len(), 1);
    }
}
