//! Numbers in disguise: digits of other scripts, fractions in one character, letters for digits.

use dwell_quantity::look_alike;

use super::letters::in_word;
use super::number::decimal;

/// A number that is written with other digits than 0 to 9: its bytes and what it means.
pub(super) fn disguised(text: &str) -> Option<(usize, String)> {
    let mut mended = String::new();
    let mut length = 0;
    let mut odd = false;
    for (at, c) in text.char_indices() {
        let instead = look_alike(c).map(|found| found.instead);
        match instead {
            _ if c.is_ascii_digit() => mended.push(c),
            Some(fraction) if fraction.contains('/') && fraction.len() > 1 => {
                if !mended.is_empty() {
                    mended.push(' ');
                }
                mended.push_str(fraction);
                return Some((at + c.len_utf8(), mended));
            }
            Some(digit) if digit.starts_with(|c: char| c.is_ascii_digit()) && !c.is_alphabetic() => {
                mended.push_str(digit);
                odd = true;
            }
            Some(".") => {
                mended.push('.');
                odd = true;
            }
            _ if c == '.' && odd && text.get(at + 1..).is_some_and(|rest| !rest.starts_with('.')) => {
                mended.push('.')
            }
            _ => break,
        }
        length = at + c.len_utf8();
    }
    odd.then_some((length, mended))
}

/// A number with the letter O for a zero or the letter l or I for a one: its bytes and what it means. `2l` is two litres.
pub(super) fn lettered(text: &str) -> Option<(usize, String)> {
    let length = text.bytes().take_while(|b| b.is_ascii_alphanumeric() || *b == b'.').count();
    let run = text.get(..length)?.trim_end_matches('.');
    let tail = run.get(decimal(run)..)?;
    let looks = |c: char| c.is_ascii_digit() || matches!(c, '.' | 'O' | 'o' | 'l' | 'I');
    let goes_on = text.get(run.len()..)?.starts_with(|c| in_word(c) || c == '-');
    let lettered = tail.contains(|c: char| c.is_ascii_alphabetic()) && run.matches('.').count() < 2;
    if !lettered || goes_on || !run.chars().all(looks) {
        return None;
    }
    if matches!(dwell_quantity::lookup(tail), dwell_quantity::Lookup::Unit(_)) {
        return None;
    }
    Some((run.len(), run.replace(['O', 'o'], "0").replace(['l', 'I'], "1")))
}
