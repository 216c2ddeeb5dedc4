//! `dwell page`: the page of a text, of a card, of a vehicle; and what is refused.

use super::bench::{Bench, library};

const HORN: &str = "variant horn-kind: single, double
tool meter: hand-held \"meter\" { measures dc-current 0 .. 20 A resolution 0.1 A accuracy ± 0.1 A }
spec horn-current: dc-current {
    check 4.0 ± 1.0 A when horn-kind is single
    check 8.0 ± 2.0 A when horn-kind is double
    not adjustable
}
procedure horn \"Horn <loud>\" {
    step take \"Take it\" {
        measure drawn: dc-current with meter
        expect drawn meets horn-current
        otherwise no reading { end unfinished \"Look at the meter.\" }
        otherwise { end failed \"Renew the horn.\" }
    }
}
";

#[test]
fn the_page_of_a_text_and_of_its_card_are_the_same() {
    let bench = Bench::new(&[("horn.dwell", HORN)]);
    let of_text = bench.run(&["page", "horn.dwell"]);
    assert_eq!(of_text.status, 0, "{}{}", of_text.out, of_text.err);
    assert!(of_text.out.starts_with("<!DOCTYPE html>"), "{}", of_text.out);
    assert!(of_text.out.contains("Horn &lt;loud&gt;") && of_text.out.contains("horn kind double"));
    assert_eq!(bench.run(&["build", "horn.dwell", "-o", "cards"]).status, 0);
    let said = bench.run(&["page", "cards/horn.card.json", "-o", "horn.html"]);
    assert_eq!((said.status, said.out.as_str()), (0, "horn  horn.html\n"), "{}", said.err);
    assert_eq!(std::fs::read_to_string(bench.path("horn.html")).unwrap(), of_text.out);
}

#[test]
fn one_vehicle_sees_its_own() {
    let bench = Bench::new(&[("horn.dwell", HORN)]);
    let said = bench.run(&["page", "horn.dwell", "--variant", "horn-kind=double"]);
    assert!(said.out.contains("6.0 .. 10.0 A") && !said.out.contains("3.0 .. 5.0 A"), "{}", said.out);
}

#[test]
fn what_cannot_be_shown_is_said() {
    let faulty = HORN.replace("meets horn-current", "meets horn-volume");
    let bench =
        Bench::new(&[("horn.dwell", HORN), ("faulty.dwell", &faulty), ("none.dwell", "variant a: b, c\n")]);
    for (asked, says) in [
        (vec!["page", "faulty.dwell"], "nothing was written: an error is open in faulty.dwell"),
        (vec!["page", "none.dwell"], "none.dwell declares no procedure, so there is nothing to show"),
        (vec!["page", "gone.card.json"], "cannot read gone.card.json"),
        (
            vec!["page", "horn.dwell", "--variant", "horn-kind=triple"],
            "`horn-kind` has no value `triple` here",
        ),
        (vec!["page", "horn.dwell", "--variant", "wheel=steel"], "this card has no variant `wheel`"),
        (vec!["page", "horn.dwell", "--procedure", "bell"], "declares no procedure `bell`"),
        (vec!["page", "horn.dwell", "-o", "no/folder/horn.html"], "cannot write no/folder/horn.html"),
    ] {
        let said = bench.run(&asked);
        assert_eq!(said.status, 2, "{asked:?}: {}{}", said.out, said.err);
        let words = format!("{}{}", said.out, said.err).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains(says), "{asked:?}: {words}");
    }
}

#[test]
fn a_procedure_of_the_library_is_shown_with_its_ways() {
    let bench = Bench::new(&[]);
    let file = library().join("charging/belt-and-charging.dwell");
    let said = bench.run(&["page", file.to_str().unwrap(), "--procedure", "belt-and-charging"]);
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    assert!(said.out.contains("<svg class=\"chart\"") && said.out.contains("Alternator belt tension"));
}
