//! What of a file others can see: while that stays the same, what uses it need not be checked again.

use dwell_check::program::Content;
use dwell_syntax::lex::lex;
use dwell_syntax::tree::DeclarationKind;
use std::hash::{DefaultHasher, Hash, Hasher};

/// The outside of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Interface(u64);

impl Interface {
    /// Of this text: every word of it, without blanks and comments, but for the cases of its procedures. A procedure can
    /// be performed elsewhere, so its work belongs to it.
    pub fn of(content: &Content) -> Interface {
        let mut hasher = DefaultHasher::new();
        let cases: Vec<_> = content
            .tree
            .declarations
            .iter()
            .filter_map(|declared| match &declared.kind {
                DeclarationKind::Procedure(procedure) => Some(procedure),
                _ => None,
            })
            .flat_map(|procedure| &procedure.parts)
            .filter_map(|part| match part {
                dwell_syntax::tree::Part::Case(case) => Some(case.span),
                _ => None,
            })
            .collect();
        for token in lex(&content.text).tokens {
            if !cases.iter().any(|case| case.holds(token.span)) {
                content.text.get(token.span.start..token.span.end).unwrap_or_default().hash(&mut hasher);
            }
        }
        Interface(hasher.finish())
    }
}

#[cfg(test)]
mod tests {
    use super::{Content, Interface};

    #[test]
    fn blanks_comments_and_cases_are_not_seen_from_outside() {
        let of = |text: &str| Interface::of(&Content::of(text.to_owned()));
        let text =
            "item a: hose\nprocedure p \"P\" { step s \"S\" { remove a }  case \"x\" { ends passed } }";
        assert_eq!(of(text), of(&text.replace('\n', "\n\n# why\n")));
        assert_eq!(of(text), of(&text.replace("\"x\"", "\"y\"")));
        assert_ne!(of(text), of(&text.replace("hose", "lever")));
        assert_ne!(of(text), of(&text.replace("remove", "refit")));
    }
}
