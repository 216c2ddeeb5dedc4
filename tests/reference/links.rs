//! The pages of the reference as a whole: reached from the index, short, their links lead somewhere, every word is listed.

use std::collections::BTreeSet;

use dwell_syntax::words::WORDS;

use super::{Page, grammar, pages, read};

/// The most lines of a page; these are looked things up in, and may be longer.
const MOST_LINES: usize = 200;
const LONGER: [&str; 3] =
    ["reference/all-the-words.md", "reference/what-is-found.md", "reference/what-the-words-mean.md"];

/// The lines of a page outside its fences.
fn prose(text: &str) -> impl Iterator<Item = &str> {
    let mut open = false;
    text.lines().filter(move |line| {
        let fence = line.starts_with("```");
        open ^= fence;
        !open && !fence
    })
}

/// What a page links to, as it is written.
fn links(text: &str) -> Vec<&str> {
    let parts = prose(text).flat_map(|line| line.split("](").skip(1));
    let ends = parts.filter_map(|part| part.split_once(')'));
    ends.map(|(target, _)| target).filter(|target| !target.contains("://")).collect()
}

/// The anchors of the headings of a page, as the usual readers of Markdown make them.
fn anchors(text: &str) -> Vec<String> {
    let headings = prose(text).filter(|line| line.starts_with('#'));
    let anchor = |heading: &str| -> String {
        let words = heading.trim_start_matches('#').trim().to_lowercase();
        let kept = words.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
        kept.map(|c| if c == ' ' { '-' } else { c }).collect()
    };
    headings.map(anchor).collect()
}

#[test]
fn every_page_is_reached_from_the_index() {
    let pages = pages();
    let listed = links(&pages[0].text);
    for page in &pages[1..] {
        assert!(listed.contains(&page.path.as_str()), "{} is not in the index", page.path);
    }
    assert!(pages.len() > 15, "there are pages: {}", pages.len());
}

#[test]
fn every_link_leads_to_a_file_and_a_heading() {
    let mut wrong = Vec::new();
    for Page { path, text } in pages() {
        for link in links(&text) {
            let (file, anchor) = link.split_once('#').unwrap_or((link, ""));
            let here = grammar(&path);
            let target = match file {
                "" => here,
                file => here.parent().map(|folder| folder.join(file)).unwrap_or_default(),
            };
            let there = target.exists()
                && (anchor.is_empty() || anchors(&read(&target)).iter().any(|known| known == anchor));
            if !there {
                wrong.push(format!("{path}: {link}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_page_is_long_and_every_page_has_one_title() {
    for Page { path, text } in pages() {
        let lines = text.lines().count();
        assert!(
            lines <= MOST_LINES || LONGER.contains(&path.as_str()),
            "{path} has {lines} lines: cut it by need"
        );
        let titles = prose(&text).filter(|line| line.starts_with("# ")).count();
        assert!(titles == 1 && text.starts_with("# "), "{path} has {titles} titles");
    }
}

#[test]
fn every_fence_that_is_used_is_explained_and_no_other() {
    let text = read(&grammar("reference/the-examples.md"));
    let named = text.lines().filter_map(|line| line.strip_prefix("| `")?.split('`').next());
    let named: BTreeSet<&str> = named.collect();
    let pages = pages();
    let lines = pages.iter().flat_map(|page| page.text.lines());
    let used = lines.filter_map(|line| line.strip_prefix("```")).filter(|fence| !fence.is_empty());
    assert_eq!(named, used.collect());
}

#[test]
fn every_word_is_listed() {
    let text = read(&grammar("reference/all-the-words.md"));
    let listed: Vec<&str> = text.split('`').skip(1).step_by(2).collect();
    let missing: Vec<&str> =
        WORDS.iter().map(|word| word.text()).filter(|word| !listed.contains(word)).collect();
    let strange: Vec<&&str> =
        listed.iter().filter(|listed| !WORDS.iter().any(|word| word.text() == **listed)).collect();
    assert!(missing.is_empty() && strange.is_empty(), "missing {missing:?}, strange {strange:?}");
    let (hard, _) = text.split_once("They mean something").unwrap_or_default();
    let hard: Vec<&str> = hard.split('`').skip(1).step_by(2).collect();
    let meant: Vec<&str> = WORDS.iter().filter(|word| word.is_hard()).map(|word| word.text()).collect();
    assert_eq!(hard, meant);
    assert_eq!(hard.len(), 20);
}
