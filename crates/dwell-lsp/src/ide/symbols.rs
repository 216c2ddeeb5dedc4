//! What a file is made of, as an outline; and names looked for over many files.

use super::mentions::What;
use super::world::what;
use dwell_check::program::Content;
use dwell_syntax::tree::{DeclarationKind, Part, Procedure, Span, Text};

/// What an entry of an outline is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Entry {
    /// Something declared, or a step.
    Named(What),
    /// `restore`.
    Restore,
    /// A test of a procedure, named by its title.
    Case,
}

/// An entry of an outline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Symbol {
    /// Its name, never empty.
    pub name: String,
    /// Its title, what people call it, or the quantity that it is of; may be empty.
    pub detail: String,
    /// What it is.
    pub entry: Entry,
    /// All of it.
    pub span: Span,
    /// Its name, within `span`.
    pub name_span: Span,
    /// What stands in it.
    pub children: Vec<Symbol>,
}

/// The outline of a file: its declarations, a procedure with its steps, `restore` and cases. What cannot be read is left out.
pub fn symbols(content: &Content) -> Vec<Symbol> {
    let declarations = content.tree.declarations.iter();
    let all = declarations.filter_map(|declaration| {
        let (name, what) = (declaration.kind.name()?, what(&declaration.kind)?);
        let children = match &declaration.kind {
            DeclarationKind::Procedure(procedure) => parts(content, procedure),
            _ => Vec::new(),
        };
        (!name.text.is_empty()).then(|| Symbol {
            name: name.text.clone(),
            detail: detail(&declaration.kind),
            entry: Entry::Named(what),
            span: declaration.span.to(name.span),
            name_span: name.span,
            children,
        })
    });
    all.collect()
}

fn parts(content: &Content, procedure: &Procedure) -> Vec<Symbol> {
    let symbol = |name: &str, detail: &str, entry, span: Span, name_span: Span| Symbol {
        name: name.to_owned(),
        detail: detail.to_owned(),
        entry,
        span: span.to(name_span),
        name_span,
        children: Vec::new(),
    };
    let all = procedure.parts.iter().filter_map(|part| match part {
        Part::Step(step) => {
            // A step that has lost its name is called by its word.
            let name = if step.name.text.is_empty() { "step" } else { &step.name.text };
            let entry = Entry::Named(What::Step);
            Some(symbol(name, written(step.title.as_ref()), entry, step.span, step.name.span))
        }
        Part::Restore { block: _, signed: _, span } => {
            let word = "restore";
            let length = if content.text.get(span.start..).is_some_and(|text| text.starts_with(word)) {
                word.len()
            } else {
                0
            };
            let name_span = Span::new(span.start, span.start + length);
            Some(symbol(word, "", Entry::Restore, *span, name_span))
        }
        Part::Case(case) => {
            let name = if case.title.text.trim().is_empty() { "case" } else { &case.title.text };
            let ends = case.ends.as_ref().map_or("", |ends| ends.text.as_str());
            Some(symbol(name, ends, Entry::Case, case.span, case.title.span))
        }
        Part::Revision { .. }
        | Part::Withdrawn(..)
        | Part::Decide { .. }
        | Part::Applies(_)
        | Part::Needs(..)
        | Part::Leaves(..)
        | Part::Keep(..)
        | Part::Statement(_) => None,
    });
    all.collect()
}

/// What is said of a declaration beside its name.
fn detail(kind: &DeclarationKind) -> String {
    match kind {
        DeclarationKind::Use(_) | DeclarationKind::Broken => String::new(),
        DeclarationKind::Handling(node) => listed(&node.states),
        DeclarationKind::Item(node) => written(node.label.as_ref()).to_owned(),
        DeclarationKind::Tool(node) => written(node.label.as_ref()).to_owned(),
        DeclarationKind::Quantity(node) => node.kind.text.clone(),
        DeclarationKind::Spec(node) => node.kind.text.clone(),
        DeclarationKind::Table(node) => format!("{} by {}", node.kind.text, node.by.text),
        DeclarationKind::Series(node) => node.kind.text.clone(),
        DeclarationKind::Hazard(node) => written(node.text.as_ref()).to_owned(),
        DeclarationKind::Variant(node) | DeclarationKind::Positions(node) => listed(&node.values),
        DeclarationKind::Procedure(node) => written(node.title.as_ref()).to_owned(),
    }
}

fn written(text: Option<&Text>) -> &str {
    text.map_or("", |text| text.text.as_str())
}

fn listed(names: &[dwell_syntax::tree::Name]) -> String {
    names.iter().map(|name| name.text.as_str()).collect::<Vec<_>>().join(", ")
}

/// A name found in one of many files.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The file.
    pub path: String,
    /// The name.
    pub name: String,
    /// What it is.
    pub entry: Entry,
    /// The procedure that it stands in; empty for what the file declares.
    pub within: String,
    /// Where the name stands.
    pub span: Span,
}

/// The most names that are given for one search.
const MOST: usize = 400;

/// The names of all these files that have the letters of `query` in their order, capital or small: those that begin with it
/// first, then those in which a word does, then the shorter ones. With an empty query every name. At most 400.
pub fn search(query: &str, files: &[(&str, &Content)]) -> Vec<Found> {
    let wanted: Vec<char> =
        query.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect();
    let mut found: Vec<((usize, usize), Found)> = Vec::new();
    for (path, content) in files {
        for symbol in symbols(content) {
            let within = symbol.name.clone();
            let parts = symbol.children.iter().map(|child| (child, within.as_str()));
            for (symbol, within) in [(&symbol, "")].into_iter().chain(parts) {
                if let Some(rank) = rank(&wanted, &symbol.name) {
                    found.push((
                        rank,
                        Found {
                            path: (*path).to_owned(),
                            name: symbol.name.clone(),
                            entry: symbol.entry,
                            within: within.to_owned(),
                            span: symbol.name_span,
                        },
                    ));
                }
            }
        }
    }
    found.sort_by(|(one, a), (other, b)| {
        (one, &a.name, &a.path, a.span).cmp(&(other, &b.name, &b.path, b.span))
    });
    found.into_iter().take(MOST).map(|(_, found)| found).collect()
}

/// How well a name fits, smaller is better; none where it does not.
fn rank(wanted: &[char], name: &str) -> Option<(usize, usize)> {
    let letters: Vec<char> = name.chars().flat_map(char::to_lowercase).collect();
    let length = letters.len();
    if letters.starts_with(wanted) {
        return Some((0, length));
    }
    if letters.split(|c| !c.is_alphanumeric()).any(|word| word.starts_with(wanted)) {
        return Some((1, length));
    }
    if letters.windows(wanted.len().max(1)).any(|part| part == wanted) {
        return Some((2, length));
    }
    let mut rest = wanted.iter().peekable();
    for letter in &letters {
        rest.next_if(|next| *next == letter);
    }
    rest.peek().is_none().then_some((3, length))
}

#[cfg(test)]
mod tests {
    use super::{Symbol, search, symbols};
    use dwell_check::program::Content;
    use expect_test::expect;

    fn told(content: &Content, symbols: &[Symbol], depth: usize) -> String {
        let mut out = String::new();
        for symbol in symbols {
            assert!(symbol.span.holds(symbol.name_span), "{symbol:?}");
            assert!(!symbol.name.is_empty());
            let named = content.text.get(symbol.name_span.start..symbol.name_span.end).unwrap();
            let line = content.lines.place(&content.text, symbol.span.end).0;
            out += &format!(
                "{}{} {:?} «{named}» to line {line}: {}\n",
                "  ".repeat(depth),
                symbol.name,
                symbol.entry,
                symbol.detail
            );
            for child in &symbol.children {
                assert!(symbol.span.holds(child.span));
            }
            out += &told(content, &symbol.children, depth + 1);
        }
        out
    }

    #[test]
    fn an_outline_has_declarations_and_the_parts_of_procedures() {
        let content = Content::of(
            "use \"a.dwell\"\nhandling h { states a, b  go: a -> b }\nitem x: h \"x 😀\"\nquantity q: length\nspec s: q { check 1 .. 2 mm }\ntable t: q by temperature { at 1 °C: 1 .. 2 mm }\nseries r: q 1 .. 2 mm steps of 1 mm\ntool g: clip-on \"gauge\"\nhazard z: warning \"Hot.\"\nvariant v: one, two\npositions w: left, right\nprocedure p \"P\" {\n  step one \"First\" {\n  }\n  restore { go x }\n  case \"all µ\" { ends passed }\n}\n"
                .to_owned(),
        );
        expect![[r#"
            h Named(Handling) «h» to line 2: a, b
            x Named(Item) «x» to line 3: x 😀
            q Named(Quantity) «q» to line 4: length
            s Named(Spec) «s» to line 5: q
            t Named(Table) «t» to line 6: q by temperature
            r Named(Series) «r» to line 7: q
            g Named(Tool) «g» to line 8: gauge
            z Named(Hazard) «z» to line 9: Hot.
            v Named(Variant) «v» to line 10: one, two
            w Named(Positions) «w» to line 11: left, right
            p Named(Procedure) «p» to line 17: P
              one Named(Step) «one» to line 14: First
              restore Restore «restore» to line 15: 
              all µ Case «"all µ"» to line 16: passed
        "#]]
        .assert_eq(&told(&content, &symbols(&content), 0));
    }

    #[test]
    fn around_what_can_not_be_read_the_outline_stays_sound() {
        let content = Content::of(
            "item : h\nitem x %%\nprocedure p {\n step \"No name\" { }\n case { }\n restore {\n".to_owned(),
        );
        expect![[r#"
            p Named(Procedure) «p» to line 6: 
              step Named(Step) «» to line 4: No name
              case Case «» to line 5: 
              restore Restore «restore» to line 6: 
        "#]]
        .assert_eq(&told(&content, &symbols(&content), 0));
    }

    #[test]
    fn a_search_finds_letters_in_order_and_the_best_first() {
        let one = Content::of(
            "item belt: h\nitem belt-guard: h\nitem v-belt: h\nitem cabelts: h\nitem bolt-left: h\n"
                .to_owned(),
        );
        let other = Content::of("procedure p { step belt-check \"B\" { } }".to_owned());
        let files = [("a.dwell", &one), ("b.dwell", &other)];
        let names = |query: &str| {
            let found = search(query, &files).into_iter();
            found.map(|found| format!("{}{}", found.name, found.within)).collect::<Vec<_>>().join(" ")
        };
        assert_eq!(names("belt"), "belt belt-checkp belt-guard v-belt cabelts");
        assert_eq!(names("BLT"), "belt v-belt cabelts bolt-left belt-checkp belt-guard");
        assert_eq!(names("xyz"), "");
        assert_eq!(names("").split(' ').count(), 7);
        assert_eq!(names("😀"), "");
    }
}
