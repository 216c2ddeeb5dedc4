//! Where what stands at a byte is declared: a thing, a verb in its handling, a state, a value, a step, a reading, a used file.

use super::view::View;
use super::world::meaning;
use dwell_check::finding::Place;
use dwell_syntax::tree::Span;

/// A way from a name to its declaration.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Definition {
    /// The name that was asked about, in the view's file.
    pub from: Span,
    /// Where it is declared, by the file's place in the program of the view; a used file from its first byte. Never
    /// empty. Places in the prelude are among them: it has no file of its own on a disk.
    pub to: Vec<Place>,
}

/// The declaration of the name at a byte; none where nothing is named there, or what is named is declared nowhere.
pub fn definition(view: &View, at: usize) -> Option<Definition> {
    let found = meaning(view, at)?;
    (!found.declared.is_empty()).then_some(Definition { from: found.span, to: found.declared })
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::definition;
    use expect_test::expect;

    /// What is declared where, as `file:line «name»`.
    fn to(files: &[(&str, &str)]) -> String {
        let (view, at) = view(files);
        let Some(found) = definition(&view, at) else { return "nothing".to_owned() };
        let told = found.to.iter().map(|place| {
            let source = view.other(place.file).unwrap();
            let (line, _) = source.lines.place(&source.text, place.span.start);
            format!("{}:{line} «{}»", source.path, source.text.get(place.span.start..place.span.end).unwrap())
        });
        told.collect::<Vec<_>>().join("  ")
    }

    #[test]
    fn declarations_are_found_in_this_file_in_used_ones_and_in_the_prelude() {
        let lid = "# 😀\nhandling latch {\n states shut, ajar\n open-it: shut -> ajar\n shut-it: ajar -> shut\n}\nitem lid: latch";
        let with = |text: &str| to(&[("a.dwell", text), ("lid.dwell", lid)]);
        expect!["lid.dwell:7 «lid»"]
            .assert_eq(&with("use \"lid.dwell\"\nprocedure p { step s { open-it lid‸ } }"));
        expect!["lid.dwell:4 «open-it»"]
            .assert_eq(&with("use \"lid.dwell\"\nprocedure p { step s { open‸-it lid } }"));
        expect!["lid.dwell:3 «ajar»"]
            .assert_eq(&with("use \"lid.dwell\"\nprocedure p { needs { lid is aj‸ar } }"));
        expect!["lid.dwell:1 «»"].assert_eq(&with("use \"lid‸.dwell\"\n"));
        expect!["nothing"].assert_eq(&with("use \"gone‸.dwell\"\n"));
        expect!["nothing"].assert_eq(&with("procedure p { step s { open-it lid‸ } }"));
        expect!["<prelude>:17 «hose»"].assert_eq(&with("item pipe: h‸ose"));
        expect!["nothing"].assert_eq(&with("spec s: len‸gth { check 1 .. 2 mm }"));
    }

    #[test]
    fn a_verb_leads_to_each_of_its_transitions() {
        let text = "handling h {\n states a, b, c\n go: a -> b\n go: b -> c\n}\nhandling k {\n states d, e\n go: d -> e\n}\nitem x: h, k\nprocedure p { step s { g‸o x } }";
        expect!["a.dwell:3 «go»  a.dwell:4 «go»  a.dwell:8 «go»"].assert_eq(&to(&[("a.dwell", text)]));
    }

    #[test]
    fn what_a_procedure_names_itself_is_found_in_it_also_in_texts_and_cases() {
        let text = |mark: &str| {
            format!(
                "procedure p {{\n step s {{\n measure gap: length with t\n ask lamp \"µ?\" one of lit, dark\n note \"Ω {{{}}}\"\n if lamp is {} {{ back to {} }}\n }}\n case \"c\" {{ {} }}\n}}",
                if mark == "gap" { "ga‸p" } else { "gap" },
                if mark == "lit" { "l‸it" } else { "lit" },
                if mark == "s" { "‸s" } else { "s" },
                if mark == "case" { "lamp da‸rk" } else { "lamp dark" },
            )
        };
        expect!["a.dwell:3 «gap»"].assert_eq(&to(&[("a.dwell", &text("gap"))]));
        expect!["a.dwell:4 «lit»"].assert_eq(&to(&[("a.dwell", &text("lit"))]));
        expect!["a.dwell:2 «s»"].assert_eq(&to(&[("a.dwell", &text("s"))]));
        expect!["a.dwell:4 «dark»"].assert_eq(&to(&[("a.dwell", &text("case"))]));
    }

    #[test]
    fn around_what_can_not_be_read_the_rest_is_still_found() {
        let text = "item belt: removable\nitem %%%\nprocedure p { step s {\n expect\n remove be‸lt\n";
        expect!["a.dwell:1 «belt»"].assert_eq(&to(&[("a.dwell", text)]));
    }
}
