//! The forms of the parts of a procedure and of its statements.

use dwell_syntax::tree::{
    Arm, Block, Case, CaseValue, Clause, Handle, Keep, Kept, Measure, Part, Side, Statement, StatementKind,
    To,
};

use super::Met;

/// Every form, as a reader knows it.
pub(super) const ALL: &[&str] = &[
    "revision",
    "procedure withdrawn",
    "decide guarded",
    "decide simple",
    "applies to",
    "needs",
    "needs … by",
    "leaves",
    "keep in a procedure",
    "a statement in a procedure",
    "step",
    "signed",
    "signed twice",
    "restore",
    "restore signed",
    "case",
    "case with a value",
    "case with several values of one reading",
    "case with an interval",
    "case with a need that does not hold",
    "case with an answer",
    "a caution with words of its own",
    "a caution",
    "note",
    "a verb",
    "a verb to an item or a spec",
    "a verb to a band",
    "a verb at each place",
    "a verb at one place",
    "a verb with a tool",
    "do",
    "do … brings",
    "do … zeroes",
    "measure",
    "measure several",
    "measure again",
    "measure at",
    "measure at each",
    "measure after",
    "measure every",
    "measure averaging",
    "measure over",
    "measure over at most",
    "measure … times",
    "measure … take",
    "measure until",
    "read",
    "read … expected",
    "expect",
    "expect … proves",
    "otherwise",
    "otherwise low",
    "otherwise high",
    "otherwise no reading",
    "otherwise of one reading",
    "adjust",
    "adjust several",
    "if",
    "else if",
    "else",
    "ask",
    "ask … one of",
    "let",
    "let with a kind",
    "let a band",
    "wait",
    "wait … since",
    "perform",
    "perform … otherwise",
    "refer to",
    "cause",
    "end",
    "back to",
    "on to",
    "keep a state",
    "keep a state for a block",
    "keep a quantity",
    "for each",
    "for each … where",
    "choose",
    "waive",
];

impl Met {
    /// The parts of a procedure.
    pub(super) fn parts(&mut self, parts: &[Part]) {
        for part in parts {
            match part {
                Part::Revision { .. } => self.form("revision"),
                Part::Withdrawn(..) => self.form("procedure withdrawn"),
                Part::Decide { guarded: true, .. } => self.form("decide guarded"),
                Part::Decide { guarded: false, .. } => self.form("decide simple"),
                Part::Applies(_) => self.form("applies to"),
                Part::Needs(needs, _) => {
                    for need in needs {
                        self.form(if need.by.is_some() { "needs … by" } else { "needs" });
                    }
                }
                Part::Leaves(..) => self.form("leaves"),
                Part::Keep(keep, _) => {
                    self.form("keep in a procedure");
                    self.keep(keep);
                }
                Part::Statement(statement) => {
                    self.form("a statement in a procedure");
                    self.statement(statement);
                }
                Part::Step(step) => {
                    self.form("step");
                    self.signed(step.signed);
                    self.block(&step.block);
                }
                Part::Restore { block, signed, .. } => {
                    self.form("restore");
                    if *signed > 0 {
                        self.form("restore signed");
                    }
                    self.block(block);
                }
                Part::Case(case) => self.case(case),
            }
        }
    }

    fn signed(&mut self, persons: u8) {
        match persons {
            0 => {}
            1 => self.form("signed"),
            _ => self.form("signed twice"),
        }
    }

    fn case(&mut self, case: &Case) {
        self.form("case");
        for value in case.entries.iter().flat_map(|entry| &entry.values) {
            self.form(match value {
                CaseValue::Amount(_) => "case with a value",
                CaseValue::Series(..) => "case with several values of one reading",
                CaseValue::Interval(..) => "case with an interval",
                CaseValue::Word(_) => "case with an answer",
                CaseValue::Not(_) => "case with a need that does not hold",
            });
        }
    }

    fn block(&mut self, block: &Block) {
        for statement in &block.statements {
            self.statement(statement);
        }
    }

    fn arms(&mut self, arms: &[Arm]) {
        for arm in arms {
            self.form(match arm.side {
                None => "otherwise",
                Some(Side::Low) => "otherwise low",
                Some(Side::High) => "otherwise high",
                Some(Side::NoReading) => "otherwise no reading",
            });
            self.part(&arm.of, "otherwise of one reading");
            self.block(&arm.block);
        }
    }

    fn statement(&mut self, statement: &Statement) {
        match &statement.kind {
            StatementKind::Caution { level, text, .. } => {
                self.form("a caution");
                self.level(*level);
                self.part(text, "a caution with words of its own");
            }
            StatementKind::Note(_) => self.form("note"),
            StatementKind::Handle(handle) => self.handle(handle),
            StatementKind::Do { brings, zeroes, .. } => {
                self.form("do");
                if !brings.is_empty() {
                    self.form("do … brings");
                }
                self.part(zeroes, "do … zeroes");
            }
            StatementKind::Measure(measure) => self.measure(measure),
            StatementKind::Read { expected, .. } => {
                self.form("read");
                if let Some(band) = self.part(expected, "read … expected") {
                    self.band(band);
                }
            }
            StatementKind::Expect { condition, proves, otherwise } => {
                self.form("expect");
                self.condition(condition);
                self.part(proves, "expect … proves");
                self.arms(otherwise);
            }
            StatementKind::Adjust { what, block, otherwise, .. } => {
                self.form(if what.len() > 1 { "adjust several" } else { "adjust" });
                self.block(block);
                self.arms(otherwise);
            }
            StatementKind::If { arms, last } => {
                for (place, (condition, block)) in arms.iter().enumerate() {
                    self.form(if place == 0 { "if" } else { "else if" });
                    self.condition(condition);
                    self.block(block);
                }
                if let Some(last) = self.part(last, "else") {
                    self.block(last);
                }
            }
            StatementKind::Ask { answers, .. } => {
                self.form(if answers.is_empty() { "ask" } else { "ask … one of" });
            }
            StatementKind::LetBand { band, .. } => {
                self.form("let a band");
                for (end, _) in [&band.low, &band.high].into_iter().flatten() {
                    self.formula(end);
                }
            }
            StatementKind::Let { kind, value, .. } => {
                self.form(if kind.is_some() { "let with a kind" } else { "let" });
                self.formula(value);
            }
            StatementKind::Wait { since, .. } => {
                self.form(if since.is_some() { "wait … since" } else { "wait" });
            }
            StatementKind::Perform { otherwise, .. } => {
                self.form(if otherwise.is_empty() { "perform" } else { "perform … otherwise" });
                self.arms(otherwise);
            }
            StatementKind::Refer { .. } => self.form("refer to"),
            StatementKind::Cause { .. } => self.form("cause"),
            StatementKind::End { .. } => self.form("end"),
            StatementKind::Back { otherwise, .. } => {
                self.form("back to");
                self.arms(otherwise);
            }
            StatementKind::On { .. } => self.form("on to"),
            StatementKind::Keep(keep) => self.keep(keep),
            StatementKind::ForEach { condition, block, .. } => {
                self.form("for each");
                if let Some(condition) = self.part(condition, "for each … where") {
                    self.condition(condition);
                }
                self.block(block);
            }
            StatementKind::Choose { nearest, otherwise, .. } => {
                self.form("choose");
                self.formula(nearest);
                self.arms(otherwise);
            }
            StatementKind::Waive { .. } => self.form("waive"),
            StatementKind::Broken => panic!("the library has a statement that is not understood"),
        }
    }

    fn handle(&mut self, handle: &Handle) {
        self.form("a verb");
        match &handle.to {
            Some(To::Name(_)) => self.form("a verb to an item or a spec"),
            Some(To::Band(band)) => {
                self.form("a verb to a band");
                self.band(band);
            }
            None => {}
        }
        self.part(&handle.at_each, "a verb at each place");
        self.part(&handle.at, "a verb at one place");
        if !handle.with.is_empty() {
            self.form("a verb with a tool");
        }
    }

    fn measure(&mut self, measure: &Measure) {
        self.form("measure");
        if measure.readings.len() > 1 {
            self.form("measure several");
        }
        if measure.again {
            self.form("measure again");
        }
        for clause in &measure.clauses {
            match clause {
                Clause::At(_) => self.form("measure at"),
                Clause::AtEach(_) => self.form("measure at each"),
                Clause::After(_) => self.form("measure after"),
                Clause::Every(_) => self.form("measure every"),
                Clause::Averaging(_) => self.form("measure averaging"),
                Clause::Over(_, false) => self.form("measure over"),
                Clause::Over(_, true) => self.form("measure over at most"),
                Clause::Times(_) => self.form("measure … times"),
                Clause::Take(fold, _) => {
                    self.form("measure … take");
                    self.fold(*fold);
                }
                Clause::Until(condition) => {
                    self.form("measure until");
                    self.condition(condition);
                }
            }
        }
    }

    fn keep(&mut self, keep: &Keep) {
        match &keep.what {
            Kept::State(_) if keep.block.is_some() => self.form("keep a state for a block"),
            Kept::State(_) => self.form("keep a state"),
            Kept::Quantity(_, band) => {
                self.form("keep a quantity");
                self.band(band);
            }
        }
        if let Some(block) = &keep.block {
            self.block(block);
        }
        self.arms(&keep.otherwise);
    }
}
