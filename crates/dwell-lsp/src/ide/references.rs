//! Everywhere that something is named: in this file, in those that it uses, and in others that are known by their text.

use super::mentions::{Role, What};
use super::view::View;
use super::world::{Further, Key, Resolved, World};
use dwell_syntax::tree::Span;
use rayon::iter::{IntoParallelIterator, ParallelIterator};
use std::collections::BTreeMap;

/// A place where something is named.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Reference {
    /// The file.
    pub path: String,
    /// The name in it.
    pub span: Span,
    /// Whether it is declared there.
    pub declares: bool,
}

/// Every place that names what stands at a byte, its declaration included, by file and place. What is declared in the
/// prelude has its declaration among them. Empty where nothing is named, or what is named is declared nowhere.
///
/// Only files that see the declaring file name something by its own name; a verb or a state is also named where nothing but
/// the item is seen.
pub fn references(view: &View, at: usize, further: &[Further<'_>]) -> Vec<Reference> {
    let world = World::of(view, further);
    let Some(found) = world.at(view.file(), at) else { return Vec::new() };
    let of_file = |file: usize| {
        let known = world.resolved(file).into_iter();
        let same = known.filter(|known| known.keys.iter().any(|key| found.keys.contains(key)));
        let told = same.map(|known| Reference {
            path: world.path(file).to_owned(),
            span: known.mention.span,
            declares: known.mention.role == Role::Declares,
        });
        told.collect::<Vec<_>>()
    };
    let mut all: Vec<Reference> = (0..world.count()).into_par_iter().flat_map_iter(of_file).collect();
    all.sort();
    all.dedup();
    all
}

/// How a name is used at a place of this file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// What it names is looked at there.
    Read,
    /// It is declared there, or gets its value.
    Write,
}

/// Every place of the view's own file that names what stands at a byte, for drawing them all. Of words that no file
/// declares (rules, kinds of quantity, ends) those alike are drawn; of a unit nothing.
pub fn highlights(view: &View, at: usize) -> Vec<(Span, Use)> {
    let world = World::of(view, &[]);
    let Some(found) = world.at(view.file(), at) else { return Vec::new() };
    let same = |known: &Resolved<'_>| match found.keys.as_slice() {
        [] => {
            matches!(found.what, What::Rule | What::Outcome)
                && known.what == found.what
                && known.mention.name == found.mention.name
        }
        keys => known.keys.iter().any(|key| keys.contains(key)),
    };
    let all = world.resolved(view.file());
    all.iter()
        .filter(|known| same(known))
        .map(|known| {
            let used = match known.mention.role {
                Role::Declares | Role::Retakes => Use::Write,
                Role::Refers => Use::Read,
            };
            (known.mention.span, used)
        })
        .collect()
}

/// How often each declaration of the view's file is named elsewhere in all these files, by the place of its name: its
/// declaration does not count. For everything that the file declares to others: things and procedures.
pub fn counts(view: &View, further: &[Further<'_>]) -> BTreeMap<Span, usize> {
    let world = World::of(view, further);
    let own = view.file();
    let mut counts: BTreeMap<Span, usize> = BTreeMap::new();
    let mut places: Vec<(&str, Span)> = Vec::new();
    for known in world.resolved(own) {
        if let (Role::Declares, Some(Key::Thing { file, name })) = (known.mention.role, known.keys.first())
            && *file == own
        {
            counts.insert(known.mention.span, 0);
            places.push((name, known.mention.span));
        }
    }
    for file in (0..world.count()).filter(|file| world.sees(*file, own)) {
        for known in world.resolved(file) {
            if known.mention.role == Role::Declares && known.keys.len() == 1 {
                continue;
            }
            for key in &known.keys {
                let Key::Thing { file, name } = key else { continue };
                let place = places.iter().find(|(known, _)| *file == own && known == name);
                if let Some(count) = place.and_then(|(_, span)| counts.get_mut(span)) {
                    *count += 1;
                }
            }
        }
    }
    counts
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::super::world::Further;
    use super::{Use, counts, highlights, references};
    use dwell_check::program::Content;
    use dwell_syntax::lines::Lines;
    use expect_test::expect;

    /// The places of what the mark stands at: of the first file and what it uses, and of the others.
    fn told(files: &[(&str, &str)], further: &[(&str, &str, &[&str])]) -> String {
        let (view, at) = view(files);
        let kept: Vec<(String, Content, Vec<String>)> = further
            .iter()
            .map(|(path, text, uses)| {
                let uses = uses.iter().map(|path| (*path).to_owned()).collect();
                ((*path).to_owned(), Content::of((*text).to_owned()), uses)
            })
            .collect();
        let further: Vec<Further<'_>> =
            kept.iter().map(|(path, content, uses)| Further { path, content, uses }).collect();
        let texts: Vec<(&str, &str)> = view
            .checked
            .program
            .files
            .iter()
            .map(|file| (file.path.as_str(), file.text.as_str()))
            .chain(kept.iter().map(|(path, content, _)| (path.as_str(), content.text.as_str())))
            .collect();
        let lines = references(&view, at, &further).into_iter().map(|found| {
            let text = texts.iter().find(|(path, _)| *path == found.path).unwrap().1;
            let (line, column) = Lines::of(text).place(text, found.span.start);
            let declares = if found.declares { " declared" } else { "" };
            format!(
                "{}:{line}:{column} {}{declares}",
                found.path,
                text.get(found.span.start..found.span.end).unwrap()
            )
        });
        lines.collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn a_thing_is_named_where_a_file_uses_the_one_that_declares_it() {
        let files = [
            ("a.dwell", "use \"v.dwell\"\nprocedure p { step s { remove ‸guard } }"),
            ("v.dwell", "item guard: removable \"guard 😀\"\n"),
        ];
        let further: &[(&str, &str, &[&str])] = &[
            (
                "b.dwell",
                "use \"v.dwell\"\nprocedure q { step guard { refit guard  note \"guard\" } }",
                &["v.dwell"],
            ),
            ("c.dwell", "use \"b.dwell\"\nprocedure r { step s { refit guard } }", &["b.dwell"]),
            ("d.dwell", "item guard: removable", &[]),
        ];
        expect![[r#"
            a.dwell:2:31 guard
            b.dwell:2:34 guard
            v.dwell:1:6 guard declared"#]]
        .assert_eq(&told(&files, further));
    }

    #[test]
    fn a_verb_is_named_with_every_item_that_has_it_also_where_its_handling_is_not_seen() {
        let files = [(
            "h.dwell",
            "handling h { states a, b  go‸: a -> b  back-up: b -> a }\nitem x: h { go brings moving-parts }\n",
        )];
        let further: &[(&str, &str, &[&str])] = &[
            ("i.dwell", "use \"h.dwell\"\nitem y: h", &["h.dwell"]),
            (
                "p.dwell",
                "use \"i.dwell\"\nprocedure p { step s {\n go y\n go z\n} }\nhandling k { states c, d  go: c -> d }\nitem z: k",
                &["i.dwell"],
            ),
        ];
        expect![[r#"
            h.dwell:1:27 go declared
            h.dwell:2:13 go
            p.dwell:3:2 go"#]]
        .assert_eq(&told(&files, further));
    }

    #[test]
    fn a_reading_is_named_in_its_procedure_and_in_cases_of_those_that_perform_it() {
        let files = [(
            "a.dwell",
            "procedure p {\n step s {\n measure ga‸p: length with t\n measure gap again\n expect gap above 1 mm\n note \"°{gap} {gap2} gap\"\n }\n}\nprocedure other { step s { measure gap: length with t } }",
        )];
        let further: &[(&str, &str, &[&str])] = &[(
            "b.dwell",
            "use \"a.dwell\"\nprocedure q { step s { perform p }\n case \"c\" { gap 1 mm } }",
            &["a.dwell"],
        )];
        expect![[r#"
            a.dwell:3:10 gap declared
            a.dwell:4:10 gap
            a.dwell:5:9 gap
            a.dwell:6:10 gap
            b.dwell:3:13 gap"#]]
        .assert_eq(&told(&files, further));
    }

    #[test]
    fn what_is_drawn_says_where_it_is_written() {
        let (view, at) = view(&[(
            "a.dwell",
            "procedure p { step s {\n measure g‸ap: length with t\n measure gap again\n expect gap above 1 mm\n",
        )]);
        let uses: Vec<Use> = highlights(&view, at).into_iter().map(|(_, used)| used).collect();
        assert_eq!(uses, [Use::Write, Use::Write, Use::Read]);
        let (view, at) = super::super::tests::view(&[("a.dwell", "spec s: length { check 1 .. 2 m‸m }")]);
        assert_eq!(highlights(&view, at), []);
    }

    #[test]
    fn what_is_declared_is_counted_where_it_is_named() {
        let (view, _) = view(&[(
            "a.dwell",
            "item x: removable\nitem y: removable\nprocedure p { step s { remove x\nrefit x } }",
        )]);
        let content = Content::of("procedure q { step s { remove x } }".to_owned());
        let uses = ["a.dwell".to_owned()];
        let further = [Further { path: "b.dwell", content: &content, uses: &uses }];
        let told: Vec<usize> = counts(&view, &further).into_values().collect();
        assert_eq!(told, [3, 0, 0]);
    }
}
