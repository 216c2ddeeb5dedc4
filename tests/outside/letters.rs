//! The letters of a name, every code point of Unicode, against a second set of tables: UAX #31 and the character database.
//!
//! The lexer asks the crate unicode-ident. The second opinion is the crate regex-syntax with its own tables, which are those
//! of Unicode 16.0.0. Letters that came later are left to the lexer, for here is nothing to compare them with.

use dwell_syntax::lex::{TokenKind, lex};
use regex_syntax::hir::{Class, HirKind};

/// XID_Start and XID_Continue without what no name may have here: `_`, numbers other than 0 to 9, and what is not seen.
const START: &str = r"[\p{XID_Start}--\p{N}--\p{Default_Ignorable_Code_Point}]";
const INSIDE: &str = r"[\p{XID_Continue}--[\p{N}--0-9]--\p{Default_Ignorable_Code_Point}--_]";

/// What is a letter or goes on a name by the standard, and by the reference is a sign: the dots that multiply units, and
/// what is taken for a degree sign.
const SIGNS: [char; 5] = ['\u{B7}', '\u{387}', '\u{AA}', '\u{BA}', '\u{1D52}'];

/// The capital letters that look like a zero. Where a number or name could begin they are told as look-alikes of a zero, so a
/// name does not begin with them; inside a name they are letters.
const ZEROS: [char; 2] = ['\u{39F}', '\u{41E}'];

/// The ranges of a class of characters.
fn class(pattern: &str) -> Vec<(char, char)> {
    match regex_syntax::parse(pattern).unwrap().into_kind() {
        HirKind::Class(Class::Unicode(class)) => {
            class.ranges().iter().map(|range| (range.start(), range.end())).collect()
        }
        other => panic!("{pattern}: {other:?}"),
    }
}

fn has(class: &[(char, char)], c: char) -> bool {
    let after = class.partition_point(|(start, _)| *start <= c);
    after > 0 && c <= class[after - 1].1
}

/// Whether the lexer takes all of a text for one name and has nothing to say about it.
fn is_name(text: &str) -> bool {
    let lexed = lex(text);
    let one = matches!(lexed.tokens.as_slice(), [token]
        if matches!(token.kind, TokenKind::Word | TokenKind::LineWord)
            && (token.span.start, token.span.end) == (0, text.len()));
    one && lexed.slips.is_empty()
}

#[test]
fn every_code_point_begins_a_name_or_goes_on_as_the_tables_say() {
    let (start, inside, age) = (class(START), class(INSIDE), class(r"\p{Age=16.0}"));
    let (mut begins, mut goes_on, mut differences) = (0, 0, Vec::new());
    for c in '\0'..=char::MAX {
        if !has(&age, c) {
            continue;
        }
        let no_sign = !SIGNS.contains(&c);
        let wanted = (has(&start, c) && no_sign && !ZEROS.contains(&c), has(&inside, c) && no_sign);
        let found = (is_name(&c.to_string()), is_name(&format!("a{c}")));
        if wanted != found {
            differences
                .push(format!("U+{:04X} {c:?}: {found:?}, and the tables say {wanted:?}", u32::from(c)));
        }
        begins += u32::from(found.0);
        goes_on += u32::from(found.1);
    }
    assert!(differences.is_empty(), "{} differ:\n{}", differences.len(), differences.join("\n"));
    assert!(begins > 100_000 && goes_on > begins, "{begins} begin a name, {goes_on} go on");
}

/// What is not assigned by Unicode 16.0 is nothing or a letter that came later, and then it goes on a name as well.
#[test]
fn what_is_not_assigned_is_no_letter_or_a_new_one() {
    let age = class(r"\p{Age=16.0}");
    let mut new = 0;
    for c in ('\0'..=char::MAX).filter(|c| !has(&age, *c)) {
        if is_name(&c.to_string()) {
            assert!(is_name(&format!("a{c}")), "U+{:04X} begins a name and is not inside one", u32::from(c));
            new += 1;
        }
    }
    assert!(new < 20_000, "{new} code points that Unicode 16.0 does not assign are taken for letters");
}

/// UAX #31 as an author meets it: names in other scripts, and what may not stand in one.
#[test]
fn names_of_other_scripts_and_signs_that_are_none() {
    for name in ["keilriemen-spannung", "größe", "натяжение", "張力", "शक्ति", "τάση", "k9", "a-9"]
    {
        assert!(is_name(name), "{name}");
    }
    for sign in SIGNS {
        assert!(!is_name(&format!("a{sign}")), "{sign:?}");
    }
    for text in ["9a", "-a", "a_b", "a\u{200D}b", "a٣", "aⅧ", "½", "a½", "_a", "a\u{B7}b"] {
        assert!(!is_name(text), "{text}");
    }
}
