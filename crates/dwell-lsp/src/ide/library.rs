//! The demo library as an editor sees it: every name means something, and whatever is renamed, nothing else changes.

use super::folding::folding;
use super::mentions::{Role, Sort, What, mentions};
use super::rename::{prepare, rename};
use super::selection::selection;
use super::symbols::{Symbol, symbols};
use super::tokens::tokens;
use super::world::{Further, World};
use super::{Disk, Shelf, View};
use dwell_check::program::Content;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The library, by paths from its folder.
#[derive(Clone, Debug)]
struct Library(BTreeMap<String, String>);

impl Library {
    fn read() -> Library {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
        let mut folders = vec![PathBuf::new()];
        let mut all = BTreeMap::new();
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(root.join(&folder)).unwrap() {
                let path = folder.join(entry.unwrap().file_name());
                if root.join(&path).is_dir() {
                    folders.push(path);
                } else if path.extension().is_some_and(|ending| ending == "dwell") {
                    let text = fs::read_to_string(root.join(&path)).unwrap();
                    all.insert(path.to_str().unwrap().to_owned(), text);
                }
            }
        }
        assert!(all.len() > 20);
        Library(all)
    }

    fn view(&self, path: &str) -> View {
        View::of(path, &Shelf::new(Arc::new(self.clone())))
    }

    /// Every file with its content and what it uses.
    fn contents(&self) -> Vec<(String, Content, Vec<String>)> {
        let parsed = self.0.iter().map(|(path, text)| {
            let uses = text.lines().filter_map(|line| line.strip_prefix("use \"")?.strip_suffix('"'));
            let uses = uses.map(|used| self.join(path, used)).collect();
            (path.clone(), Content::of(text.clone()), uses)
        });
        parsed.collect()
    }
}

impl Disk for Library {
    fn read(&self, path: &str) -> Result<String, String> {
        self.0.get(path).cloned().ok_or_else(|| "there is no such file".to_owned())
    }

    fn join(&self, from: &str, used: &str) -> String {
        let mut parts: Vec<&str> = from.split('/').collect();
        parts.pop();
        for part in used.split('/') {
            match part {
                ".." => {
                    parts.pop();
                }
                part => parts.push(part),
            }
        }
        parts.join("/")
    }

    fn settings(&self, _: &str, _: &dyn Fn(&str) -> bool) -> Option<String> {
        None
    }

    fn today(&self) -> Option<String> {
        None
    }
}

#[test]
fn every_name_of_the_library_means_something() {
    let library = Library::read();
    let mut unknown = Vec::new();
    for path in library.0.keys() {
        let view = library.view(path);
        let world = World::of(&view, &[]);
        for known in world.resolved(view.file()) {
            let fixed = matches!(known.mention.sort, Sort::Fixed(_)) || known.what == What::Word;
            if !fixed && known.keys.is_empty() {
                unknown.push(format!("{path}: {} {:?}", known.mention.name, known.what));
            }
            for key in &known.keys {
                let declared = key.file().is_none() || !world.declared_at(*key).is_empty();
                assert!(declared, "{path}: {} is declared nowhere", known.mention.name);
            }
        }
        assert!(!symbols(view.source().unwrap()).is_empty());
        let tokens = tokens(&view);
        assert!(tokens.windows(2).all(|two| two[0].span.end <= two[1].span.start), "{path}");
    }
    // The states that a tool gets from being warmed up, zeroed and settled are declared nowhere.
    unknown.retain(|told| {
        !["zeroed", "unzeroed", "warm", "cold", "settled"].iter().any(|state| told.contains(state))
    });
    assert_eq!(unknown, Vec::<String>::new());
}

/// What is found in a file, without its names.
fn found(view: &View) -> Vec<(String, usize)> {
    let lines = view.findings().map(|finding| {
        let source = view.source().unwrap();
        (finding.rule.to_owned(), source.lines.line(finding.place.span.start))
    });
    lines.collect()
}

#[test]
fn whatever_is_renamed_the_library_says_the_same_afterwards() {
    let library = Library::read();
    let contents = library.contents();
    let further: Vec<Further<'_>> =
        contents.iter().map(|(path, content, uses)| Further { path, content, uses }).collect();
    let before: BTreeMap<&String, Vec<(String, usize)>> =
        library.0.keys().map(|path| (path, found(&library.view(path)))).collect();
    // One of so many names; every one with `DWELL_TESTS_LONG=1`.
    let every = if std::env::var_os("DWELL_TESTS_LONG").is_some() { 1 } else { 13 };
    let (mut met, mut renamed) = (0, 0);
    for path in library.0.keys() {
        let view = library.view(path);
        let world = World::of(&view, &[]);
        for known in world.resolved(view.file()) {
            if known.mention.role != Role::Declares {
                continue;
            }
            met += 1;
            let at = known.mention.span.start;
            if met % every != 0 || prepare(&view, at).is_err() {
                continue;
            }
            let new = format!("{}-b", known.mention.name);
            let edits = match rename(&view, at, &new, &further) {
                Ok(edits) => edits,
                Err(why) => panic!("{path}: {why}"),
            };
            let mut after = library.clone();
            for (file, edits) in &edits {
                let text = after.0.get_mut(file).unwrap();
                for edit in edits.iter().rev() {
                    text.replace_range(edit.span.start..edit.span.end, &edit.text);
                }
            }
            renamed += 1;
            for file in edits.keys() {
                assert_eq!(
                    &found(&after.view(file)),
                    &before[file],
                    "{path}: {} in {file}",
                    known.mention.name
                );
            }
        }
    }
    assert!(renamed > 30, "only {renamed} of {met} were renamed");
}

/// An outline in which each entry has a name and holds its own name and what stands in it.
fn nests(all: &[Symbol], text: &str) {
    for symbol in all {
        assert!(!symbol.name.is_empty() && symbol.span.holds(symbol.name_span), "{symbol:?} in {text}");
        assert!(text.get(symbol.span.start..symbol.span.end).is_some(), "{symbol:?} in {text}");
        assert!(symbol.children.iter().all(|child| symbol.span.holds(child.span)), "{symbol:?} in {text}");
        nests(&symbol.children, text);
    }
}

#[test]
fn wherever_a_file_is_cut_off_what_is_left_has_sound_names_outline_folds_and_selections() {
    let library = Library::read();
    for text in library.0.values() {
        let cuts = text.char_indices().map(|(at, _)| at);
        // Many places, evenly spread, each time at another letter of a word.
        for at in cuts.step_by(797) {
            let content = Content::of(text.get(..at).unwrap().to_owned());
            let cut = content.text.as_str();
            for mention in mentions(&content) {
                assert!(cut.get(mention.span.start..mention.span.end).is_some(), "{mention:?} in {cut}");
            }
            nests(&symbols(&content), cut);
            let lines = content.lines.count();
            assert!(folding(&content).iter().all(|fold| fold.first < fold.last && fold.last < lines));
            let spans = selection(&content, at);
            assert_eq!(spans.last().map(|span| (span.start, span.end)), Some((0, at)));
            assert!(spans.windows(2).all(|two| two[1].holds(two[0])));
            assert!(spans.iter().all(|span| cut.get(span.start..span.end).is_some()));
        }
    }
}

#[test]
fn wherever_a_file_is_cut_off_its_colours_stay_on_their_lines() {
    let library = Library::read();
    for (path, text) in library.0.iter().step_by(5) {
        let cuts = text.char_indices().map(|(at, _)| at);
        for at in cuts.step_by(2_003) {
            let mut cut = library.clone();
            cut.0.insert(path.clone(), text.get(..at).unwrap().to_owned());
            let view = cut.view(path);
            let mut end = 0;
            for token in tokens(&view) {
                let written = view.text().get(token.span.start..token.span.end).unwrap();
                assert!(
                    end <= token.span.start && !written.is_empty() && !written.contains('\n'),
                    "{token:?}"
                );
                end = token.span.end;
            }
        }
    }
}
