//! Repairs: after each of them the text can be read, its finding is gone and nothing else is worse; and they are made
//! again and again until none is left, with the writer's comments and indentation kept.

mod bands;
mod each;

use std::collections::BTreeMap;

use dwell_check::check::Checked;
use dwell_check::finding::{Finding, Fix, Level};
use dwell_check::mend::{Mended, mend};
use dwell_check::options::Options;

use crate::broken::table::breaks;
use crate::merle::{Merle, all_told, told};

/// Rules that have a repair for at least one of their breaks.
const MENDED: [&str; 10] = [
    "not-restored",
    "fastener-left-loose",
    "caution-missing",
    "caution-late",
    "caution-too-weak",
    "single-use-refitted",
    "tool-not-connected",
    "look-alike-character",
    "adjust-outside-check",
    "settle-missing",
];

/// The library with one repair made.
fn repaired(library: &Merle, checked: &Checked, fix: &Fix) -> Merle {
    let mut mended = library.clone();
    for edit in fix.edits.iter().rev() {
        let path = &checked.program.files[edit.place.file].path;
        let text = mended.files.get_mut(path).unwrap();
        text.replace_range(edit.place.span.start..edit.place.span.end, &edit.replacement);
    }
    mended
}

/// How many errors each rule has.
fn errors(checked: &Checked) -> BTreeMap<&'static str, usize> {
    let mut counts = BTreeMap::new();
    for finding in checked.findings.iter().filter(|finding| finding.level == Level::Error) {
        *counts.entry(finding.rule).or_default() += 1;
    }
    counts
}

fn slips(checked: &Checked) -> usize {
    checked.program.files.iter().map(|file| file.slips.len()).sum()
}

/// What is wrong after a repair: the finding is still there, or another rule finds more.
fn wrong_after(before: &Checked, after: &Checked, finding: &Finding) -> Option<String> {
    let same = |checked: &Checked| {
        checked
            .findings
            .iter()
            .filter(|other| other.rule == finding.rule && other.message == finding.message)
            .count()
    };
    if slips(after) > slips(before) {
        return Some("it cannot be read any more".to_owned());
    }
    if same(after) >= same(before) {
        return Some("the finding is still there".to_owned());
    }
    // What could not be read hid the rest.
    if slips(after) < slips(before) {
        return None;
    }
    let was = errors(before);
    let worse = errors(after).into_iter().find(|(rule, count)| *count > was.get(rule).copied().unwrap_or(0));
    worse.map(|(rule, _)| format!("{rule} finds more than before"))
}

#[test]
fn every_repair_of_a_break_mends_it_and_makes_nothing_worse() {
    let library = Merle::read();
    let mut wrong = Vec::new();
    let mut tried: BTreeMap<&'static str, usize> = BTreeMap::new();
    for case in breaks() {
        let Ok(broken) = case.made_in(&library) else { continue };
        let before = broken.checked_at(&case.procedure);
        for finding in &before.findings {
            let Some(fix) = &finding.fix else { continue };
            *tried.entry(finding.rule).or_default() += 1;
            let after = repaired(&broken, &before, fix).checked_at(&case.procedure);
            if let Some(why) = wrong_after(&before, &after, finding) {
                wrong.push(format!(
                    "{}: {}\n  {fix:?}\n  {why}\n{}",
                    case.title(),
                    told(&before, finding),
                    all_told(&after)
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
    for rule in MENDED {
        assert!(tried.contains_key(rule), "no break of {rule} has a repair; those that have: {tried:?}");
    }
    assert!(tried.values().sum::<usize>() > 30, "{tried:?}");
}

/// Mends all of a library, as it is asked for whole.
fn mended(library: &Merle) -> Mended {
    let roots: Vec<String> = library.files.keys().cloned().collect();
    mend(&roots, library, |_| Options::default())
}

/// Rules whose breaks are mended in every main procedure: no error is left.
const SOUND: [&str; 8] = [
    "not-restored",
    "caution-missing",
    "caution-late",
    "caution-too-weak",
    "single-use-refitted",
    "look-alike-character",
    "adjust-outside-check",
    "settle-missing",
];

#[test]
fn a_library_that_is_broken_once_is_sound_after_mending() {
    let library = Merle::read();
    let mut wrong = Vec::new();
    for case in breaks().into_iter().filter(|case| SOUND.contains(&case.rule.as_str())) {
        let Ok(broken) = case.made_in(&library) else { continue };
        let made = mend(&[case.procedure.clone(), case.edited.clone()], &broken, |_| Options::default());
        let errors = made.checked.findings.iter().filter(|finding| finding.level == Level::Error);
        let left: Vec<String> = errors.map(|finding| told(&made.checked, finding)).collect();
        if made.done.is_empty() || !left.is_empty() {
            wrong.push(format!("{}: done {:?}, left:\n{}", case.title(), made.done, left.join("\n")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn a_sound_library_is_left_alone() {
    let made = mended(&Merle::read());
    assert_eq!(made.done, []);
    assert!(made.texts.is_empty());
}

/// Small texts for one file, as they are and as they are after mending.
fn small(text: &str) -> String {
    let mut library = Merle { files: BTreeMap::new() };
    library.files.insert("a.dwell".to_owned(), text.to_owned());
    let made = mended(&library);
    let again = mended(&library.with("a.dwell", made.texts.get("a.dwell").map_or(text, |(_, now)| now)));
    assert_eq!(again.done, [], "nothing is left to mend after mending");
    made.texts.get("a.dwell").map_or_else(|| text.to_owned(), |(_, now)| now.clone())
}

const TWO_OFF: &str = "item guard: removable \"guard\"
item lead: removable \"lead\"

procedure look \"Look\" {
  # Two blanks, as this house likes it.
  step look \"Look\" {
    remove guard # mind the clips
    remove lead
    do \"Look behind it.\"
  } # that is all
";

#[test]
fn restore_is_made_where_there_is_none_in_the_order_of_undoing() {
    let made = small(&format!("{TWO_OFF}}}\n"));
    let wanted = "  } # that is all
  restore {
    refit lead
    refit guard
  }
}
";
    assert!(made.ends_with(wanted), "{made}");
    assert!(made.contains("  # Two blanks, as this house likes it.\n"), "{made}");
    assert!(made.contains("    remove guard # mind the clips\n"), "{made}");
}

#[test]
fn restore_on_one_line_is_opened_and_the_line_ends_of_the_file_are_kept() {
    let text = "item guard: removable \"guard\"
item cover: removable \"cover\"

procedure look \"Look\" {
    step look \"Look\" {
        remove guard
        remove cover
        do \"Look behind it.\"
    }
    restore { refit guard }
}
";
    let wanted = "    restore {
        refit cover
        refit guard
    }
}
";
    assert!(small(text).ends_with(wanted), "{}", small(text));
    let windows = small(&text.replace('\n', "\r\n"));
    assert!(windows.ends_with(&wanted.replace('\n', "\r\n")), "{windows:?}");
    assert_eq!(windows.matches('\n').count(), windows.matches("\r\n").count());
}

#[test]
fn a_text_that_cannot_be_read_is_only_mended_where_it_cannot_be_read() {
    // The guard stays off as well, but that is not touched before the text can be read.
    let text = "item guard: removable \"guard\"

procedure look \"Look\" {
    step look \"Look\" {
        remove guard
        take it all away
    }
}
";
    assert_eq!(small(text), text, "nothing is guessed");
}
