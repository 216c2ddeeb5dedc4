//! Every text of the project that is Dwell: files, and the examples of pages.

use std::path::Path;
use std::sync::OnceLock;

use dwell_syntax::parse::parse;

/// A text and where it stands.
pub(super) struct Text {
    pub(super) at: String,
    pub(super) text: String,
}

/// All texts, whether they can be read or not: every file that ends in `.dwell`, the examples of the reference as whole files,
/// the examples of the grammar, and those of the pages of rules.
fn all() -> Vec<Text> {
    let mut all = Vec::new();
    gather(&crate::root(), &mut all);
    let examples = crate::reference::all_as_files();
    all.extend(examples.into_iter().map(|(at, text)| Text { at, text }));
    let grammar = std::fs::read_to_string(crate::root().join("grammar/dwell.ebnf")).expect("the grammar");
    for (number, line) in grammar.lines().enumerate() {
        let Some((_, example)) = line.split_once("(* example: ") else { continue };
        let example = example.trim_end_matches("*)").trim();
        // A file, parts of a procedure or statements: as what it can be read first.
        let part = format!("procedure p {{\n{example}\n}}\n");
        let step = format!("procedure p {{ step s {{\n{example}\n}} }}\n");
        let at = format!("grammar/dwell.ebnf:{}", number + 1);
        let read = [example.to_owned(), part, step].into_iter().find(|text| parse(text).slips.is_empty());
        all.extend(read.map(|text| Text { at, text }));
    }
    assert!(all.len() > 300, "only {} texts", all.len());
    all
}

/// Those that our own parser reads without a slip.
pub(super) fn sound() -> &'static [Text] {
    static SOUND: OnceLock<Vec<Text>> = OnceLock::new();
    SOUND.get_or_init(|| {
        let sound: Vec<Text> = all().into_iter().filter(|text| parse(&text.text).slips.is_empty()).collect();
        assert!(sound.len() > 300, "only {} texts can be read", sound.len());
        sound
    })
}

fn gather(folder: &Path, all: &mut Vec<Text>) {
    let mut entries: Vec<_> =
        std::fs::read_dir(folder).expect("a folder").flatten().map(|entry| entry.path()).collect();
    entries.sort();
    for path in entries {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() {
            if !name.starts_with("target") && !name.starts_with('.') && name != "node_modules" {
                gather(&path, all);
            }
            continue;
        }
        let at = path.strip_prefix(crate::root()).unwrap_or(&path).to_string_lossy().replace('\\', "/");
        // Some of the files are there to be refused already for their encoding.
        let Ok(text) = std::fs::read_to_string(&path) else { continue };
        if name.ends_with(".dwell") {
            all.push(Text { at, text });
        } else if at.starts_with("crates/dwell-check/src/rules/") && name.ends_with(".md") {
            fenced(&at, &text, all);
        }
    }
}

/// The examples of a page: what stands between a fence that begins with `dwell` and the next.
fn fenced(at: &str, page: &str, all: &mut Vec<Text>) {
    let mut open: Option<Text> = None;
    for (number, line) in page.lines().enumerate() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(fence)) if fence.starts_with("dwell") => {
                open = Some(Text { at: format!("{at}:{}", number + 1), text: String::new() });
            }
            (Some(_), Some(_)) => all.extend(open.take()),
            (Some(text), None) => {
                text.text.push_str(line);
                text.text.push('\n');
            }
            (None, _) => {}
        }
    }
}
