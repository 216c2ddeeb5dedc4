//! One text in the place of every file, for tests that need no more.

use dwell_check::program::Sources;

/// Whatever is asked for, it is this text.
pub(crate) struct One<'a>(pub(crate) &'a str);

impl Sources for One<'_> {
    fn read(&self, _: &str) -> Result<String, String> {
        Ok(self.0.to_owned())
    }
    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }
}
