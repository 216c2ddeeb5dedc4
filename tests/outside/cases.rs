//! Pages as the trade prints them, written in Dwell: what is found in each, and the repaired twin in which nothing is.
//!
//! Each folder of `cases/` is one page. `page.dwell` is what a writer makes of the page without mending it, and `page.txt`
//! beside it what must be found and nothing else (hints apart); what hides something else stands in a file of its own beside
//! them, in the same way. `repaired.dwell` is the same with everything mended: no error and no warning, and at least two
//! `case`s that are run.
//!
//! A line of such a text is `LEVEL RULE | a piece of the marked line | words that are said | more words`. Where `awaits`
//! stands before the level, there is no such rule yet; as soon as there is, the test asks for the word to be taken out.

mod expected;

use std::fs;
use std::path::{Path, PathBuf};

use dwell_check::check::{Checked, check};
use dwell_check::finding::Level;
use dwell_workspace::Folder;

use crate::merle::{all_told, told};

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-04-12T09:05:00+02:00";

/// The folders of `cases/`, in order.
fn folders() -> Vec<PathBuf> {
    let all = fs::read_dir(crate::root().join("tests/outside/cases")).unwrap();
    let mut folders: Vec<PathBuf> =
        all.map(|entry| entry.unwrap().path()).filter(|path| path.is_dir()).collect();
    folders.sort();
    folders
}

/// The last part of a path.
fn name(folder: &Path) -> String {
    folder.file_name().unwrap().to_string_lossy().into_owned()
}

fn checked(file: PathBuf) -> Checked {
    let found = Folder::of(&[file]);
    check(found.roots(), &found)
}

/// The pages of a folder: all its Dwell texts but the repaired one.
fn pages(folder: &Path) -> Vec<PathBuf> {
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut pages: Vec<PathBuf> =
        files.filter(|file| file.extension().is_some_and(|kind| kind == "dwell")).collect();
    pages.retain(|file| !file.ends_with("repaired.dwell"));
    pages.sort();
    assert!(!pages.is_empty(), "{} has no page", name(folder));
    pages
}

#[test]
fn what_a_page_has_is_found_and_nothing_else() {
    let mut wrong = Vec::new();
    for page in folders().iter().flat_map(|folder| pages(folder)) {
        let called = format!("{} {}", name(page.parent().unwrap()), name(&page));
        let text = fs::read_to_string(page.with_extension("txt")).unwrap();
        assert!(text.starts_with("# "), "{called} does not say what it is");
        assert!(text.lines().any(|line| !line.starts_with('#')), "{called} expects nothing");
        let (expected, slips) = expected::read(&text);
        let said = expected::said(&checked(page));
        let all = slips.into_iter().chain(expected::apart(&expected, &said));
        wrong.extend(all.map(|line| format!("{called}: {line}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_repaired_page_is_clean_and_its_cases_end_as_they_say() {
    let (mut wrong, mut run) = (Vec::new(), 0);
    for folder in folders() {
        let file = folder.join("repaired.dwell");
        let checked = checked(file.clone());
        if checked.findings.iter().any(|finding| finding.level <= Level::Warning) {
            wrong.push(format!("{}:\n{}", name(&folder), all_told(&checked)));
            continue;
        }
        let tested = dwell_trial::test(&checked, None, AT);
        let failures = tested.cases().filter_map(|case| case.failure.as_ref());
        wrong.extend(failures.map(|failure| format!("{}: {}", name(&folder), told(&checked, failure))));
        let here = tested.cases().filter(|case| case.ends.is_some()).count();
        if here < 2 {
            wrong.push(format!("{} has fewer than two cases that come to an end", name(&folder)));
        }
        run += here;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(run >= 2 * folders().len() && run > 0);
}

/// The files are set as `dwell format` sets them; `UPDATE_EXPECT=1` sets them.
#[test]
fn pages_are_set_as_the_formatter_sets_them() {
    for folder in folders() {
        for path in pages(&folder).into_iter().chain([folder.join("repaired.dwell")]) {
            let text = fs::read_to_string(&path).unwrap();
            let Ok(set) = dwell_syntax::format::format(&text) else { continue };
            if std::env::var_os("UPDATE_EXPECT").is_some() {
                fs::write(&path, &set).unwrap();
            } else {
                assert!(text == set, "{} {} is not set", name(&folder), name(&path));
            }
        }
    }
}

/// What is compared, on a text of its own: a finding too many, one too few, other words.
#[test]
fn a_finding_too_many_or_too_few_is_told() {
    let text =
        "# Of this test.\nerror not-found | remove lid | belt\nawaits warning no-such-rule | remove lid\n";
    let (expected, slips) = expected::read(text);
    assert_eq!((expected.len(), slips.len()), (1, 0));
    let said = |words: &str| expected::Said {
        level: "error".to_owned(),
        rule: "not-found".to_owned(),
        line: "remove lid".to_owned(),
        words: words.to_owned(),
    };
    assert!(expected::apart(&expected, &[said("no belt here")]).is_empty());
    assert_eq!(expected::apart(&expected, &[said("no lid here")]).len(), 2);
    assert_eq!(expected::apart(&expected, &[]).len(), 1);
    assert_eq!(expected::apart(&expected, &[said("belt"), said("belt")]).len(), 1);
    let (_, slips) = expected::read("# Of this test.\nawaits error not-found | remove lid\n");
    assert_eq!(slips.len(), 1);
}
