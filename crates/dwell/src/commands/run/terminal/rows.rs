//! Rows of words, each word with its ink, broken to a width; nothing here knows a terminal.

use crate::drawing::visible;
use crate::screen::Ink;
use unicode_width::UnicodeWidthStr;

/// Words of one ink.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    /// The ink; none for plain.
    pub(super) ink: Option<Ink>,
    /// Whether light and dark are exchanged: signal words and the head, seen without colour too.
    pub(super) turned: bool,
    /// The words.
    pub(super) text: String,
}

/// One row of the screen.
pub(super) type Row = Vec<Piece>;

/// Words in an ink.
pub(super) fn inked(ink: Ink, text: &str) -> Piece {
    Piece { ink: Some(ink), turned: false, text: visible(text) }
}

/// Plain words.
pub(super) fn plain(text: &str) -> Piece {
    Piece { ink: None, turned: false, text: visible(text) }
}

/// Words with light and dark exchanged.
pub(super) fn turned(ink: Option<Ink>, text: &str) -> Piece {
    Piece { ink, turned: true, text: visible(text) }
}

/// How many columns words take.
pub(super) fn columns(text: &str) -> usize {
    text.width()
}

/// Breaks words at blanks to a width, `first` before the first row and blanks of its width before the others. A word that is
/// longer than a row is cut into several: nothing is lost at the edge.
pub(super) fn broken(first: &str, words: &str, width: usize) -> Vec<String> {
    let indent = " ".repeat(columns(first).min(width / 2));
    let mut rows = Vec::new();
    let mut row = first.to_owned();
    let mut empty = true;
    for word in visible(words).split_whitespace() {
        let mut word = word.to_owned();
        loop {
            let blank = usize::from(!empty);
            if columns(&row) + blank + columns(&word) <= width {
                if !empty {
                    row.push(' ');
                }
                row.push_str(&word);
                empty = false;
                break;
            }
            if !empty {
                rows.push(std::mem::replace(&mut row, indent.clone()));
                empty = true;
                continue;
            }
            let room = width.saturating_sub(columns(&row)).max(1);
            let (head, tail) = cut(&word, room);
            row.push_str(&head);
            rows.push(std::mem::replace(&mut row, indent.clone()));
            word = tail;
            if word.is_empty() {
                break;
            }
        }
    }
    if !empty || rows.is_empty() {
        rows.push(row);
    }
    rows
}

/// As much of a word as fits, at least one letter, and the rest.
fn cut(word: &str, room: usize) -> (String, String) {
    let mut head = String::new();
    let mut letters = word.chars();
    while let Some(letter) = letters.next() {
        head.push(letter);
        let next = letters.clone().next().map_or(0, |next| columns(&next.to_string()));
        if columns(&head) + next > room {
            break;
        }
    }
    (head, letters.as_str().to_owned())
}

/// Broken words, all in one ink.
pub(super) fn told(ink: Option<Ink>, first: &str, words: &str, width: usize) -> Vec<Row> {
    let rows = broken(first, words, width).into_iter();
    rows.map(|text| vec![Piece { ink, turned: false, text }]).collect()
}

/// As much of words as fits in a row, with a mark where something is left out.
pub(super) fn fitted(words: &str, width: usize, mark: &str) -> String {
    let words = visible(words);
    if columns(&words) <= width {
        return words;
    }
    let (head, _) = cut(&words, width.saturating_sub(columns(mark)).max(1));
    format!("{head}{mark}")
}
