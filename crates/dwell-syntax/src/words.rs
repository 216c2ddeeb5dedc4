//! The one list of words: 20 hard ones that are never names, and the soft ones that mean something only where a name cannot stand.

#[cfg(test)]
mod tests;

macro_rules! words {
    ($( $group:ident: $( $variant:ident = $text:literal ),+ ; )+) => {
        /// A word that the language knows.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[allow(missing_docs)]
        pub enum Word { $( $( $variant, )+ )+ }

        /// Every word, in the order of its group.
        pub const WORDS: &[Word] = &[ $( $( Word::$variant, )+ )+ ];

        impl Word {
            /// The word spelt `text`, if the language knows it.
            pub fn of(text: &str) -> Option<Word> {
                match text {
                    $( $( $text => Some(Word::$variant), )+ )+
                    _ => None,
                }
            }

            /// How it is spelt.
            pub fn text(self) -> &'static str {
                match self { $( $( Word::$variant => $text, )+ )+ }
            }

            /// Where it is used first.
            pub fn group(self) -> Group {
                match self { $( $( Word::$variant )|+ => Group::$group, )+ }
            }
        }
    };
}

/// What a word is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Group {
    /// Never a name.
    Hard,
    /// Begins a declaration.
    Declaration,
    /// Begins a part of a procedure.
    Procedure,
    /// Begins a statement.
    Statement,
    /// Stands inside a statement.
    Clause,
    /// Stands in the lines of a declaration.
    Line,
    /// How several values become one.
    Fold,
    /// How a procedure ends.
    Outcome,
}

words! {
    Hard: To = "to", With = "with", By = "by", For = "for", Each = "each", At = "at", Of = "of", Most = "most",
        Least = "least", Is = "is", Are = "are", Not = "not", And = "and", Or = "or", If = "if", Else = "else",
        When = "when", Where = "where", Then = "then", Otherwise = "otherwise";
    Declaration: Use = "use", Procedure = "procedure", Spec = "spec", Table = "table", Series = "series",
        Quantity = "quantity", Handling = "handling", Item = "item", Tool = "tool", Hazard = "hazard",
        Variant = "variant", Positions = "positions";
    Procedure: Revision = "revision", Applies = "applies", Needs = "needs", Leaves = "leaves", Step = "step",
        Restore = "restore", Case = "case", Decide = "decide", Guarded = "guarded", Simple = "simple", Signed = "signed",
        Twice = "twice", Ends = "ends", Withdrawn = "withdrawn";
    Statement: Do = "do", Measure = "measure", Read = "read", Expect = "expect", Adjust = "adjust", Ask = "ask",
        Let = "let", Wait = "wait", Perform = "perform", Refer = "refer", End = "end", Cause = "cause",
        Choose = "choose", Back = "back", On = "on", Keep = "keep", Waive = "waive", Note = "note",
        Danger = "danger", Warning = "warning", Caution = "caution", Notice = "notice";
    Clause: Again = "again", After = "after", Every = "every", Over = "over", Until = "until", Take = "take",
        Averaging = "averaging", Since = "since", From = "from", Expected = "expected", Proves = "proves",
        Brings = "brings", Zeroes = "zeroes", Up = "up", Times = "times", Time = "time", Within = "within",
        Any = "any", Above = "above", Below = "below", Exactly = "exactly", Meets = "meets", Misses = "misses",
        Nearest = "nearest", One = "one", Target = "target", First = "first", Because = "because",
        Sine = "sine", Root = "root";
    Line: States = "states", Proof = "proof", May = "may", Stay = "stay", Moves = "moves", Lasts = "lasts", Checked = "checked",
        Has = "has", Play = "play",
        Located = "located", Torque = "torque", Fits = "fits", Measures = "measures", Sets = "sets",
        Resolution = "resolution", Accuracy = "accuracy", Calibrated = "calibrated", Months = "months",
        Month = "month", Warms = "warms", Settles = "settles", Zeroed = "zeroed", Before = "before",
        Impedance = "impedance", Reaches = "reaches", Extends = "extends", Never = "never", Limits = "limits", Means = "means", Positive = "positive", Negative = "negative",
        Per = "per", Steps = "steps", Check = "check", Source = "source", Stages = "stages", Turn = "turn",
        Condition = "condition", Adjustable = "adjustable", Rows = "rows", Between = "between",
        Outside = "outside", Linear = "linear", Refuse = "refuse", Low = "low", High = "high", No = "no",
        Reading = "reading", Digits = "digits", Digit = "digit";
    Fold: Lowest = "lowest", Highest = "highest", Mean = "mean", Spread = "spread", Sum = "sum",
        Furthest = "furthest", Last = "last";
    Outcome: Passed = "passed", Failed = "failed", Unfinished = "unfinished", Referred = "referred";
}

impl Word {
    /// Whether it is one of the 20 words that are never names.
    pub fn is_hard(self) -> bool {
        self.group() == Group::Hard
    }

    /// Whether it begins a declaration.
    pub fn begins_declaration(self) -> bool {
        self.group() == Group::Declaration
    }

    /// Whether it begins a statement; `if` and `for` do, although they are hard words.
    pub fn begins_statement(self) -> bool {
        self.group() == Group::Statement || matches!(self, Word::If | Word::For)
    }

    /// Whether it begins a part of a procedure.
    pub fn begins_part(self) -> bool {
        matches!(
            self,
            Word::Revision
                | Word::Applies
                | Word::Needs
                | Word::Leaves
                | Word::Step
                | Word::Restore
                | Word::Case
                | Word::Decide
                | Word::Withdrawn
                | Word::Keep
        )
    }
}
