//! The cases that stand in the procedures of the library: each is run, and ends as it says.

use dwell_check::program::Sources;
use dwell_syntax::parse::parse;
use dwell_syntax::tree::DeclarationKind;

use super::cards::cards;
use crate::cases;
use crate::merle::Merle;

#[test]
fn every_case_ends_as_it_says() {
    let library = Merle::read();
    let cards = cards();
    let mut run = 0;
    let mut wrong = Vec::new();
    for path in library.files.keys() {
        for declaration in parse(&library.read(path).unwrap()).tree.declarations {
            let DeclarationKind::Procedure(procedure) = declaration.kind else { continue };
            let cases = cases::of(&procedure);
            assert!(cases.len() >= 2, "{} has fewer than two cases", procedure.name.text);
            for case in cases {
                run += 1;
                if let Err(why) = cases::run(case, &cards[&procedure.name.text]) {
                    wrong.push(format!("{}: case \"{}\": {why}", procedure.name.text, case.title.text));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(run >= 18, "only {run} cases");
}
