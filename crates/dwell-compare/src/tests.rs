//! What each kind of change is called and how loud it is: one small text, changed once for each.

mod grades;

use crate::{Comparison, Side, compare};
use dwell_check::check::{Checked, check};
use dwell_check::program::Sources;

struct One(String);

impl Sources for One {
    fn read(&self, _: &str) -> Result<String, String> {
        Ok(self.0.clone())
    }
    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }
}

fn checked(text: &str) -> Checked {
    check(&["a.dwell".to_owned()], &One(text.to_owned()))
}

/// Compares two texts.
fn compared(old: &str, new: &str) -> Comparison {
    let (old, new) = (checked(old), checked(new));
    compare(Side { checked: &old, root: "" }, Side { checked: &new, root: "" })
}
