//! Repairs of what was found: each as edits of files, for one place or for all that a program may make at once.

use super::view::View;
use dwell_check::finding::{Edit, Finding};
use dwell_syntax::parse::parse;
use dwell_syntax::tree::Span;

/// A repair that can be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repair {
    /// What it does, a few words that begin with a verb.
    pub title: String,
    /// Which findings it mends, by their places among those of the file.
    pub mends: Vec<usize>,
    /// The edits, none of which touches another.
    pub edits: Vec<Edit>,
}

/// From so many repairs on they are not looked at one by one.
const MANY: usize = 100;

/// The repairs of all findings that a range touches; none after which less of the text could be read.
pub fn at(view: &View, range: Span) -> Vec<Repair> {
    let touched = view.findings().enumerate().filter(|(_, finding)| touches(finding.place.span, range));
    let repairs = touched.filter_map(|(index, finding)| repair(index, finding));
    repairs.filter(|repair| can_be_read(view, repair)).collect()
}

/// All repairs that can be made at once, as one; the first of two that touch each other. None after which less of the text
/// could be read.
pub fn all(view: &View) -> Option<Repair> {
    let repairs: Vec<Repair> =
        view.findings().enumerate().filter_map(|(index, finding)| repair(index, finding)).collect();
    let many = repairs.len() > MANY;
    let whole = together(repairs.iter().cloned()).filter(|whole| can_be_read(view, whole));
    if whole.is_some() || many {
        return whole;
    }
    let sound = repairs.into_iter().filter(|repair| can_be_read(view, repair));
    together(sound).filter(|whole| can_be_read(view, whole))
}

/// Several repairs as one; none where there are none.
fn together(repairs: impl Iterator<Item = Repair>) -> Option<Repair> {
    let mut whole =
        Repair { title: "Mend all that has one right repair".into(), mends: Vec::new(), edits: Vec::new() };
    for repair in repairs {
        if repair.edits.iter().all(|edit| whole.edits.iter().all(|made| apart(made, edit))) {
            whole.edits.extend(repair.edits);
            whole.mends.extend(repair.mends);
        }
    }
    whole.edits.sort_by_key(|edit| edit.place);
    (!whole.edits.is_empty()).then_some(whole)
}

/// Whether no more of the file than before could not be read after a repair: a line break that stands for a character which only
/// looks like one may tear a statement apart.
fn can_be_read(view: &View, repair: &Repair) -> bool {
    let Some(source) = view.source() else { return false };
    let mut text = source.text.clone();
    let mut own: Vec<&Edit> = repair.edits.iter().filter(|edit| edit.place.file == view.file()).collect();
    own.sort_by_key(|edit| std::cmp::Reverse(edit.place.span.start));
    for edit in own {
        let Span { start, end } = edit.place.span;
        if text.get(start..end).is_none() {
            return false;
        }
        text.replace_range(start..end, &edit.replacement);
    }
    parse(&text).slips.len() <= source.slips.len()
}

fn repair(index: usize, finding: &Finding) -> Option<Repair> {
    let fix = finding.fix.as_ref()?;
    Some(Repair { title: capital(&fix.title), mends: vec![index], edits: fix.edits.clone() })
}

/// Whether two edits leave each other alone.
fn apart(one: &Edit, other: &Edit) -> bool {
    let (a, b) = (one.place, other.place);
    a.file != b.file || a.span.end < b.span.start || b.span.end < a.span.start
}

fn touches(one: Span, other: Span) -> bool {
    one.start <= other.end && other.start <= one.end
}

/// The words with a capital first letter.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::{all, at};
    use dwell_syntax::tree::Span;

    #[test]
    fn no_repair_is_offered_that_tears_the_text() {
        let titles = |text: &str| {
            let (view, _) = view(&[("a.dwell", text)]);
            let whole = Span::new(0, view.text().len());
            let titles: Vec<String> = at(&view, whole).into_iter().map(|repair| repair.title).collect();
            (titles, all(&view).is_some())
        };
        let one = |title: &str| (vec![title.to_owned()], true);
        assert_eq!(titles("item a: hose\u{2028}item b: hose\n"), one("Begin a new line here"));
        assert_eq!(titles("item a:\u{3000}hose\n"), one("Write a plain blank"));
        assert_eq!(
            titles("procedure p \"P\" { step s \"S\" { remove\u{2028}guard } }\n"),
            (Vec::new(), false)
        );
        let (titles, together) = titles(
            "spec s: length { check 1,5 .. 2 mm }\nprocedure p \"P\" { step s \"S\" { remove\u{2028}guard } }\n",
        );
        assert_eq!((titles, together), (vec!["Write `1.5`".to_owned()], true));
    }
}
