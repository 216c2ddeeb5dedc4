//! What holds for every text whatever: the checker ends, and each finding has a rule, words, and a place that exists.

use dwell_check::check::Checked;
use dwell_check::rules;
use dwell_syntax::format::format;

use crate::merle::Merle;

/// Reads and sets a text; what is wrong with it stands in the text, and what was set stays as it is.
pub(super) fn reads(text: &str) {
    match format(text) {
        Ok(set) => {
            assert_eq!(format(&set).expect("what was set can be read"), set, "setting it again changes it")
        }
        Err(slips) => {
            assert!(!slips.is_empty(), "refused without a reason");
            for slip in &slips {
                let (start, end) = (slip.span.start, slip.span.end);
                assert!(on_characters(text, start, end), "slip at {start}..{end}: {}", slip.message);
                assert!(!slip.message.is_empty());
            }
        }
    }
}

/// Puts a text in the place of one file of the library, and reads, sets and checks it.
pub(super) fn survives(library: &Merle, path: &str, text: &str) -> Checked {
    reads(text);
    let checked = library.clone().with(path, text).checked_at(path);
    holds(&checked);
    checked
}

/// Whether every finding can be shown.
pub(super) fn holds(checked: &Checked) {
    for finding in &checked.findings {
        let places = finding.related.iter().map(|(place, _)| *place).chain([finding.place]);
        for place in places.chain(finding.fix.iter().flat_map(|fix| fix.edits.iter().map(|edit| edit.place)))
        {
            let file = checked.program.files.get(place.file).expect("a finding is in a file that is there");
            assert!(
                on_characters(&file.text, place.span.start, place.span.end),
                "{} at {:?} in {}: {}",
                finding.rule,
                place.span,
                file.path,
                finding.message
            );
        }
        let rule = rules::named(finding.rule).expect("every finding has a rule with a page");
        assert_eq!(rule.name, finding.rule);
        assert!(!finding.message.is_empty(), "{} says nothing", finding.rule);
    }
    if checked.has_errors() {
        return;
    }
    for compiled in &checked.procedures {
        assert!(compiled.card.is_some(), "{} has no card, and nothing says why", compiled.name);
    }
}

fn on_characters(text: &str, start: usize, end: usize) -> bool {
    start <= end && text.is_char_boundary(start) && text.is_char_boundary(end)
}
