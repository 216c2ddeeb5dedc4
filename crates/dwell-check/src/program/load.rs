//! Loading: the roots, what they use, breadth first, each file once; and the circles among them.

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use dwell_syntax::lines::Lines;
use dwell_syntax::slip::Slip;
use dwell_syntax::tree::{DeclarationKind, File, Span, Text};

use super::{Content, PRELUDE, PRELUDE_TEXT, Program, SourceFile, Sources};
use crate::finding::Place;
use crate::trouble::Trouble;

impl Program {
    /// Reads the roots and every file that they use, directly or not. File 0 is the prelude, then come the roots, then
    /// the others in the order met. A root that cannot be read is there with an empty text, so that the trouble has a
    /// place; a used file that cannot be read is not.
    pub fn load(roots: &[String], sources: &dyn Sources, troubles: &mut Vec<Trouble>) -> Program {
        let mut loading =
            Loading { program: Program::default(), waiting: Vec::new(), known: HashMap::new(), sources };
        loading.add(PRELUDE, Met::Parsed(Arc::clone(&PARSED_PRELUDE)), false);
        for path in roots {
            loading.root(path, troubles);
        }
        let mut file = 0;
        while file < loading.program.files.len() {
            if loading.waits(file) {
                loading.parse();
            }
            loading.uses(file, troubles);
            file += 1;
        }
        circles(&loading.program, troubles);
        loading.program
    }
}

/// The prelude, which is the same in every check.
static PARSED_PRELUDE: LazyLock<Arc<Content>> =
    LazyLock::new(|| Arc::new(Content::of(PRELUDE_TEXT.to_owned())));

/// A file that was met.
enum Met {
    /// Its text, still to be parsed.
    Text(String),
    /// All that is in it.
    Parsed(Arc<Content>),
}

/// What is known while files are still being met.
struct Loading<'a> {
    program: Program,
    /// Files met and not parsed yet, with their texts: they wait, so that many are parsed together.
    waiting: Vec<(usize, String)>,
    /// Each path met: the file, or why it cannot be read.
    known: HashMap<String, Result<usize, String>>,
    sources: &'a dyn Sources,
}

impl Loading<'_> {
    /// Whether a file is not parsed yet.
    fn waits(&self, file: usize) -> bool {
        self.waiting.first().is_some_and(|(first, _)| *first <= file)
    }

    fn add(&mut self, path: &str, met: Met, root: bool) -> usize {
        let content = match met {
            Met::Parsed(content) => content,
            Met::Text(text) => {
                self.waiting.push((self.program.files.len(), text));
                Arc::default()
            }
        };
        self.program.files.push(SourceFile { path: path.to_owned(), content, uses: Vec::new(), root });
        self.program.files.len() - 1
    }

    /// Parses the files that wait, side by side.
    fn parse(&mut self) {
        let waiting = std::mem::take(&mut self.waiting);
        let texts: Vec<&str> = waiting.iter().map(|(_, text)| text.as_str()).collect();
        let mut parsed: Vec<Option<(File, Vec<Slip>)>> = vec![None; texts.len()];
        dwell_syntax::parse::parse_all(&texts, |place, done| {
            if let Some(slot) = parsed.get_mut(place) {
                *slot = Some((done.tree, done.slips));
            }
        });
        for ((file, text), parsed) in waiting.into_iter().zip(parsed) {
            let (tree, slips) = parsed.unwrap_or_default();
            if let Some(source) = self.program.files.get_mut(file) {
                source.content = Arc::new(Content { lines: Lines::of(&text), text, tree, slips });
            }
        }
    }

    /// What stands at a path.
    fn met(&self, path: &str) -> Result<Met, String> {
        match self.sources.parsed(path) {
            Some(content) => Ok(Met::Parsed(content)),
            None => self.sources.read(path).map(Met::Text),
        }
    }

    fn root(&mut self, path: &str, troubles: &mut Vec<Trouble>) {
        if self.known.contains_key(path) {
            return;
        }
        match self.met(path) {
            Ok(met) => {
                let file = self.add(path, met, true);
                self.known.insert(path.to_owned(), Ok(file));
            }
            Err(why) => {
                let file = self.add(path, Met::Parsed(Arc::default()), true);
                self.known.insert(path.to_owned(), Err(why.clone()));
                let place = Place { file, span: Span::default() };
                troubles.push(Trouble::FileNotFound { place, path: path.to_owned(), why });
            }
        }
    }

    /// Follows the `use` lines of one file.
    fn uses(&mut self, file: usize, troubles: &mut Vec<Trouble>) {
        let Some(source) = self.program.files.get(file) else { return };
        let from = source.path.clone();
        let used: Vec<Text> = source
            .tree
            .declarations
            .iter()
            .filter_map(|declaration| match &declaration.kind {
                DeclarationKind::Use(text) => Some(text.clone()),
                _ => None,
            })
            .collect();
        for text in used {
            let path = self.sources.join(&from, &text.text);
            match self.used(&path) {
                Ok(met) => {
                    if let Some(source) = self.program.files.get_mut(file) {
                        source.uses.push((met, text.span));
                    }
                }
                Err(why) => {
                    let place = Place { file, span: text.span };
                    troubles.push(Trouble::FileNotFound { place, path, why });
                }
            }
        }
    }

    fn used(&mut self, path: &str) -> Result<usize, String> {
        if let Some(known) = self.known.get(path) {
            return known.clone();
        }
        let met = self.met(path).map(|met| self.add(path, met, false));
        self.known.insert(path.to_owned(), met.clone());
        met
    }
}

/// Where a walk along the `use` lines stands with a file.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Walk {
    NotMet,
    OnTheWay,
    Done,
}

/// Every `use` that closes a circle.
fn circles(program: &Program, troubles: &mut Vec<Trouble>) {
    let mut walks = vec![Walk::NotMet; program.files.len()];
    for start in 0..program.files.len() {
        if walks.get(start) == Some(&Walk::NotMet) {
            circles_from(program, start, &mut walks, troubles);
        }
    }
}

/// Walks on from one file; the way is kept in a list, so that a long chain of files needs no deep stack.
fn circles_from(program: &Program, start: usize, walks: &mut [Walk], troubles: &mut Vec<Trouble>) {
    let mut set = |file: usize, walk: Walk| {
        let before = walks.get(file).copied();
        if let Some(place) = walks.get_mut(file) {
            *place = walk;
        }
        before
    };
    let mut way = vec![(start, 0)];
    set(start, Walk::OnTheWay);
    while let Some((file, next)) = way.last_mut() {
        let here = *file;
        let Some((used, span)) = program.files.get(here).and_then(|source| source.uses.get(*next)) else {
            set(here, Walk::Done);
            way.pop();
            continue;
        };
        *next += 1;
        match set(*used, Walk::OnTheWay) {
            Some(Walk::NotMet) => way.push((*used, 0)),
            Some(Walk::Done) | None => {
                set(*used, Walk::Done);
            }
            Some(Walk::OnTheWay) => {
                let circle = way.iter().map(|(file, _)| *file).skip_while(|file| file != used).chain([*used]);
                let files = circle
                    .filter_map(|file| program.files.get(file))
                    .map(|source| source.path.clone())
                    .collect();
                troubles.push(Trouble::ImportCycle { place: Place { file: here, span: *span }, files });
            }
        }
    }
}
