//! A document that is open in the editor.

use super::late::Late;
use super::positions::Encoding;
use crate::ide::shelf::is_settings;
use crate::ide::{Draft, View};
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
#[derive(Clone, Debug)]
pub(crate) struct Document {
    /// Its address as the editor spells it.
    pub(crate) uri: Uri,
    /// Its version, which the editor counts.
    pub(crate) version: i32,
    /// Its text.
    pub(crate) draft: Arc<Draft>,
    /// The newest order to check it.
    pub(crate) order: u64,
    /// The latest check, with the order that it was made for.
    pub(crate) view: Option<(u64, Arc<View>)>,
    /// Whether that order was given for the sake of another file, of which the editor knows nothing.
    pub(crate) for_others: bool,
    late: Late,
}

impl Document {
    /// A document that was just opened.
    pub(crate) fn new(uri: Uri, version: i32, draft: Arc<Draft>) -> Document {
        Document { uri, version, draft, order: 0, view: None, for_others: false, late: Late::default() }
    }

    /// Whether it is no procedure but settings, of which only findings are told.
    pub(crate) fn is_settings(&self) -> bool {
        is_settings(self.uri.as_str())
    }

    /// The check of the text as it is now, if it was made.
    pub(crate) fn newest(&self) -> Option<&Arc<View>> {
        self.view.as_ref().filter(|(order, _)| *order == self.order).map(|(_, view)| view)
    }

    /// Makes changes, one after the other; false if the text stays as it is, because this version was taken before.
    pub(crate) fn change(&mut self, version: i32, changes: Vec<Change>, encoding: Encoding) -> bool {
        if version > self.version {
            self.late.note((self.version, &self.draft), version, &changes);
            self.version = version;
            self.draft = changed(&self.draft, changes, encoding);
            return true;
        }
        let Some((mut draft, all)) = self.late.insert(version, changes) else { return false };
        for changes in all {
            draft = changed(&draft, changes, encoding);
        }
        self.draft = draft;
        true
    }
}

/// The text after some changes.
fn changed(draft: &Draft, changes: Vec<Change>, encoding: Encoding) -> Arc<Draft> {
    let mut whole = draft.text().to_owned();
    let mut lines = draft.lines().clone();
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
    Arc::new(draft.next(whole))
}

#[cfg(test)]
mod tests {
    use super::{Arc, Change, Document, Draft, Encoding, Range};
    use std::str::FromStr;
    use tower_lsp::ls_types::{Position, Uri};

    #[test]
    fn changes_are_made_one_after_the_other_and_old_versions_are_dropped() {
        let uri = Uri::from_str("untitled:a").ok();
        let Some(uri) = uri else { unreachable!() };
        let mut document = Document::new(uri, 1, Arc::new(Draft::of("a 😀\r\nb".to_owned())));
        let at = |line, character| Position { line, character };
        let put =
            |start, end, text: &str| Change { range: Some(Range { start, end }), text: text.to_owned() };
        let changes =
            vec![put(at(0, 2), at(0, 4), "é"), put(at(1, 1), at(1, 1), "c\nd"), put(at(2, 0), at(2, 1), "")];
        assert!(document.change(2, changes, Encoding::Utf16));
        assert_eq!(document.draft.text(), "a é\r\nbc\n");
        assert!(!document.change(2, vec![Change { range: None, text: "no".into() }], Encoding::Utf16));
        assert!(document.change(5, vec![Change { range: None, text: "yes".into() }], Encoding::Utf16));
        assert_eq!(document.draft.text(), "yes");
    }

    #[test]
    fn a_change_that_comes_late_is_made_where_it_belongs() {
        let Ok(uri) = Uri::from_str("untitled:a") else { unreachable!() };
        let mut document = Document::new(uri, 1, Arc::new(Draft::of(String::new())));
        let mut key = |version: i32, column: u32, text: &str| {
            let at = Position { line: 0, character: column };
            let change = Change { range: Some(Range { start: at, end: at }), text: text.to_owned() };
            (document.change(version, vec![change], Encoding::Utf16), document.draft.text().to_owned())
        };
        assert!(key(2, 0, "b").0);
        assert!(key(4, 2, "l").0);
        assert!(key(6, 4, "!").0);
        assert!(key(3, 1, "e").0);
        assert_eq!(key(5, 3, "t"), (true, "belt!".to_owned()));
        // None of them is taken twice, and nothing that is too old.
        assert_eq!(key(5, 3, "t"), (false, "belt!".to_owned()));
        assert_eq!(key(1, 0, "x"), (false, "belt!".to_owned()));
        // A number that never comes is not waited for.
        for (version, column) in (8..40).zip(5..) {
            assert!(key(version, column, ".").0);
        }
        assert!(!key(7, 0, "x").0);
    }
}
