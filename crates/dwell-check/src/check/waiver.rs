//! Waivers: what the writer lets pass in one block, and why.

use super::{Waived, blocks};
use crate::finding::{Finding, Place};
use crate::program::Program;
use crate::rules::WAIVER_UNUSED;
use crate::trouble::Trouble;
use crate::{names, rules};
use dwell_syntax::tree::{
    Declaration, DeclarationKind, LineKind, Name, Span, Spec, SpecLineKind, StatementKind, Table, Text,
};
use std::collections::HashSet;

/// `waive RULE because "…"`, with what it reaches over.
#[derive(Clone, Debug)]
pub(super) struct Waiver {
    /// The rule.
    rule: String,
    /// The block that it stands in, or the whole procedure.
    block: Place,
    /// Why.
    because: String,
    /// Where it stands.
    place: Place,
}

/// All waivers of all files. One for a rule that is not there, or that cannot be waived, is a trouble.
pub(super) fn all(program: &Program, troubles: &mut Vec<Trouble>) -> Vec<Waiver> {
    let mut waivers = Vec::new();
    for (file, source) in program.files.iter().enumerate() {
        for declaration in &source.tree.declarations {
            waived_in(declaration, &mut |written: Written<'_>| waivers.extend(one(file, &written, troubles)));
        }
    }
    waivers
}

/// A waiver as it is written, with the braces or the declaration that it reaches over.
struct Written<'a> {
    rule: &'a Name,
    because: &'a Text,
    span: Span,
    reach: Span,
}

/// Shows `visit` every waiver of a declaration: of its lines, or of the blocks of a procedure.
fn waived_in<'a>(declaration: &'a Declaration, visit: &mut dyn FnMut(Written<'a>)) {
    let reach = declaration.span;
    let lines = match &declaration.kind {
        DeclarationKind::Procedure(procedure) => {
            blocks::statements(procedure, reach, &mut |statement, block| {
                if let StatementKind::Waive { rule, because } = &statement.kind {
                    visit(Written { rule, because, span: statement.span, reach: block });
                }
            });
            return;
        }
        DeclarationKind::Spec(Spec { lines, .. }) | DeclarationKind::Table(Table { lines, .. }) => {
            for line in lines {
                if let SpecLineKind::Waive { rule, because } = &line.kind {
                    visit(Written { rule, because, span: line.span, reach });
                }
            }
            return;
        }
        DeclarationKind::Handling(handling) => &handling.lines,
        DeclarationKind::Item(item) => &item.lines,
        DeclarationKind::Quantity(quantity) => &quantity.lines,
        DeclarationKind::Tool(tool) => &tool.lines,
        DeclarationKind::Series(_)
        | DeclarationKind::Hazard(_)
        | DeclarationKind::Variant(_)
        | DeclarationKind::Positions(_)
        | DeclarationKind::Use(_)
        | DeclarationKind::Broken => &declaration.waivers,
    };
    for line in lines {
        if let LineKind::Waive { rule, because } = &line.kind {
            visit(Written { rule, because, span: line.span, reach });
        }
    }
}

/// The waiver, if its rule is there and may be waived and a reason is given; else a trouble.
fn one(file: usize, written: &Written<'_>, troubles: &mut Vec<Trouble>) -> Option<Waiver> {
    let Written { rule, because, span, reach } = *written;
    let place = Place { file, span: rule.span };
    match rules::named(&rule.text) {
        Some(known) if known.waivable && because.text.trim().is_empty() => {
            troubles.push(Trouble::NotExecutable {
                place: Place { file, span: because.span },
                what: format!("`{}` is waived without a reason", rule.text),
                help: "say why it does not hold here, in one sentence: it stands in every report".into(),
            });
        }
        Some(known) if known.waivable => {
            return Some(Waiver {
                rule: rule.text.clone(),
                block: Place { file, span: reach },
                because: because.text.clone(),
                place: Place { file, span },
            });
        }
        Some(_) => troubles.push(Trouble::NotExecutable {
            place,
            what: format!("`{}` cannot be waived", rule.text),
            help: "mend what it finds; without that the text has no one meaning".into(),
        }),
        None => troubles.push(Trouble::NotFound {
            place,
            name: rule.text.clone(),
            what: "a rule",
            near: names::near(&rule.text, rules::all().iter().map(|known| known.name)),
            elsewhere: None,
        }),
    }
    None
}

/// Each waiver of the files that were asked for that lets nothing pass. Nothing is said of a file in which not all was
/// looked at, because something in it or in what it uses cannot be read or told apart.
pub(super) fn unused(
    program: &Program,
    waivers: &[Waiver],
    waived: &[Waived],
    looked_at: impl Fn(usize) -> bool,
) -> Vec<Trouble> {
    let used: HashSet<Place> = waived.iter().map(|waived| waived.place).collect();
    let idle = waivers.iter().filter(|waiver| {
        program.files.get(waiver.place.file).is_some_and(|file| file.root)
            && !used.contains(&waiver.place)
            && waiver.rule != WAIVER_UNUSED
            && !rules::is_tried(&waiver.rule)
            && looked_at(waiver.place.file)
    });
    idle.map(|waiver| Trouble::WaiverUnused { place: waiver.place, rule: waiver.rule.clone() }).collect()
}

/// The findings that stand, and those that are waived.
pub(super) fn apart(findings: Vec<Finding>, waivers: &[Waiver]) -> (Vec<Finding>, Vec<Waived>) {
    let mut standing = Vec::new();
    let mut waived = Vec::new();
    for finding in findings {
        match waivers.iter().find(|waiver| waiver.covers(&finding)) {
            Some(waiver) => {
                waived.push(Waived { finding, because: waiver.because.clone(), place: waiver.place });
            }
            None => standing.push(finding),
        }
    }
    (standing, waived)
}

impl Waiver {
    /// Whether this waiver lets that finding pass.
    fn covers(&self, finding: &Finding) -> bool {
        self.rule == finding.rule
            && self.block.file == finding.place.file
            && self.block.span.holds(finding.place.span)
    }
}
