//! The files that are checked together: the roots, what they use, and the prelude.

mod load;

use dwell_syntax::lines::Lines;
use dwell_syntax::slip::Slip;
use dwell_syntax::tree::File;
use std::ops::Deref;
use std::sync::Arc;

/// Where texts come from; given by the shell, so that nothing in here touches a disk.
pub trait Sources {
    /// The text of a file.
    ///
    /// # Errors
    /// A sentence for the writer: what could not be read, and why.
    fn read(&self, path: &str) -> Result<String, String>;

    /// The same already parsed, where it was kept from an earlier check; then [`Sources::read`] is not asked.
    fn parsed(&self, _path: &str) -> Option<Arc<Content>> {
        None
    }

    /// The path of the file that `from` means by `used`.
    fn join(&self, from: &str, used: &str) -> String;

    /// The path of a file from where the settings are, with `/` between; the path itself where there are none.
    fn home(&self, path: &str) -> String {
        path.to_owned()
    }
}

/// The path that the prelude is shown with.
pub const PRELUDE: &str = "<prelude>";

/// What the prelude says.
pub const PRELUDE_TEXT: &str = include_str!("prelude.dwell");

/// What is in a file: it follows from its text alone, and so is shared by all checks of that text.
#[derive(Clone, Debug, Default)]
pub struct Content {
    /// The text.
    pub text: String,
    /// Its lines.
    pub lines: Lines,
    /// Its tree.
    pub tree: File,
    /// What could not be read in it.
    pub slips: Vec<Slip>,
}

impl Content {
    /// Parses a text.
    pub fn of(text: String) -> Content {
        let parsed = dwell_syntax::parse::parse(&text);
        Content { lines: Lines::of(&text), tree: parsed.tree, slips: parsed.slips, text }
    }
}

/// One file.
#[derive(Clone, Debug)]
pub struct SourceFile {
    /// Its path as shown to people; the prelude's is [`PRELUDE`].
    pub path: String,
    /// What is in it.
    pub content: Arc<Content>,
    /// The files that it uses, by their place in the program, each with the span of its `use`.
    pub uses: Vec<(usize, dwell_syntax::tree::Span)>,
    /// Whether it was asked to be checked, not only used.
    pub root: bool,
}

impl SourceFile {
    /// A file that is looked at alone, without what it uses.
    pub fn alone(path: &str, text: &str) -> SourceFile {
        let content = Arc::new(Content::of(text.to_owned()));
        SourceFile { path: path.to_owned(), content, uses: Vec::new(), root: true }
    }
}

impl Deref for SourceFile {
    type Target = Content;

    fn deref(&self) -> &Content {
        &self.content
    }
}

/// All files, the prelude first.
#[derive(Clone, Debug, Default)]
pub struct Program {
    /// In the order they were met; file 0 is the prelude.
    pub files: Vec<SourceFile>,
}
