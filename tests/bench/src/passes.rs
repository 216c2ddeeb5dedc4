//! The passes that are measured: what each does with a whole corpus. Each answers with a number, so that none can be left out.

use crate::bare;
use crate::corpus::Corpus;

/// One pass.
pub(crate) struct Pass {
    /// Its name on the command line.
    pub(crate) name: &'static str,
    /// What it does, for the report.
    pub(crate) what: &'static str,
    /// Does it.
    pub(crate) run: fn(&Corpus) -> usize,
}

/// All passes; the first is the one that the others are compared with.
pub(crate) const ALL: [Pass; 5] = [
    Pass {
        name: "bare",
        what: "bare lexer (a generated automaton, tokens counted)",
        run: |corpus| corpus.texts().map(bare::count).sum(),
    },
    Pass {
        name: "lex",
        what: "Dwell's lexer by itself",
        run: |corpus| corpus.texts().map(|text| dwell_syntax::lex::lex(text).tokens.len()).sum(),
    },
    Pass {
        name: "parse",
        what: "lexing and parsing",
        run: |corpus| {
            corpus.texts().map(|text| dwell_syntax::parse::parse(text).tree.declarations.len()).sum()
        },
    },
    Pass {
        name: "format",
        what: "formatting (reads its own work again)",
        run: |corpus| {
            corpus.texts().map(|text| dwell_syntax::format::format(text).map_or(0, |set| set.len())).sum()
        },
    },
    Pass {
        name: "check",
        what: "a full check of all files together",
        run: |corpus| dwell_check::check::check(&corpus.names(), corpus).findings.len(),
    },
];

/// The pass of this name.
pub(crate) fn named(name: &str) -> Option<&'static Pass> {
    ALL.iter().find(|pass| pass.name == name)
}
