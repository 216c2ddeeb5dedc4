//! A number as a person types it: `>` is "above", and a comma is a decimal mark like a point, unless it could part thousands.

use crate::refusal::Refusal;

/// The text with its decimal commas as points, and `<` and `>` as `below` and `above`, for [`crate::Answer::Value`]. `decimals` is how many the tool gives: with
/// three or more, three digits behind a mark are nothing unusual. Files are not read this way: there a comma is refused.
///
/// # Errors
/// [`Refusal::Marks`] for `1,234` and `1.234`, which could be a thousand, where the tool gives fewer than three decimals.
pub fn by_hand(text: &str, decimals: u32) -> Result<String, Refusal> {
    let text = text.trim();
    let ends = [
        ("<=", "at most "),
        (">=", "at least "),
        ("≤", "at most "),
        ("≥", "at least "),
        ("<", "below "),
        (">", "above "),
    ];
    let end = ends.into_iter().find_map(|(sign, word)| Some((word, text.strip_prefix(sign)?.trim_start())));
    let (mut out, text) = end.map_or((String::new(), text), |(word, rest)| (word.to_owned(), rest));
    for part in text.split_inclusive([' ', ';']) {
        let end = part.find(|c: char| !(c.is_ascii_digit() || "+-,.".contains(c))).unwrap_or(part.len());
        let (number, rest) = part.split_at_checked(end).unwrap_or((part, ""));
        let digits = number.trim_start_matches(['+', '-']);
        let Some((whole, fraction)) = one_mark(digits) else {
            out.push_str(part);
            continue;
        };
        let thousands = fraction.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0');
        if thousands && decimals < 3 {
            let sign = number.strip_suffix(digits).unwrap_or_default();
            return Err(Refusal::Marks {
                typed: number.to_owned(),
                fraction: format!("{sign}{whole}.{fraction}0"),
                whole: format!("{sign}{whole}{fraction}"),
            });
        }
        out.push_str(&number.replacen(',', ".", 1));
        out.push_str(rest);
    }
    Ok(out)
}

/// The digits before and behind the only mark of a number.
fn one_mark(digits: &str) -> Option<(&str, &str)> {
    let (whole, fraction) = digits.split_once([',', '.'])?;
    let all = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    (all(whole) && all(fraction)).then_some((whole, fraction))
}
