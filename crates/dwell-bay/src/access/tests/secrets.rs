//! Tokens and codes.

use crate::access::secret::{Code, Token, hash};
use std::collections::BTreeSet;

#[test]
fn a_token_has_256_bits_and_none_comes_twice() {
    let tokens: BTreeSet<String> = (0..1000).map(|_| Token::drawn().unwrap().shown().to_owned()).collect();
    assert_eq!(tokens.len(), 1000);
    for token in &tokens {
        assert_eq!(token.len(), 64);
        assert!(token.bytes().all(|byte| byte.is_ascii_hexdigit()));
    }
    // Every digit stands at every place: no bit is fixed.
    for place in 0..64 {
        let there: BTreeSet<u8> = tokens.iter().map(|token| token.as_bytes()[place]).collect();
        assert_eq!(there.len(), 16, "place {place}");
    }
}

#[test]
fn only_the_hash_of_a_secret_is_kept() {
    // FIPS 180-4, the example "abc" of NIST.
    assert_eq!(hash("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    let token = Token::drawn().unwrap();
    assert_eq!(token.hash(), hash(token.shown()));
    assert_eq!(format!("{token:?}"), "Token(…)");
}

#[test]
fn a_code_is_read_as_it_is_typed_with_gloves_on() {
    let code = Code::drawn().unwrap();
    let shown = code.shown();
    assert_eq!(shown.len(), 9);
    let same = |text: &str| Code::typed(text).map(|read| read.shown());
    for typed in [
        shown.clone(),
        shown.to_lowercase(),
        shown.replace('-', ""),
        shown.replace('-', " "),
        format!(" {shown} "),
        shown.replace('0', "O").replace('1', "l"),
        shown.replace('0', "o").replace('1', "I"),
    ] {
        assert_eq!(same(&typed), Some(shown.clone()), "{typed}");
    }
}

#[test]
fn what_is_no_code_is_none() {
    for text in ["", "7K3M-9QX", "7K3M-9QXTT", "7K3M-9QXU", "7K3M_9QXT", "7K3M-9QXÄ", "😀😀😀😀😀😀😀😀"]
    {
        assert!(Code::typed(text).is_none(), "{text}");
    }
}

#[test]
fn all_letters_of_a_code_are_drawn_everywhere() {
    let codes: Vec<String> = (0..2000).map(|_| Code::drawn().unwrap().shown().replace('-', "")).collect();
    for place in 0..8 {
        let there: BTreeSet<u8> = codes.iter().map(|code| code.as_bytes()[place]).collect();
        assert_eq!(there.len(), 32, "place {place}");
    }
}
