//! What comes of one slip: what is said of it, how far away, how often, and what of the rest is still read.

use dwell_syntax::lines::Lines;

use super::damage::{Damage, Sound};
use super::pieces::{Pieces, pieces};
use crate::merle::Merle;

/// What came of one slip.
pub(super) struct Outcome {
    /// Lines from the slip to the first finding of the parser; lines that hold nothing are not counted.
    pub(super) parser: Option<i64>,
    /// Where the parser is silent: lines from the slip to the nearest finding of the checker.
    pub(super) checker: Option<i64>,
    /// Where the parser spoke and the checker was asked too: the findings of both, as the program shows them.
    pub(super) in_all: Option<usize>,
    /// Pieces of the tree on other lines that do not hold the slip.
    pub(super) others: usize,
    /// How many of these are gone or say something else.
    pub(super) lost: usize,
    /// What is said: by the parser or, where it is silent, by the checker; each with its distance in lines.
    pub(super) said: Vec<String>,
}

impl Outcome {
    /// Lines from the slip to what is said of it.
    pub(super) fn distance(&self) -> Option<i64> {
        self.parser.or(self.checker)
    }
}

/// Reads the damaged text, and checks it where the parser says nothing.
pub(super) fn outcome(damage: &Damage, sound: &Sound, whole: &Pieces, library: &Merle) -> Outcome {
    let text = damage.text(&sound.text);
    let read = pieces(&text);
    let lines = Lines::of(&text);
    let away = |at: usize| distance(&text, lines.line(damage.start), lines.line(at));
    let (others, lost) = compared(damage, &sound.text, whole, &read);
    let mut said: Vec<String> =
        read.slips.iter().map(|slip| shown(away(slip.span.start), &slip.message, &slip.help)).collect();
    let parser = read.slips.first().map(|slip| away(slip.span.start));
    let mut checker = None;
    let mut in_all = None;
    // What the checker adds to the slips is asked at every eighth byte: it takes ten times as long as the parser.
    let adds = parser.is_some() && damage.start.is_multiple_of(8);
    if sound.checks && (parser.is_none() || adds) {
        let checked = library.clone().with(&sound.path, &text).checked_at(&sound.path);
        in_all = adds.then_some(checked.findings.len());
        for finding in checked.findings.iter().filter(|_| !adds) {
            let file = checked.program.files.get(finding.place.file);
            let own = file.is_some_and(|file| file.path == sound.path);
            // A finding in another file is as far away as can be.
            let lines_away = if own { away(finding.place.span.start) } else { i64::MAX };
            said.push(shown(lines_away, &format!("{} {}", finding.rule, finding.message), &finding.help));
            checker = checker.into_iter().chain([lines_away]).min_by_key(|lines| lines.unsigned_abs());
        }
    }
    Outcome { parser, checker, in_all, others, lost, said }
}

/// A finding on one line: its distance, its message and its help.
fn shown(away: i64, message: &str, help: &Option<String>) -> String {
    let help = help.as_ref().map(|help| format!(" ({help})")).unwrap_or_default();
    format!("{away:+} {message}{help}")
}

/// How many lines `to` is after `from`, blank lines between them not counted.
fn distance(text: &str, from: usize, to: usize) -> i64 {
    let (first, last) = (from.min(to), from.max(to));
    let between = text.lines().skip(first + 1).take((last - first).saturating_sub(1));
    let between = between.filter(|line| !line.trim().is_empty()).count() + usize::from(last > first);
    let between = i64::try_from(between).unwrap_or(i64::MAX);
    if to < from { -between } else { between }
}

/// How many pieces stand on other lines and not around the slip, and how many of them are not in the damaged tree.
fn compared(damage: &Damage, sound: &str, whole: &Pieces, read: &Pieces) -> (usize, usize) {
    let line_start = sound[..damage.start].rfind('\n').map_or(0, |at| at + 1);
    let line_end = sound[damage.end..].find('\n').map_or(sound.len(), |at| damage.end + at);
    let (mut others, mut lost) = (0, 0);
    for piece in &whole.all {
        let after = piece.start >= line_end;
        if !after && piece.end > line_start {
            continue;
        }
        others += 1;
        let mut moved = *piece;
        if after {
            moved.start = moved.start + damage.by.len() - (damage.end - damage.start);
            moved.end = moved.end + damage.by.len() - (damage.end - damage.start);
        }
        lost += usize::from(read.all.binary_search(&moved).is_err());
    }
    (others, lost)
}
