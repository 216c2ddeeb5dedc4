//! Characters that look like the ones of a number or a unit but are others, and twins that simply mean the same.

/// A character that must not be read silently as the one it looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LookAlike {
    /// The character found.
    pub found: char,
    /// Its name, in words that need no character table.
    pub name: &'static str,
    /// What to type instead; a blank for odd blanks, nothing for characters that have no width.
    pub instead: &'static str,
}

/// The character that a twin is folded to: same unit, no error.
///
/// Twins are pairs that mean the same by the Unicode standard's own decompositions, or differ only in how the raised
/// dot of a product was typed: Greek mu for the micro sign, the ohm and kelvin signs, the dot operator.
pub fn fold_twin(c: char) -> Option<char> {
    match c {
        '\u{03BC}' => Some('\u{00B5}'),
        '\u{2126}' => Some('\u{03A9}'),
        '\u{212A}' => Some('K'),
        '\u{22C5}' | '\u{2219}' => Some('\u{00B7}'),
        _ => None,
    }
}

/// What a character is mistaken for, if it is one of the known look-alikes.
pub fn look_alike(c: char) -> Option<LookAlike> {
    let (name, instead) = digit(c).or_else(|| sign(c)).or_else(|| blank(c)).or_else(|| mark(c))?;
    Some(LookAlike { found: c, name, instead })
}

/// Digits that are not 0 to 9.
fn digit(c: char) -> Option<(&'static str, &'static str)> {
    const PLAIN: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
    const SETS: [(char, &str); 8] = [
        ('\u{FF10}', "full-width digit"),
        ('\u{0660}', "Arabic-Indic digit"),
        ('\u{06F0}', "extended Arabic-Indic digit"),
        ('\u{0966}', "Devanagari digit"),
        ('\u{2080}', "subscript digit"),
        ('\u{1D7CE}', "bold mathematical digit"),
        ('\u{1D7D8}', "double-struck digit"),
        ('\u{1D7F6}', "monospace digit"),
    ];
    for (zero, name) in SETS {
        let above = u32::from(c).checked_sub(u32::from(zero)).and_then(|n| usize::try_from(n).ok());
        if let Some(plain) = above.and_then(|n| PLAIN.get(n)) {
            return Some((name, plain));
        }
    }
    Some(match c {
        '\u{2070}' => ("superscript zero", "0"),
        '\u{00B9}' => ("superscript one", "1"),
        '\u{00BD}' => ("fraction one half", "1/2"),
        '\u{00BC}' => ("fraction one quarter", "1/4"),
        '\u{00BE}' => ("fraction three quarters", "3/4"),
        '\u{215B}' => ("fraction one eighth", "1/8"),
        '\u{215C}' => ("fraction three eighths", "3/8"),
        '\u{215D}' => ("fraction five eighths", "5/8"),
        '\u{215E}' => ("fraction seven eighths", "7/8"),
        '\u{041E}' => ("Cyrillic capital O", "0"),
        '\u{039F}' => ("Greek capital omicron", "0"),
        _ => return None,
    })
}

/// Signs and operators.
fn sign(c: char) -> Option<(&'static str, &'static str)> {
    Some(match c {
        '\u{2212}' => ("minus sign", "-"),
        '\u{2010}' => ("hyphen", "-"),
        '\u{2011}' => ("no-break hyphen", "-"),
        '\u{2012}' => ("figure dash", "-"),
        '\u{2013}' => ("en dash", "-"),
        '\u{2014}' => ("em dash", "-"),
        '\u{2015}' => ("horizontal bar", "-"),
        '\u{FE63}' | '\u{FF0D}' => ("small or full-width hyphen", "-"),
        '\u{FF0B}' => ("full-width plus sign", "+"),
        '\u{00D7}' => ("multiplication sign", "*"),
        '\u{2215}' => ("division slash", "/"),
        '\u{2044}' => ("fraction slash", "/"),
        '\u{FF0F}' => ("full-width slash", "/"),
        '\u{00F7}' => ("division sign", "/"),
        '\u{2213}' => ("minus-or-plus sign", "\u{00B1}"),
        '\u{2264}' => ("less-than-or-equal sign", "at most"),
        '\u{2265}' => ("greater-than-or-equal sign", "at least"),
        '\u{2026}' => ("ellipsis", ".."),
        '\u{2024}' => ("one dot leader", "."),
        '\u{FF0E}' => ("full-width full stop", "."),
        '\u{FF0C}' => ("full-width comma", ","),
        '\u{066B}' => ("Arabic decimal separator", "."),
        '\u{FF05}' => ("full-width per cent sign", "%"),
        _ => return None,
    })
}

/// Blanks that are not the blank of the keyboard, and characters with no width at all.
fn blank(c: char) -> Option<(&'static str, &'static str)> {
    Some(match c {
        '\u{00A0}' => ("no-break space", " "),
        '\u{202F}' => ("narrow no-break space", " "),
        '\u{2002}'..='\u{200A}' => ("typographic space", " "),
        '\u{205F}' => ("mathematical space", " "),
        '\u{3000}' => ("full-width space", " "),
        '\u{200B}' => ("zero-width space", ""),
        '\u{200C}' => ("zero-width non-joiner", ""),
        '\u{200D}' => ("zero-width joiner", ""),
        '\u{2060}' => ("word joiner", ""),
        '\u{FEFF}' => ("zero-width no-break space", ""),
        '\u{00AD}' => ("soft hyphen", ""),
        _ => return None,
    })
}

/// Unit marks and quotation marks.
fn mark(c: char) -> Option<(&'static str, &'static str)> {
    Some(match c {
        '\u{00BA}' => ("masculine ordinal sign", "\u{00B0}"),
        '\u{02DA}' => ("ring above", "\u{00B0}"),
        '\u{1D52}' => ("superscript letter o", "\u{00B0}"),
        '\u{2103}' => ("degree Celsius in one character", "\u{00B0}C"),
        '\u{2109}' => ("degree Fahrenheit in one character", "\u{00B0}F"),
        '\u{2018}' | '\u{2019}' => ("curly single quotation mark", "'"),
        '\u{201A}' | '\u{201B}' => ("low or reversed quotation mark", "'"),
        '\u{00B4}' => ("acute accent", "'"),
        '\u{201C}' | '\u{201D}' => ("curly quotation mark", "\""),
        '\u{201E}' | '\u{201F}' => ("low or reversed double quotation mark", "\""),
        '\u{00AB}' | '\u{00BB}' => ("angle quotation mark", "\""),
        _ => return None,
    })
}
