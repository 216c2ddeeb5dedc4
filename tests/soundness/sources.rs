//! The texts that jobs are done by: the library, the right examples of the rules' pages, the whole files of the reference,
//! and a file for each part of the language that needs more than they have.

use crate::merle::Merle;
use crate::reference::{BESIDE, whole_files};
use dwell_check::program::Sources;
use dwell_check::rules;

/// Files in memory, and those to be checked.
pub(super) struct Texts {
    pub(super) title: String,
    pub(super) roots: Vec<String>,
    files: Vec<(String, String)>,
    library: Option<Merle>,
}

impl Sources for Texts {
    fn read(&self, path: &str) -> Result<String, String> {
        if let Some(library) = &self.library {
            return library.read(path);
        }
        let found = self.files.iter().find(|(name, _)| name == path);
        found.map(|(_, text)| text.clone()).ok_or_else(|| format!("there is no {path}"))
    }

    fn join(&self, from: &str, used: &str) -> String {
        self.library.as_ref().map_or_else(|| used.to_owned(), |library| library.join(from, used))
    }
}

/// All sources.
pub(super) fn all() -> Vec<Texts> {
    let library = Merle::read();
    let roots = library.files.keys().cloned().collect();
    let mut all = vec![Texts { title: "library".into(), roots, files: Vec::new(), library: Some(library) }];
    for rule in rules::all() {
        all.extend(examples(&format!("right {}", rule.name), section(rule.page, "## Right")));
    }
    all.extend(reference());
    let own = [
        include_str!("texts/places.dwell"),
        include_str!("texts/steps.dwell"),
        include_str!("texts/shims.dwell"),
        include_str!("texts/stages.dwell"),
        include_str!("texts/tools.dwell"),
    ];
    all.extend(own.into_iter().map(|text| texts("own", vec![("example.dwell".to_owned(), text.to_owned())])));
    all
}

/// The whole files of the reference, each beside the files that it may use.
fn reference() -> impl Iterator<Item = Texts> {
    let beside = BESIDE.map(|name| {
        let path = crate::root().join("grammar/reference").join(name);
        (name.to_owned(), std::fs::read_to_string(path).unwrap())
    });
    whole_files().into_iter().map(move |(at, text)| {
        let mut files = beside.to_vec();
        files.push(("example.dwell".to_owned(), text));
        Texts { title: at, roots: vec!["example.dwell".to_owned()], files, library: None }
    })
}

/// The wrong examples of the page of a rule.
pub(super) fn wrong(rule: &str) -> Vec<Texts> {
    examples(rule, section(rules::named(rule).unwrap().page, "## Wrong"))
}

fn section<'a>(page: &'a str, heading: &str) -> &'a str {
    let after = page.split_once(&format!("{heading}\n")).map_or("", |(_, after)| after);
    after.split_once("\n## ").map_or(after, |(section, _)| section)
}

/// The whole files of a page: a block without a name closes an example, together with the named ones before it.
fn examples(title: &str, page: &str) -> Vec<Texts> {
    let mut all = Vec::new();
    let mut files: Vec<(String, String)> = Vec::new();
    let mut open: Option<(String, String)> = None;
    for line in page.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(info)) => {
                let name = match info.strip_prefix("dwell") {
                    Some("") => "example.dwell",
                    Some(named) if named.contains('"') => named.split('"').nth(1).unwrap_or_default(),
                    _ => "",
                };
                open = Some((name.to_owned(), String::new()));
            }
            (Some(_), Some(_)) => {
                files.extend(open.take().filter(|(name, _)| !name.is_empty()));
                if files.last().is_some_and(|(name, _)| name == "example.dwell") {
                    all.push(texts(title, std::mem::take(&mut files)));
                }
            }
            (Some((_, text)), None) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    if !files.is_empty() {
        all.push(texts(title, files));
    }
    all
}

fn texts(title: &str, files: Vec<(String, String)>) -> Texts {
    let roots = files.iter().map(|(name, _)| name.clone()).collect();
    Texts { title: title.to_owned(), roots, files, library: None }
}
