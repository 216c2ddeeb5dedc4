//! A change as a reviewer is told of it.

/// How loud a change is, the loudest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// Somebody may be hurt, or something wrong may pass: to be looked at first.
    Loud,
    /// The work, its limits or its record are different.
    Middle,
    /// Words, layout, or how a number is written.
    Quiet,
}

impl Grade {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Grade::Loud => "loud",
            Grade::Middle => "middle",
            Grade::Quiet => "quiet",
        }
    }

    /// The heading over the changes of this grade.
    pub fn heading(self) -> &'static str {
        match self {
            Grade::Loud => "Look at these first",
            Grade::Middle => "The work is different",
            Grade::Quiet => "Only words and layout",
        }
    }
}

/// A place in a file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Where {
    /// The path as it is shown.
    pub path: String,
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
}

/// One change.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Change {
    /// How loud.
    pub grade: Grade,
    /// Whose it is: `procedure belt-and-charging`, `spec belt-tension`.
    pub of: String,
    /// What it is about, a word or two of a closed list: `caution gone`, `limit loosened`.
    pub kind: &'static str,
    /// What changed, one sentence without a final point.
    pub says: String,
    /// Where it was.
    pub old: Option<Where>,
    /// Where it is.
    pub new: Option<Where>,
}

/// All that changed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Comparison {
    /// The changes, the loudest first, then by whose they are.
    pub changes: Vec<Change>,
    /// What could not be compared, because one of its texts has a mistake that hides its meaning.
    pub not_compared: Vec<String>,
}

impl Comparison {
    /// Whether anything but words and layout changed.
    pub fn has_meaning(&self) -> bool {
        self.changes.iter().any(|change| change.grade < Grade::Quiet)
    }

    /// How many changes of that grade there are.
    pub fn count(&self, grade: Grade) -> usize {
        self.changes.iter().filter(|change| change.grade == grade).count()
    }
}
