//! A word that the house does not use.

use super::{Rule, sentence};
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::options::HouseWord;
use crate::program::SourceFile;
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::Span;

pub(super) const RULE: Rule =
    Rule { name: "house-word", level: Level::Warning, waivable: true, page: include_str!("house_word.md") };

/// Words after which a text is not the writer's own: a file, a thread, a book, where a thing is.
const NOT_ITS_OWN: [&str; 3] = ["use", "fits", "source"];

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    let vocabulary = &facts.options.vocabulary;
    if vocabulary.is_empty() {
        return;
    }
    let settings = facts.options.settings.as_ref().map(|settings| settings.path.as_str());
    let written = facts.program.files.iter().enumerate().skip(1);
    for (file, source) in written.filter(|(_, source)| Some(source.path.as_str()) != settings) {
        for span in texts(source) {
            let text = facts.text(Place { file, span });
            for word in vocabulary {
                for (at, found) in places(text, &word.avoid) {
                    let start = span.start + at;
                    let place = Place { file, span: Span::new(start, start + found.len()) };
                    findings.push(told(place, found, word));
                }
            }
        }
    }
}

fn told(place: Place, found: &str, word: &HouseWord) -> Finding {
    let instead = like(found, &word.instead);
    RULE.at(place, format!("this house does not say “{found}”"))
        .label("another word is agreed")
        .why(sentence(&word.because))
        .help(format!("write “{instead}”"))
        .fix(place, instead)
}

/// Where the writer's texts stand, with their quotes.
fn texts(source: &SourceFile) -> impl Iterator<Item = Span> {
    let mut own = true;
    lex(&source.text).tokens.into_iter().filter_map(move |token| match token.kind {
        TokenKind::Str | TokenKind::LineStr => std::mem::replace(&mut own, true).then_some(token.span),
        _ => {
            let written = source.text.get(token.span.start..token.span.end).unwrap_or_default();
            own = !NOT_ITS_OWN.contains(&written);
            None
        }
    })
}

/// Each place where `avoid` stands as a word of its own, in capitals or not, outside the braces of a reading.
fn places<'t>(text: &'t str, avoid: &str) -> Vec<(usize, &'t str)> {
    let mut found = Vec::new();
    let mut inside = false;
    let mut before = ' ';
    for (at, letter) in text.char_indices() {
        inside = (inside || letter == '{') && letter != '}';
        if !inside && !joins(before) {
            found.extend(beginning(text, at, avoid).map(|word| (at, word)));
        }
        before = letter;
    }
    found
}

/// The word that is avoided, if it stands just here and ends here.
fn beginning<'t>(text: &'t str, at: usize, avoid: &str) -> Option<&'t str> {
    let rest = text.get(at..)?;
    let mut letters = rest.char_indices();
    for wanted in avoid.chars() {
        let (_, letter) = letters.next()?;
        if !letter.to_lowercase().eq(wanted.to_lowercase()) {
            return None;
        }
    }
    let end = letters.next().map_or(rest.len(), |(end, _)| end);
    let next = rest.get(end..)?.chars().next();
    (!next.is_some_and(joins)).then(|| rest.get(..end))?
}

/// Whether a letter is of one word with its neighbour.
fn joins(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '-'
}

/// The new word with a capital where the old one had one.
fn like(found: &str, instead: &str) -> String {
    let mut letters = instead.chars();
    match letters.next() {
        Some(first) if found.starts_with(char::is_uppercase) => first.to_uppercase().chain(letters).collect(),
        _ => instead.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{like, places};

    fn at(text: &str, avoid: &str) -> Vec<usize> {
        places(text, avoid).into_iter().map(|(at, _)| at).collect()
    }

    #[test]
    fn only_whole_words_are_meant() {
        assert_eq!(at("Auto, automatic, semi-auto, AUTO.", "auto"), [0, 28]);
        assert_eq!(at("the crank shaft and the crank shafts", "crank shaft"), [4]);
        assert_eq!(at("Größe {maß} Maß", "maß"), [15]);
        assert_eq!(at("", "x"), Vec::<usize>::new());
    }

    #[test]
    fn a_capital_stays() {
        assert_eq!(like("Auto", "vehicle"), "Vehicle");
        assert_eq!(like("auto", "vehicle"), "vehicle");
    }
}
