//! Going on after slips: the rest of the file is still a tree, and one mistake is told of once.

use super::outline::outline;
use super::slips;
use crate::parse::parse;
use crate::tree::{DeclarationKind, Part, StatementKind};

fn count(text: &str) -> usize {
    slips(text).lines().count()
}

#[test]
fn a_broken_step_leaves_the_next() {
    let text = "procedure p {\n step s1 { measure gap = }\n step s2 { measure volts with meter }\n}\n";
    assert_eq!(count(text), 1, "{}", slips(text));
    let tree = outline(text);
    assert!(tree.contains("s2") && tree.contains("volts"), "{tree}");
}

#[test]
fn an_unreadable_condition_keeps_its_block_and_arms() {
    let text = "procedure p {\n step s {\n if lamp dark {\n remove a\n } else {\n remove b\n }\n expect x over y\n otherwise low { remove c }\n otherwise { remove d }\n remove e\n }\n}\n";
    assert_eq!(count(text), 2, "{}", slips(text));
    let tree = outline(text);
    for name in
        ["remove, item: a", "remove, item: b", "remove, item: c", "remove, item: d", "remove, item: e"]
    {
        assert!(tree.contains(name), "{name}: {tree}");
    }
    assert!(!tree.contains("Broken"), "{tree}");
}

#[test]
fn arms_after_a_broken_end_of_an_expect_stay_with_it() {
    let text = "procedure p {\n step s {\n expect a meets b bogus words\n otherwise { remove c }\n }\n}\n";
    assert_eq!(count(text), 1, "{}", slips(text));
    let parsed = parse(text);
    let DeclarationKind::Procedure(procedure) = &parsed.tree.declarations[0].kind else {
        panic!("a procedure")
    };
    let Part::Step(step) = &procedure.parts[0] else { panic!("a step") };
    let StatementKind::Expect { otherwise, .. } = &step.block.statements[0].kind else { panic!("an expect") };
    assert_eq!(otherwise.len(), 1);
}

#[test]
fn a_broken_declaration_leaves_the_next() {
    let text = "item a b\nspec c d {\n check 5 V\n}\nvariant e: f, g\n";
    assert_eq!(count(text), 2, "{}", slips(text));
    assert!(outline(text).contains("Variant"));
}

#[test]
fn a_misspelt_declaration_is_read_as_what_it_was_meant_to_be() {
    let text = "procedur p {\n stepp s { remove a }\n}\n";
    assert_eq!(count(text), 2, "{}", slips(text));
    assert!(outline(text).contains("remove, item: a"));
}

#[test]
fn broken_lines_leave_the_others() {
    let text = "item a: b \"c\" {\n turn moved toe\n torque d\n}\nhandling h {\n states e, f\n remove e -> f\n refit: f -> e\n}\nspec s: t {\n check\n adjust 5 V\n}\n";
    assert_eq!(count(text), 3, "{}", slips(text));
    let tree = outline(text);
    assert!(tree.contains("Torque(d)") && tree.contains("refit") && tree.contains("Adjust"), "{tree}");
}

#[test]
fn words_that_are_free_as_names() {
    let words = crate::words::WORDS.iter().filter(|word| !word.is_hard());
    for word in words {
        let name = word.text();
        let text = format!(
            "item {name}: {name}, {name} \"x\"\nvariant v: {name}\nprocedure {name} {{\n needs {{ {name} is {name} }}\n step {name} {{\n remove {name}\n tighten {name} to {name} with {name}\n measure {name}: {name} with {name}\n let {name}: {name} = {name} + {name}\n if {name} is {name} {{ remove a }}\n expect {name} meets {name} otherwise {{ end failed }}\n }}\n}}\n"
        );
        assert_eq!(slips(&text), "", "{name}");
    }
    for word in crate::words::WORDS.iter().filter(|word| word.is_hard()) {
        assert_ne!(count(&format!("item {}: b\n", word.text())), 0, "{}", word.text());
    }
}

#[test]
fn the_line_rule() {
    let free = "procedure p {\n step s {\n do \"x\"\n \"y\"\n remove a\n }\n}\n";
    assert_eq!(count(free), 1, "{}", slips(free));
    let kept = "procedure p { step s { remove a \"x\" } step t { remove b } }\n";
    assert_eq!(count(kept), 0, "{}", slips(kept));
    let run_on = "procedure p {\n step s {\n remove\n refit a\n }\n}\n";
    assert_eq!(count(run_on), 1, "{}", slips(run_on));
    assert!(outline(run_on).contains("refit"));
}
