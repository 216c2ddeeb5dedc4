//! Characters that a terminal would obey, or nobody would see, made visible.

/// `text` with control characters, direction marks and characters without width replaced, byte for byte, so that a place
/// in the one is the same place in the other. Line ends and tabs stay.
pub(crate) fn visible(text: &str) -> String {
    text.chars().map(shown).collect()
}

fn shown(c: char) -> char {
    match c {
        '\n' | '\r' | '\t' => c,
        '\u{FEFF}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}' => {
            '\u{FFFD}'
        }
        '\u{61C}' | '\u{85}' => '\u{A4}',
        _ if c.is_control() => match c.len_utf8() {
            1 => '?',
            _ => '\u{A4}',
        },
        _ => c,
    }
}
