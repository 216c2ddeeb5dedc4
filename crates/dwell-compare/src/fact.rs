//! A fact: one thing that a declaration or a statement says, and how loud it is when it goes or comes.

use crate::{Change, Grade, Where};

/// One thing that is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Fact {
    /// What it is about; facts about the same thing are put beside each other.
    pub(crate) about: &'static str,
    /// What it says.
    pub(crate) says: String,
    /// How loud when it is gone.
    pub(crate) gone: Grade,
    /// How loud when it is new.
    pub(crate) come: Grade,
}

impl Fact {
    /// A fact that is as loud going as coming.
    pub(crate) fn new(about: &'static str, says: impl Into<String>, grade: Grade) -> Fact {
        Fact { about, says: says.into(), gone: grade, come: grade }
    }

    /// A protection: loud when it is gone, not so when it is new.
    pub(crate) fn guard(about: &'static str, says: impl Into<String>) -> Fact {
        Fact { about, says: says.into(), gone: Grade::Loud, come: Grade::Middle }
    }

    /// A permission: loud when it is new.
    pub(crate) fn freedom(about: &'static str, says: impl Into<String>) -> Fact {
        Fact { about, says: says.into(), gone: Grade::Middle, come: Grade::Loud }
    }
}

/// Whose facts are compared, and where they stand.
#[derive(Clone, Copy)]
pub(crate) struct Owner<'a> {
    /// Whose.
    pub(crate) of: &'a str,
    /// Words put before what is said, such as `belt guard: `.
    pub(crate) before: &'a str,
    /// Where it was.
    pub(crate) old: &'a Option<Where>,
    /// Where it is.
    pub(crate) new: &'a Option<Where>,
}

impl Owner<'_> {
    /// A change of this owner.
    pub(crate) fn change(&self, grade: Grade, kind: &'static str, says: impl AsRef<str>) -> Change {
        Change {
            grade,
            of: self.of.to_owned(),
            kind,
            says: format!("{}{}", self.before, says.as_ref()),
            old: self.old.clone(),
            new: self.new.clone(),
        }
    }
}

/// What went and what came. Where one fact went and one came about the same thing, it changed.
pub(crate) fn differences(old: &[Fact], new: &[Fact], owner: Owner) -> Vec<Change> {
    let mut abouts: Vec<&'static str> = old.iter().chain(new).map(|fact| fact.about).collect();
    let mut seen = Vec::new();
    abouts.retain(|about| {
        let first = !seen.contains(about);
        seen.push(*about);
        first
    });
    let mut changes = Vec::new();
    for about in abouts {
        let missing = |from: &[Fact], in_: &[Fact]| -> Vec<Fact> {
            let mut rest: Vec<&Fact> = in_.iter().filter(|fact| fact.about == about).collect();
            let mut left = Vec::new();
            for fact in from.iter().filter(|fact| fact.about == about) {
                match rest.iter().position(|other| other.says == fact.says) {
                    Some(place) => {
                        rest.remove(place);
                    }
                    None => left.push(fact.clone()),
                }
            }
            left
        };
        let (gone, come) = (missing(old, new), missing(new, old));
        if let ([then], [now]) = (gone.as_slice(), come.as_slice()) {
            let only_letters = letters(&then.says) == letters(&now.says);
            let raised = rank(&then.says) > 0 && rank(&now.says) > rank(&then.says);
            let grade = match (only_letters, raised) {
                (true, _) => Grade::Quiet,
                (false, true) => Grade::Middle,
                (false, false) => then.gone.min(now.come),
            };
            changes.push(owner.change(grade, about, format!("{about}: {} → {}", then.says, now.says)));
            continue;
        }
        for fact in gone {
            changes.push(owner.change(fact.gone, about, format!("{about} gone: {}", fact.says)));
        }
        for fact in come {
            changes.push(owner.change(fact.come, about, format!("{about} new: {}", fact.says)));
        }
    }
    changes
}

/// A text without blanks, punctuation and capitals, by which words that are only set otherwise are told. What stands between
/// digits, and every sign beside a digit, counts: `1.5` is not `15`.
fn letters(text: &str) -> String {
    let counts = |letter: &char| letter.is_alphanumeric() || matches!(letter, '+' | '-' | '±' | '%' | '°');
    if text.chars().any(|letter| letter.is_numeric()) {
        return text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    }
    text.chars().filter(counts).flat_map(char::to_lowercase).collect()
}

/// The rank of a signal word, from 1; 0 for what is none.
fn rank(word: &str) -> usize {
    ["NOTICE", "CAUTION", "WARNING", "DANGER"]
        .iter()
        .position(|known| *known == word)
        .map_or(0, |place| place + 1)
}
