//! Files held in memory for tests, and troubles told with the text that they stand at.

use std::fmt::Write as _;

use crate::finding::Place;
use crate::model::Model;
use crate::program::{Program, Sources};
use crate::resolve::resolve;
use crate::trouble::Trouble;

/// Files by name; what is used is found beside the file that uses it.
pub(crate) struct Texts<'a>(pub(crate) &'a [(&'a str, &'a str)]);

impl Sources for Texts<'_> {
    fn read(&self, path: &str) -> Result<String, String> {
        let found = self.0.iter().find(|(name, _)| *name == path);
        found.map(|(_, text)| (*text).to_owned()).ok_or_else(|| "there is no such file".to_owned())
    }

    fn join(&self, _from: &str, used: &str) -> String {
        used.to_owned()
    }
}

/// Loads and resolves files; the first is the root.
pub(crate) fn resolved(files: &[(&str, &str)]) -> (Program, Model, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let roots: Vec<String> = files.iter().take(1).map(|(name, _)| (*name).to_owned()).collect();
    let program = Program::load(&roots, &Texts(files), &mut troubles);
    let model = resolve(&program, &mut troubles);
    (program, model, troubles)
}

/// The meaning of one file without any trouble.
pub(crate) fn sound(text: &str) -> Model {
    let (program, model, troubles) = resolved(&[("merle.dwell", text)]);
    for source in &program.files {
        assert!(source.slips.is_empty(), "{}: {:?}", source.path, source.slips);
    }
    assert!(troubles.is_empty(), "{}", told(&program, &troubles));
    model
}

/// The troubles of one file, each on its lines, with the text it stands at.
pub(crate) fn troubled(text: &str) -> String {
    troubled_files(&[("merle.dwell", text)])
}

/// The troubles of several files, the first of them the root.
pub(crate) fn troubled_files(files: &[(&str, &str)]) -> String {
    let (program, _, troubles) = resolved(files);
    told(&program, &troubles)
}

fn told(program: &Program, troubles: &[Trouble]) -> String {
    let mut out = String::new();
    for trouble in troubles {
        let shown = format!("{trouble:?}");
        let mut shown = shown.as_str();
        // Each place is shown as the text that stands there.
        while let Some(at) = shown.find("Place {") {
            let end = shown.get(at..).unwrap().find("} }").map_or(shown.len(), |end| at + end + 3);
            out.push_str(shown.get(..at).unwrap());
            let numbers: Vec<usize> = shown
                .get(at..end)
                .unwrap()
                .split(|c: char| !c.is_ascii_digit())
                .filter_map(|number| number.parse().ok())
                .collect();
            let place = Place {
                file: numbers[0],
                span: dwell_syntax::tree::Span { start: numbers[1], end: numbers[2] },
            };
            let source = &program.files[place.file];
            let text = source.text.get(place.span.start..place.span.end).unwrap();
            let (line, _) = source.lines.place(&source.text, place.span.start);
            let _ = write!(out, "{}:{line} «{text}»", source.path);
            shown = shown.get(end..).unwrap();
        }
        out.push_str(shown);
        out.push('\n');
    }
    out
}
