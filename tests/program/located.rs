//! Where a thing is to be found, at the terminal: shown once, with what touches it first, and with a probable cause.

use super::bench::Bench;

const HORN: &str = r#"item horn-fuse: removable "fuse of the horn" { located "fuse box, place 3" }
item cover: removable "cover of the fuse box"
item horn: removable "horn" { located "behind the grille" }

procedure horn-check "Horn" {
    needs { horn-fuse is fitted }
    step fuse "Look at the fuse" {
        remove cover
        remove horn-fuse
        ask wire "Is the wire in the fuse whole?"
        if wire is no { cause horn-fuse "Blown." }
        else { cause horn }
        refit horn-fuse
    }
    restore {
        refit horn-fuse
        refit cover
    }
    case "blown" { wire no  ends passed }
    case "whole" { wire yes  ends passed }
}
"#;

#[test]
fn it_is_shown_with_the_first_that_touches_the_thing_and_with_a_cause() {
    let bench = Bench::new(&[("horn.dwell", HORN)]);
    let said = bench.fed(&["run", "horn.dwell"], "yes\n\n\nno\n\n\n\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(
        said.out.contains(
            "  The fuse of the horn is fitted.\n    fuse of the horn: fuse box, place 3\n  yes or no: yes\n"
        ),
        "{}",
        said.out
    );
    assert_eq!(said.out.matches("    fuse of the horn: fuse box, place 3\n").count(), 1, "{}", said.out);
    assert!(
        said.out.contains("Probable cause: fuse of the horn (fuse box, place 3): Blown."),
        "{}",
        said.out
    );
    let whole = bench.fed(&["run", "horn.dwell"], "yes\n\n\nyes\n\n\n\n");
    assert!(whole.out.contains("Probable cause: horn (behind the grille)\n"), "{}", whole.out);
}

#[test]
fn a_file_of_readings_is_told_a_cause_with_its_place_too() {
    let bench = Bench::new(&[("horn.dwell", HORN), ("x.csv", "name,value,unit\nwire,no,\n")]);
    let said = bench.run(&["run", "horn.dwell", "--readings", "x.csv"]);
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(
        said.out.contains("Probable cause: fuse of the horn (fuse box, place 3): Blown."),
        "{}",
        said.out
    );
}

#[test]
fn a_card_holds_it_and_one_without_still_runs() {
    let bench = Bench::new(&[("horn.dwell", HORN)]);
    assert_eq!(bench.run(&["build", "horn.dwell", "-o", "cards"]).status, 0);
    let card = bench.get("cards/horn-check.card.json");
    assert!(card.contains("\"located\""), "{card}");
    let mut older: serde_json::Value = serde_json::from_str(&card).unwrap();
    for slot in older["slots"].as_array_mut().unwrap() {
        slot.as_object_mut().unwrap().remove("located");
    }
    bench.put("older.card.json", older.to_string().as_bytes());
    let said = bench.fed(&["run", "older.card.json"], "yes\n\n\nno\n\n\n\n");
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(!said.out.contains("    fuse of the horn: "), "{}", said.out);
}
