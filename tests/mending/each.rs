//! Each repair by itself: the texts of `repairs.txt`, as they are found and as they are mended.

use std::collections::BTreeMap;

use dwell_check::finding::Finding;
use dwell_check::mend::mend;
use dwell_check::options::{HouseWord, Options};

use super::{MENDED, repaired, wrong_after};
use crate::merle::{Merle, told};

/// One text.
struct Text<'a> {
    rule: &'a str,
    found: &'a str,
    /// None where there is no repair.
    mended: Option<&'a str>,
}

fn texts() -> Vec<Text<'static>> {
    let all = include_str!("repairs.txt").split("\n=== ").skip(1);
    all.map(|text| {
        let (rule, rest) = text.split_once('\n').unwrap();
        let split = |sign: &str| rest.split_once(sign);
        let (found, mended) = match split("\n--->\n") {
            Some((found, mended)) => (found, Some(mended.trim_end())),
            None => (split("\n...>").unwrap_or_else(|| panic!("{rule}: neither ---> nor ...>")).0, None),
        };
        Text { rule, found, mended }
    })
    .collect()
}

#[test]
fn each_repair_does_what_its_text_says() {
    let mut wrong = Vec::new();
    for text in texts() {
        let library = Merle { files: BTreeMap::from([("a.dwell".to_owned(), format!("{}\n", text.found))]) };
        let before = library.checked_at("a.dwell");
        let of_rule = |finding: &&Finding| finding.rule == text.rule;
        let found: Vec<&Finding> = before.findings.iter().filter(of_rule).collect();
        let mut now = library.clone();
        let mut fixes: Vec<_> = found.iter().filter_map(|finding| finding.fix.as_ref()).collect();
        fixes.dedup();
        // From the last to the first, so that the places of those before stay right.
        for fix in fixes.iter().rev() {
            now = repaired(&now, &before, fix);
        }
        let text_now = now.files["a.dwell"].trim_end();
        let wanted = text.mended.unwrap_or(text.found);
        if found.is_empty() || fixes.is_empty() != text.mended.is_none() || text_now != wanted {
            let found: Vec<String> = before.findings.iter().map(|finding| told(&before, finding)).collect();
            wrong.push(format!("{}:\n{}\n{text_now}\n(wanted)\n{wanted}", text.rule, found.join("\n")));
            continue;
        }
        let after = now.checked_at("a.dwell");
        for finding in found.iter().filter(|finding| finding.fix.is_some()) {
            if let Some(why) = wrong_after(&before, &after, finding) {
                wrong.push(format!("{}: {why}\n{text_now}", told(&before, finding)));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// Rules whose repair needs the settings of a house beside the text, each with a test of its own.
const OF_SETTINGS: [&str; 1] = ["house-word"];

#[test]
fn a_word_that_the_house_avoids_is_written_as_it_has_it() {
    let text = "procedure look \"Look at the hood\" { step look \"Look\" { note \"Hood.\" } }\n";
    let library = Merle { files: BTreeMap::from([("a.dwell".to_owned(), text.to_owned())]) };
    let word = HouseWord { avoid: "hood".into(), instead: "bonnet".into(), because: "It is agreed.".into() };
    let options = Options { vocabulary: vec![word], ..Options::default() };
    let made = mend(&["a.dwell".to_owned()], &library, |_| options.clone());
    assert_eq!(made.texts["a.dwell"].1, text.replace("hood", "bonnet").replace("Hood", "Bonnet"));
}

#[test]
fn every_rule_with_a_repair_has_a_text_here_or_a_break_of_the_library() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/dwell-check/src/rules");
    let held: Vec<&str> = texts().iter().map(|text| text.rule).chain(MENDED).chain(OF_SETTINGS).collect();
    let mut missing = Vec::new();
    for entry in std::fs::read_dir(root).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|end| end != "rs") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let rule = path.file_stem().unwrap().to_str().unwrap().replace('_', "-");
        if (text.contains(".fix(") || text.contains(".mended(")) && !held.contains(&rule.as_str()) {
            missing.push(rule);
        }
    }
    assert!(missing.is_empty(), "no text with a repair for {missing:?}");
}
