//! Texts as other programs leave them: line ends, byte order marks, other encodings, hidden and strange characters.

use std::fs;

use dwell_check::check::{Checked, check};
use dwell_workspace::Folder;

use super::invariants::{holds, survives};
use crate::merle::{Merle, all_told};

/// The file that is damaged; it uses others and is used by another.
const PLACE: &str = "charging/battery-check.dwell";

/// The name of each procedure with the name of its card.
fn cards(checked: &Checked) -> Vec<(String, String)> {
    checked
        .procedures
        .iter()
        .map(|compiled| {
            let card =
                compiled.card.as_ref().unwrap_or_else(|| panic!("{}: {}", compiled.name, all_told(checked)));
            (compiled.name.clone(), card.sha256().unwrap())
        })
        .collect()
}

/// A way in which another program changes a text: what it is called, and the change.
type Way = (&'static str, fn(&str) -> String);

/// The library with every text changed.
fn every(change: impl Fn(&str) -> String) -> Merle {
    let mut library = Merle::read();
    for text in library.files.values_mut() {
        *text = change(text);
    }
    library
}

#[test]
fn line_ends_and_byte_order_marks_change_nothing() {
    let plain = cards(&Merle::read().checked());
    assert!(plain.len() >= 7, "{plain:?}");
    let ways: [Way; 6] = [
        ("CRLF", |text| text.replace('\n', "\r\n")),
        ("CR", |text| text.replace('\n', "\r")),
        ("a byte order mark", |text| format!("\u{FEFF}{text}")),
        ("a byte order mark and CRLF", |text| format!("\u{FEFF}{}", text.replace('\n', "\r\n"))),
        ("no line end at the end", |text| text.trim_end().to_owned()),
        ("tabs and blanks at the ends of lines", |text| text.replace('\n', " \t\n").replace("    ", "\t")),
    ];
    for (name, change) in ways {
        let checked = every(change).checked();
        holds(&checked);
        assert_eq!(checked.findings.len(), 0, "{name}: {}", all_told(&checked));
        assert_eq!(cards(&checked), plain, "{name}");
    }
}

#[test]
fn twins_of_a_character_mean_the_same() {
    let plain = cards(&Merle::read().checked());
    let twins = |text: &str| -> String {
        let lines = text.lines().map(|line| match line.split_once('"') {
            Some(_) => line.to_owned(),
            None => line.replace('±', "+-").replace("N·m", "N*m").replace("°C", "degC"),
        });
        lines.collect::<Vec<_>>().join("\n")
    };
    let checked = every(twins).checked();
    assert_eq!(checked.findings.len(), 0, "{}", all_told(&checked));
    let meant = |checked: &Checked| -> Vec<Vec<String>> {
        let bands = checked.procedures.iter().flat_map(|compiled| &compiled.card).map(|card| {
            card.limits
                .iter()
                .flat_map(|limit| &limit.check)
                .map(|choice| format!("{:?}", choice.band))
                .collect()
        });
        bands.collect()
    };
    assert_eq!(meant(&checked), meant(&Merle::read().checked()));
    assert_eq!(cards(&checked).len(), plain.len());
}

#[test]
fn a_strange_character_is_named_and_what_follows_is_still_checked() {
    let library = Merle::read();
    let text = &library.files[PLACE];
    // Each in the place of a part of the text, so that one place is wrong and the rest is as it was.
    let swaps = [
        ("two byte order marks", "use \"../vehicle.dwell\"", "\u{FEFF}\u{FEFF}use \"../vehicle.dwell\""),
        ("NUL after a brace", "needs {", "needs {\0"),
        ("an override of direction in a comment", "# Proves", "# \u{202E}Proves"),
        ("an override of direction in a text", "\"Renew the battery.\"", "\"Renew \u{202E}the battery.\""),
        ("a mark of direction in a name", "measure rest", "measure re\u{200F}st"),
        ("a joiner of no width in a name", "measure rest", "measure re\u{200D}st"),
        ("a variation selector in a name", "measure rest", "measure re\u{FE0F}st"),
        ("a filler that is not seen in a name", "measure rest", "measure re\u{3164}st"),
        ("a blank of no width before a number", "12.4 ..", "\u{200B}12.4 .."),
        ("a line separator outside a text", "restore {", "restore\u{2028}{"),
        ("a paragraph separator outside a text", "restore {", "restore\u{2029}{"),
        ("NEL outside a text", "restore {", "restore\u{85}{"),
        ("a vertical tab", "restore {", "restore\u{B}{"),
        ("a form feed", "restore {", "restore\u{C}{"),
        ("wide digits", "12.4 ..", "１２.4 .."),
        ("digits of another script", "12.4 ..", "١٢.4 .."),
        ("a half as one character", "12.4 ..", "12½ .."),
        ("the minus of typesetters", "12.4 ..", "\u{2212}12.4 .."),
        ("letter O for a zero", "90 min", "9O min"),
        ("letter l for a one", "12.4 ..", "l2.4 .."),
        ("a decimal comma", "12.4 ..", "12,4 .."),
        ("an exponent", "90 min", "9e1 min"),
        ("a currency sign in a number", "12.4 ..", "12¤.4 .."),
        ("a question mark before a unit", "13.2 V", "13.2 ?V"),
        ("a dash for a range", "12.4 ..", "12.4 –"),
        ("curly quotes", "\"Renew the battery.\"", "“Renew the battery.”"),
    ];
    let last = "back to voltage-at-rest";
    for (name, was, is) in swaps {
        assert_eq!(text.matches(was).count(), 1, "{name}: `{was}` must stand there once");
        let damaged = text.replacen(was, is, 1);
        let checked = survives(&library, PLACE, &damaged);
        assert!(checked.has_errors(), "{name} is taken in silence");
        let at = damaged.find(is).unwrap();
        let close = checked.findings.iter().any(|finding| {
            let file = &checked.program.files[finding.place.file];
            file.path == PLACE && (at.saturating_sub(8)..=at + is.len()).contains(&finding.place.span.start)
        });
        assert!(close, "{name}: not found at byte {at}:\n{}", all_told(&checked));
        // A second slip far behind the first is found as well.
        let twice = damaged.replacen(last, "bakc to voltage-at-rest", 1);
        let line = twice.split("bakc").next().unwrap().matches('\n').count();
        let checked = survives(&library, PLACE, &twice);
        let second = checked.findings.iter().any(|finding| {
            let file = &checked.program.files[finding.place.file];
            file.path == PLACE && file.lines.line(finding.place.span.start) == line
        });
        assert!(second, "{name}: the slip after it is lost:\n{}", all_told(&checked));
    }
}

#[test]
fn a_no_break_blank_is_a_blank() {
    let library = Merle::read();
    let text = library.files[PLACE].replace("13.2 V", "13.2\u{A0}V").replace("90 min", "90\u{202F}min");
    let checked = survives(&library, PLACE, &text);
    assert_eq!(checked.findings.len(), 0, "{}", all_told(&checked));
}

#[test]
fn small_and_unfinished_files_end() {
    let library = Merle::read();
    let texts = [
        "",
        " ",
        "\n",
        "\u{FEFF}",
        "# last",
        "\"",
        "step s1 {",
        "}",
        "use",
        "use \"",
        "procedure",
        "procedure p \"P\" { step s1 { check gap = }\n step s2 { check volts 12 V ± 1 V } }",
        "step step step",
        "6 e-3 6e 6eV 850rpm 1e5bar 6..8 mm 6...8 mm 6.",
        "procedure p \"P\" { step s \"S\" { measure",
        "adjust adjust adjust",
    ];
    for text in texts {
        survives(&library, PLACE, text);
    }
}

#[test]
fn bytes_that_are_no_text_are_one_finding_and_the_other_files_are_still_checked() {
    let folder = tempfile::tempdir().unwrap();
    let good = "item lamp: port \"lamp\"\n";
    for number in 0..20 {
        fs::write(
            folder.path().join(format!("good-{number:02}.dwell")),
            good.replace("lamp", &format!("lamp-{number}")),
        )
        .unwrap();
    }
    let slip = "item lamp: porrt \"lamp\"\n";
    fs::write(folder.path().join("slip.dwell"), slip).unwrap();
    let sixteen: Vec<u8> =
        [0xFF, 0xFE].into_iter().chain(good.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let latin = b"# 6 \xB0C\nitem lamp-x: port\n".to_vec();
    for (name, bytes, word) in [("latin.dwell", latin, "Latin-1"), ("sixteen.dwell", sixteen, "UTF-16")] {
        fs::write(folder.path().join(name), &bytes).unwrap();
        let found = Folder::of(&[folder.path().to_owned()]);
        let checked = check(found.roots(), &found);
        holds(&checked);
        let of = |wanted: &str| -> Vec<String> {
            checked
                .findings
                .iter()
                .filter(|finding| checked.program.files[finding.place.file].path.ends_with(wanted))
                .map(|finding| finding.message.clone() + " " + &finding.why + " " + &finding.label)
                .collect()
        };
        let said = of(name);
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains(word) && said[0].contains("byte"), "{said:?}");
        assert_eq!(of("slip.dwell").len(), 1, "the file after it is not checked:\n{}", all_told(&checked));
        assert_eq!(checked.findings.len(), 2, "{}", all_told(&checked));
        assert_eq!(checked.program.files.len(), 1 + found.roots().len());
        fs::remove_file(folder.path().join(name)).unwrap();
    }
}
