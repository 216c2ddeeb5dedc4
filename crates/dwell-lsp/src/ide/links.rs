//! The paths after `use`, each with the file that it leads to.

use super::mentions::between_quotes;
use super::view::View;
use dwell_syntax::tree::Span;

/// A path that can be followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// What stands between the quotes.
    pub span: Span,
    /// The path of the file, as the view's files are named.
    pub path: String,
}

/// Every `use` of the view's file whose file could be read, in order. Texts and comments have no links.
pub fn links(view: &View) -> Vec<Link> {
    let uses = view.source().map(|source| source.uses.as_slice()).unwrap_or_default();
    uses.iter()
        .filter_map(|(file, span)| {
            let path = view.other(*file)?.path.clone();
            let inside = between_quotes(view.text(), *span);
            (inside.start < inside.end).then_some(Link { span: inside, path })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::tests::view;
    use super::links;

    #[test]
    fn a_use_leads_to_its_file_and_nothing_else_leads_anywhere() {
        let (view, _) = view(&[
            (
                "a.dwell",
                "# use \"b.dwell\" 😀\nuse \"gone.dwell\"\nuse \"µ.dwell\"\nspec s: length { check 1 .. 2 mm  source \"b.dwell\" }\nuse \"b.dwell\nitem x",
            ),
            ("µ.dwell", ""),
            ("b.dwell", ""),
        ]);
        let told: Vec<(String, &str)> = links(&view)
            .into_iter()
            .map(|link| (link.path, view.text().get(link.span.start..link.span.end).unwrap()))
            .collect();
        assert_eq!(told.first(), Some(&("µ.dwell".to_owned(), "µ.dwell")));
        assert!(told.iter().all(|(path, text)| path == text));
    }
}
