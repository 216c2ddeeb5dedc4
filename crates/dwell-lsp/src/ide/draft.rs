//! A text that is open in the editor: it is parsed when somebody needs that, and then once.

use super::interface::Interface;
use dwell_check::check::Memory;
use dwell_check::program::Content;
use dwell_syntax::lines::Lines;
use std::sync::{Arc, OnceLock};

/// A text as the editor has it.
#[derive(Debug)]
pub struct Draft {
    text: String,
    lines: Lines,
    content: OnceLock<Arc<Content>>,
    interface: OnceLock<Interface>,
    memory: Arc<Memory>,
}

impl Draft {
    /// This text.
    pub fn of(text: String) -> Draft {
        Draft::with(text, Arc::default())
    }

    /// The text that comes after this one.
    pub fn next(&self, text: String) -> Draft {
        Draft::with(text, Arc::clone(&self.memory))
    }

    fn with(text: String, memory: Arc<Memory>) -> Draft {
        let lines = Lines::of(&text);
        Draft { text, lines, content: OnceLock::new(), interface: OnceLock::new(), memory }
    }

    /// The text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Its lines.
    pub fn lines(&self) -> &Lines {
        &self.lines
    }

    /// What is in it.
    pub fn content(&self) -> &Arc<Content> {
        self.content.get_or_init(|| Arc::new(Content::of(self.text.clone())))
    }

    /// What is kept from one check of it to the next.
    pub(crate) fn memory(&self) -> &Arc<Memory> {
        &self.memory
    }

    /// What of it others can see.
    pub fn interface(&self) -> Interface {
        *self.interface.get_or_init(|| Interface::of(self.content()))
    }
}
