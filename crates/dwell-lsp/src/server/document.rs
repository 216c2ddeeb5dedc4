//! A document that is open in the editor.

use super::positions::Encoding;
use crate::ide::View;
use dwell_check::program::Content;
use std::sync::Arc;
use tower_lsp::ls_types::{Range, Uri};

/// A change: the new text of a range, or of all of it.
#[derive(Clone, Debug)]
pub(crate) struct Change {
    /// Where; everywhere without one.
    pub(crate) range: Option<Range>,
    /// The new text.
    pub(crate) text: String,
}

/// A document.
#[derive(Debug)]
pub(crate) struct Document {
    /// Its address as the editor spells it.
    pub(crate) uri: Uri,
    /// Its version, which the editor counts.
    pub(crate) version: i32,
    /// Its text.
    pub(crate) content: Arc<Content>,
    /// The newest order to check it.
    pub(crate) order: u64,
    /// The latest check, with the order that it was made for.
    pub(crate) view: Option<(u64, Arc<View>)>,
    /// Whether that order was given for the sake of another file, of which the editor knows nothing.
    pub(crate) for_others: bool,
}

impl Document {
    /// A document that was just opened.
    pub(crate) fn new(uri: Uri, version: i32, content: Arc<Content>) -> Document {
        Document { uri, version, content, order: 0, view: None, for_others: false }
    }

    /// The check of the text as it is now, if it was made.
    pub(crate) fn newest(&self) -> Option<&Arc<View>> {
        self.view.as_ref().filter(|(order, _)| *order == self.order).map(|(_, view)| view)
    }

    /// Makes changes, one after the other; false for a version that is not newer, of which nothing is taken.
    pub(crate) fn change(&mut self, version: i32, changes: Vec<Change>, encoding: Encoding) -> bool {
        if version <= self.version {
            return false;
        }
        self.version = version;
        let mut whole = self.content.text.clone();
        let mut lines = self.content.lines.clone();
        for (place, change) in changes.into_iter().enumerate() {
            match change.range {
                None => whole = change.text,
                Some(range) => {
                    if place > 0 {
                        lines = dwell_syntax::lines::Lines::of(&whole);
                    }
                    let span = encoding.span_in(&whole, &lines, range);
                    whole.replace_range(span.start..span.end, &change.text);
                }
            }
        }
        self.content = Arc::new(Content::of(whole));
        true
    }
}

#[cfg(test)]
mod tests {
    use super::{Arc, Change, Content, Document, Encoding, Range};
    use std::str::FromStr;
    use tower_lsp::ls_types::{Position, Uri};

    #[test]
    fn changes_are_made_one_after_the_other_and_old_versions_are_dropped() {
        let uri = Uri::from_str("untitled:a").ok();
        let Some(uri) = uri else { unreachable!() };
        let mut document = Document::new(uri, 1, Arc::new(Content::of("a 😀\r\nb".to_owned())));
        let at = |line, character| Position { line, character };
        let put =
            |start, end, text: &str| Change { range: Some(Range { start, end }), text: text.to_owned() };
        let changes =
            vec![put(at(0, 2), at(0, 4), "é"), put(at(1, 1), at(1, 1), "c\nd"), put(at(2, 0), at(2, 1), "")];
        assert!(document.change(2, changes, Encoding::Utf16));
        assert_eq!(document.content.text, "a é\r\nbc\n");
        assert!(!document.change(2, vec![Change { range: None, text: "no".into() }], Encoding::Utf16));
        assert!(document.change(5, vec![Change { range: None, text: "yes".into() }], Encoding::Utf16));
        assert_eq!(document.content.text, "yes");
    }
}
