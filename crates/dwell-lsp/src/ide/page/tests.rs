//! Pages of small files: whole, with errors, with a line that is not finished, and where the cursor stands on them.

use super::super::tests::view;
use super::*;

const HEAD: &str = "variant family: k9, k9h\nitem guard: removable \"guard\"\nitem pipe: hose \"pipe\"\n";

fn shown(procedure: &str) -> (Page, View) {
    let (view, at) = view(&[("a.dwell", &format!("{procedure}\n{HEAD}"))]);
    let wanted = Wanted { at: Some(at), ..Wanted::default() };
    (page(&view, &wanted).unwrap(), view)
}

/// The text that the cursor's place on the page comes from.
fn here(page: &Page, view: &View) -> String {
    let node = page.here.unwrap();
    let span = page.places.iter().find(|(known, _)| *known == node).unwrap().1;
    view.text().get(span.start..span.end).unwrap().to_owned()
}

#[test]
fn the_place_of_the_cursor_is_found_on_the_page() {
    let text = "procedure p \"P\" {\n step s \"S\" {\n  do \"Look.\"\n  do \"Lis‸ten.\"\n }\n}";
    let (page, view) = shown(text);
    assert_eq!((page.state, page.procedure.as_str()), (State::Whole, "p"));
    assert_eq!(here(&page, &view), "do \"Listen.\"");
    assert!(page.troubles.is_empty() && page.pieces.is_some());
}

#[test]
fn an_open_error_leaves_the_page_and_is_told() {
    let (page, _) = shown("procedure p \"P\" {\n step s \"S\" {\n  remove g‸uard\n }\n}");
    assert_eq!(page.state, State::Errors);
    assert!(page.pieces.unwrap().card.contains("Remove the guard."));
    assert_eq!(page.troubles.iter().map(|(line, _)| *line).collect::<Vec<_>>(), [Some(2)]);
}

#[test]
fn a_line_that_is_not_finished_is_left_out_and_the_rest_stays() {
    let mut partly = 0;
    for line in ["disconnect", "measure", "remove \"guard", "expect x meets", "if family is { note \"x\" }"] {
        let text = format!(
            "procedure p \"P\" {{\n step s \"S\" {{\n  remove guard\n  {line}‸\n  refit guard\n }}\n}}"
        );
        let (page, _) = shown(&text);
        let html = page.pieces.unwrap_or_else(|| panic!("{line}: {:?}", page.state)).card;
        assert!(matches!(page.state, State::Errors | State::Partly), "{line}: {:?}", page.state);
        partly += usize::from(page.state == State::Partly);
        assert!(html.contains("Remove the guard.") && html.contains("Refit the guard."), "{line}");
        assert!(page.troubles.iter().any(|(at, _)| *at == Some(3)), "{line}: {:?}", page.troubles);
    }
    assert!(partly > 2, "only {partly}");
}

#[test]
fn what_is_asked_of_another_procedure_is_answered_by_its_name() {
    let text = format!(
        "‸procedure p \"P\" {{ step s \"S\" {{ note \"One.\" }} }}\nprocedure q \"Q\" {{ step s \"S\" {{ note \"Two.\" }} }}\n{HEAD}"
    );
    let (view, _) = view(&[("a.dwell", &text)]);
    let of = |at: Option<usize>, name: &str| {
        let wanted = Wanted { at, procedure: Some(name.to_owned()), variants: Vec::new() };
        page(&view, &wanted).unwrap().procedure
    };
    assert_eq!(of(None, "q"), "q");
    assert_eq!(of(None, "gone"), "p");
    assert_eq!(of(Some(2), "q"), "p");
    assert_eq!(of(Some(text.len() - 4), "q"), "q");
    assert!(page(&view2(), &Wanted::default()).is_none());
}

fn view2() -> View {
    view(&[("a.dwell", HEAD)]).0
}

#[test]
fn a_chosen_variant_is_shown_and_an_unknown_one_left_out() {
    let text = "procedure p \"P\" {\n applies to family k9, k9h\n step s \"S\" { if family is k9 { note \"Nine.\" } else { note \"H.\" } }\n}";
    let (view, _) = view(&[("a.dwell", &format!("{text}\n{HEAD}"))]);
    let of = |value: &str| {
        let variants = vec![("family".to_owned(), value.to_owned()), ("gone".to_owned(), "x".to_owned())];
        page(&view, &Wanted { variants, ..Wanted::default() }).unwrap()
    };
    let nine = of("k9");
    assert_eq!(nine.variants[0].chosen.as_deref(), Some("k9"));
    let html = nine.pieces.unwrap().card;
    assert!(html.contains("Nine.") && !html.contains("H."));
    let any = of("k12");
    assert_eq!(any.variants[0].chosen, None);
    assert!(any.pieces.unwrap().card.contains("H."));
}
