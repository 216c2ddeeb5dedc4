//! What was found in a file, as an editor shows it.

use super::view::{View, short};
use dwell_check::finding::{Finding, Level, Place};
use dwell_syntax::tree::Span;

/// A finding in plain words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// Where, in this file.
    pub span: Span,
    /// How grave.
    pub level: Level,
    /// The rule.
    pub rule: &'static str,
    /// What is wrong, why it matters, how to mend it, and the other places: for clients that show nothing else.
    pub message: String,
    /// The other places that belong to it, each with a few words.
    pub related: Vec<(Place, String)>,
    /// Whether the marked text serves nothing.
    pub needless: bool,
}

/// Rules that say of a text that nothing comes of it.
const NEEDLESS: &[&str] =
    &["name-unused", "reading-unused", "unreachable", "waiver-unused", "restored-untouched"];

/// All findings of a file, in the order of their places.
pub fn remarks(view: &View) -> Vec<Remark> {
    view.findings().map(|finding| remark(view, finding)).collect()
}

fn remark(view: &View, finding: &Finding) -> Remark {
    let related: Vec<(Place, String)> = finding.related.clone();
    Remark {
        span: finding.place.span,
        level: finding.level,
        rule: finding.rule,
        message: message(view, finding),
        related,
        needless: NEEDLESS.contains(&finding.rule),
    }
}

/// The whole of it, a sentence a line.
fn message(view: &View, finding: &Finding) -> String {
    let mut lines = vec![finding.message.clone()];
    lines.extend((!finding.why.is_empty()).then(|| finding.why.clone()));
    lines
        .extend(finding.witness.as_ref().map(|witness| witness.says.clone()).filter(|says| !says.is_empty()));
    lines.extend(finding.help.as_ref().map(|help| format!("help: {help}")));
    for (place, words) in &finding.related {
        lines.extend(located(view, *place).map(|at| format!("{at}: {words}")));
    }
    lines.join("\n")
}

/// "line 12", or "vehicle.dwell, line 12" in another file.
fn located(view: &View, place: Place) -> Option<String> {
    let source = view.other(place.file)?;
    let (line, _) = source.lines.place(&source.text, place.span.start);
    Some(if place.file == view.file() {
        format!("line {line}")
    } else {
        format!("{}, line {line}", short(&source.path))
    })
}
