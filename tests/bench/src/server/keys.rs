//! What is typed into the long file: each edit, and the one that takes it back.

use dwell_tests::chance::Chance;
use serde_json::{Value, json};

/// A text as the editor has it.
pub(crate) struct Typed {
    /// The text.
    pub(crate) text: String,
    /// Its version.
    pub(crate) version: i32,
}

/// An edit: bytes `at..at + gone` become `new`.
#[derive(Clone, Debug)]
pub(crate) struct Edit {
    /// Where.
    pub(crate) at: usize,
    gone: usize,
    new: String,
}

/// The kinds of edits that are measured.
pub(crate) const KINDS: [&str; 6] =
    ["a letter in a text", "a digit of a number", "a letter of a name", "a step", "a brace", "a space"];

impl Typed {
    /// An edit of this kind somewhere in the text; none where there is no place for it.
    pub(crate) fn edit(&self, kind: &str, chance: &mut Chance) -> Option<Edit> {
        let after = |what: &str, chance: &mut Chance| {
            let places: Vec<usize> = self.text.match_indices(what).map(|(at, _)| at + what.len()).collect();
            let count = u64::try_from(places.len()).ok()?;
            let chosen = usize::try_from(chance.below(count.max(1))).ok()?;
            places.get(chosen).copied()
        };
        let put = |at, new: &str| Edit { at, gone: 0, new: new.to_owned() };
        Some(match kind {
            "a letter in a text" => put(after("the belt", chance)?, "x"),
            "a digit of a number" => put(after(" ± ", chance)?, "1"),
            "a letter of a name" => put(after("belt-met", chance)?, "x"),
            "a step" => {
                let step = "    step more \"Look once more\" {\n        do \"Look at it.\"\n    }\n\n";
                put(after("    restore {", chance)? - "    restore {".len(), step)
            }
            "a brace" => Edit { at: after("    restore {", chance)? - 1, gone: 1, new: String::new() },
            _ => put(after("\n        ", chance)?, " "),
        })
    }

    /// Makes an edit: the change as the protocol writes it, and the edit that takes it back.
    pub(crate) fn make(&mut self, edit: &Edit) -> (Value, Edit) {
        let end = edit.at + edit.gone;
        let range = json!({ "start": position(&self.text, edit.at), "end": position(&self.text, end) });
        let was = self.text.get(edit.at..end).unwrap_or_default().to_owned();
        self.text.replace_range(edit.at..end, &edit.new);
        self.version += 1;
        let back = Edit { at: edit.at, gone: edit.new.len(), new: was };
        (json!([{ "range": range, "text": edit.new }]), back)
    }
}

/// The place of a byte, in lines and units of UTF-16.
pub(crate) fn position(text: &str, at: usize) -> Value {
    let before = text.get(..at).unwrap_or_default();
    let line = before.rsplit('\n').next().unwrap_or_default();
    json!({ "line": before.matches('\n').count(), "character": line.encode_utf16().count() })
}
